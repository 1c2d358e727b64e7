//! Learning held against simulated clients: does the range mean what it says, when the model is right and when it is wrong?
//!
//! Everything here is invented by a seeded generator; nothing is fitted to it. Taps, miscounted washes and a stylist's eye included.

use afterhue::forecast::{Clock, Milestone};
use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::{Loads, absorption};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::dye::{deposit, shade};
use afterhue::science::fade::dose::Wear;
use afterhue::science::fade::kinetics::leaving;
use afterhue::science::fade::learning::{Belief, COUNT, Evidence, Observation, SHARE_NOISE};
use afterhue::science::fade::rate::RateDistribution;
use afterhue::science::fade::uncertainty::{
    HABITS, START_BY_EYE, StartFoundBy, VISIT_SCATTER, class_spread, rate_spread,
};
use afterhue::science::hair::base::Base;
use afterhue::science::hair::porosity::Porosity;
use afterhue::science::hair::stage::LightenedStage;
use afterhue::units::{Days, Fraction, Interval, PerWeek, Washes};

use crate::dice::{Dice, off_by};

const CLIENTS: usize = 2_000;
const VISITS: usize = 8;
/// The share at which a colour counts as nearly back.
const NEARLY_BACK: f64 = 0.3;
/// The steps a stylist taps.
const STEPS: [f64; 7] = [0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0];

/// A seen share over the dose, tabulated.
struct Curve(Vec<f64>);

/// Doses between two entries of a curve.
const GRAIN: f64 = 0.05;

impl Curve {
    fn of(share: impl Fn(f64) -> f64) -> Self {
        Self((0..2_000).map(|step| share(f64::from(step) * GRAIN)).collect())
    }

    fn share(&self, dose: f64) -> f64 {
        let at = (dose / GRAIN).min((self.0.len() - 2) as f64);
        let (step, part) = (at as usize, at.fract());
        self.0[step] * (1.0 - part) + self.0[step + 1] * part
    }

    /// The dose at which the colour is nearly back.
    fn nearly_back(&self) -> f64 {
        self.0.iter().position(|share| *share <= NEARLY_BACK).expect("it leaves") as f64 * GRAIN
    }
}

/// One zone as the model sees it and as it truly fades.
struct Zone {
    modelled: Curve,
    true_to_life: Curve,
}

/// How the world of a simulation departs from the model.
#[derive(Clone, Copy)]
struct World {
    /// How colour truly leaves.
    form: Form,
    /// Mean of the clients' true ln rate.
    shift: f64,
    /// Washes are told up to this share too high or too low, always the same way by one client.
    misreported: f64,
}

/// How colour truly leaves.
#[derive(Clone, Copy)]
enum Form {
    /// From two pools, as modelled.
    Modelled,
    /// With the root of the dose, 1 − a√D, as from a cylinder in a short time (Crank 1975).
    Root,
    /// With the exponential of that root, exp(−a√D).
    ExponentialRoot,
    /// As `ExponentialRoot`, but a tenth is left after the washes of the handbooks on whatever hair: so the usual time to a refresh is wrong too, and porous ends leave like the rest.
    ExponentialRootAtItsOwnPace,
}

const AS_MODELLED: World = World { form: Form::Modelled, shift: 0.0, misreported: 0.0 };

fn zone(name: &str, stage: f64, class: DyeClass, porosity: Porosity, world: World) -> Zone {
    let base = Base::lightened(LightenedStage::try_new(stage).expect("a stage"));
    let fresh = deposit::fit(&base, shade::by_name(name).expect("a shade").colour);
    let law = leaving(class, true, porosity);
    let bare = base.bare();
    let share = |loads: &Loads| {
        let now = base.colour_under(&absorption(loads));
        (ciede2000(now, bare) / ciede2000(fresh.colour, bare)).min(1.0)
    };
    let modelled = Curve::of(|dose| share(&law.loads_after(&fresh.loads, Washes::from_washes(dose))));
    let left = |part: f64| share(&fresh.loads.times(part));
    let root = |x: f64| (1.0 - x).max(0.0);
    let exponential = |x: f64| (-x).exp();
    // Another curve through the same point: as long to the refresh share as the model has it, and another way there. That the usual time itself is wrong is the third simulation's business.
    let reaching = |form: fn(f64) -> f64| {
        let (mut less, mut more) = (0.0, 5.0);
        for _ in 0..50 {
            let a = f64::midpoint(less, more);
            if left(form(a)) > NEARLY_BACK { less = a } else { more = a }
        }
        less / modelled.nearly_back().sqrt()
    };
    let true_to_life = match world.form {
        Form::Modelled => Curve::of(|dose| modelled.share(dose)),
        Form::Root => {
            let a = reaching(root);
            Curve::of(|dose| left(root(a * dose.sqrt())))
        }
        Form::ExponentialRoot => {
            let a = reaching(exponential);
            Curve::of(|dose| left(exponential(a * dose.sqrt())))
        }
        Form::ExponentialRootAtItsOwnPace => {
            let a = 10.0_f64.ln() / class.washes().expect("it washes out").value.sqrt();
            Curve::of(|dose| left(exponential(a * dose.sqrt())))
        }
    };
    Zone { modelled, true_to_life }
}

/// What became of the forecasts before one visit number.
#[derive(Default)]
struct Score {
    inside: usize,
    errors: Vec<f64>,
}

impl Score {
    fn coverage(&self) -> f64 {
        self.inside as f64 / self.errors.len() as f64
    }

    /// The median of |ln(forecast day / true day)|.
    fn median_error(&self) -> f64 {
        let mut errors = self.errors.clone();
        errors.sort_by(f64::total_cmp);
        errors[errors.len() / 2]
    }
}

