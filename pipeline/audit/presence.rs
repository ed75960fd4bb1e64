//! What the lists name and the bag lacks, and the other way round (RFC 8493 sections 2.2.1, 2.2.3, 3).

use std::collections::BTreeSet;

use super::lists::{ANOTHER_COPY, Reading};
use super::verdict::Kind;
use crate::bag::{FETCH_FILE, PAYLOAD, folded, manifest_kind};
use crate::seal::SIGNATURE_FILE;

impl Reading<'_> {
    /// Tells of files that are listed and not there.
    pub(super) fn tell_missing(&mut self) {
        for (path, lists) in std::mem::take(&mut self.missing) {
            let names: Vec<&str> = lists.iter().map(|(list, ..)| list.as_str()).collect();
            let in_lists = names.join(" and ");
            if self.holes.contains_key(&path) {
                let message = format!(
                    "is a hole: {in_lists} and {FETCH_FILE} name it, and it was never fetched."
                );
                let remedy =
                    "Nothing is fetched from the net here. Ask who made the bag for this file.";
                self.case.error(Kind::Hole, &path, message, remedy);
                continue;
            }
            let like = self
                .names
                .folded
                .get(&folded(&path))
                .map(|found| self.path(*found));
            let message = match like {
                Some(like) => {
                    format!("is missing: {in_lists} lists it, and only `{like}` is there.")
                }
                None => format!("is missing: {in_lists} lists it."),
            };
            self.case
                .error(Kind::Missing, &path, message, ANOTHER_COPY)
                .wanted = lists
                .into_iter()
                .filter_map(|(.., wanted)| wanted)
                .collect();
        }
    }

    /// Tells of payload files that a list leaves out.
    pub(super) fn unlisted(&mut self, lists: &[(usize, BTreeSet<usize>)]) {
        for member in 0..self.case.holder.members.len() {
            if lists.is_empty() || !self.case.holder.members[member].path.starts_with(PAYLOAD) {
                continue;
            }
            let without: Vec<String> = lists
                .iter()
                .filter(|(_, listed)| !listed.contains(&member))
                .map(|(list, _)| self.path(*list))
                .collect();
            let path = self.path(member);
            if without.len() == lists.len() {
                let remedy =
                    "It was added later, or is a leftover of the computer. Find out which.";
                self.case.error(
                    Kind::Extra,
                    &path,
                    "is in the payload, but in no manifest.",
                    remedy,
                );
            } else if self.case.strict && !without.is_empty() {
                let message = format!(
                    "is not listed in {}, but in another manifest.",
                    without.join(" and ")
                );
                self.case.error(
                    Kind::Extra,
                    &path,
                    message,
                    "Each manifest lists every payload file.",
                );
            }
        }
    }

    /// What a tag manifest must list, and what it had better list.
    pub(super) fn tag_manifest(
        &mut self,
        member: usize,
        listed: &BTreeSet<usize>,
        manifests: &[usize],
    ) {
        let file = self.path(member);
        for manifest in manifests
            .iter()
            .filter(|manifest| !listed.contains(manifest))
        {
            let message = format!("does not list {}, which it must.", self.path(*manifest));
            if self.case.strict {
                self.case
                    .error(Kind::TagManifest, &file, message, ANOTHER_COPY);
            } else {
                self.case
                    .warning(Kind::TagManifest, &file, message, ANOTHER_COPY);
            }
        }
        for other in 0..self.case.holder.members.len() {
            let path = self.path(other);
            // What is made from the tag manifest can not stand in it.
            let is_tag = !path.starts_with(PAYLOAD)
                && manifest_kind(&path).is_none()
                && path != SIGNATURE_FILE;
            if is_tag && !listed.contains(&other) {
                let message = format!("is not listed in {file}.");
                let remedy = "No checksum covers it; do not rely on it.";
                self.case.warning(Kind::TagManifest, &path, message, remedy);
            }
        }
    }

    /// Each hole must stand in every payload manifest.
    pub(super) fn holes_listed(&mut self, lists: &[(usize, BTreeSet<usize>)]) {
        for (path, line) in std::mem::take(&mut self.holes) {
            let known = match self.case.holder.find(&path) {
                Some(member) => lists.iter().all(|(_, listed)| listed.contains(&member)),
                None => self
                    .case
                    .faults
                    .iter()
                    .any(|f| f.kind == Kind::Hole && f.file == path),
            };
            if !known {
                let message = format!("names `{path}`, which is not in every payload manifest.");
                self.case
                    .error(Kind::Fetch, FETCH_FILE, message, ANOTHER_COPY)
                    .line = Some(line);
            }
        }
    }
}
