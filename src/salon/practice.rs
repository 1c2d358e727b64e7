//! Every common-practice value a salon may change.

use crate::units::{Fraction, MillimetresPerDay, worded};

worded! {
    /// Kinds of shade, by how they are made and kept.
    ShadeKind, "shade kind" {
        /// A pale direct dye.
        Pastel = "pastel",
        /// A saturated direct dye.
        Vivid = "vivid",
        /// An oxidative toner or gloss.
        Toner = "toner" ["gloss"],
        /// A permanent colour.
        Permanent = "permanent",
    }
}

/// A usual interval in weeks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekRange {
    /// Usual.
    pub usual: f64,
    /// Earliest.
    pub earliest: f64,
    /// Latest.
    pub latest: f64,
}

/// The salon's practice. Defaults are common practice, no source, unless said.
#[derive(Debug, Clone, PartialEq)]
pub struct Practice {
    /// Hours before the first wash, by shade kind.
    pub first_wash_hours: ByShade<f64>,
    /// Refresh share: how much of the colour the eye still has when a refresh is due.
    pub refresh_share: ByShade<Fraction>,
    /// Usual refresh interval.
    pub refresh_weeks: ByShade<WeekRange>,
    /// Most washes a week advised for coloured hair.
    pub wash_cap: ByShade<f64>,
    /// Retouch of on-scalp lightener.
    pub scalp_retouch_weeks: WeekRange,
    /// Tint and white cover.
    pub tint_roots_weeks: WeekRange,
    /// Foils.
    pub foils_weeks: WeekRange,
    /// Freehand.
    pub freehand_weeks: WeekRange,
    /// Trim.
    pub trim_weeks: WeekRange,
    /// Regrowth at which an on-scalp retouch is warned and becomes two-stage, mm.
    pub regrowth_warn_mm: f64,
    /// The same, stop.
    pub regrowth_stop_mm: f64,
    /// Least weeks between lightening the same hair.
    pub relighten_min_weeks: f64,
    /// Strongest peroxide on the scalp, %.
    pub scalp_peroxide_max: f64,
    /// Hours an alert test is made before.
    pub alert_test_lead_hours: f64,
    /// Months for which an alert test counts when the leaflet allows; 0 = every time.
    pub alert_test_valid_months: u32,
    /// Growth when the client's own is not known.
    pub growth: MillimetresPerDay,
    /// Warmest wash water advised, °C.
    pub water_max_c: f64,
    /// Hottest tool advised on lightened hair, °C.
    pub iron_max_c: f64,
    /// Hot-tool days a week advised.
    pub heat_days: f64,
}

/// One value for each shade kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByShade<T> {
    /// For pastels.
    pub pastel: T,
    /// For vivids.
    pub vivid: T,
    /// For toners and glosses.
    pub toner: T,
    /// For permanent colour.
    pub permanent: T,
}

impl<T: Copy> ByShade<T> {
    /// The value of a kind.
    #[must_use]
    pub const fn of(&self, kind: ShadeKind) -> T {
        match kind {
            ShadeKind::Pastel => self.pastel,
            ShadeKind::Vivid => self.vivid,
            ShadeKind::Toner => self.toner,
            ShadeKind::Permanent => self.permanent,
        }
    }
}

impl Default for Practice {
    fn default() -> Self {
        let weeks = |usual, earliest, latest| WeekRange { usual, earliest, latest };
        let share = Fraction::from_fraction;
        Self {
            first_wash_hours: ByShade { pastel: 72.0, vivid: 72.0, toner: 48.0, permanent: 48.0 },
            refresh_share: ByShade { pastel: share(0.3), vivid: share(0.3), toner: share(0.3), permanent: share(0.3) },
            refresh_weeks: ByShade {
                pastel: weeks(3.0, 1.0, 8.0),
                vivid: weeks(5.0, 4.0, 12.0),
                toner: weeks(5.0, 4.0, 6.0),
                permanent: weeks(8.0, 4.0, 12.0),
            },
            wash_cap: ByShade { pastel: 3.0, vivid: 3.0, toner: 3.0, permanent: 4.0 },
            scalp_retouch_weeks: weeks(6.0, 4.0, 8.0),
            tint_roots_weeks: weeks(5.0, 4.0, 6.0),
            foils_weeks: weeks(10.0, 8.0, 12.0),
            freehand_weeks: weeks(13.0, 10.0, 16.0),
            trim_weeks: weeks(10.0, 8.0, 12.0),
            regrowth_warn_mm: 20.0,
            regrowth_stop_mm: 25.0,
            relighten_min_weeks: 4.0,
            scalp_peroxide_max: 6.0,
            alert_test_lead_hours: 48.0,
            alert_test_valid_months: 0,
            growth: MillimetresPerDay::from_mm_per_day(0.37),
            water_max_c: 38.0,
            iron_max_c: 150.0,
            heat_days: 2.0,
        }
    }
}
