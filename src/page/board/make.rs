//! The board, made: week by week, stylist by stylist.
//!
//! In: [`BoardSources`]. Out: [`Board`]. Knows nothing of: how a visit is drawn.

use chrono::{Datelike, Days, NaiveDate};

use super::{Board, BoardSources, Cell, Day, Key, Row, Week, chart, slot};
use crate::page::mood::mood;
use crate::page::words::Dates;
use crate::schedule::demand::{demand, hours};
use crate::schedule::diary::{Appointment, NotThere, State, Stretch, local, not_there, working};
use crate::schedule::fit::{Why, monday};
use crate::science::colour::srgb::Srgb;

/// The board of some weeks.
#[must_use]
pub fn board(sources: &BoardSources<'_>) -> Board {
    let BoardSources { salon, words, span: (today, weeks), .. } = *sources;
    let dates = Dates { words, year: today.year() };
    let first = monday(today);
    let mondays = (0..=u64::from(weeks)).filter_map(|week| first.checked_add_days(Days::new(week * 7)));
    let last = today.checked_add_days(Days::new(u64::from(weeks) * 7)).unwrap_or(today);
    let key = ["booked", "proposed", "consultation", "hands-on", "developing", "buffer"];
    let keys =
        ["board.booked", "board.proposed", "board.consultation", "board.hands-on", "board.developing", "board.buffer"];
    Board {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern("board.title"),
        mood: mood(None, salon.accent.as_deref().and_then(Srgb::from_hex)),
        salon: salon.name.clone(),
        made: words.say("board.made", &[("date", &dates.whole(today))]),
        notes_heading: words.pattern("board.notes"),
        notes: notes(sources, dates),
        key: key.into_iter().zip(keys).map(|(mark, key)| Key { mark, words: words.pattern(key) }).collect(),
        weeks: mondays.filter(|monday| *monday <= last).map(|monday| week(sources, monday, dates)).collect(),
        stylist_label: words.pattern("board.stylist"),
        load_label: words.pattern("board.load"),
        chart: chart::chart(&demand(sources.due, &sources.book.diary, salon, today), words, dates),
    }
}

/// The appointments of a day that take time.
fn of_day<'a>(sources: &BoardSources<'a>, day: NaiveDate) -> impl Iterator<Item = &'a Appointment> {
    let all = sources.book.diary.appointments.iter();
    all.filter(move |one| one.date == day && one.state != State::Cancelled)
}

fn week(sources: &BoardSources<'_>, monday: NaiveDate, dates: Dates<'_>) -> Week {
    let (salon, words) = (sources.salon, sources.words);
    let all: Vec<NaiveDate> = (0..7).filter_map(|day| monday.checked_add_days(Days::new(day))).collect();
    // A weekday on which the salon never opens is not shown, unless something stands on it.
    let usual = |day: NaiveDate| salon.hours.iter().any(|hours| hours.day == day.weekday());
    let days: Vec<NaiveDate> =
        all.into_iter().filter(|day| usual(*day) || of_day(sources, *day).next().is_some()).collect();
    let heading = words.say("board.week", &[("date", &dates.day(monday))]);
    let open =
        days.iter().any(|day| salon.open_on(*day)) || days.iter().any(|day| of_day(sources, *day).next().is_some());
    if !open {
        let closed = Some(words.pattern("board.closed-week"));
        return Week { heading, days: Vec::new(), rows: Vec::new(), closed };
    }
    let rows = salon.stylists.iter().map(|stylist| Row {
        stylist: stylist.name.clone(),
        cells: days
            .iter()
            .map(|day| {
                let own = of_day(sources, *day).filter(|one| one.stylist == stylist.code);
                let mut own: Vec<&Appointment> = own.collect();
                own.sort_by_key(|one| (one.time, one.number));
                let busy = busy(sources, &stylist.code, *day, &working(salon, stylist, *day));
                let absent = not_there(salon, stylist, *day).map(|why| words.pattern(absent_key(why)));
                Cell {
                    day: dates.weekday(*day),
                    empty: own.is_empty() && busy.is_empty() && absent.is_none(),
                    absent,
                    busy,
                    slots: own.into_iter().map(|one| slot::slot(sources, one)).collect(),
                }
            })
            .collect(),
    });
    Week { heading, rows: rows.collect(), days: days.iter().map(|at| day(sources, *at, dates)).collect(), closed: None }
}

