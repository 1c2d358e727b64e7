//! A spectrum on the program's one wavelength grid, and the reader of tables kept on that grid.
//!
//! In: a law of the wavelength, or a table. Out: 81 values. Knows nothing of: what the values mean.
//!
//! Every spectrum in the program (reflectance, K/S, weights) lives on this grid, so that no law ever has to
//! interpolate. Truncation: hair has nothing to see beyond 780 nm and the observer nothing before 380 nm.

/// Number of samples: 380 to 780 nm in steps of 5 nm.
pub const SAMPLES: usize = 81;

/// Values at 380, 385, … 780 nm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spectrum(pub [f64; SAMPLES]);

/// The wavelength of sample `index`, nm.
#[must_use]
pub fn wavelength(index: usize) -> f64 {
    380.0 + 5.0 * index as f64
}

impl Spectrum {
    /// A spectrum from a law of the wavelength in nm.
    #[must_use]
    pub fn from_law(law: impl Fn(f64) -> f64) -> Self {
        Self(std::array::from_fn(|index| law(wavelength(index))))
    }

    /// Sample by sample.
    #[must_use]
    pub fn map(self, law: impl Fn(f64) -> f64) -> Self {
        Self(self.0.map(law))
    }

    /// Straight-line interpolation of samples taken at a wider even step, held constant beyond both ends.
    ///
    /// `first` and `step` are the wavelength of the first sample and the distance between samples, nm. For
    /// measured spectra only; the program's own laws are evaluated on the grid itself.
    ///
    /// # Panics
    /// When there is no sample, or the step is not positive.
    ///
    /// ```
    /// use afterhue::science::colour::spectrum::Spectrum;
    /// let measured = Spectrum::interpolated(400.0, 10.0, &[0.2, 0.4]);
    /// assert_eq!(measured.0[0], 0.2);
    /// assert!((measured.0[5] - 0.3).abs() < 1e-12); // 405 nm
    /// assert_eq!(measured.0[80], 0.4);
    /// ```
    #[must_use]
    pub fn interpolated(first: f64, step: f64, samples: &[f64]) -> Self {
        assert!(!samples.is_empty() && step > 0.0, "a measured spectrum needs samples at a positive step");
        Self::from_law(|nanometres| {
            let position = ((nanometres - first) / step).clamp(0.0, (samples.len() - 1) as f64);
            let below = position.floor() as usize;
            let above = (below + 1).min(samples.len() - 1);
            let share = position - below as f64;
            samples[below] * (1.0 - share) + samples[above] * share
        })
    }
}

/// Reads a built-in table on the grid: header lines with `#`, then the wavelength and `COLUMNS` values a line.
///
/// # Panics
/// When the table does not hold exactly the grid. Tables are part of the program, so this is a fault of the
/// program; each table's own test reads it.
pub(crate) fn table<const COLUMNS: usize>(text: &str) -> [Spectrum; COLUMNS] {
    let mut columns = [Spectrum([0.0; SAMPLES]); COLUMNS];
    let mut rows = 0;
    for (index, line) in text.lines().filter(|line| !line.starts_with('#')).enumerate() {
        let cells: Vec<f64> =
            line.split(',').map(|cell| cell.trim().parse().expect("a built-in table holds numbers only")).collect();
        assert_eq!(cells.len(), COLUMNS + 1, "a built-in table has all its columns in row {line}");
        assert!((cells[0] - wavelength(index)).abs() < 1e-9, "a built-in table is on the grid at {line}");
        for (column, value) in columns.iter_mut().zip(&cells[1..]) {
            column.0[index] = *value;
        }
        rows += 1;
    }
    assert_eq!(rows, SAMPLES, "a built-in table covers the whole grid");
    columns
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_grid_runs_from_380_to_780_nanometres() {
        let ends = [wavelength(0), wavelength(SAMPLES - 1)];
        assert_eq!(ends, [380.0, 780.0]);
    }

    #[test]
    #[should_panic(expected = "covers the whole grid")]
    fn a_table_with_missing_rows_is_refused() {
        let _ = table::<1>("# source: none\n380,1\n385,2\n");
    }

    #[test]
    #[should_panic(expected = "on the grid")]
    fn a_table_off_the_grid_is_refused() {
        let _ = table::<1>("380,1\n390,2\n");
    }
}
