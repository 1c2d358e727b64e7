//! A client file of any bytes.

#![cfg_attr(fuzzing, no_main)]

afterhue_fuzz::target!("client", afterhue_fuzz::client);
