//! Characters the embedded faces can not print. They are named to the caller and a plain mark takes
//! their place, so that nobody meets a silent box; the record itself keeps them as written.

use serde_json::Value;
use std::collections::BTreeSet;

/// What stands for a character that can not be printed.
pub(super) const STAND_IN: char = '\u{FFFD}';

/// A word as wide as more small letters than this may be broken anywhere, or it would run out of a
/// narrow column.
const LONGEST_WORD: usize = 26;

/// What is copied from the page sign by sign and fits its line, and drawings.
const VERBATIM: [&str; 3] = ["seal", "code_svg", "ladder_svg"];

/// Letters that stay together in a word that may be broken.
const KEPT: usize = 4;

/// How many small letters take the room of this one, in tenths: capitals are wider.
fn breadth(c: char) -> usize {
    if c.is_uppercase() { 17 } else { 10 }
}

fn is_long(word: &str) -> bool {
    word.trim_end_matches(|c: char| c.is_ascii_punctuation())
        .chars()
        .map(breadth)
        .sum::<usize>()
        > 10 * LONGEST_WORD
}

/// Puts breaks into over-long words: between letters a hyphen shows at the break, elsewhere nothing does.
fn breakable(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for word in text.split_inclusive(is_space) {
        if !is_long(word.trim_end_matches(is_space)) {
            out.push_str(word);
            continue;
        }
        let mut before = ' ';
        for (i, c) in word.chars().enumerate() {
            if i > 0 && i % KEPT == 0 && !is_space(c) {
                let letters = before.is_alphabetic() && c.is_alphabetic();
                out.push(if letters { '\u{AD}' } else { '\u{200B}' });
            }
            out.push(c);
            before = c;
        }
    }
    out
}

/// Walks a paper's data for characters without a glyph.
pub(super) struct Letters<F: Fn(char) -> bool> {
    can_print: F,
    missing: BTreeSet<char>,
    printed: BTreeSet<char>,
}

impl<F: Fn(char) -> bool> Letters<F> {
    pub(super) fn new(can_print: F) -> Self {
        Letters {
            can_print,
            missing: BTreeSet::new(),
            printed: BTreeSet::new(),
        }
    }

    /// Puts the stand-in for what can not be printed, in every text below `value`. What is never
    /// printed but only written into the file (`alt`, `about`) keeps every letter.
    pub(super) fn tidy(&mut self, value: &mut Value) {
        self.tidied(value, true);
    }

    fn tidied(&mut self, value: &mut Value, may_break: bool) {
        match value {
            Value::String(text) => {
                if text.chars().any(|c| !self.prints(c)) {
                    *text = self.replaced(text);
                }
                self.printed.extend(text.chars());
                if may_break && text.split(is_space).any(is_long) {
                    *text = breakable(text);
                }
            }
            Value::Array(all) => all.iter_mut().for_each(|v| self.tidied(v, may_break)),
            Value::Object(map) => {
                for (key, v) in map.iter_mut() {
                    if key != "alt" && key != "about" {
                        self.tidied(v, may_break && !VERBATIM.contains(&key.as_str()));
                    }
                }
            }
            _ => {}
        }
    }

    /// The characters met that can not be printed, in the order of Unicode.
    pub(super) fn missing(self) -> Vec<char> {
        self.missing.into_iter().collect()
    }

    /// The characters met that are printed.
    pub(super) fn printed(&self) -> BTreeSet<char> {
        self.printed.clone()
    }

    fn prints(&self, c: char) -> bool {
        is_space(c) || (self.can_print)(c)
    }

    fn replaced(&mut self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut last = None;
        for c in text.chars() {
            if is_invisible(c) {
                continue;
            }
            if self.prints(c) {
                out.push(c);
            } else {
                self.missing.insert(c);
                // One mark for a run, since one emoji can be several characters.
                if last != Some(STAND_IN) {
                    out.push(STAND_IN);
                }
                last = Some(STAND_IN);
                continue;
            }
            last = Some(c);
        }
        out
    }
}

/// Blanks are set by width alone and need no glyph.
fn is_space(c: char) -> bool {
    matches!(
        c,
        ' ' | '\n' | '\u{A0}' | '\u{2002}'..='\u{200A}' | '\u{202F}'
    )
}

/// Joiners, direction marks and variation selectors: of use only beside letters the faces lack.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}')
}

/// One line of the weaver's own text: composed form, single blanks, no control characters.
pub(super) fn line(text: &str) -> String {
    use unicode_normalization::UnicodeNormalization;
    let plain: String = text
        .nfc()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Her own text in paragraphs, which blank lines part; single line breaks are the editor's.
pub(super) fn paragraphs(text: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    for row in text.lines() {
        if row.trim().is_empty() {
            out.push(String::new());
        } else if let Some(last) = out.last_mut() {
            last.push_str(row);
            last.push(' ');
        }
    }
    out.iter()
        .map(|p| line(p))
        .filter(|p| !p.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_letter_without_a_glyph_is_named_and_marked() {
        let mut letters = Letters::new(|c| c.is_ascii() || c == STAND_IN);
        let mut data = json!({"title": "tide 🌊🐚 tables", "alt": "🌊"});
        letters.tidy(&mut data);
        assert_eq!(data["title"], "tide \u{FFFD} tables");
        assert_eq!(data["alt"], "🌊");
        assert_eq!(letters.missing(), ['🌊', '🐚']);
    }

    #[test]
    fn a_word_that_fits_no_line_may_break() {
        let mut letters = Letters::new(|_| true);
        let long = "n".repeat(60);
        let mut data = json!({"title": long, "digest": "de8d30ed5326d6b3"});
        letters.tidy(&mut data);
        let title = data["title"].as_str().unwrap();
        assert!(title.split('\u{AD}').all(|part| part.len() <= 26));
        assert_eq!(title.replace('\u{AD}', ""), long);
        let mut figures = json!("1".repeat(60));
        letters.tidy(&mut figures);
        let figures = figures.as_str().unwrap();
        assert!(figures.split('\u{200B}').all(|part| part.len() <= 26));
        assert_eq!(data["digest"], "de8d30ed5326d6b3");
    }

    #[test]
    fn a_word_that_fits_a_label_is_not_broken_for_its_full_stop() {
        let mut letters = Letters::new(|_| true);
        let mut data = json!("Kysy tekstiilikonservaattorilta.");
        letters.tidy(&mut data);
        assert_eq!(data, "Kysy tekstiilikonservaattorilta.");
    }

    #[test]
    fn her_paragraphs_stay_and_her_line_breaks_go() {
        assert_eq!(
            paragraphs("one\ntwo\n\n\n three\u{7} \n"),
            ["one two", "three"]
        );
        assert_eq!(line(" a\n b\tc "), "a b c");
    }
}
