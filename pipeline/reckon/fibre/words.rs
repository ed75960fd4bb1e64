//! The composition in words, as a label would have it, in the languages the law asks for.

use super::law::{HAIR, VIRGIN_LEAST, european};
use super::mixture::Mixture;
use super::{FibreContent, FibreLine, Section};
use crate::record::{LANGUAGES_OF_LAW, RuleSet, Tongue, tongue};

/// Whether wool written as virgin may be called so (Regulation (EU) No 1007/2011, article 8): all the
/// wool qualifies, there is at least 25 % of it, it is not scribbled together with more than one other
/// fibre, and the full percentages are known. `None` where nobody wrote it, and
/// under the other rule sets, which state it as wool here.
pub(super) fn virgin_wool(mixture: &Mixture, rule: RuleSet) -> Option<Result<(), &'static str>> {
    let virgin = mixture.virgin;
    if !virgin.written || !european(rule) {
        return None;
    }
    let share = mixture
        .portions
        .iter()
        .find(|p| p.name == "wool")
        .and_then(|p| p.share.as_ref());
    Some(if virgin.other_wool {
        Err("not all the wool is virgin")
    } else if virgin.blended {
        Err("it is spun together with more than one other fibre")
    } else {
        match share {
            None => Err("the full percentages are not known"),
            Some(s) if s.value + HAIR < VIRGIN_LEAST => {
                Err("there is less than 25 % of it in the mixture")
            }
            Some(_) => Ok(()),
        }
    })
}

impl FibreContent {
    /// The composition in words, as the label states it: the leading language of the rule set.
    pub fn text(&self) -> String {
        let mut out: Vec<String> = self
            .sections
            .iter()
            .filter(|s| !s.lines.is_empty())
            .map(|s| {
                let list = self.list(s);
                match &s.part {
                    None => list,
                    Some(part) => format!("{part}: {list}"),
                }
            })
            .collect();
        if self.exclusive_of_ornament() {
            out.push(
                match self.rule {
                    RuleSet::Ca => "exclusive of ornamentation / à l’exclusion des ornements",
                    _ => "exclusive of ornamentation",
                }
                .to_string(),
            );
        }
        if self.says_animal_parts() {
            out.push("Contains non-textile parts of animal origin".to_string());
        }
        out.join("; ")
    }

    /// One section's fibres in words.
    pub(super) fn list(&self, section: &Section) -> String {
        let name = |line: &FibreLine| match line.fibre {
            Some(name) => match self.rule {
                RuleSet::Ca => bilingual(name),
                _ => name.to_string(),
            },
            None => match (self.rule, line.gathered.len()) {
                (RuleSet::Us, 1) => "other fiber".to_string(),
                (RuleSet::Us, _) => "other fibers".to_string(),
                (RuleSet::Ca, 1) => "other fibre / autre fibre".to_string(),
                (RuleSet::Ca, _) => "other fibres / autres fibres".to_string(),
                _ => "other fibres".to_string(),
            },
        };
        let gap = if european(self.rule) { " " } else { "" };
        listed(section, name, gap)
    }
}

/// "wool / laine".
fn bilingual(name: &str) -> String {
    let french = tongue("fr").and_then(|t| t.name(name));
    french.map_or_else(|| name.to_string(), |fr| format!("{name} / {fr}"))
}

/// The composition in one language of the Union; `None` where the table lacks a fibre.
pub(super) fn in_language(section: &Section, tongue: &Tongue) -> Option<String> {
    let known = section
        .lines
        .iter()
        .all(|l| tongue.name(l.fibre.unwrap_or("other fibres")).is_some());
    let name = |l: &FibreLine| {
        let name = tongue.name(l.fibre.unwrap_or("other fibres"));
        name.unwrap_or_default().to_string()
    };
    known.then(|| listed(section, name, " "))
}

/// Every language of the Union, "bg: 71 % вълна, …", one after the other.
pub(super) fn in_all_languages(section: &Section) -> Option<String> {
    let all: Option<Vec<String>> = LANGUAGES_OF_LAW
        .iter()
        .map(|t| Some(format!("{}: {}", t.code, in_language(section, t)?)))
        .collect();
    all.map(|all| all.join("; "))
}

fn listed(section: &Section, name: impl Fn(&FibreLine) -> String, gap: &str) -> String {
    let line = |l: &FibreLine| match l.percent {
        Some(p) => format!("{}{gap}% {}", p.whole, name(l)),
        None => name(l),
    };
    let list: Vec<String> = section.lines.iter().map(line).collect();
    let known = section.lines.iter().all(|l| l.percent.is_some());
    let rest = if known {
        ""
    } else {
        " (percentages not known)"
    };
    format!("{}{rest}", list.join(", "))
}
