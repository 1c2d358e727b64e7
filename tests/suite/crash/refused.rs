//! The machine refuses: a full disk, a folder nobody may write to, one that is gone, a clock set back. Exit code 3, what to do about it, and nothing lost.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, SystemTime};

use super::{Files, built, files, program, proposed};
use crate::commands::stderr;
use crate::salon_copy::{SalonCopy, TODAY};

/// The user without rights of its own on every system.
const NOBODY: u32 = 65534;

/// What people wrote and what cannot be made anew.
fn precious(name: &str) -> bool {
    ["clients/", "records/", "private/bookings", "private/link-secret", "salon.toml"]
        .iter()
        .any(|part| name.starts_with(part))
}

#[track_caller]
fn nothing_lost(now: &Files, before: &Files, about: &str) {
    for (name, bytes) in before.iter().filter(|(name, _)| precious(name)) {
        assert!(now.get(name) == Some(bytes), "{about}: {name} changed or went");
    }
    assert!(now.keys().all(|name| !name.contains(".afterhue-draft-")), "{about}: half a file was left");
}

/// Every command that writes. Which files it changes is another test's matter; when refused, it changes none of those that are precious.
pub(super) fn writing(salon: &SalonCopy) -> Vec<Vec<String>> {
    let [date, time] = proposed(salon, "wren-04");
    let commands: [&[&str]; 7] = [
        &["pages", "--today", TODAY],
        &["book", "--today", TODAY, "--accept", "wren-04", &date, &time],
        &["book", "--today", TODAY, "--answer", "wren-04", TODAY, "a warm scalp"],
        &["forget", "plum-03", "--yes", "--today", TODAY],
        &["relink", "--all", "--today", TODAY],
        &["send", "wren-04", "--card", "--today", TODAY],
        &["export", "wren-04", "out"],
    ];
    commands.iter().map(|words| words.iter().map(|word| (*word).to_owned()).collect()).collect()
}

/// A salon in which `pages` has something to write.
pub(super) fn repainted() -> SalonCopy {
    let salon = built();
    let settings = salon.read("salon.toml");
    salon.write("salon.toml", &settings.replace("+44 20 7946 0101", "+44 20 7946 0199"));
    salon
}

/// The limit is one on the size of a file, in blocks of 512 bytes; beyond it the system writes no more, as on a full disk.
#[test]
fn on_a_full_disk_every_command_says_what_to_do_and_nothing_is_lost() {
    let base = repainted();
    let before = files(&base);
    for blocks in [0, 4] {
        for arguments in writing(&base) {
            let salon = base.again();
            let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"");
            let mut shell = Command::new("sh");
            shell.current_dir(salon.path("")).args(["-c", &script, env!("CARGO_BIN_EXE_afterhue")]).args(&arguments);
            let output = shell.output().expect("it runs");
            let about = format!("{arguments:?} with {blocks} blocks: {}", stderr(&output));
            // With a little room some commands change a small file before a large one fails, and this one ends well.
            if blocks > 0 && arguments.iter().any(|word| word == "--answer") {
                assert_eq!(output.status.code(), Some(0), "{about}");
                continue;
            }
            assert_eq!(output.status.code(), Some(3), "{about}");
            assert!(about.contains("Free some space") && about.contains("could not "), "{about}");
            let now = files(&salon);
            if blocks == 0 {
                nothing_lost(&now, &before, &about);
            }
            // With room again, the same command or the next run of pages ends it.
            if arguments[0] != "export" {
                let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
                let code = salon.afterhue(&words).output().expect("it runs").status.code();
                assert!(matches!(code, Some(0 | 2)), "{about}: {code:?}");
                salon.afterhue(&["pages", "--today", TODAY]).assert().success();
            }
            let now = files(&salon);
            let lost =
                before.keys().filter(|name| precious(name) && !name.contains("plum-03") && !now.contains_key(*name));
            assert_eq!(lost.collect::<Vec<_>>(), Vec::<&String>::new(), "{about}");
        }
    }
}

