//! A group of fields, taken one by one by name. What is wrong with a value becomes a finding and the
//! value counts as absent; what nobody asked for is an unknown field. So one run finds everything.

use super::kinds;
use super::values::{Desk, above_zero, clean, nearest, parsed, scalar, whole_number, word};
use super::yaml::{Content, Key, Node};
use crate::quantity::{
    Cost, Day, Dimension, Edtf, Money, Number, QuantityError, Reading, YarnCount,
};
use crate::record::{At, Place};

/// Unknown fields of one group that are named one by one.
const MOST_UNKNOWN: usize = 50;

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
            .filter(|(key, _)| {
                let printed = !key.text.chars().any(char::is_control);
                if !printed {
                    self.desk.add(kinds::UNREADABLE_VALUE.at(
                        &key.place,
                        format!("the name `{}` holds a control character", key.text),
                        "remove it: it can not be printed",
                    ));
                }
                printed
            })
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

    /// The field's text where one value stands although a group is due; nothing else is looked at.
    pub fn plain_text(&mut self, name: &'static str) -> Option<At<String>> {
        let (_, node) = self.node(name)?;
        match &node.content {
            Content::Scalar { text, .. } => Some(At {
                value: text.trim().to_string(),
                place: node.place.clone(),
            }),
            _ => None,
        }
    }

    /// Text of one line: blanks and line ends are folded to single blanks.
    pub fn text(&mut self, name: &'static str) -> Option<At<String>> {
        let (_, node) = self.node(name)?;
        let raw = scalar(self.desk, name, node)?;
        let folded = raw.split_whitespace().collect::<Vec<_>>().join(" ");
        clean(self.desk, name, node, folded)
    }

    /// A file's name, exactly as written: a blank more or less is another file.
    pub fn file_name(&mut self, name: &'static str) -> Option<At<String>> {
        let (_, node) = self.node(name)?;
        let raw = scalar(self.desk, name, node)?;
        if raw.contains(['\n', '\r', '\t']) {
            self.desk.add(kinds::UNREADABLE_VALUE.at(
                &node.place,
                format!("`{name}` holds a line end or a tab: `{raw}`"),
                "rename the file and write its new name: letters, figures and hyphens serve best",
            ));
            return None;
        }
        clean(self.desk, name, node, raw.to_string())
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

    /// What a yarn cost.
    pub fn cost(&mut self, name: &'static str) -> Option<At<Cost>> {
        self.parsed(name, Cost::parse)
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
        // A slip of the pen in its name will be found as an unknown field.
        let mistyped = self.entries.iter().any(|(key, _)| {
            key.text != name && nearest(&key.text, std::iter::once(name)).is_some()
        });
        if value.is_none() && !written && !mistyped {
            let whose = if self.what.is_empty() {
                String::new()
            } else {
                format!(" in `{}`", self.what)
            };
            let empty = self.entries.iter().find(|(key, _)| key.text == name);
            self.desk.add(match empty {
                Some((key, _)) => kinds::MISSING_FIELD.at(
                    &key.place,
                    format!("nothing is written after `{name}`{whose}"),
                    format!("write it on this line, such as `{name}: {example}`"),
                ),
                None => kinds::MISSING_FIELD.at(
                    &self.place,
                    format!("`{name}` is missing{whose}"),
                    format!("add a line such as `{name}: {example}`"),
                ),
            });
        }
        value
    }

    /// Ends the group: whatever was not asked for is unknown.
    pub fn done(self) {
        let mut told = 0;
        for (at, (key, node)) in self.entries.iter().enumerate() {
            if !self.asked.contains(&key.text.as_str()) {
                told += 1;
                if told > MOST_UNKNOWN {
                    self.desk.add(kinds::UNKNOWN_FIELD.at(
                        &key.place,
                        format!("`{}` and whatever follows is not known either", key.text),
                        "this seems to be another kind of file: look whether it is the right one",
                    ));
                    return;
                }
                let known = self.asked.join(", ");
                let before = at.checked_sub(1).and_then(|b| self.entries.get(b));
                let remedy = match nearest(&key.text, self.asked.iter().copied()) {
                    Some(name) => format!("did you mean `{name}`? Known here: {known}"),
                    None => cut_at_comma(before, key, node)
                        .or_else(|| self.lost_indent(at))
                        .unwrap_or_else(|| format!("known here: {known}")),
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

impl Fields<'_> {
    /// The remedy where unknown fields follow a known one with nothing in it: they have lost the blanks
    /// that made them its own.
    fn lost_indent(&self, at: usize) -> Option<String> {
        let known = |key: &Key| self.asked.contains(&key.text.as_str());
        let above = self.entries.get(..at)?;
        let (group, node) = above.iter().rev().find(|(key, _)| known(key))?;
        let line = self.entries.get(at)?.0.place.line;
        (node.is_empty() && group.place.line < line).then(|| {
            format!(
                "does it belong to `{}` above? Then begin its line with two blanks",
                group.text
            )
        })
    }
}

/// The remedy where a comma has cut a text in braces in two: a "field" without a value that stands on
/// the line of the field before it, or looks like words.
fn cut_at_comma(before: Option<&(Key, Node)>, key: &Key, node: &Node) -> Option<String> {
    let (field, text) = before.and_then(|(field, value)| match &value.content {
        Content::Scalar { text, .. } if !text.is_empty() => Some((field, text.as_str())),
        _ => None,
    })?;
    let one_line = field.place.line == key.place.line;
    if !node.is_empty() || !(one_line || key.text.contains(' ')) {
        return None;
    }
    let whole = format!("{text}, {}", key.text);
    // An address of a page would fill the screen.
    let shown: String = whole.chars().take(80).collect();
    let more = if shown.len() < whole.len() { "…" } else { "" };
    Some(format!(
        "does it belong to the text before it? In braces a comma ends a text without quotes: write `{}: \"{shown}{more}\"`",
        field.text
    ))
}

#[cfg(test)]
mod tests {
    use crate::read::piece_from;

    fn remedy(text: &str, of: &str) -> String {
        let (_, findings) = piece_from("p", &"piece.yaml".into(), text);
        let found = findings.iter().find(|f| f.message.contains(of));
        found.map_or(format!("{findings:?}"), |f| f.remedy.clone())
    }

    #[test]
    fn text_that_a_comma_cuts_is_given_back_whole_in_quotes() {
        let owner =
            "owners:\n  - {from: 2026, name: Corwin, address: The Old Net Loft, Upper Saltby}\n";
        let said = remedy(owner, "Upper Saltby");
        assert!(
            said.contains("`address: \"The Old Net Loft, Upper Saltby\"`"),
            "{said}"
        );
        let photo = "photos: [{file: a.jpg, alt: green bands, grey}]\n";
        let said = remedy(photo, "grey");
        assert!(said.contains("`alt: \"green bands, grey\"`"), "{said}");
        let slip = remedy("photos: [{file: a.jpg, veiw}]\n", "veiw");
        assert!(slip.contains("did you mean `view`"), "{slip}");
        let other = remedy("colour:\ntitle: Low Water\n", "colour");
        assert!(other.starts_with("known here"), "{other}");
    }

    #[test]
    fn fields_that_lost_their_blanks_are_given_back_to_their_group() {
        let said = remedy("measured:\nheight: 1 m\nwidth: 1 m\n", "`width`");
        assert!(said.contains("belong to `measured`"), "{said}");
    }

    #[test]
    fn a_fibre_without_its_share_is_answered_with_one() {
        let said = remedy("warp: {fibre: cotton}\n", "`fibre` is `cotton`");
        assert!(said.contains("`fibre: {cotton: 100}`"), "{said}");
        let said = remedy("warp: {fibre: wool and silk}\n", "wool and silk");
        assert!(said.contains("{wool: 80, silk: 20}"), "{said}");
    }
}
