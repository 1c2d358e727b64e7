//! `--help`, the manual and the completions: each command shows an example, and the example runs.

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use super::{stderr, stdout};
use crate::salon_copy::SalonCopy;

/// The names of the commands, as `--help` lists them.
fn commands(salon: &SalonCopy) -> Vec<String> {
    let help = stdout(&salon.afterhue(&["--help"]).output().expect("it runs"));
    let below = help.split("Commands:\n").nth(1).expect("a list of commands");
    // A line set in further goes on with the description above it.
    let names = below.lines().take_while(|line| !line.is_empty()).filter(|line| !line.starts_with("   "));
    names.filter_map(|line| line.split_whitespace().next()).filter(|name| *name != "help").map(str::to_owned).collect()
}

fn help(salon: &SalonCopy, command: &str) -> String {
    stdout(&salon.afterhue(&[command, "--help"]).output().expect("it runs"))
}

fn example(help: &str) -> Vec<String> {
    let lines: Vec<&str> = help.lines().filter_map(|line| line.trim().strip_prefix("Example: afterhue ")).collect();
    assert_eq!(lines.len(), 1, "one example: {help}");
    lines[0].split_whitespace().map(str::to_owned).collect()
}

#[test]
fn each_command_shows_one_example_and_it_runs_beside_the_salon_folder() {
    let names = commands(&SalonCopy::new());
    assert!(names.len() >= 12, "{names:?}");
    for name in names {
        // Each begins from an untouched salon.
        let salon = SalonCopy::new();
        let words = example(&help(&salon, &name));
        assert_eq!(words[0], name);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        if name == "view" || name == "chairside" {
            assert!(opens(&salon, &words), "{words:?}");
            continue;
        }
        let output = salon.afterhue_beside(&words).output().expect("it runs");
        if name == "publish" {
            // There is no store here: it looks first, and finds that no page is written yet.
            let expected =
                if cfg!(feature = "publish") { (1, "holds no finished site") } else { (2, "--features publish") };
            assert_eq!(output.status.code(), Some(expected.0), "{words:?}: {}", stderr(&output));
            assert!(stderr(&output).contains(expected.1), "{}", stderr(&output));
            continue;
        }
        assert_eq!(output.status.code(), Some(0), "{words:?}: {}", stderr(&output));
    }
}

#[test]
fn the_example_of_the_whole_program_runs() {
    let salon = SalonCopy::new();
    let words = example(&stdout(&salon.afterhue(&["--help"]).output().expect("it runs")));
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let output = salon.afterhue_beside(&words).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
}

/// Runs a command that never ends until it says where the site is.
fn opens(salon: &SalonCopy, words: &[&str]) -> bool {
    let mut program = Command::new(env!("CARGO_BIN_EXE_afterhue"))
        .args(words)
        .current_dir(salon.path(".."))
        .stderr(Stdio::piped())
        .spawn()
        .expect("it runs");
    let lines = BufReader::new(program.stderr.take().expect("a pipe")).lines();
    let opened = lines.map_while(Result::ok).any(|line| line.contains("http://127.0.0.1:"));
    let _ = program.kill();
    let _ = program.wait();
    opened
}

#[test]
fn every_command_and_every_option_stands_in_the_manual_and_the_completions() {
    let salon = SalonCopy::new();
    let completions = ["bash", "zsh", "fish"].map(|shell| {
        let output = salon.afterhue(&["completions", shell]).output().expect("it runs");
        assert_eq!(output.status.code(), Some(0));
        stdout(&output)
    });
    let whole = stdout(&salon.afterhue(&["manual"]).output().expect("it runs"));
    for name in commands(&salon) {
        let page = stdout(&salon.afterhue(&["manual", &name]).output().expect("it runs"));
        assert!(page.contains(".SH NAME") && page.contains("Example: afterhue"), "{page}");
        assert!(whole.contains(&name), "{name}");
        let help = help(&salon, &name);
        for option in help.split_whitespace().filter(|word| word.len() > 3 && word.starts_with("--")) {
            let option = option.trim_end_matches(|c: char| !c.is_ascii_alphanumeric());
            assert!(page.replace('\\', "").contains(option), "{name} {option}: {page}");
            let bare = option.trim_start_matches('-');
            assert!(completions.iter().all(|text| text.contains(bare)), "{name} {option}");
        }
        assert!(completions.iter().all(|text| text.contains(&name)), "{name}");
    }
    let wrong = salon.afterhue(&["manual", "sned"]).output().expect("it runs");
    assert_eq!(wrong.status.code(), Some(2));
    assert!(stderr(&wrong).contains("afterhue --help"), "{}", stderr(&wrong));
}
