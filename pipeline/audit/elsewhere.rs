//! Which other copy among the bags that were looked at still holds the good octets of a damaged file.
//!
//! A file is known by its checksum, not by its name: the good octets may lie under another name, in another
//! revision, or in the owner's edition.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::damage::{Damage, beside};
use super::holder::Holder;
use super::open;
use super::verdict::{Fault, Rank, Verdict};
use crate::bag::{Algorithm, lines, manifest_kind, parse_manifest_line};

/// Octets a manifest may have to be looked through.
const LARGEST: u64 = 256 * 1024 * 1024;
/// As many copies are named; one would do.
const MOST: usize = 3;

/// A good copy of a file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Elsewhere {
    /// The bag it is in.
    pub bag: PathBuf,
    /// Its path in that bag.
    pub file: String,
}

/// A checksum a file should have.
pub(super) type Wanted = (Algorithm, String);

/// Looks for good copies of whatever is damaged or missing, and compares with them.
pub(super) fn look(verdicts: &mut [Verdict]) {
    let mut places: BTreeMap<Wanted, Vec<Elsewhere>> = verdicts
        .iter()
        .flat_map(|verdict| &verdict.faults)
        .flat_map(|fault| &fault.wanted)
        .map(|wanted| (wanted.clone(), Vec::new()))
        .collect();
    if places.is_empty() {
        return;
    }
    for verdict in verdicts.iter() {
        if let Ok(holder) = open(&verdict.path) {
            let sound = |file: &str| {
                let wrong = |fault: &Fault| fault.rank == Rank::Error && fault.file == file;
                !verdict.faults.iter().any(wrong)
            };
            gather(&verdict.path, &holder, &sound, &mut places);
        }
    }
    for verdict in verdicts.iter_mut() {
        let mut own: Option<Holder> = None;
        for fault in &mut verdict.faults {
            let found = fault
                .wanted
                .iter()
                .find_map(|wanted| places.get(wanted).filter(|places| !places.is_empty()));
            let Some(found) = found else { continue };
            fault.elsewhere.clone_from(found);
            if own.is_none() {
                own = open(&verdict.path).ok();
            }
            if let Some(seen) = own.as_ref().and_then(|own| compare(own, fault)) {
                fault.likely = Some(seen);
            }
        }
    }
}

/// Adds the sound files of one bag that are wanted.
pub(super) fn gather(
    bag: &Path,
    holder: &Holder,
    sound: &dyn Fn(&str) -> bool,
    places: &mut BTreeMap<Wanted, Vec<Elsewhere>>,
) {
    for (at, member) in holder.members.iter().enumerate() {
        let Some(kind) = manifest_kind(&member.path) else {
            continue;
        };
        let Some(algorithm) = kind.algorithm() else {
            continue;
        };
        let Some(octets) = holder.read_small(at, LARGEST) else {
            continue;
        };
        for (_, line) in lines(&String::from_utf8_lossy(&octets)) {
            let Ok(read) = parse_manifest_line(line, Some(algorithm.hex_digits())) else {
                continue;
            };
            let Some(list) = places.get_mut(&(algorithm, read.checksum.to_lowercase())) else {
                continue;
            };
            let good = holder.find(&read.path).is_some() && sound(&read.path);
            let here = Elsewhere {
                bag: bag.to_path_buf(),
                file: read.path,
            };
            if good && list.len() < MOST && !list.contains(&here) {
                list.push(here);
            }
        }
    }
}

/// What a comparison with the good copy tells; what was proved before stays.
fn compare(own: &Holder, fault: &Fault) -> Option<Damage> {
    if matches!(
        fault.likely,
        Some(Damage::TurnedBit { .. } | Damage::ChangedPlaces { .. } | Damage::Rewritten)
    ) {
        return None;
    }
    let mut damaged = own.stream(own.find(&fault.file)?).ok()?;
    let good = fault.elsewhere.first()?;
    let holder = open(&good.bag).ok()?;
    let mut good = holder.stream(holder.find(&good.file)?).ok()?;
    beside(&mut damaged, &mut good).ok().flatten()
}
