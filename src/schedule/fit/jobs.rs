//! The salon's weeks as a problem of slots, and its solution as proposals.
//!
//! In: the due list, the diary, busy times, today. Out: [`Book`]. Knows nothing of: how the fit is found.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate, NaiveTime, Timelike};

use super::room::Room;
use super::{Choice, Day, Effort, Fitted, Job, Problem, Shape, fit};
use crate::record::ClientCode;
use crate::salon::{Salon, Stylist};
use crate::schedule::diary::{
    Appointment, Busy, Diary, Minute, NotThere, Proposal, Purpose, State, Stretch, does, local, minute_of, not_there,
    open, working,
};
use crate::schedule::due::{Due, DueVisit, lead_days};
use crate::schedule::span::{Kind, Person, Spans, spans};
use crate::science::parameter::Parameter;

/// How long after the last day of a window a visit is still proposed; later it is told as one that does not fit.
pub const STILL_PROPOSED: Parameter =
    Parameter::common_practice("days after its window for which a visit is still proposed", 28.0, 14.0, 42.0, "d");

/// How long before a visit its alert test may be made.
pub const TEST_AHEAD: Parameter = Parameter::common_practice(
    "days before a visit on which its alert test is made at the earliest",
    14.0,
    7.0,
    25.0,
    "d",
);

/// What a book is made from.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The salon.
    pub salon: &'a Salon,
    /// The due list.
    pub due: &'a [Due],
    /// Bookings and standing proposals.
    pub diary: &'a Diary,
    /// Busy times of other calendars.
    pub busy: &'a Busy,
    /// Today; proposals begin tomorrow.
    pub today: NaiveDate,
    /// How many weeks ahead.
    pub weeks: u32,
}

/// A fitted book.
#[derive(Debug, Clone)]
pub struct Book {
    /// The diary with the new proposals.
    pub diary: Diary,
    /// The fit behind it.
    pub fitted: Fitted,
    /// What the same visits would cost if each had the salon to itself.
    pub alone: f64,
    /// How many visits asked for a time.
    pub asked: usize,
    /// Who does not fit.
    pub unfitted: Vec<Unfitted>,
    /// How much is missing, week by week.
    pub short: Vec<ShortWeek>,
    /// Clients of a stylist who leaves, with the stylist proposed instead.
    pub reassigned: Vec<(ClientCode, String, String)>,
    /// Bookings that can no longer be kept as they stand, and why.
    pub broken: Vec<(Appointment, NotThere)>,
}

/// A visit that does not fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unfitted {
    /// The client.
    pub client: ClientCode,
    /// The Monday of the week it was for.
    pub week: NaiveDate,
    /// The chair time it needs, minutes.
    pub minutes: u16,
    /// Why.
    pub why: Why,
}

/// Why a visit does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// Nobody here does that service.
    NobodyDoesIt,
    /// No day of its window has a stretch long enough, even without anybody else.
    NoDay,
    /// The days are full.
    Full,
    /// No time for the alert test before it.
    NoTest,
}

/// A week with too little chair time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShortWeek {
    /// Its Monday.
    pub week: NaiveDate,
    /// The chair time missing, minutes.
    pub minutes: u32,
    /// How many visits do not fit.
    pub visits: usize,
}

/// The days with their slots.
struct Grid {
    days: Vec<NaiveDate>,
    base: Vec<Minute>,
    step: Minute,
    /// The first day on which somebody has time for an alert test.
    first_open: NaiveDate,
}

/// One visit that asks, beside the job made of it.
struct Asking<'a> {
    due: &'a Due,
    visit: &'a DueVisit,
    spans: Vec<Spans>,
}

