//! One visit: what was done in the chair and what was found.

use chrono::{NaiveDate, NaiveTime};

use super::ClientCode;
use super::health::Health;
use super::words::{
    AfterWish, Area, Curl, Density, Elasticity, FoundBy, Ph, PlacementKind, ScalpOil, SwimPlace, Texture, Took,
    ZoneName,
};
use crate::diagnostic::Span;
use crate::science::colour::cielab::Lab;
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{Shampoo, Warmth, WaterHardness};
use crate::science::hair::{depth::NaturalDepth, porosity::Porosity, stage::LightenedStage};
use crate::units::{
    Celsius, Fraction, Grams, Interval, Millimetres, MillimetresPerDay, Minutes, PerWeek, PeroxidePercent,
};

/// A finished-service record.
#[derive(Debug, Clone, PartialEq)]
pub struct ServiceRecord {
    /// The file it came from, relative to the salon folder.
    pub file: String,
    /// The client.
    pub client: ClientCode,
    /// Where the file names the client, so that an unknown client can be shown.
    pub client_span: Span,
    /// The day of the service.
    pub date: NaiveDate,
    /// Where the file gives the date.
    pub date_span: Span,
    /// When it began.
    pub start: Option<NaiveTime>,
    /// When it ended.
    pub end: Option<NaiveTime>,
    /// The stylist's code, as in the salon file.
    pub stylist: Option<String>,
    /// Where the file names the stylist.
    pub stylist_span: Option<Span>,
    /// The hair as it is after the service.
    pub hair: Hair,
    /// What was placed where; hair not named is untouched.
    pub placements: Vec<Placement>,
    /// What the client does at home.
    pub habits: Habits,
    /// What the client wants.
    pub wishes: Wishes,
    /// Advice given in the chair, in the stylist's words; for the stylist's sheet.
    pub advice: Vec<String>,
    /// The price paid, in the salon's currency.
    pub price: Option<f64>,
    /// Hands-on and developing time actually taken.
    pub minutes_taken: Option<Minutes>,
    /// A note to the client, Markdown.
    pub note: Option<String>,
    /// What was seen of the last colour when the client came back.
    pub seen: Option<Seen>,
    /// Health facts: never public.
    pub health: Health,
}

/// The hair of this visit. What is not recorded is `None` and told as "not recorded".
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hair {
    /// Thickness of a fibre.
    pub texture: Option<Texture>,
    /// Curl class.
    pub curl: Option<Curl>,
    /// Length from scalp to ends.
    pub length: Option<Millimetres>,
    /// How much hair.
    pub density: Option<Density>,
    /// Natural depth at the roots.
    pub natural_depth: Option<NaturalDepth>,
    /// Share of white hair.
    pub white: Option<Fraction>,
    /// Oiliness of the scalp.
    pub scalp_oil: Option<ScalpOil>,
    /// New growth seen before the service.
    pub regrowth: Option<Millimetres>,
    /// New growth left untouched by this service, from the scalp.
    pub left_untouched: Option<Millimetres>,
    /// The client's own growth, when known.
    pub growth: Option<MillimetresPerDay>,
    /// Length cut off at this visit.
    pub trimmed: Option<Millimetres>,
}

/// One placement of product on the head.
#[derive(Debug, Clone, PartialEq)]
pub struct Placement {
    /// The technique.
    pub kind: PlacementKind,
    /// The part of the head.
    pub area: Option<Area>,
    /// The share of all hair it covers.
    pub share: Option<Fraction>,
    /// Its zones from the scalp outward; they do not overlap.
    pub zones: Vec<Zone>,
    /// Lightening steps, in order.
    pub lightening: Vec<LighteningStep>,
    /// Toning passes, in order.
    pub toning: Vec<ToningPass>,
}

/// One zone along the hair of a placement.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// Its name.
    pub name: ZoneName,
    /// Where it begins, from the scalp.
    pub from: Millimetres,
    /// Where it ends.
    pub to: Millimetres,
    /// The stage it was lightened to, now or before; `None` means not lightened.
    pub stage: Option<LightenedStage>,
    /// Porosity.
    pub porosity: Option<Porosity>,
    /// Elasticity when wet.
    pub elasticity: Option<Elasticity>,
    /// How often this fibre was lightened before this visit, when known.
    pub lightened_before: Option<u8>,
    /// The finished colour.
    pub colour: Option<FinishedColour>,
    /// Where the file describes this zone.
    pub span: Span,
}

