//! `pages`: the main job.

use afterhue::pipeline::{self, Read};
use afterhue::site;
use afterhue::workspace::{self, Failure};

use super::args::PagesArguments;
use super::{End, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    build(arguments).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn build(arguments: &PagesArguments) -> Result<End, Failure> {
    let folder = &arguments.folder.folder;
    let texts = workspace::read_folder(folder)?;
    let read = pipeline::read(&texts);
    terminal::tell(&read.report, &texts.all());
    let Read { setting: Some(setting), histories, at_fault, .. } = &read else {
        terminal::say("No page was written: the salon's own files have to be put right first.");
        return Ok(End::Faults);
    };
    let secret = workspace::secret(folder)?;
    let today = arguments.today.unwrap_or_else(|| workspace::today(setting.salon.time_zone));
    let built = match pipeline::build(setting, histories, at_fault, &secret, today) {
        Ok(built) => built,
        Err(fault) => {
            terminal::say(&format!("afterhue: {fault}"));
            return Ok(End::Faults);
        }
    };
    let written = site::write(folder, &built.files, &built.kept).map_err(|failure| Failure::io("write", &failure.path, &failure.error))?;
    let place = folder.join("public");
    terminal::say(&format!(
        "{} in {} ({} changed, {} already right, {} removed).",
        terminal::count(built.pages, "page", "pages"),
        place.display(),
        written.changed,
        written.unchanged,
        written.removed
    ));
    if built.expired > 0 {
        terminal::say(&format!("{} no longer there: the plan has expired.", terminal::count(built.expired, "page is", "pages are")));
    }
    terminal::say(&format!("Cards to print: {}", folder.join("private/cards.html").display()));
    if let Some(first) = &built.first_page {
        let path = place.join(first);
        terminal::say(&format!("Open one: file://{}", path.canonicalize().unwrap_or(path).display()));
    }
    Ok(if read.report.has_fault() { End::Faults } else { End::Done })
}
