//! Files that are right: nothing is told as a fault, and every value arrives.

use afterhue::diagnostic::{Checked, Severity, SourceText, render};
use afterhue::form::{self, Section, Wants};
use afterhue::record::{AgeCheck, CLIENT, FoundBy, HistoryKind, VISIT, ZoneName, read_client, read_visit};
use afterhue::salon::{Practice, SALON, read_salon};
use afterhue::science::dye::class::DyeClass;

fn text(name: &str) -> SourceText {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_good").join(name);
    let bytes = std::fs::read(path).expect("the file of the test is there");
    SourceText::from_bytes(&format!("clients/{name}"), &bytes).expect("it is UTF-8")
}

fn good<T>(source: &SourceText, checked: Checked<T>) -> T {
    let told = render(&checked.report, std::slice::from_ref(source));
    assert!(checked.report.items.iter().all(|item| item.severity == Severity::Note), "{told}");
    checked.value.expect("a file without fault has a value")
}

#[test]
fn a_full_client_file_arrives_whole() {
    let source = text("client/every-field.toml");
    let client = good(&source, read_client(&source));
    assert_eq!(client.code.as_str(), "every-field");
    assert_eq!(client.first_name.as_deref(), Some("Wren"));
    assert!(matches!(client.age, AgeCheck::Confirmed(day) if day.to_string() == "2026-01-12"));
    assert_eq!(client.history[0].kind, HistoryKind::Lightening);
    assert_eq!(client.health.alert_tests[0].clear, Some(true));
    assert_eq!((client.health.reactions.len(), client.health.incidents.len()), (1, 1));
    assert_eq!(client.health.answers.breathing, Some(false));
}

#[test]
fn a_full_visit_record_arrives_whole() {
    let source = text("visit/every-field.toml");
    let visit = good(&source, read_visit(&source));
    let placement = &visit.placements[0];
    let zone = &placement.zones[0];
    assert_eq!((zone.from.to_mm(), zone.to.to_mm()), (0.0, 60.0));
    assert_eq!(zone.colour.as_ref().map(|colour| colour.found), Some(FoundBy::Named));
    assert_eq!(placement.lightening[0].developer.map(|developer| developer.to_percent()), Some(6.0));
    assert_eq!((placement.toning[0].mix, placement.toning[0].dilution), (Some((1.0, 2.0)), Some((1.0, 4.0))));
    let washes = visit.habits.washes.expect("washes are recorded");
    assert_eq!((washes.low.to_per_week(), washes.high.to_per_week()), (2.0, 3.0));
    assert_eq!(visit.habits.heat.and_then(|heat| heat.temperature).map(|t| t.to_celsius()), Some(180.0));
    let seen = visit.seen.expect("what was seen is recorded");
    assert_eq!((seen.washes, seen.zones[0].left.low.to_fraction()), (Some(8), 0.4));
    assert_eq!(visit.note.as_deref(), Some("Lovely to see you. **Bring** the photo next time.\n"));
}

#[test]
fn a_minimal_visit_takes_fewer_than_fifteen_lines() {
    let source = text("visit/minimal.toml");
    assert!(source.text.lines().count() < 15);
    let visit = good(&source, read_visit(&source));
    assert_eq!(visit.placements[0].zones[0].name, ZoneName::All);
}

#[test]
fn a_visit_for_a_trim_alone_needs_no_placement() {
    let source = text("visit/trim-only.toml");
    assert!(good(&source, read_visit(&source)).placements.is_empty());
}

#[test]
fn the_smallest_files_that_messages_propose_are_good() {
    let visit = SourceText::new("records/x.toml", VISIT.smallest);
    good(&visit, read_visit(&visit));
    let client = SourceText::new("clients/wren-04.toml", CLIENT.smallest);
    assert!(!read_client(&client).report.has_fault());
    let salon = SourceText::new("salon.toml", SALON.smallest);
    assert!(!read_salon(&salon).report.has_fault());
}

