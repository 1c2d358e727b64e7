//! A copy of everything there is about one client, to hand over.

use crate::diagnostic::Diagnostic;
use crate::forecast::forecast;
use crate::page::forecast_table::forecast_table;
use crate::pipeline;
use crate::record::{ClientCode, History};
use crate::salon::Salon;
use crate::site::theme::Theme;
use crate::workspace;

use super::{House, kept_about};

/// What each part is, for whoever opens the folder.
const READ_ME: &str = "\
This folder holds everything the salon keeps about one client, as a copy.

clients/        the client's file: how to reach the client, consents, history, and what the client said about health
records/        one file for each visit: what was done, what was found, what was advised
private/        visits that were begun and not finished, and versions of a record that another one took the place of; missing when there are none
page.html       the client's care page, as it is published under the client's own link; open it in a browser
calendar.ics    the next appointment window, to add to a calendar; missing when there is none
wash-days.ics   the wash days up to that appointment, in the same form
forecast.json   how the colour is expected to fade, as data
README.txt      this text

Page, calendar and forecast are missing when there is no visit, or when a file could not be read.

The .toml files are plain text; any text editor opens them.
Health facts stand only in clients/, records/ and private/. Keep the folder where only the right people can open it.
";

/// Where the chairside puts copies of a client, one folder a day, below `private/`.
#[must_use]
pub fn exports_of(code: &ClientCode) -> String {
    format!("exports/{code}")
}

/// The text that explains the folder, under its name there.
#[must_use]
pub fn read_me() -> (String, Vec<u8>) {
    ("README.txt".to_owned(), READ_ME.as_bytes().to_vec())
}

/// What was written down about a client, under its names in the salon folder; empty when nothing was.
#[must_use]
pub fn copy_of_texts(house: &House<'_>, code: &ClientCode) -> Vec<(String, Vec<u8>)> {
    let about = pipeline::files_about(house.texts, code);
    let written = about.iter().map(|source| (source.name.clone(), source.text.as_bytes().to_vec()));
    let kept = kept_about(house.folder, code).into_iter().filter_map(|name| {
        let text = workspace::kept_private(house.folder, name.strip_prefix("private/")?).ok()??;
        Some((name, text.into_bytes()))
    });
    written.chain(kept).collect()
}

/// What is made for a client: the page, the calendar files and the forecast.
///
/// # Errors
/// A fault of the salon's own theme.
pub fn made_for(
    house: &House<'_>,
    history: &History,
    salon: &Salon,
    theme: &Theme,
) -> Result<Vec<(String, Vec<u8>)>, Box<Diagnostic>> {
    let pages = pipeline::pages_of(history, house.read, salon, theme, house.secret)?;
    let shareable = history.shareable();
    let words = pipeline::words(&shareable, salon);
    let table = forecast_table(&shareable, &forecast(&shareable, salon), words);
    let json = serde_json::to_string_pretty(&table).expect("a table is always JSON") + "\n";
    let named = |name: &str| match name {
        name if name.ends_with("-washing.ics") => "wash-days.ics",
        name if name.ends_with(".ics") => "calendar.ics",
        _ => "page.html",
    };
    let pages = pages.into_iter().map(|(name, bytes)| (named(&name).to_owned(), bytes));
    Ok(pages.chain([("forecast.json".to_owned(), json.into_bytes())]).collect())
}
