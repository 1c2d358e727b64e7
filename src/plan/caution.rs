//! Cautions that may be public: they come from hair state and service, never from health.

/// A caution of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// Hair was lightened at this visit: the scalp may be sore later.
    Lightened,
    /// Hair that stretches or breaks: no more lightening until the stylist has looked.
    WeakHair,
    /// Lightening on relaxed hair.
    LightenedRelaxed,
    /// The base is too warm for the shade: it looks warmer than the name from the start.
    TooWarmBase,
    /// Fresh and bare differ by so little that no fade date is given.
    NoFadeDate,
    /// The wash rhythm the colour asks for is slower than the scalp needs; the scalp wins.
    ScalpFirst,
    /// Pool water or copper may tint pale hair green.
    GreenTint,
    /// The wished event is after the colour is nearly back.
    EventTooLate,
    /// Henna or metallic dye in the history.
    HennaOrMetallic,
}
