//! The ledger of the fibre content: here the law, the moisture and the words of the label; the shares
//! and what the law leaves to choose are in files of their own.

mod choices;
mod shares;

use super::allowance::table;
use super::moisture::regain_at;
use super::{FibreContent, advice, law, words};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::record::RuleSet;

/// Names of yarns that are listed before the rest is only counted.
const NAMES: usize = 8;

impl FibreContent {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = vec![self.basis_entry(), self.moisture()];
        for section in &self.sections {
            self.section(section, &mut all);
        }
        let text = self.text();
        if !text.is_empty() {
            all.push(
                self.words("text", "the composition as the label states it", text)
                    .source(format!("{}; {}", self.basis, advice::STANDING)),
            );
        }
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
        let held = |(fibre, h): &(&str, f64)| {
            let h = (significant(*h, 3), regain_at(fibre, *h));
            match h {
                (h, Some(r)) => format!("{fibre} at {h} %: R = {} %", significant(r, 4)),
                (h, None) => format!("{fibre} at {h} %: not known, R = its agreed allowance"),
            }
        };
        let each: Vec<String> = self.held.iter().map(held).collect();
        some(&each)
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
