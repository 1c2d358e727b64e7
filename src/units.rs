//! Quantities with their unit in every name, and words with one spelling.
//!
//! A quantity is built through a constructor that checks its range and read through a getter that names its unit, so no bare number crosses a module border without saying what it measures.
//! A [`Worded`] type is one that a person writes as a word in a file: its table is the only place that spells it.

/// Declares quantity newtypes over `f64`, each with its unit, its range and its constructors.
macro_rules! quantity {
    ($($(#[$doc:meta])* $name:ident, $from:ident, $to:ident, $unit:literal, $low:literal ..= $high:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// The unit this quantity is counted in.
            pub const UNIT: &'static str = $unit;
            /// The smallest value a constructor takes.
            pub const LOW: f64 = $low;
            /// The largest value a constructor takes.
            pub const HIGH: f64 = $high;

            #[doc = concat!("Builds the quantity from a number in ", $unit, ".")]
            ///
            /// # Panics
            /// When the number is outside the range or not a number: a fault in the program, not in a file.
            /// Use `try_` for numbers that a person wrote.
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                assert!(value >= $low && value <= $high, concat!(stringify!($name), " out of range"));
                Self(value)
            }

            #[doc = concat!("Builds the quantity from a number in ", $unit, ", or nothing when it is out of range.")]
            #[must_use]
            pub fn try_new(value: f64) -> Option<Self> {
                ($low..=$high).contains(&value).then_some(Self(value))
            }

            #[doc = concat!("The number in ", $unit, ".")]
            #[must_use]
            pub const fn $to(self) -> f64 {
                self.0
            }
        }
    )*};
}

quantity! {
    /// A length along the hair, from the scalp outward.
    Millimetres, from_mm, to_mm, "mm", 0.0..=2000.0;
    /// A time that a product works or a service takes.
    Minutes, from_minutes, to_minutes, "min", 0.0..=1440.0;
    /// Time since the service, in days.
    Days, from_days, to_days, "d", 0.0..=3660.0;
    /// A part of a whole, 0 to 1.
    Fraction, from_fraction, to_fraction, "1", 0.0..=1.0;
    /// An amount of fading: one is what one ordinary shampoo wash does to this hair.
    Washes, from_washes, to_washes, "wash", 0.0..=1.0e6;
    /// How often something happens in a week.
    PerWeek, from_per_week, to_per_week, "1/week", 0.0..=21.0;
    /// A temperature.
    Celsius, from_celsius, to_celsius, "°C", 0.0..=300.0;
    /// Strength of hydrogen peroxide, as the trade labels it (% w/v).
    PeroxidePercent, from_percent, to_percent, "%", 0.0..=50.0;
    /// Growth of the fibre.
    MillimetresPerDay, from_mm_per_day, to_mm_per_day, "mm/day", 0.0..=1.0;
    /// A weight of mixed product.
    Grams, from_grams, to_grams, "g", 0.0..=5000.0;
}

/// A closed interval of one quantity, for what a person knows as "2 to 3".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval<T> {
    /// The lower end.
    pub low: T,
    /// The upper end, equal to `low` when one number was given.
    pub high: T,
}

impl<T: Copy> Interval<T> {
    /// An interval of one point.
    #[must_use]
    pub const fn exactly(value: T) -> Self {
        Self { low: value, high: value }
    }
}

/// A type that a person writes as one of a few words.
pub trait Worded: Copy + Eq + 'static {
    /// What the word describes, for messages: "porosity", "curl class".
    const WHAT: &'static str;
    /// Every value with its own spelling, then the trade's twins that are also understood.
    const WORDS: &'static [(Self, &'static str, &'static [&'static str])];

    /// The spelling used in files and messages.
    fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(value, ..)| *value == self).map_or("", |(_, word, _)| word)
    }

    /// Reads a word or one of its twins; capitals, hyphens, underscores and spaces do not matter.
    fn from_word(text: &str) -> Option<Self> {
        let is = |word: &&'static str| same_word(word, text);
        let meant = |(_, word, twins): &&(Self, &'static str, &'static [&'static str])| {
            is(word) || twins.iter().any(|twin| is(&twin))
        };
        Self::WORDS.iter().find(meant).map(|(value, ..)| *value)
    }
}

/// Whether two spellings are of one word: capitals, hyphens, underscores, spaces around them do not matter.
fn same_word(one: &str, other: &str) -> bool {
    fn plain(text: &str) -> impl Iterator<Item = char> + '_ {
        let letters = text.trim().chars().flat_map(char::to_lowercase);
        letters.map(|letter| if matches!(letter, '-' | '_') { ' ' } else { letter })
    }
    one == other || plain(one).eq(plain(other))
}

/// Declares an enum whose values are words in a file.
macro_rules! worded {
    ($(#[$doc:meta])* $name:ident, $what:literal { $($(#[$vdoc:meta])* $value:ident = $word:literal $([$($twin:literal),*])?,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        #[allow(unreachable_pub, reason = "some words are public and some stay in their module")]
        pub enum $name { $($(#[$vdoc])* $value,)* }

        impl $crate::units::Worded for $name {
            const WHAT: &'static str = $what;
            const WORDS: &'static [(Self, &'static str, &'static [&'static str])] =
                &[$((Self::$value, $word, &[$($($twin),*)?]),)*];
        }
    };
}
pub(crate) use worded;

#[cfg(test)]
mod tests {
    use super::*;

    worded! {
        /// A word for the test.
        Sample, "sample" {
            /// One.
            FullHead = "full-head" ["whole head"],
            /// Other.
            Foils = "foils",
        }
    }

    #[test]
    fn a_quantity_refuses_what_is_out_of_range_or_not_a_number() {
        assert_eq!(Fraction::try_new(1.5), None);
        assert_eq!(Fraction::try_new(f64::NAN), None);
        assert_eq!(Fraction::try_new(0.5).map(Fraction::to_fraction), Some(0.5));
    }

    #[test]
    fn a_word_is_read_by_any_spelling_and_twin_and_written_by_one() {
        for text in ["full-head", "Full head", "FULL_HEAD", " whole head "] {
            assert_eq!(Sample::from_word(text), Some(Sample::FullHead), "{text}");
        }
        assert_eq!(Sample::FullHead.word(), "full-head");
        assert_eq!(Sample::from_word("plaits"), None);
    }
}
