//! The choice of support with its limits; what is cut for it stands in `cuts`.

use super::cuts::{Cut, cuts};
use super::load::Load;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, significant};
use crate::record::{Part, Piece, Support};

/// The width of tape that the American Tapestry Alliance's article takes, mm (2 in).
const TAPE: f64 = 50.0;

/// What carries the piece and what is to be cut for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Chosen {
    /// The support, where the record tells.
    pub support: Option<Support>,
    /// The field that told.
    pub from: &'static str,
    /// Whether the heading's words name rings, tacks or the like, which pull at points.
    pub pulls_at_points: bool,
    /// Lengths to cut.
    pub cuts: Vec<Cut>,
    /// Width of the tape, mm, and whether it was written (as the heading's depth).
    pub tape: (f64, bool),
}

impl Chosen {
    /// The support from `hanging.support`, else from the heading.
    pub fn of(piece: &Piece, width: f64) -> Chosen {
        let heading = heading(piece);
        let method = heading
            .and_then(|p| p.method.as_ref())
            .map(|m| m.value.to_lowercase());
        let written = piece
            .hanging
            .as_ref()
            .and_then(|h| h.support.as_ref())
            .map(|s| s.value);
        let by_heading = method.as_deref().and_then(by_words);
        let (support, from) = match (written, by_heading) {
            (Some(s), _) => (Some(s), "hanging.support"),
            (None, Some(s)) => (Some(s), "parts.heading"),
            (None, None) => (None, ""),
        };
        let depth = heading
            .and_then(|p| p.depth.as_ref())
            .map(|d| d.value.value.mm());
        let bar = piece
            .hanging
            .as_ref()
            .and_then(|h| h.bar.as_ref()?.length.as_ref())
            .map(|l| l.value.value.mm());
        let points = ["ring", "tack", "staple", "clip", "grommet", "eyelet"];
        Chosen {
            pulls_at_points: method.is_some_and(|m| points.iter().any(|p| m.contains(p))),
            cuts: support.map_or(Vec::new(), |s| cuts(s, width, depth.unwrap_or(TAPE), bar)),
            tape: (depth.unwrap_or(TAPE), depth.is_some()),
            support,
            from,
        }
    }

    /// The length of bar or batten that is advised, mm.
    pub fn bar_length(&self) -> Option<f64> {
        self.cuts
            .iter()
            .find(|c| c.name == "bar-cut")
            .map(|c| c.length)
    }

    /// The ledger's entries.
    pub fn entries(&self, load: &Load) -> Vec<Entry> {
        let mut all = vec![self.choice(load)];
        if self.pulls_at_points {
            all.push(
                Entry::words("hanging.points", "rings, clips, tacks or staples", "they pull at single points and draw the cloth out of shape; a support along the whole top is advised instead")
                    .source("Canadian Conservation Institute, Notes 13/4").from(["parts.heading"]).caution(OVERHEAD),
            );
        }
        all.extend(self.cuts.iter().map(|c| {
            Entry::number(
                format!("hanging.{}", c.name),
                c.what.clone(),
                c.length,
                "mm",
            )
            .by(c.formula.clone(), c.worked.clone())
            .source(c.source)
            .from(["measured.width", "parts.heading"])
        }));
        let tape = self.cuts.iter().find(|c| c.name == "tape-cut");
        if let Some(tape) = tape {
            let (width, given) = self.tape;
            let area = tape.length * width;
            let of = if given {
                "the heading's depth"
            } else {
                "50 mm, for example"
            };
            all.push(
                Entry::number(
                    "hanging.tape-area",
                    format!("area of the tape, its width taken as {of}"),
                    area / 100.0,
                    "cm2",
                )
                .by(
                    "length · width",
                    format!(
                        "{} mm · {} mm",
                        significant(tape.length, 5),
                        significant(width, 4)
                    ),
                )
                .source("arithmetic")
                .from(["hanging.tape-cut", "parts.heading"]),
            );
            all.push(
                Entry::number("hanging.tape-shear", "mean shear on the tape, for information only: it is no rating; stitches and cloth give way first, and tape peels from its top edge", load.weight.value / area * 1000.0, "kPa")
                    .by("W / area", format!("{} N / {} cm² · 10", significant(load.weight.value, 4), significant(area / 100.0, 4)))
                    .source("statics").from(["hanging.weight", "hanging.tape-area"]).caution(OVERHEAD),
            );
        }
        all
    }

    fn choice(&self, load: &Load) -> Entry {
        let limits = |support| match support {
            Support::HookAndLoop => {
                "hook-and-loop along the top, 19 to 50 mm wide, the wider the heavier: for a piece in good condition that bears its own weight, not for a thin or weak one; loop side sewn to a washed cotton sleeve on the back, hook side on a sealed batten, never on the cloth; set square to the picture's uprights"
            }
            Support::Sleeve => {
                "a sleeve with a bar in it: with slack, so that the front lies flat; straight even where the edge is not; the bar shorter than the piece"
            }
            Support::Batten => {
                "webbing on a batten: the whole top is held; undyed webbing, a sealed batten, rustless fastenings"
            }
            Support::Bar => {
                "a bar that is seen: tied or turned over it along the whole width, never by rings or clips"
            }
        };
        match self.support {
            Some(support) => Entry::words("hanging.support-choice", "what carries it, and for what that is fit", limits(support))
                .source("Canadian Conservation Institute, Notes 13/4; American Tapestry Alliance, article on hanging; Mallett on casings")
                .from([self.from])
                .caution(OVERHEAD),
            None => {
                let small = load.mass.value < 0.5 && load.width.value < 400.0;
                let support = if small { Support::Sleeve } else { Support::HookAndLoop };
                let words = format!("none is written; advised: {}", limits(support));
                Entry::words("hanging.support-choice", "what could carry it", words)
                    .by("a sleeve under 0.5 kg and 40 cm of width, hook-and-loop above", format!("{} kg, {} mm", significant(load.mass.value, 4), significant(load.width.value, 4)))
                    .source("own rule after Canadian Conservation Institute, Notes 13/4")
                    .from(["measured.mass", "measured.width"])
                    .caution(OVERHEAD)
            }
        }
    }
}

/// The heading among the parts.
pub(super) fn heading(piece: &Piece) -> Option<&Part> {
    let mut parts = piece.parts.iter();
    parts.find(|p| p.name.value.eq_ignore_ascii_case("heading"))
}

/// What a heading's words mean.
fn by_words(words: &str) -> Option<Support> {
    let has = |all: &[&str]| all.iter().any(|w| words.contains(w));
    if has(&["hook"]) {
        Some(Support::HookAndLoop)
    } else if has(&["sleeve", "casing", "pocket"]) {
        Some(Support::Sleeve)
    } else if has(&["batten", "webbing"]) {
        Some(Support::Batten)
    } else if has(&["bar", "rod", "dowel"]) {
        Some(Support::Bar)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_headings_words_tell_the_support() {
        for (words, want) in [
            ("hook-and-loop", Some(Support::HookAndLoop)),
            ("sewn sleeve", Some(Support::Sleeve)),
            ("webbing, stapled", Some(Support::Batten)),
            ("brass rod", Some(Support::Bar)),
            ("curtain rings", None),
        ] {
            assert_eq!(by_words(words), want, "{words}");
        }
    }
}
