//! An exhibition from its file, and all of an archive's exhibitions from their folder.

use super::fields::Fields;
use super::kinds;
use super::packing::within;
use super::values::{Desk, scalar};
use super::yaml::{Content, Node};
use crate::disk::{self, DiskError};
use crate::record::{
    At, Exhibition, Finding, HangFrom, HangingLine, KeepClear, Loan, OpeningHours, Order, Place,
    Shown, Told, Wall,
};
use std::path::Path;
use std::sync::Arc;

/// The largest file of an exhibition that is read.
const LARGEST: u64 = 2 * 1024 * 1024;

/// An archive's exhibitions, as read.
#[derive(Debug, Default)]
pub struct Exhibitions {
    /// Every one that could be read, in the order of their names.
    pub all: Vec<Exhibition>,
    /// The names of all files, readable or not.
    pub names: Vec<String>,
    /// What reading found.
    pub findings: Vec<Finding>,
    /// The texts, to show findings in.
    pub sources: super::Sources,
}

impl Exhibitions {
    /// Reads `exhibitions/` of an archive. That there is no such folder is no fault.
    ///
    /// # Errors
    /// Where the folder is there and can not be listed.
    pub fn read(root: &Path) -> Result<Exhibitions, DiskError> {
        let mut out = Exhibitions::default();
        let folders = disk::subfolders(root)?;
        if !folders.folders.iter().any(|name| name == "exhibitions") {
            return Ok(out);
        }
        let folder = root.join("exhibitions");
        let listing = disk::list_folder(&folder)?;
        for left in &listing.escaping {
            let place = Place::file(&format!("exhibitions/{}", left.relative).into());
            out.findings.push(kinds::LEAVES_FOLDER.at(
                &place,
                format!("`{}` {}", left.relative, left.reason),
                "put the file itself here: an archive is complete in its own folder",
            ));
        }
        for file in &listing.files {
            let Some(slug) = file.relative.strip_suffix(".yaml") else {
                continue;
            };
            if slug.contains('/') {
                continue;
            }
            let name: Arc<str> = format!("exhibitions/{}", file.relative).into();
            out.names.push(slug.to_owned());
            match disk::read_text_limited(&folder.join(&file.relative), LARGEST) {
                Ok(text) => {
                    let text = text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned();
                    let (exhibition, findings) = exhibition_from(slug, &name, &text);
                    out.all.extend(exhibition);
                    out.findings.extend(findings);
                    out.sources.insert(name, text);
                }
                Err(error) => out.findings.push(kinds::UNREADABLE_FILE.at(
                    &Place::file(&name),
                    error.complaint(),
                    error.remedy(),
                )),
            }
        }
        Ok(out)
    }
}

/// Reads the text of an exhibition's file.
pub fn exhibition_from(
    slug: &str,
    file: &Arc<str>,
    text: &str,
) -> (Option<Exhibition>, Vec<Finding>) {
    super::with_tree(file, text, |desk, place, root| {
        exhibition(desk, slug, place, root)
    })
}

fn exhibition(desk: &Desk, slug: &str, place: &Place, root: &Node) -> Option<Exhibition> {
    let mut f = Fields::open(desk, "", place, root)?;
    let title = f.text("title");
    let title = f.needed("title", title, "Slack Water");
    let open = f.date("open");
    let open = f.needed("open", open, "2027-02-05/2027-03-28");
    let centre = f.reading("centre_line");
    let line = match f.reading("top_line") {
        Some(top) => {
            if let Some(centre) = &centre {
                desk.add(kinds::TWO_ANSWERS.at(
                    &centre.place,
                    "`centre_line` and `top_line` both say how high the pieces hang",
                    "keep one of them; the common top counts",
                ));
            }
            HangingLine::Top(top)
        }
        None => HangingLine::Centre(centre),
    };
    let exhibition = Exhibition {
        slug: slug.to_string(),
        place: place.clone(),
        title: title.unwrap_or_else(|| At {
            value: slug.to_string(),
            place: place.clone(),
        }),
        venue: f.text("venue"),
        hours: f.group("hours").and_then(hours),
        light: f.reading("light"),
        filtered: f.yes_no("filtered"),
        languages: super::studio::languages(&mut f),
        walls: f.groups("walls").into_iter().filter_map(wall).collect(),
        line,
        gap: f.reading("gap"),
        pieces: pieces(&mut f),
        order: f
            .word("order", Order::ALL)
            .map_or(Order::default(), |o| o.value),
        loans: f.groups("loans").into_iter().filter_map(loan).collect(),
        openings: f
            .groups("openings")
            .into_iter()
            .filter_map(super::packing::opening)
            .collect(),
        price_list: f.yes_no("price_list"),
        codes: f.yes_no("codes"),
        print_ready: f.yes_no("print_ready"),
        introduction: told(&mut f, "introduction"),
        open: open?,
    };
    f.done();
    Some(exhibition)
}

