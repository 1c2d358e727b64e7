//! Who could come instead: clients in window, tested and consenting for a slot that came free, best first.
//!
//! In: a slot, the due list, histories. Out: [`Candidate`]s. Knows nothing of: how they are asked.

use chrono::{Days, NaiveDate, NaiveTime};

use super::appointment::Purpose;
use super::change::{Desk, open_by};
use super::free::{does, refusal};
use super::hours::minute_of;
use crate::plan::{Gate, Window};
use crate::record::{ClientCode, History};
use crate::salon::Stylist;
use crate::schedule::due::{Due, DueVisit, lead_days, tested};
use crate::schedule::span::{Spans, lightens, spans};

/// How long a client without a booking would wait otherwise, days. Common practice, no source.
const WAIT: u64 = 7;

/// Somebody who could take a slot, or who could but for something.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The client.
    pub client: ClientCode,
    /// The window of the next visit.
    pub window: Window,
    /// How long it would take.
    pub spans: Spans,
    /// With whom; nothing when nobody is free.
    pub stylist: Option<String>,
    /// What it saves against the time booked, else against another week of waiting, in the salon's currency.
    pub saves: f64,
    /// What stands against it; nothing for those to ask.
    pub not_offered: Vec<NotOffered>,
}

/// Why a slot is not offered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotOffered {
    /// No clear alert test that is old enough by then.
    NotTested,
    /// No consent to the service on record.
    NoServiceConsent,
    /// Offering a time that came free is promotion, and there is no consent to that.
    NoMarketingConsent,
    /// The visit takes longer than the slot.
    TooLong,
    /// Nobody who does it is free.
    NobodyFree,
    /// The client would lose by it.
    WorseThanNow,
}

impl std::fmt::Display for NotOffered {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::NotTested => "no clear alert test old enough by then",
            Self::NoServiceConsent => "no consent to the service on record",
            Self::NoMarketingConsent => "no consent to offers on record",
            Self::TooLong => "takes longer than the free time",
            Self::NobodyFree => "nobody who does it is free",
            Self::WorseThanNow => "the time there is already is better",
        })
    }
}

impl Candidate {
    /// Everything that stands against offering it, in one line; empty for those to ask.
    #[must_use]
    pub fn against(&self) -> String {
        self.not_offered.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
    }
}

/// The clients whose window is open at a slot, those to ask first, the best of them first.
#[must_use]
pub fn fill(
    desk: &Desk<'_>,
    histories: &[History],
    (date, time): (NaiveDate, NaiveTime),
    minutes: u16,
) -> Vec<Candidate> {
    let open = desk.due.iter().filter(|due| due.held.is_none());
    let mut found: Vec<Candidate> = open
        .filter_map(|due| {
            let next = due.next().filter(|next| open_by(next.window, date))?;
            let gap = |gate: &Gate| matches!(gate, Gate::RelightenGap { from } if date < *from);
            if lightens(&next.parts, &due.plan) && due.gates.iter().any(gap) {
                return None;
            }
            let history = histories.iter().find(|history| history.client.code == due.client)?;
            Some(candidate(desk, due, next, history, (date, time), minutes))
        })
        .collect();
    found.sort_by(|one, other| {
        let asked = |one: &Candidate| one.not_offered.len();
        let order = asked(one).min(1).cmp(&asked(other).min(1));
        order.then(other.saves.total_cmp(&one.saves)).then_with(|| one.client.cmp(&other.client))
    });
    found
}

fn candidate(
    desk: &Desk<'_>,
    due: &Due,
    next: &DueVisit,
    history: &History,
    (date, time): (NaiveDate, NaiveTime),
    minutes: u16,
) -> Candidate {
    let (salon, rules) = (desk.salon, &desk.salon.book);
    let spans = spans(next.kind, &next.parts, &due.person, &due.plan, salon, date);
    let from = minute_of(date, time, salon.time_zone);
    let mut stylists: Vec<&Stylist> = salon.stylists.iter().filter(|one| does(one, next.kind)).collect();
    stylists.sort_by_key(|one| Some(&one.code) != due.stylist.as_ref());
    let free =
        |one: &&Stylist| refusal(salon, desk.diary, desk.busy, &due.client, (*one, next.kind), (from, spans)).is_none();
    let stylist = stylists.into_iter().find(free).map(|one| one.code.clone());
    // Without a booking, what another week of waiting would cost: a proposal is no time the client has.
    let now = desk.diary.ahead(&due.client, Purpose::Visit, desk.today);
    let wait = now.map_or_else(|| date.checked_add_days(Days::new(WAIT)).unwrap_or(date), |one| one.date);
    let saves = next.ripeness.loss(wait, rules) - next.ripeness.loss(date, rules);
    let ready = !next.kind.colours() || due.test.is_none() && old_enough(history, due, desk, date);
    let consents = &history.client.consents;
    let against = [
        (!ready, NotOffered::NotTested),
        (consents.service.is_none(), NotOffered::NoServiceConsent),
        (consents.marketing.is_none(), NotOffered::NoMarketingConsent),
        (spans.occupied() > minutes, NotOffered::TooLong),
        (stylist.is_none(), NotOffered::NobodyFree),
        (now.is_some() && saves <= 0.0, NotOffered::WorseThanNow),
    ];
    Candidate {
        client: due.client.clone(),
        window: next.window,
        spans,
        stylist,
        saves,
        not_offered: against.into_iter().filter_map(|(holds, why)| holds.then_some(why)).collect(),
    }
}

/// Whether the alert test that counts was made long enough before a day; where the leaflet lets an older one count, it was.
fn old_enough(history: &History, due: &Due, desk: &Desk<'_>, day: NaiveDate) -> bool {
    if !tested(history, &due.gates) {
        return true;
    }
    let tests =
        history.visits.iter().flat_map(|visit| &visit.health.alert_tests).chain(&history.client.health.alert_tests);
    let last = history.latest().date;
    let lead = lead_days(desk.salon) as i64;
    let mut fresh = tests.filter(|test| test.applied > last && test.clear == Some(true));
    fresh.any(|test| (day - test.applied).num_days() >= lead)
}
