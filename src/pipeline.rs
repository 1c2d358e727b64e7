//! One call per stage. Read this first.
//!
//! ```text
//! texts ─► read ─► History ─► forecast ─► plan ─► care ─► page ─► render ─► files
//! ```
//!
//! In: the texts of a salon folder, the secret, today's date. Out: every file of the site, complete in memory.
//! Knows nothing of: disks, clocks, the command line.
