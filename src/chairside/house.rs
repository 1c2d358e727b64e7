//! The salon as the tablets see it: read once, read again when a file changed, its pages written again after a visit.
//!
//! In: the salon folder. Out: [`Opened`], every client with visits. Knows nothing of: HTTP.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use rayon::{ThreadPool, ThreadPoolBuilder};

use crate::pipeline::{self, Read, Stopped};
use crate::record::{self, ClientFile, History, ServiceRecord};
use crate::salon::Salon;
use crate::schedule::diary::Busy;
use crate::site;
use crate::site::theme::Theme;
use crate::workspace::{self, Failure, Secret, Stamp, Texts};

use super::busy::{busy_of, calendar};

/// How long a look at the files is believed.
const BELIEVED: Duration = Duration::from_secs(1);

/// A salon folder that tablets work on.
pub(super) struct House {
    /// The salon folder.
    pub(super) folder: PathBuf,
    /// The calendars whose times are kept free.
    calendars: Vec<String>,
    /// The day taken as today, when one was named.
    day: Option<NaiveDate>,
    now: Mutex<Now>,
    /// Reads and writes the whole salon, on all cores but one: that one answers the tablets meanwhile.
    workers: ThreadPool,
    asked: AtomicU64,
    done: Mutex<u64>,
}

struct Now {
    opened: Arc<Opened>,
    looked: Instant,
    stamp: Stamp,
}

/// A salon folder, read.
pub(super) struct Opened {
    pub(super) texts: Texts,
    pub(super) read: Read,
    pub(super) secret: Secret,
    /// When nobody can work, by other calendars; or why nobody knows.
    pub(super) busy: Result<Busy, String>,
    /// Every client whose file is sound, with or without visits, by code.
    pub(super) clients: BTreeMap<String, Known>,
}

/// A client with the visits that could be read, oldest first.
pub(super) struct Known {
    pub(super) client: ClientFile,
    pub(super) visits: Vec<ServiceRecord>,
}

impl Opened {
    /// The salon and its theme; nothing when its own files are at fault.
    pub(super) fn house(&self) -> Option<(&Salon, &Theme)> {
        self.read.house.as_ref().map(|(salon, theme)| (salon, theme))
    }
}

/// A lock that a panic elsewhere does not spoil: what it guards is replaced whole.
fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

impl House {
    /// Opens a salon folder.
    ///
    /// # Errors
    /// When the machine refuses.
    pub(super) fn open(folder: PathBuf, calendars: Vec<String>, day: Option<NaiveDate>) -> Result<Self, Failure> {
        let stamp = stamp(&folder, &calendars);
        let opened = Arc::new(read(&folder, &calendars, day)?);
        if let Err(why) = &opened.busy {
            return Err(Failure {
                doing: "read",
                path: PathBuf::from(calendars.join(", ")),
                why: why.clone(),
                hint: "Name calendars as --busy FILE or --busy STYLIST=FILE.".to_owned(),
            });
        }
        let now = Mutex::new(Now { opened, looked: Instant::now(), stamp });
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        let workers =
            ThreadPoolBuilder::new().num_threads(cores.saturating_sub(1).max(1)).build().map_err(|error| Failure {
                doing: "start threads for",
                path: folder.clone(),
                why: error.to_string(),
                hint: "Stop other programs on this machine and try again.".to_owned(),
            })?;
        Ok(Self { folder, calendars, day, now, workers, asked: AtomicU64::new(0), done: Mutex::new(0) })
    }

    /// The salon as its files are now.
    pub(super) fn opened(&self) -> Result<Arc<Opened>, Failure> {
        {
            let mut now = held(&self.now);
            if now.looked.elapsed() <= BELIEVED {
                return Ok(Arc::clone(&now.opened));
            }
            // Whoever asks while this look lasts gets what is believed.
            now.looked = Instant::now();
        }
        self.looked_at()
    }

    /// The salon as its files are at this moment: read again only when one of them changed.
    pub(super) fn looked_at(&self) -> Result<Arc<Opened>, Failure> {
        let stamp = stamp(&self.folder, &self.calendars);
        if stamp == held(&self.now).stamp { Ok(self.believed()) } else { self.again() }
    }

