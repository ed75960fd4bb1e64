//! What the lists of a bag say: payload manifests, tag manifests and `fetch.txt`, compared with the
//! members that are there (RFC 8493 sections 2.1.3, 2.2.1, 2.2.3 and 3).

use std::collections::{BTreeMap, BTreeSet};

use super::claims::{Claim, Claims};
use super::elsewhere::Wanted;
use super::fetch::{Holes, fetched};
use super::rules::Case;
use super::verdict::Kind;
use crate::bag::{
    Algorithm, LineFault, ManifestKind, ManifestLine, PAYLOAD, check_path, composed, folded, lines,
    manifest_kind, parse_manifest_line,
};

pub(super) const ANOTHER_COPY: &str = "Take it from another copy of the bag.";

/// Reads every list, tells what is missing, extra or wrong, and gathers what is to be checked.
pub(super) fn read_lists(case: &mut Case, claims: &mut Claims) {
    let lists: Vec<(usize, ManifestKind)> = (0..case.holder.members.len())
        .filter_map(|member| Some((member, manifest_kind(&case.holder.members[member].path)?)))
        .collect();
    let composed_names = Names::new(case);
    let holes = fetched(case);
    let mut reading = Reading {
        case,
        claims,
        names: composed_names,
        holes,
        missing: BTreeMap::new(),
    };
    let mut payload = Vec::new();
    let mut tags = Vec::new();
    for (member, kind) in lists {
        if !reading.is_algorithm(member, &kind) {
            continue;
        }
        let listed = reading.list(member, &kind);
        match kind {
            ManifestKind::Payload(_) => payload.push((member, listed)),
            ManifestKind::Tag(_) => tags.push((member, listed)),
        }
    }
    reading.tell_missing();
    reading.unlisted(&payload);
    let manifests: Vec<usize> = payload.iter().map(|(member, _)| *member).collect();
    for (member, listed) in &tags {
        reading.tag_manifest(*member, listed, &manifests);
    }
    reading.holes_listed(&payload);
    if payload.is_empty() {
        let remedy = "Without a list of checksums nothing can be verified. Take another copy.";
        reading.case.error(
            Kind::NoManifest,
            "manifest-sha256.txt",
            "is missing, and so is every other payload manifest.",
            remedy,
        );
    }
    if !case.holder.has_payload_folder {
        case.error(
            Kind::PayloadFolder,
            "data",
            "the payload folder is missing.",
            ANOTHER_COPY,
        );
    }
    if tags.is_empty() && !payload.is_empty() {
        let remedy = "A change to them would not be noticed.";
        case.warning(
            Kind::TagManifest,
            "tagmanifest-sha256.txt",
            "is missing: no checksum covers the tag files.",
            remedy,
        );
    }
}

/// Members by the composed and by the folded form of their paths.
pub(super) struct Names {
    composed: BTreeMap<String, usize>,
    pub(super) folded: BTreeMap<String, usize>,
}

impl Names {
    fn new(case: &Case) -> Self {
        let members = case.holder.members.iter().enumerate();
        let composed = members
            .clone()
            .map(|(at, member)| (composed(&member.path), at))
            .collect();
        let folded = members
            .map(|(at, member)| (folded(&member.path), at))
            .collect();
        Self { composed, folded }
    }
}

/// The lists of one bag being read.
pub(super) struct Reading<'a> {
    pub(super) case: &'a mut Case,
    claims: &'a mut Claims,
    pub(super) names: Names,
    pub(super) holes: Holes,
    /// Paths that are listed and not there, and the lists that name them with the checksums.
    pub(super) missing: BTreeMap<String, Vec<(String, Option<Wanted>)>>,
}

