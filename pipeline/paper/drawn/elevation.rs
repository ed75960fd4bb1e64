//! The elevation of the hanging sheet: lengths in millimetres from the piece's top left corner, and the
//! figures that stand at them.

use super::InstallerView;
use super::print::{bare, long};
use super::scale::{Ruler, fitting_all, ruler_length};
use crate::paper::common::lead;
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::record::{BarShape, Support};
use serde::Serialize;

/// Room for piece and bar on paper, mm: the text's width less the height's figures, and a good third of
/// the page.
const ROOM: (f64, f64) = (128.0, 104.0);

/// The longer side of a drawing that is made smaller for one side's sake, mm on paper.
const LEAST: f64 = 50.0;

/// A scale and what it says.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Scaled {
    /// The number behind the colon of 1:n.
    one_to: u32,
    alt: String,
    /// What stands below the drawing.
    drawn: Vec<Said>,
    ruler: Ruler,
}

/// The drawing. Lengths are real ones, mm, x to the right and y down from the top left corner.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Elevation {
    /// The scales it may be drawn in, the largest first: the template takes the first whose sheet has one
    /// side.
    scales: Vec<Scaled>,
    piece: [f64; 2],
    height: String,
    width: String,
    /// The word at the arrow that points up.
    top: String,
    band: Option<Rect>,
    bar: Option<Bar>,
    marks: Vec<Mark>,
    centre: Option<Mark>,
}

#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Rect {
    x: f64,
    y: f64,
    w: f64,
    h: f64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Bar {
    at: Rect,
    label: String,
    /// Whether it stands before the wall for all to see.
    seen: bool,
}

/// A place along the width and what stands at it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Mark {
    x: f64,
    label: String,
}

impl InstallerView {
    /// Length and height of the bar, mm; the height is 0 where its section is not written.
    fn bar(&self) -> Option<(f64, f64)> {
        let written = self.written.as_ref().and_then(|h| h.bar.as_ref())?;
        let reckoned = self.hung.as_ref().and_then(|h| h.bar.as_ref());
        let length = match reckoned {
            Some(bar) => bar.length,
            None => written.length.as_ref()?.value.value.mm(),
        };
        let high = written.section.as_ref().map_or(0.0, |s| match s.shape {
            BarShape::Flat { high, .. } | BarShape::Box { high, .. } => high.mm(),
            BarShape::Round { across } | BarShape::Tube { across, .. } => across.mm(),
        });
        Some((length, high))
    }

    /// Where the fixings are, mm from the bar's left end, and whether the record says so.
    pub(super) fn places(&self) -> Option<(Vec<f64>, bool)> {
        let held = self.hung.as_ref().and_then(|h| h.bar.as_ref());
        if let Some(held) = held.and_then(|b| b.held.as_ref()) {
            return Some((held.at.clone(), held.given));
        }
        let written = self.written.as_ref()?;
        let mut at: Vec<f64> = written
            .brackets
            .iter()
            .map(|b| b.value.value.mm())
            .collect();
        at.sort_by(f64::total_cmp);
        (!at.is_empty()).then_some((at, true))
    }

    /// Height and length of tape or sleeve, mm, where they are known.
    pub(super) fn band(&self) -> Option<(f64, f64)> {
        let (depth, given) = self.support.tape;
        let name = match self.support.support? {
            Support::HookAndLoop => "tape-cut",
            Support::Sleeve => "sleeve-cut",
            Support::Batten | Support::Bar => return None,
        };
        let cut = self.support.cuts.iter().find(|c| c.name == name)?;
        given.then_some((depth, cut.length))
    }

