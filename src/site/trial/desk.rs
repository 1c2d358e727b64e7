//! The salon's own two pages with every part filled, as in [`sample`](super::sample).

use crate::page::board::{Board, Cell, Chart, ChartRow, Day, Key, Row, Slot, Week};
use crate::page::mood::mood;
use crate::page::sheet::{Note, Sheet, SheetZone, Sheets};

const PICTURE: &str = "<svg aria-hidden=\"true\" viewBox=\"0 0 1 1\"></svg>";

fn text(name: &str) -> String {
    name.to_owned()
}

/// A board with a week that is open and one that is closed.
pub(super) fn board() -> Board {
    Board {
        lang: text("en"),
        dir: text("ltr"),
        title: text("board-title"),
        mood: mood(None, None),
        salon: text("salon-name"),
        made: text("made-on"),
        notes_heading: text("notes-heading"),
        notes: vec![text("note-line")],
        key: vec![Key { mark: "booked", words: text("key-words") }],
        weeks: vec![week(), Week { closed: Some(text("closed-words")), ..week() }],
        stylist_label: text("stylist-label"),
        load_label: text("load-label"),
        chart: Chart {
            heading: text("chart-heading"),
            lead: text("chart-lead"),
            chart_svg: text(PICTURE),
            columns: ["week", "expected", "range", "open"].map(text),
            rows: vec![ChartRow {
                week: text("chart-week"),
                expected: text("chart-expected"),
                range: text("chart-range"),
                open: text("chart-open"),
            }],
        },
    }
}

fn week() -> Week {
    let day = Day { label: text("day-label"), load: text("day-load"), load_svg: text(PICTURE) };
    let cell = Cell {
        day: text("day-label"),
        empty: false,
        absent: Some(text("absent-words")),
        busy: vec![text("busy-words")],
        slots: vec![slot(false), slot(true)],
    };
    let row = Row { stylist: text("stylist-name"), cells: vec![cell] };
    Week { heading: text("week-heading"), days: vec![day], rows: vec![row], closed: None }
}

fn slot(short: bool) -> Slot {
    Slot {
        state: "booked",
        state_words: text("state-words"),
        time: text("slot-time"),
        client: text("slot-client"),
        what: text("slot-what"),
        sheet: (!short).then(|| text("sheets.html#x")),
        short,
        spans: text("slot-spans"),
        strip_svg: text(PICTURE),
    }
}

/// A sheet with everything on it.
pub(super) fn sheets() -> Sheets {
    let zone = SheetZone {
        zone: text("zone-name"),
        place: text("zone-place"),
        swatch_svg: text(PICTURE),
        colour: text("zone-colour"),
        left: text("zone-left"),
        mix: text("zone-mix"),
    };
    let sheet = Sheet {
        client: text("client-code"),
        heading: text("sheet-heading"),
        visit: vec![text("visit-line")],
        gates_heading: text("gates-heading"),
        gates: vec![text("gate-line")],
        that_day: text("that-day"),
        zones_heading: text("zones-heading"),
        columns: ["zone", "place", "colour", "left", "mix"].map(text),
        zones: vec![zone],
        notes: vec![Note { heading: text("note-heading"), lines: vec![text("note-line")] }],
    };
    Sheets {
        lang: text("en"),
        dir: text("ltr"),
        title: text("sheets-title"),
        mood: mood(None, None),
        sheets: vec![sheet],
    }
}
