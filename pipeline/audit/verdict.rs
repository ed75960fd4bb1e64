//! What an audit says: the standing of a bag and every fault, each with its place and a remedy.

use std::fmt;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use super::damage::Damage;
use super::elsewhere::{Elsewhere, Wanted};
use super::log_day::Instant;
use super::sealing::SealSeen;
use crate::bag::Algorithm;
use crate::disk::Sha256Digest;

/// The standing of a bag (RFC 8493 section 3).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Complete, and every checksum is right.
    Valid,
    /// Everything is there, but a checksum or the container is not right.
    CompleteNotValid,
    /// Something required is missing, or a part breaks the rules.
    Incomplete,
    /// There is no bag here.
    NotABag,
    /// It could not be read, or uses something this program can't check.
    CouldNotTell,
}

impl fmt::Display for Standing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Valid => "valid",
            Self::CompleteNotValid => "complete but not valid",
            Self::Incomplete => "incomplete",
            Self::NotABag => "not a bag",
            Self::CouldNotTell => "could not tell",
        })
    }
}

/// How much a fault weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Rank {
    /// The bag can't be valid with it.
    Error,
    /// The bag is valid all the same; another program or system may stumble over it.
    Warning,
}

/// What a fault weighs in the standing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Weight {
    Complete,
    Valid,
    Known,
    Bag,
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident: $weight:ident, $rule:literal;)*) => {
        /// The kind of a fault; in JSON its name with hyphens.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum Kind { $($(#[$doc])* $kind,)* }

        impl Kind {
            /// The rule that is broken: a section of RFC 8493, or what the ZIP format wants.
            pub fn rule(self) -> &'static str {
                match self { $(Self::$kind => $rule,)* }
            }

            fn weight(self) -> Weight {
                match self { $(Self::$kind => Weight::$weight,)* }
            }
        }
    };
}

kinds! {
    /// There is neither a declaration nor a manifest.
    NotABag: Bag, "RFC 8493 section 2";
    /// The file or folder can't be read.
    Unreadable: Known, "none: the machine failed";
    /// The audit was stopped.
    Stopped: Known, "none: stopped on request";
    /// `bagit.txt` is missing or wrong.
    Declaration: Complete, "RFC 8493 section 2.1.1";
    /// A text tag file begins with a byte-order mark.
    ByteOrderMark: Complete, "RFC 8493 section 2.3";
    /// The tag files are declared to be in an encoding that is not read here.
    Encoding: Known, "RFC 8493 section 2.1.1";
    /// The payload folder is missing.
    PayloadFolder: Complete, "RFC 8493 section 2.1.2";
    /// There is no payload manifest.
    NoManifest: Complete, "RFC 8493 section 2.1.3";
    /// A checksum algorithm that is not known here.
    Algorithm: Known, "RFC 8493 section 2.4";
    /// A line of a tag file that can't be read.
    Line: Complete, "RFC 8493 section 2.1.3";
    /// A file listed twice in one manifest.
    ListedTwice: Complete, "RFC 8493 section 2.1.3";
    /// A path that leads out of the bag.
    Escape: Complete, "RFC 8493 section 5.1";
    /// A payload manifest that lists something outside `data/`.
    OutsidePayload: Complete, "RFC 8493 section 2.1.3";
    /// A listed file that is not there.
    Missing: Complete, "RFC 8493 section 3";
    /// A payload file that is not listed.
    Extra: Complete, "RFC 8493 section 3";
    /// A file whose checksum differs.
    Damaged: Valid, "RFC 8493 section 3";
    /// A file that is to be fetched from elsewhere and has not been.
    Hole: Complete, "RFC 8493 section 2.2.3";
    /// A line of `fetch.txt` that breaks its rules.
    Fetch: Complete, "RFC 8493 section 2.2.3";
    /// A tag manifest that lists what it must not, or leaves out what it must list.
    TagManifest: Complete, "RFC 8493 section 2.2.1";
    /// A line of `bag-info.txt` that is no field.
    Info: Complete, "RFC 8493 section 2.2.2";
    /// Payload-Oxum does not agree with the payload.
    Oxum: Valid, "RFC 8493 section 2.2.2";
    /// A link, pipe or device where a plain file should be.
    Link: Complete, "RFC 8493 section 5.1";
    /// Names that some systems take for one.
    Twins: Valid, "RFC 8493 section 6";
    /// A name that some systems can't keep.
    Unportable: Valid, "RFC 8493 section 6";
    /// A habit of other tools that a strict reader refuses.
    Habit: Valid, "RFC 8493 section 6";
    /// The zip ends before it should.
    ZipCutShort: Complete, "ZIP format: end of central directory";
    /// Two records of the zip disagree, or one can't be read.
    ZipRecord: Valid, "ZIP format: headers";
    /// Octets in front of the first file.
    ZipStub: Valid, "ZIP format: overall structure";
    /// Octets after the end.
    ZipTail: Valid, "ZIP format: overall structure";
    /// Octets between the files that belong to none.
    ZipGap: Valid, "ZIP format: overall structure";
    /// Two files share the same octets.
    ZipOverlap: Valid, "ZIP format: overall structure";
    /// Two files of one name.
    ZipDuplicate: Valid, "ZIP format: file names";
    /// A file name that leads out or can't be read.
    ZipName: Valid, "ZIP format: file names";
    /// Not exactly one folder at the top.
    ZipTop: Valid, "BagIt draft 0.97 section 4 (serialization)";
    /// An encrypted file.
    ZipEncrypted: Known, "ZIP format: encryption";
    /// A file compressed in a way that is not read here.
    ZipMethod: Known, "ZIP format: compression method";
    /// A file that would swell beyond measure, or too many files.
    ZipSwelling: Known, "none: a limit of this program";
    /// A file that does not agree with the zip's own checksum or size.
    ZipData: Valid, "ZIP format: CRC-32 and sizes";
    /// A tar that ends before it should.
    TarCutShort: Complete, "POSIX pax: ustar interchange format";
    /// A header of a tar that can't be read.
    TarRecord: Complete, "POSIX pax: ustar interchange format";
    /// Two files of one name in a tar.
    TarDuplicate: Valid, "POSIX pax: ustar interchange format";
    /// A name in a tar that leads out or can't be read.
    TarName: Valid, "POSIX pax: ustar interchange format";
    /// Octets behind the end of a tar.
    TarTail: Valid, "POSIX pax: ustar interchange format";
    /// A time-stamp that is for other octets, or can't be read.
    TimeStampUnfit: Valid, "RFC 3161 section 2.4.2";
    /// A revision that does not follow from the one before it.
    Chain: Valid, "none: this program's own chain of revisions";
    /// A seal that does not fit the bag, or can't be read.
    SealBroken: Valid, "OpenSSH: PROTOCOL.sshsig";
    /// A bag with the keys of a seal, but without its signature.
    SealGone: Valid, "OpenSSH: PROTOCOL.sshsig";
    /// A seal by a key that is not on the list of signers.
    SealStranger: Valid, "OpenSSH: ssh-keygen, ALLOWED SIGNERS";
    /// A seal by a key whose time it was not.
    SealOutOfTime: Valid, "OpenSSH: ssh-keygen, ALLOWED SIGNERS";
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// Which kind of fault.
    #[serde(rename = "name")]
    pub kind: Kind,
    /// How much it weighs.
    pub rank: Rank,
    /// The file it is about, by its path in the bag; the container's own name when it is about that.
    pub file: String,
    /// The line in that file, counted from 1.
    pub line: Option<usize>,
    /// The rule it breaks.
    pub rule: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub remedy: String,
    /// What most likely happened to the file, where that can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likely: Option<Damage>,
    /// Where among the bags that were looked at a good copy lies.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub elsewhere: Vec<Elsewhere>,
    /// The checksums the file should have.
    #[serde(skip)]
    pub(super) wanted: Vec<Wanted>,
}

