//! What the bar does on its brackets, as entries of the ledger: reactions, sag, moment, stress.

use super::bar::{Held, HungBar};
use super::bar_entries::{BEAM, places, said};
use super::beam::Local;
use super::load::Load;
use crate::reckon::caution::OVERHEAD;
use crate::reckon::{Entry, significant};

impl HungBar {
    /// The entries of a bar that brackets hold.
    pub(super) fn held_entries(&self, held: &Held, load: &Load) -> Vec<Entry> {
        let inputs = format!("{}; brackets {}", self.inputs(load), places(&held.at));
        let from = ["hanging.weight", "hanging.bar-weight", "hanging.brackets"];
        let bracket_words = if held.given {
            "as written"
        } else {
            "none are written, so the best places are taken"
        };
        let mut all = vec![
            Entry::words(
                "hanging.bracket-places",
                format!("where the brackets stand; {bracket_words}"),
                places(&held.at),
            )
            .source("as written or advised")
            .from(["hanging.brackets"]),
        ];
        for (k, r) in held.reactions.iter().enumerate() {
            let what = format!(
                "what the bracket {} cm from the bar's left end has to {}",
                significant(held.at[k] / 10.0, 5),
                if r.value < 0.0 {
                    "hold DOWN (below zero)"
                } else {
                    "hold up"
                }
            );
            all.push(
                Entry::uncertain(format!("hanging.reaction-{}", k + 1), what, r, "N")
                    .by(reaction_formula(held), self.reaction_worked(held, load, k))
                    .source(BEAM)
                    .from(from)
                    .caution(OVERHEAD),
            );
        }
        let ei = "hanging.bar-stiffness";
        all.push(
            Entry::uncertain(
                "hanging.sag",
                format!(
                    "most sag at first, {} cm from the bar's left end{}",
                    significant(held.sag_at / 10.0, 4),
                    if held.sag.value < 0.0 {
                        " (below zero: the bar rises there)"
                    } else {
                        ""
                    }
                ),
                &held.sag,
                "mm",
            )
            .by(
                SAG,
                sag_worked(&held.sag_by, self.material.stiffness * self.section.inertia),
            )
            .source(BEAM)
            .from(from)
            .from([ei, "hanging.bar-inertia"])
            .caution(OVERHEAD),
        );
        let (least, most) = self.material.creep;
        all.push(
            Entry::range(
                "hanging.sag-lasting",
                "the same after years",
                held.lasting,
                "mm",
            )
            .by(
                "first sag times the creep factor",
                format!("{} mm · {least} to {most}", said(held.sag.value)),
            )
            .source(self.material.creep_source)
            .from(["hanging.sag"])
            .caution(OVERHEAD),
        );
        all.push(
            Entry::number("hanging.left-end", "how far the bar's left end hangs below the brackets at first (below zero: it rises)", held.ends.0, "mm")
                .by("as hanging.sag, at the end", inputs.clone()).source(BEAM).from(["hanging.sag"]),
        );
        all.push(
            Entry::number("hanging.right-end", "how far the bar's right end hangs below the brackets at first (below zero: it rises)", held.ends.1, "mm")
                .by("as hanging.sag, at the end", inputs.clone()).source(BEAM).from(["hanging.sag"]),
        );
        let w = held.worst;
        all.push(
            Entry::number(
                "hanging.sag-limit",
                "most that the stretch nearest to its limit should sag for good",
                w.limit,
                "mm",
            )
            .by(
                "a five-hundredth of the span (an end counts twice), at most 3 mm",
                format!("{} mm / 500", said(w.length)),
            )
            .source("own rule; no published limit was found")
            .from(["hanging.brackets"]),
        );
        let verdict = if w.sag <= w.limit {
            "within the limit"
        } else {
            "beyond the limit: a stiffer bar, more brackets or better places are wanted"
        };
        all.push(
            Entry::words(
                "hanging.sag-judged",
                "lasting sag against its limit",
                verdict,
            )
            .by(
                "most lasting sag ≤ limit",
                format!("{} mm against {} mm", said(w.sag), said(w.limit)),
            )
            .source("own rule")
            .from(["hanging.sag-lasting", "hanging.sag-limit"])
            .caution(OVERHEAD),
        );
        let m = held.moment;
        all.push(
            Entry::number(
                "hanging.moment",
                format!(
                    "greatest bending moment, {} cm from the left end (below zero: over a bracket)",
                    significant(m.at / 10.0, 4)
                ),
                m.value,
                "N mm",
            )
            .by(MOMENT, moment_worked(&held.moment_by))
            .source(BEAM)
            .from(from)
            .caution(OVERHEAD),
        );
        all.push(
            Entry::uncertain(
                "hanging.stress",
                "greatest bending stress in the bar",
                &held.stress,
                "MPa",
            )
            .by(
                "σ = M / Z, Z = I / (h / 2)",
                format!("{} / {}", said(m.value.abs()), said(self.section.modulus)),
            )
            .source("Navier's bending formula")
            .from(["hanging.moment", "hanging.bar-inertia"])
            .caution(OVERHEAD),
        );
        if let Some(strength) = self.material.strength.filter(|_| held.stress.value > 0.0) {
            all.push(
                Entry::number("hanging.stress-reserve", format!("how many times that stress broke clear, straight pieces of {} on average in short tests; knots and years take much of it", self.material.name), strength / held.stress.value, "")
                    .by("bending strength / stress", format!("{} / {}", said(strength), said(held.stress.value)))
                    .source(self.material.source).from(["hanging.stress"])
                    .caution(OVERHEAD),
            );
        }
        all
    }

