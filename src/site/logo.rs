//! The salon's sign: a small SVG or PNG, checked, and written into every page.
//!
//! In: a file's bytes. Out: [`Logo`], or what is wrong with it. Knows nothing of: where the sign stands.
//!
//! A browser runs no script and fetches nothing for a picture in a `data:` address, but a file that asks for either
//! is not what a salon meant to publish, so it is a fault all the same.

use data_encoding::BASE64;
use serde::Serialize;

use crate::diagnostic::Diagnostic;

/// Most bytes of a sign: it is part of every page, and a page arrives in one go only while it is small.
pub const MOST_BYTES: usize = 3072;

/// Height at which a sign is shown, in CSS pixels.
const SHOWN_HEIGHT: f64 = 40.0;

/// A sign ready for a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Logo {
    /// The picture as a `data:` address.
    pub href: String,
    /// Width at its shown height, CSS pixels.
    pub width: u32,
    /// Shown height, CSS pixels.
    pub height: u32,
}

/// A sign from a file.
///
/// # Errors
/// The first thing that keeps the file from being one.
pub fn logo(name: &str, bytes: &[u8]) -> Result<Logo, Box<Diagnostic>> {
    let fault = |message: String, hint: &str| Box::new(Diagnostic::fault(name, message).hint(hint));
    if bytes.len() > MOST_BYTES {
        let message =
            format!("the sign has {} bytes; it is part of every page, so {MOST_BYTES} is the most", bytes.len());
        return Err(fault(message, "Simplify the drawing, or save a PNG of about 200 by 80 dots with few colours."));
    }
    if bytes.starts_with(PNG) {
        let (width, height, plain) = png(bytes).ok_or_else(|| fault("the PNG is damaged".into(), "Save it again."))?;
        return Ok(shown(
            f64::from(width),
            f64::from(height),
            format!("data:image/png;base64,{}", BASE64.encode(&plain)),
        ));
    }
    let text = std::str::from_utf8(bytes)
        .map_err(|_| fault("the sign is neither an SVG nor a PNG".into(), "Save it as one of the two."))?;
    if let Some((message, at)) = refusal(text) {
        let hint = "Export it as a plain SVG: shapes and colours only, text turned into shapes.";
        return Err(Box::new(Diagnostic::fault(name, message).at(at, "here").hint(hint)));
    }
    let (width, height) = size(text).ok_or_else(|| {
        fault("the SVG does not say how large it is".into(), "Give it a `viewBox`, such as viewBox=\"0 0 120 40\".")
    })?;
    Ok(shown(width, height, format!("data:image/svg+xml,{}", percent(text))))
}

fn shown(width: f64, height: f64, href: String) -> Logo {
    // Between 1 and a few thousand: the casts lose nothing but the fraction.
    let width = (SHOWN_HEIGHT * width / height).round().clamp(1.0, 4000.0) as u32;
    Logo { href, width, height: SHOWN_HEIGHT as u32 }
}

/// The signature of a PNG file (PNG specification, third edition, §5.2).
const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Chunks that make the picture; all others may carry names, places and dates, and stay behind.
const KEPT: [&[u8]; 7] = [b"IHDR", b"PLTE", b"tRNS", b"gAMA", b"sRGB", b"IDAT", b"IEND"];

/// Width, height, and the file with nothing but its picture.
fn png(bytes: &[u8]) -> Option<(u32, u32, Vec<u8>)> {
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    let (mut at, mut plain, mut ended) = (PNG.len(), PNG.to_vec(), false);
    while !ended {
        // Length, kind, content, checksum (§5.3).
        let whole = usize::try_from(number(at)?).ok()?.checked_add(12)?;
        let (kind, chunk) = (bytes.get(at + 4..at + 8)?, bytes.get(at..at.checked_add(whole)?)?);
        if at == PNG.len() && kind != b"IHDR" {
            return None;
        }
        if KEPT.contains(&kind) {
            plain.extend_from_slice(chunk);
        }
        ended = kind == b"IEND";
        at += whole;
    }
    let (width, height) = (number(PNG.len() + 8)?, number(PNG.len() + 12)?);
    (width > 0 && height > 0).then_some((width, height, plain))
}

