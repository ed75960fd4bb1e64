//! Every single slip there may be in a record: what was mistaken, where, and the figures without it.

use super::facts::{Facts, Value};
use super::rewriting::{Pen, others};
use crate::quantity::{Dimension, Reading, YarnCount};
use crate::record::{At, Piece, Place};

/// A kind of slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Centimetres for inches, grams for ounces, ends a centimetre for ends an inch.
    Unit,
    /// The wrong count system.
    CountSystem,
    /// Plies passed over or forgotten.
    Plies,
    /// Two neighbouring digits changed places.
    Digits,
    /// The decimal point is one place off.
    Point,
    /// Height and width changed places.
    HeightWidth,
    /// The wrong edge is said to be the top.
    Top,
    /// Hems counted in where they should not be.
    Hems,
    /// The weight before and the weight after changed places.
    BeforeAfter,
    /// A yarn is not listed.
    LeftOut,
    /// A yarn is listed twice.
    Twice,
    /// The cone was weighed with the yarn.
    Cone,
}

/// One slip, and the figures as they would be without it.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub kind: Kind,
    /// The field, such as `measured.mass`.
    pub field: String,
    pub place: Place,
    /// "`mass` is `4.31 lb` and not `4.31 kg`".
    pub words: String,
    pub facts: Facts,
    /// The figure without the slip, where it is one figure.
    pub value: Option<f64>,
    /// Where the slip leaves a figure open: the logarithm of how likely the figure is that would fit.
    pub open: f64,
}

pub(super) const LENGTHS: &[&str] = &["mm", "cm", "m", "in"];
pub(super) const MASSES: &[&str] = &["g", "kg", "oz", "lb"];

/// All of them.
pub(super) fn all(piece: &Piece, facts: &Facts) -> Vec<Candidate> {
    let mut desk = Desk {
        facts,
        found: Vec::new(),
        file: piece.place.clone(),
    };
    desk.loom(piece);
    desk.measured(piece);
    desk.yarns(piece);
    desk.open(piece);
    desk.found
}

/// Whether a figure is written in inches, feet, ounces or pounds, or ends to the inch.
pub(super) fn imperial(text: &str) -> bool {
    ["in", "ft", "oz", "lb", "epi"]
        .iter()
        .any(|unit| text.ends_with(unit))
}

/// Where candidates gather.
pub(super) struct Desk<'a> {
    pub facts: &'a Facts,
    pub found: Vec<Candidate>,
    /// The file as a whole, for what stands nowhere.
    pub file: Place,
}

impl Desk<'_> {
    pub(super) fn add(
        &mut self,
        kind: Kind,
        field: &str,
        place: &Place,
        words: String,
        facts: Facts,
    ) {
        self.found.push(Candidate {
            kind,
            field: field.to_string(),
            place: place.clone(),
            words,
            facts,
            value: None,
            open: 0.0,
        });
    }

    /// A unit of the other family than all the rest of the record is the likelier slip, and one of
    /// the same family the less likely remedy (own rule: e² to one).
    fn weigh_family(&mut self, was: &str, now: &str) {
        let (was, now) = (imperial(was), imperial(now));
        if let Some(last) = self.found.last_mut()
            && was != now
        {
            let most = self.facts.imperial_share;
            let towards = if now { most } else { 1.0 - most };
            last.open += 4.0 * (towards - 0.5);
        }
    }

    pub(super) fn valued(&mut self, value: f64) {
        if let Some(last) = self.found.last_mut() {
            last.value = Some(value);
        }
    }

    /// The slips of the pen in one reading; `put` puts the other value into the figures.
    pub(super) fn reading<D: Dimension>(
        &mut self,
        field: &str,
        label: &str,
        reading: &At<Reading<D>>,
        units: &[&str],
        put: impl Fn(&mut Facts, Value),
    ) {
        for (pen, other) in others(&reading.value, units) {
            let kind = match pen {
                Pen::Unit => Kind::Unit,
                Pen::Digits => Kind::Digits,
                Pen::Point => Kind::Point,
            };
            let mut facts = self.facts.clone();
            put(&mut facts, Value::of(&other));
            let words = format!(
                "{label} is `{}` and not `{}`",
                other.text, reading.value.text
            );
            self.add(kind, field, &reading.place, words, facts);
            self.valued(other.value.base());
            if pen == Pen::Unit {
                self.weigh_family(&reading.value.text, &other.text);
            }
        }
    }

    pub(super) fn count(
        &mut self,
        field: &str,
        label: &str,
        count: &At<YarnCount>,
        put: impl Fn(&mut Facts, f64),
    ) {
        let systems = count.value.in_other_systems().into_iter();
        let plies = count.value.with_other_plies().into_iter();
        let kinds = systems
            .map(|c| (Kind::CountSystem, c))
            .chain(plies.map(|c| (Kind::Plies, c)));
        for (kind, other) in kinds {
            let mut facts = self.facts.clone();
            put(&mut facts, other.resultant.tex());
            let words = format!("{label} is `{}` and not `{}`", other.text, count.value.text);
            self.add(kind, field, &count.place, words, facts);
            self.valued(other.resultant.tex());
        }
        // tex for dtex, and the other way round.
        let text = &count.value.text;
        let swapped = if text.contains("dtex") {
            text.replacen("dtex", "tex", 1)
        } else if text.contains("tex") && !text.contains("ktex") {
            text.replacen("tex", "dtex", 1)
        } else {
            return;
        };
        if let Ok(other) = YarnCount::parse(&swapped) {
            let mut facts = self.facts.clone();
            put(&mut facts, other.resultant.tex());
            let words = format!("{label} is `{swapped}` and not `{text}`");
            self.add(Kind::Unit, field, &count.place, words, facts);
        }
    }
}