/// Takes away the right to write in a folder and in every one below it, or gives it back.
fn may_write(folder: &Path, may: bool) {
    fs::set_permissions(folder, fs::Permissions::from_mode(if may { 0o755 } else { 0o555 })).expect("it is ours");
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            may_write(&path, may);
        }
    }
}

fn give(path: &Path, user: u32) {
    chown(path, Some(user), Some(user)).expect("root gives its own");
    if path.is_dir() {
        fs::read_dir(path).expect("a folder").for_each(|entry| give(&entry.expect("an entry").path(), user));
    }
}

/// The program as somebody whom permissions bind. Root may write everywhere, so a test that runs as root steps down.
fn bound(salon: &SalonCopy, arguments: &[&str]) -> std::process::Output {
    let mut command = program(salon, arguments);
    if fs::metadata(salon.path("salon.toml")).expect("there").uid() == NOBODY {
        command.uid(NOBODY).gid(NOBODY);
    }
    let output = command.output();
    output.unwrap_or_else(|error| {
        panic!("permissions CANNOT BE TESTED here: the program does not start as user {NOBODY} ({error}); is the folder of the build open to all?")
    })
}

/// The salon, owned by somebody whom permissions bind.
fn owned_by_somebody_bound(salon: &SalonCopy) {
    let around = salon.path("").parent().expect("a folder around it").to_owned();
    if fs::metadata(&around).expect("there").uid() == 0 {
        give(&around, NOBODY);
    }
}

#[test]
fn what_may_not_be_written_is_said_and_nothing_is_lost() {
    let base = repainted();
    let before = files(&base);
    let [date, time] = proposed(&base, "wren-04");
    let accept = ["book", "--today", TODAY, "--accept", "wren-04", &date, &time];
    let answer = ["book", "--today", TODAY, "--answer", "wren-04", TODAY, "a warm scalp"];
    let (pages, forget, relink) = (
        ["pages", "--today", TODAY],
        ["forget", "plum-03", "--yes", "--today", TODAY],
        ["relink", "--all", "--today", TODAY],
    );
    let send = ["send", "wren-04", "--card", "--today", TODAY];
    let cases: [(&str, Vec<&[&str]>); 5] = [
        ("", vec![&pages, &accept, &answer, &forget, &relink, &send, &["export", "wren-04", "out"]]),
        ("public", vec![&pages, &forget, &relink]),
        ("private", vec![&accept, &forget, &send]),
        ("clients", vec![&answer, &forget, &relink]),
        ("records", vec![&forget]),
    ];
    for (part, commands) in cases {
        for arguments in commands {
            let salon = base.again();
            owned_by_somebody_bound(&salon);
            may_write(&salon.path(part), false);
            let output = bound(&salon, arguments);
            let said = stderr(&output);
            let about = format!("{arguments:?} with {part:?} closed: {said}");
            assert_eq!(output.status.code(), Some(3), "{about}");
            assert!(said.contains("Check who owns the folder and whether you may write there."), "{about}");
            assert_eq!(bound(&salon, &["check"]).status.code(), Some(0), "what is there can still be read: {about}");
            may_write(&salon.path(part), true);
            let now = files(&salon);
            let others = |name: &str| !(name.contains("plum-03") || name == "private/bookings.toml");
            let kept = |files: &Files| -> Files {
                files
                    .iter()
                    .filter(|(name, _)| others(name))
                    .map(|(name, bytes)| (name.clone(), bytes.clone()))
                    .collect()
            };
            // Somebody who was to be forgotten may be so in part; the others' files are as they were.
            if arguments[0] == "forget" {
                nothing_lost(&kept(&now), &kept(&before), &about);
            } else if arguments[0] != "relink" {
                nothing_lost(&now, &before, &about);
            }
            assert!(
                now.keys().filter(|name| precious(name)).count() + 8
                    > before.keys().filter(|name| precious(name)).count()
            );
            if arguments[0] != "export" {
                let code = bound(&salon, arguments).status.code();
                assert!(matches!(code, Some(0 | 2)), "{about}: {code:?} with rights again");
                assert_eq!(bound(&salon, &pages).status.code(), Some(0), "{about}");
            }
        }
    }
}

