//! Care, pests and climate: what each part of the piece forbids, traced to the part; what moths find in
//! it; what air it should hang in. It advises less than it could rather than more, and hands over to
//! a textile conservator. The words on the care label are made elsewhere.

mod climate;
mod components;
mod five;
mod pests;

pub use climate::Climate;
pub use components::Component;
pub use five::{Decided, Process, Reason};
pub use pests::Pests;

use super::ledger::Entry;
use crate::record::Piece;

/// How the piece is looked after.
#[derive(Debug, Clone, PartialEq)]
pub struct Upkeep {
    /// The five processes in the order of ISO 3758.
    pub processes: Vec<Decided>,
    /// Words in the record that ask for a light hand with the vacuum: field and why.
    pub light_hand: Vec<(String, String)>,
    /// What moths find in it, and what speaks against freezing.
    pub pests: Pests,
    /// Air.
    pub climate: Climate,
}

/// Words that tell of loose or brittle places, and what to mind.
const LOOSE: &[(&str, &str)] = &[
    ("open", "open slits catch a nozzle"),
    ("brittle", "brittle yarn breaks under a brush"),
    ("chafe", "it chafes"),
    ("loose", "something is loose"),
    ("bead", "beads come off"),
    ("fragile", "it is fragile"),
];

impl Upkeep {
    /// Works out the care.
    pub fn of(piece: &Piece) -> Upkeep {
        let components = Component::all(piece);
        Upkeep {
            processes: five::decide(piece, &components),
            light_hand: light_hand(piece),
            pests: Pests::of(piece, &components),
            climate: Climate::of(piece),
        }
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all: Vec<Entry> = self.processes.iter().map(Decided::entry).collect();
        all.push(self.vacuum());
        all.extend(self.pests.entries());
        all.extend(self.climate.entries());
        all
    }

    fn vacuum(&self) -> Entry {
        let mut words =
            "dust only: both faces, low suction, nozzle 20 mm off the cloth; through a screen of \
            fibreglass, or with a soft brush towards the nozzle (houses differ)"
                .to_string();
        let mut from: Vec<String> = Vec::new();
        for (field, why) in &self.light_hand {
            words.push_str(&format!("; {why} ({field})"));
            if !from.contains(field) {
                from.push(field.clone());
            }
        }
        Entry::words("care.vacuum", "dusting", words)
            .by("no suction is named: there is no agreed figure", "")
            .source(
                "museum notes: a screen (North Carolina Museum of History), a brush instead (a textile service), \
                 20 mm (Artlab Australia), no agreed figure (Smithsonian MCI)",
            )
            .from(from)
            .caution("Not where it powders, flakes or has loose beads: ask a textile conservator.")
    }
}

fn light_hand(piece: &Piece) -> Vec<(String, String)> {
    let because = piece.care.as_ref().and_then(|c| c.because.as_ref());
    let texts = [
        ("finishing.slits", piece.finishing.slits.as_ref()),
        ("care.because", because),
        ("technique", piece.technique.as_ref()),
    ];
    let mut found: Vec<(String, String)> = Vec::new();
    for (field, text) in texts {
        let Some(text) = text else { continue };
        for (word, why) in LOOSE {
            if has_word(&text.value, word) && !found.iter().any(|(_, w)| w == why) {
                found.push((field.to_string(), why.to_string()));
            }
        }
    }
    found
}

