//! The next visits, merged to the fewest that honour every window.

use chrono::NaiveDate;

use super::window::{Window, day_after, on_open_day, within};

/// How far visits are planned, days: 26 weeks.
pub(super) const AHEAD: f64 = 182.0;

/// One visit to come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// When.
    pub window: Window,
    /// What for, in order.
    pub parts: Vec<VisitPart>,
}

/// A reason to come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum VisitPart {
    /// Refresh of the colour.
    Refresh,
    /// Roots.
    Roots,
    /// Trim.
    Trim,
}

/// A need that comes back after each visit that serves it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Need {
    /// What for.
    pub part: VisitPart,
    /// When first.
    pub first: Window,
    /// The window of the next time, as days after the visit that served it: earliest, best, latest.
    pub again: (u32, u32, u32),
}

/// The fewest visits that honour the windows of every need over 26 weeks from a day.
///
/// The need whose last day comes first sets the next visit; every need whose window holds that day is served by the same visit, the others wait.
/// For fixed windows this is the classic stabbing of intervals by their right ends, which is optimal; a test compares it with brute force.
/// The best day of each visit is one on which the salon is open.
#[must_use]
pub fn visits(needs: &[Need], from: NaiveDate, open_on: &impl Fn(NaiveDate) -> bool) -> Vec<Visit> {
    let Some(end) = day_after(from, AHEAD) else { return Vec::new() };
    let mut open: Vec<(Need, Window)> = needs.iter().map(|need| (*need, need.first)).collect();
    let mut planned = Vec::new();
    // Each round serves at least one need and moves it on by at least a day, so that the rounds are bounded by the days.
    while let Some(stab) = open.iter().map(|(_, window)| window.latest).min().filter(|day| *day <= end) {
        let served = |window: &Window| window.earliest <= stab;
        let shared = open.iter().map(|(_, window)| window).filter(|window| served(window));
        let earliest = shared.clone().map(|window| window.earliest).max().unwrap_or(stab);
        // The earliest best day among those served: waiting costs colour, coming early costs little.
        let best = shared.map(|window| window.best).min().unwrap_or(stab).clamp(earliest, stab);
        let window = on_open_day(Window { earliest, best, latest: stab }, open_on);
        let mut parts: Vec<VisitPart> =
            open.iter().filter(|(_, window)| served(window)).map(|(need, _)| need.part).collect();
        parts.sort_unstable();
        parts.dedup();
        for (need, due) in &mut open {
            if served(due) {
                match next(need, window.best) {
                    Some(following) => *due = following,
                    None => return planned,
                }
            }
        }
        planned.push(Visit { window, parts });
    }
    planned
}

/// The window of the first visit for something.
pub(super) fn window_of(visits: &[Visit], part: VisitPart) -> Option<Window> {
    visits.iter().find(|visit| visit.parts.contains(&part)).map(|visit| visit.window)
}

fn next(need: &Need, served: NaiveDate) -> Option<Window> {
    let (earliest, best, latest) = need.again;
    let window = Window {
        earliest: day_after(served, f64::from(earliest))?,
        best: day_after(served, f64::from(best))?,
        latest: day_after(served, f64::from(latest))?,
    };
    within(window, served)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(offset: u32) -> NaiveDate {
        day_after(NaiveDate::from_ymd_opt(2026, 11, 1).expect("a day"), f64::from(offset)).expect("a day")
    }

    fn need(part: VisitPart, window: (u32, u32, u32)) -> Need {
        // Comes back only beyond the 26 weeks, so that the windows are fixed.
        let first = Window { earliest: day(window.0), best: day(window.1), latest: day(window.2) };
        Need { part, first, again: (400, 400, 400) }
    }

    /// The least number of days that meet every window, by trying every set of days.
    fn brute_force(windows: &[(u32, u32)]) -> usize {
        let days: Vec<u32> = windows.iter().map(|window| window.1).collect();
        (0..1_u32 << days.len())
            .filter(|set| {
                let chosen = |i: &usize| set >> i & 1 == 1;
                windows
                    .iter()
                    .all(|window| (0..days.len()).filter(chosen).any(|i| window.0 <= days[i] && days[i] <= window.1))
            })
            .map(u32::count_ones)
            .min()
            .unwrap_or(0) as usize
    }

    #[test]
    fn as_few_visits_as_brute_force_finds_on_every_small_case() {
        let parts = [VisitPart::Refresh, VisitPart::Roots, VisitPart::Trim];
        let starts = [3_u32, 10, 21, 40];
        let lengths = [0_u32, 8, 20];
        let mut cases = 0;
        for a in 0..12 {
            for b in 0..12 {
                for c in 0..12 {
                    let windows: Vec<(u32, u32)> =
                        [a, b, c].iter().map(|i| (starts[i / 3], starts[i / 3] + lengths[i % 3])).collect();
                    let needs: Vec<Need> =
                        windows.iter().zip(parts).map(|(w, part)| need(part, (w.0, w.1, w.1))).collect();
                    assert_eq!(visits(&needs, day(0), &|_| true).len(), brute_force(&windows), "{windows:?}");
                    cases += 1;
                }
            }
        }
        assert_eq!(cases, 1728);
    }

    #[test]
    fn every_visit_lies_in_the_windows_it_serves() {
        let needs = [
            Need { again: (14, 21, 28), ..need(VisitPart::Refresh, (14, 21, 28)) },
            Need { again: (28, 42, 56), ..need(VisitPart::Roots, (28, 42, 56)) },
        ];
        let planned = visits(&needs, day(0), &|_| true);
        assert!(planned.len() >= 6 && planned.len() <= 9, "{planned:?}");
        for pair in planned.windows(2) {
            assert!(pair[0].window.best < pair[1].window.best);
        }
        let roots = planned.iter().filter(|visit| visit.parts.contains(&VisitPart::Roots)).count();
        assert!(roots >= 3, "roots come at least every 8 weeks of 26: {planned:?}");
    }
}
