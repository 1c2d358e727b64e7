//! What the fit did, for the person at the terminal and as JSON.

use afterhue::page::due_table::DueTable;
use afterhue::plan::{day_in_words, weekday_in_words};
use afterhue::schedule::diary::{NotThere, Purpose, State};
use afterhue::schedule::fit::{Book, Why};
use chrono::NaiveDate;
use serde_json::{Value, json};

use crate::cli::terminal::{count, say};

/// Says what was proposed, what does not fit and why.
pub(crate) fn tell(book: &Book, today: NaiveDate) {
    let ahead = |state: State, purpose: Purpose| {
        let same = |one: &&afterhue::schedule::diary::Appointment| {
            one.state == state && one.purpose == purpose && one.date >= today
        };
        book.diary.appointments.iter().filter(same).count()
    };
    say(&format!(
        "{} proposed with {}, {} booked.",
        count(ahead(State::Proposed, Purpose::Visit), "visit", "visits"),
        count(ahead(State::Proposed, Purpose::AlertTest), "alert test", "alert tests"),
        count(ahead(State::Booked, Purpose::Visit), "visit", "visits"),
    ));
    let fitted = &book.fitted;
    let stopped = if fitted.stopped { " The time was up before the work was done." } else { "" };
    say(&format!("{}{stopped}", how_good(fitted.cost, fitted.bound, fitted.gap() * 100.0)));
    for one in &book.unfitted {
        let why = why(one.why);
        let week = day_in_words(one.week);
        say(&format!("{} does not fit in the week of {week}: {} minutes, {why}.", one.client, one.minutes));
    }
    for week in &book.short {
        let visits = count(week.visits, "visit", "visits");
        let (from, minutes) = (day_in_words(week.week), week.minutes);
        say(&format!("Week of {from}: {minutes} minutes of chair time short, for {visits}."));
    }
    for (client, from, to) in &book.reassigned {
        say(&format!("{client} came to {from}, who leaves, and is proposed with {to}."));
    }
    for (one, why) in &book.broken {
        let why = match why {
            NotThere::ClosedDays | NotThere::ClosedWeekday => "the salon is closed",
            NotThere::DayOff | NotThere::Away => "the stylist is not there",
            NotThere::Left => "the stylist has left",
        };
        let (day, time) = (weekday_in_words(one.date), one.time.format("%H:%M"));
        say(&format!("{} is booked on {day} at {time}, but {why}: move it.", one.client));
    }
}

/// How far the plan can be from the best one, in words and then in numbers.
fn how_good(cost: f64, bound: f64, percent: f64) -> String {
    if percent < 0.005 {
        return format!("No plan is better than this one (its cost: {cost:.1}).");
    }
    format!(
        "The best plan there could be is at most {percent:.2} % better (this one costs {cost:.1}, none less than {bound:.1})."
    )
}

const fn why(why: Why) -> &'static str {
    match why {
        Why::NobodyDoesIt => "and nobody here does it",
        Why::NoDay => "and no day of its window has a stretch that long",
        Why::Full => "and every day of its window is full",
        Why::NoTest => "and there is no time for the alert test before it",
    }
}

/// The whole run as JSON.
pub(crate) fn json(table: &DueTable, book: &Book, weeks: u32) -> String {
    let unfitted = book.unfitted.iter().map(
        |one| json!({"client": one.client.as_str(), "week": one.week, "minutes": one.minutes, "why": why(one.why)}),
    );
    let short =
        book.short.iter().map(|week| json!({"week": week.week, "minutes": week.minutes, "visits": week.visits}));
    let reassigned =
        book.reassigned.iter().map(|(client, from, to)| json!({"client": client.as_str(), "from": from, "to": to}));
    let broken = book.broken.iter().map(|(one, _)| {
        json!({"client": one.client.as_str(), "date": one.date, "time": one.time.format("%H:%M").to_string()})
    });
    let whole = json!({
        "today": table.today,
        "weeks": weeks,
        "due": table.rows,
        "fit": {
            "asked": book.asked,
            "left_out": book.unfitted.len(),
            "cost": round(book.fitted.cost),
            "bound": round(book.fitted.bound),
            "gap": round(book.fitted.gap()),
            "cost_if_alone": round(book.alone),
            "stopped": book.fitted.stopped,
        },
        "does_not_fit": unfitted.collect::<Vec<Value>>(),
        "short_weeks": short.collect::<Vec<Value>>(),
        "reassigned": reassigned.collect::<Vec<Value>>(),
        "to_move": broken.collect::<Vec<Value>>(),
    });
    serde_json::to_string_pretty(&whole).expect("plain values are always JSON") + "\n"
}

/// At display precision, so that the same run prints the same bytes anywhere.
fn round(value: f64) -> f64 {
    (value * 1e4).round() / 1e4 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_good_a_plan_is_stands_in_words_before_the_numbers() {
        assert_eq!(how_good(486.8, 486.8, 0.001), "No plan is better than this one (its cost: 486.8).");
        let some =
            "The best plan there could be is at most 0.49 % better (this one costs 456.9, none less than 454.7).";
        assert_eq!(how_good(456.9, 454.7, 0.49), some);
    }
}
