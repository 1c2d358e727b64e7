//! A copy of everything there is about one client, to hand over.

use crate::diagnostic::Diagnostic;
use crate::forecast::{Forecast, ZoneForecast, forecast};
use crate::page::forecast_table::forecast_table;
use crate::pipeline;
use crate::record::{ClientCode, ClientFile, History};
use crate::salon::Salon;
use crate::science::fade::rate::RateDistribution;
use crate::site::theme::Theme;
use crate::units::Worded;
use crate::workspace::{self, Failure, Secret};

use super::{House, card_of_forgotten, kept_about};

/// Name in the new folder and bytes.
pub type Files = Vec<(String, Vec<u8>)>;

/// What each part is, for whoever opens the folder.
const READ_ME: &str = "\
This folder holds what the salon keeps about one client, as a copy.

clients/        the client's file: how to reach the client, consents, history, and what the client said about health
records/        one file for each visit: what was done, what was found, what was advised
drafts/         visits that were begun and not finished at the chair
set-aside/      other versions of visits that were not chosen
bookings.toml   the client's appointments, those called off among them
links.txt       the address of the client's page, and those it had before
page.html       the client's care page, as it is published under the client's own link; open it in a browser
calendar.ics    the next appointment window, to add to a calendar; missing when there is none
wash-days.ics   the wash days up to that appointment, in the same form
card.html       the aftercare card to print
forecast.json   how the colour is expected to fade, as data
learned.json    what the client's own returns taught: how fast this colour leaves this hair
kept-card.txt   of a client who was forgotten: tests and incidents, why they are kept and until which day
README.txt      this text

What there is nothing of is missing; page, calendars, card, forecast and what was learned also when there is no visit, or when a file could not be read.

Not in this folder: what is worked out anew from these files and names other clients beside this one (the board, the sheets that prepare visits, the list of messages, the salon's calendar);
the salon's own estimate, which holds sums over all clients and nobody's name; backups, and what was printed or sent.

The .toml files are plain text; any text editor opens them.
Facts about health stand in clients/, records/, drafts/, set-aside/ and kept-card.txt. Keep the folder where only the right people can open it.
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

/// What is kept about a client: files, drafts, versions put aside, appointments, and the card of one who was forgotten; empty when nothing is.
///
/// # Errors
/// When the machine refuses to give what is there.
pub fn copy_of_texts(house: &House<'_>, code: &ClientCode) -> Result<Files, Failure> {
    let about = pipeline::files_about(house.texts, code);
    let mut files: Files = about.iter().map(|source| (source.name.clone(), source.text.as_bytes().to_vec())).collect();
    for name in kept_about(house.folder, code) {
        let short = name.trim_start_matches("private/").to_owned();
        if let Some(text) = workspace::kept_private(house.folder, &short)? {
            files.push((short, text.into_bytes()));
        }
    }
    let mut diary = house.read.diary.clone().unwrap_or_default();
    diary.appointments.retain(|one| one.client == *code);
    if !diary.appointments.is_empty() {
        files.push(("bookings.toml".to_owned(), diary.to_text().into_bytes()));
    }
    if let Some((_, card)) = card_of_forgotten(house, code)? {
        files.push(("kept-card.txt".to_owned(), card.into_bytes()));
    }
    Ok(files)
}

/// What is made for a client: the page, the calendar files, the card, the links, the forecast and what was learned.
///
/// # Errors
/// A fault of the salon's own theme.
pub fn made_for(house: &House<'_>, history: &History, salon: &Salon, theme: &Theme) -> Result<Files, Box<Diagnostic>> {
    let pages = pipeline::pages_of(history, house.read, salon, theme, house.secret)?;
    let card = pipeline::card_of(history, house.read, salon, theme, house.secret)?;
    let shareable = history.shareable();
    let words = pipeline::words(&shareable, salon);
    let expected = forecast(&shareable, salon);
    let table = forecast_table(&shareable, &expected, words);
    let json = serde_json::to_string_pretty(&table).expect("a table is always JSON") + "\n";
    let named = |name: &str| match name {
        name if name.ends_with("-washing.ics") => "wash-days.ics",
        name if name.ends_with(".ics") => "calendar.ics",
        _ => "page.html",
    };
    let own = [
        ("card.html", card.into_bytes()),
        ("links.txt", links(history, salon, house.secret).into_bytes()),
        ("forecast.json", json.into_bytes()),
        ("learned.json", learned(&expected).into_bytes()),
    ];
    let pages = pages.into_iter().map(|(name, bytes)| (named(&name).to_owned(), bytes));
    Ok(pages.chain(own.map(|(name, bytes)| (name.to_owned(), bytes))).collect())
}

/// The address of the page, and those it had before, newest first.
fn links(history: &History, salon: &Salon, secret: &Secret) -> String {
    let numbers = (1..=history.client.link_number).rev();
    let address = |number| {
        let client = ClientFile { link_number: number, ..history.client.clone() };
        pipeline::link_of(&client, salon, secret).address
    };
    numbers.map(|number| format!("{}\n", address(number))).collect()
}

/// What the returns taught about each zone: the rate at which colour leaves, before them and with them, 1 being the usual.
fn learned(forecast: &Forecast) -> String {
    let zone = |zone: &ZoneForecast| {
        let rate = |rate: &RateDistribution| serde_json::json!({ "median": rate.median(), "one in ten under": rate.quantile(0.1), "one in ten over": rate.quantile(0.9) });
        serde_json::json!({
            "placement": zone.placement + 1,
            "zone": zone.name.word(),
            "dye": zone.class.word(),
            "returns": zone.returns,
            "rate before": rate(&zone.prior),
            "rate": rate(&zone.rate),
        })
    };
    let zones: Vec<serde_json::Value> = forecast.zones.iter().map(zone).collect();
    serde_json::to_string_pretty(&zones).expect("numbers are always JSON") + "\n"
}
