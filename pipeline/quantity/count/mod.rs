//! Yarn counts in every system in use, with their plies, as mass per length.
//!
//! The hank lengths are definitions: cotton 840 yd, worsted 560 yd, linen lea 300 yd, all to the
//! pound; metric 1 km to the kilogram (Brooks, *Cotton Manufacturing*, and the conversion table of
//! ASTM D2260 as seen in its public scope page). With 1 yd = 0.9144 m and 1 lb = 453.59237 g
//! exactly, tex = K / count, K as given beside each system.

mod direct;
mod indirect;

use super::error::{ErrorKind, QuantityError};
use direct::{direct, length_per_mass};
use indirect::{COMMON, INDIRECT, indirect};

/// Mass per length in tex, that is grams a kilometre.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LinearDensity(f64);

impl LinearDensity {
    /// A yarn of so many tex.
    pub fn from_tex(tex: f64) -> Self {
        LinearDensity(tex)
    }
    /// Grams a kilometre.
    pub fn tex(self) -> f64 {
        self.0
    }
}

/// A system of yarn counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountSystem {
    /// tex, dtex: mass per length.
    Tex,
    /// Denier: grams in 9000 m.
    Denier,
    /// Nm: kilometres to the kilogram.
    Metric,
    /// Ne: hanks of 840 yd to the pound; also spun silk.
    Cotton,
    /// NeW: hanks of 560 yd to the pound.
    Worsted,
    /// NeL: leas of 300 yd to the pound.
    LinenLea,
    /// Spun silk: hanks of 840 yd to the pound, of the plied yarn.
    SpunSilk,
    /// American woollen run: 1600 yd to the pound.
    WoollenRun,
    /// Yorkshire woollen: skeins of 256 yd to the pound.
    YorkshireSkein,
    /// Jute: pounds to a spyndle of 14 400 yd.
    Spyndle,
    /// Yards to the pound, metres to the kilogram: of the yarn as it is.
    LengthPerMass,
}

/// A yarn count as written, with what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct YarnCount {
    /// The text as written, trimmed.
    pub text: String,
    /// The system the count is written in.
    pub system: CountSystem,
    /// How many singles are plied; 1 where the writing does not say.
    pub plies: u32,
    /// Mass per length of the yarn as it is used, plies together. The shortening by ply twist is
    /// left out, so the true yarn is a little heavier than nominal (Brooks).
    pub resultant: LinearDensity,
    /// The figures as written in an indirect system, plies among them, such as `8/2`; empty for the
    /// others.
    pub figures: String,
    /// Half of the last place written, as mass per length of the yarn as used. A count is a
    /// nominal figure; the true yarn may differ by a few percent.
    pub half_place: LinearDensity,
}

const REMEDY: &str = "name the system: `Ne 8/2` (cotton), `NeW 2/8` (worsted), `NeL 16/2` (linen lea), `Nm 8/2` (metric), `250 tex`, `1200 dtex`, `den 840`, `1100 yd/lb` or `700 m/kg`; also `silk 60/2` (spun silk), `run 3` and `Yorkshire 16` (woollen), `jute 8`";

impl YarnCount {
    /// Parses a yarn count. The system is compulsory: a bare `8/2` is refused with what each
    /// reading would mean.
    ///
    /// Order of the figures: count/plies in Nm, Ne and NeL (`Ne 12/6`); in NeW either order, the
    /// smaller figure being the plies (`NeW 2/8`, the worsted trade's habit: Taylor, *Cotton
    /// Weaving and Designing*). Where both orders make sense the count is refused.
    pub fn parse(text: &str) -> Result<YarnCount, QuantityError> {
        let text = text.trim();
        let squeezed = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(found) = indirect(&squeezed)? {
            return Ok(found);
        }
        if let Some(found) = direct(&squeezed)? {
            return Ok(found);
        }
        if let Some(found) = length_per_mass(&squeezed)? {
            return Ok(found);
        }
        Err(refuse(&squeezed))
    }

    /// What the same figures would be in the other systems that have counts and plies, each by its
    /// name; empty for direct counts and lengths per mass.
    pub fn in_other_systems(&self) -> Vec<YarnCount> {
        if self.figures.is_empty() {
            return Vec::new();
        }
        INDIRECT
            .iter()
            .filter(|entry| COMMON.contains(&entry.0) && entry.1 != self.system)
            .filter_map(|entry| YarnCount::parse(&format!("{} {}", entry.0, self.figures)).ok())
            .collect()
    }

