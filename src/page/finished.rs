//! Passages as finished advice, each way of filling one worked out once.
//!
//! In: selected passages and what fills them. Out: [`Advice`]. Knows nothing of: why a passage was chosen.
//!
//! Most passages say the same to all who get them, and the rest differ by a few dates. What was worked out is kept under the passage,
//! the language and every value it was filled with, so that nobody gets another client's dates or another salon's numbers.

use std::collections::HashMap;
use std::sync::PoisonError;
use std::sync::RwLock;

use super::advice::Advice;
use super::filling::Filling;
use crate::care::Passage;
use crate::care::Selected;

/// So many are kept, some megabytes: more than the ways the passages of a salon are filled in a year.
const MOST: usize = 4096;

/// The finished advice of one library of passages.
#[derive(Debug, Default)]
pub struct Finished(RwLock<HashMap<Key, Advice>>);

/// Everything that shapes a piece of advice, each with its length, so that no two lists run together into the same.
type Key = Vec<u8>;

impl Finished {
    /// The selected passages as finished advice, in their order. All of them are of one library, each id once.
    #[must_use]
    pub fn advice(&self, selected: &[Selected<'_>], filling: Filling<'_>) -> Vec<Advice> {
        let mut key = Key::new();
        let kept = self.0.read().unwrap_or_else(PoisonError::into_inner);
        let found = selected.iter().map(|one| {
            write_key(&mut key, one.passage, filling);
            kept.get(&key).cloned().ok_or_else(|| (key.clone(), one.passage))
        });
        let found: Vec<Result<Advice, (Key, &Passage)>> = found.collect();
        drop(kept);
        found.into_iter().map(|one| one.unwrap_or_else(|(key, passage)| self.new(key, passage, filling))).collect()
    }

    fn new(&self, key: Key, passage: &Passage, filling: Filling<'_>) -> Advice {
        let advice = filling.advice(passage);
        let mut kept = self.0.write().unwrap_or_else(PoisonError::into_inner);
        // A full memory is emptied: simpler than counting uses.
        if kept.len() >= MOST {
            kept.clear();
        }
        kept.insert(key, advice.clone());
        advice
    }
}

fn write_key(key: &mut Key, passage: &Passage, filling: Filling<'_>) {
    key.clear();
    let mut add = |value: &str| {
        key.extend(value.len().to_le_bytes());
        key.extend(value.as_bytes());
    };
    add(&passage.id);
    add(filling.words.language());
    filling.values(passage, add);
}

#[cfg(test)]
mod tests {
    use chrono::Days;

    use super::*;
    use crate::care::Facts;
    use crate::care::Library;
    use crate::care::select;
    use crate::page::sample::Sample;
    use crate::salon::Units;

    /// What a client gets from a memory that has worked for others, and what from a new one.
    fn both(finished: &Finished, library: &Library, sample: &Sample) -> [Vec<Advice>; 2] {
        let selected = select(library, &Facts::of(&sample.shareable, &sample.plan));
        let filling = Filling { words: sample.words, salon: &sample.salon, plan: &sample.plan };
        [finished.advice(&selected, filling), Finished::default().advice(&selected, filling)]
    }

    #[test]
    fn nobody_gets_what_was_filled_in_for_another_client_or_another_salon() {
        let library = Library::shipped("en").expect("English is shipped");
        let finished = Finished::default();
        let first = Sample::rose();
        let mut later = Sample::rose();
        later.plan.first_wash = later.plan.first_wash + Days::new(3);
        later.plan.expires = later.plan.expires + Days::new(30);
        let mut abroad = Sample::rose();
        (abroad.salon.name, abroad.salon.units) = ("1:a".to_owned(), Units::Imperial);
        abroad.salon.emergency.number = "112".to_owned();
        abroad.salon.practice.iron_max_c -= 20.0;
        let told: Vec<Vec<Advice>> = [&first, &later, &abroad, &first]
            .map(|sample| {
                let [kept, new] = both(&finished, &library, sample);
                assert_eq!(kept, new);
                kept
            })
            .into();
        assert!(told[0] != told[1] && told[0] != told[2] && told[0] == told[3]);
        let shared = |one: &[Advice], other: &[Advice]| {
            one.iter().filter(|one| other.iter().any(|other| one.entry.place() == other.entry.place())).count()
        };
        assert_eq!(shared(&told[0], &told[3]), told[0].len(), "worked out once");
        assert!(shared(&told[0], &told[1]) > 10 && shared(&told[0], &told[1]) < told[0].len());
    }

    #[test]
    fn a_full_memory_begins_anew() {
        let library = Library::shipped("en").expect("English is shipped");
        let (finished, mut sample) = (Finished::default(), Sample::rose());
        for day in 0..600 {
            sample.plan.first_wash = sample.plan.service + Days::new(day);
            sample.salon.emergency.number = day.to_string();
            sample.plan.expires = sample.plan.first_wash;
            let selected = select(&library, &Facts::of(&sample.shareable, &sample.plan));
            let passages =
                selected.iter().filter(|one| one.passage.texts().any(|text| text.placeholders().count() > 0));
            let selected: Vec<Selected<'_>> = passages.cloned().collect();
            let filling = Filling { words: sample.words, salon: &sample.salon, plan: &sample.plan };
            assert!(!finished.advice(&selected, filling).is_empty());
        }
        assert!(finished.0.read().expect("sound").len() <= MOST);
        let [kept, new] = both(&finished, &library, &sample);
        assert_eq!(kept, new);
    }
}
