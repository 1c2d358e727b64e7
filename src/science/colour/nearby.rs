//! What the colours near a colour may be called.
//!
//! In: a colour and how far from it one may be. Out: every hue family and depth that lies so near. Knows nothing of: why it is asked.
//!
//! A search along a fading asks here whether it may pass over a stretch: where every colour near the path has one name, none
//! of them needs to be computed.

use super::naming::{CHART, Depth, Hue, Region, depth};
use super::oklab::Oklab;

/// All colours not farther from one than a distance in Oklab, as a block of hue angle, lightness and chroma about them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearby {
    /// The least hue angle, degrees, and how far it reaches; nothing when grey is among the colours, so that any hue may be.
    hue: Option<(f64, f64)>,
    lightness: (f64, f64),
    chroma: (f64, f64),
}

impl Nearby {
    /// The colours about one, `distance` in Oklab, at least 0.
    #[must_use]
    pub fn of(colour: Oklab, distance: f64) -> Self {
        let chroma = colour.chroma();
        // The two tangents from the grey axis.
        let aside = (distance / chroma).asin().to_degrees();
        Self {
            hue: (chroma > distance).then(|| (round(colour.hue() - aside), 2.0 * aside)),
            lightness: ((colour.l - distance).max(0.0), (colour.l + distance).max(0.0)),
            chroma: ((chroma - distance).max(0.0), chroma + distance),
        }
    }

    /// Whether something is true of every name that any of the colours may have.
    #[must_use]
    pub fn all(&self, mut so: impl FnMut(Hue, Depth) -> bool) -> bool {
        let depths = [self.lightness.0, self.lightness.1].map(depth);
        for region in CHART {
            match self.share_in(region) {
                Share::None => {}
                Share::Some | Share::All if !depths.into_iter().all(|depth| so(region.0, depth)) => return false,
                Share::Some => {}
                // Boxes further down name nothing of it.
                Share::All => return true,
            }
        }
        true
    }

    /// How much of the block may lie in a box of the chart.
    fn share_in(&self, Region(_, (first, last), lightness, chroma): &Region) -> Share {
        let hue = match self.hue {
            None => Share::Some,
            Some((from, reach)) => {
                let (into, width) = (round(from - first), round(last - first));
                if into + reach < width {
                    Share::All
                } else if into >= width && into + reach < 360.0 {
                    Share::None
                } else {
                    Share::Some
                }
            }
        };
        let within = |(low, high): (f64, f64), (from, to): (f64, f64)| {
            if high < from || low >= to {
                Share::None
            } else if from <= low && high < to {
                Share::All
            } else {
                Share::Some
            }
        };
        hue.min(within(self.lightness, *lightness)).min(within(self.chroma, *chroma))
    }
}

/// An angle between −360° and 360° as one from 0°.
fn round(degrees: f64) -> f64 {
    if degrees < 0.0 { degrees + 360.0 } else { degrees }
}

/// How much of a block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Share {
    None,
    Some,
    All,
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;
    use crate::science::colour::naming::name;
    use crate::science::colour::oklab::to_lab;

    proptest! {
        #[test]
        fn every_colour_as_near_as_that_has_one_of_the_names(
            l in 0.05..0.98, a in -0.2..0.2, b in -0.2..0.2,
            distance in 0.0..0.06, aside in (-1.0..1.0, -1.0..1.0, -1.0..1.0),
        ) {
            let (x, y, z): (f64, f64, f64) = aside;
            let length = (x * x + y * y + z * z).sqrt().max(1.0);
            let off = |part: f64| 0.999 * distance * part / length;
            let near = Oklab { l: l + off(x), a: a + off(y), b: b + off(z) };
            let named = name(to_lab(near));
            let mut names = BTreeSet::new();
            let all = Nearby::of(Oklab { l, a, b }, distance).all(|hue, depth| {
                names.insert((hue, depth));
                true
            });
            prop_assert!(all);
            prop_assert!(names.iter().any(|(hue, _)| *hue == named.hue), "{named:?} is not among {names:?}");
            let depths: BTreeSet<Depth> = names.iter().map(|(_, depth)| *depth).collect();
            prop_assert!(depths.first() <= Some(&named.depth) && Some(&named.depth) <= depths.last());
        }
    }

    #[test]
    fn a_colour_alone_has_one_name_and_far_ones_have_many() {
        let rose = Oklab { l: 0.85, a: 0.07, b: 0.02 };
        assert!(Nearby::of(rose, 0.001).all(|hue, _| hue == Hue::Rose));
        assert!(!Nearby::of(rose, 0.06).all(|hue, _| hue == Hue::Rose));
        let grey = Oklab { l: 0.7, a: 0.0, b: 0.001 };
        assert!(!Nearby::of(grey, 0.04).all(|hue, _| hue == Hue::Neutral));
    }
}
