//! `pages`: the main job.

use std::path::Path;

use afterhue::diagnostic::{Report, SourceText};
use afterhue::pipeline::{self, Stopped, Told};
use afterhue::site::{self, Key, Made, Outlet, Still, WriteFailure, Writer};
use afterhue::workspace::{self, Failure};
use chrono::NaiveDate;

use super::args::{DayArguments, PagesArguments};
use super::progress::Progress;
use super::{End, at_fault, kept_card, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    let (folder, quiet) = (&arguments.folder.folder, arguments.quiet);
    let tell = if quiet { terminal::tell_only_faults } else { terminal::tell };
    let waiting = if quiet { || {} } else { terminal::waiting };
    let all = || {
        let _lock = workspace::lock(folder, waiting)?;
        pages(folder, arguments.day.today, How { quiet, afresh: arguments.afresh }, tell)
    };
    // Without a number rayon takes one thread a core.
    let threads = usize::from(arguments.threads.unwrap_or(0));
    let told = match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(all),
        Err(error) => return End::Machine(format!("could not start {threads} threads: {error}")),
    };
    let (end, told) = told.unwrap_or_else(|failure| (End::Machine(failure.to_string()), None));
    if let Some(built) = told.filter(|_| !quiet) {
        let private = arguments.folder.folder.join("private");
        let (sheets, single) = (private.join("cards.html"), private.join("cards"));
        terminal::say(&format!("Cards to print: {}, or one by one in {}", sheets.display(), single.display()));
        if let Some(first) = &built.first_page {
            // What stands behind a # is the key of a sealed page, and no part of the file's name.
            let (file, key) = first.split_at(first.find('#').unwrap_or(first.len()));
            let path = arguments.folder.folder.join("public").join(file);
            terminal::say(&format!("Open one: file://{}{key}", path.canonicalize().unwrap_or(path).display()));
        }
    }
    end
}

/// The same for a command that changed a file: cautions only in one line. Gives the path of the page of the client seen last.
pub(crate) fn again(folder: &Path, day: &DayArguments) -> (End, Option<String>) {
    let locked = workspace::lock(folder, terminal::waiting);
    let told =
        locked.and_then(|_lock| pages(folder, day.today, How { quiet: false, afresh: false }, terminal::tell_faults));
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

/// How a run is made.
#[derive(Clone, Copy)]
struct How {
    /// Say only what is wrong.
    quiet: bool,
    /// Make every page again.
    afresh: bool,
}

fn pages(
    folder: &Path,
    today: Option<NaiveDate>,
    how: How,
    tell: impl Fn(&Report, &[SourceText]),
) -> Result<(End, Option<Told>), Failure> {
    let quiet = how.quiet;
    let texts = workspace::read_folder(folder)?;
    let mut read = pipeline::read(&texts);
    if !texts.forgotten.is_empty() {
        read.report.extend(pipeline::came_back(&texts, &workspace::secret(folder)?).1);
    }
    tell(&read.report, &texts.all());
    let Some((salon, theme)) = &read.house else {
        terminal::say("No page was written: the salon's own files have to be put right first.");
        return Ok((at_fault(&texts), None));
    };
    let secret = workspace::secret(folder)?;
    believe(folder, today)?;
    let today = today.unwrap_or_else(|| workspace::today(salon.time_zone));
    kept_card::drop_due(folder, today)?;
    let fail = |failure: WriteFailure| Failure::io("write", &failure.path, &failure.error);
    let program = (!how.afresh).then(workspace::program).flatten();
    let writer = Writer::open(folder, program).map_err(fail)?;
    if writer.list_was_damaged() && !quiet {
        terminal::say("The list of what was written before is damaged, so every page is made again.");
    }
    let progress = Progress::of(read.histories.len(), quiet);
    let out = Watched { writer: &writer, progress: &progress };
    let built = pipeline::build_each(&read, salon, theme, &secret, today, &out);
    progress.end();
    let built = match built {
        Ok(built) => built,
        Err(Stopped::Theme(fault)) => {
            terminal::tell(&Report { items: vec![*fault] }, &texts.all());
            return Ok((End::Faults, None));
        }
        Err(Stopped::Out(failure)) => return Err(fail(failure)),
    };
    let written = writer.finish(&built.kept).map_err(fail)?;
    let end = if read.report.has_fault() { at_fault(&texts) } else { End::Done };
    if quiet {
        return Ok((end, Some(built)));
    }
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
    Ok((end, Some(built)))
}

/// A writer whose parts are counted as they go out.
struct Watched<'a> {
    writer: &'a Writer,
    progress: &'a Progress,
}

impl Outlet for Watched<'_> {
    type Failure = WriteFailure;

    fn stands(&self, part: &str, key: &Key, today: NaiveDate) -> Option<Still> {
        let standing = self.writer.stands(part, key, today);
        if standing.is_some() {
            self.progress.step();
        }
        standing
    }

    fn put(&self, part: &str, made: Made) -> Result<(), WriteFailure> {
        self.progress.step();
        self.writer.put(part, made)
    }
}
