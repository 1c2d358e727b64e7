//! Parts on their way out: made by some threads and taken by others, so that nothing waits for a disk that could be made meanwhile.
//!
//! In: an outlet, a run that puts parts out. Out: what the run gives, once every part went out. Knows nothing of: what a part is.

use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

use chrono::NaiveDate;

use super::manifest::Key;
use super::outlet::{Made, Outlet, Still, Stood};

/// Parts that are made and not yet taken, at most: a few megabytes.
const WAITING: usize = 64;

/// An outlet that parts reach through a queue.
#[derive(Debug)]
pub struct Queue<'a, O: Outlet> {
    out: &'a O,
    parts: SyncSender<(String, Made)>,
    state: &'a Mutex<State<O::Failure>>,
}

/// How it went so far.
#[derive(Debug)]
enum State<F> {
    Well,
    /// A part did not go out, and the run does not know yet.
    Failed(F),
    /// The run was told.
    Ended,
}

impl<O: Outlet> Outlet for Queue<'_, O> {
    type Failure = O::Failure;

    fn stands(&self, part: &str, key: &Key, today: NaiveDate) -> Option<Still> {
        self.out.stands(part, key, today)
    }

    fn stood(&self, key: &Key, today: NaiveDate) -> Option<Stood> {
        self.out.stood(key, today)
    }

    /// Lines a part up. That a part did not go out is told at a later one, or at the end.
    fn put(&self, part: &str, made: Made) -> Result<(), Self::Failure> {
        told(&mut locked(self.state))?;
        // Those who take parts take them until this queue is gone, unless they panic, which ends the run.
        let _ = self.parts.send((part.to_owned(), made));
        Ok(())
    }
}

/// A run whose parts go through a queue to an outlet, taken by so many threads of their own; it ends when the last part went out.
///
/// # Errors
/// The first failure of the outlet that the run was not told of; after a failure no further part goes out.
pub fn queued<O: Outlet, T>(out: &O, takers: usize, run: impl FnOnce(&Queue<'_, O>) -> T) -> Result<T, O::Failure> {
    let (parts, waiting) = sync_channel(WAITING);
    let (waiting, state) = (Arc::new(Mutex::new(waiting)), Mutex::new(State::Well));
    let given = thread::scope(|scope| {
        for _ in 0..takers.max(1) {
            let (waiting, state) = (Arc::clone(&waiting), &state);
            scope.spawn(move || take(out, &waiting, state));
        }
        // Only those who take hold the other end, so that no run waits for takers that are no more.
        drop(waiting);
        run(&Queue { out, parts, state: &state })
    });
    told(&mut locked(&state))?;
    Ok(given)
}

/// Takes parts until there can be no more.
fn take<O: Outlet>(out: &O, waiting: &Mutex<Receiver<(String, Made)>>, state: &Mutex<State<O::Failure>>) {
    let next = || locked(waiting).recv();
    while let Ok((part, made)) = next() {
        if !matches!(*locked(state), State::Well) {
            continue;
        }
        if let Err(failure) = out.put(&part, made) {
            let mut state = locked(state);
            if matches!(*state, State::Well) {
                *state = State::Failed(failure);
            }
        }
    }
}

/// Tells a failure, once.
fn told<F>(state: &mut State<F>) -> Result<(), F> {
    if matches!(state, State::Well) {
        return Ok(());
    }
    match std::mem::replace(state, State::Ended) {
        State::Failed(failure) => Err(failure),
        State::Well | State::Ended => Ok(()),
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Takes so many parts and fails from then on.
    struct Until(usize, Mutex<BTreeSet<String>>);

    impl Outlet for Until {
        type Failure = String;

        fn stands(&self, part: &str, _: &Key, _: NaiveDate) -> Option<Still> {
            (part == "stands").then_some(Still::Shown)
        }

        fn put(&self, part: &str, _: Made) -> Result<(), String> {
            let mut taken = locked(&self.1);
            if taken.len() == self.0 {
                return Err(part.to_owned());
            }
            taken.insert(part.to_owned());
            Ok(())
        }
    }

    fn part() -> Made {
        Made { key: Key::default(), until: None, about: None, files: Vec::new() }
    }

    fn names(numbers: usize) -> BTreeSet<String> {
        (0..numbers).map(|number| number.to_string()).collect()
    }

    #[test]
    fn when_a_run_has_ended_every_part_went_out() {
        let out = Until(usize::MAX, Mutex::default());
        let ran = queued(&out, 3, |queue| {
            assert_eq!(queue.stands("stands", &Key::default(), NaiveDate::MIN), Some(Still::Shown));
            names(1000).iter().try_for_each(|name| queue.put(name, part()))
        });
        assert_eq!(ran, Ok(Ok(())));
        assert_eq!(out.1.into_inner().expect("sound"), names(1000));
    }

    #[test]
    fn a_failure_is_told_once_at_a_later_part_or_at_the_end_and_no_part_goes_out_after_it() {
        for parts in [11, 1000] {
            let out = Until(10, Mutex::default());
            let ran = queued(&out, 1, |queue| {
                names(parts).iter().filter_map(|name| queue.put(name, part()).err()).collect::<Vec<_>>()
            });
            let all = ran.clone().unwrap_or_default().into_iter().chain(ran.clone().err()).count();
            assert_eq!(all, 1, "{ran:?}");
            assert_eq!(out.1.into_inner().expect("sound").len(), 10);
            assert!(parts == 11 || ran.is_ok(), "with so many the run hears of it before it ends");
        }
    }
}
