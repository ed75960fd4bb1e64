//! `offloom key`: makes, takes, shows and closes the key that the studio seals its bundles with.

use super::Exit;
use super::args::Key;
use super::passphrase;
use super::show::{Screen, safe};
use crate::disk::{self, DiskError};
use crate::finish::Sealing;
use crate::read::Archive;
use crate::seal::{Moment, PublicKey, SealError, SealKey, Signer, Signers};
use serde_json::json;
use std::path::{Path, PathBuf};

/// Octets that a key or the list of signers may have.
const LARGEST: u64 = 1024 * 1024;

/// Where the studio's keys lie in its archive.
struct Drawer {
    folder: PathBuf,
}

impl Drawer {
    fn of(archive: &Path) -> Drawer {
        Drawer {
            folder: archive.join("seal"),
        }
    }

    fn key(&self) -> PathBuf {
        self.folder.join("key")
    }

    fn list(&self) -> PathBuf {
        self.folder.join("allowed_signers")
    }

    /// The list of signers; empty where there is none yet.
    fn signers(&self) -> Result<Signers, String> {
        read_signers(&self.list()).map(Option::unwrap_or_default)
    }

    fn keep(&self, signers: &Signers) -> Result<(), DiskError> {
        disk::make_folder(&self.folder)?;
        if let Some(current) = signers.current() {
            let line = format!("{}\n", current.key.line());
            disk::write_whole(&self.folder.join("key.pub"), line.as_bytes())?;
        }
        disk::write_whole(&self.list(), signers.to_text().as_bytes())?;
        Ok(())
    }
}

/// A list of signers; nothing where there is no such file.
pub(super) fn read_signers(path: &Path) -> Result<Option<Signers>, String> {
    let text = match disk::read_text_limited(path, LARGEST) {
        Ok(text) => text,
        Err(DiskError::Missing { .. }) => return Ok(None),
        Err(error) => return Err(error.to_string()),
    };
    let (signers, faults) = Signers::parse(&text);
    match faults.first() {
        Some(fault) => Err(format!("{}:{}: {}", path.display(), fault.line, fault.why)),
        None => Ok(Some(signers)),
    }
}

/// The fingerprint of the key whose time has no end; nothing where the studio has none.
pub(super) fn present(archive: &Path) -> Result<Option<String>, String> {
    let signers = Drawer::of(archive).signers()?;
    Ok(signers.current().map(|s| s.key.fingerprint()))
}

/// Opens the studio's key for sealing; nothing where it has none.
pub(super) fn open(
    archive: &Path,
    named: Option<&Path>,
    words: Option<&Path>,
) -> Result<Option<Sealing>, String> {
    let drawer = Drawer::of(archive);
    let signers = drawer.signers()?;
    let path = named.map_or_else(|| drawer.key(), Path::to_path_buf);
    let Some(current) = signers.current() else {
        return match named {
            Some(_) => Err(format!(
                "the archive knows no key yet; enter it first: offloom key {} --take {} --since DAY",
                archive.display(),
                path.display()
            )),
            None => Ok(None),
        };
    };
    let text = match disk::read_private_limited(&path, LARGEST) {
        Err(DiskError::Missing { .. }) if named.is_none() => {
            return Err(format!(
                "{}: the key is not there. Name it with `--key FILE`; go without a seal with `--no-seal`; or, if it \
                 is lost, close it: offloom key {} --close DAY",
                path.display(),
                archive.display()
            ));
        }
        text => text.map_err(|e| e.to_string())?,
    };
    let told = |e: SealError| format!("{}: {e}", path.display());
    let key = match SealKey::from_openssh(&text, None) {
        Err(SealError::Locked) => {
            let given = passphrase::given(words, &format!("passphrase for {}", path.display()))?;
            SealKey::from_openssh(&text, given.as_deref()).map_err(told)?
        }
        other => other.map_err(told)?,
    };
    if !current.key.is(&key.public()) {
        return Err(format!(
            "{}: this is the key {}, but the list of signers has {} as the present one",
            path.display(),
            key.public().fingerprint(),
            current.key.fingerprint()
        ));
    }
    Ok(Some(Sealing { key, signers }))
}

pub(super) fn run(screen: &Screen, asked: &Key) -> Exit {
    match act(screen, asked) {
        Ok(()) => Exit::Done,
        Err(why) => {
            screen.refuse(&why);
            Exit::Failed
        }
    }
}

