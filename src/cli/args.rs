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
    #[command(after_help = "Example: afterhue book my-salon")]
    Book(BookArguments),
    /// Write a new salon folder with every setting explained
    #[command(after_help = "Example: afterhue start new-salon")]
    Start(StartArguments),
    /// Read every file of the salon and tell every fault at once
    #[command(after_help = "Example: afterhue check my-salon")]
    Check(CheckArguments),
    /// Show how one client's colour will fade, zone by zone
    #[command(after_help = "Example: afterhue forecast my-salon wren-04 --csv")]
    Forecast(ForecastArguments),
    /// Learn from every return how colour leaves in this salon, and say what moved
    #[command(after_help = "Example: afterhue learn my-salon")]
    Learn(FolderArguments),
    /// Write every client's page, the aftercare cards and the salon's sheets
    #[command(after_help = "Example: afterhue pages my-salon --today 2026-11-25")]
    Pages(PagesArguments),
    /// Print a client's message, the link and a code to scan
    #[command(after_help = "Example: afterhue send my-salon wren-04 --card")]
    Send(SendArguments),
    /// Give a client a new link and take the old page away
    #[command(
        after_help = "DIR is the salon folder; without it, the current folder is meant. CLIENT is the client's code, which is the name of the client's file.\n\nExample: afterhue relink my-salon wren-04"
    )]
    Relink(RelinkArguments),
    /// Write everything there is about one client into a folder, to hand over
    #[command(
        after_help = "DIR is the salon folder; without it, the current folder is meant. CLIENT is the client's code, which is the name of the client's file. OUT is the new folder to write.\n\nExample: afterhue export my-salon wren-04 wren-04-copy"
    )]
    Export(ExportArguments),
    /// Remove everything there is about one client
    #[command(
        after_help = "DIR is the salon folder; without it, the current folder is meant. CLIENT is the client's code, which is the name of the client's file.\n\nExample: afterhue forget my-salon plum-03 --yes"
    )]
    Forget(ForgetArguments),
    /// Show the site in a browser on this machine, and follow every change of a file
    #[command(after_help = "Example: afterhue view my-salon --port 0")]
    View(ViewArguments),
    /// Write visits down at the chair, in a browser on this machine or on the salon's tablets
    #[command(after_help = "Example: afterhue chairside my-salon --port 0")]
    Chairside(ChairsideArguments),
    /// Put the site into a store that others run, or into a folder: what changed goes up, what is gone comes down
    #[command(
        after_help = "Keys come from the environment, never from the address: AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY, AWS_REGION and AWS_ENDPOINT for s3:, GOOGLE_SERVICE_ACCOUNT for gs:, AZURE_STORAGE_ACCOUNT_NAME and AZURE_STORAGE_ACCOUNT_KEY for az:.\n\nExample: afterhue publish my-salon --to s3://my-bucket/care"
    )]
    Publish(PublishArguments),
    /// Print what a shell needs to complete commands
    #[command(after_help = "Example: afterhue completions bash")]
    Completions(CompletionsArguments),
    /// Print the manual page, in the format of `man`
    #[command(after_help = "Example: afterhue manual send")]
    Manual(ManualArguments),
}

/// A salon folder and one client.
#[derive(Debug, Args)]
#[command(allow_missing_positional = true)]
pub(crate) struct ClientArguments {
    /// The salon folder, the one that holds salon.toml
    #[arg(default_value = ".", value_name = "DIR")]
    pub(crate) folder: PathBuf,
    /// The client's code, which is the name of the client's file
    #[arg(value_name = "CLIENT", required = true)]
    pub(crate) client: String,
}

/// `send`.
#[derive(Debug, Args)]
pub(crate) struct SendArguments {
    #[command(flatten)]
    pub(crate) who: ClientArguments,
    /// Also write this client's aftercare card, to print
    #[arg(long)]
    pub(crate) card: bool,
    #[command(flatten)]
    pub(crate) day: DayArguments,
}

/// `relink`.
#[derive(Debug, Args)]
#[command(override_usage = "afterhue relink [DIR] CLIENT\n       afterhue relink [DIR] --all")]
pub(crate) struct RelinkArguments {
    /// The salon folder, and the code of the client
    #[arg(value_names = ["DIR", "CLIENT"], hide = true, num_args = 0..=2)]
    pub(crate) words: Vec<String>,
    /// Every client of the salon: for a secret or a list of links that got out
    #[arg(long)]
    pub(crate) all: bool,
    #[command(flatten)]
    pub(crate) day: DayArguments,
}

/// `forget`.
#[derive(Debug, Args)]
#[command(
    override_usage = "afterhue forget [DIR] CLIENT [--yes]\n       afterhue forget [DIR] --again [--yes]\n       afterhue forget [DIR] --old-tests [--yes]"
)]
pub(crate) struct ForgetArguments {
    /// The salon folder, and the code of the client
    #[arg(value_names = ["DIR", "CLIENT"], hide = true, num_args = 0..=2)]
    pub(crate) words: Vec<String>,
    /// Do not ask
    #[arg(long)]
    pub(crate) yes: bool,
    /// Remove once more whoever was forgotten and came back with a backup
    #[arg(long)]
    pub(crate) again: bool,
    /// Take alert tests out of the records that are older than `alert_test_days` in salon.toml
    #[arg(long, conflicts_with = "again")]
    pub(crate) old_tests: bool,
    #[command(flatten)]
    pub(crate) day: DayArguments,
}

