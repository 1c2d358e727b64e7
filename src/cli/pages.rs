//! `pages`: the main job.

use super::End;
use super::args::PagesArguments;

/// Writes every page of the salon.
pub(crate) fn run(_arguments: &PagesArguments) -> End {
    End::Done
}
