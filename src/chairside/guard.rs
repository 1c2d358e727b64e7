//! Who may ask: the name the server is called by, where a change comes from, who is signed in, and how often a passcode may be wrong.
//!
//! In: headers as text. Out: yes or no. Knows nothing of: HTTP's own types, pages.
//!
//! Nothing of a session is stored: a cookie carries its own proof, so a server that was killed knows its tablets again.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use data_encoding::HEXLOWER;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;

use crate::workspace::{self, Failure, Secret};

/// The cookie's name.
const COOKIE: &str = "afterhue";

/// A tablet is known for one long working day.
const KNOWN_FOR: Duration = Duration::from_hours(14);

/// The hash of the passcode, in `private/`.
const PASSCODE_FILE: &str = "chairside-passcode";

/// Wrong passcodes from one address before it has to wait.
const FREE_TRIES: u32 = 5;
/// The first wait; each further wrong one doubles it.
const FIRST_WAIT: Duration = Duration::from_secs(30);
const LONGEST_WAIT: Duration = Duration::from_mins(15);
/// Wrong passcodes from all addresses together before everybody has to wait.
const FREE_TRIES_OF_ALL: u32 = 60;

/// Decides who may ask.
pub(super) struct Guard {
    key: Vec<u8>,
    /// Names and ports this server is called by: "127.0.0.1:8181".
    names: Vec<String>,
    /// The hash of the passcode; nothing on this machine only.
    passcode: Option<String>,
    wrong: Mutex<BTreeMap<Whose, (u32, Instant)>>,
    trying: Mutex<()>,
}

/// Whose wrong passcodes are counted together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Whose {
    /// Those of one address, or of all that have none.
    Address(Option<IpAddr>),
    /// All.
    Everybody,
}

/// A tablet that is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Session {
    /// What every change must carry.
    pub(super) csrf: String,
}

/// The answer to a passcode.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Tried {
    /// Right: the cookie to set.
    Right(String),
    /// Wrong.
    Wrong,
    /// Not looked at: so many seconds to wait first.
    Wait(u64),
}

impl Guard {
    /// A guard for the names a server is called by.
    pub(super) fn new(secret: &Secret, names: Vec<String>, passcode: Option<String>) -> Self {
        let key = mac(secret.bytes(), &["chairside", passcode.as_deref().unwrap_or_default()]);
        Self { key, names, passcode, wrong: Mutex::default(), trying: Mutex::new(()) }
    }

    /// Whether a passcode is asked for.
    pub(super) const fn asks_passcode(&self) -> bool {
        self.passcode.is_some()
    }

    /// Whether a Host header (RFC 9110 §7.2) names this server: a page elsewhere could otherwise read it through a name of its own that leads here.
    pub(super) fn is_called(&self, host: &str) -> bool {
        self.names.iter().any(|name| name.eq_ignore_ascii_case(host))
    }

    /// Whether a change comes from a page of this server, as far as the browser tells.
    pub(super) fn comes_from_here(&self, host: &str, origin: Option<&str>, site: Option<&str>) -> bool {
        let own = |origin: &str| origin.strip_prefix("http://").is_some_and(|name| name.eq_ignore_ascii_case(host));
        origin.is_none_or(own) && site.is_none_or(|site| site == "same-origin" || site == "none")
    }

    /// The session of a Cookie header.
    pub(super) fn session(&self, cookies: &str) -> Option<Session> {
        let values = cookies.split(';').filter_map(|one| one.trim().strip_prefix(COOKIE)?.strip_prefix('='));
        values.into_iter().find_map(|value| {
            let (token, proof) = value.rsplit_once('.')?;
            let until: u64 = token.split_once('.')?.1.parse().ok()?;
            let sound = Mac::verify_slice(self.proof(&["session", token]), &HEXLOWER.decode(proof.as_bytes()).ok()?);
            (sound.is_ok() && until > seconds()).then(|| Session { csrf: self.csrf(token) })
        })
    }

