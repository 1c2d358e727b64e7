//! `publish` against a server that speaks like S3, written by others.
//!
//! Not run by plain `cargo test`: `tests/full.sh` installs the servers and says where they are.
//! `AFTERHUE_S3=moto:PATH` or `AFTERHUE_S3=s3s-fs:PATH` names the server; the second checks signatures.

mod site;

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use object_store::aws::{AmazonS3, AmazonS3Builder};
use object_store::path::Path;
use object_store::{Attribute, ObjectStore, ObjectStoreExt};

use site::{Ran, Site, page, text};

const PAGES: usize = 10_000;
const CHANGED: usize = 100;
const FORGOTTEN: usize = 50;

const KEY: (&str, &str) = ("AKIAROOMSROOMSROOMS", "a-secret-of-these-tests-only");

/// What makes a request look signed.
const SIGNED: &str = "Authorization: AWS4-HMAC-SHA256 Credential=AKIAROOMSROOMSROOMS/20261125/us-east-1/s3/aws4_request, \
    SignedHeaders=host, Signature=0\r\n";

/// Which server it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    /// moto, from the Python package index: takes any key.
    Moto,
    /// s3s-fs, from the Rust registry: checks every signature.
    S3sFs,
}

struct Server {
    which: Which,
    process: Child,
    port: u16,
    _folder: tempfile::TempDir,
}

impl Server {
    /// Starts the server that the environment names, with an empty bucket "rooms".
    fn start() -> Self {
        let named = std::env::var("AFTERHUE_S3").expect("AFTERHUE_S3=moto:PATH or s3s-fs:PATH; tests/full.sh sets it");
        let (which, path) = match named.split_once(':').expect("a kind and a path") {
            ("moto", path) => (Which::Moto, path),
            ("s3s-fs", path) => (Which::S3sFs, path),
            (kind, _) => panic!("no server {kind}"),
        };
        let folder = tempfile::tempdir().expect("a folder");
        let port = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a free port").port();
        let mut command = Command::new(path);
        match which {
            Which::Moto => command.args(["-H", "127.0.0.1", "-p", &port.to_string()]),
            Which::S3sFs => {
                std::fs::create_dir(folder.path().join("rooms")).expect("a bucket");
                command.args(["--access-key", KEY.0, "--secret-key", KEY.1, "--host", "127.0.0.1"]);
                command.args(["--port", &port.to_string()]).arg(folder.path())
            }
        };
        let process = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the server starts");
        let server = Self { which, process, port, _folder: folder };
        let until = Instant::now() + Duration::from_secs(60);
        while TcpStream::connect(("127.0.0.1", port)).is_err() {
            assert!(Instant::now() < until, "the server never opened its port");
            std::thread::sleep(Duration::from_millis(50));
        }
        if which == Which::Moto {
            let answer = server.ask("PUT /rooms");
            assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
        }
        server
    }

    /// Asks in HTTP written out here, with a signature that moto does not check: the answer's head and body.
    fn ask(&self, line: &str) -> String {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connected");
        let host = format!("127.0.0.1:{}", self.port);
        write!(stream, "{line} HTTP/1.1\r\nHost: {host}\r\n{SIGNED}Content-Length: 0\r\nConnection: close\r\n\r\n")
            .expect("asked");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("answered");
        String::from_utf8_lossy(&answer).into_owned()
    }

    fn environment(&self, key: (&str, &str)) -> Vec<(&'static str, String)> {
        vec![
            ("AWS_ENDPOINT", format!("http://127.0.0.1:{}", self.port)),
            ("AWS_ALLOW_HTTP", "true".to_owned()),
            ("AWS_REGION", "us-east-1".to_owned()),
            ("AWS_ACCESS_KEY_ID", key.0.to_owned()),
            ("AWS_SECRET_ACCESS_KEY", key.1.to_owned()),
        ]
    }

    /// The bucket as somebody else with the key sees it.
    fn bucket(&self) -> AmazonS3 {
        let builder = AmazonS3Builder::new().with_bucket_name("rooms").with_region("us-east-1").with_allow_http(true);
        let builder = builder.with_endpoint(format!("http://127.0.0.1:{}", self.port));
        builder.with_access_key_id(KEY.0).with_secret_access_key(KEY.1).build().expect("a client")
    }

    /// How many objects lie in the bucket.
    fn count(&self) -> usize {
        use futures_util::StreamExt;
        let bucket = self.bucket();
        alone(async { bucket.list(None).fold(0, |count, file| async move { count + usize::from(file.is_ok()) }).await })
    }

    fn reads(&self, name: &str) -> Option<String> {
        let bucket = self.bucket();
        let bytes = alone(async { bucket.get(&Path::from(format!("care/{name}"))).await.ok()?.bytes().await.ok() })?;
        Some(String::from_utf8(bytes.to_vec()).expect("text"))
    }

