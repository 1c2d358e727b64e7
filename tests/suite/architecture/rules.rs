//! The rules of the house as tables, and how one source text is held against them.

use super::text::{code_only, names_package, std_groups, words_after};

/// What each module may use. A module without a row is a fault.
const ARROWS: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("diagnostic", &[]),
    ("form", &["units", "diagnostic"]),
    ("science", &["units"]),
    ("record", &["units", "diagnostic", "form", "science"]),
    ("salon", &["units", "diagnostic", "form", "science"]),
    ("forecast", &["units", "science", "record", "salon"]),
    ("plan", &["units", "science", "record", "salon", "forecast"]),
    ("care", &["units", "diagnostic", "form", "record", "plan"]),
    ("schedule", &["units", "diagnostic", "form", "science", "record", "salon", "forecast", "plan"]),
    ("page", &["units", "form", "science", "record", "salon", "forecast", "plan", "care", "schedule"]),
    ("workspace", &["diagnostic"]),
    ("site", &["diagnostic", "form", "page"]),
    ("pipeline", EVERYTHING),
    ("publish", &["diagnostic", "site"]),
    ("rights", EVERYTHING),
    ("chairside", BESIDE_THE_CHAIR),
    ("cli", &[]),
    ("lib", &[]),
    ("main", &["cli"]),
];

/// What the programs that answer a browser may use: all that stands before the edges, and what a client may ask for.
const BESIDE_THE_CHAIR: &[&str] = &[
    "units",
    "diagnostic",
    "form",
    "science",
    "record",
    "salon",
    "forecast",
    "plan",
    "care",
    "schedule",
    "page",
    "workspace",
    "site",
    "pipeline",
    "rights",
];

/// What stands before the edges that bring it all together.
const EVERYTHING: &[&str] = match BESIDE_THE_CHAIR {
    [before @ .., _rights] => before,
    [] => &[],
};

/// Inside `science` a law may use itself and what stands before it.
const LAWS: &[&str] = &["bibliography", "parameter", "colour", "hair", "dye", "fade", "handbook"];

/// The places that may touch files, sockets, the environment or the clock.
const EDGES: &[&str] = &["workspace", "site/place", "site/write", "publish", "rights", "chairside", "cli", "main"];

/// What only an edge may touch.
const OUTSIDE: &[&str] = &[
    "std::fs",
    "std::env",
    "std::net",
    "std::io::stdin",
    "std::io::stdout",
    "std::io::stderr",
    "SystemTime",
    "Instant::now",
    "Local::now",
    "Utc::now",
];

/// The same, inside a `use std::{…}` group.
const OUTSIDE_IN_A_GROUP: &[&str] = &["fs", "env", "net"];

