//! A visit record of any bytes.
