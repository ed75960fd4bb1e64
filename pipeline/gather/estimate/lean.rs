//! Which finished pieces an estimate leans on.

use crate::read::{Archive, nearest};
use crate::reckon::Reckoning;
use crate::reckon::estimate::{Estimate, NoHours, Past, Wanted};
use crate::record::Studio;

/// The pieces of an archive, sorted by whether they count.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaning {
    /// Those that count, in the order of their folders.
    pub past: Vec<Past>,
    /// Those left aside, and why.
    pub aside: Vec<(String, Aside)>,
}

/// Why a piece is left aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aside {
    /// Made by many, or a study.
    Kind,
    /// She asked for it.
    Asked,
    /// Its piece.yaml could not be read.
    Unread,
}

/// Sorts the pieces: all but those of many hands and studies, with those named in `with`, without those in `without`.
///
/// # Errors
/// Where a name is not that of a piece, in a sentence.
pub fn lean(
    archive: &Archive,
    studio: &Studio,
    with: &[String],
    without: &[String],
) -> Result<Leaning, String> {
    let known = || archive.pieces.iter().map(|p| p.slug.as_str());
    for name in with.iter().chain(without) {
        if !known().any(|slug| slug == name) {
            return Err(match nearest(name, known()) {
                Some(near) => format!("there is no piece `{name}`; did you mean `{near}`?"),
                None => format!("there is no piece `{name}` in the folder `pieces`"),
            });
        }
    }
    let mut leaning = Leaning {
        past: Vec::new(),
        aside: Vec::new(),
    };
    for folder in &archive.pieces {
        let mut aside = |why| leaning.aside.push((folder.slug.clone(), why));
        let Some(piece) = &folder.piece else {
            aside(Aside::Unread);
            continue;
        };
        if without.contains(&folder.slug) {
            aside(Aside::Asked);
            continue;
        }
        let past = Past::of(piece, &Reckoning::of(studio, piece));
        if past.counts() || with.contains(&folder.slug) {
            leaning.past.push(past);
        } else {
            aside(Aside::Kind);
        }
    }
    Ok(leaning)
}

impl Leaning {
    /// The estimate.
    pub fn estimate(&self, studio: &Studio, wanted: Wanted, level: f64) -> Estimate {
        let past: Vec<&Past> = self.past.iter().collect();
        let rate = studio.hourly_rate.as_ref().map(|r| &r.value);
        Estimate::of(&past, wanted, level, rate)
    }

    /// The pieces whose hours are known, in the order in which the estimate has them.
    pub fn with_hours(&self) -> impl Iterator<Item = &Past> {
        let known = |p: &&Past| p.area.m2() > 0.0 && p.hours.is_ok_and(|h| h.hours() > 0.0);
        self.past.iter().filter(known)
    }

    /// Those that would count had they their hours.
    pub fn without_hours(&self) -> impl Iterator<Item = (&Past, NoHours)> {
        self.past.iter().filter_map(|p| Some((p, p.hours.err()?)))
    }
}
