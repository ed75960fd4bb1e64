//! What bars are made of: stiffness, density, creep under lasting load, bending strength where a figure
//! was seen. Averages of small clear pieces; a batten from the shop has knots.

use crate::record::BarMaterial;

/// A material's figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Its name in a sentence.
    pub name: &'static str,
    /// Modulus of elasticity along the bar, MPa.
    pub stiffness: f64,
    /// Relative standard uncertainty of that for one bar.
    pub stiffness_u: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Relative standard uncertainty of that for one bar.
    pub density_u: f64,
    /// How many times the first sag the lasting sag is, from least to most.
    pub creep: (f64, f64),
    /// Where creep comes from.
    pub creep_source: &'static str,
    /// Bending stress at which clear pieces broke on average, MPa, where seen.
    pub strength: Option<f64>,
    /// Where the figures come from.
    pub source: &'static str,
}

/// Wood at 12 % moisture weighs 1.12 times its specific gravity, which is oven-dry mass over volume at
/// 12 % (USDA Forest Products Laboratory, Wood Handbook, the tables' footnote).
const MOIST: f64 = 1.12;

/// One board's stiffness against its species' mean: ASTM D2555, table of standard deviations, baldcypress
/// 1184 ± 260, eastern hemlock 1073 ± 236, lodgepole pine 1076 ± 237 (1000 psi): 22 % each.
const WOOD_STIFFNESS_U: f64 = 0.22;

/// One board's density, likewise: baldcypress 0.43 ± 0.043: 10 %.
const WOOD_DENSITY_U: f64 = 0.10;

/// Lasting over first sag of wood, own range: EN 1995-1-1, table 3.2, has 1 + k_def = 1.6 for solid wood in
/// heated rooms (service class 1) and 1.8 in unheated ones (class 2); the range of common practice
/// about them is 1.5 to 2.
const WOOD_CREEP: (f64, f64) = (1.5, 2.0);
const WOOD_CREEP_SOURCE: &str = "common practice for wood, about EN 1995-1-1, table 3.2 (1.6 in heated rooms, 1.8 in unheated ones)";

const HANDBOOK: &str = "USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190), table 5-3a";
const OREGON: &str = "Oregon State University, table of relative working and physical properties (metric), 12 % moisture, after the Wood Handbook";
const SPECIES: &str = "species table of strength properties after the Wood Handbook";

const fn wood(
    name: &'static str,
    stiffness: f64,
    gravity: f64,
    strength: Option<f64>,
    source: &'static str,
) -> Material {
    Material {
        name,
        stiffness,
        stiffness_u: WOOD_STIFFNESS_U,
        density: 1000.0 * MOIST * gravity,
        density_u: WOOD_DENSITY_U,
        creep: WOOD_CREEP,
        creep_source: WOOD_CREEP_SOURCE,
        strength,
        source,
    }
}

/// A metal; the few percent of doubt are our own.
const fn metal(name: &'static str, stiffness: f64, density: f64, source: &'static str) -> Material {
    Material {
        name,
        stiffness,
        stiffness_u: 0.02,
        density,
        density_u: 0.01,
        creep: (1.0, 1.0),
        creep_source: "metals do not creep in a room",
        strength: None,
        source,
    }
}