/// Fits everything that is due.
#[must_use]
pub fn book(asked: &Asked<'_>, effort: &Effort<'_>) -> Book {
    let broken = broken(asked);
    let (grid, days) = grid(asked, &broken);
    let mut problem = Problem { days, stylists: asked.salon.stylists.len(), jobs: Vec::new() };
    let room = Room::of(&problem);
    let last = grid.days.last().copied().unwrap_or(asked.today);
    let asking: Vec<Asking<'_>> = asked.due.iter().filter_map(|due| asking(asked, due, &grid, &broken, last)).collect();
    problem.jobs = asking.iter().map(|one| job(asked, one, &grid, &room, &broken)).collect();
    let fitted = fit(&problem, effort);
    let mut made = Made { asked, grid: &grid, room, proposals: Vec::new(), unfitted: Vec::new() };
    for ((one, job), place) in asking.iter().zip(&problem.jobs).zip(&fitted.places) {
        match place {
            Some(place) => {
                let choice = &job.choices[place.choice];
                made.room.put(choice, place.start);
                made.proposals.push(grid.proposal(asked, one, choice, place.start));
            }
            None => made.leave_out(one, why(asked, one, job)),
        }
    }
    made.tests();
    let least = |job: &Job| job.choices.iter().map(|choice| choice.cost).fold(job.left_out, f64::min);
    let Made { proposals, mut unfitted, .. } = made;
    unfitted.sort_by(|one, other| (one.week, &one.client).cmp(&(other.week, &other.client)));
    let reassigned = proposals.iter().filter(|one| one.purpose == Purpose::Visit).filter_map(|one| {
        let from = asked.due.iter().find(|due| due.client == one.client)?.left.clone()?;
        Some((one.client.clone(), from, one.stylist.clone()))
    });
    Book {
        reassigned: reassigned.collect(),
        diary: asked.diary.with_proposals(&proposals, asked.today),
        alone: problem.jobs.iter().map(least).sum(),
        asked: problem.jobs.len(),
        fitted,
        short: short(&unfitted),
        unfitted,
        broken,
    }
}

/// Bookings whose stylist is not there on the day.
fn broken(asked: &Asked<'_>) -> Vec<(Appointment, NotThere)> {
    let why = |one: &Appointment| {
        let stylist = asked.salon.stylists.iter().find(|stylist| stylist.code == one.stylist);
        stylist.map_or(Some(NotThere::Left), |stylist| not_there(asked.salon, stylist, one.date))
    };
    asked.diary.booked_from(asked.today).filter_map(|one| Some((one.clone(), why(one)?))).collect()
}

/// The days ahead, each slot free where the stylist works, nothing else is on and a chair stands.
fn grid(asked: &Asked<'_>, broken: &[(Appointment, NotThere)]) -> (Grid, Vec<Day>) {
    let (salon, zone) = (asked.salon, asked.salon.time_zone);
    let step = Minute::from(salon.book.step.max(1));
    let tomorrow = asked.today.succ_opt().unwrap_or(asked.today);
    let mut grid = Grid {
        days: crate::schedule::diary::days(tomorrow, asked.weeks),
        base: Vec::new(),
        step,
        first_open: tomorrow,
    };
    let kept = |one: &&Appointment| !broken.iter().any(|(other, _)| other.number == one.number);
    let booked: Vec<&Appointment> = asked.diary.booked_from(asked.today).filter(kept).collect();
    let mut days = Vec::new();
    for day in &grid.days {
        let opened = open(salon, *day);
        let (Some(first), Some(end)) = (opened.iter().map(|s| s.from).min(), opened.iter().map(|s| s.to).max()) else {
            grid.base.push(0);
            days.push(Day { free: vec![Vec::new(); salon.stylists.len()], chairs: Vec::new() });
            continue;
        };
        // Slots begin on the clock's own steps, so that times are round.
        let past = Minute::from(local(first, zone).minute()) % step;
        let base = first - past;
        let slots = (end - base).div_euclid(step) as usize;
        let slot = |index: usize| {
            let from = base + index as Minute * step;
            Stretch { from, to: from + step }
        };
        let today: Vec<&&Appointment> = booked.iter().filter(|one| one.date == *day).collect();
        let free_for = |stylist: &Stylist| {
            let stretches = working(salon, stylist, *day);
            let busy: Vec<Stretch> = asked.busy.of(&stylist.code).collect();
            let own = today.iter().filter(|one| one.stylist == stylist.code);
            let taken: Vec<Stretch> = own.flat_map(|one| one.hands(zone, salon.book.share_developing)).collect();
            let free = |at: Stretch| {
                stretches.iter().any(|stretch| stretch.holds(at))
                    && !busy.iter().chain(&taken).any(|other| other.meets(at))
            };
            (0..slots).map(|index| free(slot(index))).collect()
        };
        let seats = |index: usize| {
            let taken = today.iter().filter(|one| one.stretch(zone).meets(slot(index))).count();
            usize::from(salon.chairs).saturating_sub(taken) as u16
        };
        days.push(Day { free: salon.stylists.iter().map(free_for).collect(), chairs: (0..slots).map(seats).collect() });
        grid.base.push(base);
    }
    let some = |day: &Day| day.free.iter().flatten().any(|free| *free);
    grid.first_open = days.iter().position(some).map_or(tomorrow, |index| grid.days[index]);
    (grid, days)
}

