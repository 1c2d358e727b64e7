//! The transport: uploads, so many at once, then removals; what is done is written down as it goes.

use std::cell::Cell;
use std::fs;

use futures_util::StreamExt;

use super::kept::{Kept, Put};
use super::open::Store;
use super::plan::Plan;
use super::preflight::{Ready, content_type, digest};
use super::{Order, Refusal, Step};

/// Uploads and removes, and keeps the list of what is there.
pub(super) struct Sender<'a, 'b> {
    pub(super) order: &'a Order<'a>,
    pub(super) store: &'a Store,
    pub(super) kept: &'a mut Kept,
    pub(super) told: &'b mut dyn FnMut(Step),
}

/// How often the list is written while files go up: at least every so many files, so that a kill repeats few of them.
const WRITTEN_DOWN_EVERY: usize = 200;

/// A large site's list is large as well: it is written down at most so many times in a run.
const WRITTEN_DOWN_AT_MOST: usize = 50;

impl Sender<'_, '_> {
    /// Uploads what a plan says. Every name is in the list before its file is there, so that a kill leaves nothing unlisted.
    ///
    /// # Errors
    /// At the first refusal: what was under way is still finished and written down, and nothing more is begun.
    pub(super) async fn upload(&mut self, ready: &Ready, plan: &Plan) -> Result<(), Refusal> {
        plan.vanished.iter().for_each(|name| drop(self.kept.files.remove(name)));
        for name in &plan.upload {
            self.kept.files.insert(name.clone(), Put { sha256: ready.files[name].clone(), e_tag: None });
        }
        for name in &plan.remove {
            // Taken over: from here on it is ours to remove.
            let unknown = Put { sha256: String::new(), e_tag: None };
            self.kept.files.entry(name.clone()).or_insert(unknown);
        }
        self.kept.cache.clone_from(&ready.cache);
        self.kept.store()?;
        let stopped = Cell::new(false);
        let (order, store, cache, every) =
            (self.order, self.store, ready.cache.as_str(), written_down(plan.upload.len()));
        let uploads = plan.upload.iter().map(|name| {
            let (stopped, sha256) = (&stopped, ready.files[name].as_str());
            async move {
                if stopped.get() {
                    return Ok(None);
                }
                let done = put(order, store, name, sha256, cache).await;
                done.inspect_err(|_| stopped.set(true)).map(|e_tag| Some((name, e_tag)))
            }
        });
        let mut running = futures_util::stream::iter(uploads).buffer_unordered(order.at_once.max(1));
        let (mut done, mut refused) = (0, None);
        while let Some(one) = running.next().await {
            match one {
                Ok(Some((name, e_tag))) => {
                    done += 1;
                    self.kept.files.entry(name.clone()).and_modify(|put| put.e_tag = Some(e_tag));
                    (self.told)(Step::Uploaded(done, plan.upload.len()));
                    if done.is_multiple_of(every) {
                        self.kept.store()?;
                    }
                }
                Ok(None) => {}
                Err(refusal) => refused = refused.or(Some(refusal)),
            }
        }
        self.kept.store()?;
        refused.map_or(Ok(()), Err)
    }

    /// Removes what a plan says, after every upload ended well. A page that came back in the meantime stays.
    ///
    /// # Errors
    /// At the first refusal.
    pub(super) async fn remove(&mut self, plan: &Plan) -> Result<(), Refusal> {
        let public = self.order.folder.join("public");
        let gone: Vec<String> = plan.remove.iter().filter(|name| !public.join(name).exists()).cloned().collect();
        if gone.is_empty() {
            return Ok(());
        }
        let mut removed = 0;
        let ended = self
            .store
            .remove(&gone, |count| {
                removed = count;
                (self.told)(Step::Removed(count, gone.len()));
            })
            .await;
        // The store answers in the order it was asked, so that these are the ones.
        gone[..removed].iter().for_each(|name| drop(self.kept.files.remove(name)));
        self.kept.store()?;
        ended.map_err(|error| Refusal::store(&error, self.order.to))
    }
}

/// Every how many files the list is written.
fn written_down(uploads: usize) -> usize {
    WRITTEN_DOWN_EVERY.max(uploads / WRITTEN_DOWN_AT_MOST)
}

/// Uploads one file as it was looked at before; one that is another by now is not sent.
async fn put(order: &Order<'_>, store: &Store, name: &str, sha256: &str, cache: &str) -> Result<String, Refusal> {
    let bytes = fs::read(order.folder.join("public").join(name)).unwrap_or_default();
    if digest(&bytes) != sha256 {
        return Err(Refusal::Machine(format!(
            "public/{name} changed while it was being published\n  help: run the same command again; nothing was removed"
        )));
    }
    store.put(name, bytes, content_type(name), cache).await.map_err(|error| Refusal::store(&error, order.to))
}
