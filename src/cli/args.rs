//! What may be written on the command line.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand};

/// Turn a finished-service record into the client's own care page.
#[derive(Debug, Parser)]
#[command(version, propagate_version = true, after_help = "Example: afterhue pages my-salon")]
pub(crate) struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Read every file of the salon and tell every fault at once
    #[command(after_help = "Example: afterhue check my-salon")]
    Check(FolderArguments),
    /// Show how one client's colour will fade, zone by zone
    #[command(after_help = "Example: afterhue forecast my-salon wren-04 --csv")]
    Forecast(ForecastArguments),
    /// Learn from every return how colour leaves in this salon, and say what moved
    #[command(after_help = "Example: afterhue learn my-salon")]
    Learn(FolderArguments),
    /// Write every client's page, the aftercare cards and the salon's sheets
    #[command(after_help = "Example: afterhue pages my-salon --today 2026-11-25")]
    Pages(PagesArguments),
}

/// A salon folder.
#[derive(Debug, Args)]
pub(crate) struct FolderArguments {
    /// The salon folder, the one that holds salon.toml
    #[arg(default_value = ".", value_name = "DIR")]
    pub(crate) folder: PathBuf,
}

/// `pages`.
#[derive(Debug, Args)]
pub(crate) struct PagesArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    /// Take this day as today; it only decides which pages have expired
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) today: Option<NaiveDate>,
    /// Say only what is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// Work on this many clients at once; as many as the machine has cores when it is missing
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
}

/// `forecast`.
#[derive(Debug, Args)]
#[command(allow_missing_positional = true)]
pub(crate) struct ForecastArguments {
    /// The salon folder, the one that holds salon.toml
    #[arg(default_value = ".", value_name = "DIR")]
    pub(crate) folder: PathBuf,
    /// The client's code, which is the name of the client's file
    #[arg(value_name = "CLIENT", required = true)]
    pub(crate) client: String,
    /// Forecast for this many washes a week instead of the recorded habit
    #[arg(long, value_name = "N")]
    pub(crate) washes: Option<f64>,
    /// Walk through one zone in plain sentences, with every number's unit and source
    #[arg(long, conflicts_with_all = ["json", "csv"])]
    pub(crate) explain: bool,
    /// Print JSON
    #[arg(long, conflicts_with = "csv")]
    pub(crate) json: bool,
    /// Print CSV (RFC 4180)
    #[arg(long)]
    pub(crate) csv: bool,
}
