//! The messages to send, as CSV.

use afterhue::page::messages::Message;

use super::spreadsheet;

/// The columns; the README says what each holds.
const COLUMNS: [&str; 6] = ["send_on", "client", "phone", "email", "kind", "text"];

/// One row a message.
pub(crate) fn csv(messages: &[Message]) -> String {
    let row = |one: &Message| {
        let day = one.send_on.to_string();
        [day, one.client.to_string(), one.phone.clone(), one.email.clone(), one.kind.to_owned(), one.text.clone()]
    };
    spreadsheet::csv(COLUMNS, messages.iter().map(row))
}
