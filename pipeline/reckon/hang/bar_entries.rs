//! The bar's figures as entries of the ledger.

use super::bar::HungBar;
use super::load::Load;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, Uncertain, significant};

/// Where the beam's figures come from.
pub(super) const BEAM: &str = "Euler and Bernoulli's beam with Clapeyron's three-moment equations over the brackets; the bar uniform, free to turn on each bracket, the brackets level";

pub(super) fn said(x: f64) -> String {
    significant(x, 5)
}

/// Places along the bar in words, in centimetres.
pub(super) fn places(at: &[f64]) -> String {
    let all: Vec<String> = at
        .iter()
        .map(|x| significant((x / 10.0 * 10.0).round() / 10.0, 6))
        .collect();
    format!("{} cm from the left end", all.join(", "))
}

impl HungBar {
    /// The ledger's entries.
    pub fn entries(&self, load: &Load) -> Vec<Entry> {
        let mut all = vec![
            self.length_entry(),
            self.weight_entry(),
            self.inertia_entry(),
            self.stiffness_entry(),
        ];
        if let Some(held) = &self.held {
            all.extend(self.held_entries(held, load));
        }
        let total = load.weight.value + self.weight.value;
        if let Some(sag) = self.ends_held {
            let w = total / self.length;
            let (formula, worked) = if load.width.value >= self.length && load.off_centre == 0.0 {
                (
                    "s = 5 w L⁴ / (384 E I), w = (W + bar's weight) / L",
                    format!(
                        "5 · {} · {}⁴ / (384 · {} · {})",
                        said(w),
                        said(self.length),
                        said(self.material.stiffness),
                        said(self.section.inertia)
                    ),
                )
            } else {
                (
                    "greatest sag of the bar on two supports at its ends",
                    self.inputs(load),
                )
            };
            all.push(
                Entry::number(
                    "hanging.sag-ends-held",
                    "how far the bar would sag at first if held at its two ends only",
                    sag,
                    "mm",
                )
                .by(formula, worked)
                .source("structural tables")
                .from([
                    "hanging.weight",
                    "hanging.bar-weight",
                    "hanging.bar-inertia",
                    "hanging.bar-stiffness",
                ])
                .caution(OVERHEAD),
            );
        }
        if let Some((at, sag)) = &self.best {
            let n = at.len();
            all.push(
                Entry::words(
                    "hanging.best-places",
                    format!(
                        "best places for {n} brackets, where the ends and every span sag alike"
                    ),
                    places(at),
                )
                .by(
                    if n == 2 {
                        "0.22315 L from each end where the load is even all along"
                    } else {
                        "ends and spans sag alike"
                    },
                    format!("L = {} mm", said(self.length)),
                )
                .source(
                    "least-sag places; found by Newton's method, the piece's mass taken as even",
                )
                .from(["hanging.bar-length", "hanging.weight", "hanging.bar-weight"])
                .caution(OVERHEAD),
            );
            all.push(
                Entry::number(
                    "hanging.best-sag",
                    "most sag at first with the brackets at their best places",
                    *sag,
                    "mm",
                )
                .by("as hanging.sag", self.inputs(load))
                .source(BEAM)
                .from(["hanging.best-places"])
                .caution(OVERHEAD),
            );
        }
        if let Some(n) = self.needed {
            all.push(
                Entry::number("hanging.brackets-needed", "fewest brackets, at their best places, that keep the lasting sag within its limit", n as f64, "")
                    .by("first n from 2 on whose lasting sag is within hanging.sag-limit", "")
                    .source("own rule")
                    .from(["hanging.sag-limit", "hanging.best-places"])
                    .caution(OVERHEAD),
            );
        }
        all
    }

    fn length_entry(&self) -> Entry {
        let (what, from) = if self.length_given {
            ("length of the bar", "hanging.bar.length")
        } else {
            (
                "length of the bar; none is written, so the advised one is taken",
                "hanging.bar-cut",
            )
        };
        Entry::number("hanging.bar-length", what, self.length, "mm")
            .source("as written or advised")
            .from([from])
    }

    fn weight_entry(&self) -> Entry {
        let worked = format!(
            "{} kg/m³ · {} mm² · {} mm · 10⁻⁹ · 9.80665 m/s²",
            said(self.material.density),
            said(self.section.area),
            said(self.length)
        );
        Entry::uncertain(
            "hanging.bar-weight",
            format!("what the {} bar itself weighs", self.material.name),
            &self.weight,
            "N",
        )
        .by("density · area · length · g", worked)
        .source(self.material.source)
        .from([
            "hanging.bar.material",
            "hanging.bar.section",
            "hanging.bar-length",
        ])
        .caution(OVERHEAD)
    }

    fn inertia_entry(&self) -> Entry {
        let what = format!("second moment of area of the section {}", self.section_text);
        Entry::number("hanging.bar-inertia", what, self.section.inertia, "mm4")
            .by(self.section.formula, self.section.worked.clone())
            .source("tables of sections")
            .from(["hanging.bar.section"])
    }

    fn stiffness_entry(&self) -> Entry {
        let e = self.material.stiffness / 1000.0;
        let e = Uncertain::input(e, e * self.material.stiffness_u, "stiffness of the bar");
        Entry::uncertain(
            "hanging.bar-stiffness",
            format!(
                "modulus of elasticity of {} along the bar, an average of sound pieces",
                self.material.name
            ),
            &e,
            "GPa",
        )
        .by("E", "")
        .source(self.material.source)
        .from(["hanging.bar.material"])
    }

    /// What goes into the beam, in words.
    pub(super) fn inputs(&self, load: &Load) -> String {
        format!(
            "E I = {} N mm²; the piece {} N over {} mm, the bar {} N over {} mm",
            said(self.material.stiffness * self.section.inertia),
            said(load.weight.value),
            said(load.width.value.min(self.length)),
            said(self.weight.value),
            said(self.length)
        )
    }
}
