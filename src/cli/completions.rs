//! `completions`: what a shell needs to complete commands.

use clap::CommandFactory;

use super::args::{Arguments, CompletionsArguments};
use super::{End, terminal};

/// Prints the completions of a shell.
pub(crate) fn run(arguments: &CompletionsArguments) -> End {
    let mut text = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "afterhue", &mut text);
    terminal::print(&String::from_utf8_lossy(&text));
    End::Done
}
