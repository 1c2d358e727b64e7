//! A salon file of any bytes.
