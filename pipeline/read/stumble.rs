//! Where the YAML parser stumbled, in a weaver's words: tabs, lost indentation, colons, quotes and
//! braces. It looks at the lines near the place; what it can not tell keeps the parser's words.

/// What is wrong.
pub(super) struct Stumble {
    /// Whether a tab is at fault.
    pub tab: bool,
    /// Line from 1.
    pub line: u32,
    /// Column from 1.
    pub column: u32,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub remedy: String,
}

/// Characters of her text that a remedy quotes.
const SHOWN: usize = 60;

/// Explains a stumble at a line and column from 1; `info` is the parser's reason.
pub(super) fn explain(text: &str, line: u32, column: u32, info: &str) -> Stumble {
    let before = line.saturating_sub(1) as usize;
    // The lines up to the place, the last one first; remarks and empty lines do not count.
    let above: Vec<(u32, &str)> = text
        .lines()
        .take(before)
        .zip(1..)
        .map(|(l, n)| (n, l))
        .filter(|(_, l)| !l.trim().is_empty() && !l.trim_start().starts_with('#'))
        .collect();
    let here = Here {
        line,
        column,
        text: text.lines().nth(before).unwrap_or_default(),
        next: text.lines().nth(before + 1).unwrap_or_default(),
        above: above.last().copied(),
    };
    here.tab()
        .or_else(|| here.sign(info))
        .or_else(|| here.quotes(info))
        .or_else(|| here.braces(info))
        .or_else(|| here.colon(info))
        .or_else(|| here.indentation(info))
        .unwrap_or_else(|| {
            here.at(
                format!("the file can not be read from here on: {info}"),
                "look for a missing colon, quote or bracket here or on the line above; text that holds `: `, ` #` or begins with a sign needs quotes",
            )
        })
}

/// The place and what stands around it.
struct Here<'t> {
    line: u32,
    column: u32,
    text: &'t str,
    next: &'t str,
    above: Option<(u32, &'t str)>,
}

impl Here<'_> {
    fn at(&self, message: impl Into<String>, remedy: impl Into<String>) -> Stumble {
        Stumble {
            tab: false,
            line: self.line,
            column: self.column,
            message: message.into(),
            remedy: remedy.into(),
        }
    }

    /// A tab at the beginning of a line, or behind a colon. The parser may stumble at the end of the
    /// value above a tab.
    fn tab(&self) -> Option<Stumble> {
        for (line, text) in [(self.line, self.text), (self.line + 1, self.next)] {
            if text[..text.len() - text.trim_start().len()].contains('\t') {
                return Some(Stumble {
                    tab: true,
                    line,
                    column: 1,
                    message: "this line begins with a tab".into(),
                    remedy: "indent with blanks: YAML does not take tabs".into(),
                });
            }
        }
        let colon = self.text.find(":\t")?;
        Some(Stumble {
            tab: true,
            line: self.line,
            column: self.text[..=colon].chars().count() as u32 + 1,
            message: "a tab stands behind the colon".into(),
            remedy: "write one blank in its place: YAML does not take tabs there".into(),
        })
    }

    /// A value that begins with a sign of YAML's own.
    fn sign(&self, info: &str) -> Option<Stumble> {
        if !info.contains("unexpected character") && !info.contains("anchor") {
            return None;
        }
        let (name, value) = self.text.trim().split_once(": ")?;
        let sign = value.trim_start().chars().next()?;
        let value = quoted(value.trim());
        Some(self.at(
            format!("the text begins with `{sign}`, a sign that YAML has a use of its own for"),
            format!("put the text in quotes: `{name}: {value}`"),
        ))
    }

    /// A quotation mark that is not closed, or closed too early.
    fn quotes(&self, info: &str) -> Option<Stumble> {
        if info.contains("trailing content") {
            return Some(self.at(
                "the text goes on behind its closing quotation mark",
                "put the whole text in quotes of the other kind: `'\"Low\" Water'`",
            ));
        }
        (info.contains("quoted scalar")).then(|| {
            self.at(
                "a quotation mark is opened here and not closed",
                "close it at the end of the text; an apostrophe alone needs double quotes around the text",
            )
        })
    }

    /// Braces and brackets.
    fn braces(&self, info: &str) -> Option<Stumble> {
        let flow = info.contains("flow mapping") || info.contains("flow sequence");
        flow.then(|| {
            self.at(
                "a brace `{` or bracket `[` opened above is not closed before this place",
                "close it with `}` or `]`, with a comma between two fields",
            )
        })
    }

    /// A colon too many, too few, or without its blank.
    fn colon(&self, info: &str) -> Option<Stumble> {
        // A line without a colon runs on into the next, and the parser stumbles over that one's.
        let bare = |text: &str| !text.contains(':') && indent(text) == indent(self.text);
        let missing = self.above.filter(|(_, text)| {
            info.contains("simple key") || info.contains("mapping values") && bare(text)
        });
        if let Some((line, text)) = missing
            && let Some((name, value)) = text.trim().split_once(' ')
            && word(name)
        {
            return Some(Stumble {
                line,
                column: indent(text) as u32 + 1,
                ..self.at(
                    "there is no colon behind the field's name",
                    format!("write `{name}: {}`", shown(value.trim())),
                )
            });
        }
        if !info.contains("mapping values") {
            return None;
        }
        if let Some((line, text)) = self.above
            && let Some((name, value)) = text.trim().split_once(':')
            && value.starts_with(|c: char| !c.is_whitespace())
            && word(name)
        {
            return Some(Stumble {
                line,
                column: (indent(text) + name.chars().count()) as u32 + 1,
                ..self.at(
                    "there is no blank behind the colon",
                    format!("write `{name}: {}`", shown(value)),
                )
            });
        }
        // A second colon in the line, where the parser stands.
        let (name, value) = self.text.trim().split_once(": ")?;
        let second = value.contains(": ") || value.ends_with(':');
        second.then(|| {
            self.at(
                "the text has a colon and a blank in it, which would begin a new field",
                format!(
                    "put the text in quotes: `{}: {}`",
                    name.trim_start_matches("- "),
                    quoted(value.trim())
                ),
            )
        })
    }

    /// A line that begins neither where the fields beside it do nor where a new group may.
    fn indentation(&self, info: &str) -> Option<Stumble> {
        let (_, above) = self.above?;
        let (here, there) = (indent(self.text), indent(above));
        let deeper = info.contains("mapping values") && here > there;
        let shallower = info.contains("did not find expected") && here < there && here > 0;
        (deeper || shallower).then(|| Stumble {
            column: 1,
            ..self.at(
                format!(
                    "this line begins with {}, the line above with {}, and nothing begins a group of fields here",
                    blanks(here),
                    blanks(there)
                ),
                "let fields of one group begin in one column: with as many blanks as the line above, or as the fields the group belongs to",
            )
        })
    }
}

