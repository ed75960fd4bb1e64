//! studio.yaml to a [`Studio`].

use super::fields::Fields;
use super::kinds;
use super::values::{Desk, word};
use super::yaml::Node;
use crate::quantity::Currency;
use crate::record::{At, Measures, Paper, PaperSize, Place, RuleSet, SeriesOrder, Studio, Tape};

/// Languages that papers can be printed in.
pub(crate) const LANGUAGES: &[(&str, &str)] = &[
    ("en", "en"),
    ("fr", "fr"),
    ("de", "de"),
    ("fi", "fi"),
    ("es", "es"),
];

/// Reads the studio; `None` where a needed field is missing or wrong.
pub(super) fn studio(desk: &Desk, file: &Place, root: &Node) -> Option<Studio> {
    let mut f = Fields::open(desk, "studio.yaml", file, root)?;
    let name = f.text("studio");
    let name = f.needed("studio", name, "Name of the Studio");
    let weaver = f.text("weaver");
    let weaver = f.needed("weaver", weaver, "Her Name");
    let place = f.text("place");
    let contact = f.text("contact");
    let mut languages = languages(&mut f);
    if languages.is_empty() {
        languages.push(At {
            value: "en".to_string(),
            place: file.clone(),
        });
    }
    let mut rules: Vec<At<RuleSet>> = f
        .nodes("rules")
        .into_iter()
        .filter_map(|node| word(desk, "rules", node, RuleSet::ALL))
        .collect();
    if rules.is_empty() {
        rules.push(At {
            value: RuleSet::Eu,
            place: file.clone(),
        });
    }
    let paper = f.word("paper", PaperSize::ALL);
    let papers: Vec<At<Paper>> = f
        .nodes("papers")
        .into_iter()
        .filter_map(|node| word(desk, "papers", node, Paper::WORDS))
        .collect();
    let tape = f.word("tape", Tape::ALL);
    let measures = f.word("measures", Measures::ALL);
    let currency = f.parsed("currency", Currency::parse);
    let hourly_rate = f.money("hourly_rate");
    let record_base = address(&mut f, "record_base");
    let portfolio = address(&mut f, "portfolio");
    let series_order = f.word("series_order", SeriesOrder::ALL);
    f.done();
    Some(Studio {
        studio: name?,
        weaver: weaver?,
        place,
        contact,
        languages,
        papers,
        rules,
        paper: paper.map_or(PaperSize::A4, |p| p.value),
        tape: tape.map_or(Tape::default(), |t| t.value),
        measures: measures.map_or(Measures::Cm, |m| m.value),
        currency,
        hourly_rate,
        record_base,
        portfolio,
        series_order: series_order.map_or(SeriesOrder::Free, |o| o.value),
    })
}

/// An address on the web.
fn address(f: &mut Fields, field: &'static str) -> Option<At<String>> {
    let desk = f.desk();
    f.text(field).filter(|base| {
        let web = base.starts_with("https://") || base.starts_with("http://");
        if !web {
            desk.add(kinds::UNREADABLE_VALUE.at(
                &base.place,
                format!("`{field}`: `{}` is not a web address", base.value),
                "write it with `https://` in front, or leave it out",
            ));
        }
        web
    })
}

/// The languages of papers, two at most.
pub(super) fn languages(f: &mut Fields) -> Vec<At<String>> {
    let desk = f.desk();
    let mut languages: Vec<At<String>> = f
        .nodes("languages")
        .into_iter()
        .filter_map(|node| word(desk, "languages", node, LANGUAGES))
        .map(|at| at.map(str::to_string))
        .collect();
    if let Some(third) = languages.get(2) {
        desk.add(kinds::UNKNOWN_WORD.at(
            &third.place,
            "papers are printed in one language or in two",
            "name the two that matter most, the leading one first",
        ));
        languages.truncate(2);
    }
    languages
}
