//! Gates: what forbids or delays the next service. Private; they may name health facts.

use chrono::{Months, NaiveDate};

use super::Plan;
use super::window::day_after;
use crate::record::{AgeCheck, AlertTest, Answers, Elasticity, Health, History, HistoryKind, ServiceRecord};
use crate::salon::{Practice, Salon};

/// Peroxide in hair products, most present or released: Regulation (EU) 2019/831 ([`EU_2019_831`](crate::science::bibliography::EU_2019_831)), entry 12 amending Annex III of (EC) 1223/2009. %.
pub(super) const PEROXIDE_LIMIT: f64 = 12.0;

/// Something to settle before the next service. A gate may forbid, never clear.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gate {
    /// Age 16 is not confirmed: no plan, no booking.
    AgeNotConfirmed,
    /// A past reaction blocks this dye type whatever a test says.
    PastReaction {
        /// To what.
        to: String,
    },
    /// An incident is on record.
    Incident,
    /// Peroxide above the limit was used.
    PeroxideOverLimit,
    /// A black henna tattoo on record: a doctor's word first.
    BlackHenna,
    /// A medicine, pregnancy, scalp or breathing answer: ask again that day, and a doctor where it says so.
    AskAgain {
        /// Which answer, in words.
        about: &'static str,
    },
    /// A test was made and not read: unread is not clear.
    AlertTestUnread {
        /// The day it was made.
        applied: NaiveDate,
    },
    /// An alert test is due before the next colour.
    AlertTestDue {
        /// The latest day to make it; `None` when no visit is planned.
        by: Option<NaiveDate>,
    },
    /// Elasticity failed: no lightening.
    WeakHair,
    /// The same hair was lightened too recently; not before this day.
    RelightenGap {
        /// The first day.
        from: NaiveDate,
    },
    /// Henna, metallic or home colour in the history: an incompatibility test first.
    IncompatibilityTest,
    /// An answer that nobody recorded.
    NotRecorded {
        /// Which, in words.
        what: &'static str,
    },
}

impl Gate {
    /// Whether it forbids lightening or colouring outright until it is settled.
    #[must_use]
    pub fn forbids(&self) -> bool {
        matches!(
            self,
            Self::AgeNotConfirmed
                | Self::PastReaction { .. }
                | Self::BlackHenna
                | Self::WeakHair
                | Self::AlertTestUnread { .. }
        )
    }
}

/// Gates as they stand on a day: a deadline that has passed is due before any colour, and a rest that is over is none.
#[must_use]
pub fn on_day(gates: Vec<Gate>, today: NaiveDate) -> Vec<Gate> {
    let stands = |gate| match gate {
        Gate::AlertTestDue { by: Some(by) } if by < today => Some(Gate::AlertTestDue { by: None }),
        Gate::RelightenGap { from } if from <= today => None,
        other => Some(other),
    };
    gates.into_iter().filter_map(stands).collect()
}

/// Every gate before the next service of this client, the gravest first.
#[must_use]
pub fn gates(history: &History, salon: &Salon, plan: &Plan) -> Vec<Gate> {
    let mut gates = Vec::new();
    let latest = history.latest();
    if !matches!(history.client.age, AgeCheck::Confirmed(_)) {
        gates.push(Gate::AgeNotConfirmed);
    }
    let health: Vec<&Health> =
        std::iter::once(&history.client.health).chain(history.visits.iter().map(|visit| &visit.health)).collect();
    gates.extend(
        health.iter().flat_map(|health| &health.reactions).map(|seen| Gate::PastReaction { to: seen.to.clone() }),
    );
    if health.iter().any(|health| !health.incidents.is_empty()) {
        gates.push(Gate::Incident);
    }
    if history.visits.iter().any(used_over_limit) {
        gates.push(Gate::PeroxideOverLimit);
    }
    answers(&health, &mut gates);
    alert_test(&health, &salon.practice, plan, &mut gates);
    hair(history, latest, &salon.practice, &mut gates);
    gates.sort();
    gates.dedup();
    gates
}

fn used_over_limit(visit: &ServiceRecord) -> bool {
    visit.placements.iter().any(|placement| {
        let steps = placement.lightening.iter().filter_map(|step| step.developer);
        let passes = placement.toning.iter().filter_map(|pass| pass.developer);
        steps.chain(passes).any(|strength| strength.to_percent() > PEROXIDE_LIMIT)
    })
}

