//! Fibre content as it is printed: lines in one size and style (Regulation (EU) No 1007/2011,
//! article 16(1)), names in the languages of the paper, and one list where several rule sets agree.

use super::figures::percent;
use super::said::Said;
use super::views::PublicView;
use super::words::{Words, fill};
use crate::reckon::{FibreContent, FibreLine, Section};
use crate::record::RuleSet;
use serde::Serialize;

/// One list of fibres.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct FibreBlock {
    /// What it is the content of, or under which rules; nothing for the one plain list.
    head: Option<Said>,
    lines: Vec<FibreRow>,
    /// Said in place of percentages.
    unknown: Option<Said>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct FibreRow {
    percent: Option<String>,
    name: Said,
}

/// Rule sets that state the same, with what they state.
struct Agreed<'a> {
    rules: Vec<RuleSet>,
    sections: &'a [Section],
    /// The law's own words that must stand with the composition.
    phrases: Phrases,
}

/// Which set phrases stand with a composition.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Phrases {
    exclusive_of_ornament: bool,
    animal_parts: bool,
}

impl Phrases {
    fn of(content: &FibreContent) -> Phrases {
        Phrases {
            exclusive_of_ornament: content.exclusive_of_ornament(),
            animal_parts: content.says_animal_parts(),
        }
    }

    /// A list with the phrases behind it: "70 % wool, 30 % acetate. Exclusive of ornamentation".
    fn after(self, list: String, w: &Words) -> String {
        let ornament = self.exclusive_of_ornament;
        let ornament = ornament.then_some(&w.facts.exclusive_of_ornament);
        let animal = self.animal_parts.then_some(&w.facts.animal_parts);
        let phrases = ornament.into_iter().chain(animal);
        let plain = phrases.map(|p| p.trim_end_matches('.').to_string());
        let all: Vec<String> = std::iter::once(list).chain(plain).collect();
        all.join(". ")
    }

    /// As rows without a percentage: the same size and style as the fibres.
    fn rows(self, tongues: &[&Words]) -> Vec<FibreRow> {
        let row = |said: fn(&Words) -> &String| FibreRow {
            percent: None,
            name: Said::each(tongues, |w| said(w).clone()),
        };
        let ornament = self.exclusive_of_ornament;
        let ornament = ornament.then(|| row(|w| &w.facts.exclusive_of_ornament));
        let animal = self.animal_parts.then(|| row(|w| &w.facts.animal_parts));
        ornament.into_iter().chain(animal).collect()
    }
}

fn agreed(contents: &[FibreContent]) -> Vec<Agreed<'_>> {
    let mut out: Vec<Agreed> = Vec::new();
    for content in contents {
        let same = out.iter_mut().find(|a| {
            a.sections.len() == content.sections.len()
                && a.phrases == Phrases::of(content)
                && a.sections
                    .iter()
                    .zip(&content.sections)
                    .all(|(x, y)| prints_same(x, y))
        });
        match same {
            Some(found) => found.rules.push(content.rule),
            None => out.push(Agreed {
                rules: vec![content.rule],
                sections: &content.sections,
                phrases: Phrases::of(content),
            }),
        }
    }
    out
}

fn prints_same(a: &Section, b: &Section) -> bool {
    let key = |l: &FibreLine| (l.fibre, l.percent.map(|p| p.whole));
    a.part == b.part && a.lines.iter().map(key).eq(b.lines.iter().map(key))
}

/// The lists for the label.
pub(super) fn blocks(view: &PublicView, tongues: &[&Words]) -> Vec<FibreBlock> {
    let all = agreed(&view.fibres);
    let several = all.len() > 1;
    let mut out = Vec::new();
    for group in &all {
        for section in group.sections.iter().filter(|s| !s.lines.is_empty()) {
            let rules = rules(&group.rules);
            let head = match (&section.part, several) {
                (None, false) => None,
                (None, true) => Some(Said::each(tongues, |w| {
                    fill(&w.facts.under_rules, &[("rules", &rules)])
                })),
                (Some(part), _) => Some(Said::each(tongues, |w| part_name(part, w))),
            };
            out.push(FibreBlock {
                head,
                lines: section
                    .lines
                    .iter()
                    .map(|l| row(l, tongues, &group.rules))
                    .collect(),
                unknown: unknown(section, tongues),
            });
        }
        if let Some(last) = out.last_mut() {
            last.lines.extend(group.phrases.rows(tongues));
        }
    }
    out
}

