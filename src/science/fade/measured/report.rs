//! The table of every case, as Markdown.
//!
//! In: the shipped constants. Out: text for the handbook and for DEVELOPERS.md. Knows nothing of: where it is kept.

use std::fmt::Write;

use super::case::{Case, Standing};
use super::constants::{Constants, FITTED, PARAMETERS};
use super::fit::badness;
use super::{factors, lives, transport, washed};

/// Every published row, in the order of the files.
#[must_use]
pub fn cases() -> Vec<Case> {
    let at = Constants::shipped();
    [washed::cases(&at), factors::cases(&at), lives::cases(), transport::cases(&at)].concat()
}

/// The whole table with what stands before it: the fitted constants and how near they come.
#[must_use]
pub fn markdown() -> String {
    let cases = cases();
    let at = Constants::shipped();
    let mut text = String::from("| constant fitted | value | believable | unit |\n|---|---|---|---|\n");
    for parameter in PARAMETERS {
        let _ = writeln!(
            text,
            "| {} | {} | {} to {} | {} |",
            parameter.name, parameter.value, parameter.low, parameter.high, parameter.unit
        );
    }
    let fitted = of(&cases, "A", Standing::Fitted).chain(of(&cases, "B", Standing::Fitted)).count();
    let _ = writeln!(
        text,
        "\n{FITTED} constants on {fitted} rows leave Σ (residual / error)² = {:.1}. Root mean square residual in ΔE: fitted {:.2}, held out {:.2}.\n",
        badness(&at),
        rms(&cases, Standing::Fitted),
        rms(&cases, Standing::HeldOut)
    );
    text.push_str(
        "| row | what | measured | modelled | residual | use | source | note |\n|---|---|---|---|---|---|---|---|\n",
    );
    for case in &cases {
        let residual = match (case.residual, case.met) {
            (Some(residual), _) => signed(residual),
            (None, Some(true)) => "met".to_owned(),
            (None, Some(false)) => "**not met**".to_owned(),
            (None, None) => "–".to_owned(),
        };
        let (used, why) = match case.standing {
            Standing::Fitted => ("fitted", ""),
            Standing::HeldOut => ("held out", ""),
            Standing::Compared => ("compared", ""),
            Standing::Outside(why) => ("outside", why),
        };
        let note: Vec<&str> = [why, case.note.as_str()].into_iter().filter(|part| !part.is_empty()).collect();
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {residual} | {used} | {} | {} |",
            case.row,
            plain(&case.what),
            plain(&case.measured),
            plain(case.modelled.as_deref().unwrap_or("–")),
            plain(&case.source),
            plain(&note.join("; "))
        );
    }
    text
}

/// "+0.37", "−1.20", "0.00".
fn signed(number: f64) -> String {
    let text = format!("{:.2}", number.abs());
    if text == "0.00" {
        text
    } else if number < 0.0 {
        format!("−{text}")
    } else {
        format!("+{text}")
    }
}

/// A cell in which nothing is mark-up.
fn plain(cell: &str) -> String {
    cell.replace('*', "\\*").replace('|', "/").replace('<', "&lt;").replace('>', "&gt;")
}

fn of<'a>(cases: &'a [Case], file: &'a str, standing: Standing) -> impl Iterator<Item = &'a Case> {
    cases.iter().filter(move |case| case.row.starts_with(file) && case.standing == standing)
}

/// Root of the mean square residual over the rows of measured ΔE.
fn rms(cases: &[Case], standing: Standing) -> f64 {
    let residuals: Vec<f64> =
        of(cases, "A", standing).chain(of(cases, "B", standing)).filter_map(|case| case.residual).collect();
    (residuals.iter().map(|residual| residual * residual).sum::<f64>() / residuals.len() as f64).sqrt()
}
