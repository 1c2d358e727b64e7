//! `publish`: the site put where others serve it.

use afterhue::pipeline;
use afterhue::publish::{Address, Marker, Order, Published, Refusal, Step, publish};
use afterhue::workspace::stamp;

use super::args::PublishArguments;
use super::progress::Progress;
use super::{End, at_fault, one_client, terminal};

/// How many names are told one by one.
const TOLD: usize = 5;

/// Publishes, or says why not.
pub(crate) fn run(arguments: &PublishArguments) -> End {
    let folder = &arguments.folder.folder;
    let to = match Address::parse(&arguments.to) {
        Ok(to) => to,
        Err(why) => return End::WrongUse(why.to_string()),
    };
    let opened = match one_client::open(folder) {
        Ok(opened) => opened,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let Some((salon, _)) = &opened.read.house else {
        terminal::tell(&opened.read.report, &opened.texts.all());
        return at_fault(&opened.texts);
    };
    let texts = pipeline::private_texts(&opened.texts, &opened.read, salon, &opened.secret).into_iter();
    let markers: Vec<Marker> =
        texts.map(|one| Marker { text: one.text, what: one.what, only_in: one.only_in }).collect();
    let order = Order {
        folder,
        to: &to,
        base_address: &salon.base_address,
        markers: &markers,
        inputs_changed: stamp(folder).values().filter_map(|(changed, _)| *changed).max(),
        dry_run: arguments.dry_run,
        take_over: arguments.take_over,
        at_once: arguments.at_once.into(),
    };
    let mut watched = Watched::default();
    let done = publish(&order, &mut |step| watched.tell(step));
    watched.end();
    match done {
        Ok(published) => {
            tell(&published, arguments);
            End::Done
        }
        Err(Refusal::Address(why)) => End::WrongUse(why),
        Err(Refusal::Machine(why)) => End::Machine(why),
        Err(Refusal::Folder(why)) => {
            why.iter().for_each(|line| terminal::say(line));
            terminal::say("Nothing was published.");
            End::Faults
        }
    }
}

fn tell(published: &Published, arguments: &PublishArguments) {
    let Published { uploaded, unchanged, removed, edited, left_over, headers_left } = published;
    if arguments.dry_run {
        uploaded.iter().for_each(|name| terminal::print(&format!("+ {name}\n")));
        removed.iter().for_each(|name| terminal::print(&format!("- {name}\n")));
    }
    let (up, gone) = if arguments.dry_run { ("would go up", "be removed") } else { ("went up", "removed") };
    terminal::say(&format!(
        "{} to {}: {} {up}, {unchanged} already right, {} {gone}.",
        if arguments.dry_run { "Nothing was published" } else { "Published" },
        arguments.to,
        terminal::count(uploaded.len(), "file", "files"),
        removed.len(),
    ));
    if !edited.is_empty() {
        terminal::say(&format!(
            "Somebody else had changed or removed {} there: {}. What the salon folder says is put in place; ask who has a key.",
            terminal::count(edited.len(), "file", "files"),
            some(edited),
        ));
    }
    if !left_over.is_empty() {
        terminal::say(&format!(
            "{} there that this folder does not know: {}. If they are this salon's, of clients who were forgotten or moved, remove them: --take-over",
            terminal::count(left_over.len(), "client's file lies", "clients' files lie"),
            some(left_over),
        ));
    }
    if *headers_left {
        terminal::say(
            "A store does not read _headers: set its lines at the CDN or server in front of it, and 404.html as its page for a missing address.",
        );
    }
}

/// The first few names of many.
fn some(names: &[String]) -> String {
    let more = names.len().saturating_sub(TOLD);
    let first = names.iter().take(TOLD).cloned().collect::<Vec<_>>().join(", ");
    if more == 0 { first } else { format!("{first} and {more} more") }
}

/// What a person is told meanwhile.
#[derive(Default)]
struct Watched {
    /// The part of the run that is under way.
    part: Option<Progress>,
}

impl Watched {
    fn tell(&mut self, step: Step) {
        match step {
            Step::Stale => terminal::say(
                "A file of the salon was changed after the pages were last written; if that should be online, run afterhue pages first.",
            ),
            Step::KeptDamaged(name) => terminal::say(&format!(
                "The list of what was published is damaged and is not used: {name}. What lies there already is no longer known as this folder's."
            )),
            Step::Uploaded(done, of) => self.reach("files up", done, of),
            Step::Removed(done, of) => self.reach("files removed", done, of),
        }
    }

    fn reach(&mut self, what: &'static str, done: usize, of: usize) {
        if self.part.as_ref().is_none_or(|part| !part.counts(what, of)) {
            self.end();
            self.part = Some(Progress::of(what, of, false));
        }
        self.part.iter().for_each(|part| part.reach(done));
    }

    fn end(&self) {
        self.part.iter().for_each(Progress::end);
    }
}
