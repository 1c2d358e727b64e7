//! CSV that opens right in a spreadsheet program and still reads as RFC 4180.
//!
//! A byte order mark stands in front, because a widely used spreadsheet program takes a file without one for a file in an old code page.
//! A field that such a program would take for a formula gets an apostrophe in front; a number or a phone number is left as it is (OWASP, "CSV Injection").

/// A header row and rows.
pub(crate) fn csv<const N: usize>(columns: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let kept = "writing to memory does not fail";
    writer.write_record(columns).expect(kept);
    for row in rows {
        writer.write_record(row.map(harmless)).expect(kept);
    }
    let text = String::from_utf8(writer.into_inner().expect(kept)).expect("every field is text");
    format!("\u{feff}{text}")
}

/// A field that no spreadsheet program works out.
fn harmless(field: String) -> String {
    let formula = field.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    let sign = field.starts_with(['+', '-']);
    let number = sign && field.len() > 1 && field[1..].chars().all(|c| c.is_ascii_digit() || c == '.' || c == ' ');
    if formula && !number { format!("'{field}") } else { field }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_would_work_out_is_text_and_numbers_stay() {
        let rows = ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "-3", "+44 20 7946 0101", "a = b", "-"];
        let found = csv(["field"], rows.map(|field| [field.to_owned()]));
        assert!(found.starts_with("\u{feff}field\r\n"));
        let mut reader = csv::Reader::from_reader(found.as_bytes());
        let read: Vec<String> = reader.records().map(|row| row.expect("RFC 4180")[0].to_owned()).collect();
        let told =
            ["'=1+1", "'+cmd|' /C calc'!A0", "'-2+3", "'@SUM(A1)", "'\t=1", "-3", "+44 20 7946 0101", "a = b", "'-"];
        assert_eq!(read, told);
    }
}
