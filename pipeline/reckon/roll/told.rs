//! The roll's entries in the ledger.

use super::way::Way;
use super::{OnTube, Roll, assumed};
use crate::quantity::Length;
use crate::reckon::figure::Figure;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::record::{Face, Round};

/// A length in millimetres with six digits, to be put into a formula.
fn mm(length: Length) -> String {
    significant(length.mm(), 6)
}

const NEVER_FOLD: &str = "Roll, never fold: fibres crack along a crease. A large roll needs two people at the tube and two at \
    the cloth; ask a textile conservator about a fragile one.";

impl Roll {
    pub(super) fn told(&self) -> Vec<Entry> {
        let way = &self.way;
        let mut all = vec![
            way.round_said(),
            way.side_out(),
            way.tube("roll.tube-length", "length of the tube", true),
            way.tube(
                "roll.tube-length-other-way",
                "length of the tube if it is rolled the other way",
                false,
            ),
            way.bumps(),
        ];
        if let Some(a) = &self.tube.advised {
            let tube = a.tube.mm();
            all.push(
                Entry::number(
                    "roll.tube-advised",
                    "least diameter of the tube",
                    tube,
                    "mm",
                )
                .by(
                    "own steps of 100, 150 and 200 mm",
                    format!("{tube} mm, since {}", a.why),
                )
                .source(
                    "own rule; museum notes use 75 to 150 mm in general, 200 mm for large textiles",
                )
                .from([a.field])
                .caution(NEVER_FOLD),
            );
        }
        if let (Some(w), Some(core)) = (&self.wound, &self.tube.taken) {
            all.extend(w.told(way, core, self.tube.given));
        }
        all
    }
}

impl Way {
    fn round_said(&self) -> Entry {
        let words = match self.round {
            Round::Warp => "warps round the tube",
            Round::Weft => "wefts round the tube, warps along it",
        };
        let hangs = if self.warp_upright {
            "up and down"
        } else {
            "from side to side"
        };
        let reason = match (self.chosen, self.round) {
            (true, _) => "as said in packing.round".to_string(),
            (false, _) => "not said; the habit of the handbooks is taken".to_string(),
        };
        let rolled = if self.height_is_rolled() {
            "the height is rolled up and the tube lies along the width"
        } else {
            "the width is rolled up and the tube lies along the height"
        };
        Entry::words(
            "roll.way",
            "which yarns go round the tube",
            format!("{words}: {rolled}"),
        )
        .by(
            "two rules differ: handbooks roll in the direction of the warp; a ribbed weft-faced cloth \
             bends most easily with its warps along the tube",
            format!("the warps run {hangs} as it hangs; {reason}"),
        )
        .source("the first rule from memory, the second own reasoning")
        .from(std::iter::once("top").chain(self.chosen.then_some("packing.round")))
    }

    fn side_out(&self) -> Entry {
        let lining = if self.lined {
            ", the lining inward"
        } else {
            ""
        };
        let (words, reason) = match self.face {
            Face::Out => (
                format!("face outward{lining}"),
                "what cockles lies on the inside of the roll, at the back; raised parts are not crushed",
            ),
            Face::In if self.lined => (
                "face inward and the lining outward, as said".to_string(),
                "not advised: the lining is stretched and the face is pressed into cockles",
            ),
            Face::In => (
                "face inward, as said".to_string(),
                "not advised: the face takes the cockles of the inside of the roll",
            ),
        };
        Entry::words("roll.face", "which side lies outward", words)
            .by("the side that must stay smooth lies outward", reason)
            .source(
                "museum habit for flat textiles; outward for paint and raised ornament: published \
                 conservation advice; lining inward: from memory",
            )
            .from(
                (self.face_said.then_some("packing.face").into_iter())
                    .chain(self.lined.then_some("parts")),
            )
    }

    fn tube(&self, name: &str, what: &str, taken: bool) -> Entry {
        let length = if taken {
            &self.tube_length
        } else {
            &self.other_length
        };
        let cloth = length.value.mm() - 2.0 * self.ends.value.mm();
        Entry::uncertain(name, what, length.number(), "mm")
            .by(
                "T = b + 2e, b the cloth along the tube, e bare tube at each end",
                format!(
                    "{} + 2 × {} ({}) = {} mm",
                    significant(cloth, 6),
                    mm(self.ends.value),
                    assumed(&self.ends),
                    mm(length.value)
                ),
            )
            .source("museum notes on rolled storage: at least 4 in longer than the textile is wide")
            .from(length.from.clone())
    }