/// The figures of a material.
pub fn material(material: BarMaterial) -> Material {
    match material {
        // Ponderosa pine: 8,900 MPa, 0.40, 65 MPa.
        BarMaterial::Pine => wood("pine", 8_900.0, 0.40, Some(65.0), HANDBOOK),
        // Engelmann spruce: 8,900 MPa, 0.35, 64 MPa.
        BarMaterial::Spruce => wood("spruce", 8_900.0, 0.35, Some(64.0), OREGON),
        // Douglas fir: 13,400 MPa, 0.48, 85 MPa.
        BarMaterial::Fir => wood("Douglas fir", 13_400.0, 0.48, Some(85.0), OREGON),
        // Red alder: 1.38 million psi, 0.41.
        BarMaterial::Alder => wood("alder", 9_510.0, 0.41, None, SPECIES),
        // White ash: 1.74 million psi, 0.60.
        BarMaterial::Ash => wood("ash", 12_000.0, 0.60, None, SPECIES),
        // American beech: 1.72 million psi, 0.64.
        BarMaterial::Beech => wood("beech", 11_860.0, 0.64, None, SPECIES),
        // White oak: 12.15 GPa, 102.3 MPa, 755 kg/m³ dried.
        BarMaterial::Oak => Material {
            density: 755.0,
            ..wood(
                "oak",
                12_150.0,
                0.0,
                Some(102.0),
                "species page for white oak, Quercus alba",
            )
        },
        BarMaterial::Aluminium => metal(
            "aluminium",
            69_000.0,
            2_700.0,
            "Callister, Materials Science and Engineering, appendix B",
        ),
        BarMaterial::Steel => metal(
            "steel",
            200_000.0,
            7_850.0,
            "structural tables: 200 GPa, 7.85 g/cm³",
        ),
        BarMaterial::Acrylic => Material {
            name: "acrylic",
            // 2.24 to 3.24 GPa; the vectors of the trade take 3.2.
            stiffness: 3_200.0,
            stiffness_u: 0.10,
            density: 1_190.0,
            density_u: 0.01,
            creep: (2.0, 2.0),
            creep_source: "half the stiffness for a lasting load, from memory",
            strength: None,
            source: "Callister, Materials Science and Engineering, appendix B (2.24 to 3.24 GPa)",
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// MPa in a million pounds-force a square inch.
    const MPSI: f64 = 6_894.757;

    #[test]
    fn woods_agree_with_the_tables_in_pounds_and_inches() {
        let e = |m| material(m).stiffness;
        // Source, published: species table after the Wood Handbook: red alder 1.38, white ash 1.74, American beech 1.72 million psi.
        for (wood, mpsi) in [
            (BarMaterial::Alder, 1.38),
            (BarMaterial::Ash, 1.74),
            (BarMaterial::Beech, 1.72),
        ] {
            assert!((e(wood) - mpsi * MPSI).abs() < 0.005 * MPSI, "{wood:?}");
        }
        // Source, published: Oregon State University's table in pounds and inches: Douglas fir 1.95, Engelmann spruce 1.30 million psi; bending strength 12,400 and 9,300 psi.
        for (wood, mpsi, psi) in [
            (BarMaterial::Fir, 1.95, 12_400.0),
            (BarMaterial::Spruce, 1.30, 9_300.0),
        ] {
            assert!((e(wood) - mpsi * MPSI).abs() < 0.01 * MPSI, "{wood:?}");
            let strength = material(wood).strength.expect("it was seen");
            assert!((strength - psi * MPSI / 1e6).abs() < 0.6, "{wood:?}");
        }
        // Source, published: a wood species page: white oak 1,762,000 psi, 47 lb a cubic foot.
        assert!((e(BarMaterial::Oak) - 1.762 * MPSI).abs() < 5.0);
        let pounds = material(BarMaterial::Oak).density * 0.028_316_85 / 0.453_592;
        assert!((pounds - 47.0).abs() < 0.5);
    }

    #[test]
    fn wood_weighs_more_than_its_specific_gravity() {
        // Source, published: Oregon State University's metric table: Douglas fir of 0.48 ships air-dry at 545 kg/m³, a little over 1.12 × 480.
        let fir = material(BarMaterial::Fir).density;
        assert!((fir / 545.0 - 1.0).abs() < 0.02, "{fir}");
    }

    #[test]
    fn creep_spans_what_the_code_for_timber_has() {
        // Source, published: EN 1995-1-1, table 3.2: k_def of solid wood 0.6 in service class 1 and 0.8 in class 2, so the lasting sag is 1.6 and 1.8 times the first.
        let (least, most) = material(BarMaterial::Pine).creep;
        assert!(least <= 1.6 && 1.8 <= most);
        assert_eq!(material(BarMaterial::Steel).creep, (1.0, 1.0));
    }
}
