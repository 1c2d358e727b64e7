//! The closed set of facts a passage may ask for.
//!
//! Every fact comes from the service, the hair, the habits, the wishes or the plan. None comes from health: a page
//! must look the same whatever a client's health is.

use crate::units::Worded;
use crate::units::worded;

worded! {
    /// Something that is true or not true of a client after the latest visit.
    ///
    /// What nobody recorded is not true: a passage for curly hair stays away when the curl class is unknown.
    Fact, "fact" {
        /// The leading shade is a pale direct dye.
        Pastel = "pastel",
        /// The leading shade is a saturated direct dye.
        Vivid = "vivid",
        /// The leading shade is a toner or gloss.
        Toner = "toner" ["gloss"],
        /// The leading shade is a permanent colour.
        Permanent = "permanent",
        /// Some colour was laid down at this visit, of whatever kind.
        Coloured = "coloured",
        /// A direct dye was used at this visit.
        DirectDye = "direct-dye",
        /// A demi-permanent or permanent colour was used at this visit.
        OxidativeDye = "oxidative-dye",
        /// A temporary colour was used at this visit.
        TemporaryDye = "temporary-dye",
        /// The leading shade looks pink or rose.
        PinkShade = "pink-shade",
        /// The leading shade looks copper, peach or gold.
        WarmShade = "warm-shade",
        /// The leading shade looks green or mint.
        GreenShade = "green-shade",
        /// The leading shade looks blue.
        BlueShade = "blue-shade",
        /// The leading shade looks violet.
        VioletShade = "violet-shade",
        /// The leading shade has hardly any hue: silver, ash, beige.
        NeutralShade = "neutral-shade",
        /// Some hair is lightened, at this visit or before.
        Lightened = "lightened",
        /// Hair was lightened at this visit.
        LightenedNow = "lightened-now",
        /// Lightener touched the scalp at this visit.
        LightenerOnScalp = "lightener-on-scalp",
        /// Some hair was lightened before and again at this visit.
        LightenedAgain = "lightened-again",
        /// Some hair is lightened to yellow or paler.
        PaleBase = "pale-base",
        /// The natural depth is brown or darker.
        DarkNatural = "dark-natural",
        /// A third or more of the natural hair is white.
        WhiteHair = "white-hair",
        /// Every zone whose porosity is known is resistant.
        Resistant = "resistant",
        /// Some zone is porous or over-porous.
        Porous = "porous",
        /// Some zone is over-porous.
        OverPorous = "over-porous",
        /// Wet hair breaks, or stretches and does not return.
        WeakHair = "weak-hair",
        /// Wet hair returns only in part.
        TiredHair = "tired-hair",
        /// Straight hair.
        Straight = "straight",
        /// Wavy hair.
        Wavy = "wavy",
        /// Curly hair.
        Curly = "curly",
        /// Coily hair.
        Coily = "coily",
        /// Fine fibres.
        Fine = "fine",
        /// Medium fibres.
        MediumTexture = "medium-texture",
        /// Coarse fibres.
        Coarse = "coarse",
        /// An oily scalp.
        OilyScalp = "oily-scalp",
        /// A dry scalp.
        DryScalp = "dry-scalp",
        /// Short hair.
        ShortHair = "short-hair",
        /// Long hair.
        LongHair = "long-hair",
        /// Colour or lightener on the full head.
        FullHead = "full-head",
        /// A regrowth service.
        RegrowthService = "regrowth-service",
        /// Foils.
        Foils = "foils" ["highlights"],
        /// Painted by hand.
        Freehand = "freehand" ["balayage"],
        /// A face frame.
        FaceFrame = "face-frame",
        /// A panel or split colour.
        Panel = "panel",
        /// A band, or a pass that took less or patchily.
        UnevenTake = "uneven-take",
        /// Swims in a pool.
        SwimsInPool = "swims-in-pool",
        /// Swims in the sea.
        SwimsInSea = "swims-in-sea",
        /// Swims in a lake or river.
        SwimsInLake = "swims-in-lake",
        /// Uses hot tools.
        HotTools = "hot-tools",
        /// Washes with hot water.
        HotWater = "hot-water",
        /// Hard water at home.
        HardWater = "hard-water",
        /// Water known to carry copper.
        CopperWater = "copper-water",
        /// Sport that makes the scalp sweat.
        Sport = "sport",
        /// Hours in the sun each week.
        Sun = "sun",
        /// Uses a home colour conditioner.
        HomeConditioner = "home-conditioner",
        /// Uses a deep-cleaning shampoo.
        DeepCleaning = "deep-cleaning-shampoo",
        /// Washes more often than the plan's rhythm.
        WashesMore = "washes-more",
        /// Relaxed hair.
        Relaxed = "relaxed",
        /// Permed hair.
        Permed = "permed",
        /// Smoothed hair.
        Smoothed = "smoothed",
        /// Colour remover in the past.
        ColourRemoved = "colour-removed",
        /// Colour done at home in the past.
        HomeColoured = "home-coloured",
        /// Henna or metallic dye in the past.
        HennaOrMetallic = "henna-or-metallic",
        /// Extensions.
        Extensions = "extensions",
        /// The client wants to keep the colour; not recorded counts as this.
        Keep = "keep",
        /// The client lets the colour soften.
        LetSoften = "let-soften",
        /// The client has a day on which the colour should look its best.
        HasEvent = "has-event",
        /// The client has been here before.
        Returning = "returning",
        /// The base is too warm for the shade.
        TooWarmBase = "too-warm-base",
        /// The scalp needs more washes than the colour would like.
        ScalpFirst = "scalp-first",
        /// The plan has a refresh window.
        HasRefresh = "has-refresh",
        /// The plan has a roots visit.
        HasRoots = "has-roots",
        /// The roots will need a two-stage application.
        TwoStageRoots = "two-stage-roots",
        /// Some zone is ready for a top-up before the rest.
        TopUp = "top-up",
    }
}

