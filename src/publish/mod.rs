//! The edge out to an object store: what is in `public/` and changed goes up, what is gone comes down.
//!
//! In: a salon folder whose pages are written, an address, texts that must never be public. Out: files in a store, and a
//! private list of what lies there. Knows nothing of: salons, records, pages; it sees names and bytes.
//!
//! ```text
//! public/ ─► preflight ─► Files ─┐
//! private/published/ ─► Kept ────┼─► Plan ─► send: uploads, then removals
//! the store's own list ──────────┘
//! ```
//!
//! Built with the cargo feature `publish` only. The only module that knows `object_store`.

mod address;
mod kept;
mod markers;
mod open;
mod plan;
mod preflight;
mod refusal;
#[cfg(test)]
mod rounds;
mod send;

pub use address::Address;
pub use markers::Marker;
pub use refusal::Refusal;

use std::path::Path;
use std::time::SystemTime;

use kept::Kept;
use plan::Plan;
use preflight::Ready;
use send::Sender;

/// What is to be published, and how.
#[derive(Debug)]
pub struct Order<'a> {
    /// The salon folder.
    pub folder: &'a Path,
    /// Where to.
    pub to: &'a Address,
    /// The address under which the pages are read, as in the salon's settings.
    pub base_address: &'a str,
    /// Texts that must not stand in anything public.
    pub markers: &'a [Marker],
    /// When the newest of the salon's own files was changed.
    pub inputs_changed: Option<SystemTime>,
    /// Say what would be done, and do nothing.
    pub dry_run: bool,
    /// Replace what lies under a name of ours and is not known to be ours, and remove pages of unknown clients.
    pub take_over: bool,
    /// How many files go up at the same time.
    pub at_once: usize,
}

/// What there is to say while it runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// A file of the salon is newer than every page.
    Stale,
    /// The list of an earlier run is damaged; it lies here now.
    KeptDamaged(String),
    /// So many of so many files are up.
    Uploaded(usize, usize),
    /// So many of so many files are removed.
    Removed(usize, usize),
}

/// What was done, or with a dry run what would be.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Published {
    /// Names that went up, in order.
    pub uploaded: Vec<String>,
    /// How many were already right.
    pub unchanged: usize,
    /// Names that were removed, in order.
    pub removed: Vec<String>,
    /// Names that somebody else had changed or removed in the store; they are replaced or removed like any other.
    pub edited: Vec<String>,
    /// Names in the store that look like clients' pages and are not known here. They stay unless they are taken over.
    pub left_over: Vec<String>,
    /// Whether there are lines in `_headers`: an object store does not read them.
    pub headers_left: bool,
}

/// Publishes: looks at everything first, then uploads, then removes.
///
/// # Errors
/// When something may not leave the salon, when the address or key is wrong, when the store or the machine refuses.
/// Nothing is removed then, and what went up is remembered: run it again.
pub fn publish(order: &Order<'_>, told: &mut dyn FnMut(Step)) -> Result<Published, Refusal> {
    let ready = preflight::preflight(order)?;
    let store = open::open(order.to)?;
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build();
    let runtime = runtime.map_err(|error| Refusal::machine("start the network", &error))?;
    runtime.block_on(publish_to(&store, &ready, order, told))
}

/// The same, to a store that is open, with what was looked at.
async fn publish_to(
    store: &open::Store,
    ready: &Ready,
    order: &Order<'_>,
    told: &mut dyn FnMut(Step),
) -> Result<Published, Refusal> {
    if ready.newest < order.inputs_changed {
        told(Step::Stale);
    }
    let (mut kept, damaged) = Kept::open(order.folder, order.to, order.dry_run)?;
    damaged.into_iter().for_each(|name| told(Step::KeptDamaged(name)));
    let there = store.list().await.map_err(|error| Refusal::store(&error, order.to))?;
    let plan = Plan::make(&ready.files, &kept, &there, &ready.cache, order.take_over)?;
    if !order.dry_run {
        let mut sender = Sender { order, store, kept: &mut kept, told };
        sender.upload(ready, &plan).await?;
        sender.remove(&plan).await?;
    }
    Ok(Published {
        uploaded: plan.upload,
        unchanged: plan.unchanged,
        removed: plan.remove,
        edited: plan.edited,
        left_over: plan.left_over,
        headers_left: ready.headers_left,
    })
}
