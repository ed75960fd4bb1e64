//! YAML to a tree in which every key and value knows its place. The parser is `saphyr-parser`; the
//! tree is ours, because findings about meaning need places too. Duplicate keys are found, aliases
//! are unfolded within bounds, nesting has a floor.

use super::{kinds, stumble};
use crate::record::{Finding, Place};
use saphyr_parser::{Event, Parser, ScalarStyle, Span};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Values that one file may unfold to: room for a piece of 2,000 yarns, not for an alias bomb.
const MOST_NODES: usize = 200_000;
/// How deep values may nest. The contract's deepest field is at 5.
const DEEPEST: usize = 32;

/// A value and its place.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub content: Content,
    pub place: Place,
}

/// What a value is.
#[derive(Debug, Clone)]
pub(super) enum Content {
    /// Text; `plain` where it stands without quotes.
    Scalar { text: String, plain: bool },
    /// A list.
    List(Vec<Node>),
    /// Fields in the order written.
    Map(Vec<(Key, Node)>),
}

/// A field's name and its place.
#[derive(Debug, Clone)]
pub(super) struct Key {
    pub text: String,
    pub place: Place,
}

impl Node {
    /// Whether nothing is written: `field:` or `field: ~`.
    pub fn is_empty(&self) -> bool {
        matches!(&self.content, Content::Scalar { text, plain: true } if matches!(text.as_str(), "" | "~" | "null"))
    }

    /// The kind of value in a sentence.
    pub fn what(&self) -> &'static str {
        match self.content {
            Content::Scalar { .. } => "one value",
            Content::List(_) => "a list",
            Content::Map(_) => "a group of fields",
        }
    }

    fn size(&self) -> usize {
        match &self.content {
            Content::Scalar { .. } => 1,
            Content::List(items) => 1 + items.iter().map(Node::size).sum::<usize>(),
            Content::Map(fields) => 1 + fields.iter().map(|(_, v)| 1 + v.size()).sum::<usize>(),
        }
    }
}

/// Parses one document. What can not be parsed is a finding; then there is no tree.
pub(super) fn parse(file: &Arc<str>, text: &str, findings: &mut Vec<Finding>) -> Option<Node> {
    let mut builder = Builder {
        file,
        text,
        parser: Parser::new_from_str(text),
        anchors: BTreeMap::new(),
        remarks: remarks(text),
        nodes: 0,
        findings,
    };
    match builder.document() {
        Ok(node) => node,
        Err(Stop(finding)) => {
            builder.findings.push(*finding);
            None
        }
    }
}

/// Why no tree could be made.
struct Stop(Box<Finding>);

struct Builder<'a> {
    file: &'a Arc<str>,
    text: &'a str,
    parser: Parser<'a, saphyr_parser::StrInput<'a>>,
    anchors: BTreeMap<usize, Node>,
    /// By line: where a ` #` with a letter or figure right behind it may have cut a text.
    remarks: BTreeMap<usize, Vec<Remark>>,
    nodes: usize,
    findings: &'a mut Vec<Finding>,
}

impl<'a> Builder<'a> {
    fn next(&mut self) -> Result<(Event<'a>, Span), Stop> {
        match self.parser.next_event() {
            Some(Ok(event)) => Ok(event),
            Some(Err(error)) => {
                let marker = error.marker();
                let place = self.place_at(marker.line(), marker.col());
                // The parser's own floor to nesting lies below ours, but it looks ahead.
                if error.info().contains("recursion limit") {
                    return Err(too_far(&place));
                }
                Err(self.syntax(place, error.info()))
            }
            None => Ok((Event::StreamEnd, Span::default())),
        }
    }

    /// The document, or nothing where the file is empty.
    fn document(&mut self) -> Result<Option<Node>, Stop> {
        let mut root = None;
        loop {
            let (event, span) = self.next()?;
            match event {
                Event::StreamEnd => return Ok(root),
                Event::DocumentStart(_) if root.is_some() => {
                    let place = self.place(span);
                    return Err(Stop(Box::new(kinds::NOT_YAML.at(
                        &place,
                        "a second document begins here",
                        "keep one piece in one file: remove the line `---`",
                    ))));
                }
                Event::Nothing
                | Event::StreamStart
                | Event::DocumentStart(_)
                | Event::DocumentEnd => {}
                event => root = Some(self.value(event, span, 0)?),
            }
        }
    }