    /// A cookie for a tablet that is known from now on, and its session.
    pub(super) fn new_session(&self) -> Result<(String, Session), Failure> {
        let until = seconds() + KNOWN_FOR.as_secs();
        let token = format!("{}.{until}", workspace::random_mark(16)?);
        let proof = HEXLOWER.encode(&self.proof(&["session", &token]).finalize().into_bytes());
        let life = KNOWN_FOR.as_secs();
        let cookie = format!("{COOKIE}={token}.{proof}; Path=/; HttpOnly; SameSite=Strict; Max-Age={life}");
        Ok((cookie, Session { csrf: self.csrf(&token) }))
    }

    fn csrf(&self, token: &str) -> String {
        HEXLOWER.encode(&self.proof(&["change", token]).finalize().into_bytes())
    }

    /// Whether a change carries the token of its session; compared in a time that tells nothing.
    pub(super) fn may_change(&self, session: &Session, token: &str) -> bool {
        mac(&self.key, &["compare", token]) == mac(&self.key, &["compare", &session.csrf])
    }

    fn proof(&self, parts: &[&str]) -> Hmac<Sha256> {
        keyed(&self.key, parts)
    }

    /// Tries a passcode that came from an address.
    ///
    /// # Errors
    /// When the system gives no randomness.
    pub(super) fn try_passcode(&self, from: Option<IpAddr>, passcode: &str) -> Result<Tried, Failure> {
        // One at a time: each costs memory and time on purpose.
        let _one = self.trying.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(left) = self.wait(Whose::Address(from)).or_else(|| self.wait(Whose::Everybody)) {
            return Ok(Tried::Wait(left.as_secs() + 1));
        }
        let right = self.passcode.as_deref().is_some_and(|hash| {
            PasswordHash::new(hash)
                .is_ok_and(|hash| argon2::Argon2::default().verify_password(tidy(passcode).as_bytes(), &hash).is_ok())
        });
        let mut wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        if right {
            wrong.remove(&Whose::Address(from));
            drop(wrong);
            return Ok(Tried::Right(self.new_session()?.0));
        }
        let now = Instant::now();
        wrong.retain(|_, (_, when)| now.duration_since(*when) < LONGEST_WAIT * 2);
        for whose in [Whose::Address(from), Whose::Everybody] {
            let told = wrong.entry(whose).or_insert((0, now));
            *told = (told.0 + 1, now);
        }
        drop(wrong);
        Ok(Tried::Wrong)
    }

    /// How long an address, or everybody, has to wait yet.
    fn wait(&self, whose: Whose) -> Option<Duration> {
        let wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        let (count, when) = *wrong.get(&whose)?;
        let over = count.checked_sub(if whose == Whose::Everybody { FREE_TRIES_OF_ALL } else { FREE_TRIES })?;
        let wait = FIRST_WAIT.saturating_mul(1 << over.min(6)).min(LONGEST_WAIT);
        wait.checked_sub(when.elapsed())
    }
}

/// A passcode as it is compared: without the blanks people type between its groups.
fn tidy(passcode: &str) -> String {
    passcode.chars().filter(|c| !c.is_whitespace() && *c != '-').collect()
}

fn keyed(key: &[u8], parts: &[&str]) -> Hmac<Sha256> {
    let mut mac = <Hmac<Sha256> as KeyInit>::new_from_slice(key).expect("HMAC takes a key of any length (RFC 2104)");
    for part in parts {
        mac.update(&(part.len() as u64).to_be_bytes());
        mac.update(part.as_bytes());
    }
    mac
}

fn mac(key: &[u8], parts: &[&str]) -> Vec<u8> {
    keyed(key, parts).finalize().into_bytes().to_vec()
}

