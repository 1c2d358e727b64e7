//! A visit record of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("visit", afterhue_fuzz::visit);
