//! A door before moto, for whoever asks as Google's storage is asked.
//!
//! The XML interface of Google's storage is made to be asked like S3 (its documents, on interoperability with other
//! storage), so a server of the one answers the other, but for the pass: moto wants one that looks like Amazon's.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::thread;

use super::server::SIGNED;

/// Opens the door to the server at a port, for as long as the test runs: where it is.
pub(crate) fn door(to: u16) -> u16 {
    let door = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let port = door.local_addr().expect("an address").port();
    thread::spawn(move || {
        for asks in door.incoming().flatten() {
            thread::spawn(move || drop(through(asks, to)));
        }
    });
    port
}

/// Hands requests on, one after another, with another pass, and answers back as they are.
fn through(asks: TcpStream, to: u16) -> std::io::Result<()> {
    let server = TcpStream::connect(("127.0.0.1", to))?;
    let (mut answers, mut back) = (server.try_clone()?, asks.try_clone()?);
    thread::spawn(move || {
        let _ = std::io::copy(&mut answers, &mut back);
        let _ = back.shutdown(Shutdown::Both);
    });
    let (mut requests, mut server) = (BufReader::new(asks), server);
    loop {
        let (mut head, mut length, mut line) = (String::new(), 0, String::new());
        loop {
            line.clear();
            if requests.read_line(&mut line)? == 0 {
                return server.shutdown(Shutdown::Both);
            }
            let small = line.to_ascii_lowercase();
            if let Some(number) = small.strip_prefix("content-length:") {
                length = number.trim().parse().unwrap_or(0);
            }
            match small.as_str() {
                "\r\n" => break,
                small if small.starts_with("authorization: bearer") => head.push_str(SIGNED),
                _ => head.push_str(&line),
            }
        }
        head.push_str("\r\n");
        server.write_all(head.as_bytes())?;
        std::io::copy(&mut requests.by_ref().take(length), &mut server)?;
    }
}
