//! The rules of RFC 8493 for a bag as a whole, over the list of its members.
//!
//! First the texts are read (declaration, metadata, manifests), which tells what ought to be there; then
//! every member is read through once, and all checksums it needs are computed on the way.

use std::path::Path;
use std::str;

use super::Watch;
use super::claims::Claims;
use super::holder::{Holder, Member, name_of};
use super::lists;
use super::sealing;
use super::time_stamp;
use super::verdict::{Fault, Kind, Standing, Verdict};
use crate::bag::{
    BYTE_ORDER_MARK, DECLARATION_FILE, FETCH_FILE, INFO_FILE, ManifestKind, OXUM, PAYLOAD,
    composed, folded, manifest_kind, parse_declaration, parse_info, unportable,
};
use crate::disk::Sha256Digest;
use crate::seal::{SEALED_FILE, Signers};

/// Octets a text tag file may have: room for a million long lines.
pub(super) const LARGEST_TAG: u64 = 256 * 1024 * 1024;
/// Octets a declaration may have.
const LARGEST_DECLARATION: u64 = 4096;

/// An audit under way.
pub(super) struct Case {
    pub(super) holder: Holder,
    pub(super) faults: Vec<Fault>,
    /// Whether the rules of version 1.0 hold, which are stricter than the drafts before it.
    pub(super) strict: bool,
}

/// Judges the bag in `holder`.
pub(super) fn judge(
    path: &Path,
    mut holder: Holder,
    watch: Watch<'_>,
    trusted: Option<&Signers>,
) -> Verdict {
    let faults = std::mem::take(&mut holder.faults);
    let mut case = Case {
        holder,
        faults,
        strict: true,
    };
    let payload = |member: &&Member| member.path.starts_with(PAYLOAD);
    let mut verdict = Verdict {
        path: path.to_path_buf(),
        standing: Standing::Valid,
        faults: Vec::new(),
        info: Vec::new(),
        payload_files: case.holder.members.iter().filter(payload).count() as u64,
        payload_octets: case
            .holder
            .members
            .iter()
            .filter(payload)
            .fold(0, |sum, member| sum.saturating_add(member.size)),
        algorithms: Vec::new(),
        tag_manifest: None,
        seal: None,
        time_stamp: None,
    };
    if case.is_no_bag() {
        let message = "holds no bag: there is neither a bagit.txt nor a manifest.";
        let remedy = "Name a bundle, a bag's folder, or a folder with bags in it.";
        case.faults
            .push(Fault::error(Kind::NotABag, name_of(path), message, remedy));
        verdict.faults = case.faults;
        return verdict.settle();
    }
    if case.declaration() || case.is_plain() {
        verdict.info = case.info();
        let lacking = case.oxum(&verdict);
        let mut claims = Claims::new(case.holder.members.len());
        lists::read_lists(&mut case, &mut claims);
        case.names();
        verdict.algorithms = claims.algorithms();
        // Only where every payload file is there and none is too many can the sum tell of one that is short.
        let counted = |fault: &Fault| matches!(fault.kind, Kind::Missing | Kind::Extra);
        let lacking = lacking.filter(|_| !case.faults.iter().any(counted));
        claims.check(&mut case, watch, lacking);
        verdict.tag_manifest = case
            .holder
            .find(SEALED_FILE)
            .and_then(|member| case.holder.read_small(member, LARGEST_TAG))
            .map(|octets| Sha256Digest::of(&octets));
        verdict.seal = sealing::look(&mut case, &verdict.info, trusted);
        verdict.time_stamp = time_stamp::look(&mut case);
    }
    verdict.faults = case.faults;
    verdict.settle()
}

