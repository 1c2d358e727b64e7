//! One piece of advice as a page shows it: finished text, and where it stands.
//!
//! In: what `care` selected and `page/markdown` set. Out: [`Advice`]. Knows nothing of: why it was chosen.

/// Where a piece of advice stands, in the order a page is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Tonight.
    Tonight,
    /// Washing, drying, combing.
    Washing,
    /// Until the first wash and shortly after.
    FirstDays,
    /// Each week.
    EachWeek,
    /// Hot tools and dryers.
    Heat,
    /// Sun, pool and sea.
    SunAndWater,
    /// Colour at home.
    AtHomeColour,
    /// What is normal.
    WhatIsNormal,
    /// The care boxes: the same on every page.
    CareBoxes,
    /// Before the next visit.
    BeforeNextVisit,
    /// Other questions.
    Questions,
    /// About this page.
    About,
}

/// How urgent a care box is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// Call an ambulance or go to an emergency department now.
    Emergency,
    /// Ask for help the same day.
    Urgent,
    /// Tell the salon, a pharmacist or a doctor.
    Tell,
}

/// One piece of advice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// Where it stands.
    pub section: Section,
    /// Heading, bare text.
    pub heading: String,
    /// Text as finished mark-up.
    pub body_html: String,
    /// The reason, as finished mark-up, one tap away.
    pub why_html: Option<String>,
    /// How urgent; only for care boxes.
    pub urgency: Option<Urgency>,
}
