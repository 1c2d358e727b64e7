//! The messages to send, as CSV.

use afterhue::page::messages::Message;

/// The columns; the README says what each holds.
const COLUMNS: [&str; 6] = ["send_on", "client", "phone", "email", "kind", "text"];

/// One row a message (RFC 4180).
pub(crate) fn csv(messages: &[Message]) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let kept = "writing to memory does not fail";
    writer.write_record(COLUMNS).expect(kept);
    for one in messages {
        let day = one.send_on.to_string();
        writer.write_record([&*day, one.client.as_str(), &one.phone, &one.email, one.kind, &one.text]).expect(kept);
    }
    String::from_utf8(writer.into_inner().expect(kept)).expect("every field is text")
}
