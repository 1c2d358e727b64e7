//! A passage of any bytes.
