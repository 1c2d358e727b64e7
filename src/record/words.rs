//! Every choice of words in a client file or a visit record.

use crate::units::worded;

worded! {
    /// Thickness of a single fibre.
    Texture, "texture" {
        /// Fine.
        Fine = "fine",
        /// Medium.
        Medium = "medium",
        /// Coarse.
        Coarse = "coarse" ["thick"],
    }
}

worded! {
    /// Curl class.
    Curl, "curl class" {
        /// Straight.
        Straight = "straight",
        /// Wavy.
        Wavy = "wavy",
        /// Curly.
        Curly = "curly",
        /// Coily.
        Coily = "coily" ["tightly curled"],
    }
}

worded! {
    /// How much hair there is.
    Density, "density" {
        /// Low.
        Low = "low" ["thin"],
        /// Medium.
        Medium = "medium" ["normal"],
        /// High.
        High = "high" ["thick"],
    }
}

worded! {
    /// How soon the scalp looks oily. A cosmetic state, not a health fact.
    ScalpOil, "scalp oiliness" {
        /// Dry.
        Dry = "dry",
        /// Normal.
        Normal = "normal",
        /// Oily.
        Oily = "oily",
    }
}

worded! {
    /// How a wet hair behaves when stretched.
    Elasticity, "elasticity" {
        /// Breaks.
        Breaks = "breaks" ["1"],
        /// Stretches and does not return.
        NoReturn = "no return" ["2"],
        /// Returns in part.
        PartReturn = "part return" ["3"],
        /// Springs back.
        FullReturn = "full return" ["4", "good"],
    }
}

worded! {
    /// Where on the head a product was placed.
    PlacementKind, "placement" {
        /// Every hair from the scalp or from a distance on.
        FullHead = "full head",
        /// New growth only.
        Regrowth = "regrowth" ["roots", "root retouch"],
        /// Woven or sliced sections in foil.
        Foils = "foils" ["highlights"],
        /// Painted by hand.
        Freehand = "freehand" ["balayage"],
        /// The hair round the face.
        FaceFrame = "face frame",
        /// One section, a panel or half of a split colour.
        Panel = "panel",
    }
}

worded! {
    /// Which part of the head a placement covers.
    Area, "area" {
        /// The whole head.
        Whole = "whole head",
        /// The top.
        Top = "top",
        /// The front.
        Front = "front",
        /// The sides.
        Sides = "sides",
        /// The back.
        Back = "back",
        /// The left half.
        Left = "left",
        /// The right half.
        Right = "right",
        /// The layer underneath.
        Underneath = "underneath",
    }
}

worded! {
    /// A zone along the hair.
    ZoneName, "zone" {
        /// Next to the scalp.
        Roots = "roots" ["root"],
        /// Between roots and ends.
        MidLengths = "mid-lengths" ["mids", "mid lengths", "lengths"],
        /// The ends.
        Ends = "ends" ["end", "tips"],
        /// A band across.
        Band = "band",
        /// All of it, when it is one zone.
        All = "all" ["whole"],
    }
}

worded! {
    /// How the finished colour was found.
    FoundBy, "way the colour was found" {
        /// With an instrument.
        Measured = "measured",
        /// By eye against a sample or a screen.
        MatchedByEye = "matched by eye" ["matched"],
        /// Only named.
        Named = "named",
    }
}

worded! {
    /// Acid or alkaline toner.
    Ph, "acid or alkaline" {
        /// Acid.
        Acid = "acid" ["acidic"],
        /// Alkaline.
        Alkaline = "alkaline",
    }
}

worded! {
    /// How a toning pass took.
    Took, "how it took" {
        /// As wished.
        Evenly = "evenly" ["even", "well"],
        /// Less than wished.
        Less = "less" ["too little"],
        /// More than wished.
        More = "more" ["grabbed", "too much"],
        /// Uneven.
        Patchy = "patchy" ["uneven"],
    }
}

worded! {
    /// What the client wants to happen after the service.
    AfterWish, "wish" {
        /// Keep the colour.
        Keep = "keep",
        /// Let it soften.
        LetSoften = "let soften" ["soften"],
    }
}

worded! {
    /// Where a client swims.
    SwimPlace, "place to swim" {
        /// A pool.
        Pool = "pool",
        /// The sea.
        Sea = "sea",
        /// A lake or river.
        Lake = "lake" ["river"],
    }
}

worded! {
    /// What was done to the hair before, as the client or an old record tells it.
    HistoryKind, "past treatment" {
        /// Lightening.
        Lightening = "lightening" ["bleach", "bleaching", "lightener"],
        /// Relaxer.
        Relaxer = "relaxer" ["relaxed"],
        /// Perm.
        Perm = "perm",
        /// Smoothing treatment.
        Smoothing = "smoothing" ["straightening"],
        /// Colour remover.
        ColourRemover = "colour remover",
        /// Salon colour.
        SalonColour = "salon colour",
        /// Colour done at home.
        HomeColour = "home colour" ["box colour", "box dye"],
        /// Henna or metallic dye.
        HennaOrMetallic = "henna or metallic dye" ["henna", "metallic dye"],
        /// Extensions.
        Extensions = "extensions",
    }
}