impl Case {
    pub(super) fn error(
        &mut self,
        kind: Kind,
        file: &str,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> &mut Fault {
        self.faults.push(Fault::error(kind, file, message, remedy));
        let last = self.faults.len() - 1;
        &mut self.faults[last]
    }

    pub(super) fn warning(
        &mut self,
        kind: Kind,
        file: &str,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> &mut Fault {
        self.faults
            .push(Fault::warning(kind, file, message, remedy));
        let last = self.faults.len() - 1;
        &mut self.faults[last]
    }

    fn is_no_bag(&self) -> bool {
        let manifest =
            |member: &Member| matches!(manifest_kind(&member.path), Some(ManifestKind::Payload(_)));
        let declared = self.holder.find(DECLARATION_FILE).is_some();
        // A zip that is broken so badly that nothing was found in it is not called "no bag": it may be one.
        let broken = self.holder.members.is_empty() && !self.faults.is_empty();
        !self.holder.is_container
            || !(declared || broken || self.holder.members.iter().any(manifest))
    }

    /// Reads `bagit.txt`; false when the tag files are in an encoding that can't be read.
    fn declaration(&mut self) -> bool {
        const REMEDY: &str = "It must be exactly: `BagIt-Version: 1.0`, and on the second line \
                              `Tag-File-Character-Encoding: UTF-8`.";
        let Some(member) = self.holder.find(DECLARATION_FILE) else {
            self.error(Kind::Declaration, DECLARATION_FILE, "is missing.", REMEDY);
            return true;
        };
        let Some(octets) = self.holder.read_small(member, LARGEST_DECLARATION) else {
            self.error(
                Kind::Declaration,
                DECLARATION_FILE,
                "is no declaration of two lines.",
                REMEDY,
            );
            return true;
        };
        let declared = parse_declaration(&octets);
        if declared.byte_order_mark {
            self.byte_order_mark(DECLARATION_FILE);
        }
        for fault in declared.faults {
            self.error(
                Kind::Declaration,
                DECLARATION_FILE,
                format!("{fault}."),
                REMEDY,
            );
        }
        let Some(declaration) = declared.declaration else {
            return true;
        };
        self.strict = declaration.is_strict();
        if !declaration.is_utf8() {
            let message = format!(
                "says that the tag files are in {}, which is not read here.",
                declaration.encoding
            );
            let remedy = "Audit this bag with a program that reads that encoding.";
            self.error(Kind::Encoding, DECLARATION_FILE, message, remedy);
            return false;
        }
        true
    }

    /// Whether the tag files read the same in every common encoding, because they hold ASCII only.
    fn is_plain(&self) -> bool {
        let plain = |octets: Vec<u8>| octets.is_ascii() && !octets.contains(&0);
        (0..self.holder.members.len())
            .filter(|member| {
                let path = self.holder.members[*member].path.as_str();
                path == INFO_FILE || path == FETCH_FILE || manifest_kind(path).is_some()
            })
            .all(|member| {
                self.holder
                    .read_small(member, LARGEST_TAG)
                    .is_some_and(plain)
            })
    }

    fn byte_order_mark(&mut self, file: &str) {
        let message = "begins with a byte-order mark, which a UTF-8 tag file must not have.";
        let remedy = "Save it as UTF-8 without a mark, and make the tag manifests anew.";
        self.error(Kind::ByteOrderMark, file, message, remedy);
    }

    /// The text of a tag file; what is not UTF-8 stands in it as `�`. The second value is false then.
    pub(super) fn tag_text(&mut self, member: usize) -> Option<(String, bool)> {
        let path = self.holder.members[member].path.clone();
        let octets = self.holder.read_small(member, LARGEST_TAG);
        if octets.is_none() && self.holder.members[member].readable {
            let message = format!("is larger than {LARGEST_TAG} octets and was not read.");
            self.error(
                Kind::Unreadable,
                &path,
                message,
                "Check that it is what its name says.",
            );
        }
        let octets = octets?;
        if octets.starts_with(BYTE_ORDER_MARK) {
            self.byte_order_mark(&path);
        }
        let octets = octets.strip_prefix(BYTE_ORDER_MARK).unwrap_or(&octets);
        match str::from_utf8(octets) {
            Ok(text) => Some((text.to_owned(), true)),
            Err(_) => Some((String::from_utf8_lossy(octets).into_owned(), false)),
        }
    }

    /// Reads `bag-info.txt`.
    fn info(&mut self) -> Vec<(String, String)> {
        let Some(member) = self.holder.find(INFO_FILE) else {
            return Vec::new();
        };
        let Some((text, whole)) = self.tag_text(member) else {
            return Vec::new();
        };
        let remedy = "Each line is `Label: value`; a continued line begins with a blank.";
        if !whole {
            self.error(
                Kind::Info,
                INFO_FILE,
                "is not UTF-8 text throughout.",
                remedy,
            );
        }
        let (fields, faults) = parse_info(&text, self.strict);
        for fault in faults {
            self.error(Kind::Info, INFO_FILE, format!("{}.", fault.why), remedy)
                .line = Some(fault.line);
        }
        for label in [
            "Bagging-Date",
            "Bag-Size",
            "Bag-Group-Identifier",
            "Bag-Count",
        ] {
            if fields
                .iter()
                .filter(|(written, _)| written.eq_ignore_ascii_case(label))
                .count()
                > 1
            {
                let message = format!("has {label} more than once.");
                self.warning(
                    Kind::Info,
                    INFO_FILE,
                    message,
                    "Once is what the standard advises.",
                );
            }
        }
        fields
    }

    /// Compares Payload-Oxum with what is there. It alone decides nothing. Gives how many octets more it states
    /// than there are.
    fn oxum(&mut self, verdict: &Verdict) -> Option<i128> {
        let mut lacking = None;
        let stated: Vec<&str> = verdict
            .info
            .iter()
            .filter(|(label, _)| label.eq_ignore_ascii_case(OXUM))
            .map(|(_, value)| value.trim())
            .collect();
        let remedy = "Look which payload files are missing, extra or damaged.";
        if stated.len() > 1 {
            let message = format!("has {OXUM} more than once.");
            self.error(Kind::Info, INFO_FILE, message, "Keep the right one.");
        }
        for stated in stated {
            let number = |text: &str| {
                let plain = text.bytes().all(|octet| octet.is_ascii_digit());
                plain.then(|| text.parse::<u64>().ok()).flatten()
            };
            let numbers = stated
                .split_once('.')
                .and_then(|(o, f)| number(o).zip(number(f)));
            let message = match numbers {
                None => format!("gives {OXUM} as `{stated}`; octets, a dot and files are needed."),
                Some(found) if found == (verdict.payload_octets, verdict.payload_files) => continue,
                Some((octets, files)) => {
                    lacking = Some(i128::from(octets) - i128::from(verdict.payload_octets));
                    format!(
                        "speaks of {octets} octets in {files} payload files, but there are {} in {}.",
                        verdict.payload_octets, verdict.payload_files
                    )
                }
            };
            self.error(Kind::Oxum, INFO_FILE, message, remedy);
        }
        lacking
    }

    /// Warns of names that other systems take for one, or can't keep.
    fn names(&mut self) {
        let mut keyed: Vec<(String, &str)> = self
            .holder
            .members
            .iter()
            .map(|m| (folded(&m.path), m.path.as_str()))
            .collect();
        keyed.sort();
        let mut found = Vec::new();
        for pair in keyed.windows(2) {
            if pair[0].0 == pair[1].0 && pair[0].1 != pair[1].1 {
                let (one, other) = (pair[0].1, pair[1].1);
                let how = if composed(one) == composed(other) {
                    "only in how its accents are stored"
                } else {
                    "only in small and capital letters"
                };
                let message =
                    format!("differs from `{one}` {how}; some disks keep one of the two.");
                let remedy = "Unpack it on a disk that tells them apart.";
                found.push(Fault::warning(Kind::Twins, other, message, remedy));
            }
        }
        for member in &self.holder.members {
            if let Some(why) = member.path.split('/').find_map(unportable) {
                let message = format!("{why}.");
                let remedy = "It may not unpack on every system; the octets are not touched by it.";
                found.push(Fault::warning(
                    Kind::Unportable,
                    &member.path,
                    message,
                    remedy,
                ));
            }
        }
        self.faults.append(&mut found);
    }
}
