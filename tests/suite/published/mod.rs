//! The laws against numbers nobody here made: standards, papers, a public survey and an independent library.
//!
//! Each table in `published/` names its source in its first line.

mod colour;
mod naming;
mod second_opinion;

/// The rows of a table: `#` lines left out, cells split at commas.
fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    assert!(text.starts_with("# source: "), "a table names its source");
    let rows: Vec<Vec<&str>> = text
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .map(|line| line.split(',').map(str::trim).collect())
        .collect();
    assert!(!rows.is_empty(), "a table has rows");
    rows
}

/// A cell as a number.
fn number(cell: &str) -> f64 {
    cell.parse().unwrap_or_else(|_| panic!("{cell} is no number"))
}

/// Asserts that two numbers agree within a tolerance.
#[track_caller]
fn close(got: f64, published: f64, tolerance: f64, what: &str) {
    assert!((got - published).abs() <= tolerance, "{what}: got {got}, published {published} ± {tolerance}");
}
