//! The server: addresses, the guard at the door, and an end that loses nothing.
//!
//! In: requests. Out: answers. The only file that knows axum.

use std::io;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{ConnectInfo, Request, State};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, HeaderName, HeaderValue, LOCATION, ORIGIN, SET_COOKIE};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::response::Response;
use chrono::NaiveDate;

use crate::form::Typed;
use crate::workspace::{self, Failure};

use super::guard::{self, Guard, Tried};
use super::house::House;
use super::reply::{Asked, Reply};
use super::{page, route};

/// The largest form taken: a visit with every placement and zone it may have.
const LARGEST: usize = 512 * 1024;

/// How the chairside is to run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// The salon folder.
    pub folder: PathBuf,
    /// The port; 0 takes any that is free.
    pub port: u16,
    /// Listen on the salon's own network, with a passcode, and not on this machine only.
    pub lan: bool,
    /// Make a new passcode.
    pub new_passcode: bool,
    /// Calendars whose times are kept free: `FILE` for the whole salon, `STYLIST=FILE` for one stylist.
    pub busy: Vec<String>,
    /// The day taken as today.
    pub today: Option<NaiveDate>,
}

/// Where the chairside is, once it can be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The address to open.
    pub address: String,
    /// The passcode, when it was made just now.
    pub new_passcode: Option<String>,
    /// Whether a passcode is asked for.
    pub asks_passcode: bool,
}

struct Desk {
    house: House,
    guard: Guard,
}

/// Serves a salon folder to tablets until the process is told to end; a change under way is finished first.
///
/// # Errors
/// When the folder cannot be read, the port is taken, or this machine is on no network of its own.
pub fn chairside(settings: &Settings, ready: impl FnOnce(&Place)) -> Result<(), Failure> {
    let failed = |error: &io::Error| Failure::io("serve", &settings.folder, error);
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|error| failed(&error))?;
    runtime.block_on(async {
        let own = if settings.lan { own_address(&settings.folder)? } else { IpAddr::V4(Ipv4Addr::LOCALHOST) };
        let listener = tokio::net::TcpListener::bind((own, settings.port)).await.map_err(|error| failed(&error))?;
        let at = listener.local_addr().map_err(|error| failed(&error))?;
        let (router, place) = open(settings, at)?;
        ready(&place);
        let service = router.into_make_service_with_connect_info::<SocketAddr>();
        axum::serve(listener, service).with_graceful_shutdown(told_to_end()).await.map_err(|error| failed(&error))
    })
}

/// The routes of a salon folder as they answer at an address, without a port being opened: for tests, and for [`chairside`].
///
/// # Errors
/// When the folder cannot be read.
pub fn open(settings: &Settings, at: SocketAddr) -> Result<(Router, Place), Failure> {
    let house = House::open(settings.folder.clone(), settings.busy.clone(), settings.today)?;
    let secret = workspace::secret(&settings.folder)?;
    let (passcode, new_passcode) = match settings.lan {
        true => guard::passcode(&settings.folder, settings.new_passcode).map(|(hash, told)| (Some(hash), told))?,
        false => (None, None),
    };
    let mut names = vec![at.to_string()];
    if at.ip().is_loopback() {
        names.push(format!("localhost:{}", at.port()));
    }
    let guard = Guard::new(&secret, names, passcode);
    let place = Place { address: format!("http://{at}/"), new_passcode, asks_passcode: guard.asks_passcode() };
    let desk = Arc::new(Desk { house, guard });
    Ok((Router::new().fallback(answer).with_state(desk), place))
}

/// This machine's address on the salon's network: of a private one (RFC 1918), else a unique local one (RFC 4193).
///
/// No packet is sent to learn it: RFC 5737 and RFC 3849 name addresses nobody has.
fn own_address(folder: &Path) -> Result<IpAddr, Failure> {
    let towards = |from: IpAddr, to: IpAddr| {
        let socket = UdpSocket::bind((from, 0))?;
        socket.connect((to, 9))?;
        socket.local_addr().map(|own| own.ip())
    };
    let four = towards(Ipv4Addr::UNSPECIFIED.into(), Ipv4Addr::new(192, 0, 2, 1).into());
    let six = towards(Ipv6Addr::UNSPECIFIED.into(), Ipv6Addr::new(0x2001, 0xdb8, 0, 0, 0, 0, 0, 1).into());
    if let Some(own) = [&four, &six].into_iter().flatten().find(|own| is_private(**own)) {
        return Ok(*own);
    }
    let own = four.or(six).map_err(|error| Failure::io("find the network from", folder, &error))?;
    Err(Failure {
        doing: "serve",
        path: folder.to_owned(),
        why: format!("this machine's address, {own}, is not one of a private network (RFC 1918, RFC 4193)"),
        hint: "Join the salon's own network, or leave --lan away.".to_owned(),
    })
}

