//! Numbers of a drawing, written as briefly as SVG reads them.
//!
//! In: a number. Out: text. Knows nothing of: what is drawn.

/// A number between 0 and 1 as briefly as SVG reads it: ".25".
pub(super) fn number(value: f64) -> String {
    let mut text = String::with_capacity(5);
    push_number(&mut text, value);
    text
}

/// The same at the end of a text.
pub(super) fn push_number(out: &mut String, value: f64) {
    let parts = value * 1.0e4;
    // Where the fifth decimal is nearly a half, only the exact number tells which way it is rounded.
    if (parts.fract() - 0.5).abs() > 1e-6 && (0.0..=10_000.0).contains(&parts) {
        push_decimals(out, parts.round() as usize);
    } else {
        out.push_str(&exact(value));
    }
}

/// Ten-thousandths, up to one whole.
fn push_decimals(out: &mut String, parts: usize) {
    let whole = match parts {
        0 => '0',
        10_000 => '1',
        _ => '.',
    };
    out.push(whole);
    let parts = parts % 10_000;
    let (mut rest, mut place) = (parts, 1000);
    while rest > 0 {
        out.push(char::from(b"0123456789"[rest / place]));
        (rest, place) = (rest % place, place / 10);
    }
}

/// The same of any number.
fn exact(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "0" { text.to_owned() } else { text.trim_start_matches('0').to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_written_as_it_is_rounded_exactly() {
        for of in 1..=384 {
            for at in 0..=of {
                let share = f64::from(at) / f64::from(of);
                assert_eq!(number(share), exact(share), "{at}/{of}");
            }
        }
        for value in [0.0, 1e-9, 0.000_05, 0.999_94, 0.999_95, 0.999_96, 1.0, 2.5] {
            assert_eq!(number(value), exact(value), "{value}");
        }
        assert_eq!([0.25, 0.06, 0.0312, 0.1].map(number), [".25", ".06", ".0312", ".1"]);
    }
}
