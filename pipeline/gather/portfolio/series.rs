//! The series as a page shows them: every number with the works that have it, and what follows of the others.

use super::machine::path_segment;
use super::pages::Small;
use super::work::Work;
use crate::paper::PageWords;
use crate::reckon::series::{Because, Outcome, Reasoned, Written, all_series, reason};
use crate::record::{Piece, SeriesOrder, Studio};
use serde::Serialize;
use std::collections::BTreeMap;

/// One series.
#[derive(Debug, Clone, Serialize)]
pub(super) struct SeriesBlock {
    pub name: String,
    pub sentences: Vec<String>,
    pub numbers: Vec<NumberBox>,
}

/// One number, or what has none.
#[derive(Debug, Clone, Serialize)]
pub(super) struct NumberBox {
    pub number: String,
    /// `number`, `one_of`, `maybe`, `free`, `open`.
    pub state: &'static str,
    /// The same in words, for those who can not see it.
    pub said: String,
    pub pieces: Vec<Shown>,
}

/// A work in a box.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Shown {
    pub slug: String,
    pub title: String,
    pub thumb: Option<String>,
    pub width: Option<u32>,
    pub height: Option<u32>,
}

/// Most numbers that are shown of one series.
const MOST: u32 = 400;
/// A piece that could be any of more numbers than this is not shown with each of them.
const CHOICES: u64 = 6;

/// Every series of the works, by its name.
pub(super) fn blocks(studio: &Studio, works: &[Work], words: &PageWords) -> Vec<SeriesBlock> {
    let by_date = studio.series_order == SeriesOrder::ByDate;
    all_series(works.iter().map(|w| w.piece))
        .values()
        .map(|pieces| {
            let mut pieces = pieces.clone();
            pieces.sort_by(|a, b| a.slug.cmp(&b.slug));
            Shelf {
                works,
                words,
                pieces: &pieces,
            }
            .block(&Written::of(&pieces, by_date))
        })
        .collect()
}

/// One series while its block is made.
struct Shelf<'a> {
    works: &'a [Work<'a>],
    words: &'a PageWords,
    pieces: &'a [&'a Piece],
}

impl Shelf<'_> {
    fn block(&self, written: &Written) -> SeriesBlock {
        let name = self.pieces.first().and_then(|p| p.series.as_ref());
        let name = name.map_or(String::new(), |s| s.name.trim().to_string());
        let numbered =
            written.of.is_some() || written.members.iter().any(|m| !m.numbers.is_empty());
        let mut block = SeriesBlock {
            name,
            sentences: Vec::new(),
            numbers: Vec::new(),
        };
        if !numbered {
            let each = (0..self.pieces.len()).map(|i| NumberBox {
                number: String::new(),
                state: "number",
                said: String::new(),
                pieces: vec![self.shown(i)],
            });
            block.numbers = each.collect();
            return block;
        }
        match reason(written) {
            Outcome::Consistent(reasoned) => {
                block.sentences = self.settled(&reasoned);
                block.numbers = self.boxes(written, &reasoned);
            }
            Outcome::Contradiction(_) | Outcome::TooLarge => {
                block.sentences = vec![self.pattern("conflict", "", "")];
                block.numbers = self.as_written(written);
            }
        }
        block
    }

    fn settled(&self, reasoned: &Reasoned) -> Vec<String> {
        let say = |(i, number, because): &(usize, u32, Because)| {
            let key = match because {
                Because::OnlyLeft => "only_left",
                Because::OnlyPiece => "only_piece",
            };
            let said = self.pattern(key, &number.to_string(), "");
            said.replace("{title}", self.pieces[*i].title.trim())
        };
        reasoned.settled.iter().map(say).collect()
    }

    /// A box for every number, and one for what could be nearly any.
    fn boxes(&self, written: &Written, reasoned: &Reasoned) -> Vec<NumberBox> {
        let few = |i: &usize| reasoned.remaining[*i].count().is_some_and(|n| n <= CHOICES);
        let (few, many): (Vec<usize>, Vec<usize>) = (0..self.pieces.len()).partition(few);
        let highest = few
            .iter()
            .filter_map(|i| Some(reasoned.remaining[*i].spans.last()?.1))
            .max()
            .unwrap_or(0);
        let top = written.of.unwrap_or(highest).max(highest).min(MOST);
        let mut out: Vec<NumberBox> = (1..=top)
            .map(|number| {
                let can = |i: &&usize| {
                    let spans = &reasoned.remaining[**i].spans;
                    spans.iter().any(|(a, b)| (*a..=*b).contains(&number))
                };
                let who: Vec<usize> = few.iter().filter(can).copied().collect();
                let sure = who
                    .iter()
                    .any(|i| reasoned.remaining[*i].only() == Some(number));
                let state = match who.as_slice() {
                    [] => "free",
                    _ if sure => "number",
                    _ if reasoned.surely_used.contains(&number) => "one_of",
                    _ => "maybe",
                };
                self.number_box(number.to_string(), state, &who)
            })
            .collect();
        if !many.is_empty() {
            out.push(self.number_box("?".into(), "open", &many));
        }
        out
    }

    /// Numbers as they are written, where nothing could be reasoned.
    fn as_written(&self, written: &Written) -> Vec<NumberBox> {
        let mut by_number: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        let mut open = Vec::new();
        for (i, m) in written.members.iter().enumerate() {
            for number in &m.numbers {
                by_number.entry(*number).or_default().push(i);
            }
            if m.numbers.is_empty() {
                open.push(i);
            }
        }
        let mut out: Vec<NumberBox> = by_number
            .into_iter()
            .take(MOST as usize)
            .map(|(number, who)| {
                let sure = who.len() == 1 && written.members[who[0]].numbers.len() == 1;
                let state = if sure { "number" } else { "maybe" };
                self.number_box(number.to_string(), state, &who)
            })
            .collect();
        if !open.is_empty() {
            out.push(self.number_box("?".into(), "open", &open));
        }
        out
    }

    fn number_box(&self, number: String, state: &'static str, who: &[usize]) -> NumberBox {
        let titles: Vec<&str> = who.iter().map(|i| self.pieces[*i].title.trim()).collect();
        NumberBox {
            said: self.pattern(state, &number, &titles.join("; ")),
            number,
            state,
            pieces: who.iter().map(|i| self.shown(*i)).collect(),
        }
    }

    fn pattern(&self, key: &str, number: &str, titles: &str) -> String {
        let pattern = self.words.numbers.get(key).map_or("", String::as_str);
        pattern
            .replace("{number}", number)
            .replace("{titles}", titles)
    }

    fn shown(&self, i: usize) -> Shown {
        let piece = self.pieces[i];
        let work = self.works.iter().find(|w| w.piece.slug == piece.slug);
        let small = work.and_then(Small::of);
        Shown {
            slug: path_segment(&piece.slug),
            title: piece.title.trim().to_string(),
            width: small.as_ref().map(|s| s.size.0),
            height: small.as_ref().map(|s| s.size.1),
            thumb: small.map(|s| s.path),
        }
    }
}
