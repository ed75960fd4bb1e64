//! The five processes of a care label, in the order of ISO 3758. Every component says what it can not
//! bear and why; the most restrictive one decides, and the reason names its field.

use super::components::{Colour, Component, iron};
use super::has_word;
use crate::reckon::ledger::Entry;
use crate::record::Piece;

/// A process.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Process {
    /// Washing.
    Wash,
    /// Bleaching.
    Bleach,
    /// Drying.
    Dry,
    /// Ironing.
    Iron,
    /// Professional textile care.
    Professional,
}

/// Why a component restricts a process.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// The component by name.
    pub name: String,
    /// The record's field.
    pub field: String,
    /// Why, in a few words.
    pub why: &'static str,
    /// How far it restricts: see [`Process::words`].
    pub severity: u8,
    /// Her own word and tested colours come before fibres in general, 0 first.
    weight: u8,
}

/// A process decided.
#[derive(Debug, Clone, PartialEq)]
pub struct Decided {
    /// Which.
    pub process: Process,
    /// What may be done.
    pub words: &'static str,
    /// Every reason, the deciding one first. Never empty.
    pub reasons: Vec<Reason>,
}

impl Process {
    /// All, in the order of ISO 3758.
    pub const ALL: [Process; 5] = [
        Process::Wash,
        Process::Bleach,
        Process::Dry,
        Process::Iron,
        Process::Professional,
    ];

    /// What may be done at a severity. The iron's steps are those of care labels: 110 °C (seen in a
    /// consumer handbook), 150 and 200 °C (from memory).
    pub fn words(self, severity: u8) -> &'static str {
        match (self, severity) {
            (Process::Wash, 0..=1) => {
                "by hand at 30 °C at most, and only after a test of every colour by a textile conservator"
            }
            (Process::Wash, _) => "do not wash",
            (Process::Bleach, _) => "do not bleach",
            (Process::Dry, _) => "do not tumble dry; should it get wet, dry it flat in the shade",
            (Process::Iron, 0) => "from the back through a cloth, 200 °C at most, without pressing",
            (Process::Iron, 1) => "from the back through a cloth, 150 °C at most, without pressing",
            (Process::Iron, 2) => "from the back through a cloth, 110 °C at most, without pressing",
            (Process::Iron, _) => "do not iron",
            (Process::Professional, 0..=1) => "no dry cleaning but by a textile conservator",
            (Process::Professional, _) => "do not dry clean",
        }
    }

    fn key(self) -> (&'static str, &'static str) {
        match self {
            Process::Wash => ("care.wash", "washing"),
            Process::Bleach => ("care.bleach", "bleaching"),
            Process::Dry => ("care.dry", "drying"),
            Process::Iron => ("care.iron", "ironing"),
            Process::Professional => ("care.professional", "professional textile care"),
        }
    }
}

impl Decided {
    /// The ledger's entry.
    pub fn entry(&self) -> Entry {
        let (name, what) = self.process.key();
        let most = self.reasons[0].severity;
        // One clause for each cause; a cause that many share is told of the first and counted.
        let mut causes: Vec<(&Reason, usize)> = Vec::new();
        let deciding =
            |r: &&Reason| r.severity == most && (r.weight < GENERAL || self.is_general());
        for r in self.reasons.iter().filter(deciding) {
            match causes.iter_mut().find(|(first, _)| first.why == r.why) {
                Some((_, more)) => *more += 1,
                None => causes.push((r, 0)),
            }
        }
        let clause = |(r, more): &(&Reason, usize)| {
            let others = if *more > 0 {
                format!(" and {more} more alike")
            } else {
                String::new()
            };
            format!("{} ({}){others}: {}", r.name, r.field, r.why)
        };
        let worked: Vec<String> = causes.iter().map(clause).collect();
        Entry::words(name, what, self.words)
            .by("the most restrictive component decides", worked.join("; "))
            .source("ISO 3758 (its five processes and their order); the rules of each fibre and dye are common practice, no source")
            .from(causes.iter().map(|(r, _)| r.field.clone()))
            .caution("Anything but dusting is for a textile conservator to decide.")
    }