fn hours(mut f: Fields) -> Option<OpeningHours> {
    let days = f.parsed("days_a_week", |t| {
        within(t, 0.0, 7.0, "the days of one week, 0 to 7")
    });
    let days = f.needed("days_a_week", days, "6");
    let hours = f.parsed("hours_a_day", |t| {
        within(t, 0.0, 24.0, "the hours of one day, 0 to 24")
    });
    let hours = f.needed("hours_a_day", hours, "7");
    f.done();
    Some(OpeningHours {
        days_a_week: days?,
        hours_a_day: hours?,
    })
}

fn wall(mut f: Fields) -> Option<Wall> {
    let place = f.place.clone();
    let name = f.text("name");
    let name = f.needed("name", name, "north");
    let width = f.reading("width");
    let width = f.needed("width", width, "7.4 m");
    let height = f.reading("height");
    let keep_clear = f
        .groups("keep_clear")
        .into_iter()
        .filter_map(clear)
        .collect();
    let hang = f.word("hang", HangFrom::ALL);
    let limit = f.reading("limit");
    let light = f.reading("light");
    f.done();
    Some(Wall {
        place,
        name: name?,
        width: width?,
        height,
        keep_clear,
        hang,
        limit,
        light,
    })
}

fn clear(mut f: Fields) -> Option<KeepClear> {
    let from = f.parsed("from", crate::quantity::Reading::parse);
    let from = f.needed("from", from, "0 m");
    let to = f.reading("to");
    let to = f.needed("to", to, "1.1 m");
    let what = f.text("what");
    f.done();
    Some(KeepClear {
        from: from?,
        to: to?,
        what,
    })
}

/// A piece's name alone, or with more said of it.
fn pieces(f: &mut Fields) -> Vec<Shown> {
    let desk = f.desk();
    let one = |node: &Node| match &node.content {
        Content::Map(_) => shown(Fields::open(desk, "pieces", &node.place, node)?),
        _ => Some(Shown {
            piece: At {
                value: scalar(desk, "pieces", node)?.trim().to_string(),
                place: node.place.clone(),
            },
            wall: None,
            label: Vec::new(),
            group: None,
            for_sale: None,
            price: None,
            until: None,
        }),
    };
    f.nodes("pieces").into_iter().filter_map(one).collect()
}

fn shown(mut f: Fields) -> Option<Shown> {
    let piece = f.text("piece");
    let piece = f.needed("piece", piece, "tide-tables");
    let shown = Shown {
        wall: f.text("wall"),
        label: told(&mut f, "label"),
        group: f.text("group"),
        for_sale: f.yes_no("for_sale"),
        price: f.money("price"),
        until: f.day("until"),
        piece: piece.unwrap_or_else(|| At {
            value: String::new(),
            place: f.place.clone(),
        }),
    };
    f.done();
    (!shown.piece.is_empty()).then_some(shown)
}

/// A text, or one for each language: `{en: …, fi: …}`.
fn told(f: &mut Fields, name: &'static str) -> Vec<Told> {
    let desk = f.desk();
    let node = f.nodes(name).into_iter().next();
    let Some(node) = node else { return Vec::new() };
    if !matches!(node.content, Content::Map(_)) {
        let text = f.prose(name).map(|text| Told {
            language: None,
            text,
        });
        return text.into_iter().collect();
    }
    let Some(mut each) = Fields::open(desk, name, &node.place, node) else {
        return Vec::new();
    };
    let all = super::studio::LANGUAGES
        .iter()
        .filter_map(|(code, _)| {
            Some(Told {
                language: Some((*code).to_owned()),
                text: each.prose(code)?,
            })
        })
        .collect();
    each.done();
    all
}

fn loan(mut f: Fields) -> Option<Loan> {
    let piece = f.text("piece");
    let piece = f.needed("piece", piece, "tide-tables");
    let lender = f.text("lender");
    let lender = f.needed("lender", lender, "Corwin Hale");
    let (from, to) = (f.day("from"), f.day("to"));
    let (insured, transport) = (f.money("insured"), f.text("transport"));
    f.done();
    Some(Loan {
        piece: piece?,
        lender: lender?,
        from,
        to,
        insured,
        transport,
    })
}
