//! A thousand random salons with the demo's clients: nobody double-booked, nothing outside anybody's hours.

use std::collections::BTreeSet;
use std::path::Path;

use afterhue::pipeline;
use afterhue::salon::{OpenHours, Pause, Salon};
use afterhue::schedule::diary::{Appointment, Busy, Diary, Purpose, State, Stretch, local, minute_of};
use afterhue::schedule::fit::{Book, Effort};
use afterhue::workspace::read_folder;
use chrono::{Datelike, Days, NaiveDate, NaiveTime, Timelike, Weekday};

use crate::dice::Dice;

const WEEKS: u32 = 4;
const LITTLE: Effort<'static> = Effort { rounds: 40, packings: 10, attempts: 1_500, nodes: 1_000, stop: &|| false };

fn time(minutes: usize) -> NaiveTime {
    NaiveTime::from_num_seconds_from_midnight_opt(minutes as u32 * 60, 0).expect("a time of day")
}

const WEEK: [Weekday; 7] =
    [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun];

/// The demo's house with other hours, people, chairs and rules.
fn random_salon(demo: &Salon, today: NaiveDate, dice: &mut Dice) -> Salon {
    let mut salon = demo.clone();
    let some = |dice: &mut Dice, odds: usize| dice.below(odds) == 0;
    salon.time_zone =
        [chrono_tz::Europe::London, chrono_tz::America::New_York, chrono_tz::Australia::Lord_Howe][dice.below(3)];
    let hours = |day: Weekday, dice: &mut Dice| {
        let (open, close) = (7 * 60 + dice.below(12) * 15, 14 * 60 + dice.below(24) * 15);
        (dice.below(4) > 0).then(|| OpenHours { day, open: time(open), close: time(close) })
    };
    salon.hours = WEEK.into_iter().filter_map(|day| hours(day, dice)).collect();
    let span = |dice: &mut Dice| {
        let from = today + Days::new(dice.below(28) as u64);
        (from, from + Days::new(dice.below(5) as u64))
    };
    salon.closures = (0..dice.below(3)).map(|_| span(dice)).collect();
    salon.chairs = 1 + dice.below(4) as u16;
    salon.book.share_developing = some(dice, 2);
    salon.book.step = [5, 10, 15, 20, 30][dice.below(5)];
    let people = 1 + dice.below(salon.stylists.len());
    salon.stylists.truncate(people);
    for stylist in &mut salon.stylists {
        stylist.days = WEEK.iter().copied().filter(|_| dice.below(3) > 0).collect();
        stylist.absences = (0..dice.below(2)).map(|_| span(dice)).collect();
        stylist.leaves = some(dice, 6).then(|| today + Days::new(dice.below(28) as u64));
        let own = |day: Weekday, dice: &mut Dice| {
            let close = time(16 * 60 + dice.below(8) * 15);
            (dice.below(6) == 0).then(|| OpenHours { day, open: time(10 * 60), close })
        };
        stylist.hours = WEEK.into_iter().filter_map(|day| own(day, dice)).collect();
        stylist.pauses = if some(dice, 2) {
            Vec::new()
        } else {
            WEEK.map(|day| Pause { day, from: time(780), to: time(810) }).to_vec()
        };
    }
    salon
}

fn random_busy(salon: &Salon, today: NaiveDate, dice: &mut Dice) -> Busy {
    let stretch = |dice: &mut Dice| {
        let from =
            minute_of(today + Days::new(dice.below(28) as u64), time(8 * 60 + dice.below(40) * 15), salon.time_zone);
        Stretch { from, to: from + 30 + dice.below(20) as i64 * 15 }
    };
    let mut busy = Busy { house: (0..dice.below(3)).map(|_| stretch(dice)).collect(), ..Busy::default() };
    for stylist in &salon.stylists {
        busy.stylists.insert(stylist.code.clone(), (0..dice.below(4)).map(|_| stretch(dice)).collect());
    }
    busy
}

/// Minutes of the day that one appointment takes of a chair and of a stylist's hands, counted anew from its spans.
fn minutes(one: &Appointment, share: bool) -> (std::ops::Range<u32>, BTreeSet<u32>) {
    let from = one.time.num_seconds_from_midnight() / 60;
    let of = &one.spans;
    let first = u32::from(of.consultation + of.hands_on);
    let developing = first..first + u32::from(of.developing);
    let whole = developing.end + u32::from(of.finishing + of.buffer);
    let free = |minute: &u32| share && !of.lightener && developing.contains(minute);
    (from..from + whole, (0..whole).filter(|minute| !free(minute)).map(|minute| from + minute).collect())
}

