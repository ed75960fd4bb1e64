//! What the manifests claim of each member, and the one reading that shows whether it is true.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::Watch;
use super::damage::{Damage, alone};
use super::elsewhere::Wanted;
use super::octets::Trouble;
use super::rules::Case;
use super::verdict::{Fault, Kind};
use crate::bag::{Algorithm, Hashes, PAYLOAD, manifest_kind};

/// Octets from which a member's checksums are computed side by side: enough smaller ones keep every processor
/// busy by themselves.
const LARGE: u64 = 64 * 1024 * 1024;

/// That a member has a certain checksum.
pub(super) struct Claim {
    pub(super) algorithm: Algorithm,
    /// In lower-case hexadecimal.
    pub(super) checksum: String,
    /// The manifest that says so.
    pub(super) list: String,
}

impl Claim {
    fn wanted(&self) -> Wanted {
        (self.algorithm, self.checksum.clone())
    }
}

/// The claims for each member.
pub(super) struct Claims(Vec<Vec<Claim>>);

/// What one reading of a member brought.
struct Outcome {
    checksums: BTreeMap<Algorithm, String>,
    trouble: Option<Trouble>,
}

impl Claims {
    pub(super) fn new(members: usize) -> Self {
        Self((0..members).map(|_| Vec::new()).collect())
    }

    pub(super) fn add(&mut self, member: usize, claim: Claim) {
        self.0[member].push(claim);
    }

    /// The algorithms that are claimed, by name.
    pub(super) fn algorithms(&self) -> Vec<&'static str> {
        let all: BTreeSet<Algorithm> = self
            .0
            .iter()
            .flatten()
            .map(|claim| claim.algorithm)
            .collect();
        all.into_iter().map(Algorithm::name).collect()
    }

    /// Reads every member once, spread over the processors, and tells of each claim that is not true.
    /// Members without a claim are read too: a zip has a check of its own for them.
    /// `lacking` tells how many octets more Payload-Oxum states than there are, where a single damaged file can
    /// be the reason.
    pub(super) fn check(self, case: &mut Case, watch: Watch<'_>, lacking: Option<i128>) {
        let holder = &case.holder;
        let outcomes: Vec<Option<Outcome>> = self
            .0
            .par_iter()
            .enumerate()
            .map(|(member, claims)| {
                if !holder.members[member].readable || (watch.cancelled)() {
                    return None;
                }
                let wanted = claims.iter().map(|claim| claim.algorithm).collect();
                let mut hashes = Hashes::new(&wanted);
                let mut stopped = false;
                let read = holder.read(member, &mut |octets| {
                    stopped = stopped || (watch.cancelled)();
                    if !stopped {
                        if holder.members[member].size > LARGE {
                            hashes.update_abreast(octets);
                        } else {
                            hashes.update(octets);
                        }
                        (watch.progress)(octets.len() as u64);
                    }
                });
                (!stopped).then(|| Outcome {
                    checksums: hashes.finish(),
                    trouble: read.err(),
                })
            })
            .collect();
        if (watch.cancelled)() {
            let remedy = "Start the audit again when there is time.";
            case.error(
                Kind::Stopped,
                "",
                "the audit was stopped before its end.",
                remedy,
            );
            return;
        }
        let wrong = |(claims, outcome): &(&Vec<Claim>, &Option<Outcome>)| {
            let right = |o: &Outcome, c: &Claim| o.checksums.get(&c.algorithm) == Some(&c.checksum);
            outcome
                .as_ref()
                .is_some_and(|o| claims.iter().any(|claim| !right(o, claim)))
        };
        // One sum can't tell of two files.
        let alone = self.0.iter().zip(&outcomes).filter(wrong).count() == 1;
        let known = Sound {
            size: lacking.filter(|_| alone),
            outcomes: &outcomes,
            claims: &self.0,
        };
        let mut found = Vec::new();
        for (member, (claims, outcome)) in self.0.iter().zip(&outcomes).enumerate() {
            let path = &case.holder.members[member].path;
            // A file that could not be read at all has a fault already.
            if let Some(outcome) = outcome
                && let Some(mut fault) = compare(path, claims, outcome)
            {
                if fault.kind == Kind::Damaged {
                    fault.likely = known.likely(case, member);
                }
                found.push(fault);
            }
        }
        case.faults.append(&mut found);
    }
}

