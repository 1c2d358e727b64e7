//! The emergency number, held against the country it is for.
//!
//! In: fields as read. Out: an [`Emergency`], a caution when people of that country call another number. Knows nothing of: pages.

use crate::form::{Filled, Findings};
use crate::salon::Emergency;

/// What people call for an ambulance, by country, the usual number first. A country that is not in the list is not judged.
///
/// | where | number | source |
/// |---|---|---|
/// | European Union | 112, beside what a country had before | European Commission, MEMO/05/363 (11 October 2005), "112, the single European emergency number"; in every member state since December 2008, its [112 site](http://ec.europa.eu/information_society/activities/112/actions/index_en.htm) |
/// | Australia | 000; 112 from a mobile phone only | Australian Communications and Media Authority, "Emergency call service FAQ" |
/// | Canada | 911 | CRTC, Telecom Regulatory Policy 2014-342 |
/// | Japan | 119 | Ibaraki Prefecture, "How do I make emergency phone calls?" |
/// | New Zealand | 111 | [govt.nz](https://www.govt.nz/browse/crime-and-justice/crimes-and-emergencies/111-emergency-service/), "111 emergency service" |
/// | Norway | 113; 112 is the police, who pass a call on (that they do: from memory) | [helsenorge.no](https://www.helsenorge.no/nn/forstehjelp/ring-113/), "Ring 113" |
/// | Switzerland | 144; 112 reaches a control room too | Alertswiss, "Notrufnummer 144"; Schweizer Radio und Fernsehen on 112, after a survey of the Federal Office of Communications |
/// | United Kingdom | 999, and 112; 111 for advice, as in the demo | NHS, West Midlands Ambulance Service, "Should I ring 999 or 111?"; 112: Ofcom, General Condition 4, read second-hand |
/// | all others, and the older numbers inside the Union | as listed | from memory |
///
/// Every number here is also one of those that libphonenumber lists for its country; a test compares the two.
/// That list does not tell the ambulance from the police: which of its numbers come first is from memory where no authority is named.
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

    /// libphonenumber 9.0.43, element `emergency` of its short numbers.
    #[test]
    fn every_number_is_an_emergency_number_of_its_country_in_another_list() {
        let table = include_str!("../../../tests/suite/published/emergency_numbers.csv");
        let rows = table.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(','));
        let listed: std::collections::BTreeMap<&str, Vec<&str>> =
            rows.map(|(country, numbers)| (country, numbers.split(' ').collect())).collect();
        assert_eq!(listed.len(), CALLED.len());
        for (country, called) in CALLED {
            assert!(called.iter().all(|number| listed[country].contains(number)), "{country}: {called:?}");
        }
    }
}