fn assert_sound(salon: &Salon, busy: &Busy, book: &Book, today: NaiveDate, which: usize) {
    let taking: Vec<&Appointment> = book
        .diary
        .appointments
        .iter()
        .filter(|one| one.state != State::Cancelled && one.date >= today)
        .filter(|one| !book.broken.iter().any(|(other, _)| other.number == one.number))
        .collect();
    for one in &taking {
        let stylist = salon.stylists.iter().find(|other| other.code == one.stylist).expect("somebody who works here");
        let day = one.date.weekday();
        let (whole, hands) = minutes(one, salon.book.share_developing);
        let within = |list: &[(NaiveDate, NaiveDate)]| list.iter().any(|(from, to)| (*from..=*to).contains(&one.date));
        let place = format!("salon {which}: {} on {} {}", one.client, one.date, one.time);
        assert!(!within(&salon.closures) && !within(&stylist.absences), "{place}: closed or away");
        assert!(stylist.days.is_empty() || stylist.days.contains(&day), "{place}: a day off");
        assert!(stylist.leaves.is_none_or(|last| one.date <= last), "{place}: left");
        let covers = |hours: &&OpenHours| {
            let minute = |time: NaiveTime| time.num_seconds_from_midnight() / 60;
            hours.day == day && minute(hours.open) <= whole.start && whole.end <= minute(hours.close)
        };
        assert!(salon.hours.iter().any(|hours| covers(&hours)), "{place}: outside opening hours");
        let own: Vec<&OpenHours> = stylist.hours.iter().filter(|hours| hours.day == day).collect();
        assert!(own.is_empty() || own.into_iter().any(|hours| covers(&hours)), "{place}: outside own hours");
        for pause in stylist.pauses.iter().filter(|pause| pause.day == day) {
            let at = pause.from.num_seconds_from_midnight() / 60..pause.to.num_seconds_from_midnight() / 60;
            assert!(!hands.iter().any(|minute| at.contains(minute)), "{place}: in a break");
        }
        for taken in busy.of(&one.stylist) {
            let at = |minute: i64| {
                let at = local(minute, salon.time_zone);
                (at.date(), at.time().num_seconds_from_midnight() / 60)
            };
            let meets = |minute: &u32| (one.date, *minute) >= at(taken.from) && (one.date, *minute) < at(taken.to);
            assert!(one.state == State::Booked || !hands.iter().any(meets), "{place}: busy elsewhere");
        }
        for other in taking.iter().filter(|other| other.number != one.number && other.date == one.date) {
            let (_, theirs) = minutes(other, salon.book.share_developing);
            let same = other.stylist == one.stylist && !hands.is_disjoint(&theirs);
            assert!(!same, "{place}: {} is with {} at the same time", one.stylist, other.client);
        }
        // The count can only rise where a visit begins, and every visit begins on a multiple of five minutes.
        for minute in whole.step_by(5) {
            let seated = taking.iter().filter(|other| other.date == one.date);
            let seated = seated.filter(|other| minutes(other, false).0.contains(&minute)).count();
            assert!(seated <= usize::from(salon.chairs), "{place}: {seated} clients on {} chairs", salon.chairs);
        }
    }
    for one in taking.iter().filter(|one| one.purpose == Purpose::AlertTest) {
        let visit = taking.iter().find(|other| other.client == one.client && other.purpose == Purpose::Visit);
        let hours = visit.map(|visit| (visit.begins(salon.time_zone) - one.begins(salon.time_zone)) / 60);
        assert!(
            hours.is_none_or(|hours| hours >= 48),
            "salon {which}: the test of {} is {hours:?} hours before",
            one.client
        );
    }
}

#[test]
fn nobody_is_double_booked_in_a_thousand_random_salons() {
    let texts = read_folder(&Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo")).expect("the demo");
    let read = pipeline::read(&texts);
    let (demo, _) = read.house.as_ref().expect("a salon without fault");
    let mut dice = Dice(23);
    let (mut proposed, mut unfitted, mut booked) = (0, 0, 0);
    // Three days from which clock changes, Christmas and plain weeks lie ahead.
    for (turn, today) in ["2026-11-25", "2026-10-20", "2027-03-10"].into_iter().enumerate() {
        let today: NaiveDate = today.parse().expect("a day");
        let due = pipeline::due_list(&read, demo, &Diary::default(), today);
        for which in (turn * 334)..(turn * 334 + 334) {
            let salon = random_salon(demo, today, &mut dice);
            let busy = random_busy(&salon, today, &mut dice);
            let book = pipeline::fitted(&salon, &due, &Diary::default(), &busy, (today, WEEKS), &LITTLE);
            assert_sound(&salon, &busy, &book, today, which);
            unfitted += book.unfitted.len();
            // Half of them say yes, then it is fitted again with other busy times.
            let mut diary = book.diary;
            for one in &mut diary.appointments {
                if dice.below(2) == 0 {
                    one.state = State::Booked;
                }
            }
            booked += diary.appointments.iter().filter(|one| one.state == State::Booked).count();
            let busy = random_busy(&salon, today, &mut dice);
            let again = pipeline::fitted(&salon, &due, &diary, &busy, (today, WEEKS), &LITTLE);
            assert_sound(&salon, &busy, &again, today, which);
            proposed += again.diary.appointments.len();
            for one in diary.appointments.iter().filter(|one| one.state == State::Booked) {
                assert!(again.diary.appointments.contains(one), "salon {which}: a booking was changed by a fit");
            }
        }
    }
    // Enough must have been asked for, or the check shows nothing.
    assert!(proposed > 5_000 && unfitted > 1_000 && booked > 3_000, "{proposed} {unfitted} {booked}");
}
