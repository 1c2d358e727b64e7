//! After the visit: the code to scan, the message, the next visit booked with one tap, the card to print.
//!
//! In: a client's code. Out: pages. Knows nothing of: drafts.

use serde_json::json;

use crate::page::message::message;
use crate::page::qr::Qr;
use crate::page::words::clock;
use crate::pipeline;
use crate::record::{ClientCode, History};
use crate::schedule::diary::Purpose;
use crate::schedule::due::of_client;

use super::ahead::day;
use super::house::{House, Opened};
use super::offer::offers;
use super::reply::{Asked, Reply, words_of};
use super::{book, page};

fn history<'a>(opened: &'a Opened, code: &str) -> Option<&'a History> {
    opened.read.histories.iter().find(|history| history.client.code.as_str() == code)
}

/// The page to turn round to the client.
pub(super) fn done(house: &House, asked: &Asked, code: &str) -> Reply {
    match house.looked_at() {
        Ok(opened) => shown(house, asked, &opened, code, (200, "")),
        Err(failure) => page::plain(500, "The salon cannot be read", &words_of(&failure)),
    }
}

fn shown(house: &House, asked: &Asked, opened: &Opened, code: &str, (status, refused): (u16, &str)) -> Reply {
    let (Some(history), Some((salon, _)), Some(kept)) = (history(opened, code), opened.house(), &opened.read.diary)
    else {
        return page::plain(
            404,
            "There is no page of that client",
            "Either there is no visit yet, or a file of this client is at fault.",
        );
    };
    let today = house.today(opened);
    let words = pipeline::words(&history.shareable(), salon);
    let link = pipeline::link_of(&history.client, salon, &opened.secret);
    let message = message(&salon.name, &link, words);
    let due = of_client(history, salon, kept, today);
    let booked = kept.ahead(&due.client, Purpose::Visit, today);
    let free = match &opened.busy {
        _ if booked.is_some() => Vec::new(),
        Ok(busy) => offers(&due, salon, kept, busy, today),
        Err(_) => Vec::new(),
    };
    let free: Vec<_> = free
        .into_iter()
        .map(|offer| {
            let best = due.next().is_some_and(|visit| visit.window.best == offer.date);
            json!({ "date": offer.date.to_string(), "time": offer.time.format("%H:%M").to_string(), "stylist": offer.stylist,
                    "with": offer.with, "day": day(offer.date), "clock": clock(words, offer.time), "best": best })
        })
        .collect();
    let name = history.client.first_name.clone().unwrap_or_else(|| code.to_owned());
    let expired = pipeline::last_day(history, salon) < today;
    let contact = &history.client.contact;
    let data = json!({
        "title": format!("Done: {name}"), "csrf": asked.session.csrf, "code": code, "name": name, "address": link.address,
        "qr": Qr::of(&link.address).map(|code| code.svg("The code of this client's page")),
        "text": message.text, "sms": contact.phone.as_ref().map(|phone| message.sms(phone)),
        "mailto": contact.email.as_ref().map(|email| message.mailto(email)), "long": message.too_long(),
        "booked": booked.map(|one| format!("{} at {}", day(one.date), clock(words, one.time))),
        "offers": free, "window": due.next().map(|visit| format!("{} to {}, best {}", day(visit.window.earliest), day(visit.window.latest), day(visit.window.best))),
        "held": due.held.is_some(), "unknown": opened.busy.as_ref().err(), "refused": refused, "expired": expired,
    });
    page::page(status, "done.html", &data)
}

/// Books an offered time.
pub(super) fn book(house: &House, asked: &Asked, code: &str) -> Reply {
    let on = format!("/done/{code}");
    book::change(house, asked, &on, |opened, refused| shown(house, asked, opened, code, refused))
}

/// The card to print, on A6 or small, with the policy its own head names.
pub(super) fn card(house: &House, code: &str, small: bool) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let found = ClientCode::try_new(code).and_then(|_| history(&opened, code)).zip(opened.house());
    let Some((history, (salon, theme))) = found else {
        return page::plain(404, "There is no card of that client", "There is no visit yet.");
    };
    let card_of = if small { pipeline::small_card_of } else { pipeline::card_of };
    match card_of(history, &opened.read, salon, theme, &opened.secret) {
        Ok(html) => page::of_theme(html, "'none'"),
        Err(fault) => page::plain(500, "The card cannot be made", &fault.message),
    }
}
