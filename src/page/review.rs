//! The look back as a picture: days predicted across, days that passed up; on the line, the forecast was right.
//!
//! In: returns. Out: one SVG of its own. Knows nothing of: where it is kept.

use super::escape;
use super::words::Words;
use crate::schedule::review::Review;

/// Side of the picture, and the room for its words.
const SIDE: f64 = 420.0;
const ROOM: f64 = 56.0;

/// The picture. It stands alone, so it carries its own look and a white ground.
#[must_use]
pub fn review_svg(review: &Review, words: &dyn Words) -> String {
    let days = |one: &crate::schedule::review::Returned| {
        ((one.predicted.best - one.before).num_days() as f64, (one.came - one.before).num_days() as f64)
    };
    let most = review.returns.iter().map(days).fold(28.0, |most, (x, y)| f64::max(most, x.max(y)));
    let step = [7.0, 14.0, 28.0, 56.0].into_iter().find(|step| most / step <= 8.0).unwrap_or(112.0);
    let top = (most / step).ceil() * step;
    let at = |days: f64| days / top * SIDE;
    let mut out = String::new();
    let mut line = 0.0;
    while line <= top + 1e-9 {
        let (x, y) = (ROOM + at(line), SIDE - at(line) + 12.0);
        out.push_str(&format!(
            "<path d=\"M{ROOM} {y:.1}h{SIDE}M{x:.1} 12v{SIDE}\" stroke=\"#ddd\"/><text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\">{line:.0}</text><text x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{line:.0}</text>",
            ROOM - 6.0,
            y + 4.0,
            SIDE + 28.0
        ));
        line += step;
    }
    out.push_str(&format!("<path d=\"M{ROOM} {:.0}L{:.0} 12\" stroke=\"#000\"/>", SIDE + 12.0, ROOM + SIDE));
    for one in &review.returns {
        let (predicted, passed) = days(one);
        let (x, y) = (ROOM + at(predicted), SIDE - at(passed) + 12.0);
        // A return inside its window is filled, one outside it open: told apart without colour.
        let fill = if one.kept() { "#000" } else { "#fff" };
        out.push_str(&format!(
            "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"4\" fill=\"{fill}\" stroke=\"#000\"><title>{}, {}</title></circle>",
            escape(one.client.as_str()),
            one.came
        ));
    }
    let say = |key: &str| escape(&words.pattern(key));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{title}\" viewBox=\"0 0 {width:.0} {height:.0}\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#000\"><rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>{out}<text x=\"{middle:.0}\" y=\"{below:.0}\" text-anchor=\"middle\">{across}</text><text transform=\"translate(14 {half:.0})rotate(-90)\" text-anchor=\"middle\">{up}</text><text x=\"{middle:.0}\" y=\"{last:.0}\" text-anchor=\"middle\">{key}</text></svg>\n",
        title = say("review.title"),
        width = ROOM + SIDE + 16.0,
        height = SIDE + 78.0,
        middle = ROOM + SIDE / 2.0,
        below = SIDE + 48.0,
        across = say("review.predicted"),
        half = SIDE / 2.0 + 12.0,
        up = say("review.passed"),
        last = SIDE + 68.0,
        key = say("review.key"),
    )
}
