//! One published row held against the model.
//!
//! In: texts and numbers ready to print. Out: [`Case`]. Knows nothing of: how the model came to its number.

/// What a row is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// The constants are fitted to it.
    Fitted,
    /// Held out of the fit.
    HeldOut,
    /// Not used for any constant; the model's number or sign is compared.
    Compared,
    /// Outside the model, and why.
    Outside(&'static str),
}

/// A row of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// Its name: A1, F3 …
    pub row: String,
    /// What was measured, and under which conditions.
    pub what: String,
    /// The published value, or the published direction.
    pub measured: String,
    /// The model's.
    pub modelled: Option<String>,
    /// Modelled less measured, where both are one number.
    pub residual: Option<f64>,
    /// Whether a published direction or range is met; nothing where a residual says more.
    pub met: Option<bool>,
    /// Where it was published.
    pub source: String,
    /// What it is for.
    pub standing: Standing,
    /// What a reader must know: the scale, or why it is missed.
    pub note: String,
}

impl Case {
    /// A row with a published text and nothing modelled.
    #[must_use]
    pub fn new(row: String, what: &str, measured: String, source: &str, standing: Standing) -> Self {
        Self {
            row,
            what: what.to_owned(),
            measured,
            modelled: None,
            residual: None,
            met: None,
            source: source.to_owned(),
            standing,
            note: String::new(),
        }
    }

    /// With the model's number against a published one.
    #[must_use]
    pub fn number(mut self, modelled: f64, measured: f64, places: usize) -> Self {
        self.modelled = Some(format!("{modelled:.places$}"));
        self.residual = Some(modelled - measured);
        self
    }

    /// With what the model says and whether that meets the published direction or range.
    #[must_use]
    pub fn direction(mut self, modelled: String, met: bool) -> Self {
        self.modelled = Some(modelled);
        self.met = Some(met);
        self
    }

    /// With a note.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.note = note.into();
        self
    }
}
