//! Who may ask, and what every answer carries.

use axum::http::Method;

use super::tablet::{HOST, Tablet, desk};
use crate::salon_copy::SalonCopy;

#[test]
fn every_answer_forbids_what_is_not_its_own() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let visit = tablet.start("wren-04");
    for path in [
        "/",
        "/client",
        &visit,
        "/done/wren-04",
        "/story/wren-04",
        "/story/wren-04/forget",
        "/book",
        "/chair.css",
        "/chair.js",
        "/nothing",
    ] {
        let page = tablet.get(path);
        let policy = page.header("content-security-policy");
        assert!(
            policy.starts_with("default-src 'none'") && policy.contains("frame-ancestors 'none'"),
            "{path}: {policy}"
        );
        assert!(!policy.contains("unsafe"), "{path}: {policy}");
        assert_eq!(page.header("cache-control"), "no-store", "{path}");
        assert_eq!(page.header("x-content-type-options"), "nosniff", "{path}");
        // Nothing inline, and nothing from elsewhere but the links to send.
        assert!(!page.body.contains(" style=") && !page.body.contains(" onclick"), "{path}");
        assert!(
            !page.body.contains("src=\"http") && !page.body.contains("<link rel=\"stylesheet\" href=\"http"),
            "{path}"
        );
    }
    for (path, size) in [("/card/wren-04", "105mm 148mm"), ("/card/wren-04/small", "grid-template-columns:85mm 85mm")] {
        let card = tablet.get(path);
        assert_eq!(card.status, 200, "{path}");
        assert!(card.body.contains(size) && card.body.matches("class=\"scan\"").count() == 1, "{path}: one card");
        assert!(card.header("content-security-policy").contains("sha256-"), "its own style by its hash");
        assert!(!card.header("content-security-policy").contains("unsafe"));
    }
}

#[test]
fn other_names_of_this_machine_and_other_origins_are_refused() {
    let salon = SalonCopy::new();
    let (router, _) = desk(&salon.path(""), false);
    let mut tablet = Tablet::new(&router);
    for host in
        ["evil.example", "127.0.0.1", "127.0.0.1:81", "localhost.evil.example:8181", "127.0.0.1:8181.evil.example"]
    {
        assert_eq!(tablet.ask(Method::GET, "/", &[("host", host)], "").status, 403, "{host}");
    }
    assert_eq!(tablet.ask(Method::GET, "http://evil.example/", &[("host", HOST)], "").status, 403);
    assert_eq!(tablet.ask(Method::GET, "/", &[("host", "localhost:8181")], "").status, 200);
    let body = tablet.get("/").fields();
    let csrf = body.iter().find(|(name, _)| name == "csrf").expect("a token").1.clone();
    let drafts = || std::fs::read_dir(salon.path("private/drafts")).map_or(0, Iterator::count);
    let right = format!("csrf={csrf}");
    for (headers, body) in [
        (vec![("host", HOST), ("origin", "http://evil.example")], right.as_str()),
        (vec![("host", HOST), ("origin", "null")], right.as_str()),
        (vec![("host", HOST), ("sec-fetch-site", "cross-site")], right.as_str()),
        (vec![("host", HOST), ("sec-fetch-site", "same-site")], right.as_str()),
        (vec![("host", HOST)], ""),
        (vec![("host", HOST)], "csrf=00"),
    ] {
        assert_eq!(tablet.ask(Method::POST, "/start/wren-04", &headers, body).status, 403, "{headers:?} {body}");
    }
    assert_eq!(drafts(), 0, "nothing was begun");
    // Another tablet's token is no token of this one.
    let mut other = Tablet::new(&router);
    assert_eq!(other.ask(Method::POST, "/start/wren-04", &[("host", HOST)], &right).status, 403);
    assert_eq!(tablet.ask(Method::POST, "/start/wren-04", &[("host", HOST)], &right).status, 303);
    assert_eq!(drafts(), 1);
    for method in [Method::PUT, Method::DELETE, Method::OPTIONS] {
        assert_eq!(tablet.ask(method, "/", &[("host", HOST)], "").status, 405);
    }
}

#[test]
fn on_the_network_nothing_opens_without_the_passcode() {
    let salon = SalonCopy::new();
    let (router, told) = desk(&salon.path(""), true);
    let told = told.expect("a new passcode is told once");
    let mut tablet = Tablet::new(&router);
    for path in ["/", "/client", "/done/wren-04", "/card/wren-04", "/visit/0123456789abcdef"] {
        let page = tablet.get(path);
        assert_eq!(page.status, 401, "{path}");
        assert!(!page.body.contains("wren-04") && page.header("set-cookie").is_empty(), "{path}");
    }
    assert_eq!(tablet.post("/start/wren-04", &[("csrf", "x")]).status, 403);
    for wrong in ["", "0", "000000000000", "'; --", &"9".repeat(4000)] {
        assert_eq!(tablet.post("/door", &[("csrf", ""), ("passcode", wrong)]).status, 403, "{wrong:.20}");
    }
    let limited = tablet.post("/door", &[("csrf", ""), ("passcode", &told)]);
    assert_eq!(limited.status, 429, "after five wrong ones even the right one waits");
    // The wait is of this run; a new one knows the same passcode, by its hash alone.
    let hash = salon.read("private/chairside-passcode");
    assert!(hash.starts_with("$argon2id$") && !hash.contains(&told.replace(' ', "")));
    let (router, none) = desk(&salon.path(""), true);
    assert_eq!(none, None, "it is told only once");
    let mut tablet = Tablet::new(&router);
    let opened = tablet.post("/door", &[("csrf", ""), ("passcode", &told)]);
    assert_eq!(opened.status, 303);
    let cookie = opened.header("set-cookie");
    assert!(cookie.contains("; HttpOnly; SameSite=Strict") && cookie.contains("; Path=/;"), "{cookie}");
    assert_eq!(tablet.ask(Method::GET, "/", &[("host", "evil.example")], "").status, 403, "whoever is signed in, too");
    assert!(tablet.cookie().starts_with("afterhue="));
    assert_eq!(tablet.get("/").status, 200);
}

#[test]
fn a_path_is_never_a_file() {
    let salon = SalonCopy::new();
    let (router, _) = desk(&salon.path(""), false);
    let mut tablet = Tablet::new(&router);
    let secret = salon.read("private/link-secret");
    for path in [
        "/private/link-secret",
        "/..%2f..%2fprivate%2flink-secret",
        "/visit/..%2f..%2flink-secret",
        "/visit/%2e%2e%2flink-secret",
        "/visit/link-secret",
        "/card/..%2f..%2fsalon",
        "/card/wren-04%00",
        "/done/..%2fwren-04",
        "/chair.css/..%2f..%2fprivate",
        "/%ff%fe",
    ] {
        let page = tablet.get(path);
        assert!(page.status == 404, "{path}: {}", page.status);
        assert!(!page.body.contains(secret.trim()), "{path}");
    }
    for code in ["..%2f..%2fwren-04", "%00", "WREN-04", "wren-04%2f", "a%0ab"] {
        assert_eq!(tablet.post(&format!("/start/{code}"), &[]).status, 404, "{code}");
    }
    for code in ["../wren", "..", "a/b", "", "x", "Wren", "wren-04", "con\u{0}", &"a".repeat(33)] {
        let page = tablet.post("/client", &[("code", code), ("age.sixteen_or_over", "true")]);
        assert_eq!(page.status, 422, "{code:?}");
        assert!(page.body.contains("To put right") || page.body.contains("class=\"fault\""), "{code:?}");
    }
}
