//! `export`: everything there is about one client, as a folder to hand over.

use std::fs;
use std::path::Path;

use afterhue::chairside;
use afterhue::diagnostic::Report;
use afterhue::forecast::{Forecast, ZoneForecast, forecast};
use afterhue::page::forecast_table::forecast_table;
use afterhue::pipeline;
use afterhue::record::{ClientCode, ClientFile, History};
use afterhue::salon::Salon;
use afterhue::science::fade::rate::RateDistribution;
use afterhue::units::Worded;
use afterhue::workspace::{self, Failure};

use super::args::ExportArguments;
use super::one_client::{self, Opened};
use super::{End, kept_card, terminal};

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
    // A copy of one state: no record half changed, no client half forgotten.
    let _lock = workspace::lock(folder, terminal::waiting)?;
    let opened = one_client::open(folder)?;
    let Some(client) = ClientCode::try_new(code) else {
        return Ok(End::WrongUse(pipeline::no_such_client(&opened.read, code)));
    };
    let on_record = on_record(folder, &opened, &client)?;
    if on_record.is_empty() {
        return Ok(End::WrongUse(pipeline::no_such_client(&opened.read, code)));
    }
    // Whoever asks for their data gets what is on record, whether or not a page can be made of it.
    let (made, end) = match made_from(&opened, code) {
        Ok(made) => (made, End::Done),
        Err(end) => (Vec::new(), end),
    };
    let read_me = ("README.txt".to_owned(), READ_ME.as_bytes().to_vec());
    let files: Files = on_record.into_iter().chain(made).chain([read_me]).collect();
    for (name, bytes) in &files {
        let path = out.join(name);
        let parent = path.parent().unwrap_or(out);
        fs::create_dir_all(parent).map_err(|error| Failure::io("make", parent, &error))?;
        workspace::store(&path, bytes)?;
    }
    terminal::say(&format!("{} in {}", terminal::count(files.len(), "file", "files"), out.display()));
    Ok(end)
}

/// Name in the new folder and bytes.
type Files = Vec<(String, Vec<u8>)>;

/// What is kept about a client: files, drafts, appointments, and the card of one who was forgotten.
fn on_record(folder: &Path, opened: &Opened, client: &ClientCode) -> Result<Files, Failure> {
    let about = pipeline::files_about(&opened.texts, client);
    let mut files: Files = about.iter().map(|source| (source.name.clone(), source.text.as_bytes().to_vec())).collect();
    for name in chairside::kept_about(folder, client) {
        let short = name.trim_start_matches("private/").to_owned();
        if let Some(text) = workspace::kept_private(folder, &short)? {
            files.push((short, text.into_bytes()));
        }
    }
    let mut diary = opened.read.diary.clone().unwrap_or_default();
    diary.appointments.retain(|one| one.client == *client);
    if !diary.appointments.is_empty() {
        files.push(("bookings.toml".to_owned(), diary.to_text().into_bytes()));
    }
    if let Some((_, card)) = kept_card::of_forgotten(folder, opened, client)? {
        files.push(("kept-card.txt".to_owned(), card.into_bytes()));
    }
    Ok(files)
}

/// The page, the calendar files, the card, the links, the forecast and what was learned; nothing for a client without visits, and how the command ends when a file is at fault.
fn made_from(opened: &Opened, code: &str) -> Result<Files, End> {
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
    let expected = forecast(&shareable, found.salon);
    let table = forecast_table(&shareable, &expected, words);
    let json = serde_json::to_string_pretty(&table).expect("a table is always JSON") + "\n";
    let named = |name: &str| match name {
        name if name.ends_with("-washing.ics") => "wash-days.ics",
        name if name.ends_with(".ics") => "calendar.ics",
        _ => "page.html",
    };
    let card = pipeline::card_of(found.history, &opened.read, found.salon, found.theme, &opened.secret);
    let card = card.map_err(|fault| {
        terminal::tell(&Report { items: vec![*fault] }, &opened.texts.all());
        End::Faults
    })?;
    let own = [
        ("card.html", card.into_bytes()),
        ("links.txt", links(found.history, found.salon, opened).into_bytes()),
        ("forecast.json", json.into_bytes()),
        ("learned.json", learned(&expected).into_bytes()),
    ];
    let pages = pages.into_iter().map(|(name, bytes)| (named(&name).to_owned(), bytes));
    Ok(pages.chain(own.map(|(name, bytes)| (name.to_owned(), bytes))).collect())
}

/// The address of the page, and those it had before, newest first.
fn links(history: &History, salon: &Salon, opened: &Opened) -> String {
    let numbers = (1..=history.client.link_number).rev();
    let address = |number| {
        let client = ClientFile { link_number: number, ..history.client.clone() };
        pipeline::link_of(&client, salon, &opened.secret).address
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
