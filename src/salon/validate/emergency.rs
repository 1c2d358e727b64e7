//! The emergency number, held against the country it is for.
//!
//! In: fields as read. Out: an [`Emergency`], a caution when people of that country call another number. Knows nothing of: pages.

use crate::form::{Filled, Findings};
use crate::salon::Emergency;

/// What people call for an ambulance, by country, the usual number first.
///
/// 112 answers in every member state of the European Union (Directive (EU) 2018/1972, article 109, from memory) and is
/// given with them here; the other numbers are from memory. A country that is not in the list is not judged.
const CALLED: [(&str, &[&str]); 42] = [
    ("AT", &["112", "144"]),
    ("AU", &["000", "112"]),
    ("BE", &["112"]),
    ("BG", &["112"]),
    ("CA", &["911"]),
    ("CH", &["144", "112"]),
    ("CY", &["112", "199"]),
    ("CZ", &["112", "155"]),
    ("DE", &["112"]),
    ("DK", &["112"]),
    ("EE", &["112"]),
    ("ES", &["112"]),
    ("FI", &["112"]),
    ("FR", &["112", "15"]),
    ("GB", &["999", "112"]),
    ("GR", &["112", "166"]),
    ("HK", &["999", "112"]),
    ("HR", &["112", "194"]),
    ("HU", &["112", "104"]),
    ("IE", &["112", "999"]),
    ("IL", &["101", "112"]),
    ("IN", &["112", "108"]),
    ("IS", &["112"]),
    ("IT", &["112", "118"]),
    ("JP", &["119"]),
    ("KR", &["119"]),
    ("LT", &["112"]),
    ("LU", &["112"]),
    ("LV", &["112"]),
    ("MT", &["112"]),
    ("NL", &["112"]),
    ("NO", &["113", "112"]),
    ("NZ", &["111"]),
    ("PL", &["112", "999"]),
    ("PT", &["112"]),
    ("RO", &["112"]),
    ("SE", &["112"]),
    ("SG", &["995"]),
    ("SI", &["112"]),
    ("SK", &["112", "155"]),
    ("US", &["911"]),
    ("ZA", &["10177", "112"]),
];

/// Reads `[emergency]`.
pub(super) fn emergency(section: &Filled, findings: &mut Findings<'_>) -> Option<Emergency> {
    let country = section.owned("country")?;
    let number = section.owned("number")?;
    if let Some(called) = other_than(&country, &number) {
        findings.caution(
            section.span_of("number"),
            format!("people in {country} call {} in an emergency", called.join(" or ")),
            "is this the number of that country?",
            format!("Every page tells it in the first care box. Write `number = \"{}\"`, or mend `country`", called[0]),
        );
    }
    Some(Emergency { country, number, advice_line: section.owned("advice_line") })
}

/// What people of the country call, when it is another number.
fn other_than(country: &str, number: &str) -> Option<&'static [&'static str]> {
    let (_, called) = CALLED.iter().find(|(other, _)| *other == country)?;
    (!called.contains(&number)).then_some(called)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_of_another_country_is_told_and_an_unknown_country_is_not_judged() {
        assert_eq!(other_than("GB", "911"), Some(["999", "112"].as_slice()));
        assert_eq!(other_than("GB", "999"), None);
        assert_eq!(other_than("DE", "112"), None);
        assert_eq!(other_than("XX", "1"), None);
        assert!(CALLED.is_sorted(), "one line a country, in order");
        assert!(CALLED.iter().all(|(_, called)| called.iter().all(|one| one.chars().all(|c| c.is_ascii_digit()))));
    }
}