#[test]
fn the_twins_of_the_trade_are_understood() {
    let source = text("visit/twins.toml");
    let visit = good(&source, read_visit(&source));
    let placement = &visit.placements[0];
    assert_eq!(visit.hair.natural_depth.map(|depth| depth.value()), Some(6.0));
    let classes: Vec<DyeClass> = placement.toning.iter().map(|pass| pass.dye).collect();
    assert_eq!(classes, [DyeClass::Demi, DyeClass::Direct, DyeClass::Permanent]);
    assert_eq!(placement.lightening[0].developer.map(|developer| developer.to_percent()), Some(6.0));
    let stages: Vec<Option<f64>> = placement.zones.iter().map(|zone| zone.stage.map(|stage| stage.value())).collect();
    assert_eq!(stages, [Some(9.0), Some(10.0), Some(9.5)]);
    let found: Vec<FoundBy> = placement.zones.iter().filter_map(|zone| zone.colour.as_ref()).map(|c| c.found).collect();
    assert_eq!(found, [FoundBy::Named, FoundBy::MatchedByEye, FoundBy::Measured]);
}

#[test]
fn tabs_old_line_ends_and_a_byte_order_mark_do_no_harm() {
    let source = text("visit/tabs-crlf-bom.toml");
    assert!(source.text.starts_with('\u{feff}') && source.text.contains("\r\n\t"));
    good(&source, read_visit(&source));
}

#[test]
fn a_full_salon_file_arrives_whole_and_its_practice_is_the_default_one() {
    let source = text("salon/every-field.toml");
    let checked = read_salon(&source);
    assert!(!checked.report.has_fault());
    let salon = checked.value.expect("a file without fault has a value");
    // The example writes every common-practice value out.
    assert_eq!(salon.practice, Practice::default());
    assert_eq!(salon.hours.len(), 4);
    assert_eq!(salon.services[0].price, Some((60.0, 85.0)));
    assert_eq!(salon.stylists[0].absences.len(), 1);
    assert_eq!(salon.currency.as_deref(), Some("GBP"));
}

#[test]
fn every_field_tells_what_it_is_and_its_example_reads() {
    for form in [&CLIENT, &VISIT, &SALON] {
        form.top.walk(&mut |path, field| {
            assert!(!field.doc.is_empty() && !field.doc.ends_with('.'), "{path:?} {}", field.name);
            assert_eq!(field.example.is_empty(), field.section().is_some(), "{path:?} {}", field.name);
            if field.section().is_none() {
                let text = inside(form.top, path, &format!("{} = {}", field.name, field.example));
                let source = SourceText::new("x.toml", text);
                let (filled, findings) = form::read(&source, form);
                let report = findings.check(filled).report;
                // Only what else is required may be told.
                let wrong = report.items.iter().find(|item| !item.message.ends_with("is missing"));
                assert_eq!(wrong.map(|item| &item.message), None, "{}", source.text);
            }
        });
    }
}

/// A line as it stands inside the sections that lead to it.
fn inside(top: &'static Section, path: &[&str], line: &str) -> String {
    let Some((first, rest)) = path.split_first() else {
        return line.to_owned();
    };
    let field = top.field(first).expect("a path is made of fields");
    let inner = inside(field.section().expect("a path is made of sections"), rest, line);
    match field.wants {
        Wants::Sections(..) => format!("{first} = [{{ {inner} }}]"),
        _ => format!("{first} = {{ {inner} }}"),
    }
}

/// What `check` proposes for the unanswered questions can be pasted, and answers them.
#[test]
fn the_lines_that_check_proposes_answer_what_was_not_recorded() {
    let start =
        "format = 1\n[age]\nsixteen_or_over = true\nconfirmed = 2026-11-20\n[consents]\nhealth_data = 2026-11-20\n";
    let hints = |text: &str| -> Vec<String> {
        let items = super::told("client", text.as_bytes()).0.items;
        items.into_iter().flat_map(|item| [vec![item.message], item.hints].concat()).collect()
    };
    let told = hints(start);
    assert!(told[0].contains("black henna") && told.len() == 2, "{told:?}");
    let block = told[1].split_once('\n').expect("a block").1;
    let unasked = hints(&format!("{start}{block}\n"));
    assert!(unasked[0].contains("nothing is written behind"), "what nobody answered is a fault: {unasked:?}");
    let block = block.replace("=  # true or false", "= false");
    let after = hints(&format!("{start}{block}\n"));
    assert_eq!(after[0], "health facts not recorded: alert tests", "{after:?}");
    assert!(after[1].contains("[[health.alert_test]]") && after.len() == 2, "{after:?}");
}
