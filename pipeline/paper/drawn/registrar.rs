//! What a registrar may know: the public view without any maker's name, the readings with the shape
//! reckoned from them, how the piece left the studio, what light and water may do to it, and the
//! photographs on file. Owners, addresses, prices and the place it hangs at are not in it.

use crate::paper::PublicView;
use crate::paper::letters::line;
use crate::quantity::{Dimension, Length, Reading};
use crate::reckon::{Dose, Reckoning, Uncertain, Weakest};
use crate::record::{At, Photo, Piece, RecordNumber, Studio, View};

/// What a registrar may know of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct RegistrarView {
    /// The public's part, without the names of a community piece's makers.
    pub public: PublicView,
    /// Where the studio is reached, as it allows to be printed.
    pub(super) contact: Option<String>,
    /// The mass reckoned from the yarns, kg, where it was not weighed.
    pub(super) mass: Option<Uncertain>,
    /// Height readings, left to right.
    pub(super) heights: Vec<Reading<Length>>,
    /// Width readings, top to foot.
    pub(super) widths: Vec<Reading<Length>>,
    /// From the top left corner, then from the top right one.
    pub(super) diagonals: Option<[Reading<Length>; 2]>,
    /// The corners that fit the readings best, mm, the top edge along x.
    pub(super) corners: Option<[[f64; 2]; 4]>,
    /// How far the top leans to the left, mm; where the diagonals count.
    pub(super) lean: Option<Uncertain>,
    /// °C and % of the air it was measured in.
    pub(super) air: (Option<f64>, Option<f64>),
    /// Whether the warp lies level as it hangs.
    pub(super) sideways: bool,
    /// How it left the studio, in her words.
    pub(super) left: AsItLeft,
    /// Yarns that light or water may change.
    pub(super) yarns: Yarns,
    /// A year's light where it hangs, and the yarn that it changes first.
    pub(super) light: Option<Dose>,
    /// The yarn of the lowest light fastness.
    pub(super) weakest: Option<Weakest>,
    /// Whether the front plate is the piece itself, squared up by its corners, and nothing around it.
    pub(super) plate_is_squared: bool,
    /// What the second plate shows.
    pub(super) second: Option<View>,
    /// The photographs on file, in the order of the record.
    pub(super) photographs: Vec<OnFile>,
}

/// How a piece left the studio, in the weaver's words.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct AsItLeft {
    pub warp_ends: Option<String>,
    pub hems: Option<String>,
    pub slits: Option<String>,
    pub blocking: Option<String>,
    pub mothproofing: Option<String>,
    /// What it hangs by, and how deep that is, mm.
    pub heading: Option<(Option<String>, Option<f64>)>,
    pub lined: bool,
}

/// Yarns by what may change them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Yarns {
    /// How many there are.
    pub count: usize,
    /// Those that fade first, with their blue wool grades, the weakest first.
    pub fade: Vec<(Named, (u8, u8))>,
    /// Those that may run in water, with their grey scale grades, the weakest first.
    pub run: Vec<(Named, (u8, u8))>,
    /// How many have no recorded fastness to light.
    pub light_unknown: usize,
    /// How many have no recorded fastness to washing.
    pub wash_unknown: usize,
}

/// A yarn by its name, or by its number from 1.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Named {
    Name(String),
    Number(usize),
}

/// A photograph on file.
#[derive(Debug, Clone, PartialEq)]
pub struct OnFile {
    /// Its file name.
    pub file: String,
    /// What it shows.
    pub view: View,
    /// The day it was taken, as its file says: `2026-06-21`.
    pub taken: Option<String>,
    /// Width and height in pixels.
    pub pixels: Option<(u32, u32)>,
    /// SHA-256 of the original, in hexadecimal.
    pub sha256: String,
}

/// Blue wool figures up to this one are named as fading soon (own rule: the lower half of the scale).
const FADES: u8 = 4;
/// Grey scale figures up to this one are named as running (own rule: on a scale of five, three or less
/// is a change anybody sees).
const RUNS: u8 = 3;

