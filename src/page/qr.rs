//! The code on a card: an address as a QR symbol, drawn as one SVG path.
//!
//! In: an address. Out: [`Qr`]. Knows nothing of: cards, clients, files.

use std::fmt::Write;

use qrcodegen::{QrCode, QrCodeEcc};

/// Width of the white border in modules (ISO/IEC 18004 asks for 4).
pub const QUIET_ZONE: usize = 4;

/// Printed width of the symbol without its border, mm. Common practice, no source: cards at least 20, better 25.
pub const SYMBOL_MM: f64 = 25.0;

/// Smallest printed module that reads well, mm. Common practice, no source; label guides give 0.4 as the least.
pub const LEAST_MODULE_MM: f64 = 0.6;

/// A QR symbol.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Qr {
    size: usize,
    dark: Vec<bool>,
}

impl Qr {
    /// Encodes an address at error correction level M, never silently at another; nothing when it is too long.
    #[must_use]
    pub fn of(address: &str) -> Option<Self> {
        let segments = qrcodegen::QrSegment::make_segments(address);
        let (least, most) = (qrcodegen::Version::MIN, qrcodegen::Version::MAX);
        let code = QrCode::encode_segments_advanced(&segments, QrCodeEcc::Medium, least, most, None, false).ok()?;
        let size = code.size();
        let dark = (0..size).flat_map(|y| (0..size).map(move |x| (x, y))).map(|(x, y)| code.get_module(x, y)).collect();
        Some(Self { size: usize::try_from(size).ok()?, dark })
    }

    /// Modules on a side, without the border.
    #[must_use]
    pub fn size(&self) -> usize {
        self.size
    }

    /// Whether a module is dark; outside the symbol nothing is.
    #[must_use]
    pub fn is_dark(&self, x: usize, y: usize) -> bool {
        x < self.size && y < self.size && self.dark[y * self.size + x]
    }

    /// Width of one module when the symbol is printed [`SYMBOL_MM`] wide, mm.
    #[must_use]
    pub fn module_mm(&self) -> f64 {
        // At most 177 modules: exact.
        SYMBOL_MM / self.size as f64
    }

    /// The symbol with its border as lines of text, two modules of a column in one sign: dark is drawn, light is left.
    ///
    /// It reads where ink is dark and paper light; a terminal has to be told its colours.
    #[must_use]
    pub fn half_blocks(&self) -> Vec<String> {
        let side = self.size + 2 * QUIET_ZONE;
        let dark =
            |x: usize, y: usize| x >= QUIET_ZONE && y >= QUIET_ZONE && self.is_dark(x - QUIET_ZONE, y - QUIET_ZONE);
        let sign = |x, y| match (dark(x, y), dark(x, y + 1)) {
            (false, false) => ' ',
            (true, false) => '▀',
            (false, true) => '▄',
            (true, true) => '█',
        };
        (0..side).step_by(2).map(|y| (0..side).map(|x| sign(x, y)).collect()).collect()
    }

    /// The symbol with its border, black on white, printed with a symbol of [`SYMBOL_MM`].
    ///
    /// One stroke a run of dark modules: a fifth of the bytes of one square a module.
    #[must_use]
    pub fn svg(&self, name: &str) -> String {
        let side = self.size + 2 * QUIET_ZONE;
        let millimetres = self.module_mm() * side as f64;
        let mut path = String::new();
        for y in 0..self.size {
            let mut x = 0;
            while x < self.size {
                let run = (x..self.size).take_while(|&at| self.is_dark(at, y)).count();
                if run > 0 {
                    write!(path, "M{} {}.5h{run}", x + QUIET_ZONE, y + QUIET_ZONE).expect("a string takes any text");
                }
                x += run.max(1);
            }
        }
        let name = super::escape(name);
        format!(
            "<svg class=\"code\" role=\"img\" aria-label=\"{name}\" width=\"{millimetres:.2}mm\" height=\"{millimetres:.2}mm\" \
             viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/>\
             <path stroke=\"#000\" d=\"{path}\"/></svg>"
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ADDRESS: &str = "https://care.example/c/ab/cdefghijklmnopqrstuvwxyz.html";

    /// Draws the strokes of the SVG path into a picture, `scale` pixels a module, as a printer would.
    fn raster(svg: &str, scale: usize) -> (usize, Vec<bool>) {
        let inner = |open: &str, close: char| {
            let from = svg.find(open).expect("the attribute") + open.len();
            svg[from..].split(close).next().expect("its value").to_owned()
        };
        let side: usize = inner("viewBox=\"0 0 ", ' ').parse().expect("a side");
        let mut picture = vec![false; side * scale * side * scale];
        for run in inner("stroke=\"#000\" d=\"", '"').split('M').filter(|run| !run.is_empty()) {
            let numbers: Vec<usize> =
                run.replace(".5h", " ").split(' ').map(|number| number.parse().expect("a number")).collect();
            for y in numbers[1] * scale..(numbers[1] + 1) * scale {
                for x in numbers[0] * scale..(numbers[0] + numbers[2]) * scale {
                    picture[y * side * scale + x] = true;
                }
            }
        }
        (side * scale, picture)
    }

    /// The outside check is rqrr, a decoder that shares no code with the encoder.
    #[test]
    fn what_is_drawn_reads_back_as_the_address() {
        let svg = Qr::of(ADDRESS).expect("it fits").svg("code");
        let (side, picture) = raster(&svg, 4);
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| if picture[y * side + x] { 0 } else { 255 });
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1);
        let (meta, content) = grids[0].decode().expect("it decodes");
        assert_eq!(content, ADDRESS);
        // ISO/IEC 18004 gives level M the indicator 00.
        assert_eq!(meta.ecc_level, 0);
    }

    #[test]
    fn the_border_is_four_modules_and_the_module_wide_enough_for_an_ordinary_address() {
        let qr = Qr::of(ADDRESS).expect("it fits");
        let (side, picture) = raster(&qr.svg("code"), 1);
        assert_eq!(side, qr.size() + 8);
        let dark_rows: Vec<usize> = (0..side).filter(|y| picture[y * side..(y + 1) * side].contains(&true)).collect();
        assert_eq!((dark_rows.first(), dark_rows.last()), (Some(&4), Some(&(side - 5))));
        assert!(qr.module_mm() >= LEAST_MODULE_MM, "{}", qr.module_mm());
    }

    #[test]
    fn the_name_of_the_code_is_escaped_and_an_endless_address_gives_nothing() {
        assert!(!Qr::of(ADDRESS).expect("it fits").svg("<b>\"").contains("<b>"));
        assert_eq!(Qr::of(&"a".repeat(4000)), None);
    }
}
