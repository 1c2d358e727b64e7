//! Which slots are taken: put in, take out, and ask.

use super::{Choice, Problem};

/// Slots of every stylist and chairs of every day, as visits are put in and taken out.
#[derive(Debug, Clone)]
pub(super) struct Room {
    stylists: usize,
    /// Free slots of each stylist-day, and how many there are.
    free: Vec<Vec<bool>>,
    left: Vec<u16>,
    chairs: Vec<Vec<u16>>,
}

impl Room {
    /// The room before anything is put in.
    pub(super) fn of(problem: &Problem) -> Self {
        let free: Vec<Vec<bool>> = problem.days.iter().flat_map(|day| day.free.iter().cloned()).collect();
        Self {
            stylists: problem.stylists,
            left: free.iter().map(|slots| slots.iter().filter(|free| **free).count() as u16).collect(),
            free,
            chairs: problem.days.iter().map(|day| day.chairs.clone()).collect(),
        }
    }

    /// The stylist-day of a choice, an index.
    pub(super) fn bin(&self, choice: &Choice) -> usize {
        choice.day as usize * self.stylists + choice.stylist as usize
    }

    /// Whether a visit can begin at a slot.
    pub(super) fn fits(&self, choice: &Choice, start: u16) -> bool {
        let (free, chairs) = (&self.free[self.bin(choice)], &self.chairs[choice.day as usize]);
        let end = usize::from(start) + usize::from(choice.shape.total);
        end <= free.len()
            && choice.shape.hands().all(|slot| free[usize::from(start + slot)])
            && chairs[usize::from(start)..end].iter().all(|chairs| *chairs > 0)
    }

    /// The slots a visit may begin at, in the order they are tried: long ones from the front of the day, short ones from its end.
    ///
    /// Long colour early in the day is common practice, no source; and what meets in the middle leaves the fewest holes.
    pub(super) fn starts(&self, choice: &Choice) -> Vec<u16> {
        if let Some(start) = choice.start {
            return vec![start];
        }
        let slots = self.free[self.bin(choice)].len() as u16;
        let last = slots.saturating_sub(choice.shape.total);
        if choice.shape.total > slots {
            Vec::new()
        } else if is_long(choice, slots) {
            (0..=last).collect()
        } else {
            (0..=last).rev().collect()
        }
    }

    /// The first slot at which a visit fits.
    pub(super) fn first_start(&self, choice: &Choice) -> Option<u16> {
        let bin = self.bin(choice);
        if self.left[bin] < choice.shape.load() {
            return None;
        }
        if let Some(start) = choice.start {
            return Some(start).filter(|start| self.fits(choice, *start));
        }
        let slots = self.free[bin].len() as u16;
        let last = slots.checked_sub(choice.shape.total)?;
        let long = is_long(choice, slots);
        if choice.shape.gap.is_some() {
            return if long {
                (0..=last).find(|start| self.fits(choice, *start))
            } else {
                (0..=last).rev().find(|start| self.fits(choice, *start))
            };
        }
        let (free, chairs) = (&self.free[bin], &self.chairs[choice.day as usize]);
        let open = |slot: &usize| free[*slot] && chairs[*slot] > 0;
        let mut run = 0;
        let mut next = |slot: usize| {
            run = if open(&slot) { run + 1 } else { 0 };
            run >= choice.shape.total
        };
        // A slot is far below 2^16.
        if long {
            (0..free.len()).find(|slot| next(*slot)).map(|end| end as u16 + 1 - choice.shape.total)
        } else {
            (0..free.len()).rev().find(|slot| next(*slot)).map(|start| start as u16)
        }
    }

    /// Takes the slots of a visit.
    pub(super) fn put(&mut self, choice: &Choice, start: u16) {
        self.mark(choice, start, false);
    }

    /// Gives the slots of a visit back.
    pub(super) fn take(&mut self, choice: &Choice, start: u16) {
        self.mark(choice, start, true);
    }

    fn mark(&mut self, choice: &Choice, start: u16, free: bool) {
        let bin = self.bin(choice);
        let load = choice.shape.load();
        self.left[bin] = if free { self.left[bin] + load } else { self.left[bin] - load };
        for slot in choice.shape.hands() {
            let slot = &mut self.free[bin][usize::from(start + slot)];
            debug_assert_ne!(*slot, free, "a slot is taken once and given back once");
            *slot = free;
        }
        for chairs in &mut self.chairs[choice.day as usize][usize::from(start)..usize::from(start + choice.shape.total)]
        {
            *chairs = if free { *chairs + 1 } else { *chairs - 1 };
        }
    }
}

/// Whether a visit is long for its day: a fifth of it or more.
const fn is_long(choice: &Choice, slots: u16) -> bool {
    choice.shape.total * 5 >= slots
}
