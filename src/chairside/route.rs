//! Which page answers which address.

use super::house::House;
use super::reply::{Asked, Reply};
use super::{asked_first, board, book, client, correct, done, finish, home, page, story, visit};

/// Answers what was asked.
pub(super) fn route(house: &House, asked: &Asked) -> Reply {
    let path: Vec<&str> = asked.path.iter().map(String::as_str).collect();
    match (path.as_slice(), asked.posted.is_some()) {
        ([], false) => home::home(house, asked),
        (["door"], true) => Reply::go("/"),
        (["client"], false) => client::empty(house, asked),
        (["client"], true) => client::new(house, asked),
        (["start", code], true) => visit::start(house, code),
        (["visit", id], false) => visit::show(house, asked, id),
        (["visit", id, "change"], true) => visit::change(house, asked, id),
        (["visit", id], true) => match asked.field("do") {
            "finish" | "mine" | "theirs" => finish::finish(house, asked, id),
            _ => visit::press(house, asked, id),
        },
        (["done", code], false) => done::done(house, asked, code),
        (["done", code], true) => done::book(house, asked, code),
        (["board"], false) => board::shown(house, "board.html"),
        (["sheets.html"], false) => board::shown(house, "sheets.html"),
        (["book"], false) => book::book(house, asked),
        (["book"], true) => book::press(house, asked),
        (["story", code], false) => story::story(house, asked, code),
        (["correct", code], true) => correct::begin(house, asked, code),
        (["story", code, wish], posted) => match asked_first::Wish::named(wish) {
            Some(wish) if posted => asked_first::act(house, asked, code, wish),
            Some(wish) => asked_first::ask(house, asked, code, wish),
            None => nothing_there(),
        },
        (["card", code], false) => done::card(house, code, false),
        (["card", code, "small"], false) => done::card(house, code, true),
        _ => nothing_there(),
    }
}

fn nothing_there() -> Reply {
    page::plain(404, "There is no such page", "Nothing was changed.")
}
