//! What no page may claim, with the reason.

use crate::diagnostic::Span;

/// Words that claim more than anybody can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NeverSay {
    /// The words, in lower case.
    pub words: &'static str,
    /// Why not, one sentence.
    pub reason: &'static str,
}

const DAMAGE: &str = "Lightening always changes the fibre; say what may help.";
const REPAIR: &str = "A UK advertising body has seen no evidence that shampoo or conditioner repairs hair; say \"may help protect\" or \"feels softer\".";
const PROMISE: &str = "How long a colour lasts is an estimate; say \"may last about\" and give a range.";
const CUTICLE: &str = "No source was found for this; leave the reason out.";
const SAFE: &str = "A clear test or a label is no proof: people may still react.";
const MEDICAL: &str = "This is a medical claim; send the reader to the health service.";
const PROOF: &str = "Sun and water always reach the hair; say \"may help\".";
const BURN: &str = "Pain is a reason to rinse and to ask for help.";
const HONEST: &str = "This is not truthful, or the law bars it.";

macro_rules! never {
    ($($reason:ident: $($words:literal),*;)*) => { &[$($(NeverSay { words: $words, reason: $reason },)*)*] };
}

/// Every such wording, from the rules on claims: EU Regulation 655/2013 (truth, evidence, honesty), the UK advertising
/// body on repair and strength, the EU scientific committee of 2019 on alert tests, health-service texts.
pub const NEVER_SAY: &[NeverSay] = never! {
    DAMAGE: "damage-free", "damage free", "no damage", "without damage", "healthy bleach", "does not damage";
    REPAIR: "repair", "repairs hair", "rebuild", "stronger", "strengthens", "heals hair", "restores hair";
    PROMISE: "guaranteed", "we guarantee", "will last", "lasts until", "same result every time", "will match the picture";
    CUTICLE: "cuticle", "seals colour", "seals the colour", "locks in", "lock in";
    SAFE: "safe for everybody", "safe for everyone", "hypoallergenic", "ppd-free", "so you are safe", "completely safe", "perfectly safe";
    MEDICAL: "safe in pregnancy", "safe when pregnant", "safe during pregnancy", "treats dandruff", "stops hair loss", "cures", "stop your medicated", "stop your medicine", "stop taking";
    PROOF: "uv-proof", "chlorine-proof", "waterproof", "sunproof";
    BURN: "normal to burn", "ignore the sting", "burning is normal", "stinging is normal";
    HONEST: "chemical-free", "chemical free", "all natural", "100% natural", "approved by", "dermatologist tested";
};

/// Every place in a text that says what no page may say; the longest wording at each place.
#[must_use]
pub fn never_said(text: &str) -> Vec<(Span, NeverSay)> {
    let lower = text.to_ascii_lowercase().replace(['\n', '\r'], " ");
    let mut found: Vec<(Span, NeverSay)> = NEVER_SAY
        .iter()
        .flat_map(|never| lower.match_indices(never.words).map(|(at, words)| (at..at + words.len(), *never)))
        .filter(|(span, _)| stands_alone(&lower, span))
        .collect();
    found.sort_by_key(|(span, _)| (span.start, std::cmp::Reverse(span.end)));
    found.dedup_by(|later, earlier| later.0.start < earlier.0.end);
    found
}

/// Whether no letter touches the beginning, so that "secures" is not "cures".
fn stands_alone(text: &str, span: &Span) -> bool {
    !text[..span.start].ends_with(|c: char| c.is_alphanumeric())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_claim_is_found_in_any_case_and_across_a_line_end() {
        let words = |text| never_said(text).into_iter().map(|(span, _)| &text[span]).collect::<Vec<_>>();
        assert_eq!(words("It REPAIRS\nhair and is UV-proof"), ["REPAIRS\nhair", "UV-proof"]);
        assert_eq!(words("A clip secures the braid"), Vec::<&str>::new());
    }
}
