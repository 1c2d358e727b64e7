//! `view`, asked over a real connection: what is served, what is refused, what follows a change.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::salon_copy::{SalonCopy, TODAY};

/// How long a test waits for what must come; no more than a net under a program that hangs.
const PATIENCE: Duration = Duration::from_secs(60);

/// The program, serving; it ends with the test.
struct Serving {
    program: Child,
    address: String,
}

impl Serving {
    fn of(salon: &SalonCopy) -> Self {
        let mut program = Command::new(env!("CARGO_BIN_EXE_afterhue"))
            .args(["view", "--port", "0", "--today", TODAY])
            .current_dir(salon.path(""))
            .stderr(Stdio::piped())
            .spawn()
            .expect("it runs");
        let mut lines = BufReader::new(program.stderr.take().expect("a pipe")).lines();
        let address = loop {
            let line = lines.next().expect("the address is told").expect("text");
            if let Some((_, rest)) = line.split_once("The site is at http://") {
                break rest.split('/').next().expect("an address").to_owned();
            }
        };
        // What is said later must not fill the pipe.
        std::thread::spawn(move || lines.for_each(drop));
        Self { program, address }
    }

    /// Sends bytes as they are, and gives the status, the head and the body.
    fn ask(&self, request: &str) -> (u16, String, String) {
        let mut stream = TcpStream::connect(&self.address).expect("it listens");
        stream.set_read_timeout(Some(PATIENCE)).expect("a timeout");
        stream.write_all(request.as_bytes()).expect("sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("answered");
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap_or((&answer, ""));
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
        (status, head.to_lowercase(), body.to_owned())
    }

    fn get(&self, path: &str, host: &str) -> (u16, String, String) {
        self.ask(&format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"))
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

#[test]
fn a_page_is_served_as_it_lies_in_public_and_nothing_beside_public_is() {
    let salon = SalonCopy::new();
    let serving = Serving::of(&salon);
    let (name, page) = salon.files("public/c").into_iter().find(|(name, _)| name.ends_with(".html")).expect("a page");
    let path = name.trim_start_matches("public");
    let (status, head, body) = serving.get(path, &serving.address);
    assert_eq!(status, 200);
    assert!(body.as_bytes() == page, "the bytes on disk are the bytes served");
    assert!(head.contains("content-type: text/html") && head.contains("cache-control: no-store"), "{head}");
    let folder = path.rsplit_once('/').expect("a folder").0;
    let hidden = [
        "/".to_owned(),
        "/c/".to_owned(),
        "/c".to_owned(),
        folder.to_owned(),
        format!("{folder}/"),
        "/../private/link-secret".to_owned(),
        "/c/../../private/link-secret".to_owned(),
        "/%2e%2e/private/link-secret".to_owned(),
        "/..%2fprivate%2flink-secret".to_owned(),
        "/%2e%2e%5cprivate%5clink-secret".to_owned(),
        "/%252e%252e/private/link-secret".to_owned(),
        "/private/link-secret".to_owned(),
        "/clients/wren-04.toml".to_owned(),
        "//etc/passwd".to_owned(),
        format!("/{}", salon.path("salon.toml").display()),
        "/c/%00".to_owned(),
    ];
    let secret = salon.read("private/link-secret");
    for path in hidden {
        let (status, _, body) = serving.get(&path, &serving.address);
        assert!(status == 404 || status == 400, "{path}: {status}");
        assert!(!body.contains(secret.trim()) && !body.contains("format = 1"), "{path}");
        assert!(!body.contains(name.rsplit('/').next().expect("a name")), "{path} lists a page");
    }
}

#[test]
fn whoever_asks_for_another_host_or_wants_to_write_is_refused() {
    let salon = SalonCopy::new();
    let serving = Serving::of(&salon);
    let port = serving.address.rsplit(':').next().expect("a port");
    assert_eq!(serving.get("/404.html", &format!("localhost:{port}")).0, 200);
    for host in ["evil.example", "127.0.0.1.evil.example", &format!("evil.example:{port}"), "0.0.0.0", "[::1]", ""] {
        let (status, _, body) = serving.get("/404.html", host);
        assert!(matches!(status, 400 | 403), "{host}: {status}");
        assert!(!body.to_lowercase().contains("<!doctype"), "{host}");
    }
    let (status, ..) = serving.ask("GET /404.html HTTP/1.0\r\n\r\n");
    assert_eq!(status, 403, "no Host at all");
    let absolute =
        format!("GET http://evil.example/404.html HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", serving.address);
    assert_eq!(
        serving.ask(&absolute).0,
        403,
        "the address of the request goes before the Host header (RFC 9112 §3.2.2)"
    );
    for method in ["POST", "PUT", "DELETE"] {
        let host = &serving.address;
        let request =
            format!("{method} /404.html HTTP/1.1\r\nHost: {host}\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
        assert_eq!(serving.ask(&request).0, 405, "{method}");
    }
}

#[test]
fn a_changed_file_changes_the_page_and_a_fault_leaves_it() {
    let salon = SalonCopy::new();
    let serving = Serving::of(&salon);
    let link = salon.afterhue(&["send", "wren-04"]).output().expect("it runs");
    let link = super::stdout(&link).lines().nth(2).expect("a link").replace("https://care.example.org", "");
    let page = || serving.get(&link, &serving.address).2;
    assert!(page().contains("Maren"));
    let file = salon.read("clients/wren-04.toml");
    salon.write("clients/wren-04.toml", &file.replace("Maren", "Marenka"));
    let started = Instant::now();
    while !page().contains("Marenka") {
        assert!(started.elapsed() < PATIENCE, "the page follows the file");
        std::thread::sleep(Duration::from_millis(100));
    }
    salon.write("clients/wren-04.toml", "format = 1\nweather = \"rain\"\n");
    salon.write(
        "clients/moth-20.toml",
        &salon.read("clients/moth-20.toml").replace("format = 1", "format = 1 # touched"),
    );
    std::thread::sleep(Duration::from_secs(3));
    assert!(page().contains("Marenka"), "the last good page stays");
}

#[test]
fn a_port_that_is_taken_is_told_with_another_to_try() {
    let salon = SalonCopy::new();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("an address").port().to_string();
    let output = salon.afterhue(&["view", "--port", &port]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(3));
    let said = super::stderr(&output);
    assert!(said.contains(&format!("Port {port} is taken")) && said.contains("--port 0"), "{said}");
}
