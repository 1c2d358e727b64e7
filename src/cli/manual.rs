//! `manual`: the manual page of the program or of one command.

use clap::CommandFactory;
use clap_mangen::Man;

use super::args::{Arguments, ManualArguments};
use super::{End, terminal};

/// Prints a manual page.
pub(crate) fn run(arguments: &ManualArguments) -> End {
    let mut program = Arguments::command();
    program.build();
    let page = match &arguments.command {
        None => program,
        Some(name) => match program.find_subcommand(name) {
            Some(command) => command.clone(),
            None => {
                return End::WrongUse(format!(
                    "there is no command \"{name}\"; the commands are told by: afterhue --help"
                ));
            }
        },
    };
    let mut text = Vec::new();
    match Man::new(page).render(&mut text) {
        Ok(()) => {
            terminal::print(&String::from_utf8_lossy(&text));
            End::Done
        }
        Err(error) => End::Machine(format!("the manual page could not be made: {error}")),
    }
}
