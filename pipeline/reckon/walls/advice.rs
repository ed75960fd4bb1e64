//! Where a show does not fit: by how much, and which smallest change would make it fit.

use super::assign::{Plan, hang_within};
use super::{Hung, NoPlace, Rooms};
use crate::quantity::Length;

/// Steps for each change that is tried.
const STEPS: u64 = 60_000;
/// Gaps are tried in steps of so many millimetres.
const GAP_STEP: f64 = 10.0;

/// One change that would make everything fit.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Leave this piece out.
    LeaveOut(usize),
    /// Hang with this gap instead.
    Gap(Length),
    /// Let this piece hang on another wall than the one it is wished on.
    DropWish(usize),
}

/// What to do where a show does not fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// What the pieces with their gaps take more than all stretches have; nothing where the sum would fit and only
    /// the parting into stretches is in the way.
    pub short_by: Option<Length>,
    /// Changes each of which is enough by itself, the smallest of each kind.
    pub changes: Vec<Change>,
}

impl Advice {
    /// Advice on a plan that leaves pieces over; nothing where it leaves none.
    pub fn on(plan: &Plan, pieces: &[Hung], rooms: &Rooms) -> Option<Advice> {
        (plan.score.left_over > 0).then(|| {
            let fits = |pieces: &[Hung], rooms: &Rooms| {
                hang_within(pieces, rooms, STEPS).score.left_over == 0
            };
            let changes = [
                leave_out(plan, pieces, rooms, &fits),
                narrower(pieces, rooms, &fits),
                drop_wish(pieces, rooms, &fits),
            ];
            Advice {
                short_by: short_by(pieces, rooms),
                changes: changes.into_iter().flatten().collect(),
            }
        })
    }
}

type Fits<'a> = dyn Fn(&[Hung], &Rooms) -> bool + 'a;

/// The piece of the least width whose leaving makes the rest fit.
fn leave_out(plan: &Plan, pieces: &[Hung], rooms: &Rooms, fits: &Fits) -> Option<Change> {
    if plan.score.left_over != 1 {
        return None;
    }
    // One that has no place anywhere is the one.
    let homeless = plan
        .spots
        .iter()
        .position(|s| matches!(s, Err(why) if *why != NoPlace::Crowded));
    let mut all: Vec<usize> = match homeless {
        Some(one) => vec![one],
        None => (0..pieces.len()).collect(),
    };
    all.sort_by(|a, b| {
        let width = |p: &usize| pieces[*p].width.mm();
        width(a).total_cmp(&width(b))
    });
    all.into_iter()
        .find(|p| {
            let mut rest = pieces.to_vec();
            rest.remove(*p);
            fits(&rest, rooms)
        })
        .map(Change::LeaveOut)
}

/// The widest gap with which everything fits.
fn narrower(pieces: &[Hung], rooms: &Rooms, fits: &Fits) -> Option<Change> {
    let with = |gap: Length| {
        let rooms = Rooms {
            gap,
            ..rooms.clone()
        };
        fits(pieces, &rooms)
    };
    let steps = (rooms.gap.mm() / GAP_STEP).ceil();
    let gap = |n: f64| Length::from_mm(n * GAP_STEP);
    if steps < 1.0 || !with(gap(0.0)) {
        return None;
    }
    // A narrower gap never makes less room.
    let (mut enough, mut too_wide) = (0.0, steps);
    while too_wide - enough > 1.0 {
        let middle = ((enough + too_wide) / 2.0).floor();
        if with(gap(middle)) {
            enough = middle;
        } else {
            too_wide = middle;
        }
    }
    Some(Change::Gap(gap(enough)))
}

/// The first wish whose dropping makes everything fit.
fn drop_wish(pieces: &[Hung], rooms: &Rooms, fits: &Fits) -> Option<Change> {
    (0..pieces.len())
        .filter(|p| pieces[*p].wall.is_some())
        .find(|p| {
            let mut free = pieces.to_vec();
            free[*p].wall = None;
            fits(&free, rooms)
        })
        .map(Change::DropWish)
}

fn short_by(pieces: &[Hung], rooms: &Rooms) -> Option<Length> {
    let task = super::stretch::Task::of(pieces, rooms);
    let takes: i64 = (0..pieces.len()).map(|p| task.takes(p)).sum();
    let gives: i64 = (0..task.stretches.len()).map(|s| task.gives(s)).sum();
    #[allow(clippy::cast_precision_loss)] // Walls are short.
    let by = Length::from_mm((takes - gives) as f64 / 1000.0);
    (takes > gives).then_some(by)
}
