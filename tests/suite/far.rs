//! The examples of "Ten million pages" in DEVELOPERS.md: the job files are parsed, their script is run, the table is added up.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

fn root(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn read(name: &str) -> String {
    fs::read_to_string(root(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Where both engines find the script.
const SCRIPT: &str = "/salons/far/salons.sh";

#[test]
fn the_kubernetes_job_is_indexed_and_tells_its_script_how_many_jobs_there_are() {
    let job: Value = serde_json::from_str(&read("tests/far/kubernetes.json")).expect("JSON");
    assert_eq!((&job["apiVersion"], &job["kind"]), (&Value::from("batch/v1"), &Value::from("Job")));
    let spec = &job["spec"];
    assert_eq!(spec["completionMode"], "Indexed");
    let (all, at_once) =
        (spec["completions"].as_u64().expect("a number"), spec["parallelism"].as_u64().expect("a number"));
    assert!(at_once <= all);
    // Kubernetes asks for this where retries are counted for each index.
    assert_eq!(spec["template"]["spec"]["restartPolicy"], "Never");
    let container = &spec["template"]["spec"]["containers"][0];
    assert_eq!(container["command"], serde_json::json!(["sh", SCRIPT]));
    let env = container["env"].as_array().expect("a list");
    let told = |name: &str| env.iter().find(|one| one["name"] == name).unwrap_or_else(|| panic!("{name} is not told"));
    assert_eq!(told("JOBS")["value"], all.to_string());
    let mounted = container["volumeMounts"][0]["mountPath"].as_str().expect("a path");
    assert!(told("SALONS")["value"].as_str().expect("a path").starts_with(mounted) && SCRIPT.starts_with(mounted));
    assert_eq!(container["volumeMounts"][0]["name"], spec["template"]["spec"]["volumes"][0]["name"]);
    let text = job.to_string();
    assert!(!text.contains("AWS_SECRET") && text.contains("secretRef"), "a key is no part of a job");
}

#[test]
fn the_slurm_array_is_read_by_its_engine_and_hands_over_to_the_same_script() {
    let text = read("tests/far/slurm.sh");
    let said: BTreeMap<&str, &str> =
        text.lines().filter_map(|line| line.strip_prefix("#SBATCH --")?.split_once('=')).collect();
    let (range, at_once) = said["array"].split_once('%').expect("a limit");
    let (first, last) = range.split_once('-').expect("a range");
    let number = |text: &str| text.parse::<u32>().expect("a number");
    assert_eq!(number(first), 0, "the script counts from 0");
    assert!(number(at_once) <= number(last) + 1 && number(last) <= 1000, "Slurm's own limit is 1,001 unless raised");
    let commands: Vec<&str> = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty()).collect();
    assert_eq!(commands.len(), 2);
    assert!(commands[0].contains("JOBS=\"${SLURM_ARRAY_TASK_COUNT"));
    assert_eq!(commands[1], "exec sh \"${FAR:-/salons/far}/salons.sh\"");
}

/// Three salons and two jobs, as both engines run them, with the program itself.
#[cfg(all(unix, feature = "publish"))]
#[test]
fn each_salon_is_built_and_published_by_exactly_one_job_of_either_engine() {
    use std::process::Command;

    use crate::salon_copy::SalonCopy;

    let (salons, online) =
        ([SalonCopy::new(), SalonCopy::new(), SalonCopy::new()], tempfile::tempdir().expect("a folder"));
    let place = |number: usize| online.path().join(number.to_string());
    let list = online.path().join("list");
    (0..salons.len()).for_each(|number| fs::create_dir(place(number)).expect("made"));
    let line = |number: usize| format!("{} file://{}\n", salons[number].path("").display(), place(number).display());
    fs::write(&list, (0..salons.len()).map(line).collect::<String>()).expect("written");
    let program = Path::new(env!("CARGO_BIN_EXE_afterhue")).parent().expect("a folder").display().to_string();
    let path = format!("{program}:{}", std::env::var("PATH").unwrap_or_default());
    let run = |script: &str, told: &[(&str, &str)]| {
        let mut command = Command::new("bash");
        command.arg(root(script)).env("PATH", &path).env("SALONS", &list).env("FAR", root("tests/far"));
        let output = command.envs(told.iter().copied()).output().expect("it runs");
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let online_now = || (0..salons.len()).filter(|number| place(*number).join("404.html").exists()).collect::<Vec<_>>();
    let (code, said) = run("tests/far/salons.sh", &[("JOBS", "2"), ("JOB_COMPLETION_INDEX", "0")]);
    assert_eq!((code, online_now()), (Some(0), vec![0, 2]), "{said}");
    let (code, said) = run("tests/far/slurm.sh", &[("SLURM_ARRAY_TASK_COUNT", "2"), ("SLURM_ARRAY_TASK_ID", "1")]);
    assert_eq!((code, online_now()), (Some(0), vec![0, 1, 2]), "{said}");
    // One that cannot be published is told by the job's end, and the other of its job is still done.
    fs::remove_dir_all(place(0)).expect("gone");
    fs::remove_file(place(2).join("404.html")).expect("gone");
    let (code, said) = run("tests/far/salons.sh", &[("JOBS", "2"), ("JOB_COMPLETION_INDEX", "0")]);
    assert_eq!((code, online_now()), (Some(1), vec![1, 2]), "{said}");
    let (code, said) = run("tests/far/salons.sh", &[("JOBS", "2")]);
    assert!(code != Some(0) && said.contains("no batch engine told an index"), "{said}");
}

/// The rows of a table of the section: first cell → number of the second.
fn rows(heading: &str) -> BTreeMap<String, f64> {
    let text = read("DEVELOPERS.md");
    let part = text.split("\n## Ten million pages\n").nth(1).expect("the section");
    let part = part.split("\n## ").next().unwrap_or_default();
    let below = part.split(&format!("| {heading} |")).nth(1).unwrap_or_else(|| panic!("{heading}"));
    let lines = below.lines().skip(2).take_while(|line| line.starts_with('|'));
    let row = |line: &str| {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let digits: String = cells[1].chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
        (cells[0].to_owned(), digits.parse().unwrap_or_else(|_| panic!("{line}")))
    };
    lines.map(row).collect()
}

/// The arithmetic of the section, done again from its own inputs: whoever changes a measured number changes what follows from it.
#[test]
fn what_ten_million_pages_cost_follows_from_the_inputs_beside_it() {
    let (given, told) = (rows("input"), rows("what follows"));
    let of = |name: &str| *given.get(name).unwrap_or_else(|| panic!("no input \"{name}\""));
    let pages = of("pages");
    let (page, calendar) = (of("bytes of a page"), of("bytes of a calendar file"));
    let files = 1.0 + of("calendar files a page");
    let bytes = page + of("calendar files a page") * calendar;
    let puts = pages * files;
    let views = pages * of("views of a page a month");
    let month = 30.0 * 86_400.0;
    let expected = [
        ("files in the store", puts),
        ("GB in the store", pages * bytes / 1e9),
        ("hours on one core to build", pages / of("pages a second on one core") / 3600.0),
        ("minutes on 100 cores to build", pages / of("pages a second on one core") / 100.0 / 60.0),
        ("dollars to upload all", puts / 1000.0 * of("dollars for 1,000 PUT or LIST")),
        ("LIST requests of a run that changes nothing", puts / 1000.0),
        ("dollars of a run that changes nothing", puts / 1e6 * of("dollars for 1,000 PUT or LIST")),
        ("dollars a month to store", pages * bytes / 1e9 * of("dollars a GB and month")),
        ("views a second, mean", views / month),
        ("dollars a month of GET, no cache hit", views / 1000.0 * of("dollars for 1,000 GET")),
        ("GB a month to browsers, compressed", views * of("bytes of a page, gzip") / 1e9),
        ("minutes to upload at the limit of one prefix", puts / of("PUT a second, one prefix") / 60.0),
    ];
    assert_eq!(told.len(), expected.len());
    for (name, value) in expected {
        let said = *told.get(name).unwrap_or_else(|| panic!("\"{name}\" does not follow"));
        assert!((said - value).abs() <= 0.006 * value, "{name}: {said} is told, {value:.2} follows");
    }
}
