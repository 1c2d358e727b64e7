//! Another calendar of any bytes.
