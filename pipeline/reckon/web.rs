//! The web on the loom: ends, sett and width brought together, and what became of width and length
//! once the piece was cut off.

use crate::quantity::Length;
use crate::record::Piece;

/// The web and what cutting off did to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Web {
    /// Warp ends: as given, or sett × width.
    pub ends: Option<f64>,
    /// Width in the loom: as given, or ends / sett.
    pub width: Option<Length>,
    /// Woven height on the loom without hems.
    pub woven: Option<Length>,
    /// Both hems together.
    pub hems: Length,
    /// Draw-in across the warp, as a fraction of the width in the loom:
    /// (width in the loom − finished width) / width in the loom.
    pub draw_in: Option<f64>,
    /// Take-up along the warp after cutting off, as a fraction of the woven height.
    pub take_up: Option<f64>,
}

impl Web {
    /// Reckons the web. Of sett, ends and width any two give the third.
    pub fn of(piece: &Piece) -> Web {
        let l = &piece.loom;
        let sett = l.sett.as_ref().map(|s| s.value.value);
        let given_ends = l.ends.as_ref().map(|e| f64::from(e.value));
        let given_width = l.width.as_ref().map(|w| w.value.value);
        let ends = given_ends.or_else(|| Some((sett?.per_cm() * given_width?.cm()).round()));
        let width = given_width.or_else(|| {
            let per_cm = sett?.per_cm();
            (per_cm > 0.0).then(|| Length::from_mm(10.0 * given_ends.unwrap_or(0.0) / per_cm))
        });
        let width = width.filter(|w| w.mm() > 0.0);
        let woven = l.woven.as_ref().map(|w| w.value.value);
        let hems = l.hems.as_ref().map_or(Length::from_mm(0.0), |h| {
            [&h.start, &h.finish]
                .into_iter()
                .flatten()
                .map(|r| r.value.value)
                .sum()
        });
        let (across, along) = off_loom(piece);
        let lost = |on: Option<Length>, off: Option<Length>| {
            let (on, off) = (on?.mm(), off?.mm());
            (on > 0.0).then(|| (on - off) / on)
        };
        Web {
            draw_in: lost(width, across),
            take_up: lost(woven, along),
            ends,
            width,
            woven,
            hems,
        }
    }
}

/// Mean finished extent across the warp and along it, with the piece turned back as it was woven.
fn off_loom(piece: &Piece) -> (Option<Length>, Option<Length>) {
    let mean = |all: &[crate::record::At<crate::quantity::Reading<Length>>]| {
        let sum: Length = all.iter().map(|r| r.value.value).sum();
        (!all.is_empty()).then(|| sum * (1.0 / all.len() as f64))
    };
    let height = mean(&piece.measured.height);
    let width = mean(&piece.measured.width);
    if piece.top().sideways() {
        (height, width)
    } else {
        (width, height)
    }
}
