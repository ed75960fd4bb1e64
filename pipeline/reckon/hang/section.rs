//! The section of a bar: second moment, section modulus, area.

use crate::record::BarShape;
use std::f64::consts::PI;

/// What of a section bending needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Second moment of area about the level axis, mm⁴.
    pub inertia: f64,
    /// Section modulus, mm³: the second moment over half the height.
    pub modulus: f64,
    /// Area of the material, mm².
    pub area: f64,
    /// Height as it hangs, mm.
    pub high: f64,
    /// How far it stands out, mm.
    pub thick: f64,
    /// The formula of the second moment.
    pub formula: &'static str,
    /// The same with the numbers in.
    pub worked: String,
}

impl Section {
    /// The figures of a shape. Rectangle b h³/12, rod π d⁴/64, tube π (D⁴ − d⁴)/64, box
    /// (B H³ − b h³)/12; h is the upright side, the one that is cubed (any table of sections).
    pub fn of(shape: BarShape) -> Section {
        let (inertia, area, high, thick, formula, worked) = match shape {
            BarShape::Flat { thick, high } => {
                let (b, h) = (thick.mm(), high.mm());
                let worked = format!("{b} · {h}³ / 12");
                (
                    b * h * h * h / 12.0,
                    b * h,
                    h,
                    b,
                    "I = b h³ / 12, h upright",
                    worked,
                )
            }
            BarShape::Round { across } => {
                let d = across.mm();
                let worked = format!("π · {d}⁴ / 64");
                let area = PI * d * d / 4.0;
                (round(d), area, d, d, "I = π d⁴ / 64", worked)
            }
            BarShape::Tube { across, wall } => {
                let (d, inner) = (across.mm(), across.mm() - 2.0 * wall.mm());
                let worked = format!("π · ({d}⁴ − {inner}⁴) / 64");
                let area = PI * (d * d - inner * inner) / 4.0;
                let inertia = round(d) - round(inner);
                (inertia, area, d, d, "I = π (D⁴ − d⁴) / 64", worked)
            }
            BarShape::Box { thick, high, wall } => {
                let (b, h, t) = (thick.mm(), high.mm(), 2.0 * wall.mm());
                let (c, k) = (b - t, h - t);
                let worked = format!("({b} · {h}³ − {c} · {k}³) / 12");
                let inertia = (b * h * h * h - c * k * k * k) / 12.0;
                (
                    inertia,
                    b * h - c * k,
                    h,
                    b,
                    "I = (B H³ − b h³) / 12, H upright",
                    worked,
                )
            }
        };
        Section {
            inertia,
            modulus: inertia / (high / 2.0),
            area,
            high,
            thick,
            formula,
            worked,
        }
    }
}

fn round(d: f64) -> f64 {
    PI * d * d * d * d / 64.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Length;

    #[test]
    fn sections_have_the_second_moments_of_the_tables() {
        let mm = Length::from_mm;
        let flat = BarShape::Flat {
            thick: mm(18.0),
            high: mm(70.0),
        };
        let rod = BarShape::Round { across: mm(25.0) };
        let tube = |across, wall| BarShape::Tube {
            across: mm(across),
            wall: mm(wall),
        };
        // Source, exact case: b h³/12 of 18 × 70 is 514,500 mm⁴; of 5 × 30 it is 11,250 mm⁴.
        assert!((Section::of(flat).inertia - 514_500.0).abs() < 1e-9);
        // Source, exact case: π d⁴/64 of 25 is 19,175 mm⁴, of a tube 25 × 2 it is 9,628, 20 × 1.5: 3,754 mm⁴.
        for (shape, want) in [
            (rod, 19_175.0),
            (tube(25.0, 2.0), 9_628.0),
            (tube(20.0, 1.5), 3_754.0),
        ] {
            let got = Section::of(shape).inertia;
            assert!((got - want).abs() < 0.6, "{got} {want}");
        }
        // Source, exact case: the section modulus of a rectangle is b h²/6, of a rod π d³/32.
        assert!((Section::of(flat).modulus - 18.0 * 70.0 * 70.0 / 6.0).abs() < 1e-9);
        assert!((Section::of(rod).modulus - PI * 15_625.0 / 32.0).abs() < 1e-9);
    }

    #[test]
    fn a_box_whose_wall_is_half_its_side_is_solid() {
        let mm = Length::from_mm;
        let solid = Section::of(BarShape::Flat {
            thick: mm(20.0),
            high: mm(40.0),
        });
        let hollow = Section::of(BarShape::Box {
            thick: mm(20.0),
            high: mm(40.0),
            wall: mm(10.0),
        });
        // Source, exact case: nothing is left of the hole.
        assert_eq!(solid.inertia, hollow.inertia);
        assert_eq!(solid.area, hollow.area);
    }
}
