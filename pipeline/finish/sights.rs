//! What a photograph's facts mean to the checks: the pictures' own words turned into the record's.

use crate::picture::{Fault, Ladder, Measures, Note, PhotoFacts, ProfileFound, Treatment};
use crate::record::{Looks, Shade, Sight, Trouble};

/// What the checks may know of a photograph, and the colours read from it with the ladder.
pub(super) fn sight(
    facts: &PhotoFacts,
    measures: Option<&Measures>,
    ladder: Option<&Ladder>,
) -> Sight {
    let private = facts.private;
    let mut carried = Vec::new();
    for (there, what) in [
        (private.gps, "the place it was taken at"),
        (private.serials, "serial numbers of camera or lens"),
        (private.owner, "the name of the camera's owner"),
        (private.thumbnail, "a small second picture"),
        (private.maker_note, "a maker's note"),
    ] {
        if there {
            carried.push(what.to_string());
        }
    }
    Sight {
        size: facts.upright.map(|s| (s.width, s.height)),
        focal: facts.focal_35mm,
        // The day is enough for whoever shows the picture; the hour tells when someone was at home.
        taken: facts
            .taken
            .as_ref()
            .and_then(|t| t.get(..10))
            .map(str::to_string),
        moving: facts.notes.contains(&Note::Moving),
        trouble: facts.fault.as_ref().map(trouble),
        private: carried,
        corners: facts.notes.iter().find_map(|n| match n {
            Note::Corners(trouble) => Some(trouble.to_string()),
            _ => None,
        }),
        colour: colour(facts),
        looks: measures.map(|m| Looks {
            across: m.across,
            spread: m.spread,
            burnt: m.burnt,
            drowned: m.drowned,
            uneven: m.uneven,
            likeness: m.likeness,
        }),
        palette: ladder.map_or_else(Vec::new, |ladder| {
            let shade = |s: &crate::picture::Shade| Shade {
                srgb: [s.colour.r, s.colour.g, s.colour.b],
                thousandths: s.thousandths,
            };
            ladder.shades.iter().map(shade).collect()
        }),
    }
}

fn trouble(fault: &Fault) -> Trouble {
    match fault {
        Fault::Empty => Trouble::Empty,
        Fault::NotAPicture { looks_like } => Trouble::NotAPicture(looks_like.to_string()),
        Fault::Truncated { .. } => Trouble::CutShort,
        Fault::Damaged { reason } => Trouble::Damaged(reason.clone()),
        Fault::TooLarge {
            width,
            height,
            limit_pixels,
        } => Trouble::TooLarge {
            width: u64::from(*width),
            height: u64::from(*height),
            most_megapixels: limit_pixels / 1_000_000,
        },
        Fault::NotReadHere { format, .. } => Trouble::NotReadHere(format.to_string()),
    }
}

/// Where colours could not be taken as they are meant, why.
fn colour(facts: &PhotoFacts) -> Option<String> {
    match (&facts.colour.found, facts.colour.treatment) {
        (ProfileFound::BrokenProfile, _) | (_, Treatment::ProfileSetAside) => {
            Some("its colour profile can not be used, so it is taken as sRGB".to_string())
        }
        (ProfileFound::ExifUncalibrated, _) => {
            Some("the camera says that its colours are not sRGB, but not what they are".to_string())
        }
        (_, Treatment::InksEstimated) => Some(
            "it is in printing inks without a profile, so its colours are an estimate".to_string(),
        ),
        _ => None,
    }
}