impl Reading<'_> {
    pub(super) fn path(&self, member: usize) -> String {
        self.case.holder.members[member].path.clone()
    }

    /// Whether the list's name holds an algorithm's name; tells when it can't be checked.
    fn is_algorithm(&mut self, member: usize, kind: &ManifestKind) -> bool {
        let (file, name) = (self.path(member), kind.algorithm_name());
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
        if name.is_empty() || !name.chars().all(plain) {
            let message = "has a name whose algorithm is not in small letters and digits.";
            let remedy = "Write it like manifest-sha256.txt.";
            self.case.error(Kind::Line, &file, message, remedy);
            return false;
        }
        match kind.algorithm() {
            None => {
                let message = format!("uses the checksum `{name}`, which is not known here.");
                let remedy = "The files it lists have been looked for, but not checked against it.";
                self.case.error(Kind::Algorithm, &file, message, remedy);
            }
            Some(algorithm) if algorithm.is_broken() => {
                let message = format!("uses {algorithm}, which shows decay but no forgery.");
                let remedy = "Fine for an old bag; new ones use SHA-256 and SHA-512.";
                self.case.warning(Kind::Algorithm, &file, message, remedy);
            }
            Some(_) => {}
        }
        true
    }

    /// Reads one manifest and gives the members it lists.
    fn list(&mut self, member: usize, kind: &ManifestKind) -> BTreeSet<usize> {
        let file = self.path(member);
        let algorithm = kind.algorithm();
        let mut listed = BTreeSet::new();
        let mut paths: BTreeMap<String, String> = BTreeMap::new();
        let mut habits: BTreeMap<&'static str, (usize, usize)> = BTreeMap::new();
        let Some((text, whole)) = self.case.tag_text(member) else {
            return listed;
        };
        for (number, line) in lines(&text) {
            if !whole && line.contains('\u{fffd}') {
                let message = "is not UTF-8 text in this line.";
                self.case
                    .error(Kind::Line, &file, message, ANOTHER_COPY)
                    .line = Some(number);
                continue;
            }
            let read = match parse_manifest_line(line, algorithm.map(Algorithm::hex_digits)) {
                Ok(read) => read,
                Err(LineFault::Empty) => {
                    let first = habits.entry("an empty line").or_insert((number, 0));
                    first.1 += 1;
                    continue;
                }
                Err(fault) => {
                    self.case
                        .error(Kind::Line, &file, format!("{fault}."), ANOTHER_COPY)
                        .line = Some(number);
                    continue;
                }
            };
            for habit in &read.habits {
                habits.entry(habit).or_insert((number, 0)).1 += 1;
            }
            if !self.may_list(&file, number, &read, kind) {
                continue;
            }
            if let Some(before) = paths.insert(read.path.clone(), read.checksum.to_lowercase()) {
                self.twice(&file, number, &read, &before);
                continue;
            }
            match self.member(&read) {
                Some(found) => {
                    listed.insert(found);
                    if let Some(algorithm) = algorithm {
                        let checksum = read.checksum.to_lowercase();
                        self.claims.add(
                            found,
                            Claim {
                                algorithm,
                                checksum,
                                list: file.clone(),
                            },
                        );
                    }
                }
                None => {
                    let wanted = algorithm.map(|known| (known, read.checksum.to_lowercase()));
                    self.missing
                        .entry(read.path)
                        .or_default()
                        .push((file.clone(), wanted));
                }
            }
        }
        for (habit, (first, count)) in habits {
            let message =
                format!("has {habit}, in {count} of its lines; a strict reader refuses it.");
            let remedy = "It was read all the same.";
            self.case.warning(Kind::Habit, &file, message, remedy).line = Some(first);
        }
        listed
    }

    /// Whether the list may name that path.
    fn may_list(
        &mut self,
        file: &str,
        line: usize,
        read: &ManifestLine,
        kind: &ManifestKind,
    ) -> bool {
        let path = &read.path;
        let payload = path.starts_with(PAYLOAD);
        let (fault, message) = if let Err(danger) = check_path(path) {
            (
                Kind::Escape,
                format!("lists `{path}`, a path that {danger}; it was not followed."),
            )
        } else if matches!(kind, ManifestKind::Payload(_)) && !payload {
            (
                Kind::OutsidePayload,
                format!("lists `{path}`, which is no payload file."),
            )
        } else if matches!(kind, ManifestKind::Tag(_)) && payload {
            (
                Kind::TagManifest,
                format!("lists the payload file `{path}`, which it must not."),
            )
        } else if matches!(manifest_kind(path), Some(ManifestKind::Tag(_))) {
            (
                Kind::TagManifest,
                format!("lists the tag manifest `{path}`, which it must not."),
            )
        } else {
            return true;
        };
        let remedy = "Do not trust this bag before you know who changed it and why.";
        self.case.error(fault, file, message, remedy).line = Some(line);
        false
    }

    fn twice(&mut self, file: &str, line: usize, read: &ManifestLine, before: &str) {
        let same = read.checksum.eq_ignore_ascii_case(before);
        let message = format!("lists `{}` a second time.", read.path);
        let remedy = "Each file stands in a manifest once.";
        if self.case.strict || !same {
            self.case
                .error(Kind::ListedTwice, file, message, remedy)
                .line = Some(line);
        } else {
            self.case
                .warning(Kind::ListedTwice, file, message, remedy)
                .line = Some(line);
        }
    }

    /// The member a line means: by the path, by the path as written (tools that code no `%`), or by the
    /// path with its accents stored the other way.
    fn member(&mut self, read: &ManifestLine) -> Option<usize> {
        if let Some(found) = self.case.holder.find(&read.path) {
            return Some(found);
        }
        if let Some(found) = self.case.holder.find(&read.written) {
            let message = "has a % in its name that the manifest does not write as %25.";
            self.case.warning(
                Kind::Habit,
                &read.written,
                message,
                "It was read all the same.",
            );
            return Some(found);
        }
        let found = *self.names.composed.get(&composed(&read.path))?;
        let message = "has its accents stored otherwise than in the manifest.";
        let remedy = "The disk or the zip program did that; the octets are not touched by it.";
        let path = self.path(found);
        self.case.warning(Kind::Twins, &path, message, remedy);
        Some(found)
    }
}
