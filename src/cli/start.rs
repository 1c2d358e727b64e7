//! `start`: a new salon folder, explained in its own files.

use std::path::Path;

use afterhue::form::{Form, Live, commented, schema};
use afterhue::record::{CLIENT, VISIT};
use afterhue::salon::SALON;
use afterhue::workspace::{self, Failure};

use super::args::StartArguments;
use super::{End, terminal};

/// What the new `salon.toml` sets: enough to be read without a caution.
const SALON_SET: [Live<'static>; 14] = [
    ("contact.phone", ""),
    ("contact.email", ""),
    ("contact.address", ""),
    ("emergency.advice_line", ""),
    ("hours.days", "[\"tuesday\", \"wednesday\", \"thursday\", \"friday\", \"saturday\"]"),
    ("hours.open", ""),
    ("hours.close", ""),
    ("stylist.code", ""),
    ("stylist.name", ""),
    ("service.code", ""),
    ("service.name", ""),
    ("service.hands_on_minutes", ""),
    ("service.developing_minutes", ""),
    ("service.finishing_minutes", ""),
];

/// The sample client, an invented person.
const CLIENT_CODE: &str = "wren-04";

/// Never published: what afterhue writes.
const IGNORED: &str = "# What afterhue writes. private/ holds the secret of every link: back it up, never publish it.\npublic/\nprivate/\n";

/// Writes the folder, unless it is a salon folder already.
pub(crate) fn run(arguments: &StartArguments) -> End {
    let folder = &arguments.folder;
    if folder.join("salon.toml").exists() {
        return End::WrongUse(format!(
            "{} is a salon folder already; nothing was changed. See what is in it: afterhue check {0}",
            folder.display()
        ));
    }
    match start(folder) {
        Ok(()) => End::Done,
        Err(failure) => End::Machine(failure.to_string()),
    }
}

fn start(folder: &Path) -> Result<(), Failure> {
    let today = workspace::today(workspace::UTC).to_string();
    let client: [Live<'_>; 5] = [
        ("link_number", ""),
        ("contact.phone", ""),
        ("age.sixteen_or_over", ""),
        ("age.confirmed", &today),
        ("consents.service", &today),
    ];
    let visit: [Live<'_>; 13] = [
        ("date", &today),
        ("stylist", ""),
        ("hair.length_mm", "350"),
        ("placement.zone.from_mm", ""),
        ("placement.zone.to_mm", "350"),
        ("placement.zone.stage", ""),
        ("placement.zone.lightened_before", "1"),
        ("placement.zone.colour.name", ""),
        ("placement.toning.dye", ""),
        ("placement.share_percent", ""),
        ("habits.washes_per_week", ""),
        ("habits.water", ""),
        ("client", ""),
    ];
    let client_file = format!("clients/{CLIENT_CODE}.toml");
    let visit_file = format!("records/{today}-{CLIENT_CODE}.toml");
    // salon.toml comes last: until it is there, a run that broke off can simply be run again.
    let files = [
        (".gitignore", IGNORED.to_owned()),
        ("schema/salon.schema.json", schema_text(&SALON)),
        ("schema/client.schema.json", schema_text(&CLIENT)),
        ("schema/visit.schema.json", schema_text(&VISIT)),
        (&client_file, commented(&CLIENT, "../schema/client.schema.json", &client)),
        (&visit_file, commented(&VISIT, "../schema/visit.schema.json", &visit)),
        ("salon.toml", commented(&SALON, "schema/salon.schema.json", &SALON_SET)),
    ];
    std::fs::create_dir_all(folder).map_err(|error| Failure::io("make", folder, &error))?;
    for (name, text) in files {
        let path = folder.join(name);
        if path.exists() {
            terminal::say(&format!("Kept as it was: {}", path.display()));
        } else {
            workspace::store(&path, text.as_bytes())?;
        }
    }
    let folder = folder.display();
    terminal::say(&format!("{folder} is a salon folder now. Everything in it is an example to change:"));
    terminal::say(&format!("  {folder}/salon.toml  the salon's own settings, each explained"));
    terminal::say(&format!("  {folder}/{client_file}  a client\n  {folder}/{visit_file}  a visit"));
    terminal::say(&format!("Next: afterhue check {folder}   then: afterhue pages {folder}"));
    Ok(())
}

fn schema_text(form: &Form) -> String {
    serde_json::to_string_pretty(&schema(form)).expect("a schema is always JSON") + "\n"
}
