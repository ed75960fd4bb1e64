//! Clothes moths and what freezing against them would have to mind. Freezing is named as what museums
//! do, never as something to do at home.

use super::components::Component;
use super::has_word;
use crate::quantity::Dimension;
use crate::reckon::ledger::Entry;
use crate::record::Piece;

/// Months between two looks behind the piece: own rule, each season in heated rooms; moths have two or
/// three generations a year there.
const INSPECT_MONTHS: f64 = 3.0;
/// Relative humidity over which a piece is too damp to be sealed in a bag: the alarm line of many houses
/// (from memory).
const DAMP: f64 = 65.0;

/// What moths find, and what speaks against freezing.
#[derive(Debug, Clone, PartialEq)]
pub struct Pests {
    /// Components of wool, hair or silk: field and name.
    pub food: Vec<(String, String)>,
    /// Components whose fibre is not said: field and name.
    pub unknown: Vec<(String, String)>,
    /// What was done against moths, as written.
    pub treated: Option<String>,
    /// What speaks against freezing: field and why.
    pub against_freezing: Vec<(String, String)>,
}

/// Words in technique and parts that name what should not be frozen without advice. Only dry things
/// made wholly of textile, leather, wood and paper count as safe (NPS Conserve O Gram 3/6); mixed,
/// painted and fragile ones are for a conservator first (a state museum service's advice, from a
/// conference session); not for glass, bone, ivory, shell (a museum's handout, second hand).
const AGAINST: &[(&str, &str)] = &[
    ("paint", "paint"),
    ("painted", "paint"),
    ("gilded", "gilding"),
    ("lacquer", "lacquer"),
    ("glass", "glass"),
    ("bead", "beads"),
    ("sequin", "sequins"),
    ("mirror", "mirrors"),
    ("bone", "bone"),
    ("horn", "horn"),
    ("ivory", "ivory"),
    ("shell", "shell"),
    ("feather", "feathers"),
    ("wood", "wood joined to cloth"),
    ("wooden", "wood joined to cloth"),
    ("oak", "wood joined to cloth"),
    ("batten", "wood joined to cloth"),
    ("glue", "glue"),
    ("glued", "glue"),
    ("wax", "wax"),
];

impl Pests {
    /// Months between two looks behind a hanging.
    pub const INSPECT_MONTHS: f64 = INSPECT_MONTHS;

    pub(super) fn of(piece: &Piece, components: &[Component]) -> Pests {
        let named = |c: &Component| (format!("{}.fibre", c.field), c.name.clone());
        let holds = |c: &&Component, what: &dyn Fn(&crate::record::Fibre) -> bool| {
            c.fibres.iter().any(|f| what(f))
        };
        let mut against: Vec<(String, String)> = components
            .iter()
            .filter(|c| holds(c, &|f| matches!(f.name, "metal" | "metallised")))
            .map(|c| {
                (
                    format!("{}.fibre", c.field),
                    format!("{}: metal beside fibre gathers dew on warming up", c.name),
                )
            })
            .collect();
        let mut look = |field: String, text: &str| {
            for (word, what) in AGAINST {
                let entry = (field.clone(), (*what).to_string());
                if has_word(text, word) && !against.contains(&entry) {
                    against.push(entry);
                }
            }
        };
        if let Some(technique) = &piece.technique {
            look("technique".into(), &technique.value);
        }
        for part in &piece.parts {
            let method = part.method.as_ref().map_or("", |m| m.value.as_str());
            let text = format!("{} {method}", part.name.value);
            look(format!("parts.{}", part.name.value), &text);
        }
        let air = piece.measured.at.as_ref();
        if let Some(h) = air.and_then(|a| a.humidity.as_ref())
            && h.value.value.base() > DAMP
        {
            against.push((
                "measured.at.humidity".into(),
                format!(
                    "it lay in damp air of {} when it was measured",
                    h.value.text
                ),
            ));
        }
        Pests {
            food: components
                .iter()
                .filter(|c| holds(c, &|f| f.protein))
                .map(named)
                .collect(),
            unknown: components
                .iter()
                .filter(|c| !c.fibre_said && !c.field.starts_with("parts"))
                .map(named)
                .collect(),
            treated: piece
                .finishing
                .mothproofing
                .as_ref()
                .map(|m| m.value.clone()),
            against_freezing: against,
        }
    }

