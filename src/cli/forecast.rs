//! `forecast`: one client's colour as numbers.

use super::End;
use super::args::ForecastArguments;

/// Prints the forecast of one client.
pub(crate) fn run(_arguments: &ForecastArguments) -> End {
    End::Done
}