    /// The same count with its plies mistaken: passed over (`Nm 8/2` for eight to the kilogram as it
    /// is), or forgotten where none are written (`Ne 12` for a twine of six).
    pub fn with_other_plies(&self) -> Vec<YarnCount> {
        let Some(entry) = INDIRECT.iter().find(|entry| entry.1 == self.system) else {
            return Vec::new();
        };
        let count = f64::from(self.plies) * entry.2 / self.resultant.0;
        let written = |plies: u32| {
            let count = format!("{count:.4}");
            let count = count.trim_end_matches('0').trim_end_matches('.');
            match plies {
                1 => format!("{} {count}", entry.0),
                n => format!("{} {count}/{n}", entry.0),
            }
        };
        let others: &[u32] = if self.plies > 1 {
            &[1]
        } else {
            &[2, 3, 4, 5, 6, 8, 9, 10, 12, 15, 18]
        };
        others
            .iter()
            .filter_map(|plies| YarnCount::parse(&written(*plies)).ok())
            .collect()
    }
}

fn unreadable(text: &str) -> QuantityError {
    QuantityError::new(
        ErrorKind::Unreadable,
        format!("`{text}` is not a yarn count"),
        REMEDY,
    )
}

fn made(
    text: &str,
    system: CountSystem,
    plies: u32,
    tex: f64,
    half: f64,
) -> Result<YarnCount, QuantityError> {
    if !(tex.is_finite() && tex > 0.1 && tex < 100_000.0) {
        return Err(QuantityError::new(
            ErrorKind::Impossible,
            format!("`{text}` would be a yarn of {tex:.3} tex, which no yarn is"),
            REMEDY,
        ));
    }
    Ok(YarnCount {
        text: text.to_string(),
        figures: String::new(),
        system,
        plies,
        resultant: LinearDensity(tex),
        half_place: LinearDensity(half),
    })
}

