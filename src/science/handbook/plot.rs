//! A plot as SVG text: axes, curves, points, a word beside each curve.
//!
//! In: numbers and words. Out: one `<svg>` without blank lines, so that Markdown keeps it whole. Knows nothing of: what is drawn.

use std::fmt::Write;

/// The drawing's width and height, and the room for the axes.
const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 300.0;
const LEFT: f64 = 54.0;
const RIGHT: f64 = 150.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = 44.0;

/// One axis: what it shows, from, to, and the step of its marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// Quantity and unit.
    pub title: &'static str,
    /// The value at the beginning.
    pub from: f64,
    /// The value at the end.
    pub to: f64,
    /// The distance between marks.
    pub step: f64,
}

/// A plot being drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    x: Axis,
    y: Axis,
    body: String,
}

impl Plot {
    /// An empty plot; the title is read out in place of the picture.
    #[must_use]
    pub fn new(title: &str, x: Axis, y: Axis) -> Self {
        let mut body = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" width=\"{WIDTH}\" role=\"img\" font-family=\"sans-serif\" font-size=\"12\">\n<title>{title}</title>\n"
        );
        for value in marks(x) {
            let at = across(x, value);
            let (top, low) = (TOP, HEIGHT - BOTTOM);
            let _ = writeln!(body, "<path d=\"M{at:.1} {top:.1}V{low:.1}\" stroke=\"currentColor\" opacity=\"0.15\"/>");
            let _ = writeln!(
                body,
                "<text x=\"{at:.1}\" y=\"{:.1}\" text-anchor=\"middle\" fill=\"currentColor\">{}</text>",
                low + 16.0,
                short(value)
            );
        }
        for value in marks(y) {
            let at = down(y, value);
            let (left, right) = (LEFT, WIDTH - RIGHT);
            let _ =
                writeln!(body, "<path d=\"M{left:.1} {at:.1}H{right:.1}\" stroke=\"currentColor\" opacity=\"0.15\"/>");
            let _ = writeln!(
                body,
                "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" fill=\"currentColor\">{}</text>",
                left - 6.0,
                at + 4.0,
                short(value)
            );
        }
        let middle = f64::midpoint(LEFT, WIDTH - RIGHT);
        let _ = writeln!(
            body,
            "<text x=\"{middle:.1}\" y=\"{:.1}\" text-anchor=\"middle\" fill=\"currentColor\">{}</text>",
            HEIGHT - 8.0,
            x.title
        );
        let turn = f64::midpoint(TOP, HEIGHT - BOTTOM);
        let _ = writeln!(
            body,
            "<text transform=\"translate(14 {turn:.1}) rotate(-90)\" text-anchor=\"middle\" fill=\"currentColor\">{}</text>",
            y.title
        );
        Self { x, y, body }
    }

    /// A curve through points; `dash` is an SVG dash pattern, empty for a whole line.
    pub fn curve(&mut self, points: &[(f64, f64)], colour: &str, dash: &str) {
        let places = points.iter().map(|(x, y)| format!("{:.1} {:.1}", across(self.x, *x), down(self.y, *y)));
        let path = places.collect::<Vec<_>>().join("L");
        let dash = dashed(dash);
        let _ = writeln!(self.body, "<path d=\"M{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\"{dash}/>");
    }

    /// One line of the key: a piece of the curve and its word, or a square of a colour when the dash is "fill".
    pub fn key(&mut self, line: usize, colour: &str, dash: &str, word: &str) {
        let (left, level) = (WIDTH - RIGHT + 12.0, TOP + 12.0 + 20.0 * line as f64);
        let _ = if dash == "fill" {
            let top = level - 7.0;
            writeln!(
                self.body,
                "<rect x=\"{left:.1}\" y=\"{top:.1}\" width=\"22\" height=\"14\" fill=\"{colour}\" stroke=\"currentColor\" stroke-opacity=\"0.4\"/>"
            )
        } else {
            let dash = dashed(dash);
            writeln!(self.body, "<path d=\"M{left:.1} {level:.1}h22\" stroke=\"{colour}\" stroke-width=\"2\"{dash}/>")
        };
        let _ = writeln!(
            self.body,
            "<text x=\"{:.1}\" y=\"{:.1}\" fill=\"currentColor\">{word}</text>",
            left + 28.0,
            level + 4.0
        );
    }

    /// A measured point with its error, or a ring where none was printed.
    pub fn point(&mut self, x: f64, y: f64, error: Option<f64>, colour: &str) {
        let (at, level) = (across(self.x, x), down(self.y, y));
        let fill = if error.is_some() { colour } else { "none" };
        if let Some(error) = error {
            let (high, low) = (down(self.y, y + error), down(self.y, y - error));
            let _ = writeln!(self.body, "<path d=\"M{at:.1} {high:.1}V{low:.1}\" stroke=\"{colour}\"/>");
        }
        let _ = writeln!(
            self.body,
            "<circle cx=\"{at:.1}\" cy=\"{level:.1}\" r=\"3.5\" fill=\"{fill}\" stroke=\"{colour}\"/>"
        );
    }

    /// The finished drawing.
    #[must_use]
    pub fn finish(mut self) -> String {
        self.body.push_str("</svg>\n");
        self.body
    }
}

fn dashed(pattern: &str) -> String {
    if pattern.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{pattern}\"") }
}

fn marks(axis: Axis) -> impl Iterator<Item = f64> {
    let count = ((axis.to - axis.from) / axis.step + 1e-9) as u32;
    (0..=count).map(move |mark| axis.from + f64::from(mark) * axis.step)
}

fn across(axis: Axis, value: f64) -> f64 {
    LEFT + (value - axis.from) / (axis.to - axis.from) * (WIDTH - LEFT - RIGHT)
}

fn down(axis: Axis, value: f64) -> f64 {
    HEIGHT - BOTTOM - (value - axis.from) / (axis.to - axis.from) * (HEIGHT - TOP - BOTTOM)
}

/// A mark without needless digits.
fn short(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plot_is_one_piece_of_markup_that_markdown_leaves_whole() {
        let axis = Axis { title: "washes", from: 0.0, to: 10.0, step: 5.0 };
        let mut plot = Plot::new("a test", axis, axis);
        plot.curve(&[(0.0, 10.0), (10.0, 0.0)], "#000000", "4 2");
        plot.key(0, "#000000", "4 2", "falling");
        plot.point(5.0, 5.0, Some(1.0), "#000000");
        let text = plot.finish();
        assert!(text.starts_with("<svg") && text.ends_with("</svg>\n") && !text.contains("\n\n"));
        assert!(text.contains("M54.0 14.0L490.0 256.0") && text.contains(">falling<"), "{text}");
    }
}
