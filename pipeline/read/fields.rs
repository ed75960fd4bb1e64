//! A group of fields, taken one by one by name. What is wrong with a value becomes a finding and the
//! value counts as absent; what nobody asked for is an unknown field. So one run finds everything.

use super::kinds;
use super::yaml::{Content, Key, Node};
use crate::quantity::{Day, Dimension, Edtf, Money, Number, QuantityError, Reading, YarnCount};
use crate::record::{At, Finding, FindingKind, Place};
use std::cell::RefCell;

/// Where findings gather while one file is read.
#[derive(Default)]
pub(super) struct Desk(RefCell<Vec<Finding>>);

impl Desk {
    pub fn add(&self, finding: Finding) {
        self.0.borrow_mut().push(finding);
    }
    pub fn into_findings(self) -> Vec<Finding> {
        self.0.into_inner()
    }
}

/// One group of fields.
pub(super) struct Fields<'a> {
    desk: &'a Desk,
    /// What the group is, for sentences: `measured`, or empty for the file itself.
    what: String,
    /// Where the group begins.
    pub place: Place,
    entries: &'a [(Key, Node)],
    asked: Vec<&'static str>,
}

impl<'a> Fields<'a> {
    /// Opens a node as a group of fields.
    pub fn open(desk: &'a Desk, what: &str, place: &Place, node: &'a Node) -> Option<Fields<'a>> {
        match &node.content {
            Content::Map(entries) => Some(Fields {
                desk,
                what: what.to_string(),
                place: place.clone(),
                entries,
                asked: Vec::new(),
            }),
            _ => {
                desk.add(kinds::WRONG_SHAPE.at(
                    &node.place,
                    format!("`{what}` is {}, but a group of fields is due", node.what()),
                    format!(
                        "write its fields under it or in braces: `{what}: {{field: value, …}}`"
                    ),
                ));
                None
            }
        }
    }

    /// The field's node, unless nothing is written there.
    fn node(&mut self, name: &'static str) -> Option<(&'a Key, &'a Node)> {
        self.asked.push(name);
        self.entries
            .iter()
            .find(|(key, node)| key.text == name && !node.is_empty())
            .map(|(key, node)| (key, node))
    }

    /// The field as a group of its own.
    pub fn group(&mut self, name: &'static str) -> Option<Fields<'a>> {
        let (key, node) = self.node(name)?;
        Fields::open(self.desk, name, &key.place, node)
    }

    /// The field as a list; a single value counts as a list of one.
    pub fn nodes(&mut self, name: &'static str) -> Vec<&'a Node> {
        match self.node(name) {
            None => Vec::new(),
            Some((_, node)) => match &node.content {
                Content::List(items) => items.iter().collect(),
                _ => vec![node],
            },
        }
    }

    /// The field as a list of groups.
    pub fn groups(&mut self, name: &'static str) -> Vec<Fields<'a>> {
        let desk = self.desk;
        self.nodes(name)
            .into_iter()
            .filter_map(|node| Fields::open(desk, name, &node.place, node))
            .collect()
    }

    /// Every entry, for groups whose names the weaver chooses.
    pub fn open_entries(&mut self) -> Vec<(At<String>, &'a Node)> {
        let all = self.entries;
        self.entries = &[];
        all.iter()
            .map(|(key, node)| {
                let name = At {
                    value: key.text.clone(),
                    place: key.place.clone(),
                };
                (name, node)
            })
            .collect()
    }

    /// The desk, for readers of nodes.
    pub fn desk(&self) -> &'a Desk {
        self.desk
    }

    /// Text of one line: blanks and line ends are folded to single blanks.
    pub fn text(&mut self, name: &'static str) -> Option<At<String>> {
        let (_, node) = self.node(name)?;
        let raw = scalar(self.desk, name, node)?;
        let folded = raw.split_whitespace().collect::<Vec<_>>().join(" ");
        clean(self.desk, name, node, folded)
    }

    /// Text of several paragraphs.
    pub fn prose(&mut self, name: &'static str) -> Option<At<String>> {
        let (_, node) = self.node(name)?;
        let raw = scalar(self.desk, name, node)?;
        clean(self.desk, name, node, raw.trim().to_string())
    }

    /// A value parsed by `parse`.
    pub fn parsed<T>(
        &mut self,
        name: &'static str,
        parse: impl Fn(&str) -> Result<T, QuantityError>,
    ) -> Option<At<T>> {
        let (_, node) = self.node(name)?;
        parsed(self.desk, name, node, parse)
    }

    /// A quantity with its unit.
    pub fn reading<D: Dimension>(&mut self, name: &'static str) -> Option<At<Reading<D>>> {
        self.parsed(name, above_zero::<D>)
    }

    /// One quantity or several.
    pub fn readings<D: Dimension>(&mut self, name: &'static str) -> Vec<At<Reading<D>>> {
        let desk = self.desk;
        self.nodes(name)
            .into_iter()
            .filter_map(|node| parsed(desk, name, node, above_zero::<D>))
            .collect()
    }

    /// A whole number from 1.
    pub fn whole(&mut self, name: &'static str) -> Option<At<u32>> {
        self.parsed(name, whole_number)
    }

    /// A plain number.
    pub fn number(&mut self, name: &'static str) -> Option<At<f64>> {
        self.parsed(name, |t| Number::parse(t).map(|n| n.value))
    }

    /// One of the known words.
    pub fn word<T: Copy>(&mut self, name: &'static str, all: &[(&str, T)]) -> Option<At<T>> {
        let (_, node) = self.node(name)?;
        word(self.desk, name, node, all)
    }

    /// `yes` or `no`.
    pub fn yes_no(&mut self, name: &'static str) -> Option<At<bool>> {
        self.word(
            name,
            &[
                ("yes", true),
                ("no", false),
                ("true", true),
                ("false", false),
            ],
        )
    }

    /// A date.
    pub fn date(&mut self, name: &'static str) -> Option<At<Edtf>> {
        self.parsed(name, Edtf::parse)
    }

    /// One day.
    pub fn day(&mut self, name: &'static str) -> Option<At<Day>> {
        self.parsed(name, Day::parse)
    }

    /// Money.
    pub fn money(&mut self, name: &'static str) -> Option<At<Money>> {
        self.parsed(name, Money::parse)
    }

    /// A yarn count.
    pub fn count(&mut self, name: &'static str) -> Option<At<YarnCount>> {
        self.parsed(name, YarnCount::parse)
    }

    /// The value of a needed field; a finding where it is not written at all. A value that is
    /// written but wrong has its finding already.
    pub fn needed<T>(&self, name: &'static str, value: Option<T>, example: &str) -> Option<T> {
        let written = self
            .entries
            .iter()
            .any(|(key, node)| key.text == name && !node.is_empty());
        if value.is_none() && !written {
            let whose = if self.what.is_empty() {
                String::new()
            } else {
                format!(" in `{}`", self.what)
            };
            self.desk.add(kinds::MISSING_FIELD.at(
                &self.place,
                format!("`{name}` is missing{whose}"),
                format!("add a line such as `{name}: {example}`"),
            ));
        }
        value
    }

    /// Ends the group: whatever was not asked for is unknown.
    pub fn done(self) {
        for (key, _) in self.entries {
            if !self.asked.contains(&key.text.as_str()) {
                let known = self.asked.join(", ");
                let remedy = match nearest(&key.text, self.asked.iter().copied()) {
                    Some(name) => format!("did you mean `{name}`? Known here: {known}"),
                    None => format!("known here: {known}"),
                };
                let whose = if self.what.is_empty() {
                    String::new()
                } else {
                    format!(" in `{}`", self.what)
                };
                self.desk.add(kinds::UNKNOWN_FIELD.at(
                    &key.place,
                    format!("`{}` is not a field known{whose}", key.text),
                    remedy,
                ));
            }
        }
    }
}

fn above_zero<D: Dimension>(text: &str) -> Result<Reading<D>, QuantityError> {
    let reading = Reading::<D>::parse(text)?;
    if !D::SIGNED && reading.value.base() <= 0.0 {
        return Err(QuantityError {
            kind: crate::quantity::ErrorKind::Impossible,
            message: format!("`{}` is nothing at all", reading.text),
            remedy: "leave the field out where it is not known".to_string(),
        });
    }
    Ok(reading)
}

/// Parses a whole number from 1 to 999,999.
pub(super) fn whole_number(text: &str) -> Result<u32, QuantityError> {
    text.trim()
        .parse::<u32>()
        .ok()
        .filter(|n| (1..1_000_000).contains(n))
        .ok_or_else(|| QuantityError {
            kind: crate::quantity::ErrorKind::Unreadable,
            message: format!("`{}` is not a whole number", text.trim()),
            remedy: "write a number without unit, such as `4`".to_string(),
        })
}

/// The scalar's text, or a finding.
pub(super) fn scalar<'n>(desk: &Desk, name: &str, node: &'n Node) -> Option<&'n str> {
    match &node.content {
        Content::Scalar { text, .. } => Some(text),
        _ => {
            desk.add(kinds::WRONG_SHAPE.at(
                &node.place,
                format!("`{name}` is {}, but one value is due", node.what()),
                format!("write it as `{name}: value`; put quotes around text that holds `: ` or begins with a bracket"),
            ));
            None
        }
    }
}

