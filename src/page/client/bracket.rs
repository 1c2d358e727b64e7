//! The window to come back, drawn over the rows of the ribbon: earlier edge, later edge, one best day.
//!
//! In: a window. Out: SVG for one row. Knows nothing of: colours, words.

use std::fmt::Write;

use chrono::NaiveDate;

use crate::plan::Window;

/// Keeps a stroke as thick as the style sheet says however the row is stretched; as a property, checkers do not know it.
const STROKE: &str = "vector-effect=\"non-scaling-stroke\"";

/// The window as days since the service.
#[derive(Clone, Copy)]
pub(super) struct Bracket {
    earliest: u32,
    /// The best day.
    pub(super) best: u32,
    latest: u32,
}

impl Bracket {
    /// Counts a window from the day of the service.
    pub(super) fn of(window: Window, service: NaiveDate) -> Self {
        let day = |date: NaiveDate| u32::try_from((date - service).num_days()).unwrap_or(0);
        Self { earliest: day(window.earliest), best: day(window.best), latest: day(window.latest) }
    }

    /// The part of the bracket in one row, running down as the hair does; empty when none is.
    pub(super) fn svg(self, day: f64, stride: f64) -> String {
        let place = |at: u32| ((f64::from(at) - day) / stride * 100.0).clamp(0.0, 100.0);
        let inside = |at: u32| (day..day + stride).contains(&f64::from(at));
        let (from, to) = (place(self.earliest), place(self.latest));
        if from >= to {
            return String::new();
        }
        let mut edges = format!("M50 {from:.0}V{to:.0}");
        for (_, at) in [(self.earliest, from), (self.latest, to)].into_iter().filter(|(day, _)| inside(*day)) {
            write!(edges, "M0 {at:.0}H50").expect("a string takes any text");
        }
        let best = if inside(self.best) {
            format!("<path class=\"best\" {STROKE} d=\"M0 {:.0}H100\"/>", place(self.best))
        } else {
            String::new()
        };
        format!(
            "<svg class=\"mark\" aria-hidden=\"true\" viewBox=\"0 0 100 100\" preserveAspectRatio=\"none\">\
             <g><path {STROKE} d=\"{edges}\"/>{best}</g></svg>"
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bracket_is_drawn_once_over_the_rows_it_covers() {
        let bracket = Bracket { earliest: 17, best: 24, latest: 31 };
        let rows: Vec<String> = (0..7).map(|row| bracket.svg(f64::from(row) * 7.0, 7.0)).collect();
        assert_eq!(rows.iter().filter(|row| !row.is_empty()).count(), 3, "days 14 to 35");
        assert!(rows[2].contains("M50 43V100M0 43H50"), "{}", rows[2]);
        assert!(rows[3].contains("class=\"best\" vector-effect=\"non-scaling-stroke\" d=\"M0 43H100\""), "{}", rows[3]);
        assert!(rows[4].contains("M50 0V43M0 43H50"), "{}", rows[4]);
    }
}
