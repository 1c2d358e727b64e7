//! The first page: who is in the chair. Drafts that wait, and every client.

use serde_json::json;

use crate::plan::day_in_words;

use super::draft;
use super::house::House;
use super::page;
use super::reply::{Asked, Reply, words_of};

/// The first page.
pub(super) fn home(house: &House, asked: &Asked) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let wanted = asked.query.get("find").map_or("", |text| text.trim()).to_lowercase();
    let name = |code: &str| {
        opened.clients.get(code).and_then(|known| known.client.first_name.clone()).unwrap_or_else(|| code.to_owned())
    };
    let drafts: Vec<_> = draft::all(house)
        .into_iter()
        .map(|draft| json!({ "id": draft.id, "code": draft.client, "name": name(&draft.client), "begun": draft.begun.parse().map_or_else(|_| draft.begun.clone(), day_in_words) }))
        .collect();
    let mut clients: Vec<_> = opened
        .clients
        .values()
        .filter(|known| {
            let first = known.client.first_name.as_deref().unwrap_or_default().to_lowercase();
            wanted.is_empty() || known.client.code.as_str().contains(&wanted) || first.contains(&wanted)
        })
        .collect();
    clients.sort_by_key(|known| {
        (std::cmp::Reverse(known.visits.last().map(|visit| visit.date)), known.client.code.clone())
    });
    let found = clients.len();
    let shown: Vec<_> = clients
        .into_iter()
        .take(60)
        .map(|known| {
            let latest = known.visits.iter().rev().find(|visit| !visit.placements.is_empty());
            let colour = latest.and_then(|visit| visit.placements.first()?.zones.first()?.colour.as_ref());
            json!({
                "code": known.client.code.as_str(),
                "name": known.client.first_name,
                "last": known.visits.last().map(|visit| day_in_words(visit.date)),
                "hex": colour.map(|colour| crate::science::colour::srgb::from_lab(colour.lab).to_hex()),
            })
        })
        .collect();
    let faults: Vec<String> = opened.read.report.files_at_fault().into_iter().map(str::to_owned).collect();
    let today = house.today(&opened).format("%A %-d %B").to_string();
    page::page(
        200,
        "home.html",
        &json!({
            "title": "Who is in the chair?", "csrf": asked.session.csrf, "today": today, "find": wanted, "drafts": drafts,
            "clients": shown, "more": found.saturating_sub(60), "faults": faults,
            "salon": opened.house().map(|(salon, _)| salon.name.clone()),
        }),
    )
}
