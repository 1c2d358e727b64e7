//! Sealed pages: what is public of them, and that a key opens them and nothing else does.
//!
//! The reader below follows the format's own words (`page::seal`) with the cipher and the packing of the registry; the browser suite opens the
//! same files by the Web Cryptography API and a browser's own unpacking, which share no code with either.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use aes_gcm::aead::Aead;
use aes_gcm::{Aes128Gcm, KeyInit};
use afterhue::pipeline;
use afterhue::workspace::Texts;
use data_encoding::{BASE32_NOPAD, BASE64};

use super::in_memory::{SECRET, demo, only, public};
use crate::salon_copy::SalonCopy;

/// The demo with every page sealed.
fn sealed_demo() -> Texts {
    let mut texts = demo();
    let salon = texts.salon.as_mut().expect("a salon");
    salon.text = salon.text.replacen("sealed = false", "sealed = true", 1);
    texts
}

/// Public files: path → bytes.
type Public = BTreeMap<String, Vec<u8>>;

/// The demo built with every page sealed, and the addresses: path → bytes, path → address.
static BUILT: LazyLock<(Public, BTreeMap<String, String>)> = LazyLock::new(|| {
    let texts = sealed_demo();
    (public(&texts), addresses(&texts))
});

/// The address of every client's page, with its key, by path.
fn addresses(texts: &Texts) -> BTreeMap<String, String> {
    let read = pipeline::read(texts);
    let (salon, _) = read.house.as_ref().expect("a salon");
    let links = read.histories.iter().map(|history| pipeline::link_of(&history.client, salon, &SECRET));
    links.map(|link| (format!("public/{}", link.path), link.address)).collect()
}

fn value<'a>(html: &'a str, name: &str) -> &'a str {
    html.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next()).expect(name)
}

/// What a key opens of a page.
fn opened(html: &str, key: &str) -> Option<String> {
    let bytes = |name| BASE64.decode(value(html, name).as_bytes()).expect("base64");
    let key: [u8; 16] = BASE32_NOPAD.decode(key.to_uppercase().as_bytes()).ok()?.try_into().ok()?;
    let nonce: [u8; 12] = bytes("data-nonce").try_into().expect("12 bytes");
    let inside = Aes128Gcm::new(&key.into()).decrypt(&nonce.into(), bytes("data-closed").as_slice()).ok()?;
    let length = u32::from_be_bytes(inside[..4].try_into().expect("4 bytes")) as usize;
    let text = miniz_oxide::inflate::decompress_to_vec_zlib(&inside[4..4 + length]).expect("packed");
    Some(String::from_utf8(text).expect("text"))
}

/// The bytes that a `data:` address of a calendar holds (RFC 2397).
fn held(href: &str) -> Vec<u8> {
    let href = href.replace("&amp;", "&").replace("&#39;", "'").replace("&#x27;", "'").replace("&#x2F;", "/");
    let mut rest = href.strip_prefix("data:text/calendar;charset=utf-8,").unwrap_or_default().as_bytes();
    let mut bytes = Vec::new();
    while let [first, after @ ..] = rest {
        rest = after;
        match (first, after) {
            (b'%', [high, low, after @ ..]) => {
                let digits = std::str::from_utf8(&[*high, *low]).map(|pair| u8::from_str_radix(pair, 16));
                bytes.push(digits.expect("ASCII").expect("two hexadecimal digits"));
                rest = after;
            }
            _ => bytes.push(*first),
        }
    }
    bytes
}

fn text_of(files: &Public, name: &str) -> String {
    String::from_utf8(files[name].clone()).expect("text")
}

#[test]
fn a_sealed_page_opens_by_its_own_key_and_holds_the_open_page_with_its_calendars() {
    let open = public(&demo());
    let (sealed, addresses) = &*BUILT;
    let pages: Vec<&String> = sealed.keys().filter(|name| name.starts_with("public/c/")).collect();
    assert!(
        pages.len() > 20 && pages.iter().all(|name| name.ends_with(".html")),
        "no calendar lies beside a sealed page"
    );
    let body =
        |html: &str| html.split("<body>").nth(1).expect("a body").split("</footer>").next().expect("text").to_owned();
    let mut calendars = 0;
    for name in pages {
        let (_, key) = addresses[name].split_once('#').expect("a key");
        let inside = opened(&text_of(sealed, name), key).expect("its own key opens it");
        let (mut plain, open_page) = (body(&inside), body(&text_of(&open, name)));
        // The one thing that differs: the calendar files, which here stand in the page.
        let stem = name.trim_end_matches(".html");
        for ending in [".ics", "-washing.ics"] {
            let beside = format!("{stem}{ending}");
            let Some((_, file)) = open.get_key_value(&beside) else { continue };
            let href = plain
                .split("href=\"")
                .skip(1)
                .filter_map(|rest| rest.split_once("\" download=\"dates.ics"))
                .map(|(href, _)| href);
            let href =
                href.into_iter().find(|href| held(href) == *file).unwrap_or_else(|| panic!("{beside}")).to_owned();
            let href = format!("{href}\" download=\"dates.ics");
            plain = plain.replace(&href, beside.rsplit('/').next().expect("a name"));
            calendars += 1;
        }
        assert_eq!(plain.trim_end(), open_page.trim_end(), "{name}");
    }
    assert!(calendars > 20, "{calendars}");
}

