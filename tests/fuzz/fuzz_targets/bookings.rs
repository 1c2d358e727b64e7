//! A bookings file of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("bookings", afterhue_fuzz::bookings);