    fn edits(&self, name: &str, text: &str) {
        let bucket = self.bucket();
        let bytes = text.as_bytes().to_vec();
        alone(async { bucket.put(&Path::from(format!("care/{name}")), bytes.into()).await }).expect("edited");
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn alone<T>(what: impl Future<Output = T>) -> T {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    runtime.block_on(what)
}

/// The whole life of a site: up, killed in the middle, resumed, changed, edited by somebody else, forgotten.
#[test]
fn ten_thousand_pages_go_up_through_a_kill_and_follow_every_change() {
    let (server, mut site) = (Server::start(), Site::of(PAGES));
    site.environment = server.environment(KEY);
    let to = "s3://rooms/care";

    let mut first = site.command(to, &[]).spawn().expect("it runs");
    let until = Instant::now() + Duration::from_secs(300);
    while site.remembered() < PAGES / 10 {
        assert!(first.try_wait().expect("asked").is_none() && Instant::now() < until, "it ended before it was killed");
        std::thread::sleep(Duration::from_millis(5));
    }
    first.kill().expect("killed");
    first.wait().expect("gone");
    let up = server.count();
    assert!((PAGES / 10..PAGES).contains(&up), "killed in the middle: {up}");

    let resumed = site.published(to, &[]);
    let (uploaded, right, removed) = resumed.counts();
    assert_eq!((uploaded + right, removed), (PAGES + 1, 0), "{}", resumed.said);
    // At most what went up since the list was last written, and what was under way, goes up twice.
    assert!(right > 0 && right + 200 + 16 >= up, "{right} of {up} were remembered");
    assert!(!resumed.said.contains("Somebody else"), "{}", resumed.said);
    assert_eq!(server.count(), PAGES + 1, "the settings are no page");
    assert_eq!(site.published(to, &[]).counts(), (0, PAGES + 1, 0));

    (0..CHANGED).for_each(|number| site.write(&page(number), &text(number, 2)));
    assert_eq!(site.published(to, &["--dry-run"]).printed.lines().count(), CHANGED);
    assert_eq!(site.published(to, &[]).counts(), (CHANGED, PAGES + 1 - CHANGED, 0));
    assert_eq!(server.reads(&page(7)), Some(text(7, 2)));

    (PAGES - FORGOTTEN..PAGES).for_each(|number| site.remove(&page(number)));
    assert_eq!(site.published(to, &[]).counts(), (0, PAGES + 1 - FORGOTTEN, FORGOTTEN));
    assert_eq!((server.count(), server.reads(&page(PAGES - 1))), (PAGES + 1 - FORGOTTEN, None));

    if server.which == Which::S3sFs {
        // It lists names without ETags, so that nobody can tell from the list what was edited.
        return;
    }
    server.edits(&page(3), "come to another salon");
    let told = site.published(to, &[]);
    assert_eq!(told.counts(), (1, PAGES - FORGOTTEN, 0));
    assert!(told.said.contains("Somebody else had changed") && told.said.contains(&page(3)), "{}", told.said);
    assert_eq!(server.reads(&page(3)), Some(text(3, 2)));
}

#[test]
fn each_file_carries_its_type_and_the_cache_header_of_the_settings() {
    let (server, mut site) = (Server::start(), Site::of(1));
    site.environment = server.environment(KEY);
    site.write("c/ab/x.ics", "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n");
    site.published("s3://rooms", &[]);
    if server.which == Which::S3sFs {
        // It serves nothing without a key: asked with one, by the crate that also sent it.
        let got = alone(server.bucket().get(&Path::from("c/ab/x.ics"))).expect("there").attributes;
        let header = |name: Attribute| got.get(&name).map(|value| value.as_ref().to_owned());
        assert_eq!(header(Attribute::ContentType).as_deref(), Some("text/calendar; charset=utf-8"));
        assert_eq!(header(Attribute::CacheControl).as_deref(), Some("private, max-age=0, must-revalidate"));
        return;
    }
    for (name, kind) in [("c/ab/x.ics", "text/calendar; charset=utf-8"), ("404.html", "text/html; charset=utf-8")] {
        let answer = server.ask(&format!("GET /rooms/{name}")).to_lowercase();
        assert!(answer.contains(&format!("content-type: {kind}")), "{answer}");
        assert!(answer.contains("cache-control: private, max-age=0, must-revalidate"), "{answer}");
    }
    assert!(server.ask("GET /rooms/_headers").starts_with("HTTP/1.1 404"), "the settings did not go up");
}

fn refused(site: &Site, to: &str, code: i32, words: &[&str]) {
    let Ran { code: ended, said, .. } = site.publish(to, &[]);
    assert_eq!(ended, Some(code), "{said}");
    words.iter().for_each(|wanted| assert!(said.contains(wanted), "{wanted}: {said}"));
    assert!(!said.contains(KEY.1), "no message tells a key: {said}");
}

#[test]
fn a_bucket_that_is_missing_a_wrong_key_no_key_and_no_server_are_told_in_words_to_act_on() {
    let (server, mut site) = (Server::start(), Site::of(3));
    site.environment = server.environment(KEY);
    refused(
        &site,
        "s3://rooks/care",
        3,
        &["there is no such bucket: s3://rooks/care", "make the bucket first", "NoSuchBucket"],
    );
    if server.which == Which::S3sFs {
        site.environment = server.environment((KEY.0, "another-secret"));
        refused(
            &site,
            "s3://rooms/care",
            3,
            &["the key was refused", "AWS_SECRET_ACCESS_KEY", "SignatureDoesNotMatch"],
        );
        site.environment = server.environment(("AKIASOMEBODYELSE", KEY.1));
        refused(&site, "s3://rooms/care", 3, &["the key was refused", "AWS_ACCESS_KEY_ID"]);
    }
    assert_eq!(server.count(), 0);
    site.environment = server.environment(KEY);
    let gone = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a free port");
    site.environment[0].1 = format!("http://{gone}");
    refused(&site, "s3://rooms/care", 3, &["could not be reached", "run the same command again"]);
}

#[test]
fn a_bucket_that_holds_another_site_is_left_alone() {
    let (server, mut site) = (Server::start(), Site::of(3));
    site.environment = server.environment(KEY);
    server.edits("404.html", "another site's");
    refused(&site, "s3://rooms/care", 3, &["1 file is there already", "404.html", "--take-over"]);
    assert_eq!((server.count(), server.reads("404.html")), (1, Some("another site's".to_owned())));
    assert_eq!(site.published("s3://rooms/care", &["--take-over"]).counts(), (4, 0, 0));
}
