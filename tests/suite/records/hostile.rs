//! Whatever a file holds, reading it never panics and always says something or gives a value.

use afterhue::diagnostic::SourceText;
use proptest::prelude::*;

use super::{read, told};

/// Pieces that a record is made of, whole and broken.
const PIECES: [&str; 44] = [
    "format = 1\n",
    "client = \"wren-04\"\n",
    "date = 2026-11-20\n",
    "[[placement]]\n",
    "[placement]\n",
    "kind = \"full head\"\n",
    "[[placement.zone]]\n",
    "[[placement.toning]]\n",
    "[[placement.lightening]]\n",
    "from_mm = 0\n",
    "to_mm = 60\n",
    "to_mm = nan\n",
    "name = \"roots\"\n",
    "colour = { hex = \"#e8b4b8\" }\n",
    "colour = { lab = [1, 2\n",
    "stage = 9.5\n",
    "dye = \"direct\"\n",
    "zones = [\"roots\", \"band\"]\n",
    "developer_vol = 60\n",
    "[habits]\n",
    "[habits\n",
    "habits = 3\n",
    "washes_per_week = \"2 to 3\"\n",
    "washes_per_week = \"9 - -\"\n",
    "[seen]\n",
    "[[seen.zone]]\n",
    "left_percent = 1e400\n",
    "[health.answers]\n",
    "[[health.reaction]]\n",
    "[age]\n",
    "age.confirmed = 0\n",
    "placement = []\n",
    "placement = [{}]\n",
    "\"\"\"",
    "'''",
    "\"",
    "= ",
    "{",
    "}",
    "[",
    "]",
    "é\u{feff}\u{202e}\r",
    "\t\r\n",
    "# remark\n",
];

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]

    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        for kind in ["client", "visit", "salon"] {
            told(kind, &bytes);
        }
    }

    #[test]
    fn any_text_is_answered(text in "\\PC{0,200}") {
        for kind in ["client", "visit", "salon"] {
            told(kind, text.as_bytes());
        }
    }

    #[test]
    fn any_mixture_of_pieces_is_answered(picked in prop::collection::vec(0..PIECES.len(), 0..60)) {
        let text: String = picked.iter().map(|index| PIECES[*index]).collect();
        for kind in ["client", "visit", "salon"] {
            told(kind, text.as_bytes());
        }
    }

    #[test]
    fn a_good_record_with_one_slip_is_answered(at in 0_usize..900, sign in "[\\[\\]{}\"'=,.#a-z0-9 \n\\\\]", cut in 0_usize..3) {
        let good = include_str!("../records_good/visit/every-field.toml");
        let chars: Vec<char> = good.chars().collect();
        let at = at.min(chars.len());
        let rest = (at + cut).min(chars.len());
        let text: String = chars[..at].iter().chain(sign.chars().collect::<Vec<_>>().iter()).chain(&chars[rest..]).collect();
        told("visit", text.as_bytes());
    }
}

#[test]
fn a_file_of_five_megabytes_and_one_of_a_hundred_thousand_slips_are_told_shortly() {
    for text in ["x".repeat(5 << 20), "a b\n".repeat(100_000), "[".repeat(200_000), "[[placement]]\n".repeat(50_000)] {
        let report = read("visit", &SourceText::new("records/x.toml", text));
        assert!(report.has_fault() && report.items.len() <= 101, "{}", report.items.len());
    }
}
