//! Measures what a salon of N clients costs and prints one table.
//!
//! ```text
//! cargo run --release --example measure -- [N …] [--rounds R] [--in DIR]
//! ```
//!
//! Beside each full build, alternating in the same run, stands the least that such a build could cost: the same bytes written to
//! the same names with plain `std::fs::write` on two threads; beside the rebuilds, reading and comparing the inputs. Medians of
//! all rounds. A machine that does other work meanwhile slows both, so the ratios say more than the times.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a program for the person at the terminal")]

mod builds;
#[path = "../crowd/invent/mod.rs"]
mod invent;
mod stages;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The stages are measured in memory, so of no more clients than this.
const STAGES_OF: u64 = 10_000;

/// What is asked for.
struct Asked {
    numbers: Vec<u64>,
    rounds: usize,
    place: PathBuf,
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let Some(told) = as_child(&words) {
        println!("{told}");
        return ExitCode::SUCCESS;
    }
    let Some(asked) = asked(&words) else {
        eprintln!("usage: measure [N …] [--rounds R] [--in DIR]");
        return ExitCode::from(2);
    };
    println!("| {} |", HEAD.join(" | "));
    println!("|{}", "---:|".repeat(HEAD.len()));
    for number in &asked.numbers {
        let folder = asked.place.join(format!("afterhue-measure-{number}"));
        let _ = std::fs::remove_dir_all(&folder);
        // A client is the same in a crowd of any size, so the stages of a part are those of all.
        invent::write((*number).min(STAGES_OF), &folder, 1).expect("a crowd is written");
        let stages = builds::ask(&[stages::STAGES], &folder);
        let rates = ["1", "2"].map(|threads| builds::ask(&[stages::RATE, threads], &folder)[0]);
        if *number > STAGES_OF {
            std::fs::remove_dir_all(&folder).expect("removed");
            invent::write(*number, &folder, 1).expect("a crowd is written");
        }
        let builds = builds::measure(&folder, asked.rounds);
        println!("| {} |", row(*number, rates, &stages, &builds).join(" | "));
        std::fs::remove_dir_all(&folder).expect("removed");
    }
    ExitCode::SUCCESS
}

/// What this program says when it was started by itself to measure one thing.
fn as_child(words: &[String]) -> Option<String> {
    let (folder, words) = words.split_last()?;
    let folder = Path::new(folder);
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [builds::CHILD] => Some(builds::child(folder)),
        [stages::STAGES] => Some(stages::measure(folder).each().map(|micros| micros.to_string()).join(" ")),
        [stages::RATE, threads] => Some(stages::pages_a_second(folder, threads.parse().ok()?).to_string()),
        _ => None,
    }
}

fn asked(words: &[String]) -> Option<Asked> {
    let mut asked = Asked { numbers: Vec::new(), rounds: 5, place: std::env::temp_dir() };
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--rounds" => asked.rounds = words.next()?.parse().ok()?,
            "--in" => asked.place = words.next()?.into(),
            number => asked.numbers.push(number.parse().ok()?),
        }
    }
    if asked.numbers.is_empty() {
        asked.numbers.push(1000);
    }
    Some(asked)
}

/// Ratios first; then what they are made of; then the stages, microseconds a client on one thread.
const HEAD: [&str; 22] = [
    "clients",
    "full build ÷ plain write",
    "no change ÷ reading and comparing",
    "one change ÷ reading and comparing",
    "full build s",
    "plain write s",
    "no change s",
    "one change s",
    "reading and comparing s",
    "pages/s, 1 thread",
    "pages/s, 2 threads",
    "bytes a page",
    "peak memory MB",
    "read µs",
    "validate µs",
    "deposit µs",
    "forecast µs",
    "plan µs",
    "select µs",
    "page µs",
    "render µs",
    "write µs",
];

fn row(number: u64, rates: [f64; 2], stages: &[f64], builds: &builds::Builds) -> Vec<String> {
    let mut row = vec![
        number.to_string(),
        format!("{:.2}", builds.full / builds.plain),
        format!("{:.2}", builds.no_change / builds.compare),
        format!("{:.2}", builds.one_change / builds.compare),
    ];
    let times = [builds.full, builds.plain, builds.no_change, builds.one_change, builds.compare];
    row.extend(times.map(|seconds| format!("{seconds:.2}")));
    row.extend(rates.map(|rate| format!("{rate:.0}")));
    row.push(format!("{:.0}", builds.bytes_a_page));
    row.push(format!("{:.0}", builds.peak_megabytes));
    row.extend(stages.iter().map(|micros| format!("{micros:.0}")));
    row
}