impl Grid {
    fn slots(&self, minutes: u16) -> u16 {
        let step = self.step as u16;
        minutes.div_ceil(step).max(1)
    }

    fn shape(&self, spans: Spans, share: bool) -> Shape {
        let step = self.step as u16;
        let (from, to) = spans.developing();
        let gap = (from.div_ceil(step), to / step);
        let shared = share && !spans.lightener && gap.0 < gap.1;
        Shape { total: self.slots(spans.occupied()), gap: shared.then_some(gap) }
    }

    fn start(&self, day: usize, slot: u16) -> Minute {
        self.base[day] + Minute::from(slot) * self.step
    }

    /// The slot of a local time, when one begins there.
    fn slot_of(&self, salon: &Salon, date: NaiveDate, time: NaiveTime) -> Option<(usize, u16)> {
        let day = self.days.iter().position(|day| *day == date)?;
        let past = minute_of(date, time, salon.time_zone) - self.base[day];
        (past >= 0 && past % self.step == 0).then(|| Some((day, u16::try_from(past / self.step).ok()?)))?
    }

    fn proposal(&self, asked: &Asked<'_>, one: &Asking<'_>, choice: &Choice, start: u16) -> Proposal {
        let day = choice.day as usize;
        Proposal {
            client: one.due.client.clone(),
            purpose: Purpose::Visit,
            kind: one.visit.kind,
            date: self.days[day],
            time: local(self.start(day, start), asked.salon.time_zone).time(),
            stylist: asked.salon.stylists[choice.stylist as usize].code.clone(),
            spans: one.spans[day],
        }
    }
}

/// A client's next visit, when it needs a time within these weeks.
fn asking<'a>(
    asked: &Asked<'a>,
    due: &'a Due,
    grid: &Grid,
    broken: &[(Appointment, NotThere)],
    last: NaiveDate,
) -> Option<Asking<'a>> {
    let visit = due.next().filter(|visit| visit.window.best <= last)?;
    let booked = asked.diary.ahead(&due.client, Purpose::Visit, asked.today);
    if booked.is_some_and(|booked| !broken.iter().any(|(other, _)| other.number == booked.number)) {
        return None;
    }
    let on = |day: &NaiveDate| spans(visit.kind, &visit.parts, &due.person, &due.plan, asked.salon, *day);
    Some(Asking { due, visit, spans: grid.days.iter().map(on).collect() })
}

/// The first and the last day on which a visit may be.
fn days_of(asked: &Asked<'_>, one: &Asking<'_>, grid: &Grid) -> (NaiveDate, NaiveDate) {
    let after = |day: NaiveDate, days: u64| day.checked_add_days(Days::new(days)).unwrap_or(day);
    let lead = lead_days(asked.salon);
    let tested = asked.diary.ahead(&one.due.client, Purpose::AlertTest, asked.today).map(|test| test.date);
    let ready = match (one.due.test, tested) {
        (None, _) => asked.today,
        (Some(_), Some(test)) => after(test, lead),
        // A day more, so that a test late on the first open day still lies the whole lead before a visit early in its day.
        (Some(_), None) => after(grid.first_open, lead + 1),
    };
    let first = one.visit.window.earliest.max(ready);
    (first, after(one.visit.window.latest.max(asked.today), STILL_PROPOSED.value as u64))
}