/// One answer over client file and visits: a yes anywhere stays a yes; else the latest no; else nobody asked.
fn answer(health: &[&Health], of: impl Fn(&Answers) -> Option<bool>) -> Option<bool> {
    let given: Vec<bool> = health.iter().filter_map(|health| of(&health.answers)).collect();
    (!given.is_empty()).then(|| given.contains(&true))
}

fn answers(health: &[&Health], gates: &mut Vec<Gate>) {
    match answer(health, |answers| answers.black_henna) {
        Some(true) => gates.push(Gate::BlackHenna),
        Some(false) => {}
        None => gates.push(Gate::NotRecorded { what: "black henna tattoo" }),
    }
    type Asked = fn(&Answers) -> Option<bool>;
    let asked: [(&'static str, Asked); 4] = [
        ("medicine or treatment", |answers| answers.medicine),
        ("pregnancy or breastfeeding", |answers| answers.pregnancy),
        ("sore, broken or diseased scalp", |answers| answers.scalp_condition),
        ("asthma or breathing trouble", |answers| answers.breathing),
    ];
    for (about, of) in asked {
        match answer(health, of) {
            Some(true) => gates.push(Gate::AskAgain { about }),
            Some(false) => {}
            None => gates.push(Gate::NotRecorded { what: about }),
        }
    }
}

/// The alert test: by default before every colour, else while a clear reading is young enough and nothing voids it.
fn alert_test(health: &[&Health], practice: &Practice, plan: &Plan, gates: &mut Vec<Gate>) {
    let tests: Vec<&AlertTest> = health.iter().flat_map(|health| &health.alert_tests).collect();
    let last = tests.iter().max_by_key(|test| test.applied);
    if let Some(test) = last.filter(|test| test.read.is_none()) {
        gates.push(Gate::AlertTestUnread { applied: test.applied });
    }
    let next = plan.visits.first().map(|visit| visit.window.best);
    let lead = (practice.alert_test_lead_hours / 24.0).ceil().max(2.0) as u64;
    let voided = |test: &&&AlertTest| {
        let since = |date: Option<NaiveDate>| date.is_none_or(|date| date >= test.applied);
        health.iter().flat_map(|health| &health.reactions).any(|reaction| since(reaction.date))
            || answer(health, |answers| answers.black_henna) == Some(true)
            || answer(health, |answers| answers.medicine) == Some(true)
    };
    let still_counts = practice.alert_test_valid_months > 0
        && last
            .filter(|test| test.read.is_some() && test.clear == Some(true))
            .filter(|test| !voided(test))
            .is_some_and(|test| {
                let until = test.applied.checked_add_months(Months::new(practice.alert_test_valid_months));
                next.is_some_and(|next| until.is_some_and(|until| next <= until))
            });
    if !still_counts {
        gates.push(Gate::AlertTestDue { by: next.and_then(|next| next.checked_sub_days(chrono::Days::new(lead))) });
    }
}

fn hair(history: &History, latest: &ServiceRecord, practice: &Practice, gates: &mut Vec<Gate>) {
    let zones = latest.placements.iter().flat_map(|placement| &placement.zones);
    if zones.clone().any(|zone| matches!(zone.elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn))) {
        gates.push(Gate::WeakHair);
    }
    let lightened = history
        .visits
        .iter()
        .rev()
        .find(|visit| visit.placements.iter().any(|placement| !placement.lightening.is_empty()));
    if let Some(from) = lightened.and_then(|visit| day_after(visit.date, practice.relighten_min_weeks * 7.0)) {
        gates.push(Gate::RelightenGap { from });
    }
    let needs_test = |kind| matches!(kind, HistoryKind::HennaOrMetallic | HistoryKind::HomeColour);
    if history.client.history.iter().any(|entry| needs_test(entry.kind)) {
        gates.push(Gate::IncompatibilityTest);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deadline_that_has_passed_is_due_before_any_colour_and_a_rest_that_is_over_is_none() {
        let day = |day| NaiveDate::from_ymd_opt(2026, 11, day).expect("a day");
        let (due, rest) = (Gate::AlertTestDue { by: Some(day(20)) }, Gate::RelightenGap { from: day(20) });
        let on = |today| on_day(vec![due.clone(), rest.clone(), Gate::WeakHair], day(today));
        assert_eq!(on(19), [due.clone(), rest.clone(), Gate::WeakHair]);
        assert_eq!(on(20), [due.clone(), Gate::WeakHair]);
        assert_eq!(on(21), [Gate::AlertTestDue { by: None }, Gate::WeakHair]);
    }
}
