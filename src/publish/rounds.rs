//! Whole rounds of publishing to a store in memory: what is there afterwards, and what is remembered.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use futures_util::StreamExt;
use object_store::memory::InMemory;
use object_store::path::Path;
use object_store::{Attribute, ObjectStore, ObjectStoreExt};

use super::open::Store;
use super::preflight::{Ready, preflight};
use super::{Address, Order, Published, Refusal, Step, publish_to};

/// A page's name of the shape a client's has.
const PAGE: &str = "c/ab/abcdefghijklmnopqrstuvwx.html";

struct Round {
    salon: tempfile::TempDir,
    memory: Arc<InMemory>,
    take_over: bool,
    dry_run: bool,
    told: Vec<Step>,
}

impl Round {
    fn new() -> Self {
        let salon = tempfile::tempdir().expect("a folder");
        let round =
            Self { salon, memory: Arc::new(InMemory::new()), take_over: false, dry_run: false, told: Vec::new() };
        round.write("404.html", "missing");
        round.write("_headers", "/*");
        round.write(PAGE, "one");
        round.write("c/cd/x.ics", "BEGIN:VCALENDAR");
        round
    }

    fn path(&self, name: &str) -> PathBuf {
        self.salon.path().join("public").join(name)
    }

    fn write(&self, name: &str, text: &str) {
        fs::create_dir_all(self.path(name).parent().expect("a folder")).expect("made");
        fs::write(self.path(name), text).expect("written");
    }

    fn remove(&self, name: &str) {
        fs::remove_file(self.path(name)).expect("it was there");
    }

    /// Looks, lets something happen, then publishes.
    fn publish_after(&mut self, meanwhile: impl FnOnce(&Self)) -> Result<Published, Refusal> {
        let to = Address::parse("s3://rooms/care").expect("an address");
        let salon = self.salon.path().to_owned();
        let order = Order {
            folder: &salon,
            to: &to,
            base_address: "https://care.example.org",
            markers: &[],
            inputs_changed: None,
            dry_run: self.dry_run,
            take_over: self.take_over,
            at_once: 2,
        };
        let ready: Ready = preflight(&order)?;
        meanwhile(self);
        let memory: Arc<dyn ObjectStore> = self.memory.clone();
        let store = Store::new(memory, "care", true);
        let told = &mut self.told;
        alone(publish_to(&store, &ready, &order, &mut |step| told.push(step)))
    }

    fn publish(&mut self) -> Published {
        self.publish_after(|_| {}).unwrap_or_else(|why| panic!("{why}"))
    }

    fn there(&self) -> Vec<String> {
        let listed = alone(self.memory.list(None).map(|file| file.expect("listed").location.to_string()).collect());
        let mut names: Vec<String> = listed;
        names.sort();
        names
    }

    fn put(&self, name: &str, text: &str) {
        let bytes = text.as_bytes().to_vec();
        alone(self.memory.put(&Path::from(name), bytes.into())).expect("put");
    }

    fn reads(&self, name: &str) -> String {
        let bytes = alone(async { self.memory.get(&Path::from(name)).await.expect("there").bytes().await });
        String::from_utf8(bytes.expect("read").to_vec()).expect("text")
    }
}

fn alone<T>(what: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().build().expect("a runtime").block_on(what)
}

#[test]
fn a_site_goes_up_once_with_its_headers_and_without_its_settings() {
    let mut round = Round::new();
    let first = round.publish();
    assert_eq!((first.uploaded.len(), first.headers_left), (3, true));
    assert_eq!(round.there(), ["care/404.html".to_owned(), format!("care/{PAGE}"), "care/c/cd/x.ics".to_owned()]);
    let calendar = alone(round.memory.get(&Path::from("care/c/cd/x.ics"))).expect("there").attributes;
    assert_eq!(calendar.get(&Attribute::ContentType).expect("a type").as_ref(), "text/calendar; charset=utf-8");
    let cache = calendar.get(&Attribute::CacheControl).expect("a cache header");
    assert_eq!(cache.as_ref(), "private, max-age=0, must-revalidate");
    let second = round.publish();
    assert_eq!((second.uploaded.len(), second.unchanged, second.removed.len()), (0, 3, 0));
}