fn row(line: &FibreLine, tongues: &[&Words], rules: &[RuleSet]) -> FibreRow {
    FibreRow {
        percent: line.percent.map(|p| percent(p.whole)),
        name: Said::each(tongues, |w| name(line, w, rules)),
    }
}

fn unknown(section: &Section, tongues: &[&Words]) -> Option<Said> {
    let known = section.lines.iter().all(|l| l.percent.is_some());
    (!known).then(|| Said::each(tongues, |w| w.facts.percentages_unknown.clone()))
}

fn name(line: &FibreLine, w: &Words, rules: &[RuleSet]) -> String {
    match line.fibre {
        Some(fibre) => w.fibre(fibre).to_string(),
        // The words of 16 CFR 303.3, in its own spelling.
        None if rules == [RuleSet::Us] && w.language.code == "en" => match line.gathered.len() {
            1 => "other fiber".to_string(),
            _ => "other fibers".to_string(),
        },
        None => w.facts.other_fibres.clone(),
    }
}

fn rules(rules: &[RuleSet]) -> String {
    rules
        .iter()
        .filter_map(|r| RuleSet::ALL.iter().find(|(_, x)| x == r))
        .map(|(letters, _)| *letters)
        .collect::<Vec<_>>()
        .join(", ")
}

fn part_name(part: &str, w: &Words) -> String {
    if part == "lining" {
        w.terms.lining.clone()
    } else {
        super::common::capital(part)
    }
}

/// The face's content in one line a rule group: "71 % wool, 24 % cotton, 5 % silk".
pub(super) fn sentence(view: &PublicView, tongues: &[&Words]) -> Vec<Said> {
    let all = agreed(&view.fibres);
    let several = all.len() > 1;
    all.iter()
        .filter_map(|group| {
            let face = group.sections.iter().find(|s| s.part.is_none())?;
            (!face.lines.is_empty()).then(|| {
                Said::each(tongues, |w| {
                    let list = group.phrases.after(listed(face, w, &group.rules), w);
                    if several {
                        format!("{list} ({})", rules(&group.rules))
                    } else {
                        list
                    }
                })
            })
        })
        .collect()
}

/// The lining's content in one line, by the first rule set.
pub(super) fn lining(view: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let content = view.fibres.first()?;
    let mut sections = content.sections.iter();
    let section = sections.find(|s| s.part.as_deref() == Some("lining"))?;
    let rules = [content.rule];
    (!section.lines.is_empty()).then(|| Said::each(tongues, |w| listed(section, w, &rules)))
}

fn listed(section: &Section, w: &Words, rules: &[RuleSet]) -> String {
    section
        .lines
        .iter()
        .map(|l| match l.percent {
            Some(p) => format!("{}\u{A0}{}", percent(p.whole), name(l, w, rules)),
            None => name(l, w, rules),
        })
        .collect::<Vec<_>>()
        .join(", ")
}

/// Whether every percentage of the face is known.
pub(super) fn percentages_known(view: &PublicView) -> bool {
    view.fibres
        .iter()
        .flat_map(|f| &f.sections)
        .all(|s| s.lines.iter().all(|l| l.percent.is_some()))
}

/// Whether any fibre is known.
pub(super) fn any_known(view: &PublicView) -> bool {
    view.fibres
        .iter()
        .flat_map(|f| &f.sections)
        .any(|s| !s.lines.is_empty())
}

/// The face's fibres by name, the most first: "wool, cotton and silk".
pub(super) fn materials(view: &PublicView, w: &Words) -> Option<String> {
    let content = view.fibres.first()?;
    let face = content.sections.iter().find(|s| s.part.is_none())?;
    let rules = [content.rule];
    let names: Vec<String> = face.lines.iter().map(|l| name(l, w, &rules)).collect();
    (!names.is_empty()).then(|| w.all_of(&names))
}