/// `export`.
#[derive(Debug, Args)]
#[command(override_usage = "afterhue export [DIR] CLIENT OUT")]
pub(crate) struct ExportArguments {
    /// The salon folder, the code of the client, and the new folder to write
    #[arg(value_names = ["DIR", "CLIENT", "OUT"], hide = true, num_args = 2..=3, required = true)]
    pub(crate) words: Vec<String>,
}

/// `view`.
#[derive(Debug, Args)]
pub(crate) struct ViewArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    /// The port on this machine; 0 takes any that is free
    #[arg(long, default_value_t = 8080)]
    pub(crate) port: u16,
    #[command(flatten)]
    pub(crate) day: DayArguments,
}

/// `chairside`.
#[derive(Debug, Args)]
pub(crate) struct ChairsideArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    /// The port; 0 takes any that is free
    #[arg(long, default_value_t = 8181)]
    pub(crate) port: u16,
    /// Listen on the salon's own network, with a passcode, and not on this machine only
    #[arg(long)]
    pub(crate) lan: bool,
    /// Keep the times of this calendar free; STYLIST=FILE for one stylist, FILE for the whole salon
    #[arg(long, value_name = "[STYLIST=]FILE")]
    pub(crate) busy: Vec<String>,
    /// Make a new passcode and sign every tablet out
    #[arg(long, requires = "lan")]
    pub(crate) new_passcode: bool,
    #[command(flatten)]
    pub(crate) day: DayArguments,
}

/// `publish`.
#[derive(Debug, Args)]
pub(crate) struct PublishArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    #[arg(
        long,
        value_name = "ADDRESS",
        help = "Where to: s3://BUCKET/FOLDER, gs://BUCKET/FOLDER, az://CONTAINER/FOLDER or file:///A/FOLDER"
    )]
    pub(crate) to: String,
    /// Look at everything and print what would go up (+) and be removed (-); change nothing
    #[arg(long)]
    pub(crate) dry_run: bool,
    /// Replace files there under names of this site, and remove clients' pages that this folder does not know
    #[arg(long)]
    pub(crate) take_over: bool,
    /// How many files go up at the same time
    #[arg(long, value_name = "N", default_value_t = 16, value_parser = clap::value_parser!(u8).range(1..=128))]
    pub(crate) at_once: u8,
}

/// `completions`.
#[derive(Debug, Args)]
pub(crate) struct CompletionsArguments {
    /// The shell
    #[arg(value_name = "SHELL")]
    pub(crate) shell: clap_complete::Shell,
}

/// `manual`.
#[derive(Debug, Args)]
pub(crate) struct ManualArguments {
    /// The command it is about; all of afterhue when it is missing
    #[arg(value_name = "COMMAND")]
    pub(crate) command: Option<String>,
}

/// A salon folder.
#[derive(Debug, Args)]
pub(crate) struct FolderArguments {
    /// The salon folder, the one that holds salon.toml
    #[arg(default_value = ".", value_name = "DIR")]
    pub(crate) folder: PathBuf,
}

/// `start`.
#[derive(Debug, Args)]
pub(crate) struct StartArguments {
    /// The folder to make; what is in it already stays
    #[arg(value_name = "DIR")]
    pub(crate) folder: PathBuf,
}

/// `check`.
#[derive(Debug, Args)]
pub(crate) struct CheckArguments {
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
    #[command(flatten)]
    pub(crate) day: DayArguments,
    /// Say only what is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
}

/// `pages`: everything is checked first.
#[derive(Debug, Args)]
pub(crate) struct PagesArguments {
    #[command(flatten)]
    pub(crate) check: CheckArguments,
    /// Work on this many clients at once; as many as the machine has cores when it is missing
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Make every page again, also where nothing has changed since the last run
    #[arg(long)]
    pub(crate) afresh: bool,
}

/// Today.
#[derive(Debug, Clone, Copy, Args)]
pub(crate) struct DayArguments {
    /// Take this day as today; it decides which pages have expired, and which days are still to come
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
    /// Forecast for a colour conditioner at home this many times a week instead of the recorded habit
    #[arg(long, value_name = "N")]
    pub(crate) conditioner: Option<f64>,
    /// Take this day as today; it only decides which deadlines have passed
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) today: Option<NaiveDate>,
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
#[command(group = clap::ArgGroup::new("change").args(["accept", "move_to", "cancel", "fill", "answer", "review"]))]
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
    /// Record what a client answered to a check-in when something was wrong; it is kept as an incident, for the salon only
    #[arg(long, num_args = 3, value_names = ["CLIENT", "DATE", "WORDS"])]
    pub(crate) answer: Option<Vec<String>>,
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