#[test]
fn a_wrong_key_or_a_changed_byte_opens_nothing() {
    let (sealed, addresses) = &*BUILT;
    let keys: BTreeSet<&str> = addresses.values().map(|address| address.split_once('#').expect("a key").1).collect();
    assert_eq!(keys.len(), addresses.len(), "no two clients share a key");
    let (name, address) = addresses.iter().find(|(name, _)| sealed.contains_key(*name)).expect("a page");
    let (html, own) = (text_of(sealed, name), address.split_once('#').expect("a key").1);
    for key in &keys {
        assert_eq!(opened(&html, key).is_some(), *key == own);
    }
    let closed = value(&html, "data-closed");
    let mut bytes = BASE64.decode(closed.as_bytes()).expect("base64");
    bytes[100] ^= 1;
    assert!(opened(&html.replace(closed, &BASE64.encode(&bytes)), own).is_none());
}

#[test]
fn from_outside_two_sealed_pages_differ_only_in_what_is_closed() {
    let (sealed, _) = &*BUILT;
    let outside = |html: &str| {
        let policy = value(html, "content").to_owned();
        let hash = policy.split("sha256-").nth(2).expect("a second hash");
        let hash = &hash[..44];
        html.replace(value(html, "data-closed"), "").replace(value(html, "data-nonce"), "").replace(hash, "")
    };
    let pages = sealed.keys().filter(|name| name.starts_with("public/c/"));
    let seen: BTreeSet<String> = pages.map(|name| outside(&text_of(sealed, name))).collect();
    assert_eq!(seen.len(), 1, "salon, shade, colours, dates and language's words are all inside");
    let said = seen.first().expect("one").to_lowercase();
    for told in ["tollemarsh", "hair", "colour", "tel:", "mailto:", "2026", "2027", ".ics"] {
        assert!(
            !said.split("<body>").nth(1).expect("a body").split("<script>").next().expect("a body").contains(told),
            "{told}"
        );
    }
}

/// The hash of the style inside is public: two clients with one mood must not be known by it, nor may a reader try moods.
#[test]
fn the_hash_of_the_colours_inside_is_salted_for_each_client() {
    let (sealed, addresses) = &*BUILT;
    let (mut hashes, mut moods) = (BTreeSet::new(), BTreeSet::new());
    for (name, address) in addresses.iter().filter(|(name, _)| sealed.contains_key(*name)) {
        let html = text_of(sealed, name);
        let inside = opened(&html, address.split_once('#').expect("a key").1).expect("its key");
        let style = inside.split("<style>").nth(1).and_then(|rest| rest.split("</style>").next()).expect("a style");
        let (salt, mood) = style.split_once("*/").expect("a salt");
        assert!(salt.len() >= 28, "128 bits: {salt}");
        hashes.insert(value(&html, "content").to_owned());
        moods.insert(mood.to_owned());
    }
    assert!(moods.len() < hashes.len(), "some clients share a mood, none a hash: {} and {}", moods.len(), hashes.len());
    assert_eq!(hashes.len(), sealed.keys().filter(|name| name.starts_with("public/c/")).count());
}

#[test]
fn a_rebuild_gives_the_same_bytes_and_a_change_another_nonce() {
    let few = || only(sealed_demo(), &["maren-11", "wren-04"]);
    let mut changed = few();
    let salon = changed.salon.as_mut().expect("a salon");
    salon.text = salon.text.replacen("name = \"", "name = \"The ", 1);
    let (one, again, other) = (public(&few()), public(&few()), public(&changed));
    assert_eq!(one, again);
    let nonces = |files: &Public| -> BTreeSet<String> {
        let pages = files.keys().filter(|name| name.starts_with("public/c/"));
        pages.map(|name| value(&text_of(files, name), "data-nonce").to_owned()).collect()
    };
    assert!(nonces(&one).is_disjoint(&nonces(&other)));
    assert_eq!(addresses(&few()), addresses(&changed), "a printed code keeps working");
}

#[test]
fn a_client_may_be_sealed_alone_and_the_card_then_carries_the_short_plan() {
    let salon = SalonCopy::new();
    salon.build();
    let open = salon.files("public");
    let client = salon.read("clients/wren-04.toml");
    salon.write("clients/wren-04.toml", &client.replacen("format = 1\n", "format = 1\nsealed = true\n", 1));
    salon.build();
    let sealed = salon.files("public");
    let gone: Vec<&String> = open.keys().filter(|name| !sealed.contains_key(*name)).collect();
    assert!(
        !gone.is_empty() && gone.iter().all(|name| name.ends_with(".ics")),
        "its calendars are inside now: {gone:?}"
    );
    let changed: Vec<&String> = sealed.keys().filter(|name| open[*name] != sealed[*name]).collect();
    assert_eq!(changed.len(), 1);
    let sheets = salon.read("private/cards.html");
    assert_eq!(sheets.matches("class=\"plan\"").count(), 1);
    let plan = sheets.split("class=\"plan\">").nth(1).and_then(|rest| rest.split('<').next()).expect("a plan");
    assert!(plan.contains("First wash: ") && plan.contains("rinse with plenty of lukewarm water"), "{plan}");
    let output = salon.afterhue(&["send", ".", "wren-04", "--today", "2026-11-25"]).output().expect("it runs");
    let said = String::from_utf8(output.stdout).expect("text");
    let link = said.lines().find(|line| line.starts_with("https://")).expect("a link");
    assert_eq!(link.split_once('#').map(|(_, key)| key.len()), Some(26), "{link}");
    assert!(said.contains("%23"), "the key is in the sms: and mailto: addresses too: {said}");
    // Moving the link tells the cache an address without its key.
    let output = salon.afterhue(&["relink", ".", "wren-04", "--today", "2026-11-25"]).output().expect("it runs");
    let purge = String::from_utf8(output.stderr).expect("text");
    assert!(purge.contains("/c/") && !purge.contains('#'), "{purge}");
}
