//! `publish` against servers that others wrote.
//!
//! Not run by plain `cargo test`: `tests/full.sh` installs the servers and says where they are, in `AFTERHUE_SERVER`:
//!
//! | value | server | what it looks at |
//! |---|---|---|
//! | `moto:PATH` | moto, from the Python package index | S3 without signatures |
//! | `s3s-fs:PATH` | s3s-fs, from the Rust registry | S3, every signature |
//! | `azurite:PATH` | Azurite, from the npm registry | Azure's blobs, every signature |
//! | `moto-gs:PATH` | moto, behind a door that puts its own pass in place of Google's | the requests to Google's storage, whose XML is S3's; no pass, no error of Google's own |

mod azure;
mod google;
mod server;
mod site;

use std::net::TcpListener;
use std::time::{Duration, Instant};

use object_store::Attribute;

use server::{KEY, SIGNED, Server, Which};
use site::{Ran, Site, page, text};

const CHANGED: usize = 100;

/// The whole life of a site: up, killed in the middle, resumed, changed, edited by somebody else, forgotten.
#[test]
fn thousands_of_pages_go_up_through_a_kill_and_follow_every_change() {
    let server = Server::start();
    // Enough for several pages of a store's list, and several batches of removals.
    let (pages, forgotten) = if server.which.is_s3() { (10_000, 50) } else { (5_500, 300) };
    let mut site = Site::of(pages);
    site.environment = server.environment(KEY);
    let to = &server.address("rooms/care");

    let mut first = site.command(to, &[]).spawn().expect("it runs");
    let until = Instant::now() + Duration::from_secs(300);
    while site.remembered() < pages / 10 {
        assert!(first.try_wait().expect("asked").is_none() && Instant::now() < until, "it ended before it was killed");
        std::thread::sleep(Duration::from_millis(5));
    }
    first.kill().expect("killed");
    first.wait().expect("gone");
    let up = server.count();
    assert!((pages / 10..pages).contains(&up), "killed in the middle: {up}");

    let resumed = site.published(to, &[]);
    let (uploaded, right, removed) = resumed.counts();
    assert_eq!((uploaded + right, removed), (pages + 1, 0), "{}", resumed.said);
    // At most what went up since the list was last written, and what was under way, goes up twice.
    assert!(right > 0 && right + 200 + 16 >= up, "{right} of {up} were remembered");
    assert!(!resumed.said.contains("Somebody else"), "{}", resumed.said);
    assert_eq!(server.count(), pages + 1, "the settings are no page");
    assert_eq!(site.published(to, &[]).counts(), (0, pages + 1, 0));

    (0..CHANGED).for_each(|number| site.write(&page(number), &text(number, 2)));
    assert_eq!(site.published(to, &["--dry-run"]).printed.lines().count(), CHANGED);
    assert_eq!(site.published(to, &[]).counts(), (CHANGED, pages + 1 - CHANGED, 0));
    assert_eq!(server.reads(&page(7)), Some(text(7, 2)));

    (pages - forgotten..pages).for_each(|number| site.remove(&page(number)));
    assert_eq!(site.published(to, &[]).counts(), (0, pages + 1 - forgotten, forgotten));
    assert_eq!((server.count(), server.reads(&page(pages - 1))), (pages + 1 - forgotten, None));

    if server.which == Which::S3sFs {
        // It lists names without ETags, so that nobody can tell from the list what was edited.
        return;
    }
    server.edits(&page(3), "come to another salon");
    let told = site.published(to, &[]);
    assert_eq!(told.counts(), (1, pages - forgotten, 0));
    assert!(told.said.contains("Somebody else had changed") && told.said.contains(&page(3)), "{}", told.said);
    assert_eq!(server.reads(&page(3)), Some(text(3, 2)));
}

