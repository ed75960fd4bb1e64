//! Height and width that do not fit the shape of the piece in its front photograph.

use super::listed::seen;
use crate::check::words::{like, mean};
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::quantity::{Length, Reading};
use crate::reckon::single_view::{SingleView, proportion};
use crate::reckon::slip::Shape;
use crate::record::{At, Finding, FindingKind, Photo, Sight, View};

const KIND: FindingKind = FindingKind::warning("photo-shape");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The measured height and width do not fit the front photograph. With `corners` the shape of \
          the piece in it is known well, even when it was photographed aslant: it is reckoned back to \
          the true rectangle, with its uncertainty. Without them it is known only roughly, since wall \
          may show around the piece. Mostly height and width are swapped: height is the hanging height; \
          or one of them has a slip of the pen.",
    bad: Example {
        piece: "measured: {height: 166.0 cm, width: 121.4 cm}",
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm}",
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// What the front photograph says of height and width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::check) enum Verdict {
    /// They fit.
    Fits,
    /// They fit clearly better the other way round.
    Swapped,
    /// They fit neither way, though the corners are known.
    Neither,
    /// One of them is ten times too much or too little.
    Tenfold,
    /// Nothing can be said.
    Unknown,
}

/// How many standard uncertainties, of the corners' shape and the tape's together, the two may be apart.
const WITH_CORNERS: f64 = 3.0;
/// Without corners: the swapped shape must be within so much of the picture's, as wall may show …
const PICTURE: f64 = 1.20;
/// … and the shape as written must be off by at least so much (both own choice, no source).
const CLEARLY_OFF: f64 = 1.40;

/// The verdict on the measured shape, from the first front photograph that was read.
pub(in crate::check) fn verdict(subject: &Subject) -> Verdict {
    front(subject).map_or(Verdict::Unknown, |f| f.verdict())
}

/// The shape of the piece in its front photograph with its uncertainty: by its corners; without them wall may
/// show around the piece (own rule).
pub(in crate::check) fn shape(subject: &Subject) -> Option<Shape> {
    let front = front(subject)?;
    Some(Shape {
        ratio: front.shape,
        doubt: front.by_corners.unwrap_or(0.2),
    })
}

struct Front<'a> {
    photo: &'a Photo,
    /// Width over height of the piece in the picture, or of the picture.
    shape: f64,
    /// Relative standard uncertainty of the shape, if it is by the corners.
    by_corners: Option<f64>,
    /// Measured width over height.
    measured: f64,
    /// Relative standard uncertainty of that.
    tape: f64,
}

fn front<'a>(subject: &'a Subject) -> Option<Front<'a>> {
    let m = &subject.piece.measured;
    let measured = mean(&m.width)? / mean(&m.height)?;
    let (photo, sight): (&Photo, &Sight) =
        seen(subject).find(|(p, s)| p.view.value == View::Front && s.size.is_some())?;
    let picture = sight.size?;
    let corners = photo.corners.as_ref().filter(|_| sight.corners.is_none());
    let by_corners = corners.and_then(|c| {
        proportion(&SingleView {
            corners: c.value.0,
            picture,
            focal_35mm: sight.focal.map(f64::from),
        })
    });
    let (width, height) = picture;
    let whole = (width > 0 && height > 0).then(|| f64::from(width) / f64::from(height));
    Some(Front {
        photo,
        shape: by_corners.map(|p| p.ratio).or(whole)?,
        by_corners: by_corners.map(|p| p.doubt),
        measured,
        tape: libm::hypot(spread(&m.width)?, spread(&m.height)?),
    })
}

/// The relative standard uncertainty of a length by its readings: half a place of writing, and how far apart
/// the readings lie, evenly spread between the least and the greatest (GUM, JCGM 100:2008, 4.3.7).
fn spread(readings: &[At<Reading<Length>>]) -> Option<f64> {
    let lengths = || readings.iter().map(|r| r.value.value.mm());
    let (least, greatest) = (
        lengths().fold(f64::INFINITY, f64::min),
        lengths().fold(0.0, f64::max),
    );
    let writing = readings.first()?.value.standard_uncertainty().mm();
    Some(libm::hypot((greatest - least) / libm::sqrt(12.0), writing) / mean(readings)?)
}

/// The greater of two ratios over the lesser: 1 where they are the same.
fn off(a: f64, b: f64) -> f64 {
    (a / b).max(b / a)
}

