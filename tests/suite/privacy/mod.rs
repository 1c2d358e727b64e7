//! What never becomes public: health facts change no byte, markers in private fields are found nowhere.

use crate::salon_copy::SalonCopy;

/// Every health fact there is a field for, with a marker in every free text.
const LOUD_HEALTH: &str = r#"
[health]

[health.answers]
black_henna = true
medicine = true
pregnancy = true
scalp_condition = true
breathing = true

[[health.alert_test]]
product = "zzmarkerzz"
applied = 2026-01-05
read = 2026-01-07
clear = false
read_by = "zzmarkerzz"

[[health.reaction]]
to = "zzmarkerzz"
date = 2025-02-03
note = "zzmarkerzz"

[[health.incident]]
date = 2025-02-03
note = "zzmarkerzz"
"#;

/// The text of a file without its health sections.
fn without_health(text: &str) -> String {
    let mut kept = String::new();
    let mut in_health = false;
    for line in text.lines() {
        if line.starts_with('[') {
            in_health = line.trim_start_matches('[').starts_with("health");
        }
        if !in_health {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    kept
}

fn rewrite(salon: &SalonCopy, change: impl Fn(&str) -> String) {
    for part in ["clients", "records"] {
        for (name, bytes) in salon.files(part) {
            let text = String::from_utf8(bytes).expect("a text");
            salon.write(&name, &change(&text));
        }
    }
}

#[test]
fn no_health_fact_changes_a_byte_of_what_is_public() {
    let salon = SalonCopy::new();
    salon.build();
    let public = salon.files("public");
    assert!(public.len() > 20);

    rewrite(&salon, without_health);
    salon.build();
    assert_eq!(names_that_differ(&salon, &public), Vec::<String>::new(), "health facts removed");

    rewrite(&salon, |text| without_health(text) + LOUD_HEALTH);
    salon.build();
    assert_eq!(names_that_differ(&salon, &public), Vec::<String>::new(), "every health fact set");
}

fn names_that_differ(salon: &SalonCopy, before: &std::collections::BTreeMap<String, Vec<u8>>) -> Vec<String> {
    let after = salon.files("public");
    let names: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    names.into_iter().filter(|name| before.get(*name) != after.get(*name)).cloned().collect()
}

#[test]
fn a_marker_in_every_private_field_is_found_nowhere_in_public() {
    let salon = SalonCopy::new();
    rewrite(&salon, |text| {
        let quiet = without_health(text) + LOUD_HEALTH;
        quiet
            .lines()
            .map(|line| {
                let key = line.split('=').next().unwrap_or_default().trim();
                match key {
                    "first_name" => "first_name = \"Zzmarkerzz\"".to_owned(),
                    "show_first_name" => "show_first_name = false".to_owned(),
                    "phone" => "phone = \"+44 7700 900999\"".to_owned(),
                    "email" => "email = \"zzmarkerzz@example.org\"".to_owned(),
                    "price" => "price = 98765".to_owned(),
                    _ => line.to_owned(),
                }
            })
            .collect::<Vec<_>>()
            .join("\n")
    });
    salon.build();
    let codes: Vec<String> = salon
        .files("clients")
        .keys()
        .map(|name| name.trim_start_matches("clients/").trim_end_matches(".toml").to_owned())
        .collect();
    for (name, bytes) in salon.files("public") {
        let text = String::from_utf8_lossy(&bytes).to_lowercase();
        for marker in ["zzmarkerzz", "900999", "98765", "98,765"] {
            assert!(!text.contains(marker) && !name.to_lowercase().contains(marker), "{marker} in {name}");
        }
        for code in &codes {
            assert!(!text.contains(code) && !name.contains(code), "the code {code} in {name}");
        }
    }
}

#[test]
fn public_lists_no_page_and_tells_crawlers_nothing() {
    let salon = SalonCopy::new();
    salon.build();
    let public = salon.files("public");
    let names: Vec<&String> = public.keys().collect();
    assert!(!names.iter().any(|name| name.ends_with("index.html") || name.contains("sitemap")), "{names:?}");
    let tokens: Vec<&str> = names
        .iter()
        .filter_map(|name| name.strip_prefix("public/c/"))
        .filter_map(|name| name.strip_suffix(".html"))
        .collect();
    for token in &tokens {
        let plain = token.replace('/', "");
        assert_eq!(plain.len(), 26, "130 bits of base32: {token}");
        for (name, bytes) in &public {
            if !name.contains(token) {
                assert!(!String::from_utf8_lossy(bytes).contains(&plain), "{name} names another page");
            }
        }
    }
}
