//! `send`: the message to one client, in every form that can be sent.

use std::io::IsTerminal;

use afterhue::page::message::message;
use afterhue::page::qr::Qr;
use afterhue::pipeline;
use afterhue::plan::day_in_words;
use afterhue::rights;
use afterhue::workspace::{self, Failure};

use super::args::SendArguments;
use super::{End, one_client, terminal};

/// Prints the message, the link, the addresses that open it in other programs, and a code to scan.
pub(crate) fn run(arguments: &SendArguments) -> End {
    send(arguments).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn send(arguments: &SendArguments) -> Result<End, Failure> {
    let folder = &arguments.who.folder;
    // What is told is what stands in the folder: `relink` may be at work.
    let _lock = workspace::lock(folder, terminal::waiting)?;
    let opened = one_client::open(folder)?;
    let found = match opened.client(&arguments.who.client) {
        Ok(found) => found,
        Err(end) => return Ok(end),
    };
    let client = &found.history.client;
    let link = pipeline::link_of(client, found.salon, &opened.secret);
    let words = pipeline::words(&found.history.shareable(), found.salon);
    let message = message(&found.salon.name, &link, words);
    let mut out = format!("{}\n\n{}\n", message.text, link.address);
    match &client.contact.phone {
        Some(phone) => out += &format!("{}\n", message.sms(phone)),
        None => terminal::say("No phone number is on record, so there is no sms: address."),
    }
    match &client.contact.email {
        Some(email) => out += &format!("{}\n", message.mailto(email)),
        None => terminal::say("No e-mail address is on record, so there is no mailto: address."),
    }
    if let Some(code) = Qr::of(&link.address) {
        out += &format!("\n{}", symbol(&code));
    }
    terminal::print(&out);
    if let Some(length) = message.too_long() {
        terminal::say(&length);
    }
    let today = arguments.day.today.unwrap_or_else(|| workspace::today(found.salon.time_zone));
    let last_day = pipeline::last_day(found.history, found.salon);
    if last_day < today {
        terminal::say(&format!(
            "That page expired after {}: the link leads nowhere until there is a new visit.",
            day_in_words(last_day)
        ));
    } else if !folder.join("public").join(&link.path).exists() {
        terminal::say(&format!("That page is not written yet. Before sending: afterhue pages {}", folder.display()));
    }
    if arguments.card {
        let card = match pipeline::card_of(found.history, &opened.read, found.salon, found.theme, &opened.secret) {
            Ok(card) => card,
            Err(fault) => {
                terminal::tell(&afterhue::diagnostic::Report { items: vec![*fault] }, &opened.texts.all());
                return Ok(End::Faults);
            }
        };
        let path = folder.join(rights::single_card(client.code.as_str()));
        workspace::store(&path, card.as_bytes())?;
        terminal::say(&format!("Card to print: {}", path.display()));
    }
    Ok(End::Done)
}

/// The code, dark on light: a terminal is told its colours, a file is taken for paper.
fn symbol(code: &Qr) -> String {
    let coloured = std::io::stdout().is_terminal();
    let line = |line: String| if coloured { format!("\u{1b}[30;107m{line}\u{1b}[0m\n") } else { line + "\n" };
    code.half_blocks().into_iter().map(line).collect()
}
