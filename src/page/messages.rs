//! Messages to send, one row each: neutral facts of a service, at most 160 characters of the GSM alphabet. No health fact.
//!
//! In: the diary, histories, the salon, today. Out: [`Message`]s. Knows nothing of: who sends them.
//!
//! A reminder goes out about 7 days and the day before (common practice). An offer of a time nobody asked for is promotion and needs recorded consent
//! (the UK regulator on messages of a regulatory or service nature). A check-in goes out 2 and 7 days after lightening, because burns can show days later.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};

use super::gsm::{GSM_LENGTH, length, plain};
use super::words::{Dates, Words, clock};
use crate::record::{ClientCode, History};
use crate::salon::Salon;
use crate::schedule::diary::{Appointment, Diary, Purpose, State};

/// One message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// The day to send it.
    pub send_on: NaiveDate,
    /// The client's code.
    pub client: ClientCode,
    /// Phone, else empty.
    pub phone: String,
    /// E-mail, else empty.
    pub email: String,
    /// "reminder", "short visit", "offer" or "check-in".
    pub kind: &'static str,
    /// The text.
    pub text: String,
}

/// The messages to send from a day on, by day and client. A client without phone and e-mail gets none.
#[must_use]
pub fn messages(
    histories: &[History],
    diary: &Diary,
    salon: &Salon,
    today: NaiveDate,
    words: &dyn Words,
) -> Vec<Message> {
    let by_code: BTreeMap<&ClientCode, &History> = histories.iter().map(|one| (&one.client.code, one)).collect();
    let writer = Writer { salon, words, today };
    let mut found: Vec<Message> = Vec::new();
    for one in diary.appointments.iter().filter(|one| one.date >= today && one.state != State::Cancelled) {
        if let Some(history) = by_code.get(&one.client) {
            found.extend(writer.of_appointment(one, history));
        }
    }
    found.extend(histories.iter().flat_map(|history| writer.check_ins(history)));
    found.retain(|message| message.send_on >= today && !(message.phone.is_empty() && message.email.is_empty()));
    found.sort_by(|one, other| (one.send_on, &one.client, one.kind).cmp(&(other.send_on, &other.client, other.kind)));
    found
}

struct Writer<'a> {
    salon: &'a Salon,
    words: &'a dyn Words,
    today: NaiveDate,
}

impl Writer<'_> {
    fn of_appointment(&self, one: &Appointment, history: &History) -> Vec<Message> {
        let before = |days: u64| one.date.checked_sub_days(Days::new(days)).unwrap_or(one.date);
        let dates = Dates { words: self.words, year: self.today.year() };
        let (date, time) = (dates.weekday(one.date), clock(self.words, one.time));
        let places = [("date", &*date), ("time", &*time)];
        match (one.state, one.purpose) {
            (State::Booked, Purpose::Visit) => vec![
                self.message(history, before(7), "reminder", "messages.week-before", &places),
                self.message(history, before(1), "reminder", "messages.day-before", &places),
            ],
            (State::Booked, Purpose::AlertTest) => {
                vec![self.message(history, before(1), "short visit", "messages.short-visit", &places)]
            }
            (State::Proposed, Purpose::Visit) if history.client.consents.marketing.is_some() => {
                let send = before(14).max(self.today);
                vec![self.message(history, send, "offer", "messages.offer", &places)]
            }
            _ => Vec::new(),
        }
    }

    fn check_ins(&self, history: &History) -> Vec<Message> {
        let lightened = history
            .visits
            .iter()
            .rev()
            .find(|visit| visit.placements.iter().any(|placement| !placement.lightening.is_empty()));
        let Some(visit) = lightened else { return Vec::new() };
        let after = |days: u64| visit.date.checked_add_days(Days::new(days));
        let bare: &[(&str, &str)] = &[];
        let days = [2, 7].into_iter().filter_map(after);
        days.map(|day| self.message(history, day, "check-in", "messages.check-in", bare)).collect()
    }

    fn message(
        &self,
        history: &History,
        send_on: NaiveDate,
        kind: &'static str,
        key: &str,
        places: &[(&str, &str)],
    ) -> Message {
        let contact = &history.client.contact;
        let phone = self.salon.contact.phone.as_deref().or(self.salon.contact.text.as_deref()).unwrap_or_default();
        let write = |name: &str| {
            let places: Vec<(&str, &str)> = places.iter().copied().chain([("salon", name), ("phone", phone)]).collect();
            plain(&self.words.say(key, &places))
        };
        let whole = write(&self.salon.name);
        Message {
            send_on,
            client: history.client.code.clone(),
            phone: contact.phone.clone().unwrap_or_default(),
            email: contact.email.clone().unwrap_or_default(),
            kind,
            text: if fits(&whole) { whole } else { cut(&write(short(&self.salon.name))) },
        }
    }
}

/// Whether a text, plain by now, goes out as one message.
fn fits(text: &str) -> bool {
    length(text).is_some_and(|length| length <= GSM_LENGTH)
}

/// A long name's first words, up to 20 characters.
fn short(name: &str) -> &str {
    let ends = name.char_indices().filter(|(_, c)| *c == ' ').map(|(at, _)| at);
    let fits = |end: &usize| name[..*end].chars().count() <= 20;
    let hard = name.char_indices().nth(20).map_or(name.len(), |(at, _)| at);
    ends.rev().find(fits).map_or(&name[..hard], |end| &name[..end])
}

/// A text cut behind its last whole sentence that fits, else behind its last word.
fn cut(text: &str) -> String {
    if fits(text) {
        return text.to_owned();
    }
    let fits = |end: &usize| fits(&text[..*end]);
    let ends = |mark: &str| text.match_indices(mark).map(|(at, found)| at + found.trim_end().len()).collect::<Vec<_>>();
    let sentence = ends(". ").into_iter().chain(ends("? ")).filter(fits).max();
    let word = || ends(" ").into_iter().filter(fits).max().unwrap_or(0);
    text[..sentence.unwrap_or_else(word)].trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_text_is_cut_behind_a_whole_sentence() {
        let text = format!("One. {} Two.", "word ".repeat(40).trim_end());
        assert_eq!(cut(&text), "One.");
        let one = "word ".repeat(40);
        assert!(fits(&cut(&one)) && cut(&one).ends_with("word"));
        assert_eq!(short("Tollemarsh Hair Rooms and Barbers"), "Tollemarsh Hair");
    }
}
