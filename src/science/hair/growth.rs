//! Growth of scalp hair.
//!
//! In: a rate and a time. Out: a length. Knows nothing of: ancestry; the table tells why the range is wide, the client tells the rate.

use std::sync::LazyLock;

use crate::science::bibliography;
use crate::science::parameter::Parameter;
use crate::science::table;
use crate::units::{Days, Interval, Millimetres, MillimetresPerDay};

/// The usual rate.
///
/// Its ends are the 10 % and 90 % points over all adults: the three group means of the source (0.280, 0.367, 0.411 mm/day) spread by 0.055, people within a group by 0.053, together 0.076 mm/day; 1.2816 standard deviations either side.
pub const USUAL: Parameter =
    Parameter::published("growth of scalp hair", 0.37, 0.27, 0.47, "mm/day", &bibliography::LOUSSOUARN_2005);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&USUAL];

/// Length grown in a time.
///
/// ```text
/// length = rate · time
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `rate` | growth | mm/day | [`USUAL`] |
/// | `time` | since the service | day | ≥ 0 |
///
/// # Validity
/// Anagen hair of the scalp; seasons are left out.
///
/// # Uncertainty
/// The range of [`USUAL`], 10 % to 90 % over all adults; a client's own growth narrows it.
///
/// # Source
/// Loussouarn, El Rawadi & Genain 2005. Beside it in the table: [`LOUSSOUARN_2001`](crate::science::bibliography::LOUSSOUARN_2001) and the world survey [`LOUSSOUARN_2016`](crate::science::bibliography::LOUSSOUARN_2016).
///
/// # Example
/// Eight weeks at 367 µm a day, the middle row of the table:
/// ```
/// use afterhue::science::hair::growth::grown;
/// use afterhue::units::{Days, MillimetresPerDay};
/// let length = grown(MillimetresPerDay::from_mm_per_day(0.367), Days::from_days(56.0));
/// assert!((length.to_mm() - 20.55).abs() < 0.01);
/// ```
#[must_use]
pub fn grown(rate: MillimetresPerDay, time: Days) -> Millimetres {
    let longest = Millimetres::HIGH;
    Millimetres::from_mm((rate.to_mm_per_day() * time.to_days()).min(longest))
}

/// The usual rate with its spread (10 % to 90 %).
#[must_use]
pub fn usual() -> (MillimetresPerDay, Interval<MillimetresPerDay>) {
    let rate = MillimetresPerDay::from_mm_per_day;
    (rate(USUAL.value), Interval { low: rate(USUAL.low), high: rate(USUAL.high) })
}

/// One published group of people.
#[derive(Debug, Clone, PartialEq)]
pub struct GrowthRow {
    /// The group as the source names it.
    pub group: &'static str,
    /// Mean, µm/day.
    pub mean: f64,
    /// Standard deviation, µm/day, where published.
    pub sd: Option<f64>,
    /// The source, as the header of the table spells it out.
    pub source: &'static str,
}

/// The published rates behind [`USUAL`].
#[must_use]
pub fn published() -> &'static [GrowthRow] {
    static ROWS: LazyLock<Vec<GrowthRow>> = LazyLock::new(|| {
        table::cells(include_str!("data/growth.csv"))
            .map(|row| GrowthRow {
                group: row[0],
                mean: row[2].parse().expect("a mean in the growth table"),
                sd: row[3].parse().ok(),
                source: row[7],
            })
            .collect()
    });
    &ROWS
}