impl Fault {
    /// A fault of rank error.
    pub(super) fn error(
        kind: Kind,
        file: impl Into<String>,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            kind,
            rank: Rank::Error,
            file: file.into(),
            line: None,
            rule: kind.rule(),
            message: message.into(),
            remedy: remedy.into(),
            likely: None,
            elsewhere: Vec::new(),
            wanted: Vec::new(),
        }
    }

    /// Whether the file it is about should have that checksum.
    pub fn wants(&self, checksum: &(Algorithm, String)) -> bool {
        self.wanted.contains(checksum)
    }

    /// A fault of rank warning.
    pub(super) fn warning(
        kind: Kind,
        file: impl Into<String>,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            rank: Rank::Warning,
            ..Self::error(kind, file, message, remedy)
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
        }
        write!(f, ": {} {}", self.message, self.remedy)
    }
}

/// The outcome of one audit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Verdict {
    /// What was audited.
    pub path: PathBuf,
    /// Its standing.
    pub standing: Standing,
    /// Every fault: errors first, then warnings, each by file.
    pub faults: Vec<Fault>,
    /// The fields of `bag-info.txt`, in their order, repeats kept.
    pub info: Vec<(String, String)>,
    /// Number of payload files found.
    pub payload_files: u64,
    /// Octets of payload found.
    pub payload_octets: u64,
    /// The checksum algorithms that were checked, by the names in the manifests' file names.
    pub algorithms: Vec<&'static str>,
    /// SHA-256 of its `tagmanifest-sha256.txt`, which names the whole bag in one number.
    pub tag_manifest: Option<Sha256Digest>,
    /// Its seal, where there is one.
    pub seal: Option<SealSeen>,
    /// When an authority stamped the record, as the stamp says: that it is an authority's is not proved here.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_stamp: Option<Instant>,
}

impl Verdict {
    /// Whether the bag is valid (it may have warnings).
    pub fn is_valid(&self) -> bool {
        self.standing == Standing::Valid
    }

    /// The faults of rank error.
    pub fn errors(&self) -> impl Iterator<Item = &Fault> {
        self.faults.iter().filter(|fault| fault.rank == Rank::Error)
    }

    /// Puts the faults in order and draws the standing from them.
    pub(super) fn settle(mut self) -> Self {
        self.draw();
        self
    }

    /// Adds a fault that was found afterwards.
    pub(super) fn add(&mut self, fault: Fault) {
        self.faults.push(fault);
        self.draw();
    }

    fn draw(&mut self) {
        self.faults.sort_by(|a, b| {
            (a.rank, &a.file, a.line, a.kind).cmp(&(b.rank, &b.file, b.line, b.kind))
        });
        self.faults.dedup();
        let has = |weight| self.errors().any(|fault| fault.kind.weight() == weight);
        self.standing = if has(Weight::Bag) {
            Standing::NotABag
        } else if has(Weight::Complete) {
            Standing::Incomplete
        } else if has(Weight::Valid) {
            Standing::CompleteNotValid
        } else if has(Weight::Known) {
            Standing::CouldNotTell
        } else {
            Standing::Valid
        };
    }
}
