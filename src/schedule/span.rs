//! How long a visit takes, as spans of chair time, on a given day.
//!
//! In: the salon's services and rules, the plan, what this client's visits took before. Out: [`Spans`]. Knows nothing of: hours, who is free.
//!
//! ```text
//! consultation │ hands-on │ developing │ hands-on │ buffer
//! chair and stylist ─────────────────────────────────────►
//! ```

use chrono::NaiveDate;

use crate::plan::{Plan, RootsReason, VisitPart};
use crate::record::{Density, PlacementKind, ServiceRecord, Shareable, ZoneName};
use crate::salon::{Salon, Service, ShadeKind};
use crate::science::dye::class::DyeClass;
use crate::science::parameter::Parameter;
use crate::units::{Millimetres, MillimetresPerDay, Minutes, Worded, worded};

/// How many of this client's own visits weigh as much as the salon's table.
///
/// The recorded minutes of n visits move the length by the mean of ln(taken / table), shrunk by n / (n + this).
pub const OWN_TIME: Parameter = Parameter::assumed(
    "visits of one client that weigh as much as the salon's own table of lengths",
    2.0,
    1.0,
    4.0,
    "visits",
    "one slow visit is chance, four are a habit",
);

/// How far a client's own times may move a length, either way, as a factor.
pub const OWN_TIME_REACH: Parameter = Parameter::assumed(
    "factor by which a client's own times may move a length at most",
    1.6,
    1.3,
    2.0,
    "1",
    "beyond it the record was of another kind of visit",
);

worded! {
    /// What a visit is for, as a service in the salon's list.
    Kind, "service" {
        /// A refresh of a direct dye.
        Refresh = "refresh",
        /// A refresh of a toner or gloss.
        Gloss = "gloss",
        /// Roots.
        Roots = "roots",
        /// Lightening beyond the roots, toned after.
        Lightening = "lightening",
        /// A trim.
        Trim = "trim",
        /// A short look at the colour.
        ColourCheck = "colour-check",
        /// An alert test.
        AlertTest = "alert-test",
    }
}

impl Kind {
    /// Minutes when the salon tells none: before developing, developing, after it, buffer.
    ///
    /// Usual working values of the trade; common practice, no source: a toner refresh 60, a pastel refresh 75, roots with tone 150, a full head 240, a test 10, a trim 30.
    const fn usual(self) -> (f64, f64, f64, f64) {
        match self {
            Self::Refresh => (30.0, 20.0, 25.0, 15.0),
            Self::Gloss => (20.0, 15.0, 25.0, 10.0),
            Self::Roots => (60.0, 45.0, 45.0, 15.0),
            Self::Lightening => (110.0, 50.0, 80.0, 30.0),
            Self::Trim => (30.0, 0.0, 0.0, 5.0),
            Self::ColourCheck | Self::AlertTest => (10.0, 0.0, 0.0, 0.0),
        }
    }

    /// Whether it needs a consultation and, with an oxidative or direct dye, an alert test before.
    #[must_use]
    pub const fn colours(self) -> bool {
        matches!(self, Self::Refresh | Self::Gloss | Self::Roots | Self::Lightening)
    }
}

/// The spans of one visit, whole minutes, in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spans {
    /// The talk before.
    pub consultation: u16,
    /// Hands-on before developing.
    pub hands_on: u16,
    /// Developing.
    pub developing: u16,
    /// Hands-on after it.
    pub finishing: u16,
    /// Kept free behind it.
    pub buffer: u16,
    /// Whether lightener works while it develops: then nobody turns to another client.
    pub lightener: bool,
}

impl Spans {
    /// From sitting down to the end of the buffer, minutes.
    #[must_use]
    pub const fn occupied(&self) -> u16 {
        self.served() + self.buffer
    }

    /// From sitting down to getting up, minutes.
    #[must_use]
    pub const fn served(&self) -> u16 {
        self.consultation + self.hands_on + self.developing + self.finishing
    }

