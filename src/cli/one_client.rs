//! What the commands about one client share: the salon as read, and the client in it.

use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

use afterhue::pipeline::{self, Read};
use afterhue::record::History;
use afterhue::rights::House;
use afterhue::salon::Salon;
use afterhue::site::theme::Theme;
use afterhue::workspace::{self, Failure, Secret, Texts};

use super::{End, at_fault, terminal};

/// A salon folder, read.
pub(crate) struct Opened {
    pub(crate) texts: Texts,
    pub(crate) read: Read,
    pub(crate) secret: Secret,
    /// Whether the secret was made just now, in place of one that has gone.
    pub(crate) anew: bool,
}

/// A client with what a page is made from.
pub(crate) struct Found<'a> {
    pub(crate) history: &'a History,
    pub(crate) salon: &'a Salon,
    pub(crate) theme: &'a Theme,
}

/// Reads a salon folder and its secret.
///
/// A folder without salon.toml gets no secret: it is most likely the wrong folder.
pub(crate) fn open(folder: &Path) -> Result<Opened, Failure> {
    open_with(folder, |folder, _| Ok((workspace::secret(folder)?, false)))
}

/// The same for a run that moves every link, and so may go on without the secret of before; not where nothing can be moved.
pub(crate) fn open_to_move_all(folder: &Path) -> Result<Opened, Failure> {
    open_with(folder, |folder, sound| match sound {
        true => workspace::secret_or_anew(folder),
        false => Ok((workspace::secret(folder)?, false)),
    })
}

fn open_with(
    folder: &Path,
    secret: impl Fn(&Path, bool) -> Result<(Secret, bool), Failure>,
) -> Result<Opened, Failure> {
    let texts = workspace::read_folder(folder)?;
    if texts.salon.is_none() {
        let path = folder.join("salon.toml");
        let refused = texts.refused.iter().any(|name| name == "salon.toml");
        let why = match refused {
            true => Error::new(ErrorKind::PermissionDenied, "it may not be read"),
            false => Error::new(ErrorKind::NotFound, "there is no such file"),
        };
        return Err(Failure::io("read", &path, &why));
    }
    let read = pipeline::read(&texts);
    let (secret, anew) = secret(folder, read.house.is_some())?;
    Ok(Opened { texts, read, secret, anew })
}

impl Opened {
    /// The folder as what a client may ask for needs it.
    pub(crate) fn house<'a>(&'a self, folder: &'a Path) -> House<'a> {
        House { folder, texts: &self.texts, read: &self.read, secret: &self.secret }
    }

    /// A client with visits and without a fault, or how the command ends: the reason is then told.
    pub(crate) fn client(&self, code: &str) -> Result<Found<'_>, End> {
        let Some((salon, theme)) = &self.read.house else {
            terminal::tell(&self.read.report, &self.texts.all());
            return Err(at_fault(&self.texts));
        };
        match self.read.histories.iter().find(|history| history.client.code.as_str() == code) {
            Some(history) => Ok(Found { history, salon, theme }),
            None if self.read.at_fault.contains(code) => {
                terminal::tell(&self.read.report, &self.texts.all());
                Err(at_fault(&self.texts))
            }
            None => Err(End::WrongUse(pipeline::no_such_client(&self.read, code))),
        }
    }
}

/// The salon folder and the words behind it: with `wanted` words only, the folder is the current one.
pub(crate) fn folder_first(words: &[String], wanted: usize) -> Option<(PathBuf, &[String])> {
    match words.len().checked_sub(wanted)? {
        0 => Some((PathBuf::from("."), words)),
        1 => Some((PathBuf::from(&words[0]), &words[1..])),
        _ => None,
    }
}
