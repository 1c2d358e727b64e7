//! Many tablets at once on the chairside, over the loopback address: nothing lost, nothing torn, and how long a preview takes meanwhile.
//!
//! ```text
//! cargo run --release --example chairside_load -- [TABLETS] [FINISHES]
//! ```
//!
//! A demo salon is made in a folder of its own. Every tablet begins visits, changes them twice as a thumb does, and finishes them;
//! the pages are written again all the while. At the end every record is read back. Times are reported, never judged.

#![expect(clippy::print_stdout, reason = "a program that reports")]

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use afterhue::chairside::{Settings, chairside};
use chrono::{Days, NaiveDate};

const VISITS_A_CLIENT: usize = 10;

fn main() {
    let mut arguments = std::env::args().skip(1).filter_map(|word| word.parse().ok());
    let tablets: usize = arguments.next().unwrap_or(20);
    let finishes: usize = arguments.next().unwrap_or(2000);
    let folder = tempfile::tempdir().expect("a folder");
    let clients = finishes.div_ceil(VISITS_A_CLIENT);
    salon(folder.path(), clients);
    let settings = Settings {
        folder: folder.path().to_owned(),
        port: 0,
        lan: false,
        new_passcode: false,
        busy: Vec::new(),
        today: NaiveDate::from_ymd_opt(2026, 11, 25),
    };
    let (told, hears) = std::sync::mpsc::channel();
    std::thread::spawn(move || {
        chairside(&settings, |place| told.send(place.address.clone()).expect("somebody listens")).expect("it serves");
    });
    let address = hears.recv().expect("an address");
    let at: SocketAddr = address.trim_start_matches("http://").trim_end_matches('/').parse().expect("an address");
    let (next, times) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let began = Instant::now();
    std::thread::scope(|scope| {
        for _ in 0..tablets {
            scope.spawn(|| {
                let mut tablet = Tablet::new(at);
                // Each client is one tablet's at a time: two on one client is what the suite looks at.
                while let Some(client) = Some(next.fetch_add(1, Ordering::Relaxed)).filter(|client| *client < clients) {
                    for visit in 0..VISITS_A_CLIENT.min(finishes - client * VISITS_A_CLIENT) {
                        let took = tablet.visit(client, visit);
                        times.lock().expect("no tablet failed").extend(took);
                    }
                }
            });
        }
    });
    let whole = began.elapsed();
    let (lost, torn) = looked_at(folder.path(), finishes);
    let mut times = times.into_inner().expect("no tablet failed");
    times.sort();
    let share = |part: usize| times[(times.len() * part / 100).min(times.len() - 1)].as_millis();
    println!("{tablets} tablets, {finishes} finishes in {:.0} s: {lost} lost, {torn} torn", whole.as_secs_f64());
    println!(
        "{} previews: half within {} ms, 99 of 100 within {} ms, the longest {} ms; the aim is 150 ms",
        times.len(),
        share(50),
        share(99),
        share(100)
    );
    assert_eq!((lost, torn), (0, 0), "every finish must be there whole");
}

/// A salon of its own with clients who are all over sixteen.
fn salon(folder: &Path, clients: usize) {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo");
    for name in ["salon.toml", "logo.svg"] {
        std::fs::copy(demo.join(name), folder.join(name)).expect("the demo is there");
    }
    std::fs::create_dir_all(folder.join("clients")).expect("a folder");
    for client in 0..clients {
        let text =
            "format = 1\n\n[age]\nsixteen_or_over = true\nconfirmed = 2026-01-02\n\n[consents]\nservice = 2026-01-02\n";
        std::fs::write(folder.join(format!("clients/load-{client}.toml")), text).expect("written");
    }
}

fn note(client: usize, visit: usize) -> String {
    format!("client {client}, visit {visit}: {}", "every word of it is here ".repeat(40))
}

