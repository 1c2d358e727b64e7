//! `publish` in a program that was built without it: says how to build one that has it.

use super::End;
use super::args::PublishArguments;

/// Says how to get a program that publishes.
pub(crate) fn run(arguments: &PublishArguments) -> End {
    let PublishArguments { folder, to, dry_run, take_over, at_once } = arguments;
    let asked = [("--dry-run", *dry_run), ("--take-over", *take_over)];
    let asked: String = asked.iter().filter(|(_, said)| *said).map(|(name, _)| format!(" {name}")).collect();
    End::WrongUse(format!(
        "this program was built without publishing\n  help: build one that has it (a C compiler is needed), and run the same with it:\n    \
         cargo run --release --features publish -- publish {} --to {to} --at-once {at_once}{asked}",
        folder.folder.display()
    ))
}
