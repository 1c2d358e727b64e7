//! What has to go up and what has to go, from three lists: what is in `public/`, what was put there, what is there.

use std::collections::{BTreeMap, BTreeSet};

use super::Refusal;
use super::kept::{Kept, Put};

/// What is to be done. Every list is in the order of names.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Plan {
    /// What goes up.
    pub(super) upload: Vec<String>,
    /// How many files are already right.
    pub(super) unchanged: usize,
    /// What is removed, after the last upload.
    pub(super) remove: Vec<String>,
    /// Of ours, what somebody else changed or removed there.
    pub(super) edited: Vec<String>,
    /// What looks like a client's page there and is not known here.
    pub(super) left_over: Vec<String>,
    /// Ours that is gone on both sides, and is forgotten.
    pub(super) vanished: Vec<String>,
}

impl Plan {
    /// Compares the three lists.
    ///
    /// The salon folder is right: a page that somebody else changed there is put back as it should be, and told.
    /// What nobody here has put there stays as it is, unless it is to be taken over.
    ///
    /// # Errors
    /// When a file of somebody else lies under a name of ours.
    pub(super) fn make(
        files: &BTreeMap<String, String>,
        kept: &Kept,
        there: &BTreeMap<String, Option<String>>,
        cache: &str,
        take_over: bool,
    ) -> Result<Self, Refusal> {
        let (mut plan, mut foreign) = (Self::default(), BTreeSet::new());
        for (name, sha256) in files {
            let (ours, lies) = (kept.files.get(name), there.get(name));
            let ended = ours.is_some_and(|put| put.e_tag.is_some());
            let as_left = ours.zip(lies).is_some_and(|(put, lies)| same(put, lies.as_ref()));
            if ended && !as_left {
                plan.edited.push(name.clone());
            }
            if ours.is_none() && lies.is_some() && !take_over {
                foreign.insert(name.as_str());
            }
            if ended && as_left && kept.cache == cache && ours.is_some_and(|put| put.sha256 == *sha256) {
                plan.unchanged += 1;
            } else {
                plan.upload.push(name.clone());
            }
        }
        if !foreign.is_empty() {
            return Err(in_the_way(&foreign));
        }
        for (name, put) in kept.files.iter().filter(|(name, _)| !files.contains_key(*name)) {
            match there.get(name) {
                Some(lies) => {
                    if put.e_tag.is_some() && !same(put, lies.as_ref()) {
                        plan.edited.push(name.clone());
                    }
                    plan.remove.push(name.clone());
                }
                None => plan.vanished.push(name.clone()),
            }
        }
        let unknown = there.keys().filter(|name| !files.contains_key(*name) && !kept.files.contains_key(*name));
        let left_over: Vec<String> = unknown.filter(|name| is_a_clients(name)).cloned().collect();
        if take_over {
            plan.remove.extend(left_over);
            plan.remove.sort();
        } else {
            plan.left_over = left_over;
        }
        plan.edited.sort();
        Ok(plan)
    }
}

/// Whether a file there is the one that was put there. Where one of the two has no mark nobody can tell, and it is taken to be.
fn same(put: &Put, lies: Option<&String>) -> bool {
    let known = put.e_tag.as_ref().filter(|mark| !mark.is_empty());
    known.zip(lies).is_none_or(|(known, lies)| known == lies)
}

/// What to say when files of somebody else are in the way.
fn in_the_way(foreign: &BTreeSet<&str>) -> Refusal {
    let first = foreign.first().copied().unwrap_or_default();
    Refusal::Machine(format!(
        "{} there already under names of this site, and not put there from this folder, such as {first}; nothing was changed\n  \
         help: if another site lies there, publish to a folder of your own: s3://BUCKET/care\n  \
         help: if these are this salon's own pages, put there from another copy of the folder, say --take-over",
        if foreign.len() == 1 { "1 file is".to_owned() } else { format!("{} files are", foreign.len()) },
    ))
}

/// Whether a name has the shape of a client's file: `c/`, two letters, 24 letters and digits of base32, an ending.
fn is_a_clients(name: &str) -> bool {
    let base32 = |text: &str| text.bytes().all(|c| c.is_ascii_lowercase() || (b'2'..=b'7').contains(&c));
    let parts: Vec<&str> = name.split('/').collect();
    let [top, first, last] = parts.as_slice() else { return false };
    let Some((stem, ending)) = last.split_at_checked(24) else { return false };
    *top == "c"
        && first.len() == 2
        && base32(first)
        && base32(stem)
        && [".html", ".ics", "-washing.ics"].contains(&ending)
}

#[cfg(test)]
mod tests {
    use super::*;

    const CACHE: &str = "private";

    fn list(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
        pairs.iter().map(|(name, what)| ((*name).to_owned(), (*what).to_owned())).collect()
    }