/// How many records are not there, and how many are there and not whole.
fn looked_at(folder: &Path, finishes: usize) -> (usize, usize) {
    let (mut lost, mut torn) = (0, 0);
    for finish in 0..finishes {
        let (client, visit) = (finish / VISITS_A_CLIENT, finish % VISITS_A_CLIENT);
        let day = day(visit);
        let path = folder.join(format!("records/{}/{day}-load-{client}.toml", day.format("%Y")));
        match std::fs::read_to_string(&path) {
            Err(_) => lost += 1,
            Ok(text) => {
                let source = afterhue::diagnostic::SourceText::new("x.toml", &*text);
                let read = afterhue::record::read_visit(&source);
                let whole = read
                    .value
                    .and_then(|visit| visit.note)
                    .is_some_and(|told| told.trim() == note(client, visit).trim());
                torn += usize::from(!whole);
            }
        }
    }
    (lost, torn)
}

fn day(visit: usize) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, 10).expect("a day") + Days::new(visit as u64 * 30)
}

struct Tablet {
    at: SocketAddr,
    cookie: String,
    csrf: String,
}

impl Tablet {
    fn new(at: SocketAddr) -> Self {
        let mut tablet = Self { at, cookie: String::new(), csrf: String::new() };
        let page = tablet.ask("GET", "/", "");
        tablet.cookie = between(&page, "set-cookie: ", ";").to_owned();
        tablet.csrf = between(&page, "name=\"csrf\" value=\"", "\"").to_owned();
        tablet
    }

    /// One visit from the first tap to the code; the times of its previews.
    fn visit(&mut self, client: usize, visit: usize) -> Vec<Duration> {
        let begun = self.ask("POST", &format!("/start/load-{client}"), &format!("csrf={}", self.csrf));
        let place = between(&begun, "location: ", "\r\n").to_owned();
        let mut fields = vec![
            ("date".to_owned(), day(visit).to_string()),
            ("note".to_owned(), note(client, visit)),
            ("health.left_open".to_owned(), "not asked by a program".to_owned()),
            ("hair.length_mm".to_owned(), "300".to_owned()),
            ("placement.0.zone.0.to_mm".to_owned(), "300".to_owned()),
            ("placement.0.zone.0.stage".to_owned(), "9.5".to_owned()),
            ("placement.0.zone.0.lightened_before".to_owned(), "1".to_owned()),
            ("placement.0.zone.0.colour.name".to_owned(), "peach pastel".to_owned()),
            ("placement.0.toning.0.dye".to_owned(), "direct".to_owned()),
        ];
        let mut took = Vec::new();
        for washes in ["2", "3"] {
            fields.retain(|(name, _)| name != "habits.washes_per_week" && name != "seen");
            fields.push(("habits.washes_per_week".to_owned(), washes.to_owned()));
            let began = Instant::now();
            let told = self.ask("POST", &format!("{place}/change"), &self.body(&fields));
            took.push(began.elapsed());
            assert!(told.contains("Turns"), "a preview: {told:.600}");
        }
        fields.push(("do".to_owned(), "finish".to_owned()));
        let done = self.ask("POST", &place, &self.body(&fields));
        assert!(between(&done, "location: ", "\r\n").starts_with("/done/"), "finished: {done:.600}");
        took
    }

    fn body(&self, fields: &[(String, String)]) -> String {
        let mut body = form_urlencoded::Serializer::new(String::new());
        body.append_pair("csrf", &self.csrf).extend_pairs(fields).finish()
    }

    fn ask(&self, method: &str, path: &str, body: &str) -> String {
        let mut stream = TcpStream::connect(self.at).expect("the server is there");
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nConnection: close\r\nContent-Length: {}\r\n\r\n{body}",
            self.at, self.cookie, body.len()
        )
        .expect("sent");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer");
        answer
    }
}

fn between<'a>(text: &'a str, open: &str, close: &str) -> &'a str {
    text.split(open).nth(1).and_then(|rest| rest.split(close).next()).unwrap_or_default()
}
