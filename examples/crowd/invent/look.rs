//! What a salon does to heads: looks from which the crowd's services are made.

/// A kind of service with its colour.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// The shade, one that is known by name.
    pub(super) shade: &'static str,
    /// Its colour, CIELAB, in whole units.
    pub(super) lab: [i64; 3],
    /// The kind of placement.
    pub(super) kind: &'static str,
    /// The dye class.
    pub(super) dye: &'static str,
    /// The lightened stages it is done on, in tenths, lowest and highest; nothing on hair that is not lightened.
    pub(super) stage: Option<(i64, i64)>,
    /// The dye's name in the salon's own words, for alert tests.
    pub(super) range: &'static str,
}

const fn look(
    shade: &'static str,
    lab: [i64; 3],
    kind: &'static str,
    dye: &'static str,
    stage: Option<(i64, i64)>,
    range: &'static str,
) -> Look {
    Look { shade, lab, kind, dye, stage, range }
}

const PALE: Option<(i64, i64)> = Some((95, 100));
const LIGHT: Option<(i64, i64)> = Some((85, 100));
const WARM: Option<(i64, i64)> = Some((70, 90));

/// Every look, the commoner ones more than once under other placements.
pub(super) const LOOKS: &[Look] = &[
    look("rose pastel", [76, 18, 5], "full head", "direct", PALE, "pastel range"),
    look("peach pastel", [79, 14, 22], "full head", "direct", LIGHT, "pastel range"),
    look("apricot", [74, 19, 31], "full head", "direct", LIGHT, "pastel range"),
    look("coral", [66, 32, 24], "full head", "direct", LIGHT, "vivid range"),
    look("powder blue", [72, -7, -8], "full head", "direct", PALE, "pastel range"),
    look("mint", [77, -13, 5], "panel", "direct", PALE, "pastel range"),
    look("vivid teal", [47, -23, -9], "panel", "direct", LIGHT, "vivid range"),
    look("vivid pink", [55, 47, 1], "full head", "direct", LIGHT, "vivid range"),
    look("pearl", [81, 1, 7], "full head", "toner", PALE, "acid toner"),
    look("platinum", [84, 0, 12], "full head", "toner", PALE, "acid toner"),
    look("champagne", [80, 4, 16], "foils", "toner", LIGHT, "acid toner"),
    look("cream blonde", [81, 3, 20], "foils", "toner", LIGHT, "acid toner"),
    look("beige blonde", [73, 4, 17], "freehand", "demi", LIGHT, "acid toner"),
    look("ash blonde", [70, 1, 11], "foils", "demi", LIGHT, "acid toner"),
    look("golden blonde", [71, 7, 32], "freehand", "demi", WARM, "demi range"),
    look("honey blonde", [64, 10, 31], "freehand", "demi", WARM, "demi range"),
    look("smoke grey", [58, 0, -1], "full head", "demi", PALE, "demi range"),
    look("copper gloss", [54, 25, 33], "full head", "demi", WARM, "demi range"),
    look("rose gold", [68, 17, 16], "face frame", "direct", LIGHT, "pastel range"),
    look("chestnut", [33, 12, 15], "regrowth", "permanent", None, "permanent range"),
    look("chocolate brown", [26, 8, 8], "regrowth", "permanent", None, "permanent range"),
    look("mocha", [34, 6, 10], "regrowth", "permanent", None, "permanent range"),
    look("auburn", [33, 19, 17], "full head", "permanent", None, "permanent range"),
    look("ash brown", [38, 2, 8], "full head", "demi", None, "demi range"),
];
