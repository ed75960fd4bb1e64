//! Height and width that do not fit the shape of the piece in its front photograph.

use super::listed::seen;
use crate::check::words::mean;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::reckon::slip::Shape;
use crate::record::{Corners, Finding, FindingKind, Photo, Sight, View};

const KIND: FindingKind = FindingKind::warning("photo-shape");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The measured height and width do not fit the front photograph. With `corners` the shape of \
          the piece in it is known well, without them only roughly, since wall may show around it. \
          Mostly height and width are swapped: height is the hanging height.",
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

/// How far the shape of the corners may be off: a camera held 20° aslant shortens one side by
/// 1 − cos 20° = 6 % (elementary geometry), and a soft piece hangs in waves.
const WITH_CORNERS: f64 = 1.10;
/// Without corners: the swapped shape must be within so much of the picture's, as wall may show …
const PICTURE: f64 = 1.20;
/// … and the shape as written must be off by at least so much (both own choice, no source).
const CLEARLY_OFF: f64 = 1.40;

/// The verdict on the measured shape, from the first front photograph that was read.
pub(in crate::check) fn verdict(subject: &Subject) -> Verdict {
    front(subject).map_or(Verdict::Unknown, |f| f.verdict())
}

/// The shape of the piece in its front photograph, with how far it may be off: a camera held aslant
/// shortens a side by a few percent, and without corners wall may show around the piece (own rule).
pub(in crate::check) fn shape(subject: &Subject) -> Option<Shape> {
    let front = front(subject)?;
    Some(Shape {
        ratio: front.shape,
        doubt: if front.by_corners { 0.05 } else { 0.2 },
    })
}

struct Front<'a> {
    photo: &'a Photo,
    /// Width over height of the piece in the picture, or of the picture.
    shape: f64,
    by_corners: bool,
    /// Measured width over height.
    measured: f64,
}

fn front<'a>(subject: &'a Subject) -> Option<Front<'a>> {
    let m = &subject.piece.measured;
    let measured = mean(&m.width)? / mean(&m.height)?;
    let (photo, sight): (&Photo, &Sight) =
        seen(subject).find(|(p, s)| p.view.value == View::Front && s.size.is_some())?;
    let (width, height) = sight.size?;
    let corners = photo.corners.as_ref().filter(|_| sight.corners.is_none());
    let by_corners = corners.and_then(|c| quadrilateral(&c.value));
    let picture = (width > 0 && height > 0).then(|| f64::from(width) / f64::from(height));
    Some(Front {
        photo,
        shape: by_corners.or(picture)?,
        by_corners: by_corners.is_some(),
        measured,
    })
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
        if self.by_corners {
            return match (as_written <= WITH_CORNERS, swapped <= WITH_CORNERS) {
                (true, _) => Verdict::Fits,
                (false, true) => Verdict::Swapped,
                (false, false) => Verdict::Neither,
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

/// Width over height of four corners in any order: opposite sides' means.
fn quadrilateral(corners: &Corners) -> Option<f64> {
    let c = &corners.0;
    let middle = |axis: usize| c.iter().map(|p| p[axis]).sum::<f64>() / 4.0;
    let (x, y) = (middle(0), middle(1));
    let mut round = *c;
    round.sort_by(|a, b| {
        let angle = |p: &[f64; 2]| libm::atan2(p[1] - y, p[0] - x);
        angle(a).total_cmp(&angle(b))
    });
    let side = |i: usize| {
        let (a, b) = (round[i], round[(i + 1) % 4]);
        [(b[0] - a[0]).abs(), (b[1] - a[1]).abs()]
    };
    let pair = |i: usize| {
        let (a, b) = (side(i), side(i + 2));
        let level = a[0] + b[0] > a[1] + b[1];
        let length = (libm::hypot(a[0], a[1]) + libm::hypot(b[0], b[1])) / 2.0;
        (level, length)
    };
    let (width, height) = match (pair(0), pair(1)) {
        ((true, width), (false, height)) | ((false, height), (true, width)) => (width, height),
        _ => return None,
    };
    (width > 0.0 && height > 0.0).then(|| width / height)
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
    let which = if front.by_corners {
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
            let corners = if front.by_corners {
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
                "height `{}` and width `{}` do not fit the corners in `{file}`: width over height is {:.2} by the tape and {:.2} in the photograph",
                height.value.text, width.value.text, front.measured, front.shape
            ),
            "look at the readings and at the `corners`; photograph the piece straight from the front".to_string(),
        ),
    };
    findings.push(
        KIND.at(&height.place, message, remedy)
            .and(&front.photo.file.place, "the photograph"),
    );
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
                neither[0].message.contains("1.37 in the photograph"),
                "{neither:?}"
            );
        }
    }
}
