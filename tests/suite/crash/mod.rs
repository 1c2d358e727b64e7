//! Whatever stops a run, nothing is lost: killed at random moments, a full disk, a folder that may not be written or has gone, a clock set back, two runs at once.

mod killed;
#[cfg(unix)]
mod refused;
#[cfg(unix)]
mod secret_gone;
mod together;

use std::collections::BTreeMap;
use std::process::{Command, Stdio};

use crate::salon_copy::{SalonCopy, TODAY};

/// Few clients, so that a run is short: a pastel with returns, one to be forgotten, one with an alert test due.
const FEW: [&str; 3] = ["wren-04", "plum-03", "robin-24"];

/// Every file by name, but for the one that is only there to be locked.
type Files = BTreeMap<String, Vec<u8>>;

fn files(salon: &SalonCopy) -> Files {
    let mut files = salon.files("");
    files.remove("private/lock");
    files
}

/// Such a salon with pages, cards and a book.
fn built() -> SalonCopy {
    let salon = SalonCopy::of(&FEW);
    salon.build();
    salon.afterhue(&["book", "--today", TODAY]).assert().success();
    salon.afterhue(&["learn"]).assert().success();
    salon.build();
    salon
}

/// The program in the salon's folder, to be watched while it runs.
fn program(salon: &SalonCopy, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_afterhue"));
    command
        .current_dir(salon.path(""))
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// The first appointment that is proposed to a client: day and time.
fn proposed(salon: &SalonCopy, client: &str) -> [String; 2] {
    let book: toml::Table = salon.read("private/bookings.toml").parse().expect("TOML");
    let appointments = book["appointment"].as_array().expect("appointments");
    let is = |one: &&toml::Value| one["client"].as_str() == Some(client) && one["state"].as_str() == Some("proposed");
    let one = appointments.iter().find(is).unwrap_or_else(|| panic!("nothing is proposed to {client}"));
    let text = |field: &str| one[field].to_string().trim_matches('"').to_owned();
    [text("date"), text("time")[..5].to_owned()]
}
