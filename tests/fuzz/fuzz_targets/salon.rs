//! A salon file of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("salon", afterhue_fuzz::salon);
