//! The commands. The only module that knows clap, and the binary's own.

/// Runs the command line.
pub(crate) fn run() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
