//! What may be told of a piece wherever a picture of it goes: title, maker, when, how large, and the
//! number of its record, as the papers say them. How a picture carries the words is left to others.

use super::figures::{Extent, Stated};
use super::letters::line;
use super::{Press, dates};
use crate::record::{Piece, RecordNumber, Studio};

/// The words that go with every public picture of a piece, in the leading language of the papers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caption {
    /// Title.
    pub title: String,
    /// The weaver.
    pub weaver: String,
    /// The studio, which keeps the record.
    pub studio: String,
    /// When it was made, if that is one plain year, month or day: `2026`, `2026-06`, `2026-06-21`.
    pub date: Option<String>,
    /// When it was made, in words.
    pub made: String,
    /// Height by width by thickness, in words.
    pub size: String,
    /// The record's number to read aloud, as a URI.
    pub number: String,
}

impl Press {
    /// The words for pictures of a piece.
    pub fn caption(&self, studio: &Studio, piece: &Piece, number: &RecordNumber) -> Caption {
        let codes: Vec<String> = studio.languages.iter().map(|l| l.value.clone()).collect();
        let m = &piece.measured;
        let extent = Extent {
            height: Stated::greatest(&m.height),
            width: Stated::greatest(&m.width),
            depth: m.thickness.as_ref().map(|t| Stated::of(&t.value)),
        };
        let (mut made, mut size) = (String::new(), String::new());
        if let Some(words) = self.lexicon.choose(&codes).first() {
            made = dates::in_words(&piece.made, words);
            size = extent.in_words(studio.measures, words);
        }
        Caption {
            title: line(&piece.title),
            weaver: line(&studio.weaver),
            studio: line(&studio.studio),
            date: plain_date(piece.made_text.trim()),
            made,
            size,
            number: number.nih(),
        }
    }
}

/// A date that ISO 8601-1 knows too: a year, a month or a day, certain and without seasons or spans.
fn plain_date(edtf: &str) -> Option<String> {
    let digits = |part: &str, n: usize| part.len() == n && part.bytes().all(|b| b.is_ascii_digit());
    let mut parts = edtf.split('-');
    let year = parts.next().is_some_and(|y| digits(y, 4));
    let month = parts
        .next()
        .is_none_or(|m| digits(m, 2) && ("01"..="12").contains(&m));
    let day = parts.next().is_none_or(|d| digits(d, 2));
    (year && month && day && parts.next().is_none()).then(|| edtf.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_certain_single_date_is_a_plain_one() {
        for plain in ["2026", "2026-06", "2026-06-21"] {
            assert_eq!(plain_date(plain).as_deref(), Some(plain));
        }
        // Source, published: EDTF (ISO 8601-2): about, uncertain, a decade, a span, a season, unknown days.
        for other in [
            "1994~",
            "1994?",
            "199X",
            "2026-03/2026-06",
            "2026-21",
            "2026-XX",
            "",
            "-5",
        ] {
            assert_eq!(plain_date(other), None, "{other}");
        }
    }
}