/// Blanks at the beginning; a list's hyphen counts as one of them.
fn indent(line: &str) -> usize {
    line.len() - line.trim_start_matches([' ', '-']).len()
}

fn blanks(n: usize) -> String {
    match n {
        0 => "none".to_string(),
        1 => "1 blank".to_string(),
        n => format!("{n} blanks"),
    }
}

/// Whether it could be a field's name.
fn word(name: &str) -> bool {
    let name = name.trim_start_matches("- ");
    !name.is_empty() && name.chars().all(|c| c.is_alphanumeric() || c == '_')
}

fn shown(text: &str) -> String {
    let mut out: String = text.chars().take(SHOWN).collect();
    if out.len() < text.len() {
        out.push('…');
    }
    // A backtick would end the quotation in a finding's words.
    out.replace('`', "'")
}

/// In the quotes that the text does not hold itself.
fn quoted(text: &str) -> String {
    let mark = if text.contains('"') { '\'' } else { '"' };
    format!("{mark}{}{mark}", shown(text))
}

#[cfg(test)]
mod tests {
    use crate::read::{kinds, piece_from};

    #[test]
    fn the_parsers_stumbles_are_said_in_a_weavers_words() {
        let rest = "warp: {fibre: {cotton: 100}}\n";
        for (text, line, words) in [
            ("title:\tLow Water\n", 1, "a tab stands behind the colon"),
            (
                "weft:\n  - name:\tsea\n",
                2,
                "a tab stands behind the colon",
            ),
            (
                "measured:\n\theight: 1 m\n",
                2,
                "this line begins with a tab",
            ),
            (
                "measured:\n  height: 1 m\n width: 1 m\n",
                3,
                "begins with 1 blank, the line above with 2 blanks",
            ),
            (
                "measured:\n  height: 1 m\n    width: 1 m\n",
                3,
                "begins with 4 blanks, the line above with 2 blanks",
            ),
            (
                "title: Low Water\n  made: 2026\n",
                2,
                "begins with 2 blanks, the line above with none",
            ),
            (
                "weft:\n  - name: sea\n   dye: weld\n",
                3,
                "begins with 3 blanks, the line above with 4 blanks",
            ),
            (
                "title:Low Water\nmade: 2026\n",
                1,
                "no blank behind the colon",
            ),
            (
                "title: Low Water\nmade 2026\nkind: study\n",
                2,
                "no colon behind the field's name",
            ),
            ("title: Low: Water\n", 1, "a colon and a blank in it"),
            (
                "measured: {height: 1 m, width: 1 m\nmade: 2026\n",
                2,
                "is not closed",
            ),
            ("title: \"Low Water\nmade: 2026\n", 1, "not closed"),
            ("title: \"Low\" Water\n", 1, "goes on behind its closing"),
            ("title: @home\n", 1, "begins with `@`"),
            ("title: *star\n", 1, "begins with `*`"),
        ] {
            let (_, findings) = piece_from("p", &"piece.yaml".into(), &format!("{text}{rest}"));
            let first = findings
                .first()
                .unwrap_or_else(|| panic!("{text:?} is taken"));
            assert!(first.message.contains(words), "{text:?}: {first:?}");
            assert_eq!(first.place.line, line, "{text:?}: {first:?}");
            assert!([kinds::NOT_YAML, kinds::TAB_INDENT].contains(&first.kind));
            assert!(!first.message.contains("mapping"), "{first:?}");
        }
        let remedy = |text: &str| {
            piece_from("p", &"piece.yaml".into(), text).1[0]
                .remedy
                .clone()
        };
        assert!(remedy("title: Low: Water\n").contains("`title: \"Low: Water\"`"));
        assert!(remedy("title: \"x\nmade 2026\n").contains("close it"));
        assert!(remedy("made 2026\nkind: study\n").contains("`made: 2026`"));
    }
}