const fn is_private(own: IpAddr) -> bool {
    match own {
        IpAddr::V4(own) => own.is_private() || own.is_link_local(),
        IpAddr::V6(own) => own.is_unique_local(),
    }
}

async fn told_to_end() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = ended.recv() => {}
                _ = tokio::signal::ctrl_c() => {}
            }
            return;
        }
    }
    let _ = tokio::signal::ctrl_c().await;
}

async fn answer(State(desk): State<Arc<Desk>>, request: Request) -> Response {
    let from = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|ConnectInfo(address)| address.ip());
    let (parts, body) = request.into_parts();
    let (path, query) = (parts.uri.path().to_owned(), parts.uri.query().unwrap_or_default().to_owned());
    // A whole address in the request line goes before the Host header (RFC 9112 §3.2.2).
    let authority = parts.uri.authority().map(|authority| authority.as_str().to_owned());
    let head = Head { method: parts.method, headers: parts.headers, path, query, authority, from };
    let reply = match to_bytes(body, LARGEST).await {
        Err(_) => {
            page::plain(413, "That is too much at once", "A visit is never this long. Go back: nothing was changed.")
        }
        Ok(body) => {
            let work = tokio::task::spawn_blocking(move || reply(&desk, &head, &body));
            work.await.unwrap_or_else(|_| {
                page::plain(500, "Something went wrong here", "The last draft is kept. Go back and try again.")
            })
        }
    };
    sent(reply)
}

struct Head {
    method: Method,
    headers: HeaderMap,
    path: String,
    query: String,
    authority: Option<String>,
    from: Option<IpAddr>,
}

impl Head {
    fn header(&self, name: &HeaderName) -> Option<&str> {
        self.headers.get(name).map(|value| value.to_str().unwrap_or("?"))
    }
}

fn reply(desk: &Desk, head: &Head, body: &[u8]) -> Reply {
    let host = head.header(&HOST).unwrap_or_default();
    let called = desk.guard.is_called(host) && head.authority.as_deref().is_none_or(|name| desk.guard.is_called(name));
    if !called {
        return page::plain(403, "Not here", "This server answers only to the address it printed when it was started.");
    }
    let site = HeaderName::from_static("sec-fetch-site");
    let change = head.method == Method::POST;
    if !change && head.method != Method::GET && head.method != Method::HEAD {
        return page::plain(405, "Not so", "Pages are read here, and forms are sent.");
    }
    if change && !desk.guard.comes_from_here(host, head.header(&ORIGIN), head.header(&site)) {
        return page::plain(403, "Not from there", "A change is only taken from a page of this server.");
    }
    match (head.path.as_str(), change) {
        ("/chair.css", false) => {
            return Reply {
                status: 200,
                kind: "text/css; charset=utf-8",
                body: page::STYLE.to_owned(),
                ..Reply::default()
            };
        }
        ("/chair.js", false) => {
            return Reply {
                status: 200,
                kind: "text/javascript; charset=utf-8",
                body: page::SCRIPT.to_owned(),
                ..Reply::default()
            };
        }
        _ => {}
    }
    // Asked for by browsers unbidden: there is none.
    if head.path == "/favicon.ico" {
        return Reply { status: 204, kind: "text/plain; charset=utf-8", ..Reply::default() };
    }
    let posted: Option<Vec<(String, String)>> = change.then(|| form_urlencoded::parse(body).into_owned().collect());
    let known = desk.guard.session(head.header(&COOKIE).unwrap_or_default());
    let field = |name: &str| posted.iter().flatten().find(|(field, _)| field == name).map_or("", |(_, text)| text);
    let mut cookie = None;
    let session = match known {
        Some(session) => session,
        None if desk.guard.asks_passcode() => return door(desk, head, change.then(|| field("passcode"))),
        None if change => {
            return page::plain(
                403,
                "This page is of yesterday",
                "Open the first page in another tab, then come back and send this one again: what you typed is still in it.",
            );
        }
        None => match desk.guard.new_session() {
            Ok((new, session)) => {
                cookie = Some(new);
                session
            }
            Err(failure) => return page::plain(500, "No session", &failure.to_string()),
        },
    };
    if change && !desk.guard.may_change(&session, field("csrf")) {
        return page::plain(
            403,
            "This page is too old",
            "Open it again in another tab; what you typed is still in this one.",
        );
    }
    let query: Typed = form_urlencoded::parse(head.query.as_bytes()).into_owned().collect();
    let asked = Asked { path: parts(&head.path), query, posted, session };
    Reply { cookie, ..route::route(&desk.house, &asked) }
}

