//! The logs of an audit: one for each archive whose bundles are looked at, or the one that was asked for.

use super::args::Audit;
use super::clock;
use super::show::Screen;
use super::stop::Stop;
use crate::audit::{Age, AuditLog, Instant, LOG_FILE, Outside, Verdict};
use crate::disk::{DiskError, Lock};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

/// The file that every archive has.
const STUDIO: &str = "studio.yaml";

/// The logs, and which bag stands in which.
pub(super) struct Logs {
    now: Instant,
    due: Option<Age>,
    /// The one log that was asked for.
    only: Option<PathBuf>,
    none: bool,
    logs: BTreeMap<PathBuf, AuditLog>,
    bags: BTreeMap<PathBuf, (Option<PathBuf>, Outside)>,
    failed: Vec<DiskError>,
}

impl Logs {
    /// Logs for what is asked.
    pub fn new(asked: &Audit) -> Result<Self, String> {
        let now = match asked.today {
            Some(day) => day,
            None => clock::now().ok_or("the clock of this machine tells no time; give --today")?,
        };
        Ok(Self {
            now,
            due: asked.due,
            only: asked.log.clone(),
            none: asked.no_log,
            logs: BTreeMap::new(),
            bags: BTreeMap::new(),
            failed: Vec::new(),
        })
    }

    /// Where the bags of a path lie: of an archive, on its shelf of bundles.
    pub fn shelf_of(&self, path: &Path) -> PathBuf {
        if path.join(STUDIO).is_file() {
            path.join("finished").join("bundles")
        } else {
            path.to_path_buf()
        }
    }

    /// Enters a bag that was found by way of `path`; false when it is known already.
    pub fn enter(&mut self, bag: &Path, path: &Path) -> bool {
        let same = std::fs::canonicalize(bag).unwrap_or_else(|_| bag.to_path_buf());
        if self.bags.contains_key(&same) {
            return false;
        }
        let log = if self.none {
            None
        } else {
            self.only.clone().or_else(|| own_log(path))
        };
        if let Some(log) = &log
            && !self.logs.contains_key(log)
        {
            match AuditLog::read(log) {
                Ok(read) => {
                    self.logs.insert(log.clone(), read);
                }
                Err(error) => self.failed.push(error),
            }
        }
        let seen = (log, outside(bag));
        self.bags.insert(same, seen.clone());
        self.bags.insert(bag.to_path_buf(), seen);
        true
    }

    /// Tells what is wrong with the logs themselves; true when something is.
    pub fn tell_faults(&self, screen: &Screen) -> bool {
        let mut wrong = false;
        for log in self.logs.values() {
            for (line, why) in &log.faults {
                screen.fail(&format!("{}:{line}: this line {why}", log.path().display()));
                wrong = true;
            }
            if log.is_ahead_of(self.now) {
                let path = log.path().display();
                screen.fail(&format!(
                    "{path}: has lines that are later than now, so a clock is or was wrong; bundles they speak of count as due. Set the clock, or give --today"
                ));
            }
        }
        for error in &self.failed {
            screen.fail(&error.to_string());
            wrong = true;
        }
        wrong
    }

    /// Whether a bag is to be looked into; without --due, each is.
    pub fn is_due(&self, bag: &Path) -> bool {
        let Some(age) = self.due else { return true };
        match self.entered(bag) {
            Some((log, outside)) => log.is_due(bag, outside, age, self.now),
            None => true,
        }
    }

    /// When a bag was last seen whole.
    pub fn last_seen_whole(&self, bag: &Path) -> Option<Instant> {
        self.entered(bag)?.0.last_seen_whole(bag)
    }

    fn entered(&self, bag: &Path) -> Option<(&AuditLog, Outside)> {
        let (log, outside) = self.bags.get(bag)?;
        Some((self.logs.get(log.as_ref()?)?, *outside))
    }

    /// Enters what was seen; false when that failed.
    pub fn append(&self, screen: &Screen, verdicts: &[Verdict], stop: &Stop) -> bool {
        let mut done = self.failed.is_empty();
        for path in self.logs.keys() {
            let seen: Vec<(&Verdict, Outside)> = verdicts
                .iter()
                .filter_map(|verdict| {
                    let (of, outside) = self.bags.get(&verdict.path)?;
                    (of.as_ref() == Some(path)).then_some((verdict, *outside))
                })
                .collect();
            if seen.is_empty() {
                continue;
            }
            let folder = match path.parent() {
                Some(folder) if !folder.as_os_str().is_empty() => folder,
                _ => Path::new("."),
            };
            let mut waiting = || screen.tell("waiting for another run in this archive");
            let written = Lock::take(folder, &mut waiting, &|| stop.asked()).and_then(|lock| {
                // Another run may have added lines since; the chain goes on from its last one.
                let mut fresh = AuditLog::read(path)?;
                fresh.append(&lock, self.now, &seen)
            });
            if let Err(error) = written {
                screen.fail(&error.to_string());
                done = false;
            }
        }
        done
    }
}

/// The log of the archive that a path is, or whose shelf or bundle it is.
fn own_log(path: &Path) -> Option<PathBuf> {
    if path.join(STUDIO).is_file() {
        return Some(path.join("finished").join(LOG_FILE));
    }
    let shelf = if path.is_dir() { path } else { path.parent()? };
    let finished = (shelf.file_name()? == "bundles").then(|| shelf.parent())??;
    let known = finished.join(LOG_FILE).is_file()
        || (finished.file_name()? == "finished" && finished.parent()?.join(STUDIO).is_file());
    known.then(|| finished.join(LOG_FILE))
}

fn outside(bag: &Path) -> Outside {
    let metadata = std::fs::metadata(bag).ok().filter(|m| m.is_file());
    let written = metadata
        .as_ref()
        .and_then(|m| m.modified().ok())
        .and_then(|at| at.duration_since(UNIX_EPOCH).ok())
        .and_then(|since| i64::try_from(since.as_nanos()).ok());
    Outside {
        octets: metadata.map_or(0, |m| m.len()),
        written: written.unwrap_or(0),
    }
}
