//! The book at the chair: today and the days after it, yes, move, call off, and who could take a time that came free.
//!
//! In: the diary. Out: pages, and the diary after a change. Knows nothing of: visits being written.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate, NaiveTime};
use serde_json::{Value, json};

use crate::pipeline;
use crate::schedule::diary::{self, Appointment, Candidate, Change, Desk, Purpose, State};
use crate::schedule::due::of_client;
use crate::units::Worded;
use crate::workspace::{self, BOOKINGS_FILE, Failure};

use super::ahead::day;
use super::house::{House, Opened};
use super::page;
use super::reply::{Asked, Reply, words_of};

/// Days shown: four weeks.
const SHOWN: Days = Days::new(28);

/// The book.
pub(super) fn book(house: &House, asked: &Asked) -> Reply {
    match house.again() {
        Ok(opened) => shown(house, asked, &opened, (200, "")),
        Err(failure) => page::plain(500, "The salon cannot be read", &words_of(&failure)),
    }
}

fn shown(house: &House, asked: &Asked, opened: &Opened, (status, refused): (u16, &str)) -> Reply {
    let (Some((salon, _)), Some(kept)) = (opened.house(), &opened.read.diary) else {
        return page::plain(
            500,
            "The book cannot be read",
            "Run afterhue check: the salon's own files have to be put right first.",
        );
    };
    let today = house.today(opened);
    let name = |code: &str| {
        opened.clients.get(code).and_then(|known| known.client.first_name.clone()).unwrap_or_else(|| code.to_owned())
    };
    let stylist = |code: &str| {
        salon.stylists.iter().find(|one| one.code == code).map_or_else(|| code.to_owned(), |one| one.name.clone())
    };
    let last = today.checked_add_days(SHOWN).unwrap_or(today);
    let mut days: BTreeMap<NaiveDate, Vec<&Appointment>> = [(today, Vec::new())].into();
    for one in
        kept.appointments.iter().filter(|one| one.state != State::Cancelled && (today..=last).contains(&one.date))
    {
        days.entry(one.date).or_default().push(one);
    }
    let days: Vec<Value> = days
        .into_iter()
        .map(|(date, mut all)| {
            all.sort_by(|one, other| (one.time, &one.stylist).cmp(&(other.time, &other.stylist)));
            let rows: Vec<Value> = all
                .into_iter()
                .map(|one| {
                    json!({ "code": one.client.as_str(), "name": name(one.client.as_str()), "time": one.time.format("%H:%M").to_string(),
                            "date": date.to_string(), "with": stylist(&one.stylist), "minutes": one.spans.occupied(),
                            "what": if one.purpose == Purpose::AlertTest { "alert test" } else { one.kind.word() },
                            "proposed": one.state == State::Proposed, "visit": one.purpose == Purpose::Visit,
                            "stylist": one.stylist })
                })
                .collect();
            json!({ "day": if date == today { format!("Today, {}", day(date)) } else { day(date) }, "rows": rows })
        })
        .collect();
    let fill = free_time(asked, opened, today);
    let data = json!({ "title": "The book", "csrf": asked.session.csrf, "days": days, "refused": refused, "unknown": opened.busy.as_ref().err(), "fill": fill, "today": today.to_string(),
                       "date": asked.query.get("date"), "time": asked.query.get("time"), "minutes": asked.query.get("minutes") });
    // The board is a page of its own, shown in a frame.
    let policy = Some(format!("{}; frame-src 'self'", page::POLICY));
    Reply { policy, ..page::page(status, "book.html", &data) }
}