    /// Whether nothing but what holds for every hanging decides.
    fn is_general(&self) -> bool {
        self.reasons[0].weight == GENERAL
    }
}

/// Weights of reasons.
const HER_WORD: u8 = 0;
const COLOUR: u8 = 1;
const FASTENER: u8 = 2;
const FIBRE: u8 = 3;
const GENERAL: u8 = 9;

/// Words by which she says that a colour runs.
const RUNS: &[&str] = &[
    "bleed", "bleeding", "unfixed", "fugitive", "crock", "crocking",
];

/// Decides all five.
pub(super) fn decide(piece: &Piece, components: &[Component]) -> Vec<Decided> {
    let mut found = Found(Vec::new());
    for c in components {
        found.of_colour(c);
        found.of_fastener(c);
        found.of_fibres(c);
    }
    found.of_whole(piece, components);
    Process::ALL
        .into_iter()
        .map(|process| {
            let mut reasons: Vec<Reason> = found
                .0
                .iter()
                .filter(|(p, _)| *p == process)
                .map(|(_, r)| r.clone())
                .collect();
            // A blend of wool and silk says the same twice.
            reasons.dedup();
            reasons.sort_by_key(|r| (std::cmp::Reverse(r.severity), r.weight));
            Decided {
                process,
                words: process.words(reasons.first().map_or(3, |r| r.severity)),
                reasons,
            }
        })
        .collect()
}

struct Found(Vec<(Process, Reason)>);

impl Found {
    fn add(
        &mut self,
        process: Process,
        severity: u8,
        weight: u8,
        (name, field): (&str, String),
        why: &'static str,
    ) {
        let reason = Reason {
            name: name.to_string(),
            field,
            why,
            severity,
            weight,
        };
        self.0.push((process, reason));
    }

    fn of_colour(&mut self, c: &Component) {
        let at = |field: &str| (c.name.as_str(), format!("{}.{field}", c.field));
        match c.colour {
            Colour::NotAsked | Colour::Undyed => {}
            Colour::Fast(grade) => {
                if grade <= 3 {
                    let why = "it bleeds or changes in water (wash fastness 3 or less)";
                    self.add(Process::Wash, 3, COLOUR, at("wash"), why);
                }
                self.add(
                    Process::Bleach,
                    2,
                    FIBRE,
                    at("dye"),
                    "bleach takes its colour",
                );
            }
            Colour::Unknown => {
                let why = "nobody has tested its colour";
                self.add(Process::Wash, 3, COLOUR, at("wash"), why);
                self.add(Process::Bleach, 2, FIBRE, at("dye"), why);
                self.add(Process::Professional, 2, COLOUR, at("dye"), why);
            }
        }
    }

    fn of_fastener(&mut self, c: &Component) {
        let Some(method) = &c.method else { return };
        let at = || (c.name.as_str(), format!("{}.method", c.field));
        if has_word(method, "hook") {
            let why = "the hooks soften under an iron and press through";
            self.add(Process::Iron, 3, FASTENER, at(), why);
            let why = "the hooks tear the cloth in a tumbler";
            self.add(Process::Dry, 2, FASTENER, at(), why);
        }
        if ["ring", "eyelet", "wire", "metal"]
            .iter()
            .any(|w| has_word(method, w))
        {
            self.add(Process::Wash, 3, FASTENER, at(), "metal rusts in water");
        }
    }

