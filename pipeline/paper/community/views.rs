//! What each reader of the papers of a piece made by many may know. The public hears the names of those who agreed, in the
//! order of its language; whoever mounts the wall sees numbers and no name; the studio alone has the roll.

use crate::paper::PublicView;
use crate::paper::letters::line;
use crate::quantity::Length;
use crate::reckon::Reckoning;
use crate::reckon::community::{Community, extent, in_order, sorted_by};
use crate::record::{Age, Consent, Maker, Makers, Piece, RecordNumber, Squares, Studio};

/// What anybody may know: who agreed to be named, and how many there are.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelView {
    pub(in crate::paper) public: PublicView,
    /// Names of those who agreed, sorted.
    pub(in crate::paper) names: Vec<String>,
    /// Everybody, named or not.
    pub(in crate::paper) count: usize,
    /// Squares of the wall.
    pub(in crate::paper) squares: Option<u32>,
}

/// What whoever mounts the wall may know: squares by their numbers. No name is in it, not of those who agreed either.
#[derive(Debug, Clone, PartialEq)]
pub struct MountView {
    pub(in crate::paper) public: PublicView,
    pub(in crate::paper) rows: u32,
    pub(in crate::paper) columns: u32,
    /// Width and height as measured.
    pub(in crate::paper) wall: (Length, Length),
    /// The border on each side.
    pub(in crate::paper) border: Length,
    /// Width and height by the squares, where their side is told.
    pub(in crate::paper) reckoned: Option<(Length, Length)>,
    /// Squares that the map does not name.
    pub(in crate::paper) missing: Vec<(u32, u32)>,
    /// Mass of all, whether it was weighed, and mass over the squares, kg.
    pub(in crate::paper) mass: Option<(f64, bool, f64)>,
    /// N/m along the upper edge.
    pub(in crate::paper) load: Option<f64>,
    pub(in crate::paper) overhead: bool,
}

/// One of the roll. It is the studio's.
#[derive(Debug, Clone, PartialEq)]
pub struct Person {
    /// The name as it may be printed.
    pub name: String,
    /// Adult or minor, where that is told.
    pub age: Option<Age>,
    /// Whether the name may be printed.
    pub consent: Option<Consent>,
    /// The squares: row and column, from 1.
    pub squares: Vec<(u32, u32)>,
}

/// A square with whoever made it. It is the studio's.
#[derive(Debug, Clone, PartialEq)]
pub struct MadeSquare {
    /// Row and column, from 1.
    pub at: (u32, u32),
    /// Who made it; on the roll, its place there.
    pub makers: Vec<(String, Option<usize>)>,
    /// What else the map says, by the column's head.
    pub more: Vec<(String, String)>,
}

/// What the studio alone may know: the roll, and who made which square.
#[derive(Debug, Clone, PartialEq)]
pub struct RollView {
    pub(in crate::paper) public: PublicView,
    /// Everybody, sorted.
    pub people: Vec<Person>,
    /// Every square of the wall, row by row; those that the map does not name have no makers.
    pub squares: Vec<MadeSquare>,
    /// Rows and columns.
    pub(in crate::paper) grid: Option<(u32, u32)>,
}

/// The language lists are sorted in.
fn language(view: &PublicView) -> &str {
    view.languages.first().map_or("en", String::as_str)
}

fn sorting(maker: &Maker) -> String {
    let sort = maker.sort.as_ref().map(|s| line(s));
    sorted_by(&line(&maker.name), sort.as_deref())
}

/// The public's part without the names that it holds for captions.
fn nameless(
    studio: &Studio,
    piece: &Piece,
    reckoning: &Reckoning,
    number: &RecordNumber,
) -> PublicView {
    let mut public = PublicView::of(studio, piece, reckoning, number);
    if let Some(makers) = &mut public.makers {
        makers.names.clear();
    }
    public
}

