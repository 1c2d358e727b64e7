//! How the salon keeps its book: times, extras and what a day too early or too late is worth.

use crate::units::{Millimetres, Minutes};

/// The salon's rules for its book. Defaults are common practice, no source, unless said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BookRules {
    /// Whether a stylist may see a second client while a colour develops. Never while lightener works, whatever is set here.
    pub share_developing: bool,
    /// Appointments begin on a multiple of this and take up whole multiples of it, minutes.
    pub step: u16,
    /// The talk before the work, at every visit with colour.
    pub consultation: Minutes,
    /// Hair from this length on takes longer.
    pub long_from: Millimetres,
    /// How much longer.
    pub long_extra: Minutes,
    /// How much longer dense hair takes.
    pub dense_extra: Minutes,
    /// How much longer roots take whose regrowth is over the salon's stop (`regrowth_stop_mm`).
    pub regrowth_extra: Minutes,
    /// The most that all extras come to: many salons add half an hour to an hour.
    pub most_extra: Minutes,
    /// A trim at a visit with colour.
    pub trim: Minutes,
    /// Whether the client's own page tells the time of a booking beside its day.
    pub show_time: bool,
    /// What a day before the colour needs it costs, in the salon's currency: work and hair spent too early.
    pub early_a_day: f64,
    /// What a day after the colour is gone costs: goodwill, and the client who goes elsewhere.
    pub late_a_day: f64,
    /// What moving a proposal costs that a client may have heard of.
    pub move_standing: f64,
    /// What sending a client to another stylist costs.
    pub other_stylist: f64,
    /// What it costs to leave a client without a time.
    pub left_out: f64,
}

impl Default for BookRules {
    fn default() -> Self {
        let minutes = Minutes::from_minutes;
        Self {
            share_developing: false,
            step: 15,
            consultation: minutes(15.0),
            long_from: Millimetres::from_mm(450.0),
            long_extra: minutes(30.0),
            dense_extra: minutes(30.0),
            regrowth_extra: minutes(30.0),
            most_extra: minutes(60.0),
            trim: minutes(30.0),
            show_time: true,
            early_a_day: 1.0,
            late_a_day: 2.5,
            move_standing: 15.0,
            other_stylist: 8.0,
            left_out: 250.0,
        }
    }
}
