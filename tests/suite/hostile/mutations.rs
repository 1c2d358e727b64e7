//! Texts that are nearly right: pieces put into them, parts left out, doubled, cut off.

use crate::dice::Dice;

/// What breaks a file of ours, a template, a calendar or Markdown.
const PIECES: [&str; 48] = [
    "[",
    "]",
    "[[",
    "{",
    "}",
    "{{",
    "}}",
    "{% ",
    " %}",
    "=",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "#",
    "\n",
    "\r\n",
    "\t",
    "\u{0}",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{feff}",
    "nan",
    "-inf",
    "1e400",
    "99999999999999999999",
    "9999-12-31",
    "0000-01-01",
    "24:00:00",
    "../",
    "\\",
    "-",
    "|",
    "| safe",
    "+++\n",
    ">",
    "[a]",
    "[a]: https://x.example/\n",
    "```\n",
    "<script>",
    "BEGIN:VEVENT\r\n",
    "END:VCALENDAR\r\n",
    "RRULE:FREQ=SECONDLY\r\n",
    "DTSTART:00010101\r\n",
    "DURATION:P9W\r\n",
    "RDATE:20261201T000000Z\r\n",
    "é",
    "𝄞",
];

/// A text with a few slips, always on the border of a character.
pub(crate) fn slipped(text: &str, dice: &mut Dice) -> String {
    let mut text = text.to_owned();
    for _ in 0..=dice.below(4) {
        let (one, other) = (place(&text, dice), place(&text, dice));
        let (from, to) = (one.min(other), one.max(other));
        let to = if to - from > 200 { floor(&text, from + 200) } else { to };
        match dice.below(5) {
            0 => text.insert_str(from, PIECES[dice.below(PIECES.len())]),
            1 => text.replace_range(from..to, ""),
            2 => text.replace_range(from..to, PIECES[dice.below(PIECES.len())]),
            3 => {
                let part = text[from..to].to_owned();
                text.insert_str(from, &part.repeat(1 + dice.below(8)));
            }
            _ => text.truncate(to),
        }
    }
    text
}

fn place(text: &str, dice: &mut Dice) -> usize {
    floor(text, dice.below(text.len() + 1))
}

fn floor(text: &str, at: usize) -> usize {
    (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}