    /// The part after which developing begins, and the part at which it ends, minutes from sitting down.
    #[must_use]
    pub const fn developing(&self) -> (u16, u16) {
        let from = self.consultation + self.hands_on;
        (from, from + self.developing)
    }
}

/// What the next visit for some parts is, as a service.
#[must_use]
pub fn kind(parts: &[VisitPart], plan: &Plan) -> Kind {
    if parts.contains(&VisitPart::Roots) {
        return match plan.roots.map(|roots| roots.reason) {
            Some(RootsReason::Foils | RootsReason::Freehand) => Kind::Lightening,
            _ => Kind::Roots,
        };
    }
    if parts.contains(&VisitPart::Refresh) {
        return match plan.shade {
            Some(ShadeKind::Toner) => Kind::Gloss,
            Some(ShadeKind::Permanent) => Kind::Roots,
            _ => Kind::Refresh,
        };
    }
    Kind::Trim
}

/// Whether a visit for some parts puts lightener on hair.
#[must_use]
pub fn lightens(parts: &[VisitPart], plan: &Plan) -> bool {
    let tinted = |reason: RootsReason| matches!(reason, RootsReason::Tint | RootsReason::WhiteCover);
    parts.contains(&VisitPart::Roots) && plan.roots.is_some_and(|roots| !tinted(roots.reason))
}

/// The salon's service of a kind, or the usual one.
#[must_use]
pub fn service(kind: Kind, salon: &Salon) -> Service {
    let told = salon.services.iter().find(|service| service.code == kind.word());
    told.cloned().unwrap_or_else(|| {
        let (hands_on, developing, finishing, buffer) = kind.usual();
        let minutes = Minutes::from_minutes;
        Service {
            code: kind.word().to_owned(),
            name: kind.word().to_owned(),
            hands_on: minutes(hands_on),
            developing: minutes(developing),
            finishing: minutes(finishing),
            buffer: minutes(buffer),
            price: None,
        }
    })
}

/// What sets one client's lengths apart from the salon's table.
#[derive(Debug, Clone, PartialEq)]
pub struct Person {
    /// Factor on the hands-on parts, from recorded times.
    factor: f64,
    /// Minutes for long and for dense hair.
    hair: f64,
    /// Regrowth on a day, how fast it grows, mm and mm a day; nothing when no roots are treated.
    regrowth: Option<(NaiveDate, f64, MillimetresPerDay)>,
}

impl Person {
    /// What the visits on record tell of one client.
    #[must_use]
    pub fn of(history: &Shareable, salon: &Salon, plan: &Plan) -> Self {
        let hair = &history.latest().hair;
        let rules = &salon.book;
        let long = hair.length.is_some_and(|length| length >= rules.long_from);
        let dense = hair.density == Some(Density::High);
        let minutes = |holds: bool, extra: Minutes| if holds { extra.to_minutes() } else { 0.0 };
        let growth = hair.growth.unwrap_or(salon.practice.growth);
        Self {
            factor: own_factor(history, salon),
            hair: minutes(long, rules.long_extra) + minutes(dense, rules.dense_extra),
            regrowth: plan.roots.map(|roots| (roots.window.best, roots.regrowth.to_mm(), growth)),
        }
    }

    /// The regrowth predicted on a day; nothing when no roots are treated.
    #[must_use]
    pub fn regrowth_on(&self, day: NaiveDate) -> Option<Millimetres> {
        let (at, length, growth) = self.regrowth?;
        let grown = growth.to_mm_per_day() * (day - at).num_days() as f64;
        Some(Millimetres::from_mm((length + grown).clamp(0.0, Millimetres::HIGH)))
    }
}

