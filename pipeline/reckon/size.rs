//! Size and area of the piece as it hangs.

use super::figure::{Figure, source};
use super::ledger::Entry;
use super::uncertain::Uncertain;
use crate::quantity::{Area, Length, Reading};
use crate::record::{At, Piece};

/// How large the piece is.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// The greatest height: what captions and papers state, as museums do for an outline that is not
    /// quite even (Wellcome Collection's cataloguing note).
    pub height: Figure<Length>,
    /// The greatest width.
    pub width: Figure<Length>,
    /// The mean height, which area and mass are reckoned with.
    pub mean_height: Figure<Length>,
    /// The mean width.
    pub mean_width: Figure<Length>,
    /// Thickness.
    pub thickness: Option<Figure<Length>>,
    /// Area of the face.
    pub area: Figure<Area>,
    /// How far one side leans out of square, along the width.
    pub lean: Option<Length>,
}

impl Size {
    /// Reckons the size. Height and width are never empty in a record.
    pub fn of(piece: &Piece) -> Size {
        let m = &piece.measured;
        let zero = || Figure::new(Uncertain::exact(0.0), [""; 0]);
        let mean_height = Figure::mean(&m.height, "measured.height").unwrap_or_else(zero);
        let mean_width = Figure::mean(&m.width, "measured.width").unwrap_or_else(zero);
        let plain = (mean_height.number() * mean_width.number()).times(1e-6);
        let lean = m
            .diagonals
            .as_ref()
            .map(|[p, q]| lean(p.value.value, q.value.value, mean_width.value));
        Size {
            height: greatest(&m.height, "measured.height").unwrap_or_else(zero),
            width: greatest(&m.width, "measured.width").unwrap_or_else(zero),
            thickness: m
                .thickness
                .as_ref()
                .map(|t| Figure::read(&t.value, "measured.thickness")),
            area: Figure::new(plain, ["measured.height", "measured.width"]),
            lean,
            mean_height,
            mean_width,
        }
    }
}

impl Size {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let area = Entry::uncertain("size.area", "area of the face", self.area.number(), "m2")
            .by("A = H × W", "")
            .source("elementary geometry")
            .from(self.area.from.clone());
        vec![area]
    }
}

fn greatest(all: &[At<Reading<Length>>], from: &str) -> Option<Figure<Length>> {
    all.iter()
        .enumerate()
        .max_by(|a, b| {
            let mm = |r: &At<Reading<Length>>| r.value.value.mm();
            mm(a.1).total_cmp(&mm(b.1))
        })
        .map(|(i, r)| Figure::read(&r.value, &source(from, i)))
}

/// The area of a quadrilateral from its sides in order and both diagonals, in the square of their
/// unit: K = ¼ √(4p²q² − (b² + d² − a² − c²)²), the side-and-diagonal form of Bretschneider's
/// formula. `None` where no such figure exists.
pub fn bretschneider(sides: [f64; 4], p: f64, q: f64) -> Option<f64> {
    let [a, b, c, d] = sides;
    let e = b * b + d * d - a * a - c * c;
    let inner = 4.0 * p * p * q * q - e * e;
    (inner > 0.0).then(|| inner.sqrt() / 4.0)
}

/// How far the sides lean for a near-rectangle: e = (p² − q²) / 4W, derived from the two diagonals
/// of a parallelogram of width W. Positive when the top leans to the left.
fn lean(p: Length, q: Length, width: Length) -> Length {
    if width.mm() <= 0.0 {
        return Length::from_mm(0.0);
    }
    Length::from_mm(((p.mm() - q.mm()) * (p.mm() + q.mm())) / (4.0 * width.mm()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_quadrilaterals_have_their_area() {
        // Elementary geometry: a 3-4-5 rectangle, and a rhombus of side 5 with diagonals 6 and 8,
        // whose area is half the product of its diagonals.
        assert!((bretschneider([4.0, 3.0, 4.0, 3.0], 5.0, 5.0).unwrap() - 12.0).abs() < 1e-12);
        assert!((bretschneider([5.0; 4], 6.0, 8.0).unwrap() - 24.0).abs() < 1e-12);
        assert_eq!(bretschneider([1.0, 10.0, 1.0, 1.0], 2.0, 2.0), None);
    }

    #[test]
    fn corners_and_readings_give_the_same_area() {
        // Corners (0,0), (1200,5), (1195,1810), (−5,1800) mm by the shoelace formula:
        // 2 163 037.5 mm².
        let c: [(f64, f64); 4] = [(0.0, 0.0), (1200.0, 5.0), (1195.0, 1810.0), (-5.0, 1800.0)];
        let d = |i: usize, j: usize| libm::hypot(c[i].0 - c[j].0, c[i].1 - c[j].1);
        let k = bretschneider([d(0, 1), d(1, 2), d(2, 3), d(3, 0)], d(0, 2), d(1, 3)).unwrap();
        assert!((k - 2_163_037.5).abs() < 0.01, "{k}");
    }

    #[test]
    fn the_lean_follows_from_the_diagonals() {
        // W 1200, p 2170, q 2155 mm: (2170² − 2155²)/4800 = 13.5156 mm.
        let e = lean(
            Length::from_mm(2170.0),
            Length::from_mm(2155.0),
            Length::from_mm(1200.0),
        );
        assert!((e.mm() - 13.515_625).abs() < 1e-9);
    }
}
