//! A salon with one file of any bytes, up to its pages.