/// The parts of a path, decoded (RFC 3986 §2.1); none of them is ever used as a path of a file.
fn parts(path: &str) -> Vec<String> {
    let plain = |part: &str| {
        let part = part.replace('+', "%2B");
        form_urlencoded::parse(part.as_bytes()).next().map(|(name, _)| name.into_owned()).unwrap_or_default()
    };
    path.split('/').filter(|part| !part.is_empty()).map(plain).collect()
}

fn door(desk: &Desk, head: &Head, passcode: Option<&str>) -> Reply {
    let shown = |status, words: &str| {
        let data = serde_json::json!({ "title": "Passcode", "heading": "Passcode", "words": words, "passcode": true });
        page::page(status, "door.html", &data)
    };
    let ask = "It was printed once, where the server was started.";
    match passcode {
        None => shown(401, ask),
        Some(_) if head.path != "/door" => {
            shown(403, "Sign in in another tab, then send this page again: what you typed is still in it.")
        }
        Some(passcode) => match desk.guard.try_passcode(head.from, passcode) {
            Ok(Tried::Right(cookie)) => Reply { cookie: Some(cookie), ..Reply::go("/") },
            Ok(Tried::Wrong) => shown(403, "That is not the passcode."),
            Ok(Tried::Wait(seconds)) => shown(429, &format!("Too many wrong ones. Wait {seconds} seconds.")),
            Err(failure) => shown(500, &failure.to_string()),
        },
    }
}

fn sent(reply: Reply) -> Response {
    let policy = reply.policy.unwrap_or_else(|| page::POLICY.to_owned());
    let mut response = Response::new(Body::from(reply.body));
    *response.status_mut() = StatusCode::from_u16(reply.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let fixed = [
        ("cache-control", "no-store"),
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "same-origin"),
        ("x-frame-options", if reply.framed { "SAMEORIGIN" } else { "DENY" }),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
        ("permissions-policy", "camera=(), microphone=(), geolocation=()"),
    ];
    let headers = response.headers_mut();
    for (name, value) in fixed {
        headers.insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    headers.insert(CONTENT_TYPE, HeaderValue::from_static(reply.kind));
    let texts = [
        (HeaderName::from_static("content-security-policy"), Some(policy)),
        (LOCATION, reply.location),
        (SET_COOKIE, reply.cookie),
    ];
    for (name, text) in texts {
        if let Some(value) = text.and_then(|text| HeaderValue::from_str(&text).ok()) {
            headers.insert(name, value);
        }
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_a_network_of_ones_own_are_listened_on() {
        // RFC 1918 section 3, RFC 3927, RFC 4193 section 3.1; beside them RFC 5737, RFC 3849, and the neighbours of each range.
        for own in ["10.0.0.1", "172.16.0.1", "172.31.255.254", "192.168.1.20", "169.254.3.4", "fd00::2", "fc00::1"] {
            assert!(is_private(own.parse().expect("an address")), "{own}");
        }
        for other in ["192.0.2.2", "172.32.0.1", "11.0.0.1", "192.169.0.1", "0.0.0.0", "2001:db8::1", "fe00::1", "::"] {
            assert!(!is_private(other.parse().expect("an address")), "{other}");
        }
    }
}
