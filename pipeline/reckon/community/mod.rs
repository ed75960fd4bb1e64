//! A piece made by many: who made which square, how large the wall should be by its squares, and what a square weighs.

mod order;

pub use order::{in_order, sorted_by};

use super::Reckoning;
use super::ledger::Entry;
use super::printed::printed;
use super::uncertain::Uncertain;
use crate::quantity::{Dimension, Length, Reading};
use crate::record::{At, Makers, Piece, Square, Squares};
use std::collections::{BTreeMap, BTreeSet};
use unicode_normalization::UnicodeNormalization;

/// A name as names are compared: composed, in small letters, with single blanks.
pub fn folded(name: &str) -> String {
    let low: String = name.nfc().collect::<String>().to_lowercase();
    low.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Squares of the wall that the map does not name, row by row; none where there are more than anybody sews together.
pub fn missing(squares: &Squares) -> Vec<(u32, u32)> {
    if squares.count().is_none() {
        return Vec::new();
    }
    let named: BTreeSet<(u32, u32)> = squares.made.iter().map(|s| (s.row, s.column)).collect();
    (1..=squares.rows.value)
        .flat_map(|row| (1..=squares.columns.value).map(move |column| (row, column)))
        .filter(|at| !named.contains(at))
        .collect()
}

/// A side of the wall, mm, from so many squares of a side `one`, mm: n·a·(1 − s) + (n − 1)·f + 2·b, with the share s that
/// is lost in the wash, the seam f (below nothing where it takes) and the border b (elementary; own rule that a border is
/// sewn on last and is not washed).
pub fn extent(squares: &Squares, one: f64, count: f64) -> f64 {
    count * one * (1.0 - shrunk(squares))
        + (count - 1.0).max(0.0) * seam(squares)
        + 2.0 * border(squares)
}

fn shrunk(squares: &Squares) -> f64 {
    squares.shrinkage.as_ref().map_or(0.0, |s| s.value)
}

fn mm(reading: Option<&At<Reading<Length>>>) -> f64 {
    reading.map_or(0.0, |r| r.value.value.mm())
}

fn seam(squares: &Squares) -> f64 {
    mm(squares.seam_adds.as_ref()) - mm(squares.seam_takes.as_ref())
}

fn border(squares: &Squares) -> f64 {
    mm(squares.border.as_ref())
}

/// One of the roll, and the squares.
#[derive(Debug, Clone, PartialEq)]
pub struct Hand {
    /// The place on the roll, from 0.
    pub maker: usize,
    /// Places of the squares: row and column, from 1.
    pub squares: Vec<(u32, u32)>,
}

/// What is reckoned of a piece made by many.
#[derive(Debug, Clone, PartialEq)]
pub struct Community {
    /// Everybody on the roll, in its order. Where two share a name the squares are the first one's.
    pub hands: Vec<Hand>,
    /// Squares of makers who are not on the roll.
    pub strangers: Vec<(u32, u32)>,
    /// Squares that the map does not name.
    pub missing: Vec<(u32, u32)>,
    /// Height by the squares, mm.
    pub height: Option<Uncertain>,
    /// Width by the squares, mm.
    pub width: Option<Uncertain>,
    /// Measured less reckoned height, mm.
    pub height_differs: Option<Uncertain>,
    /// Measured less reckoned width, mm.
    pub width_differs: Option<Uncertain>,
    /// Mass of all, kg, and whether it was weighed.
    pub mass: Option<(Uncertain, bool)>,
    /// Mass over the squares, kg, with lining, heading and border in it.
    pub mass_a_square: Option<Uncertain>,
    /// Weight on each metre of the upper edge, N/m.
    pub load: Option<Uncertain>,
    entries: Vec<Entry>,
}

impl Community {
    /// Reckons it; nothing where no makers are told.
    pub fn of(piece: &Piece, reckoning: &Reckoning) -> Option<Community> {
        let makers = piece.makers.as_ref()?;
        let squares = makers.squares.as_ref();
        let (hands, strangers) = hands(makers);
        let mut entries = Vec::new();
        let height = squares.and_then(|s| side(s, s.rows.value, "height", &mut entries));
        let width = squares.and_then(|s| side(s, s.columns.value, "width", &mut entries));
        let measured =
            |m: &Uncertain, by: &Option<Uncertain>, name: &str, entries: &mut Vec<Entry>| {
                let by = by.as_ref()?;
                let off = m - by;
                entries.push(
                    Entry::uncertain(
                        format!("community.{name}_differs"),
                        format!("measured {name} less {name} by the squares"),
                        &off,
                        "mm",
                    )
                    .by(
                        "measured − by the squares",
                        format!(
                            "{} − {}",
                            printed(m.value, Some(m.u())),
                            printed(by.value, Some(by.u()))
                        ),
                    )
                    .source("elementary")
                    .from([format!("measured.{name}"), format!("community.{name}")]),
                );
                Some(off)
            };
        let height_differs = measured(
            reckoning.size.height.number(),
            &height,
            "height",
            &mut entries,
        );
        let width_differs = measured(reckoning.size.width.number(), &width, "width", &mut entries);
        let masses = &reckoning.masses;
        let mass = masses
            .stated()
            .map(|m| (m.number().times(1e-3), masses.weighed.is_some()));
        let count = squares.and_then(Squares::count).map(f64::from);
        let mass_a_square = mass.as_ref().zip(count).map(|((all, _), n)| {
            let one = all.times(1.0 / n);
            entries.push(
                Entry::uncertain(
                    "community.mass_a_square",
                    "mass over the number of squares, with lining, heading and border in it",
                    &one,
                    "kg",
                )
                .by(
                    "mass / (rows × columns)",
                    format!("{} / {n}", printed(all.value, Some(all.u()))),
                )
                .source("elementary")
                .from(["mass", "makers.squares.rows", "makers.squares.columns"]),
            );
            one
        });
        let load = reckoning.hanging.as_ref().map(|h| h.load.line.clone());
        if let Some(load) = &load {
            entries.push(
                Entry::uncertain(
                    "community.load",
                    "weight on each metre of the upper edge",
                    load,
                    "N/m",
                )
                .by("mass × 9.80665 m/s² / width", "as in hanging.load")
                .source("third General Conference on Weights and Measures, 1901")
                .from(["hanging.load"])
                .caution(crate::reckon::caution::OVERHEAD),
            );
        }
        Some(Community {
            hands,
            strangers,
            missing: squares.map(missing).unwrap_or_default(),
            height,
            width,
            height_differs,
            width_differs,
            mass,
            mass_a_square,
            load,
            entries,
        })
    }

    /// Every figure with its formula.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }
}

/// A side of the wall by its squares, mm.
fn side(squares: &Squares, count: u32, name: &str, entries: &mut Vec<Entry>) -> Option<Uncertain> {
    let read = |r: &At<Reading<Length>>, source: &str| {
        Uncertain::input(
            r.value.value.base(),
            r.value.standard_uncertainty().base(),
            format!("makers.squares.{source}"),
        )
    };
    let a = read(squares.side.as_ref()?, "side");
    let n = f64::from(count);
    let mut all = a.times(n * (1.0 - shrunk(squares)));
    let mut formula = "n·a·(1 − s)".to_string();
    let mut worked = format!(
        "{n} × {} × (1 − {})",
        printed(a.value, None),
        shrunk(squares)
    );
    let seams = [
        (&squares.seam_takes, "seam_takes", -1.0, "−"),
        (&squares.seam_adds, "seam_adds", 1.0, "+"),
    ];
    for (reading, source, sign, mark) in seams {
        if let Some(reading) = reading {
            let f = read(reading, source);
            all = &all + &f.times(sign * (n - 1.0));
            formula.push_str(&format!(" {mark} (n − 1)·f"));
            worked.push_str(&format!(" {mark} {} × {}", n - 1.0, printed(f.value, None)));
        }
    }
    if let Some(reading) = &squares.border {
        let b = read(reading, "border");
        all = &all + &b.times(2.0);
        formula.push_str(" + 2·b");
        worked.push_str(&format!(" + 2 × {}", printed(b.value, None)));
    }
    entries.push(
        Entry::uncertain(
            format!("community.{name}"),
            format!("{name} by the squares, their seams and border"),
            &all,
            "mm",
        )
        .by(formula, worked)
        .source("elementary; own rule that a border is sewn on last and is not washed")
        .from(["makers.squares"]),
    );
    Some(all)
}

fn hands(makers: &Makers) -> (Vec<Hand>, Vec<(u32, u32)>) {
    let mut hands: Vec<Hand> = (0..makers.roll.len())
        .map(|maker| Hand {
            maker,
            squares: Vec::new(),
        })
        .collect();
    let mut by_name: BTreeMap<String, usize> = BTreeMap::new();
    for (i, maker) in makers.roll.iter().enumerate() {
        by_name.entry(folded(&maker.name)).or_insert(i);
    }
    let mut strangers = Vec::new();
    let squares: Vec<&Square> = makers
        .squares
        .iter()
        .flat_map(|s| s.made.iter().filter(|m| s.has(m)))
        .collect();
    for square in squares {
        for name in &square.makers {
            match by_name.get(&folded(name)).and_then(|i| hands.get_mut(*i)) {
                Some(hand) => hand.squares.push((square.row, square.column)),
                None => strangers.push((square.row, square.column)),
            }
        }
    }
    for hand in &mut hands {
        hand.squares.sort_unstable();
        hand.squares.dedup();
    }
    (hands, strangers)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::{piece_from, studio_from};

    fn reckoned(squares: &str) -> Community {
        let text = format!(
            "title: Low Water\nmade: 2026\nwarp: {{yarn: twine}}\nweft: [{{name: green}}]\nmeasured: {{height: 246 cm, width: 366 cm, mass: 9.6 kg}}\nmakers: {{roll: [{{name: Ada Quill}}], squares: {{{squares}}}}}\n"
        );
        let (piece, found) = piece_from("p", &"piece.yaml".into(), &text);
        assert!(found.is_empty(), "{found:?}");
        let (studio, _) = studio_from(&"studio.yaml".into(), "studio: S\nweaver: W\n");
        let piece = piece.unwrap();
        let reckoning = Reckoning::of(&studio.unwrap(), &piece);
        Community::of(&piece, &reckoning).unwrap()
    }

    #[test]
    fn the_wall_is_as_large_as_its_squares_seams_and_border() {
        let c = reckoned(
            "rows: 8, columns: 12, side: 30 cm, shrinkage: 3 %, seam_takes: 8 mm, border: 5 cm",
        );
        // Source, exact case: 8 × 300 × 0.97 − 7 × 8 + 2 × 50 = 2372; 12 × 300 × 0.97 − 11 × 8 + 100 = 3504.
        assert!((c.height.unwrap().value - 2372.0).abs() < 1e-9);
        assert!((c.width.unwrap().value - 3504.0).abs() < 1e-9);
        // Source, exact case: 2460 − 2372 = 88.
        assert!((c.height_differs.unwrap().value - 88.0).abs() < 1e-9);
        // Source, exact case: 9.6 kg over 96 squares.
        assert!((c.mass_a_square.unwrap().value - 0.1).abs() < 1e-12);
        // Source, exact case: 9.6 × 9.80665 N over 3.66 m.
        assert!((c.load.unwrap().value - 9.6 * 9.80665 / 3.66).abs() < 1e-6);
        let c = reckoned("rows: 8, columns: 12, side: 30 cm, seam_adds: 8 mm");
        // Source, exact case: 2400 + 56.
        assert!((c.height.unwrap().value - 2456.0).abs() < 1e-9);
    }

    #[test]
    fn names_are_the_same_in_whatever_way_they_are_typed() {
        // Source, published: UAX #15: U+00E9 is U+0065 U+0301 in form D.
        assert_eq!(folded("Ren\u{e9}e  Quill"), folded("rene\u{301}e quill"));
    }
}