    fn value(&mut self, event: Event<'a>, span: Span, depth: usize) -> Result<Node, Stop> {
        let place = self.place(span);
        self.count(1, &place)?;
        if depth > DEEPEST {
            return Err(too_far(&place));
        }
        let (content, anchor) = match event {
            Event::Scalar(text, style, anchor, _) => {
                if style == ScalarStyle::Plain && !text.is_empty() {
                    self.cut_by_remark(&text, span);
                }
                (
                    Content::Scalar {
                        text: text.into_owned(),
                        plain: style == ScalarStyle::Plain,
                    },
                    anchor,
                )
            }
            Event::SequenceStart(anchor, _) => {
                let mut items = Vec::new();
                loop {
                    let (event, span) = self.next()?;
                    if event == Event::SequenceEnd {
                        break;
                    }
                    items.push(self.value(event, span, depth + 1)?);
                }
                (Content::List(items), anchor)
            }
            Event::MappingStart(anchor, _) => (Content::Map(self.fields(depth)?), anchor),
            Event::Alias(id) => {
                let Some(node) = self.anchors.get(&id) else {
                    return Err(self.syntax(place, "this alias names nothing"));
                };
                let mut node = node.clone();
                self.count(node.size(), &place)?;
                node.place = place;
                return Ok(node);
            }
            _ => return Err(self.syntax(place, "a value is due here")),
        };
        let node = Node { content, place };
        if anchor > 0 {
            self.anchors.insert(anchor, node.clone());
        }
        Ok(node)
    }

    fn fields(&mut self, depth: usize) -> Result<Vec<(Key, Node)>, Stop> {
        let mut fields: Vec<(Key, Node)> = Vec::new();
        // Found by name at once: a file of many thousand fields must not take for ever.
        let mut first: BTreeMap<String, Place> = BTreeMap::new();
        loop {
            let (event, span) = self.next()?;
            let place = self.place(span);
            let name = match event {
                Event::MappingEnd => return Ok(fields),
                Event::Scalar(text, ..) => text.into_owned(),
                _ => return Err(self.syntax(place, "a field's name must be a word")),
            };
            let (event, span) = self.next()?;
            let value = self.value(event, span, depth + 1)?;
            if let Some(first) = first.get(&name) {
                let finding = kinds::DUPLICATE_FIELD
                    .at(
                        &place,
                        format!("`{name}` stands here a second time"),
                        "keep one of the two; the first is used until then",
                    )
                    .and(first, "the first one");
                self.findings.push(finding);
            } else {
                first.insert(name.clone(), place.clone());
                fields.push((Key { text: name, place }, value));
            }
        }
    }

    /// A plain text that ends where a remark begins which is hardly meant as one: `Herring Road #2`.
    fn cut_by_remark(&mut self, text: &str, span: Span) {
        let (line, end) = (span.end.line(), span.end.col());
        let Some(all) = self.remarks.get(&line) else {
            return;
        };
        let at = all.partition_point(|r| r.hash < end);
        let Some(remark) = all.get(at).filter(|r| r.blanks <= end) else {
            return;
        };
        let place = self.place_at(line, remark.hash);
        let rest = remark.rest.trim_end();
        let shown: String = text.chars().take(60).collect();
        self.findings.push(kinds::REMARK_IN_TEXT.at(
            &place,
            format!("the text ends before `{rest}`: a ` #` begins a remark, which nobody reads"),
            format!(
                "put the whole text in quotes: `\"{shown} {rest}\"`; if it is a remark, write a blank behind the `#`"
            ),
        ));
    }

    fn count(&mut self, more: usize, place: &Place) -> Result<(), Stop> {
        self.nodes += more;
        if self.nodes > MOST_NODES {
            return Err(too_far(place));
        }
        Ok(())
    }

