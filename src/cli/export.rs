//! `export`: everything there is about one client, as a folder to hand over.

use std::fs;
use std::path::Path;

use afterhue::diagnostic::Report;
use afterhue::pipeline;
use afterhue::record::ClientCode;
use afterhue::rights::{self, Files};
use afterhue::workspace::{self, Failure};

use super::args::ExportArguments;
use super::one_client::{self, Opened};
use super::{End, at_fault, terminal};

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
    let client = ClientCode::try_new(code);
    let about = client.map(|client| rights::copy_of_texts(&opened.house(folder), &client)).transpose()?;
    let about = about.unwrap_or_default();
    if about.is_empty() {
        return Ok(End::WrongUse(pipeline::no_such_client(&opened.read, code)));
    }
    // Whoever asks for their data gets what is on record, whether or not a page can be made of it.
    let (made, end) = match made_from(folder, &opened, code) {
        Ok(made) => (made, End::Done),
        Err(end) => (Vec::new(), end),
    };
    let files: Files = about.into_iter().chain(made).chain([rights::read_me()]).collect();
    for (name, bytes) in &files {
        let path = out.join(name);
        let parent = path.parent().unwrap_or(out);
        fs::create_dir_all(parent).map_err(|error| Failure::io("make", parent, &error))?;
        workspace::store(&path, bytes)?;
    }
    terminal::say(&format!("{} in {}", terminal::count(files.len(), "file", "files"), out.display()));
    // A record that could not be read may be about this client, and is not in the folder.
    let whole = opened.texts.refused.is_empty();
    Ok(if whole { end } else { at_fault(&opened.texts) })
}

/// What is made for the client; nothing for a client without visits, and how the command ends when a file is at fault.
fn made_from(folder: &Path, opened: &Opened, code: &str) -> Result<Files, End> {
    let no_visits = !opened.read.at_fault.contains(code)
        && opened.read.histories.iter().all(|history| history.client.code.as_str() != code);
    if opened.read.house.is_some() && no_visits {
        terminal::say("There is no visit on record, so there is no page and no forecast.");
        return Ok(Vec::new());
    }
    let found = opened.client(code)?;
    rights::made_for(&opened.house(folder), found.history, found.salon, found.theme).map_err(|fault| {
        terminal::tell(&Report { items: vec![*fault] }, &opened.texts.all());
        End::Faults
    })
}
