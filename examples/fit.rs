//! Fits the constants of fading to the published rows and prints them beside the shipped ones.
//!
//! `cargo run --release --example fit`

use afterhue::science::fade::measured::constants::{Constants, PARAMETERS};
use afterhue::science::fade::measured::fit::{badness, fit};
use afterhue::science::fade::measured::lives::{WITH_A_LIFE, mean_life};
use afterhue::units::Worded;

#[expect(clippy::print_stdout, reason = "an example that prints what it finds")]
fn main() {
    let (found, shipped) = (fit(), Constants::shipped());
    for (index, parameter) in PARAMETERS.iter().enumerate() {
        println!("{:<90} {:>9.5} shipped {}", parameter.name, found.0[index], shipped.0[index]);
    }
    println!("sum of (residual / error)^2: {:.2}, shipped {:.2}", badness(&found), badness(&shipped));
    for class in WITH_A_LIFE {
        let mean = mean_life(class).map_or_else(|| "none".to_owned(), |mean| format!("{mean:.3}"));
        let shipped = class.washes().map_or(f64::NAN, |washes| washes.value);
        println!("mean life of {:<77} {mean:>9} shipped {shipped}", class.word());
    }
}