#[test]
fn a_secret_or_a_record_that_may_not_be_read_stops_nothing_from_being_kept() {
    let salon = repainted();
    owned_by_somebody_bound(&salon);
    let before = files(&salon);
    let secret = salon.path("private/link-secret");
    fs::set_permissions(&secret, fs::Permissions::from_mode(0o000)).expect("it is ours");
    let output = bound(&salon, &["pages", "--today", TODAY]);
    assert_eq!(output.status.code(), Some(3), "{}", stderr(&output));
    assert!(stderr(&output).contains("link-secret"), "{}", stderr(&output));
    fs::set_permissions(&secret, fs::Permissions::from_mode(0o600)).expect("it is ours");
    assert!(files(&salon) == before, "no other secret was made");
    let record = before.keys().find(|name| name.contains("records/") && name.contains("wren-04")).expect("a record");
    fs::set_permissions(salon.path(record), fs::Permissions::from_mode(0o000)).expect("it is ours");
    // That the machine refuses is no fault of the record: 3 for every command that would have needed it, and all others go on.
    for arguments in [
        &["pages", "--today", TODAY] as &[&str],
        &["check", "--today", TODAY],
        &["learn"],
        &["book", "--today", TODAY],
        &["export", "wren-04", "out"],
        &["relink", "--all", "--today", TODAY],
    ] {
        let output = bound(&salon, arguments);
        let said = stderr(&output);
        assert_eq!(output.status.code(), Some(3), "{arguments:?}: {said}");
        assert!(said.contains(&format!("could not read {record}")) && said.contains("Nothing was lost"), "{said}");
        assert!(arguments[0] == "export" || said.contains("whether you may read it"), "{arguments:?}: {said}");
        let gone = before.keys().filter(|name| !salon.path(name).exists());
        let gone: Vec<&String> =
            gone.filter(|name| arguments[0] != "relink" || !name.starts_with("public/c/")).collect();
        assert_eq!(gone, Vec::<&String>::new(), "{arguments:?}: every page is still there");
    }
}

/// Bookings and settings in the same state: no new book takes the place of one that is only out of reach.
#[test]
fn a_book_or_settings_that_may_not_be_read_are_not_written_anew() {
    let base = repainted();
    for name in ["private/bookings.toml", "salon.toml"] {
        let salon = base.again();
        owned_by_somebody_bound(&salon);
        let before = files(&salon);
        let closed = |closed: bool| {
            let mode = if closed { 0o000 } else { 0o600 };
            fs::set_permissions(salon.path(name), fs::Permissions::from_mode(mode)).expect("it is ours");
        };
        for arguments in [
            &["book", "--today", TODAY] as &[&str],
            &["pages", "--today", TODAY],
            &["forget", "plum-03", "--yes", "--today", TODAY],
        ] {
            closed(true);
            let output = bound(&salon, arguments);
            closed(false);
            let about = format!("{arguments:?} without {name}: {}", stderr(&output));
            assert_eq!(output.status.code(), Some(3), "{about}");
            assert!(about.contains("could not read") && about.contains("whether you may read it"), "{about}");
            let now = files(&salon);
            let forgotten = |name: &str| arguments[0] == "forget" && name.contains("plum-03");
            let kept = |files: &Files| -> Files {
                files
                    .iter()
                    .filter(|(name, _)| !forgotten(name))
                    .map(|(name, bytes)| (name.clone(), bytes.clone()))
                    .collect()
            };
            nothing_lost(&kept(&now), &kept(&before), &about);
        }
    }
}