/// What an SVG must not hold, and why.
const REFUSED: [(&str, &str); 10] = [
    ("<script", "a sign holds no script"),
    ("javascript:", "a sign holds no script"),
    ("<foreignobject", "a sign holds no other document"),
    ("<iframe", "a sign holds no other document"),
    ("<image", "a sign holds no other picture"),
    ("<!doctype", "a sign declares nothing of its own; take the DOCTYPE out"),
    ("<!entity", "a sign declares nothing of its own"),
    ("<?xml-stylesheet", "a sign brings no style sheet"),
    ("@import", "a sign brings no style sheet"),
    ("<animate", "a sign does not move"),
];

/// The first thing in an SVG that does not belong there, with its place.
fn refusal(text: &str) -> Option<(String, std::ops::Range<usize>)> {
    let lower = text.to_ascii_lowercase();
    if !lower.contains("<svg") || !lower.contains("http://www.w3.org/2000/svg") {
        return Some((
            "this is no SVG: it names no xmlns=\"http://www.w3.org/2000/svg\"".to_owned(),
            0..text.len().min(1),
        ));
    }
    let plain = REFUSED.iter().find_map(|(found, why)| Some((lower.find(found)?, found.len(), *why)));
    let escaped = lower.find('\\').map(|at| (at, 1, "a sign hides nothing behind a backslash"));
    let outward = ["href", "url("].into_iter().find_map(|word| {
        let places = lower.match_indices(word).map(|(at, _)| at);
        places
            .filter(|&at| leaves(&lower[at + word.len()..]))
            .map(|at| (at, word.len(), "a sign refers to nothing outside itself"))
            .next()
    });
    let handler =
        lower.match_indices(|c: char| c.is_whitespace() || c == '"' || c == '\'' || c == '/').find_map(|(at, _)| {
            let name = lower[at + 1..].split(|c: char| !c.is_ascii_alphanumeric()).next().unwrap_or_default();
            let value = lower[at + 1 + name.len()..].trim_start();
            (name.len() > 2 && name.starts_with("on") && value.starts_with('=')).then_some((
                at + 1,
                name.len(),
                "a sign holds no script",
            ))
        });
    let (at, length, why) = plain.or(escaped).or(outward).or(handler)?;
    Some((why.to_owned(), at..at + length))
}

/// Whether what is referred to lies outside the file: inside it begins with `#`.
fn leaves(rest: &str) -> bool {
    !rest.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, '=' | '"' | '\'')).starts_with('#')
}

/// Width and height of an SVG, from its `viewBox`, else from its own width and height.
fn size(text: &str) -> Option<(f64, f64)> {
    let tag = text.get(text.find("<svg")?..)?.split('>').next()?;
    let attribute = |name: &str| {
        let rest = &tag[tag.find(name)? + name.len()..];
        let quote = rest.chars().next()?;
        rest[1..].split(quote).next()
    };
    let numbers = |text: &str| -> Option<Vec<f64>> {
        let parts = text.split([' ', ',']).filter(|part| !part.is_empty());
        parts.map(|part| part.trim_end_matches("px").parse().ok()).collect()
    };
    let (width, height) = match attribute(" viewBox=").and_then(numbers).as_deref() {
        Some([_, _, width, height]) => (*width, *height),
        _ => {
            let side = |name: &str| attribute(name).and_then(numbers).and_then(|found| found.first().copied());
            (side(" width=")?, side(" height=")?)
        }
    };
    (width > 0.0 && height > 0.0 && width.is_finite() && height.is_finite()).then_some((width, height))
}

