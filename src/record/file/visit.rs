//! The fields of a visit record.

use super::client::HEALTH;
use super::{FORMAT, LINE, PROSE};
use crate::form::{Field, Limits, Section, Shape, Wants, about, number, whole, word, words};
use crate::record::words::{
    AfterWish, Area, Curl, Density, Elasticity, FoundBy, Ph, PlacementKind, ScalpOil, SwimPlace, Texture, Took,
    ZoneName,
};
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{Shampoo, Warmth, WaterHardness};
use crate::science::hair::porosity::Porosity;
use crate::science::hair::stage::UnderlyingPigment;
use crate::units::Worded;

pub(super) static VISIT_TOP: Section = Section::new(
    "",
    "one visit: what was done in the chair and what was found",
    &[
        FORMAT,
        Field::new("client", Wants::Text(Shape::Code), "the client's code, the name of the client file", "\"wren-04\"")
            .required(),
        Field::new("date", Wants::Date, "the day of the service", "2026-11-20").required(),
        Field::new("start", Wants::Time, "when it began", "10:00:00"),
        Field::new("end", Wants::Time, "when it ended", "14:30:00"),
        Field::new("stylist", Wants::Text(Shape::Code), "the stylist's code, as in salon.toml", "\"ines\""),
        Field::new("price", number(0.0, 100_000.0, ""), "the price paid, in the salon's currency", "180"),
        Field::new("minutes_taken", number(0.0, 1440.0, "min"), "the time the service really took", "255"),
        Field::new(
            "advice",
            Wants::Texts(Shape::Prose, 50),
            "the advice given in the chair",
            "[\"Shown how to comb from the ends\"]",
        ),
        Field::new("note", PROSE, "a note to the client, shown on the page", "\"Lovely to see you.\""),
        Field::section_of(&HAIR),
        Field::sections_of(&PLACEMENT, 30),
        Field::section_of(&HABITS),
        Field::section_of(&WISHES),
        Field::section_of(&SEEN),
        Field::section_of(&HEALTH),
    ],
);

static HAIR: Section = Section::new(
    "hair",
    "the hair after the service",
    &[
        Field::new("texture", word::<Texture>(), "how thick a single hair is", "\"fine\""),
        Field::new("curl", word::<Curl>(), "the curl", "\"wavy\""),
        Field::new("density", word::<Density>(), "how much hair there is", "\"medium\""),
        Field::new("length_mm", number(1.0, 2000.0, "mm"), "the length from the scalp to the ends", "420"),
        Field::new("natural_depth", number(1.0, 10.0, ""), "the natural depth, 1 black to 10 lightest blonde", "6")
            .twins(&["natural_level"]),
        Field::new("white_percent", number(0.0, 100.0, "%"), "the share of white hair", "10"),
        Field::new("scalp_oil", word::<ScalpOil>(), "how soon the scalp looks oily", "\"normal\""),
        Field::new("regrowth_mm", number(0.0, 2000.0, "mm"), "the new growth seen before the service", "18"),
        Field::new(
            "left_untouched_mm",
            number(0.0, 2000.0, "mm"),
            "the length from the scalp that this service left alone",
            "0",
        ),
        Field::new(
            "growth_mm_per_day",
            number(0.1, 0.8, "mm a day"),
            "how fast this client's hair grows, when it was measured",
            "0.4",
        ),
        Field::new("trimmed_mm", number(0.0, 2000.0, "mm"), "the length cut off", "15"),
    ],
);

static PLACEMENT: Section = Section::new(
    "placement",
    "one placement of product on the head",
    &[
        Field::new("kind", word::<PlacementKind>(), "the kind of placement", "\"full head\"")
            .required()
            .advice(not_a_placement),
        Field::new("area", word::<Area>(), "the part of the head", "\"whole head\""),
        Field::new("share_percent", number(0.1, 100.0, "%"), "the share of all hair it covers", "100"),
        Field::sections_of(&ZONE, 24).required(),
        Field::sections_of(&LIGHTENING, 24),
        Field::sections_of(&TONING, 24),
    ],
);