/// A finished colour.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishedColour {
    /// The colour.
    pub lab: Lab,
    /// The shade's name as the stylist wrote it, when it was named.
    pub name: Option<String>,
    /// How it was found.
    pub found: FoundBy,
}

/// One lightening step of a placement.
#[derive(Debug, Clone, PartialEq)]
pub struct LighteningStep {
    /// Zones it covered; empty means all zones of the placement.
    pub zones: Vec<ZoneName>,
    /// Whether it touched the scalp.
    pub on_scalp: Option<bool>,
    /// Strength of the peroxide.
    pub developer: Option<PeroxidePercent>,
    /// Time it worked.
    pub minutes: Option<Minutes>,
    /// Whether heat was added.
    pub heat: Option<bool>,
    /// Stage reached.
    pub stage_reached: Option<LightenedStage>,
    /// The stylist confirms a strength over the limit as what was really used.
    pub confirmed_as_used: bool,
    /// Where the file describes this step.
    pub span: Span,
}

/// One toning pass of a placement.
#[derive(Debug, Clone, PartialEq)]
pub struct ToningPass {
    /// Zones it covered; empty means all zones of the placement.
    pub zones: Vec<ZoneName>,
    /// Dye class.
    pub dye: DyeClass,
    /// Acid or alkaline.
    pub ph: Option<Ph>,
    /// Target, in the stylist's words.
    pub target: Option<String>,
    /// Parts colour to parts of what it was mixed with, "1:2" = (1, 2).
    pub mix: Option<(f64, f64)>,
    /// Parts colour to parts clear, "1:4" = (1, 4).
    pub dilution: Option<(f64, f64)>,
    /// Weight mixed.
    pub grams: Option<Grams>,
    /// Strength of the developer.
    pub developer: Option<PeroxidePercent>,
    /// Time it worked.
    pub minutes: Option<Minutes>,
    /// How it took.
    pub took: Option<Took>,
    /// The stylist confirms a strength over the limit as what was really used.
    pub confirmed_as_used: bool,
    /// Where the file describes this pass.
    pub span: Span,
}

/// What the client does at home, in a usual week.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Habits {
    /// Shampoo washes, "2" or "2 to 3".
    pub washes: Option<Interval<PerWeek>>,
    /// Days with a rinse only.
    pub rinses: Option<PerWeek>,
    /// Warmth of the water.
    pub warmth: Option<Warmth>,
    /// Kind of shampoo.
    pub shampoo: Option<Shampoo>,
    /// Home colour conditioner.
    pub conditioner: Option<HomeConditioner>,
    /// Hours of sun on the hair.
    pub sun_hours: Option<f64>,
    /// Swims.
    pub swims: Option<PerWeek>,
    /// Where.
    pub swim_place: Option<SwimPlace>,
    /// Hot tools.
    pub heat: Option<HeatTools>,
    /// Hardness of the water at home.
    pub hardness: Option<WaterHardness>,
    /// Whether the water is known to carry copper.
    pub copper: bool,
    /// Days of sport that make the scalp sweat.
    pub sport: Option<PerWeek>,
}

/// A conditioner that lays down colour.
#[derive(Debug, Clone, PartialEq)]
pub struct HomeConditioner {
    /// Uses a week.
    pub uses: PerWeek,
    /// The shade's name.
    pub shade: Option<String>,
}

/// Hot tools at home.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatTools {
    /// Days a week.
    pub days: PerWeek,
    /// The setting.
    pub temperature: Option<Celsius>,
}

/// What the client wants.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Wishes {
    /// Keep it, or let it soften. Not recorded counts as keep.
    pub after: Option<AfterWish>,
    /// A day on which the colour should look its best.
    pub event: Option<NaiveDate>,
}

/// What was seen on return, about the visit before.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// Shampoo washes since that visit.
    pub washes: Option<u16>,
    /// Rinse-only days since.
    pub rinses: Option<u16>,
    /// Uses of a home colour conditioner since.
    pub conditioner_uses: Option<u16>,
    /// What is left, zone by zone.
    pub zones: Vec<SeenZone>,
    /// Where the file tells it.
    pub span: Span,
}

/// What was left of one zone's colour.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenZone {
    /// The placement of the visit before, counted from 1.
    pub placement: u16,
    /// Its zone.
    pub zone: ZoneName,
    /// Share left: an interval when tapped as a step, a point when given.
    pub left: Interval<Fraction>,
    /// Where the file tells it.
    pub span: Span,
}
