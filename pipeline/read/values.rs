//! Single values of YAML: their text, what they parse to, the known words, and the nearest known name to
//! a slip of the pen. What is wrong becomes a finding at the value's place.

use super::kinds;
use super::yaml::{Content, Node};
use crate::quantity::{Dimension, QuantityError, Reading};
use crate::record::{At, Finding, FindingKind};
use std::cell::RefCell;

/// Where findings gather while one file is read.
#[derive(Default)]
pub(super) struct Desk(RefCell<Vec<Finding>>);

impl Desk {
    pub fn add(&self, finding: Finding) {
        self.0.borrow_mut().push(printable(finding));
    }
    pub fn into_findings(self) -> Vec<Finding> {
        self.0.into_inner()
    }
}

/// The finding with control characters in its words spelled out: what she wrote is quoted in them,
/// and a terminal would obey it.
pub(crate) fn printable(mut finding: Finding) -> Finding {
    let spell = |text: &mut String| {
        if text.chars().any(char::is_control) {
            *text = text
                .chars()
                .flat_map(|c| {
                    let spelled = c.is_control().then(|| c.escape_default());
                    let plain = (!c.is_control()).then_some(c);
                    spelled.into_iter().flatten().chain(plain)
                })
                .collect();
        }
    };
    spell(&mut finding.message);
    spell(&mut finding.remedy);
    finding
}

pub(super) fn above_zero<D: Dimension>(text: &str) -> Result<Reading<D>, QuantityError> {
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

/// Octets in the longest figure, date or count that is looked at.
const LONGEST_VALUE: usize = 200;

/// A node parsed by `parse`, or a finding at its place.
pub(super) fn parsed<T>(
    desk: &Desk,
    name: &str,
    node: &Node,
    parse: impl Fn(&str) -> Result<T, QuantityError>,
) -> Option<At<T>> {
    let text = scalar(desk, name, node)?;
    if text.len() > LONGEST_VALUE {
        let start: String = text.chars().take(20).collect();
        desk.add(kinds::UNREADABLE_VALUE.at(
            &node.place,
            format!("`{name}`: `{start}…` is far too long to be a figure or a date"),
            "write the value alone; words belong into `statement` or notes.md",
        ));
        return None;
    }
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
pub(super) fn clean(desk: &Desk, name: &str, node: &Node, text: String) -> Option<At<String>> {
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
    // A slip of the pen is short; comparing whole paragraphs would take for ever.
    if written.len() > LONGEST_VALUE {
        return None;
    }
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