    /// Name and mark; a store may list none.
    fn marks(pairs: &[(&str, &str)]) -> BTreeMap<String, Option<String>> {
        let mark = |mark: &str| (!mark.is_empty()).then(|| mark.to_owned());
        pairs.iter().map(|(name, e_tag)| ((*name).to_owned(), mark(e_tag))).collect()
    }

    /// Name, SHA-256, and the mark; an empty mark is an upload that was not seen to end.
    fn kept(files: &[(&str, &str, &str)]) -> Kept {
        let put = |sha: &str, e_tag: &str| Put {
            sha256: sha.to_owned(),
            e_tag: (!e_tag.is_empty()).then(|| e_tag.to_owned()),
        };
        Kept::of(files.iter().map(|(name, sha, e_tag)| ((*name).to_owned(), put(sha, e_tag))).collect(), CACHE)
    }

    fn make(files: &[(&str, &str)], ours: &[(&str, &str, &str)], there: &[(&str, &str)]) -> Plan {
        Plan::make(&list(files), &kept(ours), &marks(there), CACHE, false).expect("nothing is in the way")
    }

    #[test]
    fn only_what_is_new_or_changed_goes_up_and_only_what_was_ours_is_removed() {
        let files = [("new", "1"), ("same", "1"), ("changed", "2")];
        let ours = [("same", "1", "a"), ("changed", "1", "b"), ("gone", "1", "c"), ("lost", "1", "d")];
        let there = [("same", "a"), ("changed", "b"), ("gone", "c"), ("of the salon's other site", "e")];
        let plan = make(&files, &ours, &there);
        assert_eq!(plan.upload, ["changed", "new"]);
        assert_eq!((plan.unchanged, plan.remove, plan.vanished), (1, vec!["gone".to_owned()], vec!["lost".to_owned()]));
        assert!(plan.edited.is_empty() && plan.left_over.is_empty());
    }

    #[test]
    fn what_somebody_else_changed_or_removed_there_is_told_and_put_right() {
        let ours = [("edited", "1", "a"), ("removed", "1", "b"), ("gone", "1", "c")];
        let plan = make(&[("edited", "1"), ("removed", "1")], &ours, &[("edited", "x"), ("gone", "y")]);
        assert_eq!(plan.upload, ["edited", "removed"]);
        assert_eq!(plan.remove, ["gone"]);
        assert_eq!(plan.edited, ["edited", "gone", "removed"]);
    }

    #[test]
    fn an_upload_that_was_not_seen_to_end_is_done_again_and_is_no_file_of_somebody_else() {
        let plan =
            make(&[("begun", "1"), ("unbegun", "1")], &[("begun", "1", ""), ("unbegun", "1", "")], &[("begun", "a")]);
        assert_eq!(plan.upload, ["begun", "unbegun"]);
        assert!(plan.edited.is_empty());
    }

    #[test]
    fn where_a_store_lists_no_marks_what_was_put_there_is_taken_to_be_there_still() {
        let ours = [("same", "1", "a"), ("changed", "1", "b"), ("gone", "1", "c")];
        let plan = make(&[("same", "1"), ("changed", "2")], &ours, &[("same", ""), ("changed", ""), ("gone", "")]);
        assert_eq!((plan.upload, plan.unchanged), (vec!["changed".to_owned()], 1));
        assert_eq!((plan.remove, plan.edited), (vec!["gone".to_owned()], Vec::new()));
    }

    #[test]
    fn other_headers_put_everything_up_again() {
        let files = list(&[("same", "1")]);
        let plan = Plan::make(&files, &kept(&[("same", "1", "a")]), &marks(&[("same", "a")]), "no-store", false);
        assert_eq!(plan.expect("a plan").upload, ["same"]);
    }

    #[test]
    fn a_file_of_somebody_else_under_our_name_stops_it_until_it_is_taken_over() {
        let (files, there) = (list(&[("404.html", "1")]), marks(&[("404.html", "a"), ("menu.html", "b")]));
        let refused = Plan::make(&files, &kept(&[]), &there, CACHE, false).expect_err("in the way").to_string();
        assert!(refused.contains("404.html") && refused.contains("--take-over"), "{refused}");
        let plan = Plan::make(&files, &kept(&[]), &there, CACHE, true).expect("taken over");
        assert_eq!((plan.upload, plan.remove), (vec!["404.html".to_owned()], Vec::new()));
    }

    #[test]
    fn pages_of_clients_unknown_here_are_told_and_removed_only_when_taken_over() {
        let page = "c/ab/abcdefghijklmnopqrstuvwx.html";
        let there = marks(&[(page, "a"), ("c/ab/readme.html", "b"), ("x/ab/abcdefghijklmnopqrstuvwx.html", "c")]);
        let plan = |take| Plan::make(&BTreeMap::new(), &kept(&[]), &there, CACHE, take).expect("a plan");
        assert_eq!((plan(false).left_over, plan(false).remove), (vec![page.to_owned()], Vec::new()));
        assert_eq!((plan(true).left_over, plan(true).remove), (Vec::new(), vec![page.to_owned()]));
    }
}
