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
    /// Plan the coming weeks: who is due, a fitted book, accepting, moving, calling off, filling
    #[command(
        after_help = "Examples:\n  afterhue book my-salon\n  afterhue book my-salon --busy ines=holiday.ics\n  afterhue book my-salon --accept wren-04 2026-12-15 10:15\n  afterhue book my-salon --fill 2026-12-15 10:15 120"
    )]
    Book(BookArguments),
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

/// `book`.
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("change").args(["accept", "move_to", "cancel", "fill", "review"]))]
pub(crate) struct BookArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    /// Take this day as today
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) today: Option<NaiveDate>,
    /// Plan this many weeks ahead
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = clap::value_parser!(u32).range(1..=52))]
    pub(crate) weeks: u32,
    /// Keep the times of this calendar free; STYLIST=FILE for one stylist, FILE for the whole salon
    #[arg(long, value_name = "[STYLIST=]FILE")]
    pub(crate) busy: Vec<String>,
    /// The client says yes to a time
    #[arg(long, num_args = 3, value_names = ["CLIENT", "DATE", "TIME"])]
    pub(crate) accept: Option<Vec<String>>,
    /// Book another time in place of the one booked or proposed
    #[arg(long = "move", num_args = 3, value_names = ["CLIENT", "DATE", "TIME"])]
    pub(crate) move_to: Option<Vec<String>>,
    /// Call off a client's appointment
    #[arg(long, num_args = 2, value_names = ["CLIENT", "DATE"])]
    pub(crate) cancel: Option<Vec<String>>,
    /// List who could take a time that came free, best first
    #[arg(long, num_args = 3, value_names = ["DATE", "TIME", "MINUTES"])]
    pub(crate) fill: Option<Vec<String>>,
    /// Look back: what was predicted against what came
    #[arg(long)]
    pub(crate) review: bool,
    /// With this stylist, for --accept and --move
    #[arg(long, value_name = "STYLIST")]
    pub(crate) with: Option<String>,
    /// Stop fitting after this many seconds and take the best found so far
    #[arg(long, value_name = "SECONDS", default_value_t = 30)]
    pub(crate) limit: u64,
    /// Print JSON
    #[arg(long, conflicts_with = "csv")]
    pub(crate) json: bool,
    /// Print CSV (RFC 4180)
    #[arg(long)]
    pub(crate) csv: bool,
}
