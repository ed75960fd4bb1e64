//! A small archive written down beside a check: it shows the weaver what is meant, and a test holds
//! the check to it. Only the lines that matter are written; the rest comes from one plain archive
//! that nothing is wrong with.

use crate::record::{Looks, Sight, Trouble};
use std::collections::BTreeMap;

/// An archive with a piece `p` and, where it is needed, a second piece `q`.
#[derive(Debug, Clone, Copy)]
pub struct Example {
    /// Lines of `pieces/p/piece.yaml`. A field that is not among them is as in the plain archive.
    pub piece: &'static str,
    /// Lines of `pieces/q/piece.yaml`, likewise; empty where there is no second piece.
    pub beside: &'static str,
    /// Lines of `studio.yaml`, likewise.
    pub studio: &'static str,
    /// `pieces/p/notes.md`; empty where there is none.
    pub notes: &'static str,
    /// Photographs of `p` by their path below `photos/`; where none is named, `front.jpg` and
    /// `back.jpg` lie there. `back.jpg` lies there too where `piece` lists no photographs of its own.
    pub photos: &'static [(&'static str, Seen)],
    /// Further files by their path in the archive.
    pub more: &'static [(&'static str, &'static str)],
    /// The whole archive by path, in place of everything above.
    pub only: &'static [(&'static str, &'static str)],
    /// Sockets by their path in the archive: entries that are no files.
    pub sockets: &'static [&'static str],
}

