//! What a finished piece tells about the next one.

use crate::quantity::{Area, Day, Dimension, Hours, Length, Mass, Money};
use crate::reckon::Reckoning;
use crate::record::{Kind, Piece};

/// One finished piece, as far as an estimate can lean on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Past {
    /// Its folder.
    pub slug: String,
    /// Its title.
    pub title: String,
    /// What it was made for.
    pub kind: Option<Kind>,
    /// The last day at the loom, else the last day it can have been made.
    pub last_day: Option<Day>,
    /// Area of the face.
    pub area: Area,
    /// Warp ends in a centimetre of the loom.
    pub ends_per_cm: Option<f64>,
    /// Yarns of the weft, each a colour.
    pub colours: usize,
    /// All hours at the loom, or why they are not known.
    pub hours: Result<Hours, NoHours>,
    /// Weeks of the calendar from the first day at the loom to the last.
    pub weeks: Option<f64>,
    /// All weft together.
    pub weft: Option<Mass>,
    /// Each yarn's share of the weft, the largest first; together 1. Empty where a yarn's mass is not known.
    pub shares: Vec<f64>,
    /// What all materials cost. Only where each has a cost.
    pub materials: Option<Money>,
    /// What the width lost from loom to wall, as a fraction.
    pub draw_in: Option<f64>,
    /// What the height lost, as a fraction.
    pub take_up: Option<f64>,
    /// Both hems together, as woven.
    pub hems: Option<Length>,
    /// What each end was strung longer than web and hems.
    pub loom_waste: Option<Length>,
    /// The warp yarn: what it is called with its count, and its tex.
    pub warp: Option<(String, f64)>,
}

/// Why the hours of a piece do not count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoHours {
    /// The notes give none.
    NotNoted,
    /// Some days at the loom have no hours, or the notes stop before the top.
    Incomplete,
}

impl Past {
    /// What a piece tells.
    pub fn of(piece: &Piece, reckoning: &Reckoning) -> Past {
        let web = &reckoning.web;
        let sett = piece.loom.sett.as_ref().map(|s| s.value.value.per_cm());
        let counted = || {
            let ends = web.ends.as_ref()?.value;
            Some(ends / web.width.filter(|w| w.mm() > 0.0)?.cm())
        };
        let time = reckoning.time.as_ref();
        let hours = match time {
            Some(t) if t.total().value > 0.0 => {
                if t.is_complete() || t.estimate.is_some() {
                    Ok(Hours::of(t.total().value))
                } else {
                    Err(NoHours::Incomplete)
                }
            }
            _ => Err(NoHours::NotNoted),
        };
        let masses: Option<Vec<f64>> = reckoning
            .masses
            .weft
            .iter()
            .map(|w| w.mass.as_ref().map(|m| m.value.g()).filter(|g| *g > 0.0))
            .collect();
        let weft = masses.as_ref().map(|all| all.iter().sum::<f64>());
        let mut shares: Vec<f64> = match (&masses, weft) {
            (Some(all), Some(sum)) if sum > 0.0 => all.iter().map(|g| g / sum).collect(),
            _ => Vec::new(),
        };
        shares.sort_by(|a, b| b.total_cmp(a));
        let strung = web.end_strung.as_ref().map(|l| l.value.mm());
        let woven = web.woven.map(|w| w.mm());
        let loom_waste = strung
            .zip(woven)
            .map(|(strung, woven)| strung - woven - web.hems.mm())
            .filter(|waste| *waste >= 0.0)
            .map(Length::from_mm);
        let materials = reckoning.money.materials.as_ref();
        let warp = reckoning.yarns.first().and_then(|y| {
            let count = y.count.clone()?;
            Some((format!("{}, {count}", y.name), y.tex?))
        });
        Past {
            slug: piece.slug.clone(),
            title: piece.title.value.clone(),
            kind: piece.kind.as_ref().map(|k| k.value),
            last_day: time.map(|t| t.last).or_else(|| piece.made.latest()),
            area: reckoning.size.area.value,
            ends_per_cm: sett.or_else(counted).filter(|s| *s > 0.0),
            colours: piece.weft.len(),
            weeks: hours.ok().and(time).map(|t| t.span as f64 / 7.0),
            hours,
            weft: weft.map(Mass::from_g),
            shares,
            materials: materials
                .filter(|m| m.lacking.is_empty())
                .map(|m| m.total.clone()),
            draw_in: web.draw_in.as_ref().map(|d| d.value),
            take_up: web.take_up.as_ref().map(|t| t.value),
            hems: piece.loom.hems.as_ref().map(|_| web.hems),
            loom_waste,
            warp,
        }
    }

    /// Whether an estimate leans on it unless it is asked otherwise: not on what many hands made, for their hours are
    /// not hers, nor on studies, whose setting up counts for more than their weaving (common practice, no source).
    pub fn counts(&self) -> bool {
        !matches!(self.kind, Some(Kind::Community | Kind::Study))
    }
}
