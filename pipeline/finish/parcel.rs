//! The bundle of one piece: what goes into it, and whether a new revision is due. A new one comes of a
//! change in the piece's folder or in what studio.yaml says, or on purpose; never of a newer program.

use super::Sealing;
use super::described::with_description;
use super::inputs::Inputs;
use super::piece::Halt;
use super::stamp::OutputStamp;
use super::time_stamp::carried;
use crate::bag::{FORMER_REVISION, FORMER_TAG_MANIFEST, PIECE_AND_REVISION};
use crate::bundle::{
    self, BagInfo, BundleName, Contents, Edition, Former, IssueError, Item, Seal, Source,
    StudioSeal, TagFile,
};
use crate::paper::{FirstWords, Press, PublicView};
use crate::read::PieceFolder;
use crate::reckon::Reckoning;
use crate::record::{Circle, Paper, Piece, RecordNumber, Studio};
use crate::seal::proving_line;
use std::path::Path;

/// The bag-info label under which a bundle keeps the digest of its inputs.
const INPUTS: &str = "Inputs-SHA256";
/// The name of the text that is read first.
const READ_ME: &str = "READ-ME-FIRST.txt";
/// The bag-info label of the record number.
const RECORD: &str = "External-Identifier";

/// What came of a piece's bundle.
#[derive(Debug, Clone, PartialEq)]
pub enum BundleState {
    /// A new revision was issued.
    Issued {
        /// Its file name.
        file: String,
        /// Its revision.
        revision: u32,
        /// Octets of the file.
        size: u64,
    },
    /// The newest revision is of the same inputs.
    Kept {
        /// Its file name.
        file: String,
        /// Its revision.
        revision: u32,
    },
}

impl BundleState {
    /// The file's name.
    pub fn file(&self) -> &str {
        match self {
            BundleState::Issued { file, .. } | BundleState::Kept { file, .. } => file,
        }
    }
    /// The revision.
    pub fn revision(&self) -> u32 {
        match self {
            BundleState::Issued { revision, .. } | BundleState::Kept { revision, .. } => *revision,
        }
    }
}

/// Everything a bundle is made of.
pub(super) struct Parcel<'a> {
    pub studio: &'a Studio,
    pub piece: &'a Piece,
    pub folder: &'a PieceFolder,
    pub inputs: &'a Inputs,
    pub number: &'a RecordNumber,
    /// The octets of record.json.
    pub record: &'a [u8],
    /// The piece's output folder.
    pub home: &'a Path,
    pub outputs: &'a [OutputStamp],
    pub bundles: &'a Path,
    pub reissue: bool,
    pub sealing: Option<&'a Sealing>,
    pub press: &'a Press,
    /// Plates by name, with the photograph that each was made from.
    pub plates: Vec<(String, String)>,
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

/// Issues the next revision, or keeps the newest.
pub(super) fn issue(parcel: &Parcel) -> Result<BundleState, Halt> {
    let former = bundle::latest(parcel.bundles, &parcel.folder.slug)
        .map_err(|error| Halt::Words(error.to_string()))?;
    if let Some(former) = &former
        && !parcel.reissue
        && former.field(INPUTS) == Some(parcel.inputs.digest.as_str())
    {
        return Ok(BundleState::Kept {
            file: former.name.file_name(),
            revision: former.name.revision(),
        });
    }
    let revision = former.as_ref().map_or(1, |f| f.name.revision() + 1);
    let name = BundleName::new(&parcel.folder.slug, revision, Edition::Studio)
        .map_err(|error| Halt::Words(error.to_string()))?;
    let contents = Contents {
        name: name.clone(),
        payload: with_description(parcel, revision, payload(parcel)?),
        info: info(parcel, revision, former.as_ref()),
        tags: vec![read_me(parcel, revision, Edition::Studio)],
    };
    seal_and_issue(parcel, &contents)
}

/// Issues the owner's edition of a revision, where the piece has an owner and there is none yet: the papers
/// of the owner's circle and the plates, without the studio's own folder, its reckoning and its sheet.
pub(super) fn issue_owner(parcel: &Parcel, revision: u32) -> Result<Option<BundleState>, Halt> {
    if parcel.piece.owners.is_empty() {
        return Ok(None);
    }
    let words = |error: &dyn std::fmt::Display| Halt::Words(error.to_string());
    let slug = &parcel.folder.slug;
    let name = BundleName::new(slug, revision, Edition::Owner).map_err(|e| words(&e))?;
    let former =
        bundle::latest_edition(parcel.bundles, slug, Edition::Owner).map_err(|e| words(&e))?;
    if let Some(former) = former.as_ref().filter(|f| f.name.revision() >= revision) {
        return Ok(Some(BundleState::Kept {
            file: former.name.file_name(),
            revision: former.name.revision(),
        }));
    }
    let mut fields = info(parcel, revision, former.as_ref());
    // The number of what lies in the studio's folder is the studio's.
    fields.0.retain(|(label, _)| label != INPUTS);
    let contents = Contents {
        name,
        payload: with_description(parcel, revision, for_owner(parcel)?),
        info: fields,
        tags: vec![read_me(parcel, revision, Edition::Owner)],
    };
    seal_and_issue(parcel, &contents).map(Some)
}

/// What leaves the studio with the piece.
fn for_owner(parcel: &Parcel) -> Result<Vec<Item>, Halt> {
    let mut items = outputs(parcel, of_owner)?;
    items.extend(carried(parcel.folder, parcel.record));
    Ok(items)
}

