//! Slips in what tape and scale said of the finished piece, and in which way up it hangs.

use super::candidate::{Desk, Kind, LENGTHS, MASSES};
use super::facts::{Facts, Value};
use super::rewriting::{Pen, others};
use crate::record::Piece;

/// Where a list of readings stands among the facts.
type List = fn(&mut Facts) -> &mut Vec<Value>;

impl Desk<'_> {
    pub(super) fn measured(&mut self, piece: &Piece) {
        let m = &piece.measured;
        let heights: List = |f| &mut f.heights;
        let widths: List = |f| &mut f.widths;
        for (name, readings, list) in [("height", &m.height, heights), ("width", &m.width, widths)]
        {
            for (i, r) in readings.iter().enumerate() {
                let field = format!("measured.{name}[{i}]");
                let label = if readings.len() == 1 {
                    format!("the measured `{name}`")
                } else {
                    format!("`{name}` number {}", i + 1)
                };
                self.reading(&field, &label, r, LENGTHS, |f, v| list(f)[i] = v);
            }
            // A whole list written in the wrong unit.
            if readings.len() > 1 {
                for unit in LENGTHS {
                    let whole: Option<Vec<Value>> = readings
                        .iter()
                        .map(|r| {
                            let all = others(&r.value, &[unit]);
                            all.iter()
                                .find(|(pen, _)| *pen == Pen::Unit)
                                .map(|(_, r)| Value::of(r))
                        })
                        .collect();
                    if let (Some(whole), Some(first)) = (whole, readings.first()) {
                        let mut facts = self.facts.clone();
                        *list(&mut facts) = whole;
                        let words = format!("every `{name}` is in {}", spelled(unit));
                        let field = format!("measured.{name}");
                        self.add(Kind::Unit, &field, &first.place, words, facts);
                    }
                }
            }
        }
        if let Some(diagonals) = &m.diagonals {
            for (i, r) in diagonals.iter().enumerate() {
                let label = format!("diagonal number {}", i + 1);
                self.reading(
                    &format!("measured.diagonals[{i}]"),
                    &label,
                    r,
                    LENGTHS,
                    |f, v| {
                        if let Some(d) = &mut f.diagonals {
                            d[i] = v;
                        }
                    },
                );
            }
        }
        if let Some([p, q]) = &m.diagonals {
            for unit in LENGTHS {
                let other = |r: &crate::quantity::Reading<crate::quantity::Length>| {
                    let all = others(r, &[unit]);
                    let found = all.iter().find(|(pen, _)| *pen == Pen::Unit);
                    found.map(|(_, r)| Value::of(r))
                };
                if let (Some(a), Some(b)) = (other(&p.value), other(&q.value)) {
                    let mut facts = self.facts.clone();
                    facts.diagonals = Some([a, b]);
                    let words = format!("both `diagonals` are in {}", spelled(unit));
                    self.add(Kind::Unit, "measured.diagonals", &p.place, words, facts);
                }
            }
        }
        if let Some(r) = &m.thickness {
            self.reading("measured.thickness", "`thickness`", r, LENGTHS, |f, v| {
                f.thickness = Some(v);
            });
        }
        if let Some(r) = &m.mass {
            self.reading("measured.mass", "`mass`", r, MASSES, |f, v| {
                f.mass = Some(v)
            });
        }
        if let Some(first) = m.height.first() {
            let mut facts = self.facts.clone();
            std::mem::swap(&mut facts.heights, &mut facts.widths);
            let words = "the measured `height` and `width` have changed places".to_string();
            self.add(Kind::HeightWidth, "measured", &first.place, words, facts);
            // The hem measured with the face, along the warp.
            let hems = self.facts.both_hems();
            if hems > 0.0 {
                let mut facts = self.facts.clone();
                let (list, name) = if facts.sideways {
                    (&mut facts.widths, "width")
                } else {
                    (&mut facts.heights, "height")
                };
                for reading in list.iter_mut() {
                    reading.v -= hems;
                }
                let words = format!("the measured `{name}` counts the hems and should not");
                let field = format!("measured.{name}");
                self.add(Kind::Hems, &field, &first.place, words, facts);
            }
        }
        let mut facts = self.facts.clone();
        facts.sideways = !facts.sideways;
        let place = piece.top.as_ref().map_or(&self.file, |t| &t.place).clone();
        let words = if self.facts.sideways {
            "`top` is `finish` or `start`: it hangs as it was woven"
        } else {
            "`top` is `left` or `right`: it hangs on its side"
        };
        self.add(Kind::Top, "top", &place, words.to_string(), facts);
    }
}

/// A unit in words, for a sentence that ends with it.
fn spelled(unit: &str) -> &str {
    match unit {
        "mm" => "millimetres",
        "cm" => "centimetres",
        "m" => "metres",
        "in" => "inches",
        other => other,
    }
}