/// A visit with all its choices.
fn job(asked: &Asked<'_>, one: &Asking<'_>, grid: &Grid, room: &Room, broken: &[(Appointment, NotThere)]) -> Job {
    let (salon, rules) = (asked.salon, &asked.salon.book);
    let (first, last) = days_of(asked, one, grid);
    let of_client = |other: &&Appointment| other.client == one.due.client && other.purpose == Purpose::Visit;
    let called_off = |day: NaiveDate| {
        asked
            .diary
            .appointments
            .iter()
            .filter(of_client)
            .any(|other| other.state == State::Cancelled && other.date == day && other.changed == asked.today)
    };
    let standing = asked.diary.standing(&one.due.client, Purpose::Visit, asked.today);
    let held = broken.iter().map(|(booked, _)| booked).find(of_client);
    // From when a booked alert test is old enough.
    let lead = (salon.practice.alert_test_lead_hours * 60.0).ceil() as Minute;
    let tested = asked.diary.ahead(&one.due.client, Purpose::AlertTest, asked.today).filter(|_| one.due.test.is_some());
    let tested = tested.map(|test| test.begins(salon.time_zone) + lead);
    // What an overdue visit has lost already is lost wherever it goes.
    let sunk = if one.visit.overdue { one.visit.ripeness.loss(first, rules) } else { 0.0 };
    let mut choices = Vec::new();
    for (index, day) in grid.days.iter().enumerate().filter(|(_, day)| (first..=last).contains(*day)) {
        if called_off(*day) {
            continue;
        }
        let loss = one.visit.ripeness.loss(*day, rules) - sunk;
        for (stylist, of) in salon.stylists.iter().enumerate().filter(|(_, of)| does(of, one.visit.kind)) {
            let own = one.due.stylist.as_ref().is_none_or(|own| *own == of.code);
            let cost = loss + if own { 0.0 } else { rules.other_stylist };
            let moves = if standing.or(held).is_some() { rules.move_standing } else { 0.0 };
            let shape = grid.shape(one.spans[index], rules.share_developing);
            let early = |from: Minute| tested.is_some_and(|tested| from < tested);
            let mut choice =
                Choice { day: index as u32, stylist: stylist as u32, start: None, shape, cost: cost + moves };
            if !early(grid.base[index]) && room.first_start(&choice).is_some() {
                choices.push(choice);
            }
            let stays = |at: &&Appointment| at.date == *day && (at.stylist == of.code || held.is_some());
            if let Some((_, slot)) =
                standing.or(held).filter(stays).and_then(|at| grid.slot_of(salon, at.date, at.time))
            {
                (choice.start, choice.cost) = (Some(slot), cost);
                if !early(grid.start(index, slot)) && room.first_start(&choice).is_some() {
                    choices.push(choice);
                }
            }
        }
    }
    Job { left_out: rules.left_out, choices }
}

fn why(asked: &Asked<'_>, one: &Asking<'_>, job: &Job) -> Why {
    if !asked.salon.stylists.iter().any(|stylist| does(stylist, one.visit.kind)) {
        Why::NobodyDoesIt
    } else if job.choices.is_empty() {
        Why::NoDay
    } else {
        Why::Full
    }
}

/// The Monday of a day's week.
#[must_use]
pub fn monday(day: NaiveDate) -> NaiveDate {
    day.checked_sub_days(Days::new(u64::from(day.weekday().num_days_from_monday()))).unwrap_or(day)
}

/// The proposals as they are made.
struct Made<'a> {
    asked: &'a Asked<'a>,
    grid: &'a Grid,
    room: Room,
    proposals: Vec<Proposal>,
    unfitted: Vec<Unfitted>,
}

