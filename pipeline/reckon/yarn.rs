//! Every yarn of the piece, brought to one measure of thickness.

use super::ledger::Entry;
use super::printed::significant;
use crate::quantity::{CountSystem, YarnCount};
use crate::record::{At, Piece};

/// A yarn and its mass per length.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Her name for it.
    pub name: String,
    /// The count as written.
    pub count: Option<String>,
    /// How many singles are plied, as far as the count says.
    pub plies: Option<u32>,
    /// Mass per length of the yarn as used, in tex (ISO 1144), by the count system's definition.
    pub tex: Option<f64>,
    system: Option<CountSystem>,
}

impl Yarn {
    /// Warp and weft in the order of the record.
    pub fn all(piece: &Piece) -> Vec<Yarn> {
        let name = |given: &Option<At<String>>, otherwise: String| {
            given.as_ref().map_or(otherwise, |n| n.value.clone())
        };
        let mut all = vec![Yarn::of(
            name(&piece.warp.yarn, "warp".to_string()),
            &piece.warp.count,
        )];
        for (i, weft) in piece.weft.iter().enumerate() {
            all.push(Yarn::of(
                name(&weft.name, format!("weft {}", i + 1)),
                &weft.count,
            ));
        }
        all
    }

    fn of(name: String, count: &Option<At<YarnCount>>) -> Yarn {
        Yarn {
            name,
            count: count.as_ref().map(|c| c.text.clone()),
            plies: count.as_ref().map(|c| c.plies),
            tex: count.as_ref().map(|c| c.resultant.tex()),
            system: count.as_ref().map(|c| c.system),
        }
    }

    /// The ledger's entries for the yarns in the order of [`Yarn::all`]: tex and metres to the
    /// kilogram of each.
    pub fn entries(all: &[Yarn]) -> Vec<Entry> {
        let mut out = Vec::new();
        for (i, yarn) in all.iter().enumerate() {
            let (Some(tex), Some(count)) = (yarn.tex, &yarn.count) else {
                continue;
            };
            let (key, field) = match i {
                0 => ("warp".to_string(), "warp.count".to_string()),
                n => (format!("weft-{n}"), format!("weft[{}].count", n - 1)),
            };
            let (formula, source) = yarn.system.map_or(("", ""), by_definition);
            let tex_said = significant(tex, 6);
            out.push(
                Entry::number(
                    format!("yarn.{key}.tex"),
                    format!("mass per length of {} as used, plies together", yarn.name),
                    tex,
                    "tex",
                )
                .by(formula, format!("{count} = {tex_said} g/km"))
                .source(source)
                .from([field.clone()]),
            );
            out.push(
                Entry::number(
                    format!("yarn.{key}.metres"),
                    format!("metres of {} to the kilogram", yarn.name),
                    1e6 / tex,
                    "m/kg",
                )
                .by(
                    "1 000 000 / tex",
                    format!(
                        "1 000 000 / {tex_said} = {} m/kg",
                        significant(1e6 / tex, 5)
                    ),
                )
                .source("definition of tex (ISO 1144)")
                .from([field]),
            );
        }
        out
    }
}

fn by_definition(system: CountSystem) -> (&'static str, &'static str) {
    match system {
        CountSystem::Tex => ("g/km as written", "definition of tex (ISO 1144)"),
        CountSystem::Denier => ("den / 9", "definition of the denier: grams in 9 km"),
        CountSystem::Metric => (
            "plies × 1000 / count",
            "definition of the metric count: kilometres to the kilogram",
        ),
        CountSystem::Cotton => (
            "plies × 590.5412 / count",
            "hanks of 840 yd to the pound (ASTM D2260; Brooks, Cotton Manufacturing)",
        ),
        CountSystem::Worsted => (
            "plies × 885.8119 / count",
            "hanks of 560 yd to the pound (ASTM D2260; Brooks, Cotton Manufacturing)",
        ),
        CountSystem::LinenLea => (
            "plies × 1653.5155 / count",
            "leas of 300 yd to the pound (ASTM D2260; Brooks, Cotton Manufacturing)",
        ),
        CountSystem::SpunSilk => (
            "590.5412 / count, whatever the plies",
            "hanks of 840 yd to the pound of the plied yarn (Taylor, Cotton Weaving and Designing; Brooks)",
        ),
        CountSystem::WoollenRun => (
            "plies × 310.0342 / count",
            "runs of 1600 yd to the pound (ASTM D2260)",
        ),
        CountSystem::YorkshireSkein => (
            "plies × 1937.7135 / count",
            "skeins of 256 yd to the pound (handbooks of woollen spinning)",
        ),
        CountSystem::Spyndle => (
            "34.4482 × lb/spyndle",
            "definition of the jute count: pounds to 14 400 yd",
        ),
        CountSystem::LengthPerMass => (
            "1 000 000 / (m/kg); 1 m/kg = 0.496055 yd/lb",
            "1 yd = 0.9144 m and 1 lb = 453.59237 g exactly",
        ),
    }
}
