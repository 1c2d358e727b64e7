//! The everyday commands, each run as a person would.

#[path = "commands/export.rs"]
mod export;
#[path = "commands/forget.rs"]
mod forget;
#[path = "commands/help.rs"]
mod help;
#[path = "commands/relink.rs"]
mod relink;
#[path = "commands/send.rs"]
mod send;
#[path = "commands/start.rs"]
mod start;
#[path = "commands/view.rs"]
mod view;

/// What a run said to the person.
pub(crate) fn stderr(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// What a run printed as data.
pub(crate) fn stdout(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}
