//! The secret has gone while cards with its links are in people's hands: it is not quietly replaced.

use std::fs;
use std::os::unix::fs::PermissionsExt;

use super::refused::{repainted, writing};
use super::{Files, files};
use crate::commands::stderr;
use crate::salon_copy::TODAY;

#[test]
fn a_secret_that_has_gone_is_not_made_anew_unless_every_link_is_moved() {
    let base = repainted();
    let (before, commands) = (files(&base), writing(&base));
    for way in ["restore", "relink", "private gone"] {
        let salon = base.again();
        let secret = salon.read("private/link-secret");
        fs::remove_file(salon.path("private/link-secret")).expect("removed");
        if way == "private gone" {
            fs::remove_dir_all(salon.path("private")).expect("removed");
        }
        // What a client answered is kept whatever has gone: see below.
        let refused = |words: &&Vec<String>| words[1] != "--all" && !words.iter().any(|word| word == "--answer");
        for words in commands.iter().filter(|words| refused(words) && way != "private gone") {
            let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
            let output = salon.afterhue(&arguments).output().expect("it runs");
            let about = format!("{arguments:?}: {}", stderr(&output));
            assert_eq!(output.status.code(), Some(3), "{about}");
            assert!(about.contains("it has gone") && about.contains("Put back your backup"), "{about}");
            let mut wanted = before.clone();
            wanted.remove("private/link-secret");
            assert!(files(&salon) == wanted, "{about}");
        }
        if way == "restore" {
            salon.write("private/link-secret", &secret);
            fs::set_permissions(salon.path("private/link-secret"), fs::Permissions::from_mode(0o600)).expect("ours");
            salon.afterhue(&["pages", "--today", TODAY]).assert().success();
            let pages =
                |files: &Files| files.keys().filter(|name| name.ends_with(".html")).cloned().collect::<Vec<_>>();
            assert_eq!(pages(&files(&salon)), pages(&before), "every printed code leads to its page");
            continue;
        }
        let refused = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
        assert_eq!(refused.status.code(), Some(3), "{way}: {}", stderr(&refused));
        // Settings at fault: nothing can be moved, so no secret is made.
        let settings = salon.read("salon.toml");
        salon.write("salon.toml", &(settings.clone() + "weather = 1\n[["));
        let refused = salon.afterhue(&["relink", "--all", "--today", TODAY]).output().expect("it runs");
        assert_eq!(refused.status.code(), Some(3), "{way}: {}", stderr(&refused));
        salon.write("salon.toml", &settings);
        let output = salon.afterhue(&["relink", "--all", "--today", TODAY]).output().expect("it runs");
        let said = stderr(&output);
        assert_eq!(output.status.code(), Some(0), "{way}: {said}");
        assert!(said.contains("a new one was made") && said.contains("/c/ at a cache"), "{said}");
        assert_ne!(salon.read("private/link-secret"), secret);
        let pages = |files: &Files| -> Vec<String> {
            files.keys().filter(|name| name.starts_with("public/c/") && name.ends_with(".html")).cloned().collect()
        };
        let now = pages(&files(&salon));
        assert_eq!(now.len(), pages(&before).len(), "{way}: nothing is left under an old link");
        assert!(pages(&before).iter().all(|name| !now.contains(name)), "{way}");
        salon.afterhue(&["pages", "--today", TODAY]).assert().success();
    }
}

#[test]
fn an_answer_to_a_check_in_is_kept_all_the_same() {
    let base = repainted();
    let commands = writing(&base);
    let answer = commands.iter().find(|words| words.iter().any(|word| word == "--answer")).expect("among them");
    let salon = base.again();
    fs::remove_file(salon.path("private/link-secret")).expect("removed");
    salon.afterhue(&answer.iter().map(String::as_str).collect::<Vec<_>>()).assert().success();
    assert!(!salon.path("private/link-secret").exists(), "and none is made anew");
    let (before, after) = (files(&base), files(&salon));
    let changed: Vec<&String> = after.keys().filter(|name| before.get(*name) != after.get(*name)).collect();
    assert!(matches!(&changed[..], [file] if file.starts_with("clients/")), "{changed:?}");
}
