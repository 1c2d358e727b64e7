//! How long what concerns health is kept.

use crate::form::{Filled, Findings};
use crate::salon::{CardKept, Retention};

pub(super) fn retention(section: Option<&Filled>, findings: &mut Findings<'_>) -> Retention {
    let Some(own) = section else { return Retention::default() };
    let (reason, days) = ("incident_card_reason", "incident_card_days");
    for (there, missing) in [(reason, days), (days, reason)] {
        if own.is_written(there) && !own.is_written(missing) {
            let hint = format!("Write `{missing}` under [retention] too, or take this out");
            let message =
                "the card of a forgotten client is kept only for a reason and until a day, and one of them is missing";
            findings.caution(own.span_of(there), message, "keeps nothing by itself", hint);
        }
    }
    let card = own.owned(reason).zip(own.whole(days));
    Retention {
        card: card.map(|(reason, days)| CardKept { reason, days }),
        alert_test_days: own.whole("alert_test_days"),
    }
}
