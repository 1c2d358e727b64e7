//! Where the time goes: each stage by itself, on one thread, for at most a thousand clients; and pages a second in memory.
//!
//! Each measurement is made in a process of its own: within one, every fit of a colour is made once and then known.

use std::fs;
use std::path::Path;
use std::time::Instant;

use afterhue::care::{Facts, REVIEWED, select};
use afterhue::forecast::forecast;
use afterhue::page::client::{Sources, client_page};
use afterhue::page::filling::Filling;
use afterhue::pipeline;
use afterhue::plan::plan;
use afterhue::record::Shareable;
use afterhue::site::{Key, Made, Outlet, Still, render};
use afterhue::workspace::{Secret, read_folder};
use chrono::NaiveDate;

/// At most so many clients are taken through the stages one by one.
const MOST: usize = 1000;

/// How this program is told to measure the stages, and how pages a second: the number of threads follows.
pub(crate) const STAGES: &str = "--stages";
pub(crate) const RATE: &str = "--pages-a-second";

/// Microseconds a client.
pub(crate) struct Stages {
    read: f64,
    validate: f64,
    /// What a forecast costs more when no deposit of this base and shade was asked for before.
    deposit: f64,
    forecast: f64,
    plan: f64,
    select: f64,
    page: f64,
    render: f64,
    write: f64,
}

impl Stages {
    /// The stages in order.
    pub(crate) const fn each(&self) -> [f64; 9] {
        let Self { read, validate, deposit, forecast, plan, select, page, render, write } = *self;
        [read, validate, deposit, forecast, plan, select, page, render, write]
    }
}

/// Takes every part and keeps none.
struct Nowhere;

impl Outlet for Nowhere {
    type Failure = ();

    fn stands(&self, _: &str, _: &Key, _: NaiveDate) -> Option<Still> {
        None
    }

    fn put(&self, _: &str, made: Made) -> Result<(), ()> {
        std::hint::black_box(made);
        Ok(())
    }
}

/// Pages a second in memory, everything after reading and validating, in a process that has made none before.
pub(crate) fn pages_a_second(folder: &Path, threads: usize) -> f64 {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
    let read = pipeline::read(&read_folder(folder).expect("a salon folder"));
    let (salon, theme) = read.house.as_ref().expect("a sound salon");
    let (secret, today) = (Secret::from_bytes([7; 32]), "2026-11-25".parse().expect("a day"));
    let all = || pipeline::build_each(&read, salon, theme, &secret, today, &Nowhere);
    let (told, seconds) = timed(|| pool.install(all));
    told.expect("built").pages as f64 / seconds
}

/// Measures the stages of the salon in a folder.
pub(crate) fn measure(folder: &Path) -> Stages {
    let one = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
    let secret = Secret::from_bytes([7; 32]);
    let (texts, all_read) = timed(|| read_folder(folder).expect("a salon folder"));
    let (read, all_validated) = timed(|| one.install(|| pipeline::read(&texts)));
    let (salon, theme) = read.house.as_ref().expect("a sound salon");
    let clients = read.histories.len();
    let some: Vec<_> = read.histories.iter().take(MOST).map(|history| (history, history.shareable())).collect();
    let each = |seconds: f64| seconds * 1e6 / some.len() as f64;
    let colours = || some.iter().map(|(_, shareable)| forecast(shareable, salon)).collect::<Vec<_>>();
    let (_, cold) = timed(colours);
    let (forecasts, warm) = timed(colours);
    let (plans, planned) =
        timed(|| some.iter().zip(&forecasts).map(|((_, it), colour)| plan(it, salon, colour)).collect::<Vec<_>>());
    let words = |it: &Shareable| pipeline::words(it, salon);
    let chosen = |at: usize| {
        let (it, plan) = (&some[at].1, &plans[at]);
        let filling = Filling { words: words(it), salon, plan };
        read.finished.advice(&select(&read.library, &Facts::of(it, plan)), filling)
    };
    let (advices, selected) = timed(|| (0..some.len()).map(chosen).collect::<Vec<_>>());
    let links: Vec<_> = some.iter().map(|(history, _)| pipeline::link_of(&history.client, salon, &secret)).collect();
    let sources = |at: usize| Sources {
        shareable: &some[at].1,
        salon,
        forecast: &plans[at].forecast,
        plan: &plans[at],
        advice: &advices[at],
        booked: None,
        words: words(&some[at].1),
        link: Some(&links[at]),
        note_html: None,
        reviewed: REVIEWED,
    };
    let (pages, paged) = timed(|| (0..some.len()).map(|at| client_page(&sources(at))).collect::<Vec<_>>());
    let (html, rendered) =
        timed(|| pages.iter().map(|page| render::client(theme, page).expect("a page")).collect::<Vec<_>>());
    let ((), written) = timed(|| write(&folder.with_extension("stage"), &html));
    let of_all = |seconds: f64| seconds * 1e6 / clients as f64;
    Stages {
        read: of_all(all_read),
        validate: of_all(all_validated),
        deposit: each((cold - warm).max(0.0)),
        forecast: each(warm),
        plan: each(planned),
        select: each(selected),
        page: each(paged),
        render: each(rendered),
        write: each(written),
    }
}

fn timed<T>(what: impl FnOnce() -> T) -> (T, f64) {
    let began = Instant::now();
    let got = what();
    (got, began.elapsed().as_secs_f64())
}

/// Writes pages as the writer does: each whole, renamed into place.
fn write(folder: &Path, pages: &[String]) {
    fs::create_dir_all(folder.join("public")).expect("a folder");
    let files = pages.iter().enumerate();
    let files = files.map(|(at, html)| (format!("public/{at}.html"), html.as_bytes().to_vec())).collect();
    let kept = afterhue::site::Kept::These(std::collections::BTreeSet::new());
    afterhue::site::write(folder, &files, &kept).expect("written");
    fs::remove_dir_all(folder).expect("removed");
}
