//! `pages`: the main job.

use afterhue::diagnostic::{Report, Severity};
use afterhue::pipeline::{self, Stopped};
use afterhue::site;
use afterhue::workspace::{self, Failure};

use super::args::PagesArguments;
use super::progress::Progress;
use super::{End, terminal};

/// Writes every page of the salon.
pub(crate) fn run(arguments: &PagesArguments) -> End {
    let all = || pages(arguments).unwrap_or_else(|failure| End::Machine(failure.to_string()));
    // Without a number rayon takes one thread a core.
    let threads = usize::from(arguments.threads.unwrap_or(0));
    match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(all),
        Err(error) => End::Machine(format!("could not start {threads} threads: {error}")),
    }
}

fn pages(arguments: &PagesArguments) -> Result<End, Failure> {
    let folder = &arguments.folder.folder;
    let texts = workspace::read_folder(folder)?;
    let read = pipeline::read(&texts);
    if arguments.quiet {
        terminal::tell(&faults_of(&read.report), &texts.all());
    } else {
        terminal::tell(&read.report, &texts.all());
    }
    let Some((salon, theme)) = &read.house else {
        terminal::say("No page was written: the salon's own files have to be put right first.");
        return Ok(End::Faults);
    };
    let secret = workspace::secret(folder)?;
    let today = arguments.today.unwrap_or_else(|| workspace::today(salon.time_zone));
    let fail = |failure: site::WriteFailure| Failure::io("write", &failure.path, &failure.error);
    let writer = site::Writer::open(folder).map_err(fail)?;
    let progress = Progress::of(read.histories.len(), arguments.quiet);
    let out = |name: &str, bytes: &[u8]| {
        if name.ends_with(".html") {
            progress.step();
        }
        writer.put(name, bytes)
    };
    let built = pipeline::build_each(&read, salon, theme, &secret, today, &out);
    progress.end();
    let built = match built {
        Ok(built) => built,
        Err(Stopped::Theme(fault)) => {
            terminal::tell(&Report { items: vec![*fault] }, &texts.all());
            return Ok(End::Faults);
        }
        Err(Stopped::Out(failure)) => return Err(fail(failure)),
    };
    let written = writer.finish(&built.kept).map_err(fail)?;
    let end = if read.report.has_fault() { End::Faults } else { End::Done };
    if arguments.quiet {
        return Ok(end);
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
    terminal::say(&format!("Cards to print: {}", folder.join("private/cards.html").display()));
    if let Some(first) = &built.first_page {
        let path = place.join(first);
        terminal::say(&format!("Open one: file://{}", path.canonicalize().unwrap_or(path).display()));
    }
    Ok(end)
}

/// What must be put right, without what is only worth knowing.
fn faults_of(report: &Report) -> Report {
    Report { items: report.items.iter().filter(|item| item.severity == Severity::Fault).cloned().collect() }
}