/// A text inside an address: shorter than base64, and it packs better.
fn percent(text: &str) -> String {
    let mut out = String::new();
    for byte in text.split_whitespace().collect::<Vec<_>>().join(" ").bytes() {
        match byte {
            b'%' | b'#' | b'<' | b'>' | b'"' | b'&' | b' ' => out.push_str(&format!("%{byte:02X}")),
            0x21..=0x7e => out.push(char::from(byte)),
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAIN: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 60 20\"><path fill=\"#7a4b3a\" d=\"M0 0h60v20H0z\"/></svg>";

    /// A PNG of one dot from memory, with a text chunk that names somebody.
    fn one_dot() -> Vec<u8> {
        let chunk = |kind: &[u8], content: &[u8]| {
            let length = u32::try_from(content.len()).expect("short").to_be_bytes();
            [&length[..], kind, content, &[0; 4]].concat()
        };
        let header = [&2u32.to_be_bytes()[..], &1u32.to_be_bytes()[..], &[8, 0, 0, 0, 0]].concat();
        let parts = [
            chunk(b"IHDR", &header),
            chunk(b"tEXt", b"Author\0Somebody"),
            chunk(b"IDAT", &[0; 9]),
            chunk(b"IEND", &[]),
        ];
        [PNG.to_vec(), parts.concat()].concat()
    }

    #[test]
    fn a_plain_drawing_is_taken_at_its_own_shape() {
        let logo = logo("logo.svg", PLAIN.as_bytes()).expect("a sign");
        assert_eq!((logo.width, logo.height), (120, 40));
        assert!(
            logo.href.starts_with("data:image/svg+xml,%3Csvg%20xmlns=") && !logo.href.contains(['<', '"', '#', ' '])
        );
        let sized = PLAIN.replace("viewBox=\"0 0 60 20\"", "width='30px' height='30'");
        assert_eq!(super::logo("logo.svg", sized.as_bytes()).expect("a sign").width, 40);
    }

    #[test]
    fn a_drawing_that_runs_or_fetches_something_is_refused_with_its_place() {
        for hostile in [
            "<SCRIPT>alert(1)</SCRIPT>",
            "<g onload=\"x()\"/>",
            "<g\nonclick = 'x()'/>",
            "<a href=\"https://elsewhere.example\"><path/></a>",
            "<use xlink:href='other.svg#a'/>",
            "<path fill=\"url(https://elsewhere.example#a)\"/>",
            "<style>@import 'x';</style>",
            "<style>path{fill:u\\72l(x)}</style>",
            "<image width=\"1\"/>",
            "<foreignObject/>",
            "<animate attributeName=\"x\"/>",
        ] {
            let text = PLAIN.replace("</svg>", &format!("{hostile}</svg>"));
            let fault = logo("logo.svg", text.as_bytes()).expect_err(hostile);
            assert!(fault.span.is_some(), "{hostile}");
        }
        let inside = PLAIN.replace("</svg>", "<use href=\"#a\"/><path fill=\"url(#b)\"/></svg>");
        assert!(logo("logo.svg", inside.as_bytes()).is_ok(), "what lies inside the file may be referred to");
        assert!(logo("logo.svg", format!("<!DOCTYPE svg>{PLAIN}").as_bytes()).is_err());
        assert!(logo("logo.svg", PLAIN.replace("viewBox", "view").as_bytes()).is_err(), "no size");
    }

    #[test]
    fn a_png_leaves_everything_but_its_picture_behind_and_a_damaged_one_is_refused() {
        let logo = logo("logo.png", &one_dot()).expect("a sign");
        assert_eq!((logo.width, logo.height), (80, 40));
        let kept = BASE64.decode(logo.href.trim_start_matches("data:image/png;base64,").as_bytes()).expect("base64");
        assert!(!String::from_utf8_lossy(&kept).contains("Somebody") && kept.ends_with(b"IEND\0\0\0\0"));
        let whole = one_dot();
        for end in PNG.len()..whole.len() - 1 {
            assert!(super::logo("logo.png", &whole[..end]).is_err(), "cut at {end}");
        }
        assert!(super::logo("logo.png", &vec![b' '; MOST_BYTES + 1]).is_err(), "too large");
        assert!(super::logo("logo.gif", b"GIF89a").is_err());
    }
}
