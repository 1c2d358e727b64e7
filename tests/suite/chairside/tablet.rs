//! A tablet for tests: asks the chairside in this process, keeps its cookie, and fills in what a page asks for.

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::path::Path;

use afterhue::chairside::{Settings, open};
use axum::Router;
use axum::body::Body;
use axum::http::{Method, Request};
use http_body_util::BodyExt;
use tower::ServiceExt;

/// The address the tests' chairside believes it answers at.
pub(crate) const HOST: &str = "127.0.0.1:8181";

/// The chairside of a salon folder.
pub(crate) fn desk(folder: &Path, lan: bool) -> (Router, Option<String>) {
    desk_beside(folder, lan, &[])
}

/// The same, with calendars whose times are kept free.
pub(crate) fn desk_beside(folder: &Path, lan: bool, busy: &[String]) -> (Router, Option<String>) {
    opened(folder, lan, busy, crate::salon_copy::TODAY.parse().expect("a day"))
}

/// The chairside of a salon folder on some day.
pub(crate) fn desk_on(folder: &Path, today: chrono::NaiveDate) -> Router {
    opened(folder, false, &[], today).0
}

fn opened(folder: &Path, lan: bool, busy: &[String], today: chrono::NaiveDate) -> (Router, Option<String>) {
    let settings = Settings {
        folder: folder.to_owned(),
        port: 0,
        lan,
        new_passcode: false,
        busy: busy.to_vec(),
        today: Some(today),
    };
    let (router, place) = open(&settings, HOST.parse::<SocketAddr>().expect("an address")).expect("a salon");
    (router, place.new_passcode)
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Page {
    pub(crate) status: u16,
    pub(crate) headers: BTreeMap<String, String>,
    pub(crate) body: String,
}

impl Page {
    /// Every field of the page's form as a browser would send it.
    pub(crate) fn fields(&self) -> Vec<(String, String)> {
        let mut fields = Vec::new();
        for tag in tags(&self.body, "input") {
            let of = |name: &str| attribute(tag, name);
            let Some(name) = of("name") else { continue };
            let kind = of("type").unwrap_or_default();
            if ["radio", "checkbox"].contains(&kind.as_str()) && !tag.contains(" checked") {
                continue;
            }
            fields.push((name, of("value").unwrap_or_default()));
        }
        for (at, _) in self.body.match_indices("<textarea") {
            let rest = &self.body[at..];
            let (tag, rest) = rest.split_once('>').expect("a whole tag");
            let text = rest.split("</textarea>").next().expect("its end");
            let text = text.strip_prefix('\n').unwrap_or(text);
            fields.push((attribute(tag, "name").expect("a name"), plain(text)));
        }
        fields
    }

    /// A header, or an empty text.
    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", String::as_str)
    }
}

fn tags<'a>(html: &'a str, name: &str) -> impl Iterator<Item = &'a str> {
    let begins = format!("<{name} ");
    html.match_indices(&begins)
        .map(|(at, _)| html[at..].split_once('>').map_or("", |(tag, _)| tag))
        .collect::<Vec<_>>()
        .into_iter()
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let (_, rest) = tag.split_once(&format!(" {name}=\""))?;
    Some(plain(rest.split_once('"')?.0))
}

fn plain(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#x27;", "'")
        .replace("&#39;", "'")
        .replace("&#x2F;", "/")
        .replace("&amp;", "&")
}

/// One tablet.
pub(crate) struct Tablet {
    router: Router,
    cookie: String,
    csrf: String,
}

impl Tablet {
    /// A tablet that opened the first page.
    pub(crate) fn new(router: &Router) -> Self {
        let mut tablet = Self { router: router.clone(), cookie: String::new(), csrf: String::new() };
        tablet.get("/");
        tablet
    }

    /// Asks for a page.
    pub(crate) fn get(&mut self, path: &str) -> Page {
        self.ask(Method::GET, path, &[("host", HOST)], "")
    }

    /// Sends fields with the token of this tablet, as its own page would.
    pub(crate) fn post(&mut self, path: &str, fields: &[(&str, &str)]) -> Page {
        let mut body = form_urlencoded::Serializer::new(String::new());
        if !fields.iter().any(|(name, _)| *name == "csrf") {
            body.append_pair("csrf", &self.csrf);
        }
        body.extend_pairs(fields);
        let origin = format!("http://{HOST}");
        self.ask(
            Method::POST,
            path,
            &[("host", HOST), ("origin", &origin), ("sec-fetch-site", "same-origin")],
            &body.finish(),
        )
    }

    /// Sends a page's own fields with some of them changed.
    pub(crate) fn send(&mut self, path: &str, page: &Page, changed: &[(&str, &str)]) -> Page {
        let mut fields = page.fields();
        for (name, text) in changed {
            fields.retain(|(field, _)| field != name);
            fields.push(((*name).to_owned(), (*text).to_owned()));
        }
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        self.post(path, &fields)
    }

    /// Asks with headers of one's own.
    pub(crate) fn ask(&mut self, method: Method, path: &str, headers: &[(&str, &str)], body: &str) -> Page {
        let mut request = Request::builder().method(method).uri(path);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        if !self.cookie.is_empty() {
            request = request.header("cookie", &self.cookie);
        }
        let request = request.body(Body::from(body.to_owned())).expect("a request");
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        let page = runtime.block_on(async {
            let response = self.router.clone().oneshot(request).await.expect("an answer");
            let headers = response.headers().iter();
            let headers =
                headers.map(|(name, value)| (name.to_string(), value.to_str().expect("text").to_owned())).collect();
            let status = response.status().as_u16();
            let bytes = response.into_body().collect().await.expect("a body").to_bytes();
            Page { status, headers, body: String::from_utf8(bytes.to_vec()).expect("text") }
        });
        if let Some((value, _)) = page.header("set-cookie").split_once(';') {
            self.cookie = value.to_owned();
        }
        if let Some((_, token)) = page.fields().into_iter().find(|(name, _)| name == "csrf") {
            self.csrf = token;
        }
        page
    }

    /// The cookie as it is sent.
    pub(crate) fn cookie(&self) -> &str {
        &self.cookie
    }

    /// Begins a visit and gives its address.
    pub(crate) fn start(&mut self, client: &str) -> String {
        let page = self.post(&format!("/start/{client}"), &[]);
        assert_eq!(page.status, 303, "{}", page.body);
        page.header("location").to_owned()
    }
}

/// What was asked, left open with the reason: a visit is not written before somebody says so.
pub(crate) const LEFT_OPEN: (&str, &str) = ("health.left_open", "Did not want to say");

impl Tablet {
    /// A visit begun, today's lightening as last time where there was one, and the questions left open; its address and its form.
    pub(crate) fn ready(&mut self, client: &str) -> (String, Page) {
        let visit = self.start(client);
        let form = self.get(&visit);
        self.send(&visit, &form, &[LEFT_OPEN, ("do", "lightened:same")]);
        let form = self.get(&visit);
        (visit, form)
    }
}
