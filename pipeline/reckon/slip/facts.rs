//! The figures of a record that bear on each other, as plain numbers: what the slip finder holds
//! against each other and changes one at a time.

use super::candidate::imperial;
use crate::quantity::{Dimension, Length, Reading};
use crate::record::{At, Piece, Used};

/// A number with its relative standard uncertainty, as far as the writing tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Value {
    pub v: f64,
    /// Relative.
    pub u: f64,
}

impl Value {
    pub fn of<D: Dimension>(reading: &Reading<D>) -> Value {
        let v = reading.value.base();
        let u = reading.standard_uncertainty().base();
        Value {
            v,
            u: if v > 0.0 { u / v } else { 0.0 },
        }
    }

    pub fn exact(v: f64) -> Value {
        Value { v, u: 0.0 }
    }
}

/// The shape of the piece in its front photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shape {
    /// Width over height.
    pub ratio: f64,
    /// Relative standard uncertainty of the ratio.
    pub doubt: f64,
}

/// Lengths in mm, masses in g, sett in ends a mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Facts {
    pub ends: Option<Value>,
    pub sett: Option<Value>,
    pub loom_width: Option<Value>,
    pub woven: Option<Value>,
    pub warp_length: Option<Value>,
    pub hems: [Option<Value>; 2],
    pub tails: f64,
    pub heights: Vec<Value>,
    pub widths: Vec<Value>,
    pub diagonals: Option<[Value; 2]>,
    pub thickness: Option<Value>,
    pub mass: Option<Value>,
    pub warp_tex: Option<Value>,
    /// All weft together, where every yarn's mass is known.
    pub weft: Option<f64>,
    /// Yarns whose mass comes out as nothing or less.
    pub negative: u32,
    /// The yarn furthest from the usual one, see [`odd`].
    pub oddest: f64,
    /// All parts together, where every part's mass is known.
    pub parts: Option<f64>,
    /// The greatest height noted.
    pub last_height: Option<Value>,
    /// All hours, where every day has them and the notes do not break off.
    pub hours: Option<f64>,
    /// How many of the record's lengths and masses are in inches, ounces and pounds, 0 to 1.
    pub imperial_share: f64,
    pub sideways: bool,
    pub photo: Option<Shape>,
}

/// How odd a yarn's mass is beside the others', in standard deviations. Accents of a few grams stand
/// beside grounds of a kilogram: the spread is wide (own rule).
pub(super) fn odd(g: f64, usual: f64) -> f64 {
    if g > 0.0 && usual > 0.0 {
        (libm::log(g / usual) / 1.4).abs()
    } else {
        0.0
    }
}

/// The mass in the middle of all known ones.
pub(super) fn usual(all: &[Option<f64>]) -> f64 {
    let mut known: Vec<f64> = all.iter().flatten().copied().filter(|g| *g > 0.0).collect();
    known.sort_by(f64::total_cmp);
    known.get(known.len() / 2).copied().unwrap_or(0.0)
}

/// Grams of a weft yarn in the piece.
pub(super) fn grams(used: &Used, tex: Option<f64>) -> Option<f64> {
    match used {
        Used::Given(m) => Some(m.value.value.g()),
        Used::Weighed(s) => Some(s.before.value.value.g() - s.after.value.value.g()),
        // mm × g/km = 10⁻⁶ g.
        Used::Reeled(l) => Some(l.value.value.mm() * tex? * 1e-6),
    }
}

pub(super) fn tex(count: &Option<At<crate::quantity::YarnCount>>) -> Option<f64> {
    count.as_ref().map(|c| c.resultant.tex())
}

