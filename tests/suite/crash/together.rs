//! Two runs at once: the second says that it waits, and goes on when the first has ended.

use std::fs::OpenOptions;
use std::io::{BufRead, BufReader, Read};

use super::{built, files, program, proposed};
use crate::salon_copy::TODAY;

#[test]
fn every_command_that_writes_or_copies_waits_for_another_run_and_says_so() {
    let base = built();
    let [date, time] = proposed(&base, "wren-04");
    let commands: [&[&str]; 9] = [
        &["pages", "--today", TODAY],
        &["book", "--today", TODAY],
        &["book", "--today", TODAY, "--accept", "wren-04", &date, &time],
        &["book", "--today", TODAY, "--answer", "wren-04", TODAY, "a warm scalp"],
        &["forget", "plum-03", "--yes", "--today", TODAY],
        &["relink", "wren-04", "--today", TODAY],
        &["learn"],
        &["export", "wren-04", "out"],
        &["send", "wren-04", "--card", "--today", TODAY],
    ];
    for arguments in commands {
        let salon = base.again();
        let before = files(&salon);
        let lock = OpenOptions::new().create(true).truncate(false).write(true).open(salon.path("private/lock"));
        let lock = lock.expect("opened");
        lock.lock().expect("nobody else is here");
        let mut second = program(&salon, arguments).spawn().expect("it starts");
        let mut said = BufReader::new(second.stderr.take().expect("piped"));
        let mut line = String::new();
        // `forget` first shows what goes.
        while !line.contains("waits until it has ended") {
            line.clear();
            assert!(said.read_line(&mut line).expect("text") > 0, "{arguments:?} did not wait");
        }
        assert!(files(&salon) == before, "{arguments:?} wrote while another run was at work");
        drop(lock);
        let mut rest = String::new();
        said.read_to_string(&mut rest).expect("text");
        let end = second.wait_with_output().expect("it ends");
        assert_eq!(end.status.code(), Some(0), "{arguments:?}: {rest}");
    }
}
