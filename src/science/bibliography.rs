//! Every published source a law or a number stands on, one constant each.

/// A published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reference {
    /// Short key, author and year: `SHARMA_2005` reads "Sharma, Wu & Dalal 2005".
    pub short: &'static str,
    /// The full reference.
    pub full: &'static str,
    /// How much of it was read: "full table", "abstract", "second hand", "from memory".
    pub read: &'static str,
}
