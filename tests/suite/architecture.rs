//! The house rules, read from the sources: arrows, edges, doors, sizes, module headers, sources of tables.
//!
//! Two rules of writing make a check of the text enough: one `use crate::module` a line, and no `super::super`.
//! It does not see through macros or re-exports.

#[path = "architecture/rules.rs"]
mod rules;
#[path = "architecture/text.rs"]
mod text;

use std::fs;
use std::path::Path;

/// Every file below a folder of the repository with one of these endings: path with forward slashes, and text.
fn files(folder: &str, ending: &str) -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    let mut open = vec![root.join(folder)];
    while let Some(here) = open.pop() {
        for entry in fs::read_dir(&here).unwrap_or_else(|e| panic!("{}: {e}", here.display())) {
            let path = entry.expect("an entry of a folder").path();
            if path.file_name().is_some_and(|name| name == "node_modules" || name == "artefacts") {
                continue;
            } else if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == ending) {
                let name = path.strip_prefix(root).expect("below the root").to_string_lossy().replace('\\', "/");
                found.push((name, fs::read_to_string(&path).expect("text in UTF-8")));
            }
        }
    }
    found.sort();
    found
}

/// Fails with every fault found, one a line.
fn none(faults: &[String]) {
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_sources_keep_the_rules_of_the_house() {
    let sources = files("src", "rs");
    assert!(sources.len() > 20, "the sources were not found");
    none(&sources.iter().flat_map(|(path, text)| rules::faults(path, text)).collect::<Vec<_>>());
}

#[test]
fn every_test_file_keeps_its_size_and_has_a_header() {
    let tests = files("tests", "rs");
    assert!(tests.len() > 2, "the tests were not found");
    none(&tests.iter().flat_map(|(path, text)| rules::shape(path, text)).collect::<Vec<_>>());
}

#[test]
fn every_table_names_its_source() {
    let tables: Vec<_> = files("src", "csv").into_iter().chain(files("tests", "csv")).collect();
    none(&tables.iter().flat_map(|(path, text)| rules::table(path, text)).collect::<Vec<_>>());
}

#[test]
fn every_planted_fault_is_caught() {
    let long = "//! Long.\n".to_owned() + &"// line\n".repeat(600);
    let planted: &[(&str, &str, &str)] = &[
        ("src/science/hair/depth.rs", "//! D.\nuse crate::record::History;", "science may not use record"),
        ("src/science/hair/depth.rs", "//! D.\nuse crate::science::dye::band;", "hair may not use dye"),
        ("src/science/parameter.rs", "//! P.\nuse super::colour::srgb;", "parameter may not use colour"),
        ("src/record/visit.rs", "//! V.\nfn f() { crate::plan::plan(); }", "record may not use plan"),
        ("src/forecast/mod.rs", "//! F.\nuse super::plan::Plan;", "forecast may not use plan"),
        ("src/page/mod.rs", "//! P.\nuse crate::workspace::Folder;", "page may not use workspace"),
        ("src/workspace/mod.rs", "//! W.\nuse crate::{record, plan};", "one `use crate::module` a line"),
        ("src/plan/roots.rs", "//! R.\nuse super::super::care;", "no `super::super`"),
        ("src/novel/mod.rs", "//! N.\n", "novel has no row"),
        ("src/pipeline.rs", "//! P.\nuse afterhue::record;", "only the binary names the library"),
        ("src/page/qr.rs", "//! Q.\nuse std::fs;", "touches std::fs"),
        ("src/page/qr.rs", "//! Q.\nuse std::{fmt, env};", "touches std::env"),
        ("src/plan/mod.rs", "//! P.\nfn f() { let t = Local::now(); }", "touches Local::now"),
        ("src/site/render.rs", "//! R.\nuse std::net::TcpListener;", "touches std::net"),
        ("src/forecast/zone.rs", "//! Z.\nuse chrono::NaiveDate;", "chrono"),
        ("src/science/fade/dose.rs", "//! D.\nfn f(d: chrono::Days) {}", "chrono"),
        ("src/page/mod.rs", "//! P.\nuse tera::Tera;", "tera"),
        ("src/record/visit.rs", "//! V.\nuse toml::de::DeTable;", "toml"),
        ("src/site/render.rs", "//! R.\nuse pulldown_cmark::Parser;", "pulldown_cmark"),
        ("src/site/write.rs", "//! W.\nuse ::walkdir::WalkDir;", "walkdir"),
        ("src/pipeline.rs", "//! P.\nuse clap;", "clap"),
        ("src/page/link.rs", "//! L.\nfn f() { getrandom::fill(&mut x); }", "getrandom"),
        ("src/chairside/form.rs", "//! F.\nuse axum::Router;", "axum"),
        ("src/cli/publish.rs", "//! P.\nuse object_store::path::Path;", "object_store"),
        ("src/publish/plan.rs", "//! P.\nuse crate::record::History;", "publish may not use record"),
        ("src/page/qr.rs", "use crate::page;", "no `//!` header"),
        ("src/page/qr.rs", &long, "601 lines"),
        ("src/page/mod.rs", &long, "601 lines"),
        ("src/pipeline.rs", &long, "601 lines"),
        ("src/main.rs", &long, "601 lines"),
    ];
    for (path, source, expected) in planted {
        let faults = rules::faults(path, source);
        assert!(
            faults.iter().any(|fault| fault.contains(expected)),
            "{path}: wanted {expected:?}, was told {faults:?}\n{source:.200}"
        );
    }
    assert!(!rules::table("src/science/data/x.csv", "a,b\n1,2\n").is_empty());
}

#[test]
fn what_keeps_the_rules_is_left_alone() {
    let sound: &[(&str, &str)] = &[
        (
            "src/science/dye/band.rs",
            "//! B.\n//! See crate::plan.\nuse crate::science::hair::base::Base;\nuse crate::units;",
        ),
        ("src/page/qr.rs", "//! Q.\nconst A: &str = \"std::fs and crate::workspace\"; // crate::cli\n/* tera:: */"),
        ("src/page/qr.rs", "//! Q.\nconst A: &str = r#\"use \"clap::Parser\"\"#; const B: char = '\"'; fn f<'a>() {}"),
        ("src/plan/mod.rs", "//! P.\n#[cfg(test)]\nmod tests { use super::*; use chrono::Days; }"),
        ("src/cli/pages.rs", "//! C.\nuse afterhue::pipeline;\nuse clap::Parser;\nuse std::env;"),
        ("src/site/write.rs", "//! W.\nuse std::fs;\nuse crate::page::Page;"),
        ("src/form/mod.rs", "//! F.\nuse toml::de::DeTable;\nuse crate::diagnostic::Span;"),
    ];
    for (path, source) in sound {
        assert_eq!(rules::faults(path, source), Vec::<String>::new(), "{path}");
    }
    assert!(rules::table("src/science/data/x.csv", "# source: somebody 1999, table 1\na,b\n1,2\n").is_empty());
}
