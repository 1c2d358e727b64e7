//! `check`: every fault of every file at once.

use afterhue::pipeline;
use afterhue::workspace;

use super::args::CheckArguments;
use super::{End, at_fault, terminal};

/// Reads everything and says what there is to say.
pub(crate) fn run(arguments: &CheckArguments) -> End {
    let texts = match workspace::read_folder(&arguments.folder.folder) {
        Ok(texts) => texts,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let mut read = pipeline::read(&texts);
    // The secret is only looked for when there is a mark to compare with: `check` writes nothing.
    if !texts.forgotten.is_empty() {
        match workspace::secret(&arguments.folder.folder) {
            Ok(secret) => read.report.extend(pipeline::came_back(&texts, &secret).1),
            Err(failure) => return End::Machine(failure.to_string()),
        }
    }
    if let Some((salon, _)) = &read.house {
        let today = arguments.day.today.unwrap_or_else(|| workspace::today(salon.time_zone));
        let past = pipeline::tests_past_keeping(&read, salon, today);
        read.report.extend(pipeline::still_to_come(&read, today));
        read.report.extend(past);
    }
    let tell = if arguments.quiet { terminal::tell_only_faults } else { terminal::tell };
    tell(&read.report, &texts.all());
    if read.report.has_fault() {
        return at_fault(&texts);
    }
    if arguments.quiet {
        return End::Done;
    }
    terminal::say(&format!(
        "{} and {} read, no faults.",
        terminal::count(texts.clients.len(), "client file", "client files"),
        terminal::count(texts.records.len(), "visit record", "visit records"),
    ));
    End::Done
}
