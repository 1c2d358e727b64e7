//! How the book is kept: the salon's own values over the usual ones.

use crate::form::{Filled, Findings};
use crate::salon::BookRules;
use crate::units::{Millimetres, Minutes};

pub(super) fn rules(section: Option<&Filled>, findings: &mut Findings<'_>) -> BookRules {
    let usual = BookRules::default();
    let Some(own) = section else { return usual };
    let minutes = |field, usual: Minutes| own.quantity(field, Minutes::try_new).unwrap_or(usual);
    let worth = |field, usual: f64| own.number(field).unwrap_or(usual);
    let step = own.whole("step_minutes").unwrap_or(usual.step);
    if 60 % step != 0 {
        let hint = "Write 5, 6, 10, 12, 15, 20, 30 or 60, so that every hour begins on a step";
        findings.fault(own.span_of("step_minutes"), "an hour is no multiple of this step", "not a part of 60", hint);
    }
    BookRules {
        share_developing: own.yes("share_developing").unwrap_or(usual.share_developing),
        step,
        consultation: minutes("consultation_minutes", usual.consultation),
        long_from: own.quantity("long_hair_from_mm", Millimetres::try_new).unwrap_or(usual.long_from),
        long_extra: minutes("long_hair_minutes", usual.long_extra),
        dense_extra: minutes("dense_hair_minutes", usual.dense_extra),
        regrowth_extra: minutes("long_regrowth_minutes", usual.regrowth_extra),
        most_extra: minutes("most_extra_minutes", usual.most_extra),
        trim: minutes("trim_minutes", usual.trim),
        show_time: own.yes("show_time").unwrap_or(usual.show_time),
        early_a_day: worth("early_price_per_day", usual.early_a_day),
        late_a_day: worth("late_price_per_day", usual.late_a_day),
        move_standing: worth("move_price", usual.move_standing),
        other_stylist: worth("other_stylist_price", usual.other_stylist),
        left_out: worth("left_out_price", usual.left_out),
    }
}
