//! Whether the rigid roll passes a door, or lies in a lift or a van. The way to the opening, turns in a
//! corridor and the door of the lift itself are not reckoned.

use super::geometry::{cosines, longest_in_box};
use crate::quantity::Length;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::record::Opening;

/// One opening and the roll.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// What it is.
    pub what: String,
    /// Its sides: width and height of a door; width, depth and height of a room.
    pub sides: Vec<Length>,
    /// The roll's length, its tube with it.
    pub length: Length,
    /// The roll's diameter.
    pub diameter: Length,
    /// The longest rigid roll of that diameter that lies level on the floor, corner to corner; nothing
    /// for a door.
    pub level: Option<Length>,
    /// The longest at any slant; nothing for a door.
    pub slanting: Option<Length>,
    /// Whether the roll passes: endways through a door, in any way into a room.
    pub passes: bool,
}

impl Passage {
    pub(super) fn of(opening: &Opening, length: Length, diameter: Length) -> Passage {
        let (w, h) = (opening.width.value.value, opening.height.value.value);
        let depth = opening.depth.as_ref().map(|d| d.value.value);
        let sides: Vec<Length> = match depth {
            Some(depth) => vec![w, depth, h],
            None => vec![w, h],
        };
        let mm: Vec<f64> = sides.iter().map(|s| s.mm()).collect();
        let longest = |sides: &[f64]| Length::from_mm(longest_in_box(sides, diameter.mm()));
        let high_enough = h.mm() >= diameter.mm();
        let level = depth.map(|_| {
            if high_enough {
                longest(&mm[..2])
            } else {
                Length::from_mm(0.0)
            }
        });
        let slanting = depth.map(|_| longest(&mm));
        Passage {
            what: opening.what.value.clone(),
            passes: match slanting {
                Some(longest) => longest.mm() >= length.mm(),
                None => mm.iter().all(|side| *side >= diameter.mm()),
            },
            sides,
            length,
            diameter,
            level,
            slanting,
        }
    }

    pub(super) fn entries(&self, i: usize) -> Vec<Entry> {
        let name = |rest: &str| format!("passage.{}.{rest}", i + 1);
        let field = format!("packing.openings[{i}]");
        let from = || {
            [
                "roll.widest".to_string(),
                "roll.tube-length".to_string(),
                field.clone(),
            ]
        };
        let n = |l: Length| significant(l.mm(), 5);
        let sides = |of: &[Length]| of.iter().map(|s| n(*s)).collect::<Vec<_>>().join(" × ");
        let (l, d) = (n(self.length), n(self.diameter));
        let caution = "Only the opening itself is reckoned: measure doors, corners and stairs on the way, and leave room \
            for hands and wrapping. Nobody should stand under a slanting roll.";
        let at = |longest: Length, of: &[Length]| {
            let mm: Vec<f64> = of.iter().map(|s| s.mm()).collect();
            let each = cosines(&mm, longest.mm(), self.diameter.mm());
            // Where the squares do not add up to 1 no slant helps: it lies along the longest side.
            if each.iter().map(|u| u * u).sum::<f64>() < 0.999 {
                return "1 with the longest side".to_string();
            }
            let each: Vec<String> = each.iter().map(|u| significant(*u, 4)).collect();
            each.join(", ")
        };
        let mut all = Vec::new();
        let rule = "l u + D √(1 − u²) ≤ each side, u the cosine of the roll's axis with it";
        for (rest, what, longest, of) in [
            (
                "level",
                "longest roll lying level",
                self.level,
                &self.sides[..2],
            ),
            (
                "slanting",
                "longest roll at any slant",
                self.slanting,
                &self.sides[..],
            ),
        ] {
            if let Some(longest) = longest {
                all.push(
                    Entry::number(
                        name(rest),
                        format!("{what} in the {}", self.what),
                        longest.mm(),
                        "mm",
                    )
                    .by(
                        rule,
                        format!(
                            "sides {} mm, D {d} mm, u {}: l = {} mm",
                            sides(of),
                            at(longest, of),
                            n(longest)
                        ),
                    )
                    .source("own derivation: the reach of a cylinder along each side of a box")
                    .from(from())
                    .caution(caution),
                );
            }
        }
        let how = match (self.passes, self.slanting, self.level) {
            (true, None, _) => format!("passes endways: {d} mm through {} mm", sides(&self.sides)),
            (false, None, _) => format!("does not pass: {d} mm through {} mm", sides(&self.sides)),
            (true, _, Some(level)) if level.mm() >= self.length.mm() => {
                format!("goes in lying level: {l} mm of {} mm", n(level))
            }
            (true, Some(_), _) if self.sides[2].mm() >= self.length.mm() => {
                format!(
                    "goes in standing upright: {l} mm under {} mm",
                    n(self.sides[2])
                )
            }
            (true, Some(longest), _) => {
                format!("goes in slanting only: {l} mm of {} mm", n(longest))
            }
            (false, Some(longest), _) => {
                format!(
                    "does not go in: {l} mm, and {} mm is the longest",
                    n(longest)
                )
            }
        };
        all.push(
            Entry::words(name("fits"), format!("the roll and the {}", self.what), how)
                .by(
                    "a door: D no more than either side; a room: l no more than the longest roll",
                    "",
                )
                .source("own derivation")
                .from(from())
                .caution(caution),
        );
        all
    }
}
