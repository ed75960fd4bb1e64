//! Slits under the weight. They run along the warp: hung as woven they stand upright, along the pull; hung
//! on its side the piece hangs by its weft, and every slit that is not sewn is drawn open.

use super::load::Load;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, significant};
use crate::record::{Piece, SlitsLeft};

/// What the weight does to the slits.
#[derive(Debug, Clone, PartialEq)]
pub struct Slits {
    /// What became of them, as far as the record tells.
    pub left: Option<SlitsLeft>,
    /// Whether they lie level as the piece hangs.
    pub level: bool,
    /// Whether the weight will draw some open: they lie level and are open, or nothing tells of slits that
    /// the technique has.
    pub opens: bool,
    /// The pull across the longest open slit if it lay at the top, N, and its length, mm.
    pub pull: Option<(f64, f64)>,
}

impl Slits {
    /// What the record tells.
    pub fn of(piece: &Piece, load: Option<&Load>) -> Slits {
        let hanging = piece.hanging.as_ref();
        let written = hanging.and_then(|h| h.slits.as_ref()).map(|s| s.value);
        let words = piece.finishing.slits.as_ref();
        let left = written.or_else(|| words.and_then(|w| left_by(&w.value)));
        let technique = piece.technique.as_ref().map(|t| t.value.to_lowercase());
        let slit_work = technique.is_some_and(|t| t.contains("slit"));
        let told = written.is_some() || words.is_some();
        let level = piece.top().sideways();
        let open = matches!(left, Some(SlitsLeft::Open | SlitsLeft::Partly));
        let longest = hanging
            .and_then(|h| h.longest_slit.as_ref())
            .map(|l| l.value.value.mm());
        let pull = longest
            .zip(load)
            .filter(|_| level)
            .map(|(mm, load)| (load.line.value * mm / 1000.0, mm));
        Slits {
            left,
            level,
            opens: level && (open || slit_work && !told),
            pull,
        }
    }

    /// The ledger's entries: none where nothing is told of slits.
    pub fn entries(&self) -> Vec<Entry> {
        let words = match (self.level, self.left, self.opens) {
            (_, Some(SlitsLeft::None), _) => "there are none",
            (true, _, true) => {
                "hung on its side, the piece hangs by its weft: the weight draws every slit open that is not sewn; sew them before it hangs"
            }
            (true, Some(_), false) => {
                "hung on its side, but sewn: look at the stitches now and then"
            }
            (false, Some(SlitsLeft::Open | SlitsLeft::Partly), _) => {
                "the slits stand upright along the pull, so the weight does them little harm; long ones may still gape"
            }
            (false, Some(SlitsLeft::Sewn), _) => "sewn, and upright along the pull",
            _ => return Vec::new(),
        };
        let mut all = vec![
            Entry::words("hanging.slits-judged", "what the weight does to the slits", words)
                .source("slits lie along the warp; Art Institute of Chicago on tapestries hung by their weft; a weaver-teacher on upright slits")
                .from(["top", "finishing.slits", "hanging.slits"])
                .caution(OVERHEAD),
        ];
        if let Some((pull, mm)) = self.pull {
            all.push(
                Entry::number(
                    "hanging.slit-pull",
                    "pull across the longest open slit if all of the piece hung below it",
                    pull,
                    "N",
                )
                .by(
                    "line load · length of the slit",
                    format!("w · {} mm", significant(mm, 4)),
                )
                .source("statics; the weight taken as evenly spread")
                .from(["hanging.line-load", "hanging.longest_slit"])
                .caution(OVERHEAD),
            );
        }
        all
    }
}

/// What free words on slits mean; nothing where they can not be told.
fn left_by(words: &str) -> Option<SlitsLeft> {
    let words = words.to_lowercase();
    let has = |all: &[&str]| all.iter().any(|w| words.contains(w));
    let unsewn = has(&["unsewn", "not sewn", "open", "unstitched", "not stitched"]);
    let rest = words
        .replace("unsewn", "")
        .replace("not sewn", "")
        .replace("unstitched", "")
        .replace("not stitched", "");
    let sewn = ["sewn", "stitched", "interlocked", "closed", "dovetailed"]
        .iter()
        .any(|w| rest.contains(w));
    match (unsewn, sewn) {
        (true, true) => Some(SlitsLeft::Partly),
        (true, false) => Some(SlitsLeft::Open),
        (false, true) => Some(SlitsLeft::Sewn),
        (false, false) => has(&["none", "no slits"]).then_some(SlitsLeft::None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn free_words_on_slits_are_understood_or_left_alone() {
        for (words, want) in [
            ("sewn", Some(SlitsLeft::Sewn)),
            ("sewn from the back as woven", Some(SlitsLeft::Sewn)),
            (
                "left open on purpose at the bright place and sewn elsewhere",
                Some(SlitsLeft::Partly),
            ),
            ("not sewn", Some(SlitsLeft::Open)),
            ("Open", Some(SlitsLeft::Open)),
            ("unsewn", Some(SlitsLeft::Open)),
            ("none", Some(SlitsLeft::None)),
            ("as the cartoon has them", None),
        ] {
            assert_eq!(left_by(words), want, "{words}");
        }
    }
}
