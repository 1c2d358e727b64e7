//! A look back: what was predicted against what came.
//!
//! In: histories, the diary, the salon, today. Out: [`Review`]. Knows nothing of: tables, pictures.
//!
//! Each return is predicted from the visits before it alone, with no estimate learned from returns, so that nothing predicts itself.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::diary::{Diary, Purpose};
use super::span::{Kind, Person, kind_of_record, spans};
use crate::forecast::forecast;
use crate::plan::{Window, plan};
use crate::record::{ClientCode, History, ServiceRecord};
use crate::salon::{Salon, SalonEstimate};

/// A look back over every visit on record.
#[derive(Debug, Clone, PartialEq)]
pub struct Review {
    /// Each return, by date and client.
    pub returns: Vec<Returned>,
    /// Bookings nobody came to.
    pub missed: Vec<Missed>,
}

/// One return.
#[derive(Debug, Clone, PartialEq)]
pub struct Returned {
    /// The client.
    pub client: ClientCode,
    /// The stylist of the return.
    pub stylist: Option<String>,
    /// As which service.
    pub service: Kind,
    /// The visit before.
    pub before: NaiveDate,
    /// The window predicted then.
    pub predicted: Window,
    /// The day of the return.
    pub came: NaiveDate,
    /// Working time predicted, hands-on and developing, minutes.
    pub minutes_predicted: f64,
    /// Working time recorded.
    pub minutes_taken: Option<f64>,
}

impl Returned {
    /// Days after the best day; negative before it.
    #[must_use]
    pub fn days_off(&self) -> i64 {
        (self.came - self.predicted.best).num_days()
    }

    /// Whether the day lay in the window.
    #[must_use]
    pub fn kept(&self) -> bool {
        (self.predicted.earliest..=self.predicted.latest).contains(&self.came)
    }
}

/// A booking nobody came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missed {
    /// The client.
    pub client: ClientCode,
    /// The day.
    pub date: NaiveDate,
    /// With whom.
    pub stylist: String,
    /// As which service.
    pub service: Kind,
}

/// One stylist and service.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tally {
    /// Returns.
    pub returns: usize,
    /// Returns inside their window.
    pub kept: usize,
    /// The middle of the days off; half of them are nearer or earlier.
    pub days_off: Option<i64>,
    /// Mean minutes predicted and taken, over the returns whose time is recorded.
    pub minutes: Option<(f64, f64)>,
    /// Bookings missed.
    pub missed: usize,
}

/// Looks back from today.
#[must_use]
pub fn look_back(histories: &[History], diary: &Diary, salon: &Salon, today: NaiveDate) -> Review {
    let unlearned = Salon { estimate: SalonEstimate::default(), ..salon.clone() };
    let mut returns: Vec<Returned> =
        histories.iter().flat_map(|history| returns_of(history, &unlearned)).filter(|one| one.came <= today).collect();
    returns.sort_by(|one, other| (one.came, &one.client).cmp(&(other.came, &other.client)));
    let came = |client: &ClientCode, date: NaiveDate| {
        let history = histories.iter().find(|history| history.client.code == *client);
        history.is_some_and(|history| history.visits.iter().any(|visit| visit.date == date))
    };
    let past = diary.booked_from(NaiveDate::MIN).filter(|one| one.purpose == Purpose::Visit && one.date < today);
    let missed = past.filter(|one| !came(&one.client, one.date)).map(|one| Missed {
        client: one.client.clone(),
        date: one.date,
        stylist: one.stylist.clone(),
        service: one.kind,
    });
    Review { missed: missed.collect(), returns }
}

fn returns_of(history: &History, salon: &Salon) -> Vec<Returned> {
    let worked: Vec<usize> =
        (0..history.visits.len()).filter(|at| !history.visits[*at].placements.is_empty()).collect();
    worked.windows(2).filter_map(|pair| returned(history, pair[0], &history.visits[pair[1]], salon)).collect()
}

/// What the visits up to one of them predict of the return.
fn returned(history: &History, last: usize, came: &ServiceRecord, salon: &Salon) -> Option<Returned> {
    let before = History { client: history.client.clone(), visits: history.visits[..=last].to_vec() };
    let shareable = before.shareable();
    let plan = plan(&shareable, salon, &forecast(&shareable, salon));
    let next = plan.next_visit()?;
    let service = kind_of_record(came)?;
    let person = Person::of(&shareable, salon, &plan);
    let spans = spans(service, &next.parts, &person, &plan, salon, came.date);
    Some(Returned {
        client: history.client.code.clone(),
        stylist: came.stylist.clone(),
        service,
        before: history.visits[last].date,
        predicted: next.window,
        came: came.date,
        minutes_predicted: f64::from(spans.hands_on + spans.developing + spans.finishing),
        minutes_taken: came.minutes_taken.map(crate::units::Minutes::to_minutes),
    })
}

impl Review {
    /// Everything by stylist and service; a stylist nobody recorded is empty.
    #[must_use]
    pub fn by_stylist_and_service(&self) -> BTreeMap<(String, Kind), Tally> {
        let mut groups: BTreeMap<(String, Kind), (Vec<&Returned>, usize)> = BTreeMap::new();
        for one in &self.returns {
            let key = (one.stylist.clone().unwrap_or_default(), one.service);
            groups.entry(key).or_default().0.push(one);
        }
        for one in &self.missed {
            groups.entry((one.stylist.clone(), one.service)).or_default().1 += 1;
        }
        groups.into_iter().map(|(key, (returns, missed))| (key, tally(&returns, missed))).collect()
    }
}

fn tally(returns: &[&Returned], missed: usize) -> Tally {
    let mut off: Vec<i64> = returns.iter().map(|one| one.days_off()).collect();
    off.sort_unstable();
    let timed: Vec<(f64, f64)> =
        returns.iter().filter_map(|one| Some((one.minutes_predicted, one.minutes_taken?))).collect();
    let mean = |of: fn(&(f64, f64)) -> f64| timed.iter().map(of).sum::<f64>() / timed.len() as f64;
    Tally {
        returns: returns.len(),
        kept: returns.iter().filter(|one| one.kept()).count(),
        days_off: off.get(off.len() / 2).copied(),
        minutes: (!timed.is_empty()).then(|| (mean(|pair| pair.0), mean(|pair| pair.1))),
        missed,
    }
}
