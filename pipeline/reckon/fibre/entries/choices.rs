//! What the law leaves to choose or treats apart: decoration, components, the covered warp, virgin
//! wool, the cotton-linen union, parts of animal origin.

use super::super::FibreContent;
use super::super::law::{self, COMPONENT_LEAST, UNION_LEAST, VIRGIN_LEAST};
use super::{slug, some};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::reckon::uncertain::Uncertain;
use crate::record::RuleSet;

impl FibreContent {
    pub(super) fn ornament(&self) -> Vec<Entry> {
        let Some(o) = &self.ornament else {
            return Vec::new();
        };
        let (source, phrase) = match self.rule {
            RuleSet::Eu | RuleSet::Uk => (
                "Regulation (EU) No 1007/2011, article 10(1)",
                "left out of the composition, in silence",
            ),
            RuleSet::Us => (
                "16 CFR 300.16 and 303.26",
                "left out, and the words \"exclusive of ornamentation\" must stand with the composition",
            ),
            RuleSet::Ca => (
                "Competition Bureau, guide to the Textile Labelling and Advertising Regulations (excerpt)",
                "left out, and words that say so must stand with the composition in both languages",
            ),
        };
        let what = match &o.share {
            None => "counted in, since its share is not known".to_string(),
            Some(share) => {
                let what = match o.left_out {
                    true => phrase.to_string(),
                    false => format!("counted in: over the line of {} %", significant(o.limit, 2)),
                };
                format!("{what}{}", near(share, o.limit))
            }
        };
        let mut out = Vec::new();
        if let Some(share) = &o.share {
            let whole = if law::european(self.rule) {
                "finished product"
            } else {
                "fibre of the face"
            };
            out.push(
                Entry::uncertain(
                    self.name("decorative"),
                    format!("decorative yarn in the {whole}"),
                    share,
                    "%",
                )
                .by("100 × decorative mass / mass of the whole", "")
                .source(source)
                .from(["weft.decorative"]),
            );
        }
        out.push(
            self.words(
                "ornament",
                "what becomes of the decorative yarn",
                format!("{}: {what}", some(&o.yarns)),
            )
            .source(source)
            .from(["weft.decorative"]),
        );
        out
    }

    pub(super) fn components(&self) -> Vec<Entry> {
        let mut out = Vec::new();
        for c in &self.components {
            let name = self.name(&format!("component.{}", slug(&c.name)));
            let source = match self.rule {
                RuleSet::Eu | RuleSet::Uk => "Regulation (EU) No 1007/2011, article 11(2)",
                RuleSet::Us => {
                    "16 CFR 300.22 and 303.25: sections may be stated apart; the Union's line is used (own rule)"
                }
                RuleSet::Ca => {
                    "Competition Bureau, guide: sections may be stated apart; the Union's line is used (own rule)"
                }
            };
            let why = match (c.lining, c.stated) {
                (true, _) => "stated for itself: a main lining".to_string(),
                (_, true) => format!("stated for itself: {COMPONENT_LEAST} % of the piece or more"),
                _ if c.share.is_some() => {
                    format!("need not be stated: no main lining, and under {COMPONENT_LEAST} %")
                }
                _ => "not stated: its share of the piece is not known".to_string(),
            };
            let why = match &c.share {
                Some(share) if !c.lining => format!("{why}{}", near(share, COMPONENT_LEAST)),
                _ => why,
            };
            out.push(match &c.share {
                Some(share) => Entry::uncertain(
                    name,
                    format!("the {} in the piece ({why})", c.name),
                    share,
                    "%",
                )
                .by("100 × mass of the part / mass of face and parts", "")
                .source(source)
                .from(["parts"]),
                None => Entry::words(name, format!("the {}", c.name), why)
                    .source(source)
                    .from(["parts"]),
            });
        }
        out
    }

    /// Both answers to the open question of the covered warp.
    pub(super) fn warp_readings(&self) -> Vec<Entry> {
        let Some(other) = &self.other_reading else {
            return Vec::new();
        };
        let (counted, left_out) = match self.warp_left_out {
            false => (&self.sections[0], other),
            true => (other, &self.sections[0]),
        };
        if self.list(counted).is_empty() {
            return Vec::new();
        }
        let source = "Regulation (EU) No 1007/2011, Annex VII (d): binding warps that are no part of the right \
                      side of a hanging are left out; whether the covered warp of a tapestry is one is not settled";
        let chosen = |yes: bool| if yes { " (on the label)" } else { "" };
        vec![
            self.words(
                "warp-counted",
                format!("the face with its warp{}", chosen(!self.warp_left_out)).as_str(),
                self.list(counted),
            )
            .source(source)
            .from(["label.warp"]),
            self.words(
                "warp-left-out",
                format!(
                    "the face without its covered warp{}",
                    chosen(self.warp_left_out)
                )
                .as_str(),
                self.list(left_out),
            )
            .source(source)
            .from(["label.warp"]),
        ]
    }

    pub(super) fn special_names(&self) -> Vec<Entry> {
        let mut out = Vec::new();
        if let Some(virgin) = &self.virgin_wool {
            let words = match virgin {
                Ok(()) => format!(
                    "may be called virgin wool if strange fibre stays under 0.3 %: all the wool is virgin and at \
                     least {VIRGIN_LEAST} % of the mixture"
                ),
                Err(why) => format!("stated as wool: {why}"),
            };
            out.push(
                self.words(
                    "called-virgin",
                    "whether the wool may be called virgin",
                    words,
                )
                .source("Regulation (EU) No 1007/2011, article 8")
                .from(["warp.fibre", "weft.fibre"]),
            );
        }
        if let Some(flax) = self.cotton_linen {
            let words = if flax + law::HAIR >= UNION_LEAST {
                "may be named \"cotton linen union\", with the words \"pure cotton warp - pure flax weft\""
            } else {
                "may not be named \"cotton linen union\": there is less than 40 % flax"
            };
            out.push(
                self.words("union", "cotton warp and flax weft", words)
                    .source("Regulation (EU) No 1007/2011, article 9(3)"),
            );
        }
        out
    }

    pub(super) fn animal(&self) -> Option<Entry> {
        if self.animal_parts.is_empty() {
            return None;
        }
        let words = if self.says_animal_parts() {
            "the label must say: Contains non-textile parts of animal origin; whatever they weigh"
        } else {
            "no phrase is known to be asked for under this rule set"
        };
        Some(
            self.words(
                "animal-parts",
                "parts of animal origin",
                format!("{}: {words}", some(&self.animal_parts)),
            )
            .source("Regulation (EU) No 1007/2011, article 12")
            .from(["parts.animal_origin"]),
        )
    }
}

/// What is said of a share so near a line that rounding or doubt might carry it over.
fn near(share: &Uncertain, line: f64) -> &'static str {
    if (share.value - line).abs() < (2.0 * share.u()).max(0.5) {
        "; so near the line that the yarn is worth weighing again"
    } else {
        ""
    }
}
