//! The chain of revisions: each names the one before it by the digest of its tag manifest, which names the
//! whole bag in one number.

use std::collections::BTreeMap;

use super::verdict::{Fault, Kind, Verdict};
use crate::bag::{FORMER_REVISION, FORMER_TAG_MANIFEST, INFO_FILE, PIECE_AND_REVISION};

/// Compares each revision with the one before it, where that is among the verdicts.
pub(super) fn follow(verdicts: &mut [Verdict]) {
    let mut whole: BTreeMap<(String, u32, bool), String> = BTreeMap::new();
    for verdict in verdicts.iter() {
        if let (Some(key), Some(digest)) = (key(verdict), &verdict.tag_manifest) {
            whole.insert(key, digest.to_string());
        }
    }
    for verdict in verdicts.iter_mut() {
        let Some((slug, _, owner)) = key(verdict) else {
            continue;
        };
        let before =
            field(verdict, FORMER_REVISION).and_then(|r| r.strip_prefix('r')?.parse().ok());
        let (Some(before), Some(former)) = (before, field(verdict, FORMER_TAG_MANIFEST)) else {
            continue;
        };
        let found = whole.get(&(slug, before, owner));
        if found.is_some_and(|digest| digest != former) {
            let message =
                format!("the revision r{before} that lies here is not the one that this follows.");
            let remedy =
                "One of the two has been exchanged; compare the record numbers and the seals.";
            verdict.add(Fault::error(Kind::Chain, INFO_FILE, message, remedy));
        }
    }
}

fn field<'a>(verdict: &'a Verdict, label: &str) -> Option<&'a str> {
    let mut fields = verdict.info.iter();
    let found = fields.find(|(written, _)| written.eq_ignore_ascii_case(label));
    found.map(|(_, value)| value.as_str())
}

/// Piece, revision, and whether it is the owner's edition.
fn key(verdict: &Verdict) -> Option<(String, u32, bool)> {
    let (slug, revision) = field(verdict, PIECE_AND_REVISION)?.rsplit_once(" r")?;
    let name = verdict.path.file_stem()?.to_string_lossy().into_owned();
    Some((
        slug.to_string(),
        revision.parse().ok()?,
        name.ends_with(".owner"),
    ))
}
