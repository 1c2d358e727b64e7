//! The everyday commands, each run as a person would.

#[path = "commands/start.rs"]
mod start;

/// What a run said to the person.
fn stderr(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}
