//! The ledger of the fibre content: masses, shares, rounding, and the words of the label.

use super::allowance::{Origin, table};
use super::law::{self, COMPONENT_LEAST, OTHER_BELOW, UNION_LEAST, VIRGIN_LEAST};
use super::mixture::Portion;
use super::moisture::regain_at;
use super::{FibreContent, Section, advice, words};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::record::{FIBRES, RuleSet};

/// Names of yarns that are listed before the rest is only counted.
const NAMES: usize = 8;

const FORMULA: &str = "p = 100 × d × (1 + a) / Σ d × (1 + a)";
const ANNEX_VIII: &str =
    "Regulation (EU) No 1007/2011, Annex VIII chapter 2 I.8.2 (b = 0: no pre-treatment)";

impl FibreContent {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = vec![self.basis_entry(), self.moisture()];
        for section in &self.sections {
            self.section(section, &mut all);
        }
        all.push(
            self.words(
                "text",
                "the composition as the label states it",
                self.text(),
            )
            .source(format!("{}; {}", self.basis, advice::STANDING)),
        );
        all.extend(self.languages());
        all.extend(self.ornament());
        all.extend(self.components());
        all.extend(self.warp_readings());
        all.extend(self.special_names());
        all.extend(self.animal());
        let (form, source) = advice::form(self.rule);
        all.push(
            self.words("form", "how the words must stand", form)
                .source(source),
        );
        let (left, source) = advice::left_out(self.rule);
        all.push(
            self.words("left-out", "not reckoned in", left)
                .source(source),
        );
        let (tolerance, source) = advice::tolerance(self.rule);
        all.push(
            self.words("tolerance", "how near it must be", tolerance)
                .source(source),
        );
        all
    }

    fn name(&self, rest: &str) -> String {
        format!("fibre.{}.{rest}", law::letters(self.rule))
    }

    fn words(&self, name: &str, what: &str, words: impl Into<String>) -> Entry {
        Entry::words(self.name(name), what, words)
    }

    /// Where the formula of the shares comes from.
    fn arithmetic(&self) -> String {
        if law::european(self.rule) {
            ANNEX_VIII.to_string()
        } else {
            format!(
                "the law speaks of fibre weight and gives no formula; that of {ANNEX_VIII} is used (own rule)"
            )
        }
    }

    fn basis_entry(&self) -> Entry {
        let basis = format!("{}, with the {}", self.basis, table(self.rule));
        self.words("basis", "the law and its table of moisture", basis)
            .source(self.basis)
    }

    /// How each weight was brought to dry mass.
    fn moisture(&self) -> Entry {
        let mut said = Vec::new();
        if !self.at_allowance.is_empty() {
            said.push(format!(
                "{}: no humidity of 0 to 90 % is stated with the weight, or it follows from the count, so \
                 taken as at the agreed allowance",
                some(&self.at_allowance)
            ));
        }
        if !self.weighed_in_air.is_empty() {
            let each: Vec<String> = self
                .weighed_in_air
                .iter()
                .map(|(name, h)| format!("{name} at {} %", significant(*h, 3)))
                .collect();
            said.push(format!(
                "{}: weighed in air of that humidity, brought to dry mass with what the fibre holds there",
                some(&each)
            ));
        }
        if said.is_empty() {
            said.push("no yarn's mass is known".to_string());
        }
        self.words("moisture", "how the weights were brought to dry mass", said.join("; "))
            .by("d = m / (1 + R)", self.regains())
            .source("handbook table of the regain of hygroscopic materials, from memory; standard uncertainty 1 point (own rule)")
            .from(["weft.weighed", "weft.used", "weft.humidity", "warp.count"])
    }

    /// What the fibres hold at the humidities that were stated.
    fn regains(&self) -> String {
        let mut humidities: Vec<f64> = Vec::new();
        for (_, h) in &self.weighed_in_air {
            if !humidities.contains(h) && humidities.len() < NAMES {
                humidities.push(*h);
            }
        }
        let held = |h: &f64| {
            let each: Vec<String> = FIBRES
                .iter()
                .filter(|f| self.sections[0].portions.iter().any(|p| p.name == f.name))
                .filter_map(|f| {
                    let r = regain_at(f.name, *h)?;
                    Some(format!("{} {} %", f.name, significant(r, 4)))
                })
                .collect();
            format!("at {} %: {}", significant(*h, 3), each.join(", "))
        };
        humidities.iter().map(held).collect::<Vec<_>>().join("; ")
    }

    fn section(&self, section: &Section, all: &mut Vec<Entry>) {
        let of = |rest: &str| match &section.part {
            None => self.name(rest),
            Some(part) => self.name(&format!("{}.{rest}", slug(part))),
        };
        let whose = section.part.as_deref().unwrap_or("the face");
        for p in section.portions.iter().filter(|p| p.legal.value > 0.0) {
            // A part whose mass is not known has shares all the same, but no mass to show.
            if section.part.is_none() {
                all.push(dry_mass(
                    of(&format!("dry-mass.{}", slug(p.name))),
                    p,
                    whose,
                ));
            }
            if let Some(share) = &p.share {
                let what = format!("share of {} in {whose}", p.name);
                all.push(
                    Entry::uncertain(of(&slug(p.name)), what, share, "%")
                        .by(FORMULA, worked_share(p, &section.portions))
                        .source(format!("{}; {}", self.arithmetic(), origins(p)))
                        .from(["warp", "weft", "loom", "parts"]),
                );
            }
        }
        if section.complete {
            let near = near_a_line(section, self.rule);
            all.push(
                Entry::words(
                    of("whole"),
                    format!("whole percents of {whose}"),
                    rounded(section),
                )
                .by(
                    "floors, at least 1; the rest to the largest remainders, keeping the order and \
                         never lifting a share onto a line of the law",
                    "",
                )
                .source("largest remainder (own rule; the law sets no number of decimals)"),
            );
            if !near.is_empty() {
                let what = "shares near a line of the law";
                all.push(Entry::words(of("near"), what, near.join("; ")).source(self.basis));
            }
        } else {
            let known: Vec<&str> = section.portions.iter().map(|p| p.name).collect();
            let words = format!(
                "incomplete: not known of {}; known to be in it: {}; no shares are stated",
                some(&section.unknown),
                if known.is_empty() {
                    "nothing".to_string()
                } else {
                    known.join(", ")
                },
            );
            all.push(
                Entry::words(
                    of("incomplete"),
                    format!("what is missing for {whose}"),
                    words,
                )
                .source("own rule: a share is stated only where every mass is known"),
            );
        }
    }

    fn languages(&self) -> Option<Entry> {
        if self.rule != RuleSet::Eu {
            return None;
        }
        let words = words::in_all_languages(&self.sections[0])?;
        Some(
            self.words("languages", "the face in the official languages of the Union", words)
                .source(
                    "Regulation (EU) No 1007/2011, Annex I; the names in English, French and German as read, \
                     the others from memory (Irish and Maltese weakly): compare with the Official Journal before use",
                ),
        )
    }

    fn ornament(&self) -> Vec<Entry> {
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
            Some(_) if o.left_out => phrase.to_string(),
            Some(_) => format!("counted in: more than {} %", significant(o.limit, 2)),
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

    fn components(&self) -> Vec<Entry> {
        let mut out = Vec::new();
        for c in &self.components {
            let name = self.name(&format!("component.{}", slug(&c.name)));
            let source = "Regulation (EU) No 1007/2011, article 11(2)";
            let why = match (c.lining, c.stated) {
                (true, _) => "stated for itself: a main lining".to_string(),
                (_, true) => format!("stated for itself: {COMPONENT_LEAST} % of the piece or more"),
                _ if c.share.is_some() => {
                    format!("need not be stated: no main lining, and under {COMPONENT_LEAST} %")
                }
                _ => "not stated: its share of the piece is not known".to_string(),
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
    fn warp_readings(&self) -> Vec<Entry> {
        let Some(other) = &self.other_reading else {
            return Vec::new();
        };
        let (counted, left_out) = match self.warp_left_out {
            false => (&self.sections[0], other),
            true => (other, &self.sections[0]),
        };
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

    fn special_names(&self) -> Vec<Entry> {
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
                    "virgin-wool",
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

    fn animal(&self) -> Option<Entry> {
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

/// Whether each law asks for a label, for every rule set: a piece may be sold elsewhere.
pub(in crate::reckon) fn required(wool: bool) -> Vec<Entry> {
    let entry = |(_, rule): &(&str, RuleSet)| {
        let (words, source) = advice::required(*rule, wool);
        let name = format!("fibre.{}.required", law::letters(*rule));
        Entry::words(name, "whether a fibre label is required", words).source(source)
    };
    RuleSet::ALL.iter().map(entry).collect()
}

fn dry_mass(name: String, p: &Portion, whose: &str) -> Entry {
    let mut worked = p.worked.join(" + ");
    if p.yarns > p.worked.len() {
        worked.push_str(&format!(" + … ({} yarns)", p.yarns));
    }
    worked.push_str(&format!(" = {}", significant(p.dry.value, 5)));
    Entry::uncertain(
        name,
        format!("dry mass of {} in {whose}", p.name),
        &p.dry,
        "g",
    )
    .by(
        "d = Σ share × mass / (1 + a), or / (1 + R) where the humidity is stated",
        worked,
    )
    .source(origins(p))
    .from(["warp", "weft"])
}

/// "100 × 700 × 1.17 / (700 × 1.17 + …)"; where a fibre has several allowances their mean by mass.
fn worked_share(p: &Portion, all: &[Portion]) -> String {
    let term = |p: &Portion| {
        let factor = if p.dry.value > 0.0 {
            p.legal.value / p.dry.value
        } else {
            1.0
        };
        format!(
            "{} × {}",
            significant(p.dry.value, 5),
            significant(factor, 5)
        )
    };
    let sum: Vec<String> = all.iter().take(NAMES).map(term).collect();
    let more = if all.len() > NAMES { " + …" } else { "" };
    let share = p.share.as_ref().map_or(0.0, |s| s.value);
    format!(
        "100 × {} / ({}{more}) = {}",
        term(p),
        sum.join(" + "),
        significant(share, 5)
    )
}

fn origins(p: &Portion) -> String {
    let mut all: Vec<Origin> = p.allowances.iter().map(|a| a.origin).collect();
    all.sort_unstable();
    all.dedup();
    let values: Vec<String> = p
        .allowances
        .iter()
        .map(|a| format!("{} %", significant(a.percent, 4)))
        .collect();
    let origins: Vec<&str> = all.into_iter().map(Origin::words).collect();
    format!("a = {}: {}", values.join(", "), origins.join("; "))
}

/// "wool 71.48 → 71, cotton 23.67 → 24".
fn rounded(section: &Section) -> String {
    let each: Vec<String> = section
        .lines
        .iter()
        .filter_map(|l| {
            let p = l.percent?;
            let name = match l.fibre {
                Some(name) => name.to_string(),
                None => format!("other fibres ({})", l.gathered.join(", ")),
            };
            Some(format!("{name} {:.2} → {}", p.exact, p.whole))
        })
        .collect();
    each.join(", ")
}

/// Shares so near a line that rounding or the doubt of the weights might carry them over it.
fn near_a_line(section: &Section, rule: RuleSet) -> Vec<String> {
    let lines: &[f64] = if law::european(rule) {
        &[]
    } else {
        &[OTHER_BELOW]
    };
    let mut out = Vec::new();
    for p in &section.portions {
        let Some(share) = &p.share else { continue };
        let european: &[f64] = match p.name {
            "virgin wool" => &[VIRGIN_LEAST],
            _ => &[],
        };
        for line in lines.iter().chain(european) {
            let reach = (2.0 * share.u()).max(0.5);
            if (share.value - line).abs() < reach && section.portions.len() > 1 {
                let side = if share.value + law::HAIR < *line {
                    "under"
                } else {
                    "not under"
                };
                out.push(format!(
                    "{} is {side} {line} % by {:.2} points, standard uncertainty {:.2}",
                    p.name,
                    (share.value - line).abs(),
                    share.u()
                ));
            }
        }
    }
    out
}

/// "a, b and 3 more".
fn some(names: &[String]) -> String {
    let first: Vec<&str> = names.iter().take(NAMES).map(String::as_str).collect();
    match names.len().saturating_sub(NAMES) {
        0 => first.join(", "),
        more => format!("{} and {more} more", first.join(", ")),
    }
}

/// A name as part of an entry's name.
fn slug(name: &str) -> String {
    let plain = name.to_lowercase();
    let parts: Vec<&str> = plain
        .split(|c: char| !c.is_alphanumeric())
        .filter(|p| !p.is_empty())
        .collect();
    parts.join("-")
}
