//! `pages`: the main job.

use afterhue::diagnostic::Report;
use afterhue::pipeline;
use afterhue::site;
use afterhue::workspace::{self, Failure};

use super::args::PagesArguments;
use super::{End, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    let locked = workspace::lock(&arguments.folder.folder, terminal::waiting);
    locked.and_then(|_lock| pages(arguments)).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

/// The same for a command that holds the salon folder's lock already.
pub(crate) fn pages(arguments: &PagesArguments) -> Result<End, Failure> {
    let folder = &arguments.folder.folder;
    let texts = workspace::read_folder(folder)?;
    let read = pipeline::read(&texts);
    terminal::tell(&read.report, &texts.all());
    let Some((salon, theme)) = &read.house else {
        terminal::say("No page was written: the salon's own files have to be put right first.");
        return Ok(End::Faults);
    };
    let secret = workspace::secret(folder)?;
    if arguments.today.is_none() {
        workspace::clock_set_back(&folder.join(site::MANIFEST_FILE))?;
    }
    let today = arguments.today.unwrap_or_else(|| workspace::today(salon.time_zone));
    let built = match pipeline::build(&read, salon, theme, &secret, today) {
        Ok(built) => built,
        Err(fault) => {
            terminal::tell(&Report { items: vec![*fault] }, &texts.all());
            return Ok(End::Faults);
        }
    };
    let written = site::write(folder, &built.files, &built.kept)
        .map_err(|failure| Failure::io("write", &failure.path, &failure.error))?;
    let place = folder.join("public");
    terminal::say(&format!(
        "{} in {} ({} changed, {} already right, {} removed).",
        terminal::count(built.pages, "page", "pages"),
        place.display(),
        terminal::count(written.changed, "file", "files"),
        written.unchanged,
        written.removed
    ));
    if built.expired > 0 {
        terminal::say(&format!(
            "{} no page, because the plan has expired.",
            terminal::count(built.expired, "client has", "clients have")
        ));
    }
    if !read.at_fault.is_empty() {
        let codes: Vec<&str> = read.at_fault.iter().map(String::as_str).collect();
        terminal::say(&format!("The last good page stays for: {}.", codes.join(", ")));
    }
    if read.owner_unknown {
        terminal::say("A record is at fault, and nobody can tell whose it is: no page was removed.");
    }
    terminal::say(&format!("Cards to print: {}", folder.join("private/cards.html").display()));
    if let Some(first) = &built.first_page {
        let path = place.join(first);
        terminal::say(&format!("Open one: file://{}", path.canonicalize().unwrap_or(path).display()));
    }
    Ok(if read.report.has_fault() { End::Faults } else { End::Done })
}
