//! Which files are public, and what each says of itself before anything else.

use std::collections::BTreeMap;

use crate::salon_copy::SalonCopy;

fn built() -> BTreeMap<String, Vec<u8>> {
    let salon = SalonCopy::new();
    salon.build();
    salon.files("public")
}

fn pages(public: &BTreeMap<String, Vec<u8>>) -> impl Iterator<Item = (&String, String)> {
    let pages = public.iter().filter(|(name, _)| name.ends_with(".html"));
    pages.map(|(name, bytes)| (name, String::from_utf8(bytes.clone()).expect("text")))
}

#[test]
fn public_holds_pages_their_calendars_one_missing_page_and_the_headers_and_nothing_else() {
    let base32 = |text: &str| text.chars().all(|c| c.is_ascii_lowercase() || ('2'..='7').contains(&c));
    let mut tokens = std::collections::BTreeSet::new();
    for name in built().keys() {
        if ["public/404.html", "public/_headers"].contains(&name.as_str()) {
            continue;
        }
        let below = name.strip_prefix("public/c/").unwrap_or_else(|| panic!("{name} is not listed"));
        let (first, rest) = below.split_once('/').expect("a folder of two letters");
        let (second, kind) = rest.split_once(['.', '-']).expect("a name and a kind");
        // 130 bits of HMAC in base32: 2 letters for the folder, 24 for the file.
        assert!(first.len() == 2 && second.len() == 24 && base32(first) && base32(second), "{name}");
        assert!(["html", "ics", "washing.ics"].contains(&kind), "{name}");
        tokens.insert(format!("{first}{second}"));
    }
    assert_eq!(tokens.len(), 27, "one link for each client whose plan has not expired");
}

#[test]
fn no_public_file_names_another_client_s_page() {
    let public = built();
    let token = |name: &str| name.get(12..36).map(str::to_owned);
    let tokens: std::collections::BTreeSet<String> =
        public.keys().filter(|name| name.starts_with("public/c/")).filter_map(|name| token(name)).collect();
    assert!(tokens.len() > 20);
    for (name, bytes) in &public {
        let text = String::from_utf8_lossy(bytes);
        let others = tokens.iter().filter(|other| Some(*other) != token(name).as_ref());
        others.for_each(|other| assert!(!text.contains(other.as_str()), "{name} names {other}"));
    }
}

#[test]
fn the_policy_is_the_first_thing_a_page_says_but_for_its_letters() {
    let public = built();
    for (name, html) in pages(&public) {
        let head = html.split("<head>").nth(1).and_then(|rest| rest.split("</head>").next()).expect("a head");
        let mut lines = head.lines().filter(|line| !line.trim().is_empty());
        assert_eq!(lines.next(), Some("<meta charset=\"utf-8\">"), "{name}");
        let policy = lines.next().expect("a policy").replace("&#x27;", "'").replace("&#39;", "'");
        assert!(
            policy.starts_with(
                "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-"
            ),
            "{name}: {policy}"
        );
        for wanted in ["base-uri 'none'", "form-action 'none'", "img-src data:"] {
            assert!(policy.contains(wanted), "{name}: {wanted}");
        }
        for loose in ["unsafe", "*", "http:", "https:", "'self'"] {
            assert!(!policy.split("content=").nth(1).expect("a policy").contains(loose), "{name}: {loose}");
        }
        for wanted in [
            "<meta name=\"referrer\" content=\"no-referrer\">",
            "<meta name=\"robots\" content=\"noindex,nofollow,noarchive\">",
        ] {
            assert!(head.contains(wanted), "{name}: {wanted}");
        }
    }
}

#[test]
fn what_a_preview_bot_or_a_glance_at_a_tab_sees_is_the_same_for_everybody() {
    let public = built();
    let mut titles = std::collections::BTreeSet::new();
    for (name, html) in pages(&public).filter(|(name, _)| name.starts_with("public/c/")) {
        let head = html.split("</head>").next().expect("a head");
        titles.insert(
            head.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect(name).to_owned(),
        );
        for told in
            ["og:", "twitter:", "name=\"description\"", "application/ld+json", "rel=\"canonical\"", "name=\"author\""]
        {
            assert!(!head.contains(told), "{name}: {told}");
        }
    }
    assert_eq!(titles.len(), 1, "{titles:?}");
    let title = titles.first().expect("a title").to_lowercase();
    ["tollemarsh", "maren", "colour", "rose", "sixteen", "help"]
        .iter()
        .for_each(|word| assert!(!title.contains(word), "{title}"));
}

#[test]
fn the_page_of_a_missing_address_says_nothing_of_salon_or_people() {
    let public = built();
    let html = String::from_utf8(public["public/404.html"].clone()).expect("text").to_lowercase();
    let body = html.split("<body").nth(1).expect("a body");
    for told in ["tollemarsh", "tel:", "mailto:", "hair", "client", "salon", "<a ", "<img", "<script", "public/c"] {
        assert!(!body.contains(told), "{told}: {body}");
    }
}

#[test]
fn the_headers_file_tells_a_server_what_a_page_cannot_say_for_itself() {
    let headers = String::from_utf8(built()["public/_headers"].clone()).expect("text");
    for wanted in [
        "X-Robots-Tag: noindex, nofollow, noarchive",
        "Referrer-Policy: no-referrer",
        "X-Content-Type-Options: nosniff",
        "frame-ancestors 'none'",
        "Cache-Control: private",
    ] {
        assert!(headers.contains(wanted), "{wanted}");
    }
    assert!(!headers.contains("/c/"), "no address stands in it");
}