/// Whether an output may leave the studio with the piece.
fn of_owner(path: &str) -> bool {
    let own = |p: &&Paper| p.circle() == Circle::Studio;
    let studio_only = Paper::ALL
        .iter()
        .filter(own)
        .any(|p| p.files().contains(&path));
    path == "record.json" || path.starts_with("plates/") || (path.ends_with(".pdf") && !studio_only)
}

/// What an heir reads first.
fn read_me(parcel: &Parcel, revision: u32, edition: Edition) -> TagFile {
    let reckoning = Reckoning::of(parcel.studio, parcel.piece);
    let view = PublicView::of(parcel.studio, parcel.piece, &reckoning, parcel.number);
    let for_owner = edition == Edition::Owner;
    let there = |p: &&Paper| {
        let made = |file: &&str| parcel.outputs.iter().any(|o| o.path == *file);
        p.files().iter().all(made) && (!for_owner || p.circle() != Circle::Studio)
    };
    let papers: Vec<Paper> = Paper::ALL.iter().filter(there).copied().collect();
    let key = parcel.sealing.map(|s| s.key.public().fingerprint());
    let signer = parcel.sealing.and_then(|s| s.signers.current());
    let signer = signer.and_then(|s| s.principals.first());
    let proof = signer.map(|who| proving_line(who)).unwrap_or_default();
    let text = parcel.press.read_me(&FirstWords {
        view: &view,
        revision,
        papers: &papers,
        for_owner,
        plates: parcel.outputs.iter().any(|o| o.path.starts_with("plates/")),
        time_stamped: !carried(parcel.folder, parcel.record).is_empty(),
        sealed: signer.map(String::as_str).zip(key.as_deref()),
        proof: &proof,
    });
    TagFile {
        name: READ_ME.to_string(),
        octets: text.into_bytes(),
    }
}

fn seal_and_issue(parcel: &Parcel, contents: &Contents) -> Result<BundleState, Halt> {
    let seal = parcel.sealing.map(|s| StudioSeal {
        key: &s.key,
        signers: &s.signers,
    });
    let seal = seal.as_ref().map(|s| s as &dyn Seal);
    let stop = || (parcel.stop)();
    let issued =
        bundle::issue_sealed(parcel.bundles, contents, seal, &mut |_| {}, &stop).map_err(halt)?;
    Ok(BundleState::Issued {
        file: contents.name.file_name(),
        revision: contents.name.revision(),
        size: issued.octets,
    })
}

fn halt(error: IssueError) -> Halt {
    match error {
        IssueError::Cancelled => Halt::Stopped,
        IssueError::Disk(error) => error.into(),
        error => Halt::Words(error.to_string()),
    }
}

/// The piece's folder as it is, what was made of it, and studio.yaml's words.
fn payload(parcel: &Parcel) -> Result<Vec<Item>, Halt> {
    let mut items: Vec<Item> = parcel
        .folder
        .listing
        .files
        .iter()
        .map(|file| Item {
            path: format!("piece/{}", file.relative),
            from: Source::File {
                path: file.path.clone(),
                size: file.size,
            },
        })
        .collect();
    items.extend(outputs(parcel, |_| true)?);
    items.extend(carried(parcel.folder, parcel.record));
    let words: String = parcel
        .studio
        .words()
        .iter()
        .map(|(name, value)| format!("{name}: {value}\n"))
        .collect();
    items.push(Item {
        path: "studio.txt".to_string(),
        from: Source::Bytes(words.into_bytes()),
    });
    Ok(items)
}

/// What was made of the piece, as far as it is wanted.
fn outputs(parcel: &Parcel, wanted: impl Fn(&str) -> bool) -> Result<Vec<Item>, Halt> {
    let mut items = Vec::new();
    for out in parcel.outputs.iter().filter(|o| wanted(&o.path)) {
        let path = parcel.home.join(&out.path);
        let size = crate::disk::open_file(&path)?.1.len();
        let folder = if out.path.ends_with(".pdf") {
            "papers/"
        } else {
            ""
        };
        items.push(Item {
            path: format!("{folder}{}", out.path),
            from: Source::File { path, size },
        });
    }
    Ok(items)
}

/// bag-info.txt (RFC 8493, section 2.2.2). No clock: the date is the one on the papers.
fn info(parcel: &Parcel, revision: u32, former: Option<&Former>) -> BagInfo {
    let mut info: Vec<(String, String)> = Vec::new();
    let mut put = |label: &str, value: String| {
        let line = value.split_whitespace().collect::<Vec<_>>().join(" ");
        if !line.is_empty() {
            info.push((label.to_string(), line));
        }
    };
    put("Source-Organization", parcel.studio.studio.value.clone());
    put("Contact-Name", parcel.studio.weaver.value.clone());
    put(
        "External-Description",
        format!(
            "{}, tapestry by {}, made {}",
            parcel.piece.title.value, parcel.studio.weaver.value, parcel.piece.made_text
        ),
    );
    if let Some(issued) = &parcel.piece.issued {
        put("Bagging-Date", issued.value.to_string());
    }
    put(RECORD, parcel.number.ni());
    put(
        PIECE_AND_REVISION,
        format!("{} r{revision}", parcel.folder.slug),
    );
    put("Record-Number", parcel.number.nih());
    put(INPUTS, parcel.inputs.digest.clone());
    if let Some(former) = former {
        put(FORMER_REVISION, format!("r{}", former.name.revision()));
        put(FORMER_TAG_MANIFEST, former.tag_manifest.to_string());
        put(
            "Former-Record-Number",
            former
                .field("Record-Number")
                .unwrap_or_default()
                .to_string(),
        );
    }
    put(
        "Bag-Software-Agent",
        format!("offloom {}", env!("CARGO_PKG_VERSION")),
    );
    BagInfo(info)
}