/// What is done to hair, written where the question is on which hair.
fn not_a_placement(text: &str) -> Option<String> {
    let text = text.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| text.contains(word));
    if says(&["root", "regrowth", "retouch"]) {
        return Some(
            "On the new growth alone is `kind = \"regrowth\"`; what was put on it is told below, in `[[placement.toning]]` or `[[placement.lightening]]`".to_owned(),
        );
    }
    let below = if says(&["gloss", "glaze", "toner", "toning", "tint", "colour", "color", "refresh"]) {
        "toning"
    } else if says(&["bleach", "lighten"]) {
        "lightening"
    } else {
        return None;
    };
    Some(format!(
        "Here it is asked which hair it went on, \"full head\" for all of it; what it was is told below, in `[[placement.{below}]]`"
    ))
}

/// The word of an underlying pigment, written where its number is asked for.
fn stage_of_a_pigment(text: &str) -> Option<String> {
    let stage = UnderlyingPigment::from_word(text)?.stage().value();
    Some(format!(
        "Hair lightened to {text} is about stage {stage}; or write `underlying_pigment = \"{text}\"` in place of the number"
    ))
}

static ZONE: Section = Section::new(
    "zone",
    "a length of the hair of a placement, from the scalp outward",
    &[
        Field::new("name", word::<ZoneName>(), "the zone", "\"roots\""),
        Field::new("from_mm", number(0.0, 2000.0, "mm"), "where it begins, from the scalp", "0").required(),
        Field::new("to_mm", number(0.0, 2000.0, "mm"), "where it ends, from the scalp", "60").required(),
        Field::new("stage", number(1.0, 10.0, ""), "how far it is lightened, 1 red to 10 pale yellow", "9.5")
            .twins(&["level"])
            .advice(stage_of_a_pigment),
        Field::new(
            "underlying_pigment",
            word::<UnderlyingPigment>(),
            "the warm pigment left, in place of the stage",
            "\"pale yellow\"",
        ),
        Field::new("porosity", word::<Porosity>(), "the porosity", "\"porous\""),
        Field::new("elasticity", word::<Elasticity>(), "how the wet hair behaves when stretched", "\"full return\""),
        Field::new(
            "lightened_before",
            whole(0.0, 50.0, ""),
            "how often this hair was lightened before this visit",
            "0",
        ),
        Field::section_of(&COLOUR),
    ],
);

static COLOUR: Section = Section::new(
    "colour",
    "the finished colour: a name, or a measured or matched colour",
    &[
        Field::new("name", LINE, "a shade by name; beside hex or lab it is free text", "\"rose pastel\""),
        Field::new(
            "hex",
            Wants::Text(Shape::HexColour),
            "the colour of a screen that was matched by eye",
            "\"#e8b4b8\"",
        ),
        Field::new(
            "lab",
            Wants::Numbers(&["lightness L*", "a*", "b*"], Limits { low: -128.0, high: 128.0, unit: "" }),
            "the colour as an instrument gave it",
            "[72.0, 18.0, 8.0]",
        ),
        Field::new("found", word::<FoundBy>(), "how the colour was found", "\"measured\""),
    ],
)
.also(&["color"]);

static LIGHTENING: Section = Section::new(
    "lightening",
    "one step of lightening",
    &[
        Field::new(
            "zones",
            words::<ZoneName>(),
            "the zones it covered; all of the placement when it is missing",
            "[\"roots\"]",
        ),
        Field::new("on_scalp", Wants::YesNo, "whether it touched the scalp", "true"),
        DEVELOPER_PERCENT,
        DEVELOPER_VOL,
        Field::new("minutes", number(0.0, 1440.0, "min"), "how long it worked", "40"),
        Field::new("heat", Wants::YesNo, "whether heat was added", "false"),
        Field::new("stage_reached", number(1.0, 10.0, ""), "the stage reached, 1 red to 10 pale yellow", "9.5")
            .twins(&["level_reached"])
            .advice(stage_of_a_pigment),
        CONFIRMED,
    ],
)
.also(&["bleach", "lightener"]);

const DEVELOPER_PERCENT: Field =
    Field::new("developer_percent", number(0.0, 50.0, "%"), "the strength of the developer in percent", "6");
const DEVELOPER_VOL: Field = Field::new(
    "developer_vol",
    number(0.0, 160.0, "vol"),
    "the strength of the developer in volumes, in place of percent",
    "20",
);
const CONFIRMED: Field =
    Field::new("confirmed_as_used", Wants::YesNo, "whether a strength over 12 % was really used", "false");

