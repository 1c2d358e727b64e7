//! A salon with one file of any bytes, up to its pages.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("pages", afterhue_fuzz::pages);
