//! `pages`: the main job.

use std::path::Path;

use afterhue::diagnostic::{Report, SourceText};
use afterhue::pipeline::{self, Built};
use afterhue::site;
use afterhue::workspace::{self, Failure};
use chrono::NaiveDate;

use super::args::{DayArguments, PagesArguments};
use super::{End, kept_card, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    let locked = workspace::lock(&arguments.folder.folder, terminal::waiting);
    let told = locked.and_then(|_lock| pages(&arguments.folder.folder, arguments.day.today, terminal::tell));
    let (end, built) = told.unwrap_or_else(|failure| (End::Machine(failure.to_string()), None));
    if let Some(built) = built {
        let private = arguments.folder.folder.join("private");
        let (sheets, single) = (private.join("cards.html"), private.join("cards"));
        terminal::say(&format!("Cards to print: {}, or one by one in {}", sheets.display(), single.display()));
        if let Some(first) = &built.first_page {
            let path = arguments.folder.folder.join("public").join(first);
            terminal::say(&format!("Open one: file://{}", path.canonicalize().unwrap_or(path).display()));
        }
    }
    end
}

/// The same for a command that changed a file: cautions only in one line. Gives the path of the page of the client seen last.
pub(crate) fn again(folder: &Path, day: &DayArguments) -> (End, Option<String>) {
    let locked = workspace::lock(folder, terminal::waiting);
    let told = locked.and_then(|_lock| pages(folder, day.today, terminal::tell_faults));
    let (end, built) = told.unwrap_or_else(|failure| (End::Machine(failure.to_string()), None));
    (end, built.and_then(|built| built.first_page))
}

/// Whether the clock can be believed, asked before anything is written: afterwards the list of what was written has a new time.
pub(crate) fn believe(folder: &Path, today: Option<NaiveDate>) -> Result<(), Failure> {
    match today {
        Some(_) => Ok(()),
        None => workspace::clock_set_back(&folder.join(site::MANIFEST_FILE)),
    }
}

fn pages(
    folder: &Path,
    today: Option<NaiveDate>,
    tell: impl Fn(&Report, &[SourceText]),
) -> Result<(End, Option<Built>), Failure> {
    let texts = workspace::read_folder(folder)?;
    let mut read = pipeline::read(&texts);
    if !texts.forgotten.is_empty() {
        read.report.extend(pipeline::came_back(&texts, &workspace::secret(folder)?).1);
    }
    tell(&read.report, &texts.all());
    let Some((salon, theme)) = &read.house else {
        terminal::say("No page was written: the salon's own files have to be put right first.");
        return Ok((End::Faults, None));
    };
    let secret = workspace::secret(folder)?;
    believe(folder, today)?;
    let today = today.unwrap_or_else(|| workspace::today(salon.time_zone));
    kept_card::drop_due(folder, today)?;
    let built = match pipeline::build(&read, salon, theme, &secret, today) {
        Ok(built) => built,
        Err(fault) => {
            terminal::tell(&Report { items: vec![*fault] }, &texts.all());
            return Ok((End::Faults, None));
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
    Ok((if read.report.has_fault() { End::Faults } else { End::Done }, Some(built)))
}