/// What is known of the whole bag when one file of it is found damaged.
struct Sound<'a> {
    /// Octets that Payload-Oxum states more than there are (fewer when negative).
    size: Option<i128>,
    outcomes: &'a [Option<Outcome>],
    claims: &'a [Vec<Claim>],
}

impl Sound<'_> {
    /// What most likely happened to a member.
    fn likely(&self, case: &Case, member: usize) -> Option<Damage> {
        let checksums = &self.outcomes[member].as_ref()?.checksums;
        let holds_other = self.claims.iter().enumerate().find(|(other, claims)| {
            *other != member
                && case.holder.members[*other].size > 0
                && claims
                    .iter()
                    .any(|claim| checksums.get(&claim.algorithm) == Some(&claim.checksum))
        });
        if let Some((other, _)) = holds_other {
            let with = case.holder.members[other].path.clone();
            return Some(Damage::ChangedPlaces { with });
        }
        let claim = self.claims[member].first()?;
        let now = case.holder.members[member].size;
        let size = self
            .size
            .filter(|apart| *apart != 0 && case.holder.members[member].path.starts_with(PAYLOAD))
            .and_then(|apart| u64::try_from(i128::from(now) + apart).ok());
        alone(
            &case.holder,
            member,
            (claim.algorithm, &claim.checksum),
            size,
        )
    }
}

/// At most one fault for one member, however many checksums tell of it.
fn compare(path: &str, claims: &[Claim], outcome: &Outcome) -> Option<Fault> {
    if let Some(Trouble::Machine(why)) = &outcome.trouble {
        let remedy = "Check the disk and the permissions, and audit again.";
        let message = format!("can't be read: {why}.");
        let mut fault = Fault::error(Kind::Unreadable, path, message, remedy);
        fault.wanted = claims.iter().map(Claim::wanted).collect();
        return Some(fault);
    }
    let (right, wrong): (Vec<&Claim>, Vec<&Claim>) = claims
        .iter()
        .partition(|claim| outcome.checksums.get(&claim.algorithm) == Some(&claim.checksum));
    let names = |claims: &[&Claim], what: fn(&Claim) -> String| {
        let unique: BTreeSet<String> = claims.iter().map(|claim| what(claim)).collect();
        unique.into_iter().collect::<Vec<_>>().join(" and ")
    };
    let algorithm = |claim: &Claim| claim.algorithm.to_string();
    let list = |claim: &Claim| claim.list.clone();
    if wrong.is_empty() {
        let Some(Trouble::Data(why)) = &outcome.trouble else {
            return None;
        };
        let remedy = if right.is_empty() {
            "Take it from another copy of the bag."
        } else {
            "Its octets are what the manifests say, but the zip is damaged: take another copy."
        };
        return Some(Fault::error(Kind::ZipData, path, format!("{why}."), remedy));
    }
    let seen = names(&wrong, algorithm);
    if right.is_empty() || outcome.trouble.is_some() {
        let also = match &outcome.trouble {
            Some(Trouble::Data(why)) => format!(" In the zip it {why}."),
            _ => String::new(),
        };
        let what = match manifest_kind(path) {
            Some(_) => "this list of checksums has been changed or damaged",
            None => "it has been changed or damaged",
        };
        let differ = if seen.contains(" and ") {
            "differ"
        } else {
            "differs"
        };
        let message =
            format!("is not what it was when the bag was made: {seen} {differ}, {what}.{also}");
        let remedy = "Take this file from another copy of the bag, and do not rely on this one.";
        let mut fault = Fault::error(Kind::Damaged, path, message, remedy);
        fault.wanted = wrong.iter().map(|claim| claim.wanted()).collect();
        return Some(fault);
    }
    let message = format!(
        "agrees with {} but not with {seen}: most likely {} is damaged, and not the file.",
        names(&right, algorithm),
        names(&wrong, list)
    );
    let remedy = "Compare both with another copy of the bag.";
    Some(Fault::error(Kind::Damaged, path, message, remedy))
}
