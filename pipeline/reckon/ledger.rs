//! The ledger: every reckoned figure as an entry with its unit, its doubt, its formula, the same with
//! the numbers put in, its source and its inputs, so that a person can redo it by hand. Subjects make
//! the entries; this file holds and prints them.

use super::printed::printed;
use super::uncertain::Uncertain;
use serde_json::{Value, json};

/// One reckoned figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its name, subject first, such as `roll.diameter`.
    pub name: String,
    /// What it is, in a few words.
    pub what: String,
    /// The figure.
    pub amount: Amount,
    /// The formula in letters and words.
    pub formula: String,
    /// The formula with the numbers put in; empty where there is nothing to put in.
    pub worked: String,
    /// Where the formula or rule comes from: a standard, an article, "common practice, no source",
    /// "own rule".
    pub source: String,
    /// Names of the record's fields and of other figures it came from.
    pub from: Vec<String>,
    /// What must be said with it where somebody could come to harm.
    pub caution: Option<String>,
}

/// What a figure is.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A number in a unit, with its standard uncertainty where it is known.
    Number {
        /// The number.
        value: f64,
        /// Its standard uncertainty, same unit.
        u: Option<f64>,
        /// The unit, such as `mm` or `kg/m2`; empty for a pure number.
        unit: &'static str,
    },
    /// From least to most, where a single figure would claim too much.
    Range {
        /// The least.
        least: f64,
        /// The most.
        most: f64,
        /// The unit.
        unit: &'static str,
    },
    /// Words: a choice, an advice.
    Words(String),
}

impl Entry {
    /// A plain number.
    pub fn number(
        name: impl Into<String>,
        what: impl Into<String>,
        value: f64,
        unit: &'static str,
    ) -> Entry {
        Entry::new(
            name,
            what,
            Amount::Number {
                value,
                u: None,
                unit,
            },
        )
    }

    /// A number with its uncertainty.
    pub fn uncertain(
        name: impl Into<String>,
        what: impl Into<String>,
        x: &Uncertain,
        unit: &'static str,
    ) -> Entry {
        let amount = Amount::Number {
            value: x.value,
            u: (x.u() > 0.0).then(|| x.u()),
            unit,
        };
        Entry::new(name, what, amount)
    }

    /// A range.
    pub fn range(
        name: impl Into<String>,
        what: impl Into<String>,
        (least, most): (f64, f64),
        unit: &'static str,
    ) -> Entry {
        Entry::new(name, what, Amount::Range { least, most, unit })
    }

    /// Words.
    pub fn words(
        name: impl Into<String>,
        what: impl Into<String>,
        words: impl Into<String>,
    ) -> Entry {
        Entry::new(name, what, Amount::Words(words.into()))
    }

    fn new(name: impl Into<String>, what: impl Into<String>, amount: Amount) -> Entry {
        Entry {
            name: name.into(),
            what: what.into(),
            amount,
            formula: String::new(),
            worked: String::new(),
            source: String::new(),
            from: Vec::new(),
            caution: None,
        }
    }

    /// With its formula and the same with numbers put in.
    pub fn by(mut self, formula: impl Into<String>, worked: impl Into<String>) -> Entry {
        self.formula = formula.into();
        self.worked = worked.into();
        self
    }

    /// With its source.
    pub fn source(mut self, source: impl Into<String>) -> Entry {
        self.source = source.into();
        self
    }

    /// With the names of what it came from.
    pub fn from<S: Into<String>>(mut self, from: impl IntoIterator<Item = S>) -> Entry {
        self.from.extend(from.into_iter().map(Into::into));
        self
    }

    /// With a caution.
    pub fn caution(mut self, caution: impl Into<String>) -> Entry {
        self.caution = Some(caution.into());
        self
    }

    /// The figure in words, rounded by its uncertainty.
    pub fn said(&self) -> String {
        match &self.amount {
            Amount::Number { value, u, unit } => {
                format!("{} {unit}", printed(*value, *u)).trim().to_string()
            }
            Amount::Range { least, most, unit } => format!(
                "{} to {} {unit}",
                printed(*least, None),
                printed(*most, None)
            )
            .trim()
            .to_string(),
            Amount::Words(words) => words.clone(),
        }
    }

    /// The entry for machines.
    pub fn to_json(&self) -> Value {
        let mut out = json!({
            "name": self.name, "what": self.what, "formula": self.formula, "worked": self.worked,
            "source": self.source, "from": self.from,
        });
        if let Value::Object(map) = &mut out {
            match &self.amount {
                Amount::Number { value, u, unit } => {
                    map.insert("value".into(), json!(kept(*value, *u)));
                    map.insert("u".into(), json!(u.map(|u| kept(u, Some(u)))));
                    map.insert("unit".into(), json!(unit));
                }
                Amount::Range { least, most, unit } => {
                    map.insert("least".into(), json!(kept(*least, None)));
                    map.insert("most".into(), json!(kept(*most, None)));
                    map.insert("unit".into(), json!(unit));
                }
                Amount::Words(words) => {
                    map.insert("words".into(), json!(words));
                }
            }
            if let Some(caution) = &self.caution {
                map.insert("caution".into(), json!(caution));
            }
        }
        out
    }
}

/// A number for machines: two digits more than its uncertainty has meaning, else nine significant
/// digits. More would be noise and could differ between machines.
pub(super) fn kept(value: f64, u: Option<f64>) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return if value.is_finite() { value } else { 0.0 };
    }
    let magnitude = |x: f64| libm::floor(libm::log10(x.abs())) as i32;
    let places = match u {
        Some(u) if u > 0.0 && u.is_finite() => 3 - magnitude(u),
        _ => 8 - magnitude(value),
    };
    format!("{value:.*}", places.clamp(0, 15) as usize)
        .parse()
        .unwrap_or(value)
}