#[test]
fn a_change_goes_up_and_what_is_gone_is_removed_last() {
    let mut round = Round::new();
    round.publish();
    round.put("care/menu.html", "the salon's own");
    round.write("c/cd/x.ics", "another");
    round.remove(PAGE);
    round.told.clear();
    let done = round.publish();
    assert_eq!((done.uploaded, done.removed), (vec!["c/cd/x.ics".to_owned()], vec![PAGE.to_owned()]));
    assert_eq!(round.told, [Step::Uploaded(1, 1), Step::Removed(1, 1)]);
    assert_eq!(round.there(), ["care/404.html", "care/c/cd/x.ics", "care/menu.html"]);
}

#[test]
fn after_an_upload_that_failed_nothing_is_removed_and_the_next_run_goes_on() {
    let mut round = Round::new();
    round.publish();
    round.remove(PAGE);
    round.write("404.html", "second");
    round.write("c/cd/x.ics", "second");
    let why = round.publish_after(|round| round.write("c/cd/x.ics", "third")).expect_err("it changed");
    assert!(why.to_string().contains("public/c/cd/x.ics changed while it was being published"), "{why}");
    assert!(round.there().contains(&format!("care/{PAGE}")), "nothing was removed");
    assert_eq!(round.reads("care/404.html"), "second", "what was under way ended");
    let done = round.publish();
    assert_eq!((done.uploaded, done.removed), (vec!["c/cd/x.ics".to_owned()], vec![PAGE.to_owned()]));
    assert_eq!(round.reads("care/c/cd/x.ics"), "third");
    assert!(done.edited.is_empty(), "an upload of our own is nobody else's change");
}

#[test]
fn a_page_edited_by_somebody_else_is_told_and_put_right() {
    let mut round = Round::new();
    round.publish();
    round.put(&format!("care/{PAGE}"), "hello from somebody else");
    let done = round.publish();
    assert_eq!((done.edited, done.uploaded), (vec![PAGE.to_owned()], vec![PAGE.to_owned()]));
    assert_eq!(round.reads(&format!("care/{PAGE}")), "one");
    assert!(round.publish().edited.is_empty());
}

#[test]
fn a_dry_run_says_what_would_be_done_and_does_nothing() {
    let mut round = Round::new();
    round.dry_run = true;
    assert_eq!(round.publish().uploaded.len(), 3);
    assert!(round.there().is_empty() && !round.salon.path().join("private").exists());
    round.dry_run = false;
    assert_eq!(round.publish().uploaded.len(), 3, "nothing was remembered");
}

#[test]
fn a_lost_list_removes_and_replaces_nothing_until_it_is_taken_over() {
    let mut round = Round::new();
    round.publish();
    fs::remove_dir_all(round.salon.path().join("private")).expect("lost");
    round.write("404.html", "second");
    let why = round.publish_after(|_| {}).expect_err("whose are they?").to_string();
    assert!(why.contains("3 files are there already"), "{why}");
    assert_eq!(round.reads("care/404.html"), "missing");
    round.remove(PAGE);
    round.take_over = true;
    let done = round.publish();
    assert_eq!((done.uploaded.len(), done.removed), (2, vec![PAGE.to_owned()]));
    assert_eq!(round.there(), ["care/404.html", "care/c/cd/x.ics"]);
}

#[test]
fn a_page_that_came_back_while_files_went_up_is_not_removed() {
    let mut round = Round::new();
    round.publish();
    round.remove(PAGE);
    round.publish_after(|round| round.write(PAGE, "again")).expect("published");
    assert!(round.there().contains(&format!("care/{PAGE}")));
    assert_eq!(round.publish().uploaded, [PAGE]);
}
