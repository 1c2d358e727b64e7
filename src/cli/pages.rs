//! `pages`: the main job.

use std::collections::BTreeSet;
use std::path::Path;

use afterhue::diagnostic::{Report, SourceText};
use afterhue::pipeline::{self, Stopped, Survey, Told};
use afterhue::salon::Salon;
use afterhue::site::{self, Key, Made, Outlet, Queue, Still, Stood, WriteFailure, Writer, Written, queued};
use afterhue::workspace::{self, CLOCK_STEP, Failure, Known};
use chrono::NaiveDate;

use super::args::{CheckArguments, DayArguments, FolderArguments, PagesArguments};
use super::progress::Progress;
use super::{End, at_fault, kept_card, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    let CheckArguments { folder: FolderArguments { folder }, day, quiet } = &arguments.check;
    let quiet = *quiet;
    let tell = |report: &Report, sources: &[SourceText]| match quiet {
        true => terminal::tell_only_faults(report, sources),
        false => terminal::tell_by_kind(report, sources, folder),
    };
    let waiting = if quiet { || {} } else { terminal::waiting };
    let all = || {
        let _lock = workspace::lock_to_list(folder, waiting)?;
        pages(folder, day.today, How { quiet, afresh: arguments.afresh }, tell)
    };
    // Without a number rayon takes one thread a core.
    let threads = usize::from(arguments.threads.unwrap_or(0));
    let told = match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(all),
        Err(error) => return End::Machine(format!("could not start {threads} threads: {error}")),
    };
    let (end, told) = told.unwrap_or_else(|failure| (End::Machine(failure.to_string()), None));
    if let Some(built) = told.filter(|_| !quiet) {
        let private = folder.join("private");
        let (sheets, single) = (private.join("cards.html"), private.join("cards"));
        terminal::say(&format!("Cards to print: {}, or one by one in {}", sheets.display(), single.display()));
        if let Some(first) = &built.first_page {
            // What stands behind a # is the key of a sealed page, and no part of the file's name.
            let (file, key) = first.split_at(first.find('#').unwrap_or(first.len()));
            let path = folder.join("public").join(file);
            terminal::say(&format!("Open one: file://{}{key}", path.canonicalize().unwrap_or(path).display()));
            terminal::say(&format!("A client's link, message and code: afterhue send {} CLIENT", folder.display()));
        }
    }
    end
}

/// The same for a command that changed a file: cautions only in one line. Gives the path of the page of the client seen last.
pub(crate) fn again(folder: &Path, day: &DayArguments) -> (End, Option<String>) {
    let locked = workspace::lock_to_list(folder, terminal::waiting);
    let tell = |report: &Report, sources: &[SourceText]| terminal::tell_faults(report, sources, folder);
    let told = locked.and_then(|_lock| pages(folder, day.today, How { quiet: false, afresh: false }, tell));
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
    let known = if how.afresh { Known::nothing(folder) } else { Known::open(folder, CLOCK_STEP) };
    let program = known.program();
    if let Some(done) = swept(folder, today, how, known, &tell)? {
        return Ok(done);
    }
    workspace::clear_drafts(folder);
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
    let (today, writer) = begin(folder, today, salon, how, program)?;
    let progress = Progress::of("pages", read.histories.len(), how.quiet);
    let out = Watched { writer: &writer, progress: &progress };
    let build = |out: &Queue<'_, _>| pipeline::build_each(&read, salon, theme, &secret, today, out);
    let built = queued(&out, rayon::current_num_threads(), build);
    progress.end();
    let built = match built.map_err(Stopped::Out).flatten() {
        Ok(built) => built,
        Err(stopped) => return stop(stopped, &texts.all()),
    };
    let written = writer.finish(&built.kept).map_err(fail)?;
    let end = if read.report.has_fault() { at_fault(&texts) } else { End::Done };
    if !how.quiet {
        say(folder, &built, written, &read.at_fault);
        if read.owner_unknown {
            terminal::say("A record is at fault, and nobody can tell whose it is: no page was removed.");
        }
    }
    Ok((end, Some(built)))
}