fn act(screen: &Screen, asked: &Key) -> Result<(), String> {
    let drawer = Drawer::of(&asked.archive);
    let archive = Archive::read(&asked.archive).map_err(|e| e.to_string())?;
    let studio = archive.studio.as_ref();
    let studio = studio.ok_or("studio.yaml can not be read; mend it first: offloom check")?;
    let mut signers = drawer.signers()?;
    if let Some(day) = &asked.close {
        let until = moment(day)?;
        let closed = signers
            .current()
            .ok_or("there is no key whose time could end")?;
        screen.tell(&format!(
            "the time of {} ends on {until}",
            closed.key.fingerprint()
        ));
        signers.close(until);
        drawer.keep(&signers).map_err(|e| e.to_string())?;
        return put_away(&drawer, until);
    }
    if !asked.make && asked.take.is_none() {
        show(screen, &signers);
        return Ok(());
    }
    let since = asked
        .since
        .as_deref()
        .ok_or("say from which day the key is used: `--since 2026-07-01`")?;
    let since = moment(since)?;
    if let Some(former) = signers.current() {
        if former.after.is_some_and(|after| after >= since) {
            return Err(format!(
                "the present key is used from {} on; a new one begins later",
                former.after.map_or_else(String::new, |m| m.to_string())
            ));
        }
        signers.close(since);
    }
    let public = match &asked.take {
        Some(path) => public_half(path)?,
        None => {
            let words = if asked.no_passphrase {
                None
            } else {
                passphrase::new(asked.passphrase_file.as_deref())?
            };
            if words.is_none() && !asked.no_passphrase {
                return Err("a key wants a passphrase: give `--passphrase-file FILE`, or say `--no-passphrase`".to_string());
            }
            let key = SealKey::make(&studio.studio.value).map_err(|e| e.to_string())?;
            let text = key
                .to_openssh(words.as_deref())
                .map_err(|e| e.to_string())?;
            disk::make_folder(&drawer.folder).map_err(|e| e.to_string())?;
            put_away(&drawer, since)?;
            disk::write_private_new(&drawer.key(), text.as_bytes()).map_err(|e| e.to_string())?;
            key.public()
        }
    };
    let principal = principal(
        studio.contact.as_ref().map(|c| c.value.as_str()),
        &studio.studio.value,
    );
    signers
        .0
        .push(Signer::of_studio(principal, public.clone(), since));
    drawer.keep(&signers).map_err(|e| e.to_string())?;
    if screen.json {
        screen
            .document(&json!({ "fingerprint": public.fingerprint(), "since": since.to_string() }));
    }
    screen.tell(&format!(
        "the studio's key is {}, from {since} on",
        public.fingerprint()
    ));
    if asked.make {
        screen.tell(&format!(
            "{} is secret: keep a copy where no copy of the archive lies, and the passphrase elsewhere",
            safe(&drawer.key().display().to_string())
        ));
    }
    Ok(())
}

/// Gives a former key's file another name; it is never thrown away.
fn put_away(drawer: &Drawer, until: Moment) -> Result<(), String> {
    if !drawer.key().exists() {
        return Ok(());
    }
    let aside = disk::set_aside(&drawer.key(), &format!("key.until-{until}"));
    aside.map(drop).map_err(|e| e.to_string())
}

/// The public half of a key's file, be it the public or the private one.
fn public_half(path: &Path) -> Result<PublicKey, String> {
    let text = disk::read_text_limited(path, LARGEST).map_err(|e| e.to_string())?;
    let key = PublicKey::from_line(&text).or_else(|_| PublicKey::of_private(&text));
    key.map_err(|e| format!("{}: {e}", path.display()))
}

/// The name a signer has in the list: the contact where it has no blanks, else the studio's name with
/// hyphens.
fn principal(contact: Option<&str>, studio: &str) -> String {
    let plain = |text: &str| {
        !text.is_empty()
            && text
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || "@._-+".contains(c))
    };
    match contact.map(str::trim) {
        Some(contact) if plain(contact) => contact.to_string(),
        _ => {
            let words = studio
                .split(|c: char| !c.is_alphanumeric())
                .filter(|w| !w.is_empty());
            words.collect::<Vec<_>>().join("-").to_lowercase()
        }
    }
}

fn moment(day: &str) -> Result<Moment, String> {
    Moment::of_day(day).ok_or_else(|| format!("`{day}` is no day; write it as 2026-07-01"))
}

fn show(screen: &Screen, signers: &Signers) {
    let all: Vec<_> = signers.0.iter().filter(|s| s.seals_bundles()).collect();
    let day = |m: Option<Moment>| m.map(|m| m.to_string());
    if screen.json {
        let keys: Vec<_> = all
            .iter()
            .map(|s| json!({ "fingerprint": s.key.fingerprint(), "principals": s.principals, "since": day(s.after), "until": day(s.before) }))
            .collect();
        return screen.document(&json!({ "keys": keys }));
    }
    if all.is_empty() {
        screen.say("no key yet: bundles are made without a seal. `offloom key ARCHIVE --make --since DAY` makes one");
    }
    for s in all {
        let until = s
            .before
            .map_or("present key".to_string(), |m| format!("until {m}"));
        let since = day(s.after).map_or(String::new(), |m| format!("from {m}, "));
        screen.say(&format!(
            "{}  {since}{until}  {}",
            s.key.fingerprint(),
            safe(&s.principals.join(","))
        ));
    }
}
