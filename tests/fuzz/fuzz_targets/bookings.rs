//! A bookings file of any bytes.