#[test]
fn each_file_carries_its_type_and_the_cache_header_of_the_settings() {
    let (server, mut site) = (Server::start(), Site::of(1));
    site.environment = server.environment(KEY);
    site.write("c/ab/x.ics", "BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n");
    site.published(&server.address("rooms"), &[]);
    if server.which.wants_a_key() {
        // It serves nothing without a key: asked with one, by the crate that also sent it.
        let got = server.attributes("c/ab/x.ics");
        let header = |name: Attribute| got.get(&name).map(|value| value.as_ref().to_owned());
        assert_eq!(header(Attribute::ContentType).as_deref(), Some("text/calendar; charset=utf-8"));
        assert_eq!(header(Attribute::CacheControl).as_deref(), Some("private, max-age=0, must-revalidate"));
        return;
    }
    for (name, kind) in [("c/ab/x.ics", "text/calendar; charset=utf-8"), ("404.html", "text/html; charset=utf-8")] {
        let answer = server.ask(&format!("GET /rooms/{name}"), SIGNED).to_lowercase();
        assert!(answer.contains(&format!("content-type: {kind}")), "{answer}");
        assert!(answer.contains("cache-control: private, max-age=0, must-revalidate"), "{answer}");
    }
    assert!(server.ask("GET /rooms/_headers", SIGNED).starts_with("HTTP/1.1 404"), "the settings did not go up");
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
    let (rooms, rooks) = (server.address("rooms/care"), server.address("rooks/care"));
    let missing = match server.which {
        Which::Azurite => ["there is no such container: az://rooks/care", "make the container", "ContainerNotFound"],
        Which::MotoAsGoogle => ["there is no such bucket: gs://rooks/care", "make the bucket first", "NoSuchBucket"],
        _ => ["there is no such bucket: s3://rooks/care", "make the bucket first", "NoSuchBucket"],
    };
    refused(&site, &rooks, 3, &missing);
    match server.which {
        Which::S3sFs => {
            site.environment = server.environment((KEY.0, "another-secret"));
            refused(&site, &rooms, 3, &["the key was refused", "AWS_SECRET_ACCESS_KEY", "SignatureDoesNotMatch"]);
            site.environment = server.environment(("AKIASOMEBODYELSE", KEY.1));
            refused(&site, &rooms, 3, &["the key was refused", "AWS_ACCESS_KEY_ID"]);
        }
        Which::Azurite => {
            // Base64 of another key; then a text that is none.
            site.environment = server.environment((KEY.0, "YW5vdGhlci1zZWNyZXQ="));
            refused(&site, &rooms, 3, &["the key was refused", "AZURE_STORAGE_ACCOUNT_KEY", "AuthorizationFailure"]);
            site.environment = server.environment((KEY.0, "no key!"));
            refused(
                &site,
                &rooms,
                3,
                &["cannot be used", "set AZURE_STORAGE_ACCOUNT_NAME and AZURE_STORAGE_ACCOUNT_KEY"],
            );
        }
        Which::MotoAsGoogle => {
            site.environment[0].1 = "/no/such/key.json".to_owned();
            refused(&site, &rooms, 3, &["cannot be used", "set GOOGLE_SERVICE_ACCOUNT (the path", "/no/such/key.json"]);
        }
        Which::Moto => {}
    }
    if server.which.is_s3() {
        site.environment = server.environment(KEY);
        site.environment[0].1 = "store.example.org".to_owned();
        refused(&site, &rooms, 3, &["the endpoint in AWS_ENDPOINT is no address", "https:// in front"]);
    }
    assert_eq!(server.count(), 0);
    let gone = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a free port");
    site.environment = server.environment_at(gone.port(), KEY);
    refused(&site, &rooms, 3, &["could not be reached", "run the same command again"]);
}

#[test]
fn a_bucket_that_holds_another_site_is_left_alone() {
    let (server, mut site) = (Server::start(), Site::of(3));
    site.environment = server.environment(KEY);
    let to = &server.address("rooms/care");
    server.edits("404.html", "another site's");
    refused(&site, to, 3, &["1 file is there already", "404.html", "--take-over"]);
    assert_eq!((server.count(), server.reads("404.html")), (1, Some("another site's".to_owned())));
    assert_eq!(site.published(to, &["--take-over"]).counts(), (4, 0, 0));
}