    fn of_fibres(&mut self, c: &Component) {
        let at = || (c.name.as_str(), format!("{}.fibre", c.field));
        if !c.fibre_said {
            let why = "its fibre is not said";
            self.add(Process::Wash, 3, FIBRE, at(), why);
            self.add(Process::Iron, 2, FIBRE, at(), why);
            self.add(Process::Professional, 2, FIBRE, at(), why);
        }
        for fibre in &c.fibres {
            if fibre.protein {
                let water = if fibre.name == "silk" {
                    "silk loses strength in water"
                } else {
                    "wool and hair felt and shrink in water"
                };
                self.add(Process::Wash, 3, FIBRE, at(), water);
                let why = "chlorine bleach dissolves wool and silk";
                self.add(Process::Bleach, 2, FASTENER, at(), why);
                self.add(
                    Process::Dry,
                    2,
                    FIBRE,
                    at(),
                    "tumbling felts wool and wears silk",
                );
            }
            if matches!(fibre.name, "metal" | "metallised") {
                let why = "metal thread tarnishes, and its core swells";
                self.add(Process::Wash, 3, FASTENER, at(), why);
                self.add(Process::Bleach, 2, FASTENER, at(), "bleach eats metal");
                let why = "solvents may loosen metal from its core";
                self.add(Process::Professional, 2, FASTENER, at(), why);
            }
            if matches!(
                fibre.name,
                "chlorofibre" | "polyurethane" | "elastane" | "acetate" | "triacetate"
            ) {
                let why = "solvents may swell or dissolve it";
                self.add(Process::Professional, 2, FIBRE, at(), why);
            }
            let (severity, why) = iron(fibre);
            self.add(Process::Iron, severity, FIBRE, at(), why);
        }
    }

    fn of_whole(&mut self, piece: &Piece, components: &[Component]) {
        let whole = |field: &str| ("the piece", field.to_string());
        let why = "nothing in a hanging is gained by it";
        self.add(Process::Bleach, 2, GENERAL, whole("technique"), why);
        let why = "its own weight pulls it out of shape when wet";
        self.add(Process::Dry, 2, GENERAL, whole("technique"), why);
        let why = "an iron flattens the ribs of the weave";
        self.add(Process::Iron, 0, GENERAL, whole("technique"), why);
        let why = "a woven hanging is not household washing";
        self.add(Process::Wash, 1, GENERAL, whole("technique"), why);
        let why = "each colour would have to be tested in the solvent";
        self.add(Process::Professional, 1, GENERAL, whole("weft"), why);
        if shrinks_apart(components) {
            let why = "warp and weft of different fibres shrink differently";
            self.add(
                Process::Wash,
                3,
                FIBRE,
                ("warp and weft", "warp.fibre".into()),
                why,
            );
        }
        let Some(care) = &piece.care else { return };
        let because = care.because.as_ref().map(|b| b.value.as_str());
        if because.is_some_and(|b| RUNS.iter().any(|w| has_word(b, w))) {
            let why = "the record says that a colour runs";
            self.add(Process::Wash, 3, HER_WORD, whole("care.because"), why);
            self.add(
                Process::Professional,
                2,
                HER_WORD,
                whole("care.because"),
                why,
            );
        }
        if let Some(cleaning) = &care.cleaning {
            let says = |word: &str| has_word(&cleaning.value, word);
            let only = says("only") || says("no") || says("not") || says("conservator");
            let why = "the record allows no more than is written there";
            if only || !(says("wash") || says("water")) {
                self.add(Process::Wash, 3, COLOUR, whole("care.cleaning"), why);
            }
            if only {
                self.add(
                    Process::Professional,
                    2,
                    COLOUR,
                    whole("care.cleaning"),
                    why,
                );
            }
        }
    }
}

/// Whether warp and weft hold fibres of different kinds: protein, and anything else.
fn shrinks_apart(components: &[Component]) -> bool {
    let of = |weft: bool, protein: bool| {
        components
            .iter()
            .filter(|c| c.field.starts_with("weft") == weft && !c.field.starts_with("parts"))
            .any(|c| c.fibres.iter().any(|f| f.protein == protein))
    };
    (of(false, false) && of(true, true)) || (of(false, true) && of(true, false))
}