impl Made<'_> {
    fn leave_out(&mut self, one: &Asking<'_>, why: Why) {
        let best = one.visit.window.best.max(self.asked.today);
        let (client, minutes) = (one.due.client.clone(), one.visit.spans.occupied());
        self.unfitted.push(Unfitted { client, week: monday(best), minutes, why });
    }

    /// An alert test before each colour that needs one; a colour whose test finds no time is left out again.
    fn tests(&mut self) {
        let (asked, diary) = (self.asked, self.asked.diary);
        let mut wanted: Vec<(NaiveDate, NaiveTime, &Due)> = Vec::new();
        for due in asked.due.iter().filter(|due| due.test.is_some()) {
            let booked = diary.ahead(&due.client, Purpose::Visit, asked.today).map(|one| (one.date, one.time));
            let proposed = self.proposals.iter().find(|one| one.client == due.client).map(|one| (one.date, one.time));
            if let Some((date, time)) = booked.or(proposed) {
                wanted.push((date, time, due));
            }
        }
        wanted.sort_by(|one, other| (one.0, one.1, &one.2.client).cmp(&(other.0, other.1, &other.2.client)));
        for (date, time, due) in wanted {
            let visit = minute_of(date, time, asked.salon.time_zone);
            let latest = visit - (asked.salon.practice.alert_test_lead_hours * 60.0).ceil() as Minute;
            let booked = diary.ahead(&due.client, Purpose::AlertTest, asked.today);
            if booked.is_some_and(|test| test.begins(asked.salon.time_zone) <= latest) {
                continue;
            }
            if let Some(test) = self.test(due, date, latest) {
                self.proposals.push(test);
            } else if let Some(at) = self.proposals.iter().position(|one| one.client == due.client) {
                let left = self.proposals.remove(at);
                self.give_back(&left);
                let week = monday(left.date);
                let minutes = left.spans.occupied();
                self.unfitted.push(Unfitted { client: left.client, week, minutes, why: Why::NoTest });
            }
        }
    }

    fn give_back(&mut self, left: &Proposal) {
        let salon = self.asked.salon;
        let stylist = salon.stylists.iter().position(|one| one.code == left.stylist);
        if let Some(((day, start), stylist)) = self.grid.slot_of(salon, left.date, left.time).zip(stylist) {
            let shape = self.grid.shape(left.spans, salon.book.share_developing);
            let choice = Choice { day: day as u32, stylist: stylist as u32, start: None, shape, cost: 0.0 };
            self.room.take(&choice, start);
        }
    }

    /// A time for an alert test, as late as it may be; where one stands already, there.
    fn test(&mut self, due: &Due, date: NaiveDate, latest: Minute) -> Option<Proposal> {
        let (asked, grid, salon) = (self.asked, self.grid, self.asked.salon);
        let spans = spans(Kind::AlertTest, &[], &Person::of(&due.shareable, salon, &due.plan), &due.plan, salon, date);
        let shape = grid.shape(spans, false);
        let first = date.checked_sub_days(Days::new(TEST_AHEAD.value as u64))?;
        let mut stylists: Vec<usize> =
            (0..salon.stylists.len()).filter(|one| does(&salon.stylists[*one], Kind::AlertTest)).collect();
        stylists.sort_by_key(|one| Some(&salon.stylists[*one].code) != due.stylist.as_ref());
        let choice = |day: usize, stylist: usize, start| Choice {
            day: day as u32,
            stylist: stylist as u32,
            start,
            shape,
            cost: 0.0,
        };
        let standing = asked.diary.standing(&due.client, Purpose::AlertTest, asked.today);
        let stands =
            standing.filter(|one| one.begins(salon.time_zone) <= latest && one.date >= first).and_then(|one| {
                let (day, slot) = grid.slot_of(salon, one.date, one.time)?;
                let stylist = salon.stylists.iter().position(|stylist| stylist.code == one.stylist)?;
                let choice = choice(day, stylist, Some(slot));
                self.room.first_start(&choice).map(|start| (choice, start))
            });
        let days = (0..grid.days.len()).rev().filter(|day| (first..=date).contains(&grid.days[*day]));
        let found = stands.or_else(|| {
            days.flat_map(|day| stylists.iter().map(move |stylist| (day, *stylist))).find_map(|(day, stylist)| {
                let general = choice(day, stylist, None);
                let starts = self.room.starts(&general).into_iter();
                let mut in_time = starts.filter(|start| grid.start(day, *start) <= latest);
                in_time.find(|start| self.room.fits(&general, *start)).map(|start| (general, start))
            })
        });
        let (choice, start) = found?;
        self.room.put(&choice, start);
        let day = choice.day as usize;
        Some(Proposal {
            client: due.client.clone(),
            purpose: Purpose::AlertTest,
            kind: Kind::AlertTest,
            date: grid.days[day],
            time: local(grid.start(day, start), salon.time_zone).time(),
            stylist: salon.stylists[choice.stylist as usize].code.clone(),
            spans,
        })
    }
}

fn short(unfitted: &[Unfitted]) -> Vec<ShortWeek> {
    let mut weeks: BTreeMap<NaiveDate, ShortWeek> = BTreeMap::new();
    for one in unfitted {
        let week = weeks.entry(one.week).or_insert(ShortWeek { week: one.week, minutes: 0, visits: 0 });
        week.minutes += u32::from(one.minutes);
        week.visits += 1;
    }
    weeks.into_values().collect()
}
