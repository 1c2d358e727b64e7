//! The stages of a run by themselves: `cargo bench`.
//!
//! For a whole run beside what it could least cost, see `examples/measure`.

#[path = "../examples/crowd/invent/mod.rs"]
mod invent;

use std::sync::LazyLock;

use afterhue::forecast::forecast;
use afterhue::pipeline::{self, Read};
use afterhue::plan::plan;
use afterhue::record::Shareable;
use afterhue::salon::Salon;
use afterhue::workspace::{Secret, Texts, read_folder};
use divan::Bencher;
use divan::counter::ItemsCount;

/// So many invented clients share a measurement, so that no single one decides it.
const CLIENTS: u64 = 100;

static TEXTS: LazyLock<Texts> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a folder");
    invent::write(CLIENTS, folder.path(), 1).expect("written");
    read_folder(folder.path()).expect("a salon folder")
});

static READ: LazyLock<Read> = LazyLock::new(|| pipeline::read(&TEXTS));

fn salon() -> &'static Salon {
    &READ.house.as_ref().expect("a sound salon").0
}

fn shareable() -> Vec<Shareable> {
    READ.histories.iter().map(|history| history.shareable()).collect()
}

fn main() {
    divan::main();
}

#[divan::bench]
fn read_and_validate(bencher: Bencher<'_, '_>) {
    bencher.counter(ItemsCount::new(CLIENTS)).bench(|| pipeline::read(&TEXTS));
}

#[divan::bench]
fn forecasts(bencher: Bencher<'_, '_>) {
    let all = shareable();
    let one = |it| forecast(it, salon());
    bencher.counter(ItemsCount::new(CLIENTS)).bench(|| all.iter().map(one).collect::<Vec<_>>());
}

#[divan::bench]
fn plans(bencher: Bencher<'_, '_>) {
    let all: Vec<_> = shareable().into_iter().map(|it| (forecast(&it, salon()), it)).collect();
    let one = |(colour, it): &(_, _)| plan(it, salon(), colour);
    bencher.counter(ItemsCount::new(CLIENTS)).bench(|| all.iter().map(one).collect::<Vec<_>>());
}

#[divan::bench]
fn whole_pages_in_memory(bencher: Bencher<'_, '_>) {
    let (salon, theme) = READ.house.as_ref().expect("a sound salon");
    let secret = Secret::from_bytes([7; 32]);
    let today = "2026-11-25".parse().expect("a day");
    let all = || pipeline::build(&READ, salon, theme, &secret, today).expect("built");
    bencher.counter(ItemsCount::new(CLIENTS)).bench(all);
}
