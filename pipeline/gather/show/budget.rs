//! Light budgets of the pieces of a show, with the other shows they go to.

use crate::quantity::Dimension;
use crate::read::Exhibitions;
use crate::reckon::exposure::{Budget, Shining};
use crate::record::{Exhibition, Piece, Shown, Wall};

/// The light of a show on one piece; nothing where light, hours or days are not told.
fn shining(exhibition: &Exhibition, shown: &Shown, wall: Option<&Wall>) -> Option<Shining> {
    let light = wall
        .and_then(|w| w.light.as_ref())
        .or(exhibition.light.as_ref())?;
    let hours = exhibition.hours.as_ref()?;
    let last = exhibition.last_day()?;
    Some(Shining {
        lux: light.value.value.base(),
        hours_a_day: hours.hours_a_day.value,
        days_a_week: hours.days_a_week.value,
        first: exhibition.first_day()?,
        last: shown
            .until
            .as_ref()
            .map_or(last, |until| until.value.min(last)),
    })
}

/// The budget of a piece on a wall.
pub(super) fn budget(
    exhibition: &Exhibition,
    shown: &Shown,
    piece: &Piece,
    wall: Option<&Wall>,
    others: &[(String, Shining)],
) -> Option<Budget> {
    let show = shining(exhibition, shown, wall)?;
    Some(Budget::of(piece, show, others))
}

/// The other shows a piece is listed in, as far as they tell their light.
pub(super) fn others_of(
    exhibitions: &Exhibitions,
    this: &Exhibition,
    slug: &str,
) -> Vec<(String, Shining)> {
    exhibitions
        .all
        .iter()
        .filter(|other| other.slug != this.slug)
        .filter_map(|other| {
            let shown = other.pieces.iter().find(|p| *p.piece == slug)?;
            let wall = shown
                .wall
                .as_ref()
                .and_then(|name| other.walls.iter().find(|w| w.name.value == name.value));
            Some((other.title.value.clone(), shining(other, shown, wall)?))
        })
        .collect()
}
