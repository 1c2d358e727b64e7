//! `send`: the message, the link and the code, as a phone would take them.

use super::{stderr, stdout};
use crate::salon_copy::{SalonCopy, TODAY};

fn sent(salon: &SalonCopy, arguments: &[&str]) -> std::process::Output {
    let output = salon.afterhue(&[&["send", "--today", TODAY], arguments].concat()).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    output
}

/// A text from an address: `%XX` by RFC 3986 §2.1.
fn decoded(text: &str) -> String {
    let mut parts = text.split('%');
    let mut out = parts.next().unwrap_or_default().as_bytes().to_vec();
    for part in parts {
        out.push(u8::from_str_radix(&part[..2], 16).expect("two hexadecimal digits"));
        out.extend_from_slice(&part.as_bytes()[2..]);
    }
    String::from_utf8(out).expect("UTF-8")
}

/// Draws half blocks as a terminal with dark signs on light ground does: two modules a sign.
fn raster(lines: &[&str], scale: usize) -> (usize, Vec<Vec<bool>>) {
    let mut modules = Vec::new();
    for line in lines {
        let signs: Vec<char> = line.chars().collect();
        modules.push(signs.iter().map(|sign| matches!(sign, '▀' | '█')).collect::<Vec<_>>());
        modules.push(signs.iter().map(|sign| matches!(sign, '▄' | '█')).collect::<Vec<_>>());
    }
    let grown = |row: &Vec<bool>| row.iter().flat_map(|dark| vec![*dark; scale]).collect::<Vec<_>>();
    let rows: Vec<Vec<bool>> = modules.iter().flat_map(|row| vec![grown(row); scale]).collect();
    (rows[0].len(), rows)
}

#[test]
fn the_message_fits_one_text_message_and_every_form_of_it_holds_the_link_of_the_page() {
    let salon = SalonCopy::new();
    salon.build();
    let output = sent(&salon, &["wren-04"]);
    let out = stdout(&output);
    let lines: Vec<&str> = out.lines().collect();
    let (message, link) = (lines[0], lines[2]);
    assert!(message.ends_with(link) && message.is_ascii() && message.len() <= 160, "{message}");
    let path = link.strip_prefix("https://care.example.org/").expect("the salon's own address");
    assert!(salon.path("public").join(path).exists(), "the link leads to a page");
    let form = |scheme: &str| *lines.iter().find(|line| line.starts_with(scheme)).expect("the form is there");
    let (sms, mail) = (form("sms:+447700900456?&body="), form("mailto:wren04@example.org?subject="));
    for address in [sms, mail] {
        assert!(address.bytes().all(|octet| octet.is_ascii_graphic()), "{address}");
        assert_eq!(decoded(address.rsplit("body=").next().expect("a body")), message);
    }
    assert!(stderr(&output).is_empty(), "{}", stderr(&output));
}

/// The outside check is rqrr, a decoder that shares no code with the encoder.
#[test]
fn the_code_on_the_terminal_reads_back_as_the_link() {
    let salon = SalonCopy::new();
    let output = sent(&salon, &["wren-04"]);
    let out = stdout(&output);
    let lines: Vec<&str> = out.lines().collect();
    let (width, rows) = raster(&lines[6..], 4);
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, rows.len(), |x, y| if rows[y][x] { 0 } else { 255 });
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1, "{out}");
    assert_eq!(grids[0].decode().expect("it decodes").1, lines[2]);
}

#[test]
fn a_card_is_written_for_this_client_alone() {
    let salon = SalonCopy::new();
    let output = sent(&salon, &["wren-04", "--card"]);
    let link = stdout(&output).lines().nth(2).expect("a link").to_owned();
    let card = salon.read("private/cards/wren-04.html");
    let token: String = link.rsplit("/c/").next().expect("a path").replace('/', "").replace(".html", "");
    assert_eq!(card.matches("class=\"code\"").count(), 1, "one code, of one client");
    let piece = &token[2..8];
    assert!(card.contains(piece), "the address is printed: {piece}");
    assert!(salon.files("private/cards").len() == 1);
    assert!(stderr(&output).contains("private/cards/wren-04.html"), "{}", stderr(&output));
}

#[test]
fn what_stands_between_the_client_and_the_page_is_told() {
    let salon = SalonCopy::new();
    let said = stderr(&sent(&salon, &["wren-04"]));
    assert!(said.contains("That page is not written yet. Before sending: afterhue pages"), "{said}");
    let late = salon.afterhue(&["send", "wren-04", "--today", "2029-01-01"]).output().expect("it runs");
    assert!(stderr(&late).contains("That page expired after 14 July 2027"), "{}", stderr(&late));
    let said = stderr(&sent(&salon, &["plum-03"]));
    assert!(said.contains("No e-mail address is on record"), "{said}");
    let other = salon.afterhue(&["send", "Wren-04"]).output().expect("it runs");
    assert_eq!(other.status.code(), Some(2));
    assert!(stderr(&other).contains("did you mean \"wren-04\"?"), "{}", stderr(&other));
    salon.write("clients/wren-04.toml", "format = 1\nlink_number = \"one\"\n");
    let faulty = salon.afterhue(&["send", "wren-04"]).output().expect("it runs");
    assert_eq!((faulty.status.code(), stdout(&faulty).as_str()), (Some(1), ""));
    assert!(stderr(&faulty).contains("link_number"), "{}", stderr(&faulty));
}

#[test]
fn a_long_name_gives_way_and_a_long_address_is_told() {
    let salon = SalonCopy::new();
    let settings = salon.read("salon.toml");
    let name = settings.lines().find(|line| line.starts_with("name = ")).expect("a name");
    salon.write(
        "salon.toml",
        &settings.replacen(name, &format!("name = \"{}\"", "Rooms by the Sea ".repeat(8).trim()), 1),
    );
    let out = stdout(&sent(&salon, &["wren-04"]));
    assert!(!out.contains("Rooms by the Sea") && out.lines().next().expect("a message").len() <= 160, "{out}");
    let long = format!("https://{}.example.org", ["a"; 3].map(|letter| letter.repeat(50)).join("."));
    salon.write("salon.toml", &settings.replace("https://care.example.org", &long));
    let output = sent(&salon, &["wren-04"]);
    assert!(stderr(&output).contains("one text message holds 160"), "{}", stderr(&output));
}
