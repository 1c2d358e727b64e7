//! One invented visit record.

use std::fmt::Write;

use chrono::{Days, NaiveDate};

use super::dice::Dice;
use super::look::Look;

/// What stays of a client from visit to visit.
pub(super) struct Head {
    length: i64,
    depth: i64,
    white: i64,
    texture: &'static str,
    curl: &'static str,
    density: &'static str,
    scalp_oil: &'static str,
    growth: i64,
    /// The lightened stage, in tenths.
    stage: Option<i64>,
    zones: Vec<Length>,
    habits: String,
    wish: &'static str,
}

/// One zone along the hair.
struct Length {
    name: &'static str,
    from: i64,
    to: i64,
    porosity: &'static str,
}

impl Head {
    pub(super) fn new(dice: &mut Dice, look: &Look) -> Self {
        let length = 5 * dice.whole(30, 100);
        let stage = look.stage.map(|(low, high)| 5 * dice.whole(low / 5, high / 5));
        Self {
            length,
            depth: dice.whole(3, 7),
            white: if look.stage.is_none() { 5 * dice.whole(0, 10) } else { dice.whole(0, 3) * 5 },
            texture: dice.one(&["fine", "medium", "coarse"]),
            curl: dice.one(&["straight", "wavy", "curly", "coily"]),
            density: dice.one(&["low", "medium", "high"]),
            scalp_oil: dice.one(&["dry", "normal", "oily"]),
            growth: dice.whole(30, 44),
            stage,
            zones: zones(dice, look, length),
            habits: habits(dice),
            wish: dice.one(&["keep", "keep", "let soften"]),
        }
    }
}

/// Roots, lengths and ends as the look places them.
fn zones(dice: &mut Dice, look: &Look, length: i64) -> Vec<Length> {
    let porous = ["normal", "porous"];
    let zone = |name, from, to, porosity| Length { name, from, to, porosity };
    let middle = length * dice.whole(55, 75) / 100;
    match look.kind {
        "regrowth" => vec![zone("roots", 0, dice.whole(12, 30), dice.one(&["resistant", "normal"]))],
        "freehand" => vec![
            zone("mid-lengths", length / 3, middle, dice.one(&porous)),
            zone("ends", middle, length, dice.one(&["porous", "over-porous"])),
        ],
        "full head" if dice.percent(60) => vec![
            zone("roots", 0, 40, "normal"),
            zone("mid-lengths", 40, middle, dice.one(&porous)),
            zone("ends", middle, length, dice.one(&["porous", "over-porous"])),
        ],
        "full head" => vec![
            zone("mid-lengths", 0, middle, dice.one(&porous)),
            zone("ends", middle, length, dice.one(&["porous", "over-porous"])),
        ],
        _ => vec![zone("all", dice.whole(0, 4) * 5, length, dice.one(&porous))],
    }
}

fn habits(dice: &mut Dice) -> String {
    let mut text = String::from("\n[habits]\n");
    if dice.percent(20) {
        let low = dice.whole(1, 4);
        let _ = writeln!(text, "washes_per_week = \"{low} to {}\"", low + 1);
    } else {
        let _ = writeln!(text, "washes_per_week = {}", dice.whole(1, 6));
    }
    if dice.percent(40) {
        let _ = writeln!(text, "rinse_days_per_week = {}", dice.whole(1, 3));
    }
    let _ = writeln!(text, "water = \"{}\"", dice.one(&["cool", "lukewarm", "lukewarm", "hot"]));
    let _ = writeln!(text, "shampoo = \"{}\"", dice.one(&["gentle", "gentle", "ordinary"]));
    if dice.percent(60) {
        let _ = writeln!(text, "sun_hours_per_week = {}", dice.whole(1, 12));
    }
    if dice.percent(15) {
        let place = dice.one(&["pool", "sea", "lake"]);
        let _ = write!(text, "swims_per_week = {}\nswims_in = \"{place}\"\n", dice.whole(1, 3));
    }
    let _ = writeln!(text, "water_hardness = \"{}\"", dice.one(&["soft", "medium", "hard"]));
    if dice.percent(30) {
        let _ = writeln!(text, "sport_days_per_week = {}", dice.whole(1, 5));
    }
    if dice.percent(45) {
        let celsius = 10 * dice.whole(13, 21);
        let _ = write!(text, "\n[habits.heat_tools]\ndays_per_week = {}\ncelsius = {celsius}\n", dice.whole(1, 5));
    }
    text
}

const NOTES: &[&str] = &[
    "Lovely to see you. Comb it **wet**, from the ends up.",
    "A hat on bright days keeps the colour from going sandy.",
    "We stopped a little early on the ends; they will catch up in two washes.",
    "Rinse cool, and press the water out with a towel. Do not rub.",
    "You asked about swimming: wet it first, then *conditioner*, then a cap.",
];