/// The spans of a visit on a day.
///
/// Extras go to the hands-on part before developing, a trim to the part after it. Developing is chemistry and is not moved by how fast anybody works.
#[must_use]
pub fn spans(kind: Kind, parts: &[VisitPart], person: &Person, plan: &Plan, salon: &Salon, day: NaiveDate) -> Spans {
    let rules = &salon.book;
    let service = service(kind, salon);
    let whole = |minutes: f64| minutes.round().clamp(0.0, 1440.0) as u16;
    let (factor, extra) = if kind.colours() {
        let grown = person.regrowth_on(day).filter(|_| parts.contains(&VisitPart::Roots));
        let over = grown.is_some_and(|grown| grown.to_mm() > salon.practice.regrowth_stop_mm);
        let regrowth = if over { rules.regrowth_extra.to_minutes() } else { 0.0 };
        (person.factor, (person.hair + regrowth).min(rules.most_extra.to_minutes()))
    } else {
        (1.0, 0.0)
    };
    let trim = if parts.contains(&VisitPart::Trim) && kind != Kind::Trim { rules.trim.to_minutes() } else { 0.0 };
    Spans {
        consultation: if kind.colours() { whole(rules.consultation.to_minutes()) } else { 0 },
        hands_on: whole(service.hands_on.to_minutes() * factor + extra),
        developing: whole(service.developing.to_minutes()),
        finishing: whole(service.finishing.to_minutes() * factor + trim),
        buffer: whole(service.buffer.to_minutes()),
        lightener: lightens(parts, plan),
    }
}

/// What a visit on record was, as a service; nothing when nothing was placed.
#[must_use]
pub fn kind_of_record(visit: &ServiceRecord) -> Option<Kind> {
    let placed = &visit.placements;
    if placed.is_empty() {
        return None;
    }
    let at_roots = |placement: &crate::record::Placement| {
        let only_roots = |zones: &[ZoneName]| !zones.is_empty() && zones.iter().all(|zone| *zone == ZoneName::Roots);
        placement.kind == PlacementKind::Regrowth || placement.lightening.iter().all(|step| only_roots(&step.zones))
    };
    let lightened: Vec<_> = placed.iter().filter(|placement| !placement.lightening.is_empty()).collect();
    let classes = || placed.iter().flat_map(|placement| &placement.toning).map(|pass| pass.dye);
    Some(if !lightened.is_empty() {
        if lightened.iter().all(|placement| at_roots(placement)) { Kind::Roots } else { Kind::Lightening }
    } else if classes().any(|dye| dye == DyeClass::Permanent) {
        Kind::Roots
    } else if classes().any(|dye| dye == DyeClass::Demi) {
        Kind::Gloss
    } else {
        Kind::Refresh
    })
}

/// Minutes the salon's table gives for a visit on record: the same hair's extras, no consultation and no buffer.
#[must_use]
pub fn table_minutes(visit: &ServiceRecord, salon: &Salon) -> Option<f64> {
    let kind = kind_of_record(visit)?;
    let (service, rules) = (service(kind, salon), &salon.book);
    let holds = |holds: bool, extra: Minutes| if holds { extra.to_minutes() } else { 0.0 };
    let long = holds(visit.hair.length.is_some_and(|length| length >= rules.long_from), rules.long_extra);
    let dense = holds(visit.hair.density == Some(Density::High), rules.dense_extra);
    let over = visit.hair.regrowth.is_some_and(|grown| grown.to_mm() > salon.practice.regrowth_stop_mm);
    let regrowth = holds(over && kind == Kind::Roots, rules.regrowth_extra);
    let trim = holds(visit.hair.trimmed.is_some_and(|cut| cut.to_mm() > 0.0), rules.trim);
    let work = service.hands_on.to_minutes() + service.developing.to_minutes() + service.finishing.to_minutes();
    Some(work + (long + dense + regrowth).min(rules.most_extra.to_minutes()) + trim)
}

