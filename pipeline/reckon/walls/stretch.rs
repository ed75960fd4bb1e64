//! The free stretches of walls, in whole micrometres, so that sums are exact.

use super::{Hung, NoPlace, Rooms};
use crate::quantity::{Length, Mass};
use crate::reckon::walls::spread::bottom;

/// A length in micrometres.
pub(super) fn um(length: Length) -> i64 {
    // Walls are far shorter than what a whole number of micrometres can hold.
    #[allow(clippy::cast_possible_truncation)]
    let whole = (length.mm() * 1000.0).round() as i64;
    whole
}

/// A mass in milligrams.
pub(super) fn mg(mass: Mass) -> i64 {
    #[allow(clippy::cast_possible_truncation)]
    let whole = (mass.g() * 1000.0).round() as i64;
    whole
}

/// A stretch of a wall that may be hung with pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    pub wall: usize,
    pub from: i64,
    pub to: i64,
}

impl Stretch {
    pub fn length(&self) -> i64 {
        self.to - self.from
    }
}

/// Every stretch of every wall, from left to right along the visitor's way.
pub(super) fn stretches(rooms: &Rooms) -> Vec<Stretch> {
    let mut all = Vec::new();
    for (wall, bare) in rooms.walls.iter().enumerate() {
        let width = um(bare.width).max(0);
        let mut clear: Vec<(i64, i64)> = bare
            .clear
            .iter()
            .map(|(a, b)| (um(*a).clamp(0, width), um(*b).clamp(0, width)))
            .map(|(a, b)| (a.min(b), a.max(b)))
            .collect();
        clear.sort_unstable();
        clear.push((width, width));
        let mut from = 0;
        for (a, b) in clear {
            if a > from {
                all.push(Stretch { wall, from, to: a });
            }
            from = from.max(b);
        }
    }
    all
}

/// The show in whole numbers.
#[derive(Debug)]
pub(super) struct Task {
    pub stretches: Vec<Stretch>,
    /// Width of each piece.
    pub widths: Vec<i64>,
    /// Mass of each piece; nothing where it is not known.
    pub masses: Vec<i64>,
    pub gap: i64,
    /// What stays free at either end of a stretch.
    pub end: i64,
    /// The most each wall may carry.
    pub limits: Vec<i64>,
    /// Whether a piece may hang in a stretch at all.
    pub may: Vec<Vec<bool>>,
    /// Whether the light is too strong for a piece in a stretch.
    pub bright: Vec<Vec<bool>>,
}

impl Task {
    pub fn of(pieces: &[Hung], rooms: &Rooms) -> Task {
        let stretches = stretches(rooms);
        let end = end(rooms);
        let may = pieces
            .iter()
            .map(|piece| {
                stretches
                    .iter()
                    .map(|s| {
                        um(piece.width) + 2 * end <= s.length()
                            && fits_wall(piece, rooms, s.wall).is_ok()
                    })
                    .collect()
            })
            .collect();
        Task {
            widths: pieces.iter().map(|p| um(p.width)).collect(),
            masses: pieces.iter().map(|p| p.mass.map_or(0, mg)).collect(),
            gap: um(rooms.gap),
            end,
            limits: rooms
                .walls
                .iter()
                .map(|w| w.limit.map_or(i64::MAX, mg))
                .collect(),
            may,
            bright: pieces
                .iter()
                .map(|p| {
                    stretches
                        .iter()
                        .map(|s| p.too_bright.contains(&s.wall))
                        .collect()
                })
                .collect(),
            stretches,
        }
    }

    /// What a piece takes of a stretch: its width and one gap.
    pub fn takes(&self, piece: usize) -> i64 {
        self.widths[piece] + self.gap
    }

    /// What a stretch has to give: its length without what stays free at its ends, and one gap more, since n pieces
    /// have n - 1 gaps.
    pub fn gives(&self, stretch: usize) -> i64 {
        self.stretches[stretch].length() - 2 * self.end + self.gap
    }

    /// Whether several stretches together are under one limit of load.
    pub fn shares_a_limit(&self) -> bool {
        let limited = |s: &Stretch| self.limits[s.wall] < i64::MAX;
        self.stretches
            .windows(2)
            .any(|pair| pair[0].wall == pair[1].wall && limited(&pair[0]))
    }

    /// How full a stretch is, in millionths, rounded up.
    pub fn fill(&self, stretch: usize, taken: i64) -> i64 {
        let gives = i128::from(self.gives(stretch).max(1));
        let millionths = (i128::from(taken) * 1_000_000 + gives - 1) / gives;
        i64::try_from(millionths).unwrap_or(i64::MAX)
    }
}

/// What stays free at either end of a stretch: a quarter of the gap, ten centimetres at most. Common practice, no
/// source: a work in a corner or on a door's frame is seen by nobody and brushed by everybody.
fn end(rooms: &Rooms) -> i64 {
    (um(rooms.gap) / 4).min(100_000)
}

/// Whether a piece may hang on a wall by its height, its mass and its wish.
fn fits_wall(piece: &Hung, rooms: &Rooms, wall: usize) -> Result<(), Option<NoPlace>> {
    if piece.wall.is_some_and(|wish| wish != wall) {
        return Err(None);
    }
    let bare = &rooms.walls[wall];
    if let Some(height) = bare.height {
        let top = bottom(piece.height, rooms.line) + piece.height;
        if um(top) > um(height) {
            return Err(Some(NoPlace::TooHigh(top - height)));
        }
    }
    if let (Some(limit), Some(mass)) = (bare.limit, piece.mass)
        && mg(mass) > mg(limit)
    {
        return Err(Some(NoPlace::TooHeavy(mass - limit)));
    }
    Ok(())
}

/// Why a piece that was left over has no place: by how much it misses the wall that comes nearest.
pub(super) fn why(piece: &Hung, rooms: &Rooms) -> NoPlace {
    let all = stretches(rooms);
    let needs = um(piece.width) + 2 * end(rooms);
    let mut nearest: Option<NoPlace> = None;
    let (mut widest, mut fits_somewhere) = (None, false);
    for s in &all {
        match fits_wall(piece, rooms, s.wall) {
            Ok(()) => {
                widest = widest.max(Some(s.length()));
                fits_somewhere |= needs <= s.length();
            }
            Err(Some(NoPlace::TooHigh(by))) => {
                let less = match nearest {
                    Some(NoPlace::TooHigh(other)) => by.mm() < other.mm(),
                    _ => true,
                };
                if less {
                    nearest = Some(NoPlace::TooHigh(by));
                }
            }
            Err(Some(other)) => nearest = nearest.or(Some(other)),
            Err(None) => {}
        }
    }
    match widest {
        _ if fits_somewhere => NoPlace::Crowded,
        Some(widest) => {
            let by = needs - widest;
            #[allow(clippy::cast_precision_loss)] // Walls are short.
            NoPlace::TooWide(Length::from_mm(by as f64 / 1000.0))
        }
        None => nearest.unwrap_or(NoPlace::NoWall),
    }
}