/// What another calendar takes of the hours a stylist works on a day, stretches that touch told as one.
fn busy(sources: &BoardSources<'_>, stylist: &str, day: NaiveDate, worked: &[Stretch]) -> Vec<String> {
    let zone = sources.salon.time_zone;
    let mut taken: Vec<Stretch> =
        sources.busy.of(stylist).filter(|one| worked.iter().any(|of| of.meets(*one))).collect();
    taken.sort();
    let mut joined: Vec<Stretch> = Vec::new();
    for one in taken {
        match joined.last_mut().filter(|last| one.from <= last.to) {
            Some(last) => last.to = last.to.max(one.to),
            None => joined.push(one),
        }
    }
    let clock = |minute| {
        let at = local(minute, zone);
        (at.date(), at.format("%H:%M").to_string())
    };
    let told = joined.into_iter().map(|one| {
        let (from, to) = (clock(one.from), clock(one.to));
        if worked.iter().all(|of| one.from <= of.from && of.to <= one.to) {
            return sources.words.pattern("board.busy-all-day");
        }
        // An event from the day before or into the next one is told as far as it lies on this day.
        let from = if from.0 < day { "00:00".to_owned() } else { from.1 };
        let to = if to.0 > day { "24:00".to_owned() } else { to.1 };
        let time = sources.words.say("board.from-to", &[("from", &from), ("to", &to)]);
        sources.words.say("board.busy", &[("time", &time)])
    });
    told.collect()
}

fn day(sources: &BoardSources<'_>, day: NaiveDate, dates: Dates<'_>) -> Day {
    let taken: u32 = of_day(sources, day).map(|one| u32::from(one.spans.occupied())).sum();
    let (taken, worked) = (f64::from(taken) / 60.0, hours(sources.salon, day));
    let places = [("taken", &*chart::told(taken)), ("worked", &*chart::told(worked))];
    Day {
        label: dates.weekday(day),
        load: sources.words.say("board.hours-of", &places),
        load_svg: chart::load_bar(taken, worked),
    }
}

const fn absent_key(why: NotThere) -> &'static str {
    match why {
        NotThere::ClosedDays | NotThere::ClosedWeekday => "board.closed",
        NotThere::DayOff => "board.day-off",
        NotThere::Away => "board.away",
        NotThere::Left => "board.left",
    }
}

/// What needs a person, the most pressing first.
fn notes(sources: &BoardSources<'_>, dates: Dates<'_>) -> Vec<String> {
    let (words, book) = (sources.words, sources.book);
    let mut notes = Vec::new();
    for (one, why) in &book.broken {
        let (date, why) = (dates.weekday(one.date), words.pattern(absent_key(*why)));
        notes.push(words.say("board.to-move", &[("client", one.client.as_str()), ("date", &date), ("why", &why)]));
    }
    for one in &book.unfitted {
        let why = words.pattern(match one.why {
            Why::NobodyDoesIt => "board.nobody",
            Why::NoDay => "board.no-day",
            Why::Full => "board.full",
            Why::NoTest => "board.no-test",
        });
        let (week, minutes) = (dates.day(one.week), one.minutes.to_string());
        let places = [("client", one.client.as_str()), ("week", &*week), ("minutes", &*minutes), ("why", &*why)];
        notes.push(words.say("board.unfitted", &places));
    }
    for (client, from, to) in &book.reassigned {
        let places = [("client", client.as_str()), ("from", from.as_str()), ("to", to.as_str())];
        notes.push(words.say("board.reassigned", &places));
    }
    notes
}