/// A node parsed by `parse`, or a finding at its place.
pub(super) fn parsed<T>(
    desk: &Desk,
    name: &str,
    node: &Node,
    parse: impl Fn(&str) -> Result<T, QuantityError>,
) -> Option<At<T>> {
    let text = scalar(desk, name, node)?;
    match parse(text) {
        Ok(value) => Some(At {
            value,
            place: node.place.clone(),
        }),
        Err(e) => {
            desk.add(kinds::of_quantity(e.kind).at(
                &node.place,
                format!("`{name}`: {}", e.message),
                e.remedy,
            ));
            None
        }
    }
}

/// One of the known words, or a finding.
pub(super) fn word<T: Copy>(
    desk: &Desk,
    name: &str,
    node: &Node,
    all: &[(&str, T)],
) -> Option<At<T>> {
    let text = scalar(desk, name, node)?.trim();
    if let Some((_, value)) = all.iter().find(|(w, _)| w.eq_ignore_ascii_case(text)) {
        return Some(At {
            value: *value,
            place: node.place.clone(),
        });
    }
    let known = all.iter().map(|(w, _)| *w).collect::<Vec<_>>().join(", ");
    let remedy = match nearest(text, all.iter().map(|(w, _)| *w)) {
        Some(near) => format!("did you mean `{near}`? Known: {known}"),
        None => format!("write one of: {known}"),
    };
    let kind: FindingKind = kinds::UNKNOWN_WORD;
    desk.add(kind.at(&node.place, format!("`{name}` can not be `{text}`"), remedy));
    None
}

/// Refuses control characters, which no paper can show.
fn clean(desk: &Desk, name: &str, node: &Node, text: String) -> Option<At<String>> {
    if let Some(c) = text
        .chars()
        .find(|c| c.is_control() && *c != '\n' && *c != '\t')
    {
        desk.add(kinds::UNREADABLE_VALUE.at(
            &node.place,
            format!(
                "`{name}` holds the control character U+{:04X}",
                u32::from(c)
            ),
            "remove it: it can not be printed",
        ));
        return None;
    }
    (!text.is_empty()).then(|| At {
        value: text,
        place: node.place.clone(),
    })
}

/// The known name nearest to what was written, if it is near enough to be a slip of the pen.
pub(crate) fn nearest<'n>(written: &str, known: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    let written = written.to_lowercase();
    known
        .map(|name| {
            (
                strsim::damerau_levenshtein(&written, &name.to_lowercase()),
                name,
            )
        })
        .filter(|(distance, name)| *distance <= 1 + name.chars().count() / 4)
        .min()
        .map(|(_, name)| name)
}
