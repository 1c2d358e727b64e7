//! The due list: every client's next visits, what for, when, how long, with whom and why.
//!
//! In: histories, the salon, today, the diary. Out: [`Due`] for each client, the most overdue first. Private: it names what forbids a service.
//! Knows nothing of: free chairs, words on a page.
//!
//! A client is judged by the visit whose work is on the head now, so one with a later visit is never listed from an older one.

use chrono::{Days, NaiveDate};

use super::diary::{Diary, Purpose};
use super::loss::{Ripeness, refresh_milestone};
use super::span::{Kind, Person, Spans, kind, lightens, spans};
use crate::forecast::forecast;
use crate::plan::{Gate, Plan, RootsReason, Standing, VisitPart, Window, gates, plan};
use crate::record::{ClientCode, History, Shareable};
use crate::salon::{Salon, Stylist};

/// What is due for one client.
#[derive(Debug, Clone)]
pub struct Due {
    /// The client.
    pub client: ClientCode,
    /// The first name, when the salon keeps it.
    pub first_name: Option<String>,
    /// The stylist of the last service, while still here.
    pub stylist: Option<String>,
    /// The stylist of the last service who is leaving or has left before the visit.
    pub left: Option<String>,
    /// The next visit for each need, the sooner first; the first is the one to book.
    pub visits: Vec<DueVisit>,
    /// The alert test before the next colour.
    pub test: Option<DueTest>,
    /// Why nothing can be booked.
    pub held: Option<Held>,
    /// Everything to settle before the next service.
    pub gates: Vec<Gate>,
    /// Whether an alert test was made after the last colour, as [`tested`] says.
    pub tested: bool,
    /// The plan it comes from.
    pub plan: Plan,
    /// The records it comes from, without health facts.
    pub shareable: Shareable,
    /// What sets this client's lengths apart.
    pub person: Person,
}

/// One visit that is due.
#[derive(Debug, Clone, PartialEq)]
pub struct DueVisit {
    /// What for.
    pub parts: Vec<VisitPart>,
    /// As which service.
    pub kind: Kind,
    /// When.
    pub window: Window,
    /// How long on the best day.
    pub spans: Spans,
    /// Why then.
    pub reason: Reason,
    /// The last day of the window is behind.
    pub overdue: bool,
    /// Parts taken out because this hair must not be lightened.
    pub not_lightened: bool,
    /// When the expected loss is least.
    pub ripeness: Ripeness,
}

/// The alert test before the next colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueTest {
    /// The last day on which it can be made.
    pub by: NaiveDate,
}

/// Why a visit is due when it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// The colour turns.
    Turns,
    /// The colour is nearly back to its base.
    NearlyBack,
    /// The salon's practised interval, where the forecast gives none or lies outside it.
    Practised,
    /// New growth.
    Roots(RootsReason),
    /// New growth that will need two stages.
    TwoStage,
    /// The ends.
    Trim,
}

/// Why a client cannot be booked.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Held {
    /// No plan: age 16 is not confirmed.
    AgeNotConfirmed,
    /// No plan: nothing on the head asks for a visit.
    NothingPlanned,
    /// A past reaction: a person has to decide first.
    PastReaction,
    /// A black henna tattoo on record: a doctor's word first.
    BlackHenna,
    /// Only lightening is due, and this hair must not be lightened.
    NotLightened,
}

impl Due {
    /// The visit to book next; nothing when this client is held.
    #[must_use]
    pub fn next(&self) -> Option<&DueVisit> {
        self.visits.iter().find(|visit| !visit.parts.is_empty()).filter(|_| self.held.is_none())
    }
}

/// Everybody's due list, overdue first, then by the last day of the window; those without a date last.
#[must_use]
pub fn in_order(mut list: Vec<Due>) -> Vec<Due> {
    let key = |due: &Due| {
        let first = due.visits.first();
        (due.held.is_some(), first.map(|visit| (!visit.overdue, visit.window.latest)), due.client.clone())
    };
    list.sort_by(|one, other| {
        let ((held_one, first_one, one), (held_other, first_other, other)) = (key(one), key(other));
        // A client without any visit stands behind those with one.
        (held_one, first_one.is_none(), first_one, one).cmp(&(held_other, first_other.is_none(), first_other, other))
    });
    list
}

/// One client's due list.
#[must_use]
pub fn of_client(history: &History, salon: &Salon, diary: &Diary, today: NaiveDate) -> Due {
    let shareable = history.shareable();
    let plan = plan(&shareable, salon, &forecast(&shareable, salon));
    let gates = gates(history, salon, &plan);
    let person = Person::of(&shareable, salon, &plan);
    let weak = gates.contains(&Gate::WeakHair);
    let visits = visits(&plan, &shareable, &person, salon, &gates, today);
    let held = held(&plan, &gates, &visits, weak);
    let own = history.latest().stylist.clone();
    let when = visits.first().map_or(today, |visit| visit.window.best.max(today));
    let known = |code: &String| salon.stylists.iter().find(|stylist| stylist.code == *code);
    let gone = |stylist: &&Stylist| stylist.leaves.is_some_and(|last| last < when);
    let left = own.as_ref().and_then(known).filter(gone).map(|stylist| stylist.code.clone());
    let stylist = own.filter(|code| left.is_none() && known(code).is_some());
    let test = test(history, salon, diary, &gates, &visits, today).filter(|_| held.is_none());
    let tested = tested(history, &gates);
    Due {
        client: history.client.code.clone(),
        first_name: history.client.first_name.clone(),
        stylist,
        left,
        visits,
        test,
        held,
        gates,
        tested,
        plan,
        shareable,
        person,
    }
}