    fn syntax(&self, place: Place, info: &str) -> Stop {
        let found = stumble::explain(self.text, place.line, place.column, info);
        let kind = if found.tab {
            kinds::TAB_INDENT
        } else {
            kinds::NOT_YAML
        };
        let place = Place {
            line: found.line,
            column: found.column,
            length: 1,
            ..place
        };
        Stop(Box::new(kind.at(&place, found.message, found.remedy)))
    }

    fn place(&self, span: Span) -> Place {
        let one_line = span.start.line() == span.end.line();
        let length = if one_line {
            span.end.index().saturating_sub(span.start.index())
        } else {
            1
        };
        Place {
            length: length.max(1) as u32,
            ..self.place_at(span.start.line(), span.start.col())
        }
    }

    fn place_at(&self, line: usize, column: usize) -> Place {
        Place {
            file: self.file.clone(),
            line: line.max(1) as u32,
            column: column as u32 + 1,
            length: 1,
        }
    }
}

/// A place in a line where a remark may have cut a text, in characters from 0.
struct Remark {
    /// Where the blanks before the hash sign begin.
    blanks: usize,
    /// The hash sign.
    hash: usize,
    /// The line from there on, its first 40 characters.
    rest: String,
}

/// Every ` #` with a letter or figure right behind it, by line from 1. Whether a text ends there is
/// for the parser to say.
fn remarks(text: &str) -> BTreeMap<usize, Vec<Remark>> {
    let mut all = BTreeMap::new();
    for (number, line) in text.lines().enumerate() {
        if !line.contains(" #") && !line.contains("\t#") {
            continue;
        }
        let mut found = Vec::new();
        let mut blanks = None;
        let mut chars = line.chars().enumerate().peekable();
        while let Some((i, c)) = chars.next() {
            if c == ' ' || c == '\t' {
                blanks.get_or_insert(i);
                continue;
            }
            let word = chars.peek().is_some_and(|(_, next)| next.is_alphanumeric());
            if let Some(blanks) = blanks.take().filter(|_| c == '#' && word) {
                let behind = chars.clone().take(39).map(|(_, c)| c);
                let rest = std::iter::once(c).chain(behind).collect();
                found.push(Remark {
                    blanks,
                    hash: i,
                    rest,
                });
            }
        }
        if !found.is_empty() {
            all.insert(number + 1, found);
        }
    }
    all
}

fn too_far(place: &Place) -> Stop {
    Stop(Box::new(kinds::UNFOLDS_TOO_FAR.at(
        place,
        format!("the file unfolds to more than {MOST_NODES} values or {DEEPEST} levels here"),
        "write the values out without aliases (`*name`), and keep one piece in one file",
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<Finding> {
        let mut findings = Vec::new();
        parse(&"piece.yaml".into(), text, &mut findings);
        findings
    }

    #[test]
    fn text_that_a_hash_sign_cuts_short_is_not_cut_in_silence() {
        for (text, column) in [
            ("title: Herring Road #2", 21),
            ("title: Hërring Röad   #zwei\nmade: 2026", 23),
            ("series: {name: Road #2\n}", 21),
            ("weft:\n  - sea\n  - green #4 of nine", 11),
        ] {
            let findings = found(text);
            assert_eq!(findings.len(), 1, "{text}: {findings:?}");
            assert_eq!(findings[0].kind, kinds::REMARK_IN_TEXT);
            assert_eq!(findings[0].place.column, column, "{text}");
        }
        assert!(
            found("title: Herring Road #2")[0]
                .remedy
                .contains("`\"Herring Road #2\"`")
        );
    }

    #[test]
    fn remarks_and_quoted_text_are_let_be() {
        for text in [
            "title: Low Water   # as it should stand",
            "title: \"Herring Road #2\"",
            "title: 'Herring Road #2'  # the second",
            "statement: |\n  First #2 of\n  nine\n",
            "title: Herring#2",
            "#remark\ntitle: Low Water\n  #another\n",
            "title:   #2\nmade: 2026",
            "title: Low Water   # see #2 and #3",
            "title: Low Water ## 2",
        ] {
            assert_eq!(found(text), [], "{text}");
        }
    }
}