/// The factor of a client's own times over the salon's table, shrunk toward 1; see [`OWN_TIME`].
///
/// ```text
/// ln f = Σ ln(taken / table) / (n + n₀)
/// ```
fn own_factor(history: &Shareable, salon: &Salon) -> f64 {
    let logs: Vec<f64> = history
        .visits()
        .iter()
        .filter_map(|visit| {
            let (taken, table) = (visit.minutes_taken?.to_minutes(), table_minutes(visit, salon)?);
            (taken > 0.0 && table > 0.0).then(|| (taken / table).ln())
        })
        .collect();
    // A count of visits is far below 2^52.
    let shrunk = logs.iter().sum::<f64>() / (logs.len() as f64 + OWN_TIME.value);
    shrunk.exp().clamp(1.0 / OWN_TIME_REACH.value, OWN_TIME_REACH.value)
}

impl Spans {
    /// When the stylist's hands are taken, minutes from sitting down; the chair is taken all the time.
    ///
    /// All the time too, unless the salon shares developing time and no lightener works.
    #[must_use]
    pub fn hands(&self, share_developing: bool) -> Vec<(u16, u16)> {
        let (from, to) = self.developing();
        if share_developing && !self.lightener && from < to {
            vec![(0, from), (to, self.occupied())]
        } else {
            vec![(0, self.occupied())]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::SourceText;
    use crate::forecast::forecast;
    use crate::plan::plan;
    use crate::record::{History, Known, histories, read_client, read_visit};
    use crate::salon::read_salon;
    use crate::units::PeroxidePercent;

    const SALON: &str = "format = 1\nname = \"Example Rooms\"\nbase_address = \"https://care.example.org\"\n\
        time_zone = \"Europe/London\"\n[contact]\nphone = \"+44 20 7946 0101\"\n[emergency]\ncountry = \"GB\"\n\
        number = \"999\"\n[[hours]]\ndays = [\"friday\"]\nopen = 09:00:00\nclose = 18:00:00\n\
        [[stylist]]\ncode = \"ines\"\nname = \"Ines\"\n";
    const CLIENT: &str = "format = 1\n[age]\nsixteen_or_over = true\nconfirmed = 2026-11-20\n";

    /// A client of one visit, in a salon that tells no lengths.
    struct Sample {
        salon: Salon,
        history: History,
        plan: Plan,
    }

    impl Sample {
        fn rose() -> Self {
            let salon = read_salon(&SourceText::new("salon.toml", SALON)).value.expect("a salon");
            let client = read_client(&SourceText::new("clients/wren-04.toml", CLIENT)).value.expect("a client");
            let text = include_str!("../../tests/suite/records_good/visit/minimal.toml");
            let visit = read_visit(&SourceText::new("records/one.toml", text)).value.expect("a visit");
            let scalp_peroxide_max = PeroxidePercent::from_percent(6.0);
            let known = Known { stylists: &["ines".to_owned()], scalp_peroxide_max, clients_at_fault: &[] };
            let history = histories(vec![client], vec![visit], &known).0.pop().expect("a history");
            let shareable = history.shareable();
            let plan = plan(&shareable, &salon, &forecast(&shareable, &salon));
            Self { salon, history, plan }
        }
    }

    /// The client with some minutes recorded for each of some visits more.
    fn person(taken: &[f64], salon: &Salon) -> Person {
        let sample = Sample::rose();
        let mut history = sample.history.clone();
        history.visits[0].minutes_taken = None;
        let visit = history.visits[0].clone();
        let timed =
            taken.iter().map(|minutes| ServiceRecord { minutes_taken: Minutes::try_new(*minutes), ..visit.clone() });
        history.visits.extend(timed);
        Person::of(&history.shareable(), salon, &sample.plan)
    }

    fn told(kind: Kind, parts: &[VisitPart], person: &Person, salon: &Salon) -> Spans {
        let sample = Sample::rose();
        spans(kind, parts, person, &sample.plan, salon, sample.plan.service)
    }

    #[test]
    fn a_salon_without_a_table_gets_the_usual_lengths() {
        let sample = Sample::rose();
        let one = told(Kind::Refresh, &[VisitPart::Refresh], &person(&[], &sample.salon), &sample.salon);
        let usual =
            Spans { consultation: 15, hands_on: 30, developing: 20, finishing: 25, buffer: 15, lightener: false };
        assert_eq!(one, usual);
        assert_eq!((one.served(), one.occupied(), one.developing()), (90, 105, (45, 65)));
    }

    #[test]
    fn recorded_times_draw_a_length_toward_themselves_and_more_visits_draw_harder() {
        let sample = Sample::rose();
        let table = table_minutes(&sample.history.visits[0], &sample.salon).expect("something was placed");
        let factor = |visits: usize, of: f64| person(&vec![table * of; visits], &sample.salon).factor;
        // ln f = n ln(taken / table) / (n + 2): one visit a third of the way, two half, four two thirds.
        for (visits, way) in [(1, 1.0 / 3.0), (2, 0.5), (4, 2.0 / 3.0)] {
            assert!((factor(visits, 1.2).ln() - way * 1.2_f64.ln()).abs() < 1e-9, "{visits}");
            assert!((factor(visits, 0.8).ln() - way * 0.8_f64.ln()).abs() < 1e-9, "{visits}");
        }
        assert!((factor(12, 9.0) - OWN_TIME_REACH.value).abs() < 1e-9, "never beyond its reach");
        assert!((person(&[], &sample.salon).factor - 1.0).abs() < 1e-9, "nothing recorded moves nothing");
    }

    #[test]
    fn how_fast_somebody_works_moves_hands_and_never_chemistry_or_the_buffer() {
        let sample = Sample::rose();
        let parts = [VisitPart::Refresh];
        let usual = told(Kind::Refresh, &parts, &person(&[], &sample.salon), &sample.salon);
        let slow = told(Kind::Refresh, &parts, &Person { factor: 1.5, hair: 0.0, regrowth: None }, &sample.salon);
        assert_eq!((slow.hands_on, slow.finishing), (45, 38));
        assert_eq!(
            (slow.consultation, slow.developing, slow.buffer),
            (usual.consultation, usual.developing, usual.buffer)
        );
    }

    #[test]
    fn regrowth_over_the_stop_on_that_day_takes_longer_and_the_extras_have_a_limit() {
        let sample = Sample::rose();
        let day = sample.plan.service;
        let stop = sample.salon.practice.regrowth_stop_mm;
        let rate = MillimetresPerDay::try_new(0.5).expect("a rate");
        let grown = |length: f64, hair: f64| Person { factor: 1.0, hair, regrowth: Some((day, length, rate)) };
        let on = |person: &Person, parts: &[VisitPart], after: u64| {
            let day = day + chrono::Days::new(after);
            spans(Kind::Roots, parts, person, &sample.plan, &sample.salon, day).hands_on
        };
        let roots = [VisitPart::Roots];
        assert_eq!(on(&grown(stop, 0.0), &roots, 0), 60, "at the stop, not over it");
        assert_eq!(on(&grown(stop, 0.0), &roots, 1), 90, "half a millimetre over it the day after");
        assert_eq!(on(&grown(stop, 0.0), &[VisitPart::Refresh], 1), 60, "roots are not treated");
        assert_eq!(on(&grown(stop, 60.0), &roots, 1), 120, "all extras together come to 60 at the most");
    }

    #[test]
    fn a_trim_goes_behind_developing_and_hands_are_free_only_where_the_salon_shares_and_no_lightener_works() {
        let sample = Sample::rose();
        let nobody = person(&[], &sample.salon);
        let one = told(Kind::Refresh, &[VisitPart::Refresh, VisitPart::Trim], &nobody, &sample.salon);
        assert_eq!((one.hands_on, one.finishing), (30, 55));
        assert_eq!(one.hands(false), [(0, one.occupied())]);
        assert_eq!(one.hands(true), [(0, 45), (65, one.occupied())]);
        assert_eq!(Spans { lightener: true, ..one }.hands(true), [(0, one.occupied())]);
        let test = told(Kind::AlertTest, &[], &nobody, &sample.salon);
        assert_eq!((test.consultation, test.occupied(), test.hands(true)), (0, 10, vec![(0, 10)]));
    }
}
