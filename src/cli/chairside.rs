//! `chairside`: the record is written at the chair, in a browser.

use afterhue::chairside::{self, Place, Settings};
use afterhue::page::qr::Qr;

use super::args::ChairsideArguments;
use super::{End, terminal};

/// Serves the chairside until it is told to end.
pub(crate) fn run(arguments: &ChairsideArguments) -> End {
    let folder = arguments.folder.folder.clone();
    if !folder.join("salon.toml").exists() {
        return End::WrongUse(format!("{} holds no salon.toml, so it is not a salon folder yet", folder.display()));
    }
    let settings = Settings {
        folder,
        port: arguments.port,
        lan: arguments.lan,
        new_passcode: arguments.new_passcode,
        busy: arguments.busy.clone(),
        today: arguments.day.today,
    };
    match chairside::chairside(&settings, |place| tell(place, arguments.lan)) {
        Ok(()) => End::Done,
        Err(failure) => End::Machine(failure.to_string()),
    }
}

fn tell(place: &Place, lan: bool) {
    if let Some(code) = Qr::of(&place.address) {
        terminal::say(&code.half_blocks().join("\n"));
    }
    let whom = if lan { "on the salon's own network" } else { "on this machine only" };
    terminal::say(&format!("The chairside is at {} {whom}. Stop with Ctrl-C.", place.address));
    match &place.new_passcode {
        Some(passcode) => terminal::say(&format!("The passcode, told this once: {passcode}")),
        None if place.asks_passcode => {
            terminal::say("The passcode is the one told before; for a new one: --new-passcode");
        }
        None => {}
    }
    if lan {
        terminal::say(
            "The network carries this unencrypted: use it only on a network with a password of its own, never one guests are on.",
        );
    }
}
