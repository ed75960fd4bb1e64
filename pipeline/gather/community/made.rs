//! Making everything for a piece made by many: judged, set, written, all of it or nothing.

use super::table;
use crate::check::while_setting::KIND as LETTERS;
use crate::check::{Subject, check_makers, has_error, ranked};
use crate::disk::{self, DiskError, Lock};
use crate::finish::{Kept, Letters, press_of};
use crate::paper::{MountView, PanelView, PaperError, Press, RollView, Sheet};
use crate::read::{Archive, PieceFolder, Sources, nearest};
use crate::reckon::Reckoning;
use crate::reckon::community::Community;
use crate::record::{Circle, Finding, Makers, Piece, RecordNumber, Studio, declared};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What is to be made, and where to.
pub struct Order<'a> {
    /// The piece's folder.
    pub piece: &'a str,
    /// The output folder of the archive.
    pub out: &'a Path,
    /// Where to find letters that the papers' own lack.
    pub fonts: Option<&'a Letters>,
    /// Asked now and then; `true` stops the work.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Called once when another run holds the output folder.
    pub waiting: &'a dyn Fn(),
}

/// What came of it.
pub struct Made {
    /// Files made, by their names in the folder, and who may have each.
    pub files: Vec<(&'static str, Circle)>,
    /// Every finding, the gravest first.
    pub findings: Vec<Finding>,
    /// The texts, to show findings in.
    pub texts: Sources,
    /// Everything that was reckoned, without a name in it; nothing where the piece needs mending.
    pub json: Option<Value>,
}

/// Why nothing was made.
#[derive(Debug, thiserror::Error)]
pub enum CommunityError {
    /// There is no such piece, or it has no makers.
    #[error("{0}")]
    Unknown(String),
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A paper could not be set.
    #[error("a paper could not be set: {0}")]
    Paper(#[from] PaperError),
    /// The list could not be written.
    #[error("the list could not be written: {0}")]
    List(#[from] csv::Error),
    /// A stop was asked for.
    #[error("stopped")]
    Stopped,
}

/// Everything that may be made, and its circle. What a run leaves out and an earlier one made is taken away.
const FILES: [(&str, Circle); 7] = [
    ("community.json", Circle::Studio),
    ("credits-panel.pdf", Circle::Public),
    ("roll.pdf", Circle::Studio),
    ("squares-list.pdf", Circle::Studio),
    ("squares-map.pdf", Circle::Public),
    ("squares.csv", Circle::Studio),
    ("thanks-sheets.pdf", Circle::Studio),
];

/// Makes everything for a piece made by many. With a finding of rank error in its folder nothing is made.
///
/// # Errors
/// Where there is no such piece, or nobody on its roll, or the machine fails.
pub fn community(archive: &Archive, order: &Order) -> Result<Made, CommunityError> {
    let folder = folder(archive, order.piece)?;
    let inside = format!("pieces/{}/", folder.slug);
    let of_interest =
        |f: &&Finding| f.place.file.starts_with(&inside) || *f.place.file == *"studio.yaml";
    let mut findings: Vec<Finding> = archive
        .findings
        .iter()
        .filter(of_interest)
        .cloned()
        .collect();
    let mut texts = archive.sources.clone();
    let makers = folder.piece.as_ref().and_then(|p| p.makers.as_ref());
    if let Some(piece) = &folder.piece {
        let listed = folder.listing.files.iter().map(|f| f.relative.clone());
        findings.extend(check_makers(&Subject {
            studio: archive.studio.as_ref(),
            piece,
            files: &listed.collect::<BTreeSet<String>>(),
            sights: &BTreeMap::new(),
        }));
    }
    let (Some(studio), Some(piece)) = (&archive.studio, &folder.piece) else {
        return Ok(unmade(findings, texts));
    };
    if has_error(&findings) {
        return Ok(unmade(findings, texts));
    }
    let Some(makers) = makers.filter(|m| !m.roll.is_empty()) else {
        return Err(CommunityError::Unknown(format!(
            "nobody is on the roll of `{}`: write `makers` with `roll` or `roll_file` into its piece.yaml",
            folder.slug
        )));
    };
    let (press, of_face, face_texts) = press_of(archive, order.fonts)?;
    findings.extend(of_face);
    texts.extend(face_texts);
    if has_error(&findings) {
        return Ok(unmade(findings, texts));
    }
    let all = All::of(studio, piece, makers, order.out);
    let (files, json, lacking) = set(&all, &press, order)?;
    put(&folder.slug, order, &files)?;
    if !lacking.is_empty() {
        let lacking: Vec<String> = lacking.iter().map(char::to_string).collect();
        findings.push(LETTERS.at(
            &makers.place,
            format!(
                "the papers' letters lack {}; a plain mark stands in their place",
                lacking.join(" ")
            ),
            "give letters that have them with `--fonts`",
        ));
    }
    let made = |name: &&(&'static str, Circle)| files.iter().any(|(file, _)| *file == name.0);
    Ok(Made {
        files: FILES.iter().filter(made).copied().collect(),
        findings: ranked(findings),
        texts,
        json: Some(json),
    })
}

fn folder<'a>(archive: &'a Archive, name: &str) -> Result<&'a PieceFolder, CommunityError> {
    let known = || archive.pieces.iter().map(|p| p.slug.as_str());
    let found = archive.pieces.iter().find(|p| p.slug == name);
    found.ok_or_else(|| {
        CommunityError::Unknown(match nearest(name, known()) {
            Some(near) => format!("there is no piece `{name}`; did you mean `{near}`?"),
            None => format!("there is no piece `{name}` in the folder `pieces`"),
        })
    })
}

fn unmade(findings: Vec<Finding>, texts: Sources) -> Made {
    Made {
        files: Vec::new(),
        findings: ranked(findings),
        texts,
        json: None,
    }
}

/// What the papers are made from.
pub(super) struct All<'a> {
    pub makers: &'a Makers,
    pub piece: &'a Piece,
    pub reckoned: Option<Community>,
    pub panel: PanelView,
    pub mount: Option<MountView>,
    pub roll: Option<RollView>,
    pub number: RecordNumber,
    ladder: Option<String>,
}

impl<'a> All<'a> {
    fn of(studio: &Studio, piece: &'a Piece, makers: &'a Makers, out: &Path) -> All<'a> {
        let kept = Kept::of(out, studio, piece);
        let number = kept.as_ref().map_or_else(
            || RecordNumber::of(&declared(studio, piece, None)),
            |kept| kept.number.clone(),
        );
        let reckoning = Reckoning::of(studio, piece);
        let reckoned = Community::of(piece, &reckoning);
        let squares = makers.squares.as_ref().filter(|s| s.count().is_some());
        All {
            panel: PanelView::of(studio, piece, makers, &reckoning, &number),
            mount: squares
                .zip(reckoned.as_ref())
                .map(|(squares, c)| MountView::of(studio, piece, squares, c, &reckoning, &number)),
            roll: reckoned
                .as_ref()
                .map(|c| RollView::of(studio, piece, makers, c, &reckoning, &number)),
            ladder: kept.filter(|k| k.current).and_then(|k| k.ladder()),
            makers,
            piece,
            reckoned,
            number,
        }
    }
}

