//! The walls of an exhibition and its pieces as the reckoning of the plan wants them, and what came of it in words.

use super::arrange::{Arranged, Entry};
use super::budget::budget;
use crate::quantity::Length;
use crate::reckon::exposure::{Budget, Shining};
use crate::reckon::walls::{BareWall, Change, Hung, Line, NoPlace, Rooms, USUAL_CENTRE};
use crate::record::{Exhibition, HangingLine};

/// The least free width between two pieces where none is said, mm. Common practice, no source.
const USUAL_GAP: f64 = 400.0;

/// The walls as they are reckoned with. A piece never hangs where a wall could not be read.
pub(super) fn rooms(exhibition: &Exhibition) -> Rooms {
    Rooms {
        walls: exhibition
            .walls
            .iter()
            .map(|wall| BareWall {
                width: wall.width.value.value,
                height: wall.height.as_ref().map(|h| h.value.value),
                clear: wall
                    .keep_clear
                    .iter()
                    .map(|c| (c.from.value.value, c.to.value.value))
                    .collect(),
                limit: wall.limit.as_ref().map(|l| l.value.value),
            })
            .collect(),
        gap: exhibition
            .gap
            .as_ref()
            .map_or(Length::from_mm(USUAL_GAP), |g| g.value.value),
        line: match &exhibition.line {
            HangingLine::Centre(Some(centre)) => Line::Centre(centre.value.value),
            HangingLine::Centre(None) => Line::Centre(Length::from_mm(USUAL_CENTRE)),
            HangingLine::Top(top) => Line::Top(top.value.value),
        },
    }
}

/// A piece as it is to be hung.
pub(super) fn hung(exhibition: &Exhibition, entry: &Entry, others: &[(String, Shining)]) -> Hung {
    let reckoning = &entry.reckoning;
    let bar = reckoning.hanging.as_ref().and_then(|h| h.bar.as_ref());
    let bar_kg = bar.map_or(0.0, |bar| bar.weight.value / crate::reckon::hang::GRAVITY);
    let mass = reckoning.masses.stated().map(|m| {
        let grams = crate::quantity::Dimension::base(m.value) + bar_kg * 1000.0;
        crate::quantity::Mass::from_g(grams)
    });
    // Where the year is used up elsewhere, no wall is better than another.
    let is_too_bright = |b: &Budget| b.is_too_bright() || b.remedy().is_some_and(|r| r.lux >= 1.0);
    Hung {
        width: reckoning.size.width.value,
        height: reckoning.size.height.value,
        mass,
        wall: entry.shown.wall.as_ref().and_then(|wish| {
            exhibition
                .walls
                .iter()
                .position(|w| w.name.value == wish.value)
        }),
        too_bright: exhibition
            .walls
            .iter()
            .enumerate()
            .filter(|(_, wall)| {
                budget(exhibition, entry.shown, entry.piece, Some(wall), others)
                    .is_some_and(|b| is_too_bright(&b))
            })
            .map(|(i, _)| i)
            .collect(),
    }
}

/// Why a piece has no place, to be read after its title.
pub(super) fn why(no_place: NoPlace) -> String {
    let cm = |l: Length| format!("{} cm", tenth(l.cm()));
    match no_place {
        NoPlace::TooWide(by) => format!(
            "is {} wider than the widest free stretch it may hang in, with a little air at either end",
            cm(by)
        ),
        NoPlace::TooHigh(by) => format!(
            "would reach {} above the highest wall it may hang on",
            cm(by)
        ),
        NoPlace::TooHeavy(by) => {
            format!("is {} kg heavier than the wall may carry", tenth(by.kg()))
        }
        NoPlace::Crowded => "finds no room beside the others".to_owned(),
        NoPlace::NoWall => "has no wall to hang on".to_owned(),
    }
}

/// What came of the plan, a sentence each: how much hangs, how sure it is, what would make the rest fit.
pub fn sentences(show: &Arranged) -> Vec<String> {
    let score = show.plan.score;
    let all = show.entries.len();
    let hung = all - usize::try_from(score.left_over).unwrap_or(all);
    let mut out = vec![format!(
        "{hung} of {} hang on {}",
        many(all, "piece"),
        many(show.rooms.walls.len(), "wall")
    )];
    if score.out_of_order > 0 {
        out.push(format!("out of the listed order: {}", score.out_of_order));
    }
    if score.too_bright > 0 {
        out.push(format!(
            "in stronger light than they should have: {}",
            score.too_bright
        ));
    }
    out.push(if show.plan.is_best() {
        "no plan is better".to_owned()
    } else {
        let bound = show.plan.bound;
        format!(
            "the search ended after {} steps: at best {} fewer left over, {} fewer in too strong light and {} fewer out of order could be found",
            show.plan.steps,
            score.left_over - bound.left_over.min(score.left_over),
            score.too_bright - bound.too_bright.min(score.too_bright),
            score.out_of_order - bound.out_of_order.min(score.out_of_order),
        )
    });
    out.extend(remedies(show));
    out
}

/// What would make everything hang.
pub(super) fn remedies(show: &Arranged) -> Vec<String> {
    let Some(advice) = &show.advice else {
        return Vec::new();
    };
    let cm = |l: Length| format!("{} cm", tenth(l.cm()));
    let title = |i: usize| show.entries.get(i).map_or("", |e| e.piece.title.as_str());
    let mut out = Vec::new();
    if let Some(by) = advice.short_by {
        out.push(format!(
            "all pieces with their gaps take {} more than the walls have free",
            cm(by)
        ));
    }
    out.extend(advice.changes.iter().map(|change| match change {
        Change::LeaveOut(i) => format!("without “{}” all others fit", title(*i)),
        Change::Gap(gap) => format!(
            "with a gap of {} instead of {} all fit",
            cm(*gap),
            cm(show.rooms.gap)
        ),
        Change::DropWish(i) => format!(
            "on any wall but its own “{}” finds room, and all fit",
            title(*i)
        ),
    }));
    out
}

fn many(count: usize, what: &str) -> String {
    if count == 1 {
        format!("1 {what}")
    } else {
        format!("{count} {what}s")
    }
}

fn tenth(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