/// The next visit for a refresh, for roots and for a trim; one that serves several stands once.
fn visits(
    plan: &Plan,
    history: &Shareable,
    person: &Person,
    salon: &Salon,
    gates: &[Gate],
    today: NaiveDate,
) -> Vec<DueVisit> {
    let weak = gates.contains(&Gate::WeakHair);
    let mut found: Vec<DueVisit> = Vec::new();
    let mut met: Vec<VisitPart> = Vec::new();
    for visit in &plan.visits {
        let new = visit.parts.iter().any(|part| !met.contains(part));
        met.extend(&visit.parts);
        if !new {
            continue;
        }
        let mut parts = visit.parts.clone();
        let not_lightened = weak && lightens(&parts, plan);
        if not_lightened {
            parts.retain(|part| *part != VisitPart::Roots);
        }
        let mut window = visit.window;
        if lightens(&parts, plan) {
            window = after_the_gap(window, gates);
        }
        let kind = kind(&parts, plan);
        found.push(DueVisit {
            kind,
            spans: spans(kind, &parts, person, plan, salon, window.best.max(today)),
            reason: reason(&parts, plan, history),
            overdue: window.latest < today,
            ripeness: Ripeness::of_visit(&parts, window, plan, history.latest()),
            window,
            parts,
            not_lightened,
        });
    }
    found
}

/// The same hair is not lightened again too soon, whatever the window says.
fn after_the_gap(window: Window, gates: &[Gate]) -> Window {
    let from = gates.iter().find_map(|gate| match gate {
        Gate::RelightenGap { from } => Some(*from),
        _ => None,
    });
    let hold = |day: NaiveDate| from.map_or(day, |from| day.max(from));
    Window { earliest: hold(window.earliest), best: hold(window.best), latest: hold(window.latest) }
}

fn reason(parts: &[VisitPart], plan: &Plan, history: &Shareable) -> Reason {
    let roots = plan.roots.filter(|_| parts.contains(&VisitPart::Roots));
    if roots.is_some_and(|roots| roots.two_stage) {
        return Reason::TwoStage;
    }
    if parts.contains(&VisitPart::Refresh) {
        let by = refresh_milestone(plan, history.latest());
        let usual = |range: Option<crate::plan::DateRange>| range.and_then(|range| range.usual);
        let window = plan.refresh.map(|window| window.best);
        let sooner_roots = roots.is_some_and(|roots| window.is_some_and(|best| roots.window.best < best));
        if let Some(roots) = roots.filter(|_| sooner_roots) {
            return Reason::Roots(roots.reason);
        }
        return match by {
            Some(by) if Some(by) == plan.forecast.turns && usual(plan.turns) == window => Reason::Turns,
            Some(by) if Some(by) == plan.forecast.nearly_back && usual(plan.nearly_back) == window => {
                Reason::NearlyBack
            }
            // A window that the practice bounds, or one that opened anew.
            Some(_) | None => Reason::Practised,
        };
    }
    roots.map_or(Reason::Trim, |roots| Reason::Roots(roots.reason))
}

fn held(plan: &Plan, gates: &[Gate], visits: &[DueVisit], weak: bool) -> Option<Held> {
    if plan.standing == Standing::AgeNotConfirmed {
        return Some(Held::AgeNotConfirmed);
    }
    if gates.iter().any(|gate| matches!(gate, Gate::PastReaction { .. })) {
        return Some(Held::PastReaction);
    }
    if gates.contains(&Gate::BlackHenna) {
        return Some(Held::BlackHenna);
    }
    if visits.is_empty() {
        return Some(Held::NothingPlanned);
    }
    let nothing_left = visits.iter().all(|visit| visit.not_lightened && visit.parts.is_empty());
    (weak && nothing_left).then_some(Held::NotLightened)
}

/// Days before a colour by which its alert test is made.
#[must_use]
pub fn lead_days(salon: &Salon) -> u64 {
    // The setting holds hours of at least 48.
    (salon.practice.alert_test_lead_hours / 24.0).ceil().max(2.0) as u64
}

/// The alert test before the next colour: by the booked day when there is one, else by the best.
fn test(
    history: &History,
    salon: &Salon,
    diary: &Diary,
    gates: &[Gate],
    visits: &[DueVisit],
    today: NaiveDate,
) -> Option<DueTest> {
    if !gates.iter().any(|gate| matches!(gate, Gate::AlertTestDue { .. })) || tested(history, gates) {
        return None;
    }
    let colour = visits.iter().find(|visit| visit.kind.colours())?;
    let booked = diary.ahead(&history.client.code, Purpose::Visit, today).map(|appointment| appointment.date);
    let day = booked.unwrap_or_else(|| colour.window.best.max(today));
    Some(DueTest { by: day.checked_sub_days(Days::new(lead_days(salon)))? })
}

/// Whether an alert test was made after the last colour and read as clear, with nothing on record that voids it.
///
/// A clear test allows a proposal, no more: it is no guarantee, and the stylist asks again that day.
#[must_use]
pub fn tested(history: &History, gates: &[Gate]) -> bool {
    let voided = |gate: &Gate| {
        matches!(gate, Gate::PastReaction { .. } | Gate::BlackHenna | Gate::AlertTestUnread { .. })
            || *gate == Gate::AskAgain { about: "medicine or treatment" }
    };
    let last = history.latest().date;
    let tests = || {
        let of_visits = history.visits.iter().flat_map(|visit| &visit.health.alert_tests);
        history.client.health.alert_tests.iter().chain(of_visits)
    };
    !gates.iter().any(voided)
        && tests().any(|test| test.applied > last && test.read.is_some() && test.clear == Some(true))
}
