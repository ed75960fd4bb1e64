//! A piece.yaml from the template that `offloom begin` gives everybody: what is known filled in, everything else left
//! as the template has it, and what could not be taken as a remark on the line below.

use std::collections::BTreeMap;

/// The template.
pub const PIECE: &str = include_str!("../../../templates/begin/piece.yaml");
/// The template of notes.md.
pub const NOTES: &str = include_str!("../../../templates/begin/notes.md");

/// The example of a statement, which spans several lines.
const STATEMENT: &str = "# statement: |\n#   First paragraph.\n#\n#   Second paragraph.\n";
/// Letters of a remark's value.
const LONGEST_REMARK: usize = 120;

macro_rules! anchors {
    ($($name:ident $start:literal)*) => {
        /// A line of the template, by how it begins.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub(super) enum Line { $(#[doc = $start] $name),* }
        impl Line {
            const ALL: &'static [(Line, &'static str)] = &[$((Line::$name, $start)),*];
        }
    };
}

anchors! {
    Title "title:{{title}}"
    Made "made:"
    Kind "# kind:"
    Series "# series:"
    Technique "# technique:"
    Inscription "# inscription:"
    Statement "# statement: |"
    Loom "# loom:"
    LoomKind "#   kind:"
    Sett "#   sett:"
    Ends "#   ends:"
    WarpFibre "  fibre:"
    WarpYarn "#   yarn:"
    WarpCount "#   count:"
    WeftFibre "  - fibre:"
    WeftName "#     name:"
    WeftCount "#     count:"
    WeftDye "#     dye:"
    WeftEnd "#     cost:"
    Height "  height:"
    Width "  width:"
    Thickness "#   thickness:"
    Mass "#   mass:"
    Photos "# photos:"
    PhotosExample "#   - {file:"
    Owners "# owners:"
    OwnersExample "#   - {from:"
    Display "# display:"
    Money "# money:"
}

/// What is filled in.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Page {
    lines: BTreeMap<Line, Vec<String>>,
    remarks: BTreeMap<Line, Vec<String>>,
}

impl Page {
    /// Puts a line in the place of the template's.
    pub fn put(&mut self, at: Line, line: impl Into<String>) {
        self.lines.entry(at).or_default().push(line.into());
    }

    /// Whether something is filled in there.
    pub fn has(&self, at: Line) -> bool {
        self.lines.contains_key(&at)
    }

    /// Notes a value that could not be taken.
    pub fn remark(&mut self, at: Line, name: &str, value: &str) {
        let (value, _) = short(value);
        self.say(at, format!("{name}: {value} - could not be read"));
    }

    /// A remark of several words; line ends become blanks.
    pub fn say(&mut self, at: Line, text: impl AsRef<str>) {
        let words: Vec<&str> = text.as_ref().split_whitespace().collect();
        let all = self.remarks.entry(at).or_default();
        all.push(format!("# {}", words.join(" ")));
    }

    /// The whole file.
    pub fn render(&self) -> String {
        let mut out = String::new();
        // The lines of a statement go together.
        let template = match self.has(Line::Statement) {
            true => PIECE.replace(STATEMENT, "# statement: |\n"),
            false => PIECE.to_string(),
        };
        for line in template.lines() {
            let at = Line::ALL.iter().find(|(_, start)| line.starts_with(start));
            let Some((at, _)) = at else {
                put(&mut out, line);
                continue;
            };
            match self.lines.get(at) {
                Some(lines) => lines.iter().for_each(|line| put(&mut out, line)),
                None if *at == Line::Title => put(&mut out, "title:"),
                None => put(&mut out, line),
            }
            for remark in self.remarks.get(at).into_iter().flatten() {
                put(&mut out, remark);
            }
        }
        out
    }
}

fn put(out: &mut String, line: &str) {
    out.push_str(line);
    out.push('\n');
}

/// The value on one line, cut where it is long, and whether it is all there.
pub(super) fn short(value: &str) -> (String, bool) {
    let folded = value.split_whitespace().collect::<Vec<_>>().join(" ");
    let cut: String = folded.chars().take(LONGEST_REMARK).collect();
    match cut.len() == folded.len() {
        true => (cut, folded == value),
        false => (format!("{cut}…"), false),
    }
}

/// A text as YAML on one line: as it is where every reader takes it for the same text, else in quotes as JSON has
/// them, which are YAML too.
pub(super) fn as_yaml(text: &str) -> String {
    let words = ["y", "n", "yes", "no", "on", "off", "true", "false", "null"];
    let plain = text.starts_with(|c: char| c.is_alphabetic())
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || " .,-'()/".contains(c))
        && !text.ends_with(' ')
        && !words.contains(&text.to_lowercase().as_str());
    match plain {
        true => text.to_string(),
        false => quoted(text),
    }
}

/// A value that was parsed: dates and quantities are as in the template, anything with a sign of YAML in quotes.
pub(super) fn as_value(text: &str) -> String {
    let plain = text.starts_with(|c: char| c.is_alphanumeric())
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || " .,-/~?%".contains(c));
    match plain {
        true => text.to_string(),
        false => quoted(text),
    }
}

/// In quotes.
pub(super) fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

/// A text of several paragraphs under a field, as a block where that says the same, else in quotes.
pub(super) fn as_prose(text: &str) -> Vec<String> {
    let plain = text.contains('\n')
        && text
            .lines()
            .all(|l| !l.starts_with([' ', '#']) && !l.ends_with(' '))
        && text.chars().all(|c| {
            c == '\n' || !c.is_control() && !matches!(c, '\u{85}' | '\u{2028}' | '\u{2029}')
        });
    if !plain {
        return vec![format!("statement: {}", quoted(text))];
    }
    let mut out = vec!["statement: |".to_string()];
    out.extend(text.lines().map(|line| match line {
        "" => String::new(),
        line => format!("  {line}"),
    }));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_that_is_filled_in_stands_once_in_the_template() {
        for (_, start) in Line::ALL {
            let found = PIECE.lines().filter(|l| l.starts_with(start)).count();
            assert_eq!(found, 1, "{start}");
        }
        assert!(PIECE.contains(STATEMENT));
    }

    #[test]
    fn a_page_with_nothing_filled_in_is_the_template() {
        assert_eq!(Page::default().render(), PIECE.replace("{{title}}", ""));
    }

    #[test]
    fn text_is_never_taken_for_yaml() {
        for text in [
            "Tide: Tables",
            "# 3",
            "yes",
            "1984",
            "- x",
            "{a: b}",
            "*x",
            "&x",
            "=cmd|' /C calc'!A0",
            "null",
            "a #b",
            "\"quoted\"",
            "it's",
            "12:30",
            "!!python/object",
            "%x",
            "@x",
            "`x`",
            "a\u{7}b",
            "~",
            "…",
            "x: ",
        ] {
            let yaml = format!("title: {}\nmade: 2019\n", as_yaml(text));
            let read: std::collections::BTreeMap<String, serde_yaml::Value> =
                serde_yaml::from_str(&yaml).unwrap();
            assert_eq!(read["title"].as_str(), Some(text), "{yaml}");
        }
        for text in ["one\n\ntwo: #x", "one\n  two", "one", " # x\ny", "a\n# b"] {
            let yaml = as_prose(text).join("\n") + "\nmade: 2019\n";
            let read: std::collections::BTreeMap<String, serde_yaml::Value> =
                serde_yaml::from_str(&yaml).unwrap();
            assert_eq!(
                read["statement"].as_str().unwrap().trim_end(),
                text,
                "{yaml}"
            );
        }
    }
}
