//! The studio: who weaves, where, and her defaults for every paper.

use super::papers::Paper;
use super::place::At;
use crate::quantity::{Currency, Length, Money};

/// What studio.yaml says.
#[derive(Debug, Clone, PartialEq)]
pub struct Studio {
    /// The studio's name.
    pub studio: At<String>,
    /// The weaver's name.
    pub weaver: At<String>,
    /// Where the studio is.
    pub place: Option<At<String>>,
    /// How to reach it: an address for the public.
    pub contact: Option<At<String>>,
    /// Languages of the papers, the first one leading. Never empty.
    pub languages: Vec<At<String>>,
    /// Whose rules for fibre labels apply. Never empty.
    pub rules: Vec<At<RuleSet>>,
    /// Size of the sheets.
    pub paper: PaperSize,
    /// The papers that are made; all of them where none is named.
    pub papers: Vec<At<Paper>>,
    /// The tape that care labels are printed on.
    pub tape: Tape,
    /// Units on the papers.
    pub measures: Measures,
    /// The studio's currency.
    pub currency: Option<At<Currency>>,
    /// What an hour costs.
    pub hourly_rate: Option<At<Money>>,
    /// A web address that the record number is put behind in the QR code.
    pub record_base: Option<At<String>>,
    /// The web address that the portfolio stands at. Says nothing of a piece.
    pub portfolio: Option<At<String>>,
    /// Whether the numbers of a series follow the days. Says nothing of a piece.
    pub series_order: SeriesOrder,
}

impl Studio {
    /// The papers that are made, in their own order.
    pub fn papers(&self) -> Vec<Paper> {
        let named = |p: &&Paper| {
            self.papers.is_empty() || self.papers.iter().any(|named| named.value == **p)
        };
        Paper::ALL.iter().filter(named).copied().collect()
    }

    /// Everything that studio.yaml says of a piece's papers and bundle, name and value, in a fixed
    /// order: what must be the same for a bundle to be the same. Remarks and layout of the file do
    /// not count.
    pub fn words(&self) -> Vec<(&'static str, String)> {
        let text = |value: &Option<At<String>>| value.as_ref().map(|v| v.value.clone());
        let joined = |all: Vec<String>| Some(all.join(" "));
        let word = |all: &[(&str, RuleSet)], rule: RuleSet| {
            all.iter()
                .find(|(_, r)| *r == rule)
                .map_or(String::new(), |(w, _)| w.to_string())
        };
        [
            ("studio", Some(self.studio.value.clone())),
            ("weaver", Some(self.weaver.value.clone())),
            ("place", text(&self.place)),
            ("contact", text(&self.contact)),
            (
                "languages",
                joined(self.languages.iter().map(|l| l.value.clone()).collect()),
            ),
            (
                "rules",
                joined(
                    self.rules
                        .iter()
                        .map(|r| word(RuleSet::ALL, r.value))
                        .collect(),
                ),
            ),
            ("paper", Some(format!("{:?}", self.paper))),
            // What a studio that says nothing has is not counted, so that older bundles stay the same.
            (
                "tape",
                (self.tape != Tape::default()).then(|| format!("{:?}", self.tape)),
            ),
            (
                "papers",
                (!self.papers.is_empty())
                    .then(|| joined(self.papers().iter().map(|p| p.name().to_string()).collect()))
                    .flatten(),
            ),
            ("measures", Some(format!("{:?}", self.measures))),
            (
                "currency",
                self.currency.as_ref().map(|c| c.value.to_string()),
            ),
            (
                "hourly_rate",
                self.hourly_rate.as_ref().map(|m| m.value.to_string()),
            ),
            ("record_base", text(&self.record_base)),
        ]
        .into_iter()
        .filter_map(|(name, value)| value.map(|v| (name, v)))
        .collect()
    }
}

/// Whether the numbers of a series follow the days on which its pieces were finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SeriesOrder {
    /// They do: a lower number was finished no later.
    ByDate,
    /// They need not.
    Free,
}

impl SeriesOrder {
    /// How it is written.
    pub const ALL: &'static [(&'static str, SeriesOrder)] = &[
        ("by date", SeriesOrder::ByDate),
        ("free", SeriesOrder::Free),
    ];
}

/// A rule set for fibre labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RuleSet {
    /// Regulation (EU) No 1007/2011.
    Eu,
    /// Wool Products Labeling Act and Textile Fiber Products Identification Act.
    Us,
    /// Textile Labelling and Advertising Regulations.
    Ca,
    /// The United Kingdom's form of the EU rules.
    Uk,
}

impl RuleSet {
    /// The letters it is written with.
    pub const ALL: &'static [(&'static str, RuleSet)] = &[
        ("EU", RuleSet::Eu),
        ("US", RuleSet::Us),
        ("CA", RuleSet::Ca),
        ("UK", RuleSet::Uk),
    ];
}

/// The size of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 × 297 mm (ISO 216).
    A4,
    /// 8 1/2 × 11 in.
    Letter,
}

impl PaperSize {
    /// How it is written.
    pub const ALL: &'static [(&'static str, PaperSize)] =
        &[("A4", PaperSize::A4), ("letter", PaperSize::Letter)];
}

/// The width of the tape that care labels are printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tape {
    /// 50 mm.
    Narrow,
    /// 60 mm.
    #[default]
    Middle,
    /// 70 mm.
    Wide,
}

impl Tape {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Tape)] = &[
        ("50 mm", Tape::Narrow),
        ("60 mm", Tape::Middle),
        ("70 mm", Tape::Wide),
    ];

    /// From edge to edge.
    pub fn width(self) -> Length {
        Length::from_mm(match self {
            Tape::Narrow => 50.0,
            Tape::Middle => 60.0,
            Tape::Wide => 70.0,
        })
    }
}

/// Units on the papers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measures {
    /// Centimetres alone.
    Cm,
    /// Inches alone.
    In,
    /// Centimetres with inches in brackets.
    Both,
}

impl Measures {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Measures)] = &[
        ("cm", Measures::Cm),
        ("in", Measures::In),
        ("both", Measures::Both),
    ];
}