/// Outside packages with one door each, and the places that may name them.
const DOORS: &[(&str, &[&str])] = &[
    ("toml", &["form", "page/catalogue"]),
    ("tera", &["site", "chairside/page"]),
    ("pulldown_cmark", &["page/markdown"]),
    ("walkdir", &["workspace"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("indicatif", &["cli"]),
    ("getrandom", &["workspace"]),
    ("axum", &["chairside/view", "chairside/server"]),
    ("tower_http", &["chairside/view"]),
    ("tokio", &["chairside/view", "chairside/server", "publish"]),
    ("object_store", &["publish"]),
    ("futures_util", &["publish"]),
    ("icalendar", &["schedule"]),
    ("qrcodegen", &["page"]),
    ("annotate_snippets", &["diagnostic"]),
    ("strsim", &["diagnostic"]),
];

/// Places that know no calendar date.
const TIMELESS: &[&str] = &["science", "forecast", "units", "diagnostic"];

/// The longest a file may be, tests included.
const LONGEST: usize = 600;

/// Files that must stay shorter.
const SHORTER: &[(&str, usize)] = &[("/mod.rs", 150), ("src/main.rs", 15)];

/// Everything wrong with one source file.
pub(super) fn faults(path: &str, text: &str) -> Vec<String> {
    let code = code_only(text);
    let place = place(path);
    let mut found = shape(path, text);
    arrows(&place, &code, &mut found);
    // A unit test may read a file or a date to check with; what ships may not.
    let shipped = code.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    edges(&place, shipped, &mut found);
    doors(&place, shipped, &mut found);
    found.into_iter().map(|fault| if fault.starts_with(path) { fault } else { format!("{path}: {fault}") }).collect()
}

/// Faults of size and header, for any Rust file.
pub(super) fn shape(path: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let lines = text.lines().count();
    let limit = SHORTER.iter().find(|(ending, _)| path.ends_with(ending)).map_or(LONGEST, |(_, limit)| *limit);
    if lines > limit {
        found.push(format!("{path}: {lines} lines, at most {limit}"));
    }
    let header = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with("#!["));
    if !header.is_some_and(|line| line.starts_with("//! ")) {
        found.push(format!("{path}: no `//!` header"));
    }
    found
}

/// Faults of a table: its first lines must name its source.
pub(super) fn table(path: &str, text: &str) -> Vec<String> {
    let header: Vec<_> = text.lines().take_while(|line| line.starts_with('#')).collect();
    let named = header.iter().any(|line| {
        line.trim_start_matches(['#', ' ']).to_lowercase().strip_prefix("source").is_some_and(|rest| rest.len() > 3)
    });
    if named { Vec::new() } else { vec![format!("{path}: no `# source …` header")] }
}

/// The place of a file in the house: `src/science/hair/depth.rs` is `science/hair/depth`.
fn place(path: &str) -> String {
    path.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod").to_owned()
}

/// Whether a place lies in one of these parts of the house.
fn within(place: &str, parts: &[&str]) -> bool {
    parts.iter().any(|part| place == *part || place.starts_with(&format!("{part}/")))
}

fn arrows(place: &str, code: &str, found: &mut Vec<String>) {
    let module = place.split('/').next().unwrap_or_default();
    let Some((_, may_use)) = ARROWS.iter().find(|(name, _)| *name == module) else {
        found.push(format!("{module} has no row in the table of arrows"));
        return;
    };
    if code.contains("use crate::{") {
        found.push("one `use crate::module` a line".to_owned());
    }
    if code.contains("super::super") {
        found.push("no `super::super`".to_owned());
    }
    if !within(place, &["cli", "main"]) && !words_after(code, "afterhue::").is_empty() {
        found.push("only the binary names the library".to_owned());
    }
    // In a file of the top floor `super` is the crate itself.
    let beside = if place.contains('/') { Vec::new() } else { words_after(code, "super::") };
    for used in words_after(code, "crate::").into_iter().chain(beside) {
        let known = ARROWS.iter().any(|(name, _)| *name == used);
        if known && used != module && !may_use.contains(&used) {
            found.push(format!("{module} may not use {used}"));
        }
    }
    if let Some(law) = place.strip_prefix("science/") {
        laws(law, code, found);
    }
}

fn laws(place: &str, code: &str, found: &mut Vec<String>) {
    let rank = |name: &str| LAWS.iter().position(|law| *law == name);
    let own = place.split('/').next().unwrap_or_default();
    let beside = if place.contains('/') { Vec::new() } else { words_after(code, "super::") };
    for used in words_after(code, "crate::science::").into_iter().chain(beside) {
        if rank(used) > rank(own) {
            found.push(format!("{own} may not use {used}"));
        }
    }
}

fn edges(place: &str, code: &str, found: &mut Vec<String>) {
    if within(place, EDGES) {
        return;
    }
    found.extend(OUTSIDE.iter().filter(|name| code.contains(*name)).map(|name| format!("touches {name}")));
    let groups = std_groups(code);
    let grouped = OUTSIDE_IN_A_GROUP.iter().filter(|name| groups.contains(name));
    found.extend(grouped.map(|name| format!("touches std::{name}")));
}

fn doors(place: &str, code: &str, found: &mut Vec<String>) {
    for (package, places) in DOORS {
        if names_package(code, package) && !within(place, places) {
            found.push(format!("names {package}, which only {} may", places.join(", ")));
        }
    }
    if within(place, TIMELESS) && (names_package(code, "chrono") || names_package(code, "chrono_tz")) {
        found.push("names chrono, but knows no calendar date".to_owned());
    }
}