impl PanelView {
    /// The public's part.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        makers: &Makers,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> PanelView {
        let public = nameless(studio, piece, reckoning, number);
        let mut named: Vec<&Maker> = makers.roll.iter().filter(|m| m.may_be_named()).collect();
        in_order(language(&public), &mut named, |m| sorting(m));
        PanelView {
            names: named.iter().map(|m| line(&m.name)).collect(),
            count: makers.roll.len(),
            squares: makers.squares.as_ref().and_then(Squares::count),
            public,
        }
    }
}

impl MountView {
    /// The installer's part; nothing without a grid.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        squares: &Squares,
        community: &Community,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> MountView {
        let border = squares.border.as_ref().map_or(0.0, |b| b.value.value.mm());
        let side = squares.side.as_ref().map(|s| s.value.value.mm());
        let by = |count: u32, one: f64| Length::from_mm(extent(squares, one, f64::from(count)));
        let size = &reckoning.size;
        let (width, height) = (size.width.value, size.height.value);
        MountView {
            public: nameless(studio, piece, reckoning, number),
            rows: squares.rows.value,
            columns: squares.columns.value,
            // A border as wide as the wall leaves no squares: a slip that is told elsewhere.
            border: Length::from_mm(border.min(width.mm().min(height.mm()) / 4.0)),
            wall: (width, height),
            reckoned: side.map(|a| (by(squares.columns.value, a), by(squares.rows.value, a))),
            missing: if squares.made.is_empty() {
                Vec::new()
            } else {
                community.missing.clone()
            },
            mass: community
                .mass
                .as_ref()
                .zip(community.mass_a_square.as_ref())
                .map(|((all, weighed), one)| (all.value, *weighed, one.value)),
            load: community.load.as_ref().map(|l| l.value),
            overhead: squares.overhead.as_ref().is_some_and(|o| o.value),
        }
    }
}

impl RollView {
    /// The studio's part.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        makers: &Makers,
        community: &Community,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> RollView {
        let public = nameless(studio, piece, reckoning, number);
        let mut order: Vec<usize> = (0..makers.roll.len()).collect();
        in_order(language(&public), &mut order, |i| {
            makers.roll.get(*i).map(sorting).unwrap_or_default()
        });
        let people: Vec<Person> = order
            .iter()
            .filter_map(|i| Some((makers.roll.get(*i)?, community.hands.get(*i)?)))
            .map(|(maker, hand)| Person {
                name: line(&maker.name),
                age: maker.age.as_ref().map(|a| a.value),
                consent: maker.consent.as_ref().map(|c| c.value),
                squares: hand.squares.clone(),
            })
            .collect();
        let squares = makers.squares.as_ref();
        RollView {
            squares: squares.map(|s| made(s, &people)).unwrap_or_default(),
            grid: squares.map(|s| (s.rows.value, s.columns.value)),
            people,
            public,
        }
    }
}

fn made(squares: &Squares, people: &[Person]) -> Vec<MadeSquare> {
    use crate::reckon::community::folded;
    use std::collections::BTreeMap;
    if squares.count().is_none() || squares.made.is_empty() {
        return Vec::new();
    }
    let mut by_name: BTreeMap<String, usize> = BTreeMap::new();
    for (i, person) in people.iter().enumerate() {
        by_name.entry(folded(&person.name)).or_insert(i);
    }
    let mut all: BTreeMap<(u32, u32), MadeSquare> = BTreeMap::new();
    for row in 1..=squares.rows.value {
        for column in 1..=squares.columns.value {
            let at = (row, column);
            let (makers, more) = (Vec::new(), Vec::new());
            all.insert(at, MadeSquare { at, makers, more });
        }
    }
    for square in &squares.made {
        let Some(found) = all.get_mut(&(square.row, square.column)) else {
            continue;
        };
        for name in &square.makers {
            let name = line(name);
            let place = by_name.get(&folded(&name)).copied();
            if found.makers.iter().all(|(n, _)| *n != name) {
                found.makers.push((name, place));
            }
        }
        for (head, value) in &square.more {
            found.more.push((line(head), line(value)));
        }
    }
    all.into_values().collect()
}