/// The record of one visit; `before` is the day of the visit before it.
pub(super) fn record(
    dice: &mut Dice,
    code: &str,
    day: NaiveDate,
    look: &Look,
    head: &mut Head,
    before: Option<NaiveDate>,
) -> String {
    let begins = dice.whole(9, 15);
    let minutes = 5 * dice.whole(11, 40);
    let ends = begins * 60 + minutes;
    let mut text = format!("format = 1\nclient = \"{code}\"\ndate = {day}\nstart = {begins:02}:00:00\n");
    let _ = write!(text, "end = {:02}:{:02}:00\nstylist = \"{}\"\n", ends / 60, ends % 60, dice.one(STYLISTS));
    let _ = write!(text, "price = {}\nminutes_taken = {minutes}\n", dice.whole(50, 240));
    if dice.percent(45) {
        let _ = writeln!(text, "note = \"{}\"", dice.one(NOTES));
    }
    let grown = before.map(|before| (day - before).num_days() * head.growth / 100);
    text.push_str(&hair(dice, head, grown));
    text.push_str(&placement(dice, look, head, before.is_none()));
    text.push_str(&head.habits);
    let _ = write!(text, "\n[wishes]\nafter = \"{}\"\n", head.wish);
    if dice.percent(10) {
        let _ = writeln!(text, "event = {}", day + Days::new(dice.whole(10, 60).unsigned_abs()));
    }
    if let Some(before) = before.filter(|_| dice.percent(70)) {
        text.push_str(&seen(dice, head, (day - before).num_days()));
    }
    text
}

/// The stylists of the crowd's salon.
pub(super) const STYLISTS: &[&str] = &["ines", "joss", "petra", "kofi"];

fn hair(dice: &mut Dice, head: &Head, grown: Option<i64>) -> String {
    let untouched = head.zones.first().map_or(0, |zone| zone.from);
    let mut text = format!(
        "\n[hair]\ntexture = \"{}\"\ncurl = \"{}\"\ndensity = \"{}\"\nlength_mm = {}\nnatural_depth = {}\n",
        head.texture, head.curl, head.density, head.length, head.depth
    );
    let _ = write!(text, "white_percent = {}\nscalp_oil = \"{}\"\n", head.white, head.scalp_oil);
    if let Some(grown) = grown {
        let _ = writeln!(text, "regrowth_mm = {}", grown.min(head.length / 2));
        if dice.percent(50) {
            let _ = writeln!(text, "growth_mm_per_day = 0.{}", head.growth);
        }
        if dice.percent(30) {
            let _ = writeln!(text, "trimmed_mm = {}", 5 * dice.whole(1, 4));
        }
    }
    let _ = writeln!(text, "left_untouched_mm = {untouched}");
    text
}

fn placement(dice: &mut Dice, look: &Look, head: &Head, first: bool) -> String {
    let share = match look.kind {
        "full head" | "regrowth" => 100,
        "panel" | "face frame" => 5 * dice.whole(2, 5),
        _ => 5 * dice.whole(6, 12),
    };
    let mut text = format!("\n[[placement]]\nkind = \"{}\"\nshare_percent = {share}\n", look.kind);
    let told = dice.whole(1, 100);
    for zone in &head.zones {
        let _ = write!(text, "\n[[placement.zone]]\nname = \"{}\"\nfrom_mm = {}\n", zone.name, zone.from);
        let _ = writeln!(text, "to_mm = {}", zone.to);
        if let Some(stage) = head.stage {
            let _ = writeln!(text, "stage = {}.{}", stage / 10, stage % 10);
        }
        let elasticity = if zone.porosity == "over-porous" { "part return" } else { "full return" };
        let _ = write!(text, "porosity = \"{}\"\nelasticity = \"{elasticity}\"\n", zone.porosity);
        let _ = writeln!(text, "colour = {{ {} }}", colour(dice, look, told));
    }
    if first && look.stage.is_some() {
        let on_scalp = head.zones[0].from == 0 && look.kind != "foils";
        let _ = write!(
            text,
            "\n[[placement.lightening]]\non_scalp = {on_scalp}\ndeveloper_percent = {}\nminutes = {}\n",
            dice.one(&[3, 6]),
            5 * dice.whole(5, 10)
        );
    }
    let _ = write!(text, "\n[[placement.toning]]\ndye = \"{}\"\ntarget = \"{}\"\n", look.dye, look.shade);
    let _ = match look.dye {
        "direct" => writeln!(text, "dilution = \"1:{}\"", dice.whole(1, 6)),
        "permanent" => write!(text, "ph = \"alkaline\"\nmix = \"1:1\"\ndeveloper_percent = {}\n", dice.one(&[3, 6])),
        _ => writeln!(text, "ph = \"acid\"\nmix = \"1:2\"\ndeveloper_percent = 1.5"),
    };
    let took = dice.one(&["evenly", "evenly", "evenly", "less", "patchy"]);
    let _ = write!(text, "grams = {}\nminutes = {}\ntook = \"{took}\"\n", 5 * dice.whole(6, 16), dice.whole(8, 35));
    text
}

/// The finished colour: most often named, sometimes matched by eye, sometimes measured, as salons do.
fn colour(dice: &mut Dice, look: &Look, told: i64) -> String {
    let [l, a, b] = look.lab;
    let mut near = |value: i64, by: i64| value + dice.whole(-by, by);
    if told <= 50 {
        return format!("name = \"{}\"", look.shade);
    }
    let found = if told <= 80 { "matched by eye" } else { "measured" };
    format!("lab = [{}, {}, {}], name = \"{}\", found = \"{found}\"", near(l, 2), near(a, 2), near(b, 2), look.shade)
}

fn seen(dice: &mut Dice, head: &Head, days: i64) -> String {
    let mut text = format!("\n[seen]\nwashes_since = {}\n", days * dice.whole(15, 45) / 100);
    for zone in &head.zones {
        let low = 10 * dice.whole(0, 6);
        let _ = write!(text, "\n[[seen.zone]]\nplacement = 1\nzone = \"{}\"\n", zone.name);
        let _ = writeln!(text, "left_percent = \"{low} to {}\"", low + 10);
    }
    text
}