/// The same client by client, whatever the size of the folder; nothing when it has to be read as a whole.
fn swept(
    folder: &Path,
    today: Option<NaiveDate>,
    how: How,
    known: Known,
    tell: &impl Fn(&Report, &[SourceText]),
) -> Result<Option<(End, Option<Told>)>, Failure> {
    let (listed, ()) = rayon::join(|| workspace::list_folder(folder, known.clock()), || known.look_through());
    let Some(listed) = listed? else { return Ok(None) };
    let text_of = |name: &str| workspace::read_listed(folder, name);
    let Some((survey, found)) = Survey::of(&listed, &known, &text_of) else { return Ok(None) };
    let Some((salon, _)) = survey.house() else { return Ok(None) };
    let secret = workspace::secret(folder)?;
    if survey.has_any(&listed.texts.forgotten, &secret) {
        return Ok(None);
    }
    let program = known.program();
    let (today, writer) = begin(folder, today, salon, how, program)?;
    let progress = Progress::of("pages", survey.clients(), how.quiet);
    let out = Watched { writer: &writer, progress: &progress };
    let sweep = |out: &Queue<'_, _>| pipeline::sweep(&survey, &secret, today, out, &text_of);
    let sweep = || queued(&out, rayon::current_num_threads(), sweep);
    // Not before the writer has begun, which takes away the drafts of a run that was stopped, whoever writes them.
    let (swept, ()) = rayon::join(sweep, || known.keep(folder, found));
    progress.end();
    let swept = match swept.map_err(Stopped::Out).flatten() {
        Ok(Some(swept)) => swept,
        // What went out meanwhile is noted in the journal, and the long way finds it right.
        Ok(None) => return Ok(None),
        Err(stopped) => return stop(stopped, &listed.texts.all()).map(Some),
    };
    // A fault is never known from before: its text was read.
    let not_read = if how.quiet { BTreeSet::new() } else { swept.not_read };
    let not_read = not_read.iter().filter_map(|name| text_of(name)).collect();
    tell(&swept.report, &[listed.texts.all(), swept.sources, not_read].concat());
    let written = writer.finish(&swept.told.kept).map_err(fail)?;
    let end = if swept.report.has_fault() { at_fault(&listed.texts) } else { End::Done };
    if !how.quiet {
        say(folder, &swept.told, written, &swept.at_fault);
    }
    Ok(Some((end, Some(swept.told))))
}

/// The day, and the writer: everything that has to be asked before anything is written.
fn begin(
    folder: &Path,
    today: Option<NaiveDate>,
    salon: &Salon,
    how: How,
    program: Option<Key>,
) -> Result<(NaiveDate, Writer), Failure> {
    believe(folder, today)?;
    let today = today.unwrap_or_else(|| workspace::today(salon.time_zone));
    kept_card::drop_due(folder, today)?;
    let writer = Writer::open(folder, program.filter(|_| !how.afresh)).map_err(fail)?;
    if writer.list_was_damaged() && !how.quiet {
        terminal::say("The list of what was written before is damaged, so every page is made again.");
    }
    Ok((today, writer))
}

fn fail(failure: WriteFailure) -> Failure {
    Failure::io("write", &failure.path, &failure.error)
}

/// The end of a run that could not go on.
fn stop(stopped: Stopped<WriteFailure>, sources: &[SourceText]) -> Result<(End, Option<Told>), Failure> {
    match stopped {
        Stopped::Theme(fault) => {
            terminal::tell(&Report { items: vec![*fault] }, sources);
            Ok((End::Faults, None))
        }
        Stopped::Out(failure) => Err(fail(failure)),
    }
}

/// What was done, in a few lines.
fn say(folder: &Path, built: &Told, written: Written, at_fault: &BTreeSet<String>) {
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
    if !at_fault.is_empty() {
        let codes: Vec<&str> = at_fault.iter().map(String::as_str).collect();
        terminal::say(&format!("The last good page stays for: {}.", codes.join(", ")));
    }
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

    fn stood(&self, key: &Key, today: NaiveDate) -> Option<Stood> {
        let stood = self.writer.stood(key, today);
        if stood.is_some() {
            self.progress.step();
        }
        stood
    }

    fn put(&self, part: &str, made: Made) -> Result<(), WriteFailure> {
        self.progress.step();
        self.writer.put(part, made)
    }
}
