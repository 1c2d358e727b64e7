//! The passages shipped with the program, embedded by name. A test compares this list with the folder.

use crate::diagnostic::SourceText;

macro_rules! passages {
    ($language:literal: $($id:literal)*) => {
        &[$((
            concat!("content-templates/", $language, "/", $id, ".md"),
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/content-templates/", $language, "/", $id, ".md")),
        ),)*]
    };
}

const ENGLISH: &[(&str, &str)] = passages! { "en":
    "about-leaflet"
    "about-medical"
    "about-page"
    "ask-breaking"
    "ask-cancer"
    "ask-henna-tattoo"
    "ask-natural"
    "ask-pregnant"
    "ask-uneven"
    "care-emergency"
    "care-tell"
    "care-urgent"
    "comb-curly"
    "comb-lightened"
    "comb-partly-dry"
    "conditioner-how-often"
    "conditioner-how"
    "conditioner-offer"
    "conditioner-test"
    "conditioner-toner"
    "first-scalp-watch"
    "first-stains"
    "first-sweat"
    "first-swim"
    "first-wash"
    "heat-air"
    "heat-before"
    "heat-colour"
    "heat-dryer"
    "heat-iron-coloured"
    "heat-iron-fine"
    "heat-iron"
    "next-dark"
    "next-event"
    "next-henna"
    "next-lighten"
    "next-past"
    "next-refresh-soften"
    "next-refresh"
    "next-relaxed"
    "next-roots-scalp"
    "next-roots-two-stage"
    "next-roots"
    "next-tell"
    "next-test"
    "next-top-up"
    "next-weak"
    "no-home-dye"
    "normal-blue"
    "normal-fade-oxidative"
    "normal-fade"
    "normal-green"
    "normal-line"
    "normal-panel"
    "normal-pink"
    "normal-porous"
    "normal-resistant"
    "normal-rinse"
    "normal-silver"
    "normal-too-warm"
    "normal-uneven"
    "normal-violet"
    "normal-warm"
    "normal-white"
    "pool-green"
    "pool-shock"
    "pool"
    "sea"
    "stop-yellow"
    "sun-filter"
    "sun-hat-lightened"
    "sun-hat"
    "tonight-braid"
    "tonight-dry"
    "tonight-keep"
    "tonight-no-plan"
    "tonight-scalp"
    "wash-coily"
    "wash-condition-fine"
    "wash-condition"
    "wash-deep-cleaning"
    "wash-dry-scalp"
    "wash-hot-water"
    "wash-how"
    "wash-medicated"
    "wash-more"
    "wash-oily"
    "wash-rhythm"
    "wash-scalp-first"
    "wash-shampoo-coloured"
    "wash-shampoo-lightened"
    "wash-sport"
    "wash-water"
    "week-bond"
    "week-hard-water"
    "week-leave-in"
    "week-loose"
    "week-mask-less"
    "week-mask-weak"
    "week-mask"
    "week-oil-direct"
    "week-oil"
    "week-protein"
    "week-tired"
    "week-trim"
    "week-weak"
};

/// The shipped texts of a language.
pub(super) fn shipped(language: &str) -> Option<impl Iterator<Item = SourceText>> {
    let texts = match language {
        "en" => ENGLISH,
        _ => return None,
    };
    Some(texts.iter().map(|(name, text)| SourceText { name: (*name).to_owned(), text: (*text).to_owned() }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_of_the_folder_is_in_the_list_and_the_other_way_round() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/content-templates/en");
        let mut on_disk: Vec<String> = std::fs::read_dir(folder)
            .expect("the folder is there")
            .map(|entry| entry.expect("a readable entry").file_name().to_string_lossy().into_owned())
            .filter(|name| name.ends_with(".md"))
            .map(|name| format!("content-templates/en/{name}"))
            .collect();
        on_disk.sort();
        let listed: Vec<&str> = ENGLISH.iter().map(|(name, _)| *name).collect();
        assert_eq!(listed, on_disk);
    }
}
