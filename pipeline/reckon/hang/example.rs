//! Where no bar is written: what some common bars would do under this piece, each plainly as an example.

use super::bar::HungBar;
use super::load::Load;
use super::materials::material;
use crate::quantity::Length;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, significant};
use crate::record::{BarMaterial, BarShape};

/// Name in the ledger, words, material, shape.
type Common = (&'static str, &'static str, BarMaterial, fn() -> BarShape);

const COMMON: [Common; 4] = [
    (
        "pine-18x70",
        "a pine batten 18 × 70 mm, upright",
        BarMaterial::Pine,
        || flat(18.0, 70.0),
    ),
    (
        "oak-18x70",
        "an oak batten 18 × 70 mm, upright",
        BarMaterial::Oak,
        || flat(18.0, 70.0),
    ),
    (
        "pine-round-25",
        "a pine dowel of 25 mm",
        BarMaterial::Pine,
        || BarShape::Round {
            across: Length::from_mm(25.0),
        },
    ),
    (
        "aluminium-tube-25x2",
        "an aluminium tube 25 × 2 mm",
        BarMaterial::Aluminium,
        || BarShape::Tube {
            across: Length::from_mm(25.0),
            wall: Length::from_mm(2.0),
        },
    ),
];

fn flat(thick: f64, high: f64) -> BarShape {
    BarShape::Flat {
        thick: Length::from_mm(thick),
        high: Length::from_mm(high),
    }
}

/// mm below which no bar can sag to speak of, so that examples would say nothing (own rule).
const SHORT: f64 = 300.0;

/// First sags of common bars, held at their ends and at the two best places.
pub fn entries(load: &Load, length: f64) -> Vec<Entry> {
    let common = COMMON.iter().filter(|_| length >= SHORT);
    common
        .flat_map(|(name, words, stuff, shape)| {
            let stuff = material(*stuff);
            let bar = HungBar::new(load, stuff, shape(), length);
            let w = (load.weight.value + bar.weight.value) / length;
            let s = |x: f64| significant(x, 5);
            let ends = bar.ends_held.map(|sag| {
                Entry::number(format!("hanging.example.{name}.ends"), format!("for example {words}, {} mm long, held at its ends: first sag", s(length)), sag, "mm")
                    .by("s = 5 w L⁴ / (384 E I), w = (W + bar's weight) / L, where mass is even and the piece as wide as the bar",
                        format!("5 · {} · {}⁴ / (384 · {} · {})", s(w), s(length), s(stuff.stiffness), s(bar.section.inertia)))
            });
            let best = bar.best_places(load, 2).map(|(at, sag)| {
                let a = at.first().copied().unwrap_or(0.0);
                Entry::number(format!("hanging.example.{name}.best"), format!("the same held {} mm from each end: first sag", s(a)), sag, "mm")
                    .by("s = w l² (5 l² − 24 a²) / (384 E I), l between the brackets, a from the ends",
                        format!("l = {}, a = {}", s(length - 2.0 * a), s(a)))
            });
            ends.into_iter().chain(best).map(move |e| {
                e.source(format!("an example only: nothing is written of a bar; {}", stuff.source))
                    .from(["hanging.weight", "measured.width"])
                    .caution(OVERHEAD)
            })
        })
        .collect()
}