/// Facts of which at most one can be true.
const EXCLUSIVE: &[&[Fact]] = &[
    &[Fact::Pastel, Fact::Vivid, Fact::Toner, Fact::Permanent],
    &[Fact::Straight, Fact::Wavy, Fact::Curly, Fact::Coily],
    &[Fact::Fine, Fact::MediumTexture, Fact::Coarse],
    &[Fact::OilyScalp, Fact::DryScalp],
    &[Fact::ShortHair, Fact::LongHair],
    &[Fact::SwimsInPool, Fact::SwimsInSea, Fact::SwimsInLake],
    &[Fact::Keep, Fact::LetSoften],
    &[Fact::Resistant, Fact::Porous],
    &[Fact::PinkShade, Fact::WarmShade, Fact::GreenShade, Fact::BlueShade, Fact::VioletShade, Fact::NeutralShade],
];

/// Facts that cannot be true without another; what follows in two steps is listed too.
const NEEDS: &[(Fact, Fact)] = &[
    (Fact::OverPorous, Fact::Porous),
    (Fact::LightenedNow, Fact::Lightened),
    (Fact::LightenerOnScalp, Fact::LightenedNow),
    (Fact::LightenerOnScalp, Fact::Lightened),
    (Fact::LightenedAgain, Fact::LightenedNow),
    (Fact::LightenedAgain, Fact::Lightened),
    (Fact::PaleBase, Fact::Lightened),
    (Fact::DirectDye, Fact::Coloured),
    (Fact::OxidativeDye, Fact::Coloured),
    (Fact::TemporaryDye, Fact::Coloured),
    (Fact::Pastel, Fact::Coloured),
    (Fact::Vivid, Fact::Coloured),
    (Fact::Toner, Fact::Coloured),
    (Fact::Permanent, Fact::Coloured),
    (Fact::TwoStageRoots, Fact::HasRoots),
];

impl Fact {
    /// Every fact.
    pub fn all() -> impl Iterator<Item = Self> {
        Self::WORDS.iter().map(|(fact, ..)| *fact)
    }

    /// Facts of which at most one can be true of a client, in groups.
    #[must_use]
    pub const fn exclusive_groups() -> &'static [&'static [Self]] {
        EXCLUSIVE
    }

    /// Pairs of facts: the first is never true without the second.
    #[must_use]
    pub const fn implications() -> &'static [(Self, Self)] {
        NEEDS
    }
}
