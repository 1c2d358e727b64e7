//! The commands. The only module that knows clap, and the binary's own.
//!
//! Exit codes: 0 done, 1 faults in the salon's files, 2 wrong use, 3 the machine failed.

mod args;
mod book;
mod cautions;
mod chairside;
mod check;
mod completions;
mod export;
mod forecast;
mod forget;
mod kept_card;
mod learn;
mod manual;
mod old_tests;
mod one_client;
mod pages;
mod progress;
#[cfg_attr(not(feature = "publish"), path = "unpublished.rs")]
mod publish;
mod relink;
mod send;
mod start;
mod terminal;
mod view;

use std::process::ExitCode;

use afterhue::workspace::Texts;
use clap::Parser;

use args::{Arguments, Command};

/// How many files that could not be read are named in one line.
const REFUSED_TOLD: usize = 5;

/// How a command ended.
pub(crate) enum End {
    /// Done, nothing at fault.
    Done,
    /// Done as far as the salon's files allow; the faults are told.
    Faults,
    /// The command cannot mean anything here.
    WrongUse(String),
    /// The machine failed.
    Machine(String),
}

/// How a command ends that was told of faults: what the machine would not let us read is its failure, not the salon's.
pub(crate) fn at_fault(texts: &Texts) -> End {
    if texts.refused.is_empty() {
        return End::Faults;
    }
    let few: Vec<&str> = texts.refused.iter().take(REFUSED_TOLD).map(String::as_str).collect();
    let more = if texts.refused.len() > few.len() { " and more" } else { "" };
    End::Machine(format!(
        "could not read {}{more}\n  help: Nothing was lost. Make what is named there readable for you and run the command again.",
        few.join(", ")
    ))
}

/// Runs the command line.
pub(crate) fn run() -> ExitCode {
    let end = match Arguments::parse().command {
        Command::Book(arguments) => book::run(&arguments),
        Command::Chairside(arguments) => chairside::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Forecast(arguments) => forecast::run(&arguments),
        Command::Learn(arguments) => learn::run(&arguments),
        Command::Pages(arguments) => pages::run(&arguments),
        Command::Publish(arguments) => publish::run(&arguments),
        Command::Start(arguments) => start::run(&arguments),
        Command::Send(arguments) => send::run(&arguments),
        Command::Relink(arguments) => relink::run(&arguments),
        Command::Export(arguments) => export::run(&arguments),
        Command::Forget(arguments) => forget::run(&arguments),
        Command::View(arguments) => view::run(&arguments),
        Command::Completions(arguments) => completions::run(&arguments),
        Command::Manual(arguments) => manual::run(&arguments),
    };
    let end = match terminal::unprinted() {
        Some(why) => End::Machine(format!("could not print the data: {why}")),
        None => end,
    };
    match end {
        End::Done => ExitCode::SUCCESS,
        End::Faults => ExitCode::from(1),
        End::WrongUse(why) => {
            terminal::say(&format!("afterhue: {why}"));
            ExitCode::from(2)
        }
        End::Machine(why) => {
            terminal::say(&format!("afterhue: {why}"));
            ExitCode::from(3)
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_sound() {
        super::args::Arguments::command().debug_assert();
    }
}
