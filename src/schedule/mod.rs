//! All plans against the chairs: windows become spans of chair time, appointments and calendar text.
//!
//! In: histories, the salon, bookings, busy times, today. Out: the due list, a fitted book, changes to it, calendar text, messages, a look back. Knows nothing of: files, pages.

pub mod calendar;
pub mod demand;
pub mod diary;
pub mod due;
pub mod fit;
pub mod loss;
pub mod review;
pub mod span;

use crate::science::parameter::Parameter;

/// The numbers this stage assumes, beside the salon's own rules.
pub const PARAMETERS: &[&Parameter] = &[&span::OWN_TIME, &span::OWN_TIME_REACH, &fit::STILL_PROPOSED, &fit::TEST_AHEAD];