    /// The salon as it was last read: a preview never waits for the files of all others.
    pub(super) fn believed(&self) -> Arc<Opened> {
        Arc::clone(&held(&self.now).opened)
    }

    /// The salon read again, whatever was believed.
    pub(super) fn again(&self) -> Result<Arc<Opened>, Failure> {
        let stamp = stamp(&self.folder, &self.calendars);
        let opened = Arc::new(self.workers.install(|| read(&self.folder, &self.calendars, self.day))?);
        *held(&self.now) = Now { opened: Arc::clone(&opened), looked: Instant::now(), stamp };
        Ok(opened)
    }

    /// Today in the salon.
    pub(super) fn today(&self, opened: &Opened) -> NaiveDate {
        let zone = opened.house().map_or(workspace::UTC, |(salon, _)| salon.time_zone);
        self.day.unwrap_or_else(|| workspace::today(zone))
    }

    /// Writes every page that changed. Whoever asks while it is being done shares the next run.
    ///
    /// # Errors
    /// What stood in the way, in words.
    pub(super) fn rebuild(&self) -> Result<Arc<Opened>, String> {
        let mine = self.asked.fetch_add(1, Ordering::SeqCst) + 1;
        let mut done = held(&self.done);
        if *done >= mine {
            return self.opened().map_err(|failure| failure.to_string());
        }
        let covers = self.asked.load(Ordering::SeqCst);
        let opened = self.write().map_err(|failure| failure.to_string())?;
        *done = covers;
        Ok(opened)
    }

    fn write(&self) -> Result<Arc<Opened>, Failure> {
        let _lock = workspace::lock(&self.folder, || {})?;
        let opened = self.again()?;
        let Some((salon, theme)) = opened.house() else { return Ok(opened) };
        let refused = |why: String| Failure {
            doing: "write",
            path: self.folder.join("public"),
            why,
            hint: "Run `afterhue check` to see what has to be put right.".to_owned(),
        };
        let fail = |failure: site::WriteFailure| Failure::io("write", &failure.path, &failure.error);
        let writer = site::Writer::open(&self.folder, workspace::program()).map_err(fail)?;
        let today = self.today(&opened);
        let built =
            self.workers.install(|| pipeline::build_each(&opened.read, salon, theme, &opened.secret, today, &writer));
        let built = built.map_err(|stopped| match stopped {
            Stopped::Theme(fault) => refused(fault.message),
            Stopped::Out(failure) => fail(failure),
        })?;
        writer.finish(&built.kept).map_err(fail)?;
        // A salon that never runs `pages` keeps no card past its day either; one without a day is told by `pages`.
        workspace::drop_cards_due(&self.folder, today)?;
        Ok(opened)
    }
}

/// The stamp of the folder, and of the calendars beside it.
fn stamp(folder: &std::path::Path, calendars: &[String]) -> Stamp {
    let mut stamp = workspace::stamp(folder);
    stamp.extend(calendars.iter().filter_map(|named| workspace::stamp_of(calendar(named).1)));
    stamp
}

fn read(folder: &std::path::Path, calendars: &[String], day: Option<NaiveDate>) -> Result<Opened, Failure> {
    let texts = workspace::read_folder(folder)?;
    let read = pipeline::read(&texts);
    let secret = workspace::secret(folder)?;
    let of = |history: &History| Known { client: history.client.clone(), visits: history.visits.clone() };
    let mut clients: BTreeMap<String, Known> =
        read.histories.iter().map(|history| (history.client.code.to_string(), of(history))).collect();
    // Those without a history are read here: nobody was here yet, or a file of theirs is at fault.
    let known: BTreeSet<&str> = read.histories.iter().map(|history| history.client.file.as_str()).collect();
    let others = texts.clients.iter().filter(|source| !known.contains(source.name.as_str()));
    for client in others.filter_map(|source| record::read_client(source).value) {
        clients.entry(client.code.to_string()).or_insert(Known { client, visits: Vec::new() });
    }
    let busy = match (&read.house, &read.diary) {
        (Some((salon, _)), Some(diary)) => {
            let today = day.unwrap_or_else(|| workspace::today(salon.time_zone));
            busy_of(calendars, (salon, diary), &secret, today)
        }
        _ => Ok(Busy::default()),
    };
    Ok(Opened { texts, read, secret, busy, clients })
}