type Files = Vec<(&'static str, Vec<u8>)>;

fn set(
    all: &All,
    press: &Press,
    order: &Order,
) -> Result<(Files, Value, BTreeSet<char>), CommunityError> {
    let mut files: Files = Vec::new();
    let mut lacking = BTreeSet::new();
    let mut paper = |name, sheet: Result<Sheet, PaperError>| -> Result<(), CommunityError> {
        let sheet = sheet?;
        lacking.extend(sheet.missing_glyphs);
        files.push((name, sheet.pdf));
        if (order.stop)() {
            return Err(CommunityError::Stopped);
        }
        Ok(())
    };
    let ladder = all.ladder.as_deref();
    paper("credits-panel.pdf", press.credits_panel(&all.panel, ladder))?;
    if let Some(mount) = &all.mount {
        paper("squares-map.pdf", press.squares_map(mount, ladder))?;
    }
    if let Some(roll) = &all.roll {
        paper("roll.pdf", press.roll(roll))?;
        paper("thanks-sheets.pdf", press.thanks_sheets(roll, ladder))?;
        if !roll.squares.is_empty() {
            paper("squares-list.pdf", press.squares_list(roll))?;
            files.push(("squares.csv", table::csv(roll)?));
        }
    }
    let json = table::json(all);
    let mut text = serde_json::to_vec_pretty(&json).unwrap_or_default();
    text.push(b'\n');
    files.push(("community.json", text));
    files.sort_by_key(|(name, _)| *name);
    Ok((files, json, lacking))
}

fn put(slug: &str, order: &Order, files: &Files) -> Result<(), DiskError> {
    disk::make_folder(order.out)?;
    let lock = Lock::take(order.out, &mut || (order.waiting)(), &|| (order.stop)())?;
    let home = order.out.join("community").join(slug);
    disk::make_folder(&home)?;
    disk::sweep_leftovers(&home, &lock)?;
    for (name, octets) in files {
        disk::write_whole(&home.join(name), octets)?;
    }
    for (name, _) in FILES {
        let path = home.join(name);
        if files.iter().all(|(made, _)| *made != name) && disk::open_file(&path).is_ok() {
            disk::remove(&path)?;
        }
    }
    Ok(())
}
