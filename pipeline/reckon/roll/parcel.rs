//! The parcel of a roll: sizes, mass, girth and volumetric mass. Plain arithmetic; what a carrier
//! charges or takes is the carrier's to say.

use super::way::Way;
use super::{OnTube, assumed, setting};
use crate::quantity::{Length, Mass};
use crate::reckon::figure::Figure;
use crate::reckon::ledger::Entry;
use crate::reckon::mass::Masses;
use crate::reckon::printed::significant;
use crate::record::Packing;
use std::f64::consts::PI;

/// Room between roll and box where it is not said: 50 mm of soft padding all round (from memory, as in
/// crates).
const CLEARANCE_MM: f64 = 50.0;
/// Wall of the box where it is not said: own rule.
const WALL_MM: f64 = 3.0;
/// Cubic centimetres a kilogram where they are not said: one divisor seen in use among others.
const DIVISOR: f64 = 5000.0;

/// A box round the roll. The tube's bare ends rest in cradles, so the box is as long inside as the
/// tube; the roll touches nothing (after Dicus, rolled shipping support, STASH sheet, 1992).
#[derive(Debug, Clone, PartialEq)]
pub struct Parcel {
    /// Inside: length, then width and height alike.
    pub inner: [Length; 2],
    /// Outside: length, then width and height alike.
    pub outer: [Length; 2],
    /// Piece, and packing where it was weighed.
    pub mass: Option<Figure<Mass>>,
    /// Whether the packing's own mass is in it.
    pub with_packing: bool,
    /// Volume over the divisor, kg.
    pub volumetric_kg: f64,
    clearance: Figure<Length>,
    wall: Figure<Length>,
    divisor: (f64, bool),
}

impl Parcel {
    pub(super) fn of(packing: &Packing, wound: &OnTube, way: &Way, masses: &Masses) -> Parcel {
        let clearance = setting(&packing.clearance, "packing.clearance", CLEARANCE_MM);
        let wall = setting(&packing.wall, "packing.wall", WALL_MM);
        let divisor = packing.divisor.as_ref().map_or(DIVISOR, |d| d.value);
        let round = Length::from_mm(wound.by_turn.widest + 2.0 * clearance.value.mm());
        let inner = [way.tube_length.value, round];
        let outer = inner.map(|side| Length::from_mm(side.mm() + 2.0 * wall.value.mm()));
        let weighs = packing
            .weighs
            .as_ref()
            .map(|w| Figure::read(&w.value, "packing.weighs"));
        let mass = masses.stated().map(|piece| match &weighs {
            Some(w) => Figure::new(
                piece.number() + w.number(),
                piece.from.iter().chain(&w.from).cloned(),
            ),
            None => piece.clone(),
        });
        Parcel {
            volumetric_kg: volumetric_kg(outer[0], outer[1], outer[1], divisor),
            with_packing: weighs.is_some(),
            divisor: (divisor, packing.divisor.is_some()),
            inner,
            outer,
            mass,
            clearance,
            wall,
        }
    }

    /// Room between roll and box, all round.
    pub fn clearance(&self) -> Length {
        self.clearance.value
    }

    /// Cubic centimetres counted as one kilogram.
    pub fn divisor(&self) -> f64 {
        self.divisor.0
    }

    /// Girth of the box: both shorter sides, twice.
    pub fn girth(&self) -> Length {
        girth([self.outer[0], self.outer[1], self.outer[1]]).0
    }

    /// Longest side and girth together.
    pub fn length_and_girth(&self) -> Length {
        girth([self.outer[0], self.outer[1], self.outer[1]]).1
    }

