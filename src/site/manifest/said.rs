//! What there was to say of a client, as it is stored.
//!
//! In: diagnostics. Out: bytes; and back. Knows nothing of: what they say.

use super::parts::{add_number, add_text, read_number, read_text};
use crate::diagnostic::{Diagnostic, Severity};

const SEVERITIES: [Severity; 3] = [Severity::Note, Severity::Caution, Severity::Fault];

/// The bytes of diagnostics, one after another.
pub(super) fn to_bytes(told: &[Diagnostic]) -> Vec<u8> {
    let mut bytes = Vec::new();
    // Every field is named here, so that a new one cannot be left out unseen.
    for Diagnostic { severity, file, span, message, label, hints } in told {
        bytes.push(*severity as u8);
        [file, message, label].iter().for_each(|text| add_text(&mut bytes, text));
        add_number(&mut bytes, u64::from(span.is_some()));
        span.iter().flat_map(|span| [span.start, span.end]).for_each(|end| add_number(&mut bytes, end as u64));
        add_number(&mut bytes, hints.len() as u64);
        hints.iter().for_each(|hint| add_text(&mut bytes, hint));
    }
    bytes
}

/// Reads diagnostics; nothing when the bytes are none.
pub(super) fn read(mut bytes: &[u8]) -> Option<Vec<Diagnostic>> {
    let mut told = Vec::new();
    while let Some(severity) = bytes.split_off_first() {
        let severity = *SEVERITIES.get(usize::from(*severity))?;
        let mut text = || read_text(&mut bytes).map(str::to_owned);
        let (file, message, label) = (text()?, text()?, text()?);
        let mut number = || usize::try_from(read_number(&mut bytes)?).ok();
        let span = if number()? == 0 { None } else { Some(number()?..number()?) };
        let hints = (0..number()?).map(|_| read_text(&mut bytes).map(str::to_owned)).collect::<Option<_>>()?;
        told.push(Diagnostic { severity, file, span, message, label, hints });
    }
    Some(told)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_severity_is_stored_as_its_place_among_all() {
        assert!(SEVERITIES.iter().enumerate().all(|(place, severity)| *severity as usize == place));
    }

    #[test]
    fn what_was_said_comes_back_and_cut_bytes_are_none() {
        let told = SEVERITIES.map(|severity| Diagnostic::new(severity, "a.toml", "no").at(3..7, "here").hint("do"));
        let told = [&told[..], &[Diagnostic::note("", "")]].concat();
        let bytes = to_bytes(&told);
        assert_eq!(read(&bytes), Some(told.clone()));
        let whole: Vec<usize> = (0..=told.len()).map(|end| to_bytes(&told[..end]).len()).collect();
        let read_whole = (0..bytes.len()).filter(|end| read(&bytes[..*end]).is_some()).collect::<Vec<_>>();
        assert_eq!(read_whole, whole[..told.len()]);
    }
}
