//! A client file of any bytes.