    pub(super) fn entries(&self) -> Vec<Entry> {
        let mut all = vec![self.food_entry()];
        if let Some(treated) = &self.treated {
            all.push(
                Entry::words("pests.treated", "what was done against moths", treated.clone())
                    .source("the record")
                    .from(["finishing.mothproofing"])
                    .caution(
                        "Chemicals against moths can harm people and dyes: keep the name of what was used, and do \
                         not spray a hanging; ask a textile conservator or a licensed pest controller.",
                    ),
            );
        }
        if self.food.is_empty() && self.unknown.is_empty() {
            return all;
        }
        all.push(
            Entry::number(
                "pests.inspect-every",
                "look behind it, in its folds and under the lining",
                INSPECT_MONTHS,
                "months",
            )
            .by("each season in heated rooms", "")
            .source("own rule; larvae shun the light (published moth biology)")
            .from(["pests.food"]),
        );
        all.push(
            Entry::range(
                "pests.generation",
                "from egg to egg, from the warmest case to the common one",
                (1.0, 6.0),
                "months",
            )
            .by(
                "a month at best (24 °C, 70 to 75 % RH), four to six commonly",
                "",
            )
            .source("published moth biology")
            .from(["pests.food"]),
        );
        all.push(
            Entry::range(
                "pests.eggs",
                "eggs of the clothes moth hatch after, from 32 °C down to 13 °C",
                (4.0, 37.0),
                "days",
            )
            .by("4 days at 32 °C, 7 to 10 at room warmth, 37 at 13 °C", "")
            .source("published moth biology")
            .from(["pests.food"]),
        );
        all.push(self.freezing());
        all
    }

    fn food_entry(&self) -> Entry {
        const NAMED: usize = 5;
        let listed = |all: &[(String, String)]| {
            let mut said = all
                .iter()
                .take(NAMED)
                .map(|(_, n)| n.as_str())
                .collect::<Vec<_>>()
                .join(", ");
            if all.len() > NAMED {
                said.push_str(&format!(" and {} more", all.len() - NAMED));
            }
            said
        };
        let mut words = if self.food.is_empty() {
            "no wool, hair or silk is named: clothes moths leave clean cotton and linen alone"
                .to_string()
        } else {
            format!("wool, hair or silk: {}", listed(&self.food))
        };
        if !self.unknown.is_empty() {
            words.push_str(&format!(
                "; the fibre of {} is not said",
                listed(&self.unknown)
            ));
        }
        let fields = self
            .food
            .iter()
            .chain(&self.unknown)
            .take(NAMED)
            .map(|(f, _)| f.clone());
        Entry::words("pests.food", "what clothes moths find in it", words)
            .by("protein fibres feed clothes moths and carpet beetles", "")
            .source("published moth biology; common practice")
            .from(fields)
            .caution("At signs of moth bag and seal the piece, keep it apart, and ask a textile conservator before any treatment.")
    }

    fn freezing(&self) -> Entry {
        let mut words = "ask a textile conservator, and only at signs of pests; museums freeze dry textiles, bagged and sealed \
            with little air, for at least a week at −20 °C or colder, cool them fast, and leave the bag closed until it is \
            warm again"
            .to_string();
        if !self.against_freezing.is_empty() {
            let why: Vec<String> = self
                .against_freezing
                .iter()
                .take(8)
                .map(|(field, why)| format!("{why} ({field})"))
                .collect();
            words.push_str(&format!(
                ". In this piece it speaks against it: {}",
                why.join("; ")
            ));
        }
        Entry::words("pests.freezing", "freezing", words)
            .by("only dry things wholly of textile, leather, wood or paper; mixed, painted and fragile ones not without a conservator", "")
            .source(
                "NPS Conserve O Gram 3/6 (1994): 6 to 10 days at −20 °C, never as a habit; The Textile Museum: a week \
                 at −20 to −25 °C; a museum service's advice on mixed and painted things",
            )
            .from(self.against_freezing.iter().take(8).map(|(field, _)| field.clone()))
            .caution("Freezing can harm: a household freezer is not cold enough for certain, and dew can stain. Leave it to a conservator.")
    }
}