impl Facts {
    pub fn of(piece: &Piece, photo: Option<Shape>) -> Facts {
        let length = |r: &Option<At<Reading<Length>>>| r.as_ref().map(|r| Value::of(&r.value));
        let (l, m) = (&piece.loom, &piece.measured);
        let each: Vec<Option<f64>> = piece
            .weft
            .iter()
            .map(|w| grams(w.used.as_ref()?, tex(&w.count)))
            .collect();
        let parts: Option<Vec<f64>> = piece
            .parts
            .iter()
            .map(|p| p.used.as_ref().map(|u| u.value.value.g()))
            .collect();
        let hems = l.hems.as_ref();
        let woven = length(&l.woven);
        let last_height = last_height(piece);
        Facts {
            ends: l.ends.as_ref().map(|e| Value::exact(f64::from(e.value))),
            sett: l.sett.as_ref().map(|s| Value {
                v: s.value.value.base() / 1000.0,
                u: Value::of(&s.value).u,
            }),
            loom_width: length(&l.width),
            woven,
            warp_length: length(&l.warp_length),
            hems: [
                hems.and_then(|h| length(&h.start)),
                hems.and_then(|h| length(&h.finish)),
            ],
            tails: length(&l.tails).map_or(0.0, |t| 2.0 * t.v),
            heights: m.height.iter().map(|r| Value::of(&r.value)).collect(),
            widths: m.width.iter().map(|r| Value::of(&r.value)).collect(),
            diagonals: m
                .diagonals
                .as_ref()
                .map(|[p, q]| [Value::of(&p.value), Value::of(&q.value)]),
            thickness: length(&m.thickness),
            mass: m.mass.as_ref().map(|m| Value::of(&m.value)),
            warp_tex: tex(&piece.warp.count).map(Value::exact),
            negative: each.iter().flatten().filter(|g| **g <= 0.0).count() as u32,
            oddest: {
                let usual = usual(&each);
                let known = each.iter().flatten();
                known.map(|g| odd(*g, usual)).fold(0.0, f64::max)
            },
            weft: each
                .into_iter()
                .collect::<Option<Vec<f64>>>()
                .map(|all| all.iter().sum()),
            parts: parts.map(|all| all.iter().sum()),
            hours: hours(piece, woven, last_height),
            last_height,
            imperial_share: imperial_share(piece),
            sideways: piece.top().sideways(),
            photo,
        }
    }

    pub fn height(&self) -> Option<f64> {
        mean(&self.heights)
    }

    pub fn width(&self) -> Option<f64> {
        mean(&self.widths)
    }

    /// Finished extents across and along the warp.
    pub fn laid(&self) -> Option<(f64, f64)> {
        let (h, w) = (self.height()?, self.width()?);
        Some(if self.sideways { (h, w) } else { (w, h) })
    }

    /// mm².
    pub fn area(&self) -> Option<f64> {
        Some(self.height()? * self.width()?)
    }

    pub fn both_hems(&self) -> f64 {
        self.hems.iter().flatten().map(|h| h.v).sum()
    }

    /// Warp in the piece, grams.
    pub fn warp(&self) -> Option<f64> {
        let ends = self
            .ends
            .map(|e| e.v)
            .or_else(|| Some(self.sett?.v * self.loom_width?.v))?;
        let length = self.woven?.v + self.both_hems() + self.tails;
        Some(ends * length * self.warp_tex?.v * 1e-6)
    }

    /// Warp, weft and parts, grams.
    pub fn predicted(&self) -> Option<f64> {
        Some(self.warp()? + self.weft? + self.parts?)
    }
}

fn mean(all: &[Value]) -> Option<f64> {
    (!all.is_empty()).then(|| all.iter().map(|x| x.v).sum::<f64>() / all.len() as f64)
}

fn imperial_share(piece: &Piece) -> f64 {
    let (l, m) = (&piece.loom, &piece.measured);
    let lengths = [&l.width, &l.woven, &l.warp_length];
    let lengths = lengths.into_iter().flatten().map(|r| &r.value.text);
    let measured = m.height.iter().chain(&m.width).map(|r| &r.value.text);
    let masses = piece.weft.iter().filter_map(|w| match w.used.as_ref()? {
        Used::Given(r) => Some(&r.value.text),
        Used::Weighed(s) => Some(&s.before.value.text),
        Used::Reeled(_) => None,
    });
    let scale = m.mass.iter().map(|r| &r.value.text);
    let texts: Vec<&String> = lengths.chain(measured).chain(masses).chain(scale).collect();
    let imperial = texts.iter().filter(|t| imperial(t)).count();
    if texts.is_empty() {
        0.5
    } else {
        imperial as f64 / texts.len() as f64
    }
}

fn last_height(piece: &Piece) -> Option<Value> {
    piece
        .notes
        .entries
        .iter()
        .filter_map(|n| n.height.as_ref())
        .map(|h| Value::of(&h.value))
        .max_by(|a, b| a.v.total_cmp(&b.v))
}

/// Hours noted, if there are some on every day and the heights, where noted, come near the end.
fn hours(piece: &Piece, woven: Option<Value>, last: Option<Value>) -> Option<f64> {
    let entries = &piece.notes.entries;
    let all: Option<Vec<f64>> = entries
        .iter()
        .map(|n| n.hours.as_ref().map(|h| h.value.value.hours()))
        .collect();
    let breaks_off = woven.zip(last).is_some_and(|(w, l)| l.v < 0.9 * w.v);
    all.filter(|a| !a.is_empty() && !breaks_off)
        .map(|a| a.iter().sum::<f64>())
        .filter(|h| *h > 0.0)
}
