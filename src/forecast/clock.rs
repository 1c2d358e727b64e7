//! How the dose runs with the days, and back.

use super::HORIZON;
use crate::science::fade::dose::{Wear, weekly};
use crate::units::{Days, Washes};

/// The dose as a line over the days, from shortly before the first wash.
///
/// ```text
/// D(t) = w/7 · (t − t₀) for t > t₀, else 0      t₀ = first wash − half an interval between washes
/// ```
///
/// Washes come in steps; the line meets their count in the middle of each interval, so that no step is favoured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clock {
    first_wash: Days,
    begins: f64,
    per_day: f64,
}

impl Clock {
    /// A clock for a first wash and habits.
    #[must_use]
    pub fn new(first_wash: Days, habits: &Wear) -> Self {
        let per_day = weekly(habits).to_washes() / 7.0;
        let interval = 7.0 / habits.washes.to_per_week().max(0.25);
        Self { first_wash, begins: (first_wash.to_days() - interval / 2.0).max(0.0), per_day }
    }

    /// The day of the first wash.
    #[must_use]
    pub fn first_wash(&self) -> Days {
        self.first_wash
    }

    /// The dose reached on a day, at the median rate.
    #[must_use]
    pub fn dose_on(&self, day: Days) -> Washes {
        Washes::from_washes(((day.to_days() - self.begins) * self.per_day).max(0.0))
    }

    /// The day on which a dose is reached; nothing beyond the [`HORIZON`].
    #[must_use]
    pub fn day_of(&self, dose: Washes) -> Option<Days> {
        if self.per_day <= 0.0 {
            return None;
        }
        let day = self.begins + dose.to_washes() / self.per_day;
        (day <= HORIZON.to_days()).then(|| Days::from_days(day))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dose_meets_the_count_of_washes_in_the_middle_of_an_interval() {
        let clock = Clock::new(Days::from_days(3.0), &Wear::default());
        let per_wash = weekly(&Wear::default()).to_washes() / 2.0;
        // Two washes a week from day 3: washes on days 3, 6.5, 10 and 13.5; between the last two, three were had.
        let dose = clock.dose_on(Days::from_days(11.75)).to_washes() / per_wash;
        assert!((dose - 3.0).abs() < 1e-9, "{dose}");
    }

    #[test]
    fn a_day_and_its_dose_are_inverse_and_nothing_lies_beyond_the_horizon() {
        let clock = Clock::new(Days::from_days(3.0), &Wear::default());
        let day = clock.day_of(clock.dose_on(Days::from_days(40.0))).map(Days::to_days);
        assert!(day.is_some_and(|day| (day - 40.0).abs() < 1e-9));
        assert_eq!(clock.day_of(Washes::from_washes(1.0e5)), None);
    }
}
