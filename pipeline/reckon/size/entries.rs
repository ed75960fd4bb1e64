//! Size, area and squareness as entries of the ledger.

use super::Size;
use crate::quantity::Length;
use crate::reckon::figure::Figure;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;

impl Size {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mm = |name: &str, what: &str, f: &Figure<Length>| {
            Entry::uncertain(name, what, f.number(), "mm").from(f.from.clone())
        };
        let (h, w) = (self.mean_height.value.mm(), self.mean_width.value.mm());
        let mut all = vec![
            mm("size.height", "greatest height, as it hangs", &self.height)
                .by("the greatest of the height readings", "")
                .source("Wellcome Collection's cataloguing note: the greatest size of an uneven outline"),
            mm("size.width", "greatest width", &self.width)
                .by("the greatest of the width readings", "")
                .source("Wellcome Collection's cataloguing note: the greatest size of an uneven outline"),
            mm("size.mean-height", "mean height", &self.mean_height)
                .by("sum of the readings / their number", "")
                .source("GUM (JCGM 100:2008), 4.2.1, 4.2.3 and 4.3.7"),
            mm("size.mean-width", "mean width", &self.mean_width)
                .by("sum of the readings / their number", "")
                .source("GUM (JCGM 100:2008), 4.2.1, 4.2.3 and 4.3.7"),
        ];
        if let Some(t) = &self.thickness {
            all.push(
                mm("size.thickness", "thickness", t)
                    .by("as read", "")
                    .source("the reading"),
            );
        }
        all.push(
            Entry::uncertain("size.area", "area of the face", self.area.number(), "m2")
                .by(
                    "area of the four corners that fit all readings best (least squares); close to mean height × mean width",
                    format!(
                        "{} mm × {} mm = {} m2, before the corners are adjusted",
                        significant(h, 6),
                        significant(w, 6),
                        significant(h * w / 1e6, 5)
                    ),
                )
                .source("least squares, each reading weighted by 1/u²; half the cross product of the diagonals (elementary geometry)")
                .from(self.area.from.clone()),
        );
        if let Some(lean) = &self.lean {
            all.push(
                mm(
                    "size.lean",
                    "how far a side leans out of square: above zero the top leans to the left, below to the right",
                    lean,
                )
                .by(
                        "(p² − q²) / 4W, p from the top left, q from the top right corner, W the mean width",
                        self.lean_worked.clone(),
                    )
                .source("derived from the two diagonals of a parallelogram of width W"),
            );
        }
        if let Some(angle) = self.out_of_square {
            all.push(
                Entry::number(
                    "size.out-of-square",
                    format!(
                        "the angle of the {} corner, the furthest from a right one, less 90°",
                        self.corner
                    ),
                    angle,
                    "degrees",
                )
                .by("from the adjusted corners", "")
                .source("elementary geometry")
                .from(self.area.from.clone()),
            );
        }
        let bows = [
            (
                "size.bow-height",
                "the middle height against the outer two",
                &self.bow_height,
            ),
            (
                "size.bow-width",
                "the middle width against the outer two",
                &self.bow_width,
            ),
        ];
        for (name, what, bow) in bows {
            if let Some(bow) = bow {
                all.push(
                    mm(name, what, bow)
                        .by("middle reading − (first + last) / 2", "")
                        .source("elementary geometry"),
                );
            }
        }
        if let Some(worst) = &self.worst {
            all.push(
                Entry::words(
                    "size.worst-reading",
                    "the reading that fits worst",
                    format!(
                        "{} ({}) is {} mm off the corners that fit all readings best: {} times its own uncertainty",
                        told(&worst.reading),
                        worst.text,
                        significant(worst.by.mm(), 3),
                        significant(worst.in_uncertainties.abs(), 2)
                    ),
                )
                .by("(reading − adjusted) / u", "")
                .source("least squares")
                .from([worst.reading.clone()]),
            );
        }
        if let Some(scatter) = self.scatter {
            all.push(
                Entry::number("size.scatter", "scatter of the readings against their last places", scatter, "")
                    .by("√(χ² / ν)", "")
                    .source("the Birge ratio (Birge 1932; from memory); where it is over 1 every uncertainty here is widened by it")
                    .from(self.area.from.clone()),
            );
        }
        if !self.assumed.is_empty() {
            all.push(
                Entry::words(
                    "size.assumed",
                    "taken as so for want of readings",
                    self.assumed.join("; "),
                )
                .source("own rule"),
            );
        }
        all
    }
}

/// `measured.height[1]` as a weaver counts: reading 2 of `measured.height`.
fn told(reading: &str) -> String {
    let number = reading
        .trim_end_matches(']')
        .split_once('[')
        .and_then(|(field, n)| Some((field, n.parse::<usize>().ok()? + 1)));
    match number {
        Some((field, n)) => format!("reading {n} of {field}"),
        None => reading.to_string(),
    }
}
