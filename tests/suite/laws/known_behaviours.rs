//! What every colourist has seen: signs and hue angles of computed colours, never a rule.
//!
//! Common practice, no source, unless a test names one.

use afterhue::science::colour::cielab::Lab;
use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::absorption;
use afterhue::science::dye::class::DyeClass;
use afterhue::science::dye::deposit;
use afterhue::science::fade::kinetics::leaving;
use afterhue::science::hair::porosity::Porosity;

use super::{Fading, lightened, named, natural, washes};

/// Every colour from fresh to a dose, at steps of a fifth of a wash.
fn course(fading: &Fading, to: f64) -> Vec<Lab> {
    (0..=(to * 5.0) as u32).map(|fifth| fading.after(f64::from(fifth) / 5.0)).collect()
}

#[test]
fn rose_on_pale_yellow_turns_through_peach() {
    let course = course(&Fading::on_lightened("rose pastel", 10.0, DyeClass::Direct), 4.0);
    assert!((course[0].hue() - 14.0).abs() < 4.0, "{:?}", course[0]);
    assert!(course.windows(2).all(|pair| pair[1].hue() > pair[0].hue()), "the hue only warms");
    assert!(
        course.iter().any(|lab| lab.hue() > 40.0 && lab.chroma() > 10.0 && lab.a > 5.0),
        "a clear peach on the way"
    );
}

#[test]
fn powder_blue_goes_through_green() {
    let fading = Fading::on_lightened("powder blue", 10.0, DyeClass::Direct);
    for (dose, hue) in [(0.0, 228.0), (1.0, 193.0), (2.0, 156.0), (3.0, 135.0)] {
        let lab = fading.after(dose);
        assert!((lab.hue() - hue).abs() < 8.0, "after {dose}: {lab:?}, hue {:.0}", lab.hue());
        assert!(lab.a < 0.0);
    }
}

#[test]
fn a_violet_pastel_passes_a_greyed_rose_beige() {
    let course = course(&Fading::on_lightened("violet pastel", 10.0, DyeClass::Direct), 4.0);
    assert!(course[0].hue() > 300.0 && course[0].b < 0.0, "{:?}", course[0]);
    let rose_beige = |lab: &Lab| lab.hue() > 10.0 && lab.hue() < 60.0 && lab.chroma() < 8.0 && lab.a > 3.0;
    assert!(course.iter().any(rose_beige), "{course:?}");
}

#[test]
fn mint_turns_yellow_green() {
    let fading = Fading::on_lightened("mint", 10.0, DyeClass::Direct);
    let (fresh, later) = (fading.after(0.0), fading.after(3.0));
    assert!((150.0..170.0).contains(&fresh.hue()), "{fresh:?}");
    assert!((100.0..135.0).contains(&later.hue()) && later.a < -4.0 && later.chroma() > 10.0, "{later:?}");
}

#[test]
fn the_same_violet_pastel_on_a_yellow_base_looks_beige_from_the_start() {
    let loads = deposit::fit(&lightened(10.0), named("violet pastel")).loads;
    let lab = lightened(9.0).colour_under(&absorption(&loads));
    assert!((30.0..80.0).contains(&lab.hue()) && lab.chroma() < 20.0 && lab.l > 55.0, "{lab:?}");
    let wished = deposit::fit(&lightened(9.0), named("violet pastel"));
    let told = deposit::too_warm(&lightened(9.0), named("violet pastel"), &wished).expect("too warm");
    assert!(told.reachable_from.is_some_and(|stage| stage.value() > 9.0), "{told:?}");
}

#[test]
fn lengths_with_a_loose_pool_lose_most_in_the_first_washes() {
    // Direction: bleached hair loses loose surface colour in the first shampoos, J. Cosmet. Sci. 59(4) p. 366 (2008).
    let lost = |lightened: bool, from: f64, to: f64| {
        let law = leaving(DyeClass::Demi, lightened, Porosity::Normal);
        law.remaining(2, washes(from)).to_fraction() - law.remaining(2, washes(to)).to_fraction()
    };
    assert!(lost(true, 0.0, 2.0) > 2.0 * lost(true, 2.0, 4.0));
    assert!(lost(true, 0.0, 2.0) > 1.5 * lost(false, 0.0, 2.0));
    assert!(lost(false, 0.0, 2.0) < 1.5 * lost(false, 2.0, 4.0), "undamaged hair loses evenly");
}

#[test]
fn a_band_that_took_less_stays_visible_as_a_band() {
    let whole = Fading::on_lightened("rose pastel", 10.0, DyeClass::Direct);
    let band = Fading { fresh: whole.fresh.times(0.6), ..Fading::on_lightened("rose pastel", 10.0, DyeClass::Direct) };
    for dose in [0.0, 1.0, 2.0, 3.0, 4.0] {
        let apart = ciede2000(whole.after(dose), band.after(dose));
        assert!(apart > 1.3, "after {dose}: {apart:.2}, less than a tress differs from itself measured again");
    }
}

#[test]
fn over_porous_ends_grab_darker_and_leave_faster() {
    let ends = leaving(DyeClass::Direct, true, Porosity::OverPorous);
    let lengths = leaving(DyeClass::Direct, true, Porosity::Porous);
    let base = lightened(9.5);
    let mix = deposit::fit(&base, named("rose pastel")).loads;
    let taken = |porosity: Porosity| mix.times(porosity.uptake());
    let colour = |loads| base.colour_under(&absorption(&loads));
    assert!(colour(taken(Porosity::OverPorous)).l < colour(taken(Porosity::Porous)).l - 1.0);
    for dose in [0.5, 1.0, 2.0, 4.0, 8.0] {
        for band in 0..5 {
            assert!(
                ends.remaining(band, washes(dose)).to_fraction() < lengths.remaining(band, washes(dose)).to_fraction()
            );
        }
    }
    let later = |law: &afterhue::science::fade::kinetics::Leaving, porosity| {
        colour(law.loads_after(&taken(porosity), washes(6.0)))
    };
    assert!(later(&ends, Porosity::OverPorous).l > later(&lengths, Porosity::Porous).l, "they end up emptier");
}

#[test]
fn permanent_colour_on_undamaged_brown_stays() {
    // IFSCC Magazine 11(2), 139-142 (2008), abstract: more than 90 % of the colour kept after 30 washes on undamaged light brown hair.
    for (name, depth) in [("chocolate brown", 5.0), ("auburn", 5.0), ("mahogany", 5.0), ("chestnut", 6.0)] {
        let base = natural(depth);
        let fresh = deposit::fit(&base, named(name)).loads;
        let fading = Fading { base, fresh, leaving: leaving(DyeClass::Permanent, false, Porosity::Normal) };
        let share = fading.seen_share(30.0);
        assert!(share >= 0.85, "{name} on {depth}: {share:.3}");
    }
}