fn seconds() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// The stored hash of the passcode, and the passcode itself when it was made just now: it is told this once.
///
/// # Errors
/// When it cannot be read or kept.
pub(super) fn passcode(folder: &std::path::Path, anew: bool) -> Result<(String, Option<String>), Failure> {
    if let (false, Some(hash)) = (anew, workspace::kept_private(folder, PASSCODE_FILE)?) {
        return Ok((hash.trim().to_owned(), None));
    }
    // 40 random bits: with at most some hundred tries a day, a guess takes millions of years.
    let mark = workspace::random_mark(5)?;
    let number = u64::from_str_radix(&mark, 16).unwrap_or_default();
    let told = format!("{:04} {:04} {:04}", number / 100_000_000 % 10_000, number / 10_000 % 10_000, number % 10_000);
    let refused = |why: String| Failure {
        doing: "make",
        path: folder.join("private").join(PASSCODE_FILE),
        why,
        hint: "Run the command again.".to_owned(),
    };
    let salt = SaltString::encode_b64(workspace::random_mark(16)?.as_bytes()).map_err(|e| refused(e.to_string()))?;
    let hash = argon2::Argon2::default().hash_password(tidy(&told).as_bytes(), &salt);
    let hash = hash.map_err(|error| refused(error.to_string()))?.to_string();
    workspace::keep_private(folder, PASSCODE_FILE, &format!("{hash}\n"))?;
    Ok((hash, Some(told)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn guard() -> Guard {
        Guard::new(&Secret::from_bytes([7; 32]), vec!["127.0.0.1:80".to_owned()], None)
    }

    #[test]
    fn only_the_servers_own_names_and_origins_are_answered() {
        let guard = guard();
        assert!(guard.is_called("127.0.0.1:80"));
        for bad in ["", "127.0.0.1", "evil.example", "127.0.0.1:80@evil.example", "127.0.0.1:80.evil.example"] {
            assert!(!guard.is_called(bad), "{bad}");
        }
        let from = |origin, site| guard.comes_from_here("127.0.0.1:80", origin, site);
        assert!(from(None, None) && from(Some("http://127.0.0.1:80"), Some("same-origin")));
        for bad in ["null", "https://127.0.0.1:80", "http://evil.example", "http://127.0.0.1:81", ""] {
            assert!(!from(Some(bad), None), "{bad}");
        }
        assert!(!from(None, Some("cross-site")) && !from(None, Some("same-site")));
    }

    #[test]
    fn a_cookie_proves_itself_and_a_changed_one_does_not() {
        let guard = guard();
        let (cookie, session) = guard.new_session().expect("randomness");
        let value = cookie.split(';').next().expect("a value").to_owned();
        assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
        assert_eq!(guard.session(&format!("other=1; {value}")), Some(session.clone()));
        assert!(guard.may_change(&session, &session.csrf) && !guard.may_change(&session, ""));
        let later = value.replacen('.', ".9", 1);
        for bad in ["", "afterhue=", "afterhue=a.b", &later, &value[..value.len() - 2]] {
            assert_eq!(guard.session(bad), None, "{bad}");
        }
        let other = Guard::new(&Secret::from_bytes([7; 32]), Vec::new(), Some("hash".to_owned()));
        assert_eq!(other.session(&value), None, "a new passcode signs everybody out");
    }

    #[test]
    fn wrong_passcodes_have_to_wait_and_the_right_one_is_known() {
        let folder = tempfile::tempdir().expect("a folder");
        let (hash, told) = passcode(folder.path(), false).expect("made");
        let told = told.expect("it is told once");
        assert!(hash.starts_with("$argon2id$") && !hash.contains(&tidy(&told)));
        assert_eq!(passcode(folder.path(), false).expect("kept"), (hash.clone(), None));
        let guard = Guard::new(&Secret::from_bytes([7; 32]), Vec::new(), Some(hash));
        let from = |last: u8| Some(IpAddr::from([192, 168, 0, last]));
        assert!(matches!(guard.try_passcode(from(2), &told), Ok(Tried::Right(_))));
        for _ in 0..FREE_TRIES {
            assert_eq!(guard.try_passcode(from(3), "0000").expect("answered"), Tried::Wrong);
        }
        assert!(matches!(guard.try_passcode(from(3), &told), Ok(Tried::Wait(1..=30))), "even the right one waits");
        assert!(matches!(guard.try_passcode(from(2), &told), Ok(Tried::Right(_))), "another tablet does not");
    }
}