/// Who could take a free time, when one was asked for.
fn free_time(asked: &Asked, opened: &Opened, today: NaiveDate) -> Option<Value> {
    let asked_for = |name: &str| asked.query.get(name).map(|text| text.trim());
    let date: NaiveDate = asked_for("date")?.parse().ok()?;
    let time = NaiveTime::parse_from_str(asked_for("time")?, "%H:%M").ok()?;
    let minutes: u16 = asked_for("minutes")?.parse().ok()?;
    let ((salon, _), kept) = opened.house().zip(opened.read.diary.as_ref())?;
    let due = pipeline::due_list(&opened.read, salon, kept, today);
    let busy = opened.busy.as_ref().ok()?;
    let desk = Desk { salon, due: &due, diary: kept, busy, today };
    let found = diary::fill(&desk, &opened.read.histories, (date, time), minutes);
    let told = |one: &Candidate| {
        let known = opened.clients.get(one.client.as_str());
        json!({ "code": one.client.as_str(), "name": known.and_then(|known| known.client.first_name.clone()),
                "phone": known.and_then(|known| known.client.contact.phone.clone()), "stylist": one.stylist,
                "minutes": one.spans.occupied(), "why": one.against() })
    };
    let (ask, not): (Vec<&Candidate>, Vec<&Candidate>) = found.iter().partition(|one| one.not_offered.is_empty());
    Some(json!({ "day": day(date), "date": date.to_string(), "time": time.format("%H:%M").to_string(),
                 "ask": ask.into_iter().map(told).collect::<Vec<_>>(), "not": not.into_iter().map(told).collect::<Vec<_>>() }))
}

/// A change of the book; afterwards `on` is where to go.
pub(super) fn change(
    house: &House,
    asked: &Asked,
    on: &str,
    again: impl FnOnce(&Opened, (u16, &str)) -> Reply,
) -> Reply {
    let Some(wish) = wish(asked) else {
        return page::plain(400, "Nothing was changed", "That is no day and time. Go back and choose one.");
    };
    match write(house, &wish) {
        Ok(None) => match house.rebuild() {
            Ok(_) => Reply::go(on),
            Err(why) => page::plain(500, "It is booked, but the page is not written", &why),
        },
        Ok(Some(why)) => match house.again() {
            Ok(opened) => again(&opened, (409, &why)),
            Err(failure) => page::plain(500, "The salon cannot be read", &words_of(&failure)),
        },
        Err(failure) => page::plain(500, "Nothing was changed", &words_of(&failure)),
    }
}

/// A change from the book's own page.
pub(super) fn press(house: &House, asked: &Asked) -> Reply {
    change(house, asked, "/book", |opened, refused| shown(house, asked, opened, refused))
}

fn wish(asked: &Asked) -> Option<Change> {
    let client = asked.field("client").to_owned();
    let date = asked.field("date").parse().ok()?;
    let time = || NaiveTime::parse_from_str(asked.field("time"), "%H:%M").ok();
    let stylist = Some(asked.field("stylist").to_owned()).filter(|stylist| !stylist.is_empty());
    Some(match asked.field("do") {
        "accept" => Change::Accept { client, date, time: time()?, stylist },
        "move" => Change::Move { client, date, time: time()?, stylist: None },
        "cancel" => Change::Cancel { client, date },
        _ => return None,
    })
}

/// Makes the change under the salon's lock; gives why not, when the desk refuses.
fn write(house: &House, wish: &Change) -> Result<Option<String>, Failure> {
    let _lock = workspace::lock(&house.folder, || {})?;
    let opened = house.again()?;
    let today = house.today(&opened);
    let (Some((salon, _)), Some(kept)) = (opened.house(), &opened.read.diary) else {
        return Ok(Some("the salon's own files have to be put right first".to_owned()));
    };
    let own = opened.read.histories.iter().find(|history| history.client.code.as_str() == wish.client());
    let due: Vec<_> = own.map(|history| of_client(history, salon, kept, today)).into_iter().collect();
    let busy = match &opened.busy {
        Ok(busy) => busy,
        Err(why) => return Ok(Some(why.clone())),
    };
    let desk = Desk { salon, due: &due, diary: kept, busy, today };
    match diary::change(&desk, wish) {
        Ok((changed, _)) => {
            let before = opened.texts.bookings.as_ref().map(|old| old.text.as_str());
            let path = house.folder.join(BOOKINGS_FILE);
            workspace::store_unless_changed(&path, before, changed.to_text().as_bytes())?;
            Ok(None)
        }
        Err(refusal) => Ok(Some(refusal.why)),
    }
}
