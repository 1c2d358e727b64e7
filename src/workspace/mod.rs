//! The edge in: texts, today's date, the secret; the only source of randomness.