fn simulate(world: World, seed: u64) -> Vec<Score> {
    let mut dice = Dice(seed);
    let heads = [
        (DyeClass::Direct, ["rose pastel", "rose pastel"], 9.5),
        (DyeClass::Demi, ["silver", "silver"], 10.0),
        (DyeClass::Direct, ["violet pastel", "violet pastel"], 9.5),
    ]
    .map(|(class, names, stage)| {
        let porosities = [Porosity::Porous, Porosity::OverPorous];
        (class, [0, 1].map(|i| zone(names[i], stage, class, porosities[i], world)))
    });
    let mut scores: Vec<Score> = (0..VISITS).map(|_| Score::default()).collect();
    for client in 0..CLIENTS {
        let (class, zones) = &heads[client % heads.len()];
        one_client(*class, zones, world, &mut dice, &mut scores);
    }
    scores
}

fn one_client(class: DyeClass, zones: &[Zone; 2], world: World, dice: &mut Dice, scores: &mut [Score]) {
    let spread = rate_spread(class, None, StartFoundBy::Eye);
    let own = world.shift + dice.normal(class_spread(class).level());
    let told = (1.0 + world.misreported * dice.between(-1.0, 1.0)).ln();
    let stated = dice.between(1.0, 3.0);
    let mut belief = Belief::prior(0.0, spread.level);
    let mut returned = false;
    for score in scores {
        // The forecast, as the program makes it.
        let rate =
            if returned { belief.next_visit(spread.visit) } else { RateDistribution::log_normal(0.0, spread.sigma()) };
        let clock = |washes: f64| {
            let washes = PerWeek::from_per_week(washes.min(20.0));
            Clock::new(Days::from_days(3.0), &Wear { washes, ..Wear::default() })
        };
        let threshold = Washes::from_washes(zones[0].modelled.nearly_back() / rate.median());
        let forecast = Milestone::at(threshold, &rate, &clock(stated));
        // What truly happens.
        let washed = clock(stated * (dice.normal(HABITS.value) - told).exp());
        let this_time = (own + dice.normal(VISIT_SCATTER.value.hypot(START_BY_EYE.value))).exp();
        let day = |at: Option<Days>| at.map_or(f64::INFINITY, Days::to_days);
        let truth = day(washed.day_of(Washes::from_washes(zones[0].true_to_life.nearly_back() / this_time)));
        score.inside += usize::from(day(forecast.earliest) <= truth && truth <= day(forecast.latest));
        score.errors.push((day(forecast.usual).min(182.0) / truth.min(182.0)).ln().abs());
        // The return.
        let back = (day(forecast.usual).min(120.0) * dice.between(0.6, 1.2)).max(7.0);
        let dose = washed.dose_on(Days::from_days(back)).to_washes();
        let counted = (dose * (dice.normal(COUNT.value) + told).exp()).round();
        let eye = dice.student(SHARE_NOISE.value);
        let seen: Vec<Observation> = zones
            .iter()
            .map(|zone| {
                let left = tapped(zone.true_to_life.share(dose * this_time), eye);
                Observation::new(|rate| zone.modelled.share(counted * rate), left)
            })
            .collect();
        let scatter = VISIT_SCATTER.value.hypot(START_BY_EYE.value).hypot(COUNT.value);
        belief = belief.after(&Evidence::of_visit(&seen, scatter).expect("two zones were seen"));
        returned = true;
    }
}

/// The step a stylist taps for a share seen with an eye that is off by so much.
fn tapped(share: f64, off: f64) -> Interval<Fraction> {
    let seen = off_by(share, off);
    let step = STEPS.windows(2).find(|step| seen <= step[1]).expect("a share is at most one");
    Interval { low: Fraction::from_fraction(step[0]), high: Fraction::from_fraction(step[1]) }
}

fn told(scores: &[Score]) -> String {
    let line = |(visit, score): (usize, &Score)| {
        format!(
            "visit {}: {:.1} % inside, median error {:.3}",
            visit + 1,
            100.0 * score.coverage(),
            score.median_error()
        )
    };
    scores.iter().enumerate().map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn when_the_model_is_right_four_dates_in_five_fall_in_the_range_and_the_error_shrinks() {
    let scores = simulate(AS_MODELLED, 20_261_101);
    for score in &scores {
        assert!((0.76..=0.84).contains(&score.coverage()), "{}", told(&scores));
    }
    assert!(scores[3].median_error() <= 0.75 * scores[0].median_error(), "{}", told(&scores));
}

#[test]
fn when_colour_leaves_by_another_law_and_washes_are_misreported_the_range_still_holds_most() {
    for form in [Form::Root, Form::ExponentialRoot] {
        let scores = simulate(World { form, misreported: 0.3, ..AS_MODELLED }, 20_261_102);
        for score in &scores {
            assert!((0.70..=0.90).contains(&score.coverage()), "{}", told(&scores));
        }
    }
}

#[test]
fn when_law_pace_and_porosity_are_all_wrong_at_once_the_range_falls_short_as_documented() {
    // What the documentation of the spread admits: about six dates in ten, at every visit number.
    let world = World { form: Form::ExponentialRootAtItsOwnPace, misreported: 0.3, ..AS_MODELLED };
    let scores = simulate(world, 20_261_102);
    for score in &scores {
        assert!((0.55..0.70).contains(&score.coverage()), "{}", told(&scores));
    }
}

#[test]
fn when_every_client_fades_half_again_as_fast_the_range_has_found_it_by_the_fourth_visit() {
    let world = World { shift: 1.5_f64.ln(), ..AS_MODELLED };
    let scores = simulate(world, 20_261_103);
    for score in &scores[3..] {
        assert!(score.coverage() >= 0.74, "{}", told(&scores));
    }
}