impl Front<'_> {
    fn verdict(&self) -> Verdict {
        let (as_written, swapped) = (
            off(self.shape, self.measured),
            off(self.shape, 1.0 / self.measured),
        );
        if let Some(doubt) = self.by_corners {
            let within = libm::exp(WITH_CORNERS * libm::hypot(doubt, self.tape));
            let tenfold =
                off(self.shape, self.measured * 10.0).min(off(self.shape, self.measured / 10.0));
            return if as_written <= within {
                Verdict::Fits
            } else if swapped <= within {
                Verdict::Swapped
            } else if tenfold <= within {
                Verdict::Tenfold
            } else {
                Verdict::Neither
            };
        }
        if swapped <= PICTURE && as_written >= CLEARLY_OFF {
            Verdict::Swapped
        } else if off(self.shape, self.measured * 10.0) <= PICTURE
            || off(self.shape, self.measured / 10.0) <= PICTURE
        {
            Verdict::Tenfold
        } else {
            Verdict::Unknown
        }
    }
}

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(front) = front(subject) else {
        return;
    };
    let m = &subject.piece.measured;
    let (Some(height), Some(width)) = (m.height.first(), m.width.first()) else {
        return;
    };
    let file = &front.photo.file.value;
    let lies = |shape: f64| {
        if shape > 1.05 {
            "wider than high"
        } else if shape < 0.95 {
            "higher than wide"
        } else {
            "about square"
        }
    };
    let which = if front.by_corners.is_some() {
        "where the piece is"
    } else {
        "a picture"
    };
    let message = format!(
        "height `{}` and width `{}` do not fit `{file}`, {which} {}",
        height.value.text,
        width.value.text,
        lies(front.shape)
    );
    let (message, remedy) = match front.verdict() {
        Verdict::Fits | Verdict::Unknown => return,
        Verdict::Swapped => {
            let corners = if front.by_corners.is_some() {
                ""
            } else {
                "; if much wall shows in the photograph, give its `corners`"
            };
            (
                message,
                format!(
                    "they are likely swapped: write `height: {}`, `width: {}`{corners}",
                    width.value.text, height.value.text
                ),
            )
        }
        Verdict::Tenfold => (
            message,
            "one of them seems to be ten times too much or too little: look at the units"
                .to_string(),
        ),
        Verdict::Neither => (
            format!(
                "height `{}` and width `{}` do not fit the corners in `{file}`: width over height is {:.3} by the tape and {:.3} in the photograph, ± {:.3}",
                height.value.text,
                width.value.text,
                front.measured,
                front.shape,
                front.shape * 2.0 * front.by_corners.unwrap_or_default()
            ),
            neither(front.shape, &height.value, &width.value),
        ),
    };
    findings.push(
        KIND.at(&height.place, message, remedy)
            .and(&front.photo.file.place, "the photograph"),
    );
}

/// What either figure would be if the other and the corners are right.
fn neither(shape: f64, height: &Reading<Length>, width: &Reading<Length>) -> String {
    format!(
        "one figure or one corner has a slip: with height `{}` the width would be about {}, with width `{}` the height about {}; look at the readings and at the `corners`",
        height.text,
        like(width, height.value.mm() * shape),
        width.text,
        like(height, width.value.mm() / shape)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(measured: &str, corners: &str, photo: (u32, u32)) -> Vec<Finding> {
        let piece =
            format!("measured: {{{measured}}}\nphotos: [{{file: f.jpg, view: front{corners}}}]")
                .leak();
        let example = Example {
            piece,
            photos: vec![("f.jpg", Seen::Upright(photo.0, photo.1))].leak(),
            ..Example::PLAIN
        };
        found(&CHECK, &example)
    }

    #[test]
    fn swapped_figures_are_seen_even_in_an_uncropped_picture() {
        let findings = with("height: 166 cm, width: 121.4 cm", "", (6000, 4000));
        assert!(
            findings[0]
                .remedy
                .contains("`height: 121.4 cm`, `width: 166 cm`")
        );
        assert!(with("height: 121.4 cm, width: 166 cm", "", (6000, 4000)).is_empty());
    }

    #[test]
    fn millimetres_written_as_centimetres_are_seen() {
        let findings = with("height: 1214 cm, width: 166 cm", "", (6000, 4400));
        assert!(findings[0].remedy.contains("ten times"), "{findings:?}");
    }

    #[test]
    fn wall_around_a_piece_is_no_finding() {
        assert!(with("height: 40 cm, width: 300 cm", "", (6000, 4000)).is_empty());
        assert!(with("height: 100 cm, width: 100 cm", "", (6000, 4000)).is_empty());
        assert!(with("height: 240 cm, width: 60 cm", "", (6000, 4000)).is_empty());
    }

    #[test]
    fn corners_settle_it_whatever_their_order() {
        // A piece 121 high and 166 wide in the middle of much wall.
        for corners in [
            ", corners: [[100, 100], [1760, 110], [1750, 1310], [110, 1300]]",
            ", corners: [[1750, 1310], [100, 100], [110, 1300], [1760, 110]]",
        ] {
            let photo = (3000, 4000);
            assert!(with("height: 121 cm, width: 166 cm", corners, photo).is_empty());
            let swapped = with("height: 166 cm, width: 121 cm", corners, photo);
            assert!(swapped[0].remedy.contains("likely swapped"));
            let neither = with("height: 166 cm, width: 160 cm", corners, photo);
            assert!(
                neither[0].message.contains("0.964 by the tape")
                    && neither[0]
                        .message
                        .contains("1.391 in the photograph, ± 0.047"),
                "{neither:?}"
            );
            assert!(
                neither[0]
                    .remedy
                    .contains("with width `160 cm` the height about 115"),
                "{neither:?}"
            );
        }
    }

    #[test]
    fn a_piece_photographed_aslant_is_not_taken_for_a_slip() {
        // Source, exact case: 166 × 121 cm before a pinhole camera, turned by 40° and 15°, the lens of 0.8
        // diagonals. The means of opposite sides are 1.13 to 1 in the picture, and not 1.37.
        let corners = ", corners: [[861, 700], [2779, 614], [2711, 1999], [1001, 2635]]";
        let photo = (4000, 3000);
        let found = with("height: 121 cm, width: 166 cm", corners, photo);
        assert!(found.is_empty(), "{found:?}");
        let found = with("height: 166 cm, width: 121 cm", corners, photo);
        assert!(found[0].remedy.contains("likely swapped"), "{found:?}");
    }

    #[test]
    fn two_digits_that_changed_places_in_one_figure_are_seen() {
        let corners = ", corners: [[100, 100], [1760, 100], [1760, 1310], [100, 1310]]";
        let found = with("height: 112 cm, width: 166 cm", corners, (3000, 4000));
        assert!(
            found[0]
                .remedy
                .contains("with width `166 cm` the height about 121"),
            "{found:?}"
        );
        let found = with("height: 12.1 cm, width: 166 cm", corners, (3000, 4000));
        assert!(found[0].remedy.contains("ten times"), "{found:?}");
    }
}