    /// The reaction redone by hand: with two brackets by moments about the other one.
    fn reaction_worked(&self, held: &Held, load: &Load, k: usize) -> String {
        let (w, own) = (load.weight.value, self.weight.value);
        let middle = self.length / 2.0;
        match held.at.as_slice() {
            &[a, b] => {
                let (other, arm) = if k == 0 { (b, -1.0) } else { (a, 1.0) };
                let piece = arm * (middle + load.off_centre - other);
                format!(
                    "({} · {} + {} · {}) / {}",
                    said(w),
                    said(piece),
                    said(own),
                    said(arm * (middle - other)),
                    said(b - a)
                )
            }
            _ => {
                let all: Vec<String> = held.reactions.iter().map(|r| said(r.value)).collect();
                format!("check: {} = {} + {}", all.join(" + "), said(w), said(own))
            }
        }
    }
}

/// How a sag is read off, t from a place where all else is known.
const SAG: &str = "w = (S + A t − M t²/2 − V t³/6 + q t⁴/24 + r t⁵/120) / (E I), S and A the sag and slope times E I, M the moment, V the shear, q the load and r its growth at the place where t begins";

/// How a moment is read off, likewise.
const MOMENT: &str = "M + V t − q t²/2 − r t³/6";

fn sag_worked(by: &Local, ei: f64) -> String {
    format!(
        "t = {} from {} mm; S {}, A {}, M {}, V {}, q {}, r {}; E I = {}",
        fine(by.t),
        fine(by.from),
        fine(by.sag),
        fine(by.slope),
        fine(by.moment),
        fine(by.shear),
        fine(by.load),
        fine(by.rise),
        fine(ei)
    )
}

fn moment_worked(by: &Local) -> String {
    format!(
        "t = {} from {} mm: {} + {} t − {} t²/2 − {} t³/6",
        fine(by.t),
        fine(by.from),
        fine(by.moment),
        fine(by.shear),
        fine(by.load),
        fine(by.rise)
    )
}

/// Eight digits: the terms of the polynomial nearly cancel. What is lost in rounding is nothing.
fn fine(x: f64) -> String {
    if x.abs() < 1e-9 {
        "0".to_string()
    } else {
        significant(x, 8)
    }
}

fn reaction_formula(held: &Held) -> &'static str {
    if held.at.len() == 2 {
        "(W · arm of the piece's centre of mass + bar's weight · arm of its middle) / distance of the brackets, arms from the other bracket"
    } else {
        "change of shear over the bracket; all of them add up to the piece's weight and the bar's"
    }
}
