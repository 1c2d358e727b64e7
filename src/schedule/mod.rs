//! All plans against the chairs: windows become spans of chair time, and calendar text.

pub mod calendar;
