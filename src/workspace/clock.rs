//! Today's date, and whether the clock can be believed.

use std::fs;
use std::path::Path;
use std::time::{Duration, SystemTime};

use chrono::{DateTime, NaiveDate, Utc};

use super::Failure;

/// Today's date on this machine's clock and in a time zone.
#[must_use]
pub fn today(zone: chrono_tz::Tz) -> NaiveDate {
    Utc::now().with_timezone(&zone).date_naive()
}

/// A file of an earlier run may be this much later than the clock: time zones and clocks put right by minutes are no fault.
const ALLOWED: Duration = Duration::from_hours(24);

/// Tells when a file of an earlier run was written after what the clock says is now: then expired pages would come back.
///
/// # Errors
/// When the clock was set back by more than a day.
pub fn clock_set_back(written: &Path) -> Result<(), Failure> {
    let Ok(then) = fs::metadata(written).and_then(|metadata| metadata.modified()) else { return Ok(()) };
    let now = SystemTime::now();
    if then <= now + ALLOWED {
        return Ok(());
    }
    let day = |time: SystemTime| DateTime::<Utc>::from(time).date_naive();
    Err(Failure {
        doing: "trust",
        path: "this machine's clock".into(),
        why: format!("it says {}, but pages were written here on {}", day(now), day(then)),
        hint: "Set the clock right, or name the day: afterhue pages --today YYYY-MM-DD".to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_set_back_is_told_and_one_that_is_right_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("list");
        assert!(clock_set_back(&path).is_ok(), "nothing was ever written");
        let file = fs::File::create(&path).expect("made");
        assert!(clock_set_back(&path).is_ok());
        file.set_modified(SystemTime::now() + Duration::from_hours(24 * 400)).expect("a later time");
        let told = clock_set_back(&path).expect_err("the clock is behind").to_string();
        assert!(told.contains("--today") && told.contains("could not trust this machine's clock"), "{told}");
    }
}
