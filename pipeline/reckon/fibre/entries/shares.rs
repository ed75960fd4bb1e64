//! Dry masses, shares before and after rounding, and what is missing for them.

use super::super::allowance::Origin;
use super::super::law::{self, OTHER_BELOW, VIRGIN_LEAST};
use super::super::mixture::Portion;
use super::super::{FibreContent, Section};
use super::{NAMES, slug, some};
use crate::reckon::Uncertain;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::{printed, significant};
use crate::record::RuleSet;

const FORMULA: &str = "p = 100 × d × (1 + a) / Σ d × (1 + a)";
const ANNEX_VIII: &str =
    "Regulation (EU) No 1007/2011, Annex VIII chapter 2 I.8.2 (b = 0: no pre-treatment)";

impl FibreContent {
    pub(super) fn section(&self, section: &Section, all: &mut Vec<Entry>) {
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
            let unsure = unsure_order(section);
            if !unsure.is_empty() {
                let what = "fibres whose order lies within their doubt";
                all.push(
                    Entry::words(of("order"), what, unsure.join("; "))
                        .by("difference of two shares under twice its uncertainty", "")
                        .source("GUM (JCGM 100:2008), 5.2: the doubts of shares of one whole belong together"),
                );
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

/// Neighbours in the stated order that might stand the other way round.
fn unsure_order(section: &Section) -> Vec<String> {
    let mut shares: Vec<(&str, &Uncertain)> = section
        .portions
        .iter()
        .filter_map(|p| Some((p.name, p.share.as_ref()?)))
        .collect();
    shares.sort_by(|a, b| b.1.value.total_cmp(&a.1.value));
    shares
        .windows(2)
        .filter_map(|pair| {
            let ((first, a), (second, b)) = (pair[0], pair[1]);
            let apart = a - b;
            (apart.value < 2.0 * apart.u()).then(|| {
                format!(
                    "{first} stands before {second} by {} %",
                    printed(apart.value, Some(apart.u()))
                )
            })
        })
        .collect()
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