/// A folder on a disk that takes no writing: a bind mount, which binds root too, in a mount space of its own. Only root may make one;
/// for anybody else the closed folders above are what is tested.
#[test]
fn a_salon_on_a_read_only_disk_is_told_so_and_can_still_be_read() {
    let salon = repainted();
    let before = files(&salon);
    let on_read_only = |arguments: &[&str]| {
        let script = "mount --bind \"$PWD\" \"$PWD\" && mount -o remount,ro,bind \"$PWD\" || exit 99; cd \"$PWD\" && exec \"$0\" \"$@\"";
        let mut command = Command::new("unshare");
        command.current_dir(salon.path("")).args(["-m", "sh", "-c", script, env!("CARGO_BIN_EXE_afterhue")]);
        command.args(arguments).output()
    };
    let root = fs::metadata("/proc/self").is_ok_and(|ours| ours.uid() == 0);
    let able = root && on_read_only(&["--version"]).is_ok_and(|output| output.status.success());
    if !able {
        // Past the test harness, which would swallow it.
        writeln!(std::io::stderr(), "no mount can be made here: a read-only disk is NOT tested").expect("a terminal");
        return;
    }
    for words in writing(&salon) {
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        let output = on_read_only(&arguments).expect("it runs");
        let about = format!("{arguments:?}: {}", stderr(&output));
        assert_eq!(output.status.code(), Some(3), "{about}");
        assert!(about.contains("The disk is read-only"), "{about}");
        assert!(files(&salon) == before, "{about}");
    }
    let check = on_read_only(&["check", "--today", TODAY]).expect("it runs");
    assert_eq!(check.status.code(), Some(0), "what is there can still be read: {}", stderr(&check));
}

#[test]
fn a_salon_folder_that_vanishes_under_a_run_is_told_and_not_made_anew() {
    let base = built();
    for arguments in writing(&base) {
        if arguments[0] == "export" {
            continue;
        }
        let salon = base.again();
        let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let mut named = vec![words[0], "."];
        named.extend(&words[1..]);
        // The folder goes while the run waits for another one.
        let lock = fs::OpenOptions::new().write(true).open(salon.path("private/lock")).expect("there");
        lock.lock().expect("nobody else is here");
        let whole = salon.path("").canonicalize().expect("there");
        let named: Vec<&str> =
            named.iter().map(|word| if *word == "." { whole.to_str().expect("text") } else { word }).collect();
        let mut run = program(&salon, &named);
        run.current_dir("/");
        let mut run = run.spawn().expect("it starts");
        let mut said = BufReader::new(run.stderr.take().expect("piped"));
        let mut line = String::new();
        while !line.contains("waits until it has ended") {
            line.clear();
            assert!(said.read_line(&mut line).expect("text") > 0, "{words:?} did not wait");
        }
        let away = whole.with_file_name("away");
        fs::rename(&whole, &away).expect("moved");
        drop(lock);
        let mut rest = String::new();
        said.read_to_string(&mut rest).expect("text");
        let end = run.wait().expect("it ends");
        assert_eq!(end.code(), Some(3), "{words:?}: {rest}");
        assert!(rest.contains("could not ") && rest.contains("help: "), "{words:?}: {rest}");
        assert!(!whole.exists(), "{words:?} made the folder anew");
    }
    let salon = base.again();
    salon.afterhue(&["pages", "no-such-folder"]).assert().code(3);
    assert!(!salon.path("no-such-folder").exists());
}

#[test]
fn a_clock_set_back_writes_no_page_and_says_how_to_go_on() {
    let salon = built();
    let before = files(&salon);
    let list = fs::File::options().write(true).open(salon.path("private/written-files")).expect("there");
    list.set_modified(SystemTime::now() + Duration::from_hours(24 * 400)).expect("a later time");
    for arguments in [&["pages"][..], &["relink", "wren-04"]] {
        let output = salon.afterhue(arguments).output().expect("it runs");
        assert_eq!(output.status.code(), Some(3), "{}", stderr(&output));
        assert!(stderr(&output).contains("clock") && stderr(&output).contains("--today"), "{}", stderr(&output));
    }
    assert!(salon.files("records") == before.into_iter().filter(|(name, _)| name.starts_with("records/")).collect());
    salon.build();
}
