//! What figures say of a relation, in a weaver's words.

use super::facts::{Facts, Value};
use super::relation::Relation;
use crate::reckon::printed::significant;

impl Relation {
    /// What the figures say of it, in a weaver's words.
    pub(super) fn said(self, f: &Facts) -> Option<String> {
        // In her own units.
        let inches = f.imperial_share > 0.5;
        let cm = |mm: f64| {
            if inches {
                format!("{} in", significant(mm / 25.4, 4))
            } else {
                format!("{} cm", significant(mm / 10.0, 4))
            }
        };
        let kg = |g: f64| {
            if inches {
                format!("{} lb", significant(g / 453.592_37, 3))
            } else if g < 1000.0 {
                format!("{} g", significant(g, 3))
            } else {
                format!("{} kg", significant(g / 1000.0, 3))
            }
        };
        let percent = |x: f64| format!("{} %", significant(100.0 * x, 2));
        let change = |name: &str, lost: f64| {
            if lost < 0.0 {
                format!("a gain of {}", percent(-lost))
            } else {
                format!("a {name} of {}", percent(lost))
            }
        };
        let laid = f.laid();
        Some(match self {
            Relation::EndsSettWidth => {
                let reckoned = f.sett?.v * f.loom_width?.v;
                format!(
                    "sett and width in the loom make {reckoned:.0} ends, {:.0} are counted",
                    f.ends?.v
                )
            }
            Relation::DrawIn => {
                let width = f
                    .loom_width
                    .map(|w| w.v)
                    .or_else(|| Some(f.ends?.v / f.sett?.v))?;
                let across = laid?.0;
                format!(
                    "{} in the loom became {}, {}",
                    cm(width),
                    cm(across),
                    change("draw-in", 1.0 - across / width)
                )
            }
            Relation::TakeUp => {
                let (woven, along) = (f.woven?.v, laid?.1);
                format!(
                    "{} woven became {}, {}",
                    cm(woven),
                    cm(along),
                    change("take-up", 1.0 - along / woven)
                )
            }
            Relation::WarpLength => format!(
                "{} were woven with the hems on a warp {} long",
                cm(f.woven?.v + f.both_hems()),
                cm(f.warp_length?.v)
            ),
            Relation::Mass => format!(
                "warp, weft and parts make {}, the scale says {}",
                kg(f.predicted()?),
                kg(f.mass?.v)
            ),
            Relation::MassPerArea => format!(
                "{} on {} by {} is {} a square metre",
                kg(f.mass.map(|m| m.v).or(f.predicted())?),
                cm(f.height()?),
                cm(f.width()?),
                kg(f.mass.map(|m| m.v).or(f.predicted())? / f.area()? * 1e6)
            ),
            Relation::Density => {
                let areal = f.mass.map(|m| m.v).or(f.predicted())? / f.area()?;
                format!(
                    "{} mm thick makes {} g/cm3 (0.15 to 1.2 is usual)",
                    significant(f.thickness?.v, 3),
                    significant(1000.0 * areal / f.thickness?.v, 2)
                )
            }
            Relation::Diagonals => format!(
                "a piece {} by {} has diagonals of {}, measured are {} and {}",
                cm(f.height()?),
                cm(f.width()?),
                cm(libm::hypot(f.height()?, f.width()?)),
                cm(f.diagonals?[0].v),
                cm(f.diagonals?[1].v)
            ),
            Relation::Lean => format!(
                "the diagonals are {} and {}",
                cm(f.diagonals?[0].v),
                cm(f.diagonals?[1].v)
            ),
            Relation::Heights => format!("the heights run {}", run(&f.heights, &cm)),
            Relation::Widths => format!("the widths run {}", run(&f.widths, &cm)),
            Relation::Photograph => format!(
                "width is {} times the height, in the front photograph {} times",
                significant(f.width()? / f.height()?, 3),
                significant(f.photo?.ratio, 3)
            ),
            Relation::LastHeight => format!(
                "the notes end at {}, {} were woven",
                cm(f.last_height?.v),
                cm(f.woven?.v)
            ),
            Relation::Rate => format!(
                "{} hours for {} m2 are {} cm2 an hour",
                significant(f.hours?, 4),
                significant(f.area()? / 1e6, 3),
                significant(f.area()? / 100.0 / f.hours?, 3)
            ),
            Relation::Sett => {
                let sett = f
                    .sett
                    .map(|s| s.v)
                    .or_else(|| Some(f.ends?.v / f.loom_width?.v))?;
                format!("the sett is {} ends/cm", significant(10.0 * sett, 3))
            }
            Relation::WarpYarn => format!(
                "a warp of {} tex stands at {} ends/cm",
                significant(f.warp_tex?.v, 3),
                significant(
                    10.0 * f
                        .sett
                        .map(|s| s.v)
                        .or_else(|| Some(f.ends?.v / f.loom_width?.v))?,
                    3
                )
            ),
            Relation::Extent => format!("the piece is {} by {}", cm(f.height()?), cm(f.width()?)),
            Relation::Hems => format!("the hems are {}", cm(f.both_hems())),
            Relation::Share => {
                "one yarn's mass is out of all proportion to the others'".to_string()
            }
            Relation::Used => "a yarn weighs more after than before".to_string(),
        })
    }
}

fn run(all: &[Value], said: &dyn Fn(f64) -> String) -> String {
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for x in all {
        least = least.min(x.v);
        most = most.max(x.v);
    }
    format!("from {} to {}", said(least), said(most))
}