/// What would be seen in a photograph of an example.
#[derive(Debug, Clone, Copy)]
pub enum Seen {
    /// Nothing wrong; width and height in pixels, upright.
    Upright(u32, u32),
    /// Nothing in the file.
    Empty,
    /// Not a picture; what it looks like.
    NotAPicture(&'static str),
    /// It ends too early.
    CutShort,
    /// A kind that is archived but not read.
    NotReadHere(&'static str),
    /// Private facts in it.
    Private(&'static [&'static str]),
    /// What is wrong with the corners given for it.
    Corners(&'static str),
    /// A remark on its colours.
    Colour(&'static str),
    /// Edges spread by so many pixels.
    Spread(f64),
    /// Share of the piece that is white without drawing.
    Burnt(f64),
    /// Light on the wall that differs by such a share.
    Uneven(f64),
    /// A moving picture.
    Moving,
    /// A picture that looks like this.
    Like(u64),
}

const STUDIO: &str = "\
studio: Brackwater Tapestry
weaver: Ottilie Brackwater
currency: GBP
";

const P: &str = "\
title: Low Water
made: 2026-03/2026-06
warp: {yarn: cotton seine twine, count: Ne 12/6, fibre: {cotton: 100}}
weft: [{name: sea green, count: NeW 2/8, fibre: {wool: 100}, used: 410 g}]
measured: {height: 121.4 cm, width: 166.0 cm}
photos: [{file: front.jpg, view: front, alt: Green and grey bands lie level across the whole width}, {file: back.jpg, view: back, alt: Ends of green and grey yarn hang from the bands}]
";

/// The front photograph of the plain archive: cropped to the piece.
const FRONT: (u32, u32) = (4980, 3642);

impl Example {
    /// The plain archive, with nothing wrong in it.
    pub const PLAIN: Example = Example {
        piece: "",
        beside: "",
        studio: "",
        notes: "",
        photos: &[],
        more: &[],
        only: &[],
        sockets: &[],
    };

    /// Every text file by its path. Photographs are not among them: see [`Example::sights`].
    pub fn files(&self) -> BTreeMap<String, String> {
        let owned = |(path, text): &(&str, &str)| (path.to_string(), text.to_string());
        if !self.only.is_empty() {
            return self.only.iter().map(owned).collect();
        }
        let mut files: BTreeMap<String, String> = self.more.iter().map(owned).collect();
        files.insert("studio.yaml".into(), completed(STUDIO, self.studio));
        files.insert("pieces/p/piece.yaml".into(), completed(P, self.piece));
        if !self.beside.is_empty() {
            files.insert("pieces/q/piece.yaml".into(), completed(P, self.beside));
        }
        if !self.notes.is_empty() {
            files.insert("pieces/p/notes.md".into(), self.notes.to_string());
        }
        files
    }

    /// The photographs of a piece, by their path below `photos/`, and what would be seen in each.
    pub fn sights(&self, slug: &str) -> BTreeMap<String, Sight> {
        if !self.only.is_empty() {
            return BTreeMap::new();
        }
        if slug != "p" || self.photos.is_empty() {
            let fine = Seen::Upright(FRONT.0, FRONT.1).sight();
            let named = |name: &str| (name.to_string(), fine.clone());
            return BTreeMap::from([named("front.jpg"), named("back.jpg")]);
        }
        let sight = |(file, seen): &(&str, Seen)| (file.to_string(), seen.sight());
        let mut sights: BTreeMap<String, Sight> = self.photos.iter().map(sight).collect();
        if !self.piece.contains("photos:") {
            // The plain archive lists its back, too.
            sights
                .entry("back.jpg".to_string())
                .or_insert_with(|| Seen::Upright(FRONT.0, FRONT.1).sight());
        }
        sights
    }
}

impl Seen {
    /// What lies there, in words for the manual.
    pub(super) fn said(self) -> String {
        match self {
            Seen::Upright(width, height) => format!("(a photograph of {width} × {height} pixels)"),
            Seen::Empty => "(an empty file)".to_string(),
            Seen::NotAPicture(what) => format!("(no picture, but {what})"),
            Seen::CutShort => "(a photograph that ends too early)".to_string(),
            Seen::NotReadHere(what) => format!("(a photograph of the kind {what})"),
            Seen::Private(facts) => format!("(a photograph with {} in it)", facts.join(", ")),
            Seen::Corners(_) => "(a photograph)".to_string(),
            Seen::Moving => "(a moving picture)".to_string(),
            Seen::Colour(remark) => format!("(a photograph: {remark})"),
            Seen::Spread(pixels) => {
                format!("(a photograph whose edges are spread by {pixels} pixels)")
            }
            Seen::Burnt(share) => {
                format!("(a photograph with {} % of it plain white)", share * 100.0)
            }
            Seen::Uneven(share) => format!(
                "(a photograph in which the light differs by {} % across the wall)",
                share * 100.0
            ),
            Seen::Like(bits) => format!("(a picture that looks like {bits:016x})"),
        }
    }

    /// What the pixels of it say, where that matters.
    fn looks(self) -> Looks {
        let fine = Looks {
            across: FRONT,
            spread: Some(0.4),
            ..Looks::default()
        };
        match self {
            Seen::Spread(pixels) => Looks {
                spread: Some(pixels),
                ..fine
            },
            Seen::Burnt(burnt) => Looks { burnt, ..fine },
            Seen::Uneven(share) => Looks {
                uneven: Some(share),
                ..fine
            },
            Seen::Like(bits) => Looks {
                likeness: Some(bits),
                ..fine
            },
            _ => fine,
        }
    }

    fn sight(self) -> Sight {
        let fine = Sight {
            size: Some(FRONT),
            ..Sight::default()
        };
        let trouble = |trouble| Sight {
            trouble: Some(trouble),
            ..Sight::default()
        };
        match self {
            Seen::Upright(width, height) => Sight {
                size: Some((width, height)),
                ..fine
            },
            Seen::Empty => trouble(Trouble::Empty),
            Seen::NotAPicture(what) => trouble(Trouble::NotAPicture(what.to_string())),
            Seen::CutShort => trouble(Trouble::CutShort),
            Seen::NotReadHere(what) => trouble(Trouble::NotReadHere(what.to_string())),
            Seen::Private(facts) => Sight {
                private: facts.iter().map(|f| f.to_string()).collect(),
                ..fine
            },
            Seen::Corners(wrong) => Sight {
                corners: Some(wrong.to_string()),
                ..fine
            },
            Seen::Moving => Sight {
                moving: true,
                ..fine
            },
            Seen::Colour(remark) => Sight {
                colour: Some(remark.to_string()),
                ..fine
            },
            Seen::Spread(_) | Seen::Burnt(_) | Seen::Uneven(_) | Seen::Like(_) => Sight {
                looks: Some(self.looks()),
                ..fine
            },
        }
    }
}

/// The lines, completed with those of `base` whose field they do not have.
fn completed(base: &str, lines: &str) -> String {
    let field = |line: &str| line.split_once(':').map(|(name, _)| name.to_string());
    let written: Vec<String> = lines
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()))
        .filter_map(field)
        .collect();
    let mut text: String = base
        .lines()
        .filter(|line| field(line).is_none_or(|name| !written.contains(&name)))
        .flat_map(|line| [line, "\n"])
        .collect();
    text.push_str(lines);
    text
}