/// The finding for a text in no known system; a bare figure is answered with what it could mean.
fn refuse(text: &str) -> QuantityError {
    let mut readings = Vec::new();
    for (name, _, _, words) in INDIRECT.iter().filter(|entry| COMMON.contains(&entry.0)) {
        // Only what would be accepted when written so.
        if let Ok(Some(read)) = indirect(&format!("{name} {text}")) {
            let tex = read.resultant.tex();
            readings.push(format!("{tex:.0} tex as {words} (`{name} {text}`)"));
        }
    }
    if readings.is_empty() {
        return unreadable(text);
    }
    QuantityError::new(
        ErrorKind::AmbiguousCount,
        format!("`{text}` does not say in which system it counts"),
        format!("it would be {}; {REMEDY}", readings.join(", ")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tex(text: &str) -> f64 {
        YarnCount::parse(text).unwrap().resultant.tex()
    }

    #[test]
    fn counts_agree_with_their_definitions() {
        // Source, exact case: exact rationals from 1 yd = 0.9144 m, 1 lb = 453.59237 g; compared with pint's textile
        // units in the outside checks.
        for (text, want) in [
            ("Nm 8/2", 250.0),
            ("Nm 20/2", 100.0),
            ("Ne 8/2", 147.635_311_862),
            ("Ne 12/6", 295.270_623_724),
            ("Ne 12/15", 738.176_559_310),
            ("NeL 16/2", 206.689_436_607),
            ("NeW 2/8", 221.452_967_793),
            ("NeW 8/2", 221.452_967_793),
            ("NeW 12/3", 221.452_967_793),
            ("1200 dtex", 120.0),
            ("den 840", 93.333_333_333),
            ("840 den", 93.333_333_333),
            ("1100 yd/lb", 450.958_770_779),
            ("700 m/kg", 1_428.571_428_571),
            ("R 250 tex/2", 250.0),
            ("125 tex x 2", 250.0),
            ("350 m/100 g", 285.714_285_714),
        ] {
            assert!((tex(text) - want).abs() < 1e-6, "{text}: {}", tex(text));
        }
    }

    #[test]
    fn handbook_equivalents_hold() {
        // Source, published: Brooks, Cotton Manufacturing: 20s cotton = 30s worsted = 56s linen lea.
        assert!((tex("Ne 20") - tex("NeW 30")).abs() < 1e-9);
        assert!((tex("Ne 20") - tex("NeL 56")).abs() < 1e-9);
        // Source, published: ASTM D2260: 30 tex is 19.7 in the cotton count.
        assert!((tex("Ne 19.7") - 30.0).abs() < 0.03);
    }

    #[test]
    fn systems_stand_to_each_other_as_the_standard_has_it() {
        // Source, published: ASTM D2260, table 1: worsted = 1.5 cotton; lea = 2.8 cotton.
        assert!((tex("Ne 10") - tex("NeW 15")).abs() < 1e-9);
        assert!((tex("Ne 10") - tex("NeL 28")).abs() < 1e-9);
        // Source, published: ASTM D2260, table 1: woollen run = 0.525 cotton = 0.35 worsted.
        assert!((tex("Ne 10") - tex("run 5.25")).abs() < 1e-9);
        assert!((tex("NeW 10") - tex("run 3.5")).abs() < 1e-9);
        // Source, published: ASTM D2260, table 1: 840 yd/lb to one cotton count, 1600 to one run.
        assert!((tex("Ne 1") - tex("840 yd/lb")).abs() < 1e-9);
        assert!((tex("run 1") - tex("1600 yd/lb")).abs() < 1e-9);
        // Source, published: ASTM D2260, table 1: cotton count = 0.590541 metric, 0.885812 worsted,
        // 1.65352 lea of it.
        assert!((tex("Ne 1") / tex("Nm 1") - 0.590_541).abs() < 5e-7);
        assert!((tex("NeW 1") / tex("Nm 1") - 0.885_812).abs() < 5e-7);
        assert!((tex("NeL 1") / tex("Nm 1") - 1.653_52).abs() < 5e-6);
        // Source, published: ASTM D2260, table 1: denier = 9 tex.
        assert!((tex("den 90") - 10.0).abs() < 1e-12);
    }

    #[test]
    fn plied_yarns_are_what_the_handbooks_say() {
        // Source, published: a hand-weaver's worked project: 8/2 cotton has 3360 yd/lb.
        assert!((tex("Ne 8/2") - tex("3360 yd/lb")).abs() < 1e-9);
        // Source, published: Taylor, Cotton Weaving and Designing: 2-40s cotton has 20 hanks to the
        // pound, 40s-2 spun silk 40.
        assert!((tex("Ne 40/2") - tex("Ne 20")).abs() < 1e-9);
        assert!((tex("silk 40/2") - tex("Ne 40")).abs() < 1e-9);
        // Source, published: Brooks, Cotton Manufacturing: 3/300s are as 100s.
        assert!((tex("Ne 300/3") - tex("Ne 100")).abs() < 1e-9);
        // Source, published: Brooks, Cotton Manufacturing: 20s cotton = 20s silk.
        assert!((tex("Ne 20") - tex("silk 20")).abs() < 1e-9);
    }

    #[test]
    fn the_same_figures_are_another_yarn_in_another_system() {
        let count = YarnCount::parse("Nm 8/2").unwrap();
        let others: Vec<f64> = count
            .in_other_systems()
            .iter()
            .map(|c| c.resultant.tex().round())
            .collect();
        assert_eq!(others, [148.0, 221.0, 413.0]);
        let plies = count.with_other_plies();
        assert_eq!(plies[0].resultant.tex(), 125.0);
    }

    #[test]
    fn a_bare_figure_is_refused_with_what_it_could_mean() {
        let e = YarnCount::parse("8/2").unwrap_err();
        assert_eq!(e.kind, ErrorKind::AmbiguousCount);
        for part in [
            "148 tex as cotton",
            "221 tex as worsted",
            "250 tex as metric",
            "413 tex as linen",
        ] {
            assert!(e.remedy.contains(part), "{part}: {}", e.remedy);
        }
    }

    #[test]
    fn an_order_that_reads_both_ways_is_refused() {
        for text in ["NeW 4/8", "NeW 2/2", "Nm 2/28", "Ne 2/20"] {
            let e = YarnCount::parse(text).unwrap_err();
            assert_eq!(e.kind, ErrorKind::AmbiguousCount, "{text}");
        }
    }
}
