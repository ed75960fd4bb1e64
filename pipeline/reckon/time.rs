//! Days and hours at the loom, the rate of weaving, and the points of the chart of the making.

use super::web::Web;
use crate::quantity::{Area, Day, Dimension, Hours, Length};
use crate::record::Piece;

/// Time at the loom, from the notes.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeAtWork {
    /// First day noted.
    pub first: Day,
    /// Last day noted.
    pub last: Day,
    /// Days noted.
    pub days: usize,
    /// Days without hours.
    pub days_without_hours: usize,
    /// Hours noted, together.
    pub hours: Hours,
    /// Weaving an hour over the stretch that has both heights and hours.
    pub area_an_hour: Option<Area>,
    /// Height over the days.
    pub points: Vec<Point>,
}

/// One day of the chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// The day.
    pub day: Day,
    /// Hours that day, if noted.
    pub hours: Option<Hours>,
    /// Height woven so far, if noted.
    pub height: Option<Length>,
}

impl TimeAtWork {
    /// Reckons the time, or `None` without notes.
    pub fn of(piece: &Piece, web: &Web) -> Option<TimeAtWork> {
        let mut points: Vec<Point> = piece
            .notes
            .entries
            .iter()
            .map(|n| Point {
                day: n.day.value,
                hours: n.hours.as_ref().map(|h| h.value.value),
                height: n.height.as_ref().map(|h| h.value.value),
            })
            .collect();
        points.sort_by_key(|p| p.day);
        let (first, last) = (points.first()?.day, points.last()?.day);
        let mut days: Vec<Day> = points.iter().map(|p| p.day).collect();
        days.dedup();
        Some(TimeAtWork {
            first,
            last,
            days: days.len(),
            days_without_hours: points.iter().filter(|p| p.hours.is_none()).count(),
            hours: points.iter().filter_map(|p| p.hours).sum(),
            area_an_hour: rate(&points, web),
            points,
        })
    }
}

/// Area an hour between the first and the last noted height: the height gained times the width in
/// the loom, over the hours of the days after the first height. A day in between without hours makes
/// it unknown, for it would flatter the rate.
fn rate(points: &[Point], web: &Web) -> Option<Area> {
    let width = web.width?;
    let start = points.iter().position(|p| p.height.is_some())?;
    let end = points.iter().rposition(|p| p.height.is_some())?;
    let (from, to) = (points.get(start)?, points.get(end)?);
    let hours: Option<Vec<Hours>> = points
        .get(start + 1..=end)?
        .iter()
        .map(|p| p.hours)
        .collect();
    let hours = hours?.into_iter().sum::<Hours>().hours();
    let gained = to.height? - from.height?;
    (hours > 0.0 && gained.mm() > 0.0).then(|| Area::of(gained.by(width).m2() / hours))
}