    pub(super) fn entries(&self, way: &Way, wound: &OnTube) -> Vec<Entry> {
        let cm = |l: Length| significant(l.cm(), 5);
        let mut sides = [self.outer[0], self.outer[1], self.outer[1]];
        sides.sort_by(|a, b| b.mm().total_cmp(&a.mm()));
        let [longest, a, b] = sides.map(cm);
        let d = significant(wound.by_turn.widest, 5);
        let of = |figure: &str, fields: &[String]| -> Vec<String> {
            std::iter::once(figure.to_string())
                .chain(fields.iter().cloned())
                .collect()
        };
        let sized = |name: &str, what: &str, l: Length| Entry::number(name, what, l.mm(), "mm");
        let [inside, around] = self.inner;
        let [long, wide] = self.outer;
        let wall = format!(
            "2 × {} ({})",
            significant(self.wall.value.mm(), 4),
            assumed(&self.wall)
        );
        let mut all = vec![
            sized("parcel.inner-length", "length of the box inside", inside)
                .by(
                    "the tube's length, its bare ends in cradles",
                    format!("{} mm", significant(inside.mm(), 6)),
                )
                .source("published rolled shipping support (Dicus, STASH sheet, 1992)")
                .from(["roll.tube-length"]),
            sized(
                "parcel.inner-width",
                "width and height of the box inside",
                around,
            )
            .by(
                "w = D + 2c",
                format!(
                    "{d} + 2 × {} ({}) = {} mm",
                    significant(self.clearance.value.mm(), 4),
                    assumed(&self.clearance),
                    significant(around.mm(), 6)
                ),
            )
            .source("clearance: 50 mm is common in crates (from memory)")
            .from(of("roll.widest", &self.clearance.from)),
            sized("parcel.length", "length of the box outside", long)
                .by(
                    "inside + 2 walls",
                    format!(
                        "{} + {wall} = {} mm",
                        significant(inside.mm(), 6),
                        significant(long.mm(), 6)
                    ),
                )
                .source("arithmetic")
                .from(of("parcel.inner-length", &self.wall.from)),
            sized("parcel.width", "width and height of the box outside", wide)
                .by(
                    "inside + 2 walls",
                    format!(
                        "{} + {wall} = {} mm",
                        significant(around.mm(), 6),
                        significant(wide.mm(), 6)
                    ),
                )
                .source("arithmetic")
                .from(of("parcel.inner-width", &self.wall.from)),
            Entry::number(
                "parcel.girth",
                "girth of the box: twice its two shorter sides",
                self.girth().cm(),
                "cm",
            )
            .by(
                "g = 2 (a + b)",
                format!("2 × ({a} + {b}) = {} cm", cm(self.girth())),
            )
            .source("the box rule of carriers' size pages; the carrier's own rule decides")
            .from(["parcel.length", "parcel.width"]),
            Entry::number(
                "parcel.length-and-girth",
                "longest side and girth together",
                self.length_and_girth().cm(),
                "cm",
            )
            .by(
                "s = l + g",
                format!(
                    "{longest} + {} = {} cm",
                    cm(self.girth()),
                    cm(self.length_and_girth())
                ),
            )
            .source("the box rule of carriers' size pages; the carrier's own rule decides")
            .from(["parcel.length", "parcel.girth"]),
            Entry::number(
                "parcel.tape-girth",
                "girth of the bare roll by tape",
                PI * wound.by_turn.widest / 10.0,
                "cm",
            )
            .by(
                "g = π D",
                format!("π × {d} mm; by the box rule the same roll has 4 × {d} mm"),
            )
            .source("elementary geometry; many carriers take the box around a tube")
            .from(["roll.widest"]),
            Entry::number(
                "parcel.tape-length-and-girth",
                "length of the tube and girth by tape together",
                way.tube_length.value.cm() + PI * wound.by_turn.widest / 10.0,
                "cm",
            )
            .by(
                "s = T + π D",
                format!(
                    "{} mm + π × {d} mm",
                    significant(way.tube_length.value.mm(), 6)
                ),
            )
            .source("elementary geometry; many carriers take the box around a tube")
            .from(["roll.tube-length", "parcel.tape-girth"]),
            Entry::number(
                "parcel.volumetric-mass",
                "volume of the box counted as mass",
                self.volumetric_kg,
                "kg",
            )
            .by(
                "m = l w h / k, in cm and cm³ a kilogram",
                format!(
                    "{} × {} × {} / {} ({}) = {} kg",
                    cm(long),
                    cm(wide),
                    cm(wide),
                    self.divisor.0,
                    if self.divisor.1 { "as said" } else { "assumed" },
                    significant(self.volumetric_kg, 4)
                ),
            )
            .source("carriers' arithmetic; divisor and rounding are the carrier's")
            .from(
                ["parcel.length", "parcel.width"]
                    .into_iter()
                    .chain(self.divisor.1.then_some("packing.divisor")),
            ),
        ];
        if let Some(mass) = &self.mass {
            let (what, how) = if self.with_packing {
                ("mass of the parcel", "piece + packing as weighed")
            } else {
                (
                    "mass of the piece alone, without tube, wrapping and box",
                    "piece; the packing has not been weighed",
                )
            };
            all.push(
                Entry::uncertain("parcel.mass", what, &mass.number().times(1e-3), "kg")
                    .by(how, format!("{} kg", significant(mass.value.kg(), 5)))
                    .source("arithmetic")
                    .from(mass.from.clone())
                    .caution("A long roll over some 20 kg is for two people at least (common practice, no source)."),
            );
        }
        all
    }
}

/// Girth of a box, twice its two shorter sides, and the same with its longest side added.
fn girth(mut sides: [Length; 3]) -> (Length, Length) {
    sides.sort_by(|a, b| b.mm().total_cmp(&a.mm()));
    let girth = (sides[1] + sides[2]) * 2.0;
    (girth, sides[0] + girth)
}

/// Kilograms for a volume at so many cubic centimetres each.
fn volumetric_kg(a: Length, b: Length, c: Length, divisor: f64) -> f64 {
    a.cm() * b.cm() * c.cm() / divisor
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_has_the_girth_of_the_published_examples() {
        let of = |sides: [f64; 3]| {
            let (g, s) = girth(sides.map(Length::from_mm));
            (g.mm(), s.mm())
        };
        // Source, published: carriers' size pages, three worked boxes: 60 × 40 × 35 cm has girth 150 and 210
        // with its length.
        assert_eq!(of([40.0, 60.0, 35.0]), (150.0, 210.0));
        // Source, published: the same for 50 × 40 × 30 in: 140 and 190.
        assert_eq!(of([50.0, 40.0, 30.0]), (140.0, 190.0));
        // Source, published: the same for 12 × 8 × 5 in: 26 and 38.
        assert_eq!(of([5.0, 8.0, 12.0]), (26.0, 38.0));
    }

    #[test]
    fn volume_counts_as_mass() {
        // Source, exact case: 190 × 18 × 18 cm over 5000 is 12.312 kg.
        let [l, w] = [1900.0, 180.0].map(Length::from_mm);
        assert!((volumetric_kg(l, w, w, 5000.0) - 12.312).abs() < 1e-9);
        // Source, exact case: a tube of 180 mm and 1900 mm: 2620 mm by the box, 2465 mm by the tape.
        assert!((girth([l, w, w]).1.mm() - 2620.0).abs() < 1e-9);
        assert!((1900.0 + PI * 180.0 - 2465.0_f64).abs() < 0.6);
    }
}
