//! A passage of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("passage", afterhue_fuzz::passage);
