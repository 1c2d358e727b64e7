//! How far a long run has come: one line that a person watches, with the rate and the time left.

#![expect(clippy::print_stderr, reason = "a line that is written over again and again")]

use std::io::IsTerminal;
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// How often the line changes.
const EVERY: Duration = Duration::from_millis(200);

/// The progress of a run; silent when nobody watches.
pub(crate) struct Progress {
    /// What is counted: "pages", "files up".
    what: &'static str,
    all: usize,
    done: AtomicUsize,
    began: Instant,
    /// When the line was last written, in milliseconds since the run began.
    told: AtomicU64,
    watched: bool,
}

impl Progress {
    /// Of so many things that are to be done.
    pub(crate) fn of(what: &'static str, all: usize, quiet: bool) -> Self {
        let watched = !quiet && std::io::stderr().is_terminal();
        Self { what, all, done: AtomicUsize::new(0), began: Instant::now(), told: AtomicU64::new(0), watched }
    }

    /// One more is done. From any thread.
    pub(crate) fn step(&self) {
        self.show(self.done.fetch_add(1, Ordering::Relaxed) + 1);
    }

    /// So many are done by now.
    #[cfg(feature = "publish")]
    pub(crate) fn reach(&self, done: usize) {
        self.done.store(done, Ordering::Relaxed);
        self.show(done);
    }

    fn show(&self, done: usize) {
        if !self.watched {
            return;
        }
        let elapsed = self.began.elapsed();
        let (now, told) = (elapsed.as_millis() as u64, self.told.load(Ordering::Relaxed));
        let due = now >= told + EVERY.as_millis() as u64;
        if due && self.told.compare_exchange(told, now, Ordering::Relaxed, Ordering::Relaxed).is_ok() {
            eprint!("\r{:<70}", line(self.what, done, self.all, elapsed));
        }
    }

    /// Whether it counts these things: another part of a run has a progress of its own.
    #[cfg(feature = "publish")]
    pub(crate) fn counts(&self, what: &str, all: usize) -> bool {
        self.what == what && self.all == all
    }

    /// Wipes the line.
    pub(crate) fn end(&self) {
        if self.watched && self.told.load(Ordering::Relaxed) > 0 {
            eprint!("\r{:70}\r", "");
        }
    }
}

/// "1200 of 5000 pages, 400 a second, 10 s left".
fn line(what: &str, done: usize, all: usize, elapsed: Duration) -> String {
    let rate = done as f64 / elapsed.as_secs_f64().max(1e-3);
    let left = all.saturating_sub(done) as f64 / rate.max(1e-3);
    format!("{done} of {all} {what}, {rate:.0} a second, {left:.0} s left")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_says_the_rate_and_the_time_left() {
        assert_eq!(line("pages", 1200, 5200, Duration::from_secs(3)), "1200 of 5200 pages, 400 a second, 10 s left");
    }
}
