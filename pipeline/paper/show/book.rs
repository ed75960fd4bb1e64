//! The catalogue of a show as a book: cover, introduction, contents, a page or more a piece, all pieces side by side
//! to one scale, indexes of techniques and materials, colophon.

use super::plan::PERSON;
use super::views::{ShowPiece, ShowView};
use super::{Paragraphs, Pile, Placed, ShowPlates, named, paragraphs, term, under};
use crate::paper::common::{Common, capital, front_alt, lead};
use crate::paper::plates::Plates;
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet, catalogue, letters};
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct Book {
    common: Common,
    name: Said,
    title: String,
    under: Vec<Said>,
    print_ready: bool,
    introduction: Vec<Paragraphs>,
    contents: Said,
    entries: Vec<BookEntry>,
    compared: Compared,
    indexes: Vec<Index>,
    colophon: Colophon,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BookEntry {
    number: usize,
    title: String,
    plate: Option<Placed>,
    ladder_svg: Option<String>,
    ladder_alt: String,
    caption: catalogue::Caption,
    statement: Vec<String>,
    makers: Option<Said>,
    record: Option<String>,
}

/// All pieces side by side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Compared {
    head: Said,
    alt: String,
    person_mm: f64,
    person: Said,
    /// Number, width and height in millimetres.
    outlines: Vec<(usize, f64, f64)>,
}

/// An index: words with the numbers of the works they belong to.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Index {
    head: Said,
    lines: Vec<(String, Vec<usize>)>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Colophon {
    head: Said,
    lines: Vec<Said>,
}

impl Press {
    /// The catalogue. It is public.
    pub fn show_catalogue(
        &self,
        show: &ShowView,
        plates: &[ShowPlates],
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let words = lead(&t);
        let mut pile = Pile::default();
        let none = ShowPlates::default();
        let entries = show
            .pieces
            .iter()
            .enumerate()
            .map(|(i, p)| entry(p, plates.get(i).unwrap_or(&none), &mut pile, &t))
            .collect();
        let data = Book {
            common: Common::of_show(show, &t, &named(&t, |w| &w.names.catalogue)),
            name: term(&t, |w| &w.names.catalogue),
            title: show.title.clone(),
            under: under(show, &t),
            print_ready: show.print_ready,
            introduction: paragraphs(&show.introduction, &show.languages),
            contents: term(&t, |w| &w.catalogue.contents),
            entries,
            compared: Compared {
                head: term(&t, |w| &w.catalogue.compared),
                alt: words.show.catalogue.compared_alt.clone(),
                person_mm: PERSON,
                person: term(&t, |w| &w.catalogue.person),
                outlines: show
                    .pieces
                    .iter()
                    .map(|p| {
                        let e = &p.public.extent;
                        (p.number, e.width.length.mm(), e.height.length.mm())
                    })
                    .collect(),
            },
            indexes: indexes(show, &t),
            colophon: colophon(show, plates, &t),
        };
        self.set_of_show(show, "catalogue", "/catalogue.typ", &data, pile)
    }
}

fn entry(piece: &ShowPiece, plates: &ShowPlates, pile: &mut Pile, t: &[&Words]) -> BookEntry {
    let view = &piece.public;
    let (number, check) = view.number.spoken();
    // The photographers stand in the colophon, once.
    let caption = catalogue::caption(view, &Plates::default(), t);
    BookEntry {
        number: piece.number,
        title: view.title.clone(),
        plate: plates
            .front
            .as_ref()
            .map(|front| pile.add(front, front_alt(view, lead(t)))),
        ladder_svg: plates.ladder.map(str::to_owned),
        ladder_alt: lead(t).alt.ladder.clone(),
        caption,
        statement: view.statement.clone(),
        makers: view.makers.as_ref().and_then(|m| catalogue::makers(m, t)),
        record: piece.finished.then(|| format!("{number} {check}")),
    }
}

/// Techniques as she calls them, materials in the leading language, each with the numbers of its works.
fn indexes(show: &ShowView, t: &[&Words]) -> Vec<Index> {
    let words = lead(t);
    let (mut techniques, mut materials) = (BTreeMap::new(), BTreeMap::new());
    let put = |index: &mut BTreeMap<String, Vec<usize>>, word: String, number: usize| {
        let all = index.entry(word).or_default();
        if all.last() != Some(&number) {
            all.push(number);
        }
    };
    for piece in &show.pieces {
        let view = &piece.public;
        if let Some(technique) = &view.technique {
            put(&mut techniques, capital(technique), piece.number);
        }
        for yarn in std::iter::once(&view.warp).chain(&view.weft) {
            for fibre in &yarn.fibres {
                put(&mut materials, capital(words.fibre(fibre)), piece.number);
            }
        }
    }
    [
        (term(t, |w| &w.catalogue.techniques), techniques),
        (term(t, |w| &w.catalogue.materials), materials),
    ]
    .into_iter()
    .filter(|(_, lines)| !lines.is_empty())
    .map(|(head, lines)| Index {
        head,
        lines: lines.into_iter().collect(),
    })
    .collect()
}

fn colophon(show: &ShowView, plates: &[ShowPlates], t: &[&Words]) -> Colophon {
    let mut who: Vec<String> = Vec::new();
    for credit in plates
        .iter()
        .filter_map(|p| p.front.as_ref()?.credit.as_deref())
    {
        let credit = letters::line(credit);
        if !credit.is_empty() && !who.contains(&credit) {
            who.push(credit);
        }
    }
    let house = match &show.place {
        Some(place) => format!("{}, {place}", show.studio),
        None => show.studio.clone(),
    };
    let mut lines = vec![Said::own(house)];
    lines.extend(show.contact.iter().map(Said::own));
    if !who.is_empty() {
        lines.push(Said::each(t, |w| {
            fill(&w.show.catalogue.photographs, &[("who", &w.all_of(&who))])
        }));
    }
    lines.push(term(t, |w| &w.catalogue.record_said));
    lines.push(term(t, |w| &w.catalogue.set_in));
    Colophon {
        head: term(t, |w| &w.catalogue.colophon),
        lines,
    }
}
