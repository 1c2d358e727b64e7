//! Whole runs, each in a process of its own, alternating with the least they could cost.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use afterhue::{pipeline, site, workspace};
use rayon::prelude::*;

/// How this program is told to make one run and report it.
pub(crate) const CHILD: &str = "--one-run";

/// Medians over all rounds, seconds.
pub(crate) struct Builds {
    pub(crate) full: f64,
    pub(crate) plain: f64,
    pub(crate) no_change: f64,
    pub(crate) one_change: f64,
    pub(crate) compare: f64,
    /// The mean size of a client's page.
    pub(crate) bytes_a_page: f64,
    /// The most memory a full build had at a time.
    pub(crate) peak_megabytes: f64,
}

/// Makes the pages of a salon as `afterhue pages --quiet --threads 2` does; tells the seconds and the peak memory in kB.
pub(crate) fn child(folder: &Path) -> String {
    let began = Instant::now();
    let two = rayon::ThreadPoolBuilder::new().num_threads(2).build().expect("two threads");
    two.install(|| {
        let _lock = workspace::lock_to_list(folder, || {}).expect("nobody else is here");
        let known = workspace::Known::open(folder, workspace::CLOCK_STEP);
        let program = known.program();
        let (listed, ()) = rayon::join(|| workspace::list_folder(folder, known.clock()), || known.look_through());
        let listed = listed.expect("a salon folder").expect("no odd entries");
        let text_of = |name: &str| workspace::read_listed(folder, name);
        let (survey, found) = pipeline::Survey::of(&listed, &known, &text_of).expect("a sound salon");
        let secret = workspace::secret(folder).expect("a secret");
        let writer = site::Writer::open(folder, program).expect("begun");
        let today = "2026-11-25".parse().expect("a day");
        let sweep = |out: &site::Queue<'_, _>| pipeline::sweep(&survey, &secret, today, out, &text_of).expect("built");
        let (swept, ()) = rayon::join(|| site::queued(&writer, 2, sweep), || known.keep(folder, found));
        let swept = swept.expect("written").expect("no fault");
        writer.finish(&swept.told.kept).expect("ended");
    });
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or("0 kB");
    format!("{} {}", began.elapsed().as_secs_f64(), peak.trim().trim_end_matches(" kB"))
}

/// Runs this program as a process of its own, and gives the numbers it prints.
pub(crate) fn ask(words: &[&str], folder: &Path) -> Vec<f64> {
    let this = std::env::current_exe().expect("this program");
    let output = Command::new(this).args(words).arg(folder).output().expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let said = String::from_utf8(output.stdout).expect("text");
    said.split_whitespace().map(|number| number.parse().expect("a number")).collect()
}

/// A run in a process of its own: seconds, and megabytes at the most.
fn run(folder: &Path) -> (f64, f64) {
    let numbers = ask(&[CHILD], folder);
    (numbers[0], numbers[1] / 1024.0)
}

/// Measures the salon in a folder.
pub(crate) fn measure(folder: &Path, rounds: usize) -> Builds {
    let inputs = [files(&folder.join("clients")), files(&folder.join("records"))].concat();
    let known: Vec<Vec<u8>> = inputs.iter().map(|path| fs::read(path).expect("an input")).collect();
    let record = inputs.iter().find(|path| path.starts_with(folder.join("records"))).expect("a record").clone();
    let text = fs::read_to_string(&record).expect("text");
    let mut times: [Vec<f64>; 5] = Default::default();
    let (mut peak, mut bytes_a_page) = (0.0_f64, 0.0);
    for round in 0..rounds {
        for made in ["public", "private"] {
            let _ = fs::remove_dir_all(folder.join(made));
        }
        let (full, megabytes) = run(folder);
        peak = peak.max(megabytes);
        let pages = files(&folder.join("public"));
        bytes_a_page = mean_size(&pages);
        let plain = plain_write(folder, &[pages, written_in_private(folder)].concat());
        let no_change = run(folder).0;
        let compare = compare(&inputs, &known);
        let washes = text.replace("washes_per_week = ", &format!("washes_per_week = {}", round % 2 + 1));
        let changed = if washes == text { format!("{text}\n# round {round}\n") } else { washes };
        fs::write(&record, changed).expect("written");
        let one_change = run(folder).0;
        fs::write(&record, &text).expect("written");
        for (list, time) in times.iter_mut().zip([full, plain, no_change, one_change, compare]) {
            list.push(time);
        }
    }
    let [full, plain, no_change, one_change, compare] = times.map(median);
    Builds { full, plain, no_change, one_change, compare, bytes_a_page, peak_megabytes: peak }
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Every file below a folder, sorted.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

fn mean_size(files: &[PathBuf]) -> f64 {
    let pages = files.iter().filter(|path| path.extension().is_some_and(|kind| kind == "html"));
    let sizes: Vec<u64> = pages.map(|path| fs::metadata(path).expect("there").len()).collect();
    sizes.iter().sum::<u64>() as f64 / sizes.len() as f64
}

/// What a build writes beside the pages: all that is private but the secret, which it reads, and the empty lock.
fn written_in_private(folder: &Path) -> Vec<PathBuf> {
    let own = |path: &PathBuf| !["link-secret", "lock"].iter().any(|name| path.ends_with(name));
    files(&folder.join("private")).into_iter().filter(own).collect()
}

/// The copy is taken away whenever it has grown to this many bytes, so that a large salon needs no second disk.
const LARGEST_COPY: u64 = 1 << 30;

/// Seconds for writing the same bytes to the same names in a fresh folder, on two threads. Reading them first is not counted,
/// and neither is taking the copy away.
fn plain_write(folder: &Path, pages: &[PathBuf]) -> f64 {
    let fresh = folder.with_extension("plain");
    let _ = fs::remove_dir_all(&fresh);
    let two = rayon::ThreadPoolBuilder::new().num_threads(2).build().expect("two threads");
    let (mut seconds, mut there) = (0.0, 0);
    for some in pages.chunks(4000) {
        if there > LARGEST_COPY {
            fs::remove_dir_all(&fresh).expect("removed");
            there = 0;
        }
        let bytes: Vec<(PathBuf, Vec<u8>)> = some
            .iter()
            .map(|path| (fresh.join(path.strip_prefix(folder).expect("inside")), fs::read(path).expect("a page")))
            .collect();
        there += bytes.iter().map(|(_, bytes)| bytes.len() as u64).sum::<u64>();
        let began = Instant::now();
        let mut made = "".as_ref();
        for parent in bytes.iter().filter_map(|(path, _)| path.parent()) {
            if parent != made {
                fs::create_dir_all(parent).expect("a folder");
                made = parent;
            }
        }
        two.install(|| bytes.par_iter().for_each(|(path, bytes)| fs::write(path, bytes).expect("written")));
        seconds += began.elapsed().as_secs_f64();
    }
    fs::remove_dir_all(&fresh).expect("removed");
    seconds
}

/// Seconds for reading every input and comparing it with what is known, on two threads.
fn compare(inputs: &[PathBuf], known: &[Vec<u8>]) -> f64 {
    let two = rayon::ThreadPoolBuilder::new().num_threads(2).build().expect("two threads");
    let began = Instant::now();
    let same = two.install(|| {
        inputs.par_iter().zip(known).filter(|(path, known)| fs::read(path).expect("an input") == **known).count()
    });
    assert_eq!(same, inputs.len());
    began.elapsed().as_secs_f64()
}
