//! `check`: every fault of every file at once.

use afterhue::pipeline;
use afterhue::workspace;

use super::args::FolderArguments;
use super::{End, terminal};

/// Reads everything and says what there is to say.
pub(crate) fn run(arguments: &FolderArguments) -> End {
    let texts = match workspace::read_folder(&arguments.folder) {
        Ok(texts) => texts,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let read = pipeline::read(&texts);
    terminal::tell(&read.report, &texts.all());
    if read.report.has_fault() {
        return End::Faults;
    }
    terminal::say(&format!(
        "{} and {} read, no faults.",
        terminal::count(texts.clients.len(), "client file", "client files"),
        terminal::count(texts.records.len(), "visit record", "visit records"),
    ));
    End::Done
}