static TONING: Section = Section::new(
    "toning",
    "one pass of toner or colour",
    &[
        Field::new(
            "zones",
            words::<ZoneName>(),
            "the zones it covered; all of the placement when it is missing",
            "[\"roots\"]",
        ),
        Field::new("dye", word::<DyeClass>(), "the dye class", "\"direct\"").required().slips(&[
            "type",
            "class",
            "kind",
            "dye_class",
        ]),
        Field::new("ph", word::<Ph>(), "whether it was acid or alkaline", "\"acid\""),
        Field::new("target", LINE, "the shade aimed at, in your own words", "\"rose\""),
        Field::new("mix", Wants::Ratio, "the parts of colour to the parts it was mixed with", "\"1:2\""),
        Field::new("dilution", Wants::Ratio, "the parts of colour to the parts of clear", "\"1:4\""),
        Field::new("grams", number(0.0, 5000.0, "g"), "the weight mixed", "40"),
        DEVELOPER_PERCENT,
        DEVELOPER_VOL,
        Field::new("minutes", number(0.0, 1440.0, "min"), "how long it worked", "20"),
        Field::new("took", word::<Took>(), "how it took", "\"evenly\""),
        CONFIRMED,
    ],
);

static HABITS: Section = Section::new(
    "habits",
    "what the client does at home in a usual week",
    &[
        Field::new("washes_per_week", about(0.0, 21.0, "a week"), "how often the hair is shampooed", "\"2 to 3\""),
        Field::new(
            "rinse_days_per_week",
            number(0.0, 7.0, "days a week"),
            "on how many days it is rinsed without shampoo",
            "1",
        ),
        Field::new("water", word::<Warmth>(), "how warm the wash water is", "\"lukewarm\""),
        Field::new("shampoo", word::<Shampoo>(), "the kind of shampoo", "\"gentle\""),
        Field::new("sun_hours_per_week", number(0.0, 112.0, "hours a week"), "the hours of sun on the hair", "4"),
        Field::new("swims_per_week", number(0.0, 21.0, "a week"), "how often the client swims", "1"),
        Field::new("swims_in", word::<SwimPlace>(), "where the client swims", "\"pool\""),
        Field::new("water_hardness", word::<WaterHardness>(), "how hard the water at home is", "\"hard\""),
        Field::new("copper_in_water", Wants::YesNo, "whether the water is known to carry copper", "false"),
        Field::new(
            "sport_days_per_week",
            number(0.0, 7.0, "days a week"),
            "on how many days sport makes the scalp sweat",
            "2",
        ),
        Field::section_of(&COLOUR_CONDITIONER),
        Field::section_of(&HEAT_TOOLS),
    ],
);

static COLOUR_CONDITIONER: Section = Section::new(
    "colour_conditioner",
    "a conditioner that lays down colour",
    &[
        Field::new("uses_per_week", number(0.0, 21.0, "a week"), "how often it is used", "1").required(),
        Field::new("shade", LINE, "its shade", "\"rose pastel\""),
    ],
);

static HEAT_TOOLS: Section = Section::new(
    "heat_tools",
    "hot tools used at home",
    &[
        Field::new("days_per_week", number(0.0, 7.0, "days a week"), "on how many days they are used", "2").required(),
        Field::new("celsius", number(40.0, 260.0, "°C"), "their setting", "180"),
    ],
);

static WISHES: Section = Section::new(
    "wishes",
    "what the client wants",
    &[
        Field::new("after", word::<AfterWish>(), "whether to keep the colour or let it soften", "\"keep\""),
        Field::new("event", Wants::Date, "a day on which the colour should look its best", "2026-12-31"),
    ],
);

static SEEN: Section = Section::new(
    "seen",
    "what was left of the colour of the visit before",
    &[
        Field::new("washes_since", whole(0.0, 999.0, ""), "how often the hair was shampooed since", "8"),
        Field::new("rinses_since", whole(0.0, 999.0, ""), "on how many days it was only rinsed since", "3"),
        Field::new(
            "colour_conditioner_uses",
            whole(0.0, 999.0, ""),
            "how often a colour conditioner was used since",
            "2",
        ),
        Field::sections_of(&SEEN_ZONE, 200),
    ],
);

static SEEN_ZONE: Section = Section::new(
    "zone",
    "what was left in one zone",
    &[
        Field::new("placement", whole(1.0, 30.0, ""), "the placement of the visit before, counted from 1", "1")
            .required(),
        Field::new("zone", word::<ZoneName>(), "its zone", "\"ends\"").required(),
        Field::new("left_percent", about(0.0, 100.0, "%"), "the share of the colour left", "40").required(),
    ],
);