    /// What stands below the drawing: its scale, and what its lines can not say.
    fn drawn(&self, one_to: u32, tongues: &[&Words]) -> Vec<Said> {
        let behind = self.band().is_some()
            || (self.bar().is_some() && self.support.support != Some(Support::Bar));
        let drop = self.band().is_some() || self.bar().is_some();
        let say = |w: &Words| {
            let words = &w.drawn.hanging;
            let scale = fill(&words.drawn, &[("one_to", &one_to.to_string())]);
            let more = [(behind, &words.behind), (drop, &words.drop)];
            more.into_iter()
                .filter(|(said, _)| *said)
                .fold(scale, |all, (_, next)| format!("{all} {next}"))
        };
        vec![Said::each(tongues, say)]
    }

    pub(super) fn elevation(&self, tongues: &[&Words]) -> Elevation {
        let w = lead(tongues);
        let words = &w.drawn.hanging;
        let p = &self.public;
        let (wide, tall) = (p.extent.width.length.mm(), p.extent.height.length.mm());
        let bar = self.bar();
        let all = fitting_all(bar.map_or(wide, |b| b.0.max(wide)), tall, ROOM, LEAST);
        let band = self.band().map(|(depth, length)| Rect {
            x: (wide - length) / 2.0,
            y: 0.0,
            w: length,
            h: depth.min(tall),
        });
        let seen = self.support.support == Some(Support::Bar);
        let bar = bar.map(|(length, high)| {
            // In a sleeve it lies in the middle; a bar that is seen has its middle at the edge.
            let y = match band {
                Some(b) if self.support.support == Some(Support::Sleeve) => (b.h - high) / 2.0,
                _ if seen => -high / 2.0,
                _ => 0.0,
            };
            // The piece is reckoned to hang in the middle of its bar.
            let x = (wide - length) / 2.0;
            let at = Rect {
                x,
                y,
                w: length,
                h: high,
            };
            let label = long(length, p.measures, w);
            Bar { at, label, seen }
        });
        let places = bar.as_ref().and_then(|_| self.places());
        let start = bar.as_ref().map_or(0.0, |b| b.at.x);
        let marks = places.map_or(Vec::new(), |(at, _)| {
            at.iter()
                .map(|x| Mark {
                    x: start + x,
                    label: bare(*x, p.measures, w),
                })
                .collect()
        });
        let off = self
            .written
            .as_ref()
            .and_then(|h| h.centre_of_mass.as_ref());
        let centre = off.map(|c| Mark {
            x: wide / 2.0 + c.value.by.mm(),
            label: words.centre.clone(),
        });
        let scales = all.into_iter().map(|one_to| {
            let (real, parts) = ruler_length(one_to);
            Scaled {
                alt: fill(
                    &words.alt,
                    &[
                        ("title", &p.title),
                        ("one_to", &one_to.to_string()),
                        ("size", &p.extent.in_words(p.measures, w)),
                    ],
                ),
                drawn: self.drawn(one_to, tongues),
                ruler: ruler(one_to, real, parts, w),
                one_to,
            }
        });
        Elevation {
            scales: scales.collect(),
            piece: [wide, tall],
            height: long(tall, p.measures, w),
            width: long(wide, p.measures, w),
            top: words.top.clone(),
            // A mark beside the piece would be drawn beside the page.
            centre: centre.filter(|c| c.x >= 0.0 && c.x <= wide),
            marks: marks
                .into_iter()
                .filter(|m| {
                    bar.as_ref()
                        .is_some_and(|b| m.x >= b.at.x - 1e-6 && m.x <= b.at.x + b.at.w + 1e-6)
                })
                .collect(),
            band,
            bar,
        }
    }
}

/// The ruler beside a drawing. It is metric, as the scale is, with the unit that needs no decimals.
pub(in crate::paper) fn ruler(one_to: u32, real: f64, parts: u32, w: &Words) -> Ruler {
    let label = if real >= 1000.0 {
        format!("{}\u{202F}m", super::print::plain(real / 1000.0, 4, w))
    } else if real >= 10.0 {
        format!("{}\u{202F}cm", super::print::plain(real / 10.0, 4, w))
    } else {
        format!("{}\u{202F}mm", super::print::plain(real, 4, w))
    };
    Ruler {
        mm: real / f64::from(one_to),
        parts,
        label,
    }
}
