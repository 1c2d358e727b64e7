//! `export`: everything there is about one client, as a folder to hand over.

use std::fs;
use std::path::Path;

use afterhue::diagnostic::Report;
use afterhue::forecast::forecast;
use afterhue::page::forecast_table::forecast_table;
use afterhue::pipeline;
use afterhue::record::ClientCode;
use afterhue::workspace::{self, Failure};

use super::args::ExportArguments;
use super::one_client::{self, Opened};
use super::{End, terminal};

/// What each part is, for whoever opens the folder.
const READ_ME: &str = "\
This folder holds everything the salon keeps about one client, as a copy.

clients/        the client's file: how to reach the client, consents, history, and what the client said about health
records/        one file for each visit: what was done, what was found, what was advised
page.html       the client's care page, as it is published under the client's own link; open it in a browser
calendar.ics    the next appointment window, to add to a calendar; missing when there is none
wash-days.ics   the wash days up to that appointment, in the same form
forecast.json   how the colour is expected to fade, as data
README.txt      this text

Page, calendar and forecast are missing when there is no visit, or when a file could not be read.

The .toml files are plain text; any text editor opens them.
Health facts stand only in clients/ and records/. Keep the folder where only the right people can open it.
";

/// Writes the folder, unless something is there already.
pub(crate) fn run(arguments: &ExportArguments) -> End {
    let Some((folder, words)) = one_client::folder_first(&arguments.words, 2) else {
        return End::WrongUse("name one client and the folder to write: afterhue export [DIR] CLIENT OUT".to_owned());
    };
    let out = Path::new(&words[1]);
    if fs::read_dir(out).map_or_else(|_| out.exists(), |mut entries| entries.next().is_some()) {
        return End::WrongUse(format!("{} is there already and is not empty; name a new folder", out.display()));
    }
    export(&folder, &words[0], out).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn export(folder: &Path, code: &str, out: &Path) -> Result<End, Failure> {
    let opened = one_client::open(folder)?;
    let about = ClientCode::try_new(code).map(|code| pipeline::files_about(&opened.texts, &code)).unwrap_or_default();
    if about.is_empty() {
        return Ok(End::WrongUse(pipeline::no_such_client(&opened.read, code)));
    }
    // Whoever asks for their data gets what is on record, whether or not a page can be made of it.
    let (made, end) = match made_from(&opened, code) {
        Ok(made) => (made, End::Done),
        Err(end) => (Vec::new(), end),
    };
    let written = about.iter().map(|source| (source.name.clone(), source.text.as_bytes().to_vec()));
    let files: Vec<(String, Vec<u8>)> =
        written.chain(made).chain([("README.txt".to_owned(), READ_ME.as_bytes().to_vec())]).collect();
    for (name, bytes) in &files {
        workspace::store(&out.join(name), bytes)?;
    }
    terminal::say(&format!("{} in {}", terminal::count(files.len(), "file", "files"), out.display()));
    Ok(end)
}

/// The page, the calendar file and the forecast; nothing for a client without visits, and how the command ends when a file is at fault.
fn made_from(opened: &Opened, code: &str) -> Result<Vec<(String, Vec<u8>)>, End> {
    let no_visits = !opened.read.at_fault.contains(code)
        && opened.read.histories.iter().all(|history| history.client.code.as_str() != code);
    if opened.read.house.is_some() && no_visits {
        terminal::say("There is no visit on record, so there is no page and no forecast.");
        return Ok(Vec::new());
    }
    let found = opened.client(code)?;
    let pages = pipeline::pages_of(found.history, &opened.read, found.salon, found.theme, &opened.secret);
    let pages = pages.map_err(|fault| {
        terminal::tell(&Report { items: vec![*fault] }, &opened.texts.all());
        End::Faults
    })?;
    let shareable = found.history.shareable();
    let words = pipeline::words(&shareable, found.salon);
    let table = forecast_table(&shareable, &forecast(&shareable, found.salon), words);
    let json = serde_json::to_string_pretty(&table).expect("a table is always JSON") + "\n";
    let named = |name: &str| match name {
        name if name.ends_with("-washing.ics") => "wash-days.ics",
        name if name.ends_with(".ics") => "calendar.ics",
        _ => "page.html",
    };
    let pages = pages.into_iter().map(|(name, bytes)| (named(&name).to_owned(), bytes));
    Ok(pages.chain([("forecast.json".to_owned(), json.into_bytes())]).collect())
}
