//! Built-in tables: `#` lines that name the source, one line of column names, then rows of comma-separated cells.
//!
//! In: the text of a table. Out: its cells. Knows nothing of: what they mean. Tables are part of the program, so a fault in one is a fault of the program.

/// The rows of a table, cell by cell, without header and column names.
pub(crate) fn cells(text: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    let lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    lines.skip(1).map(|line| line.split(',').map(str::trim).collect())
}

/// The rows of a table that holds numbers only.
///
/// # Panics
/// When a row has another number of cells, or a cell is not a number.
pub(crate) fn numbers<const COLUMNS: usize>(text: &'static str) -> impl Iterator<Item = [f64; COLUMNS]> {
    cells(text).map(|row| {
        assert_eq!(row.len(), COLUMNS, "a built-in table has all its columns in row {row:?}");
        std::array::from_fn(|index| row[index].parse().expect("a built-in table of numbers holds numbers only"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_column_names_are_not_rows() {
        let rows: Vec<[f64; 2]> = numbers("# source: none\na,b\n1,2\n\n3, 4\n").collect();
        assert_eq!(rows, [[1.0, 2.0], [3.0, 4.0]]);
    }

    #[test]
    #[should_panic(expected = "all its columns")]
    fn a_short_row_is_refused() {
        let _ = numbers::<2>("a,b\n1\n").count();
    }
}