    fn bumps(&self) -> Entry {
        let hems = if self.round == Round::Warp {
            "the hems lie across the beginning and the end of the roll: pad the cloth before the first one \
             up to its thickness"
        } else {
            "the hems lie at both ends of the tube on every turn: fill the middle with soft interleaf"
        };
        let heading = match (&self.heading, self.height_is_rolled()) {
            (Some(name), true) => {
                format!("; begin at the foot, so that the {name} comes last and presses nothing")
            }
            (Some(name), false) => format!(
                "; the {name} makes the roll thicker at one end of the tube: fill the rest with soft \
                 interleaf"
            ),
            (None, _) => String::new(),
        };
        Entry::words("roll.bumps", "thick places", format!("{hems}{heading}"))
            .by(
                "a turned hem is two to three layers thick where it lies",
                "",
            )
            .source("own rule")
            .from(
                (self.heading.iter().map(|_| "parts"))
                    .chain(self.chosen.then_some("packing.round")),
            )
    }
}

impl OnTube {
    fn told(&self, way: &Way, core: &Figure<Length>, given: bool) -> Vec<Entry> {
        let (d, l, t) = (mm(core.value), mm(way.rolled.value), mm(self.layer.value));
        let cloth = self.layer.value.mm() / self.loft.0 - self.interleaf.value.mm();
        let cloth = significant(cloth, 6);
        let tube = if given { "as said" } else { "the advised tube" };
        let loft = if self.loft.1 { "as said" } else { "assumed" };
        let layer = Entry::uncertain(
            "roll.layer",
            "one layer of cloth and interleaf as it lies",
            self.layer.number(),
            "mm",
        )
        .by(
            "t = (c + i) f, c cloth, i interleaf, f loft",
            format!(
                "({cloth} + {} ({})) × {} ({loft}) = {t} mm",
                mm(self.interleaf.value),
                assumed(&self.interleaf),
                self.loft.0
            ),
        )
        .source("own rule: loft 1.05 to 1.2, interleaf of two tissues of 0.1 mm")
        .from(self.layer.from.clone());
        let diameter = Entry::uncertain(
            "roll.diameter",
            "diameter of the roll by ring area",
            self.diameter.number(),
            "mm",
        )
        .by(
            "D = √(d² + 4 L t / π)",
            format!(
                "√({d}² + 4 × {l} × {t} / π) = {} mm, d {tube}",
                mm(self.diameter.value)
            ),
        )
        .source("elementary geometry: the edge of the cloth fills the ring")
        .from(["roll.layer"])
        .from(self.diameter.from.clone())
        .caution(NEVER_FOLD);
        let turns = Entry::uncertain("roll.turns", "turns on the tube", &self.turns, "turns")
            .by(
                "n = (D − d) / 2t",
                format!(
                    "({} − {d}) / (2 × {t}) = {}",
                    mm(self.diameter.value),
                    significant(self.turns.value, 5)
                ),
            )
            .source("elementary geometry")
            .from(["roll.diameter", "roll.layer"]);
        let whole = libm::floor(self.by_turn.turns + 1e-9);
        let by_turn = Entry::number(
            "roll.turns-by-turn",
            "turns, each one circle",
            self.by_turn.turns,
            "turns",
        )
        .by(
            "n whole turns take π n (d + n t); the rest lies on the circle π (d + (2n + 1) t)",
            format!(
                "n = {whole}: π × {whole} × ({d} + {whole} × {t}), the rest of {l} over π × ({d} + {} × {t})",
                2.0 * whole + 1.0
            ),
        )
        .source("elementary geometry; agrees with the ring for whole turns")
        .from(["roll.diameter", "roll.layer"]);
        let widest = Entry::number(
            "roll.widest",
            "greatest width across the roll",
            self.by_turn.widest,
            "mm",
        )
        .by(
            "d + (layers on both sides together) × t; a turn begun lies on one side until it is half round",
            format!(
                "{d} + {} × {t} = {} mm",
                significant((self.by_turn.widest - core.value.mm()) / self.layer.value.mm(), 4),
                significant(self.by_turn.widest, 6)
            ),
        )
        .source("elementary geometry")
        .from(["roll.turns-by-turn", "roll.layer"]);
        let strain = Entry::uncertain(
            "roll.strain",
            "stretch of the outer face on the first turn",
            &self.strain.times(100.0),
            "%",
        )
        .by(
            "ε = c / (d + c)",
            format!(
                "{cloth} / ({d} + {cloth}) = {} %",
                significant(100.0 * self.strain.value, 4)
            ),
        )
        .source("own guide: bending of a beam about its middle; cloth gives by shifting its yarns")
        .from(self.layer.from.iter().chain(&core.from).cloned());
        vec![layer, diameter, turns, by_turn, widest, strain]
    }
}
