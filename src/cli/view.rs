//! `view`: the site in a browser on this machine, following every change of a file.

use std::time::Duration;

use afterhue::chairside;
use afterhue::workspace::{Failure, stamp};

use super::args::ViewArguments;
use super::{End, pages, terminal};

/// How often the files are looked at.
const LOOK_EVERY: Duration = Duration::from_secs(1);

/// Writes the pages, serves them, and writes them again when a file changes.
pub(crate) fn run(arguments: &ViewArguments) -> End {
    let folder = arguments.folder.folder.clone();
    let day = arguments.day;
    let mut seen = stamp(&folder);
    let (first, page) = pages::again(&folder, &day);
    if let End::Machine(_) | End::WrongUse(_) = first {
        return first;
    }
    let public = folder.join("public");
    let follow = move || {
        loop {
            std::thread::sleep(LOOK_EVERY);
            let now = stamp(&folder);
            if now != seen {
                seen = now;
                terminal::say("A file changed.");
                if let (End::Machine(why), _) = pages::again(&folder, &day) {
                    terminal::say(&format!("afterhue: {why}"));
                }
            }
        }
    };
    std::thread::spawn(follow);
    let served = chairside::view(&public, arguments.port, |address| {
        terminal::say(&format!("The site is at http://{address}/ on this machine only. Stop with Ctrl-C."));
        if let Some(page) = page {
            terminal::say(&format!("Open one: http://{address}/{page}"));
        }
        terminal::say("There is no list of pages: every other opens by its link, with this address in front of /c/.");
    });
    match served {
        Ok(()) => End::Done,
        Err(error) => {
            let mut failure = Failure::io("serve", &public, &error);
            if error.kind() == std::io::ErrorKind::AddrInUse {
                failure.hint =
                    format!("Port {} is taken; choose another: --port 8081, or --port 0 for any.", arguments.port);
            }
            End::Machine(failure.to_string())
        }
    }
}
