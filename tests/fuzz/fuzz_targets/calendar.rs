//! Another calendar of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("calendar", afterhue_fuzz::calendar);
