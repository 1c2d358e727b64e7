//! Writes a salon folder with a crowd of invented clients, for measuring and for trying things out at size.
//!
//! ```text
//! cargo run --release --example crowd -- N DIR [--seed S]
//! ```
//!
//! Each client is made and written before the next one is thought of, so the memory needed does not grow with N.
//! The same N and seed give the same bytes; a client is the same in a crowd of any size. Nothing here is real.

#![expect(clippy::print_stderr, reason = "a program for the person at the terminal")]

mod invent;

use std::path::PathBuf;
use std::process::ExitCode;

const USAGE: &str = "usage: crowd N DIR [--seed S]";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let Some((number, folder, seed)) = asked(&words) else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    match invent::write(number, &folder, seed) {
        Ok(files) => {
            eprintln!("{number} clients in {} ({files} files, seed {seed})", folder.display());
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("could not write below {}: {error}", folder.display());
            ExitCode::from(3)
        }
    }
}

fn asked(words: &[String]) -> Option<(u64, PathBuf, u64)> {
    let (number, folder, seed) = match words {
        [number, folder] => (number, folder, 1),
        [number, folder, flag, seed] if flag == "--seed" => (number, folder, seed.parse().ok()?),
        _ => return None,
    };
    Some((number.parse().ok()?, PathBuf::from(folder), seed))
}