impl RegistrarView {
    /// The registrar's part of a piece with its photographs; `second` is what the second plate shows.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
        photographs: Vec<OnFile>,
        second: Option<View>,
    ) -> RegistrarView {
        let mut public = PublicView::of(studio, piece, reckoning, number);
        if let Some(makers) = &mut public.makers {
            makers.names.clear();
        }
        let masses = &reckoning.masses;
        let mass = masses.stated().map(|m| m.number().times(1e-3));
        let mass = mass.filter(|_| masses.weighed.is_none());
        let m = &piece.measured;
        let air = m.at.as_ref();
        let all =
            |readings: &[At<Reading<Length>>]| readings.iter().map(|r| r.value.clone()).collect();
        let size = &reckoning.size;
        RegistrarView {
            public,
            contact: studio.contact.as_ref().map(|c| line(c)),
            mass,
            heights: all(&m.height),
            widths: all(&m.width),
            diagonals: m
                .diagonals
                .as_ref()
                .map(|d| d.each_ref().map(|r| r.value.clone())),
            corners: size.corners,
            lean: size.lean.as_ref().map(|l| l.number().clone()),
            air: (
                air.and_then(|a| a.temperature.as_ref())
                    .map(|t| t.value.value.celsius()),
                air.and_then(|a| a.humidity.as_ref())
                    .map(|h| h.value.value.base()),
            ),
            sideways: piece.top.as_ref().is_some_and(|t| t.value.sideways()),
            second,
            left: AsItLeft::of(piece),
            yarns: Yarns::of(piece),
            light: reckoning.light.home.clone(),
            weakest: reckoning.light.weakest.clone(),
            plate_is_squared: piece
                .photo(View::Front)
                .is_some_and(|p| p.corners.is_some()),
            photographs: photographs
                .into_iter()
                .map(|p| p.without_names(piece))
                .collect(),
        }
    }
}

impl AsItLeft {
    fn of(piece: &Piece) -> AsItLeft {
        let text =
            |value: &Option<At<String>>| value.as_ref().map(|v| line(v)).filter(|v| !v.is_empty());
        let f = &piece.finishing;
        let part = |name: &str| piece.parts.iter().find(|p| p.name.value == name);
        AsItLeft {
            warp_ends: text(&f.warp_ends),
            hems: text(&f.hems),
            slits: text(&f.slits),
            blocking: text(&f.blocking),
            mothproofing: text(&f.mothproofing),
            heading: part("heading").map(|p| {
                (
                    text(&p.method),
                    p.depth.as_ref().map(|d| d.value.value.mm()),
                )
            }),
            lined: part("lining").is_some(),
        }
    }
}

impl Yarns {
    fn of(piece: &Piece) -> Yarns {
        let named = |i: usize| match &piece.weft[i].name {
            Some(name) if !line(name).is_empty() => Named::Name(line(name)),
            _ => Named::Number(i + 1),
        };
        let graded = |get: fn(&crate::record::Weft) -> Option<(u8, u8)>, most: u8| {
            let mut all: Vec<(usize, (u8, u8))> = piece
                .weft
                .iter()
                .enumerate()
                .filter_map(|(i, w)| Some((i, get(w)?)))
                .collect();
            all.sort_by_key(|(i, grade)| (*grade, *i));
            all.retain(|(_, grade)| grade.0 <= most);
            all.into_iter()
                .map(|(i, grade)| (named(i), grade))
                .collect::<Vec<_>>()
        };
        let light: fn(&crate::record::Weft) -> Option<(u8, u8)> =
            |w| w.light.as_ref().map(|l| l.value);
        let wash: fn(&crate::record::Weft) -> Option<(u8, u8)> =
            |w| w.wash.as_ref().map(|l| l.value);
        // Where none is weak, the weakest are named all the same: a change shows there first.
        let least = piece
            .weft
            .iter()
            .filter_map(light)
            .map(|g| g.0)
            .min()
            .unwrap_or(FADES);
        let unknown = |get: fn(&crate::record::Weft) -> Option<(u8, u8)>| {
            piece.weft.iter().filter(|w| get(w).is_none()).count()
        };
        Yarns {
            count: piece.weft.len(),
            fade: graded(light, least.max(FADES)),
            run: graded(wash, RUNS),
            light_unknown: unknown(light),
            wash_unknown: unknown(wash),
        }
    }
}

impl OnFile {
    /// A photograph as the record lists it, its file not looked at.
    pub fn listed(photo: &Photo) -> OnFile {
        OnFile {
            file: photo.file.value.clone(),
            view: photo.view.value,
            taken: None,
            pixels: None,
            sha256: String::new(),
        }
    }

    /// A file may have been named after somebody: a name with a word of a maker's who is not of age, or
    /// has not agreed to be named, is left out.
    fn without_names(mut self, piece: &Piece) -> OnFile {
        let words = |text: &str| {
            let lower = text.to_lowercase();
            let all = lower
                .split(|c: char| !c.is_alphabetic())
                .filter(|w| w.chars().count() > 2);
            all.map(str::to_string).collect::<Vec<_>>()
        };
        let said = words(&self.file);
        let hidden = piece.makers.iter().flat_map(|m| &m.roll).filter(|m| {
            let minor = m
                .age
                .as_ref()
                .is_some_and(|a| a.value == crate::record::Age::Minor);
            minor || !m.may_be_named()
        });
        let named = hidden
            .flat_map(|m| words(&m.name))
            .any(|word| said.contains(&word));
        if named {
            self.file.clear();
        }
        self
    }

    /// Its file name without blanks at the ends and breaks of line; nothing where it is left out.
    pub(super) fn name(&self) -> String {
        line(&self.file)
    }

    /// The first eight digits of its digest.
    pub(super) fn digest(&self) -> &str {
        self.sha256.get(..8).unwrap_or("")
    }
}
