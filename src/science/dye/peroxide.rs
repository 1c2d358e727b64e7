//! Peroxide strength: the volume number of a developer and what it holds.
//!
//! In: a volume strength. Out: mol/L, g/L, the trade's per cent. Knows nothing of: what the developer does to hair.

use crate::units::PeroxidePercent;

/// Molar volume of an ideal gas at 0 °C and 101.325 kPa, L/mol: [`CODATA_2018`](crate::science::bibliography::CODATA_2018).
const MOLAR_VOLUME: f64 = 22.413_969_54;
/// Molar mass of hydrogen peroxide, g/mol (from the standard atomic weights).
const MOLAR_MASS: f64 = 34.0147;
/// Per cent on the label for each volume: a convention of the trade, 10 vol being called 3 %.
const LABEL_PER_VOLUME: f64 = 0.3;

/// Amount of hydrogen peroxide in a solution of a volume strength, mol/L.
///
/// ```text
/// 2 H₂O₂ → 2 H₂O + O₂     c = 2·n / Vm
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `n` | litres of oxygen that a litre gives off, the volume strength | 1 | 0 to 160 |
/// | `Vm` | molar volume of an ideal gas, 0 °C and 1 atm | L/mol | 22.414 |
/// | `c` | amount concentration | mol/L | 0 to 14 |
///
/// # Validity
/// A definition.
///
/// # Uncertainty
/// The trade's label rounds it: [`label`].
///
/// # Source
/// Stoichiometry; a chemistry teaching page gives 2.678 mol/L for 30 volumes.
///
/// # Example
/// ```
/// use afterhue::science::dye::peroxide::moles_per_litre;
/// assert!((moles_per_litre(30.0) - 2.677).abs() < 0.002);
/// ```
#[must_use]
pub fn moles_per_litre(volumes: f64) -> f64 {
    2.0 * volumes / MOLAR_VOLUME
}

/// Mass of hydrogen peroxide in a solution of a volume strength, g/L: moles times 34.0147 g/mol.
///
/// # Example
/// ```
/// use afterhue::science::dye::peroxide::grams_per_litre;
/// assert!((grams_per_litre(20.0) - 60.70).abs() < 0.02);
/// ```
#[must_use]
pub fn grams_per_litre(volumes: f64) -> f64 {
    moles_per_litre(volumes) * MOLAR_MASS
}

/// The per cent on the label of a developer: 10 vol is 3 %, 40 vol is 12 %.
///
/// Common practice, a rounding: 10 vol is 3.04 % w/v by [`grams_per_litre`].
/// Nothing when the label would leave the range of [`PeroxidePercent`].
#[must_use]
pub fn label(volumes: f64) -> Option<PeroxidePercent> {
    PeroxidePercent::try_new(volumes * LABEL_PER_VOLUME)
}

/// The volume strength of a label: the inverse of [`label`].
#[must_use]
pub fn volumes(label: PeroxidePercent) -> f64 {
    label.to_percent() / LABEL_PER_VOLUME
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_and_volumes_name_the_same_bottles() {
        // Common practice, no source: 3, 6, 9 and 12 % are 10, 20, 30 and 40 vol.
        for (vol, percent) in [(10.0, 3.0), (20.0, 6.0), (30.0, 9.0), (40.0, 12.0)] {
            let read = label(vol).expect("a usual strength");
            assert!((read.to_percent() - percent).abs() < 1e-12);
            assert!((volumes(read) - vol).abs() < 1e-12);
        }
        assert_eq!(label(200.0), None);
    }

    #[test]
    fn a_label_is_a_rounding_of_the_true_strength() {
        for vol in [10.0, 20.0, 30.0, 40.0] {
            let true_percent = grams_per_litre(vol) / 10.0;
            let read = label(vol).expect("a usual strength").to_percent();
            assert!((true_percent / read - 1.0).abs() < 0.015);
        }
    }
}