/// Whether a text holds a word, in its plain form or with an s; capitals do not matter.
fn has_word(text: &str, word: &str) -> bool {
    text.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .any(|w| w == word || w.strip_suffix('s') == Some(word))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::piece_from;

    pub(super) fn upkeep(lines: &str) -> Upkeep {
        let text = format!(
            "title: Low Water\nmade: 2026\nmeasured: {{height: 121 cm, width: 166 cm{}}}\n{lines}\n",
            if lines.contains("#air") {
                ", at: {temperature: 19 C, humidity: 68 %}"
            } else {
                ""
            }
        );
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), &text);
        assert!(slips.is_empty(), "{slips:?}");
        Upkeep::of(&piece.expect("the piece is readable"))
    }

    const WOOL: &str = "warp: {fibre: {cotton: 100}}\nweft:\n  - {name: sand, fibre: {wool: 100}, dye: walnut, wash: 4}\n";
    const COTTON: &str = "warp: {fibre: {cotton: 100}}\nweft:\n  - {name: sand, fibre: {cotton: 100}, dye: none, wash: 5}\n";

    fn reason(u: &Upkeep, process: Process) -> (String, String) {
        let decided = u
            .processes
            .iter()
            .find(|d| d.process == process)
            .expect("all five are decided");
        let reason = &decided.reasons[0];
        (decided.words.to_string(), reason.field.clone())
    }

    #[test]
    fn the_five_stand_in_the_order_of_the_standard() {
        // Source, published: ISO 3758 (order of its 2005 and later editions, as two descriptions give it):
        // washing, bleaching, drying, ironing, professional textile care.
        let order: Vec<Process> = upkeep(WOOL).processes.iter().map(|d| d.process).collect();
        let want = [
            Process::Wash,
            Process::Bleach,
            Process::Dry,
            Process::Iron,
            Process::Professional,
        ];
        assert_eq!(order, want);
    }

    #[test]
    fn each_process_is_traced_to_the_part_that_forbids_it() {
        let u = upkeep(&format!(
            "{WOOL}  - {{name: red, fibre: {{wool: 100}}, dye: madder, wash: 2-3}}\nparts:\n  heading: {{method: hook-and-loop, fibre: {{polyamide: 100}}}}"
        ));
        assert_eq!(
            reason(&u, Process::Wash),
            ("do not wash".into(), "weft[1].wash".into())
        );
        assert_eq!(
            reason(&u, Process::Iron),
            ("do not iron".into(), "parts.heading.method".into())
        );
        // Source, published: Regulation (EU) No 1007/2011, Annex VIII, method 2: hypochlorite dissolves
        // protein fibres and leaves cotton: chlorine bleach destroys wool and silk.
        assert_eq!(
            reason(&u, Process::Bleach),
            ("do not bleach".into(), "weft[0].fibre".into())
        );
    }

    #[test]
    fn her_own_word_comes_first() {
        let u = upkeep(&format!(
            "{WOOL}care: {{cleaning: surface vacuum only, because: the madder red bleeds in water}}"
        ));
        assert_eq!(
            reason(&u, Process::Wash),
            ("do not wash".into(), "care.because".into())
        );
    }

    #[test]
    fn an_unknown_dye_is_never_washed() {
        for weft in [
            "{fibre: {cotton: 100}}",
            "{fibre: {cotton: 100}, dye: as bought}",
            "{dye: none, wash: 5}",
        ] {
            let u = upkeep(&format!("warp: {{fibre: {{cotton: 100}}}}\nweft: [{weft}]"));
            assert_eq!(reason(&u, Process::Wash).0, "do not wash", "{weft}");
            assert_eq!(
                reason(&u, Process::Professional).0,
                "do not dry clean",
                "{weft}"
            );
        }
        let plain = upkeep(COTTON);
        // Source, published: care labels' lowest washing grade in use, by hand at 30 °C at most.
        assert!(reason(&plain, Process::Wash).0.contains("by hand at 30 °C"));
    }

    #[test]
    fn the_iron_is_as_hot_as_the_weakest_fibre_bears() {
        let iron = |weft: &str| {
            let u = upkeep(&format!(
                "warp: {{fibre: {{cotton: 100}}}}\nweft: [{{wash: 5, dye: none, fibre: {weft}}}]"
            ));
            reason(&u, Process::Iron).0
        };
        // Source, published: a Canadian consumer handbook: one dot on the iron is 110 °C.
        assert!(iron("{polyamide: 100}").contains("110 °C"));
        // Source, from memory: two dots are 150 °C, three are 200 °C (ISO 3758).
        assert!(iron("{wool: 100}").contains("150 °C"));
        assert!(iron("{cotton: 100}").contains("200 °C"));
        assert!(iron("{wool: 70, silk: 30}").contains("110 °C"));
        assert_eq!(iron("{metal: 60, silk: 40}"), "do not iron");
        assert_eq!(iron("{polypropylene: 100}"), "do not iron");
    }

    #[test]
    fn a_yarn_more_never_allows_more() {
        let yarns = [
            "{fibre: {cotton: 100}, dye: none, wash: 5}",
            "{fibre: {wool: 100}, dye: weld, wash: 4}",
            "{fibre: {silk: 100}, wash: 2}",
            "{fibre: {metal: 70, silk: 30}, dye: none}",
            "{fibre: {polyamide: 100}, dye: none, wash: 5}",
            "{name: who knows}",
        ];
        let mut state = 3_u64;
        for _ in 0..200 {
            let mut pick = || {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                yarns[(state >> 33) as usize % yarns.len()]
            };
            let few: Vec<&str> = (0..3).map(|_| pick()).collect();
            let severity = |yarns: &[&str]| -> Vec<u8> {
                let u = upkeep(&format!(
                    "warp: {{fibre: {{cotton: 100}}}}\nweft: [{}]",
                    yarns.join(", ")
                ));
                u.processes.iter().map(|d| d.reasons[0].severity).collect()
            };
            let more = [few.clone(), vec![pick()]].concat();
            assert!(
                severity(&few)
                    .iter()
                    .zip(severity(&more))
                    .all(|(a, b)| *a <= b)
            );
        }
    }

    #[test]
    fn moths_and_freezing_look_at_what_is_there() {
        let u = upkeep(&format!(
            "{WOOL}  - {{name: glint, fibre: {{metal: 70, silk: 30}}, wash: 3}}\ntechnique: slit tapestry with painted wood\nparts:\n  bar: {{method: oak batten}}\n#air"
        ));
        assert!(
            u.pests
                .food
                .iter()
                .any(|(field, _)| field == "weft[0].fibre")
        );
        let against: Vec<&str> = u
            .pests
            .against_freezing
            .iter()
            .map(|(field, _)| field.as_str())
            .collect();
        assert_eq!(
            against,
            [
                "weft[1].fibre",
                "technique",
                "technique",
                "parts.bar",
                "measured.at.humidity"
            ]
        );
        let bare = upkeep(COTTON);
        assert!(bare.pests.food.is_empty() && bare.pests.against_freezing.is_empty());
    }
}
