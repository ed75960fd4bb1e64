//! What hangs: weight, load along the width, and how it lies where the mass is uneven.

use super::beam::Spread;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, Masses, Size, Uncertain, significant};
use crate::record::Piece;

/// Standard acceleration of free fall, m/s² (third General Conference on Weights and Measures, 1901).
/// True gravity is within 0.3 % of it wherever people weave.
pub const GRAVITY: f64 = 9.806_65;

/// The load of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Load {
    /// Mass as stated, kg.
    pub mass: Uncertain,
    /// Weight, N.
    pub weight: Uncertain,
    /// The greatest width, mm.
    pub width: Uncertain,
    /// Weight over width, N/m.
    pub line: Uncertain,
    /// How far the centre of mass lies to the right of the middle, mm.
    pub off_centre: f64,
    mass_from: Vec<String>,
}

impl Load {
    /// The load; `None` without a mass or a width.
    pub fn of(piece: &Piece, size: &Size, masses: &Masses) -> Option<Load> {
        let stated = masses.stated()?;
        let mass = stated.number().times(1e-3);
        let width = size.width.number().clone();
        if !(mass.value > 0.0 && width.value > 0.0) {
            return None;
        }
        let weight = mass.times(GRAVITY);
        let off_centre = piece
            .hanging
            .as_ref()
            .and_then(|h| h.centre_of_mass.as_ref());
        Some(Load {
            line: (&weight / &width).times(1000.0),
            off_centre: off_centre.map_or(0.0, |c| c.value.by.mm()),
            mass_from: stated.from.clone(),
            mass,
            weight,
            width,
        })
    }

    /// How a weight of 1 N lies on a bar of such a length, N/mm: the piece hangs in the middle of the bar;
    /// where the bar is shorter, all of it is carried on the bar's length. See [`uneven`].
    pub fn on_bar(&self, length: f64) -> Option<Spread> {
        let loaded = self.width.value.min(length);
        uneven((length - loaded) / 2.0, loaded, self.off_centre)
    }

    /// The ledger's entries; `bar` is the bar's length, mm, where one is written.
    pub fn entries(&self, bar: Option<f64>) -> Vec<Entry> {
        let (m, w, b) = (self.mass.value, self.weight.value, self.width.value);
        let weight = Entry::uncertain(
            "hanging.weight",
            "what the piece weighs on its support",
            &self.weight,
            "N",
        )
        .by(
            "W = m g",
            format!("{} kg · 9.80665 m/s²", significant(m, 5)),
        )
        .source("standard gravity, third General Conference on Weights and Measures, 1901")
        .from(self.mass_from.clone())
        .caution(OVERHEAD);
        let line = Entry::uncertain(
            "hanging.line-load",
            "weight on each metre of the greatest width",
            &self.line,
            "N/m",
        )
        .by(
            "w = W / width",
            format!("{} N / {} m", significant(w, 5), significant(b / 1000.0, 5)),
        )
        .source("statics; the weight taken as evenly spread along the width")
        .from(["hanging.weight", "measured.width"])
        .caution(OVERHEAD);
        let mut all = vec![weight, line];
        if self.off_centre != 0.0 {
            let c = self.off_centre;
            let on = b.min(bar.unwrap_or(b));
            let edge = |sign: f64| w / on * 1000.0 * (1.0 + sign * 6.0 * c / on);
            let words = if self.on_bar(on).is_none() {
                "lies beside the piece: nothing is reckoned of a bar".to_string()
            } else if c.abs() * 6.0 <= on {
                format!(
                    "the load is taken to change evenly from {} N/m at the left to {} N/m at the right",
                    significant(edge(-1.0), 4),
                    significant(edge(1.0), 4)
                )
            } else {
                format!(
                    "so far aside that the load is taken as a triangle over the {} {} mm, nothing beside them",
                    if c > 0.0 { "right" } else { "left" },
                    significant(3.0 * (on / 2.0 - c.abs()), 4)
                )
            };
            all.push(
                Entry::words(
                    "hanging.uneven-load",
                    "how an uneven mass lies on the bar",
                    words,
                )
                .by(
                    "W / l (1 ± 6 c / l) at the edges, c from the middle to the centre of mass, l the width on the bar",
                    format!("c = {} mm, l = {} mm", significant(c, 4), significant(on, 5)),
                )
                .source("statics of a load that changes evenly; own rule that it does")
                .from(["hanging.centre_of_mass", "hanging.line-load"])
                .caution(OVERHEAD),
            );
        }
        all
    }
}

/// A load of 1 N over `loaded` mm from `from` on whose centre lies `off` to the right of its middle. Up to a
/// sixth it changes evenly from edge to edge, (1 ± 6c/ℓ)/ℓ; beyond, it would be below zero at one edge, so
/// it is a triangle over 3(ℓ/2 − |c|) at the other, as under a footing that can not pull. `None` where the
/// centre lies beside the piece.
pub fn uneven(from: f64, loaded: f64, off: f64) -> Option<Spread> {
    let to = from + loaded;
    if !(loaded > 0.0 && off.abs() < loaded / 2.0) {
        return None;
    }
    let lean = 6.0 * off / loaded;
    if lean.abs() <= 1.0 {
        return Some(Spread {
            from,
            to,
            start: (1.0 - lean) / loaded,
            end: (1.0 + lean) / loaded,
        });
    }
    let base = 3.0 * (loaded / 2.0 - off.abs());
    let peak = 2.0 / base;
    Some(if off > 0.0 {
        Spread {
            from: to - base,
            to,
            start: 0.0,
            end: peak,
        }
    } else {
        Spread {
            from,
            to: from + base,
            start: peak,
            end: 0.0,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_uneven_load_has_its_centre_where_it_was_found() {
        for i in -49..=49 {
            let off = f64::from(i) * 10.0;
            let s = uneven(100.0, 1000.0, off).expect("it lies in the piece");
            let l = s.to - s.from;
            let centre = s.from + l / 3.0 * (s.start + 2.0 * s.end) / (s.start + s.end);
            // Source, exact case: the centroid of a trapezium, l/3 (a + 2b)/(a + b), and its area of 1 N.
            assert!((centre - 600.0 - off).abs() < 1e-9, "{off}: {centre}");
            assert!((s.total() - 1.0).abs() < 1e-12);
            assert!(s.start >= 0.0 && s.end >= 0.0);
        }
        for off in [500.0, -500.0, 9e9, f64::NAN] {
            assert!(uneven(0.0, 1000.0, off).is_none(), "{off}");
        }
    }
}
