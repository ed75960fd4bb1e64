//! How much moisture the law grants each fibre over its dry mass: one table for each jurisdiction.
//!
//! The European table is Annex IX of Regulation (EU) No 1007/2011, kept with the fibres in the record.
//! For the United States and Canada the sections of law that were read speak of fibre weight and name
//! no table; the commercial moisture regains of ASTM D1909 stand here, which that standard gives for
//! the analysis of blends too.

use crate::record::{RuleSet, WrittenFibre};

/// Where an allowance comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Origin {
    /// Annex IX, read in full.
    AnnexIx,
    /// ASTM D1909-13 as a journal's table retells it.
    Retold,
    /// ASTM D1909 from memory.
    Memory,
    /// ASTM D1909 is not known for the fibre; Annex IX stands in.
    AnnexIxInstead,
}

/// An agreed allowance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Allowance {
    /// Percent of the dry mass.
    pub percent: f64,
    pub origin: Origin,
}

/// ASTM D1909-13, percent of the dry mass. Cotton, flax, hemp, jute, silk and wool as retold in a
/// journal (Bioresources and Bioprocessing 7:51, 2020, table 10); it gives one value for wool in every
/// form. Fine hair is taken as wool (own rule).
const D1909: &[(&str, f64, Origin)] = &[
    ("wool", 13.6, Origin::Retold),
    ("cotton", 8.5, Origin::Retold),
    ("flax", 12.0, Origin::Retold),
    ("linen", 12.0, Origin::Retold),
    ("true hemp", 12.0, Origin::Retold),
    ("jute", 13.75, Origin::Retold),
    ("silk", 11.0, Origin::Retold),
    ("mohair", 13.6, Origin::Memory),
    ("cashmere", 13.6, Origin::Memory),
    ("camel", 13.6, Origin::Memory),
    ("alpaca", 13.6, Origin::Memory),
    ("llama", 13.6, Origin::Memory),
    ("vicuna", 13.6, Origin::Memory),
    ("ramie", 7.8, Origin::Memory),
    ("viscose", 11.0, Origin::Memory),
    ("acetate", 6.5, Origin::Memory),
    ("triacetate", 3.5, Origin::Memory),
    ("acrylic", 1.5, Origin::Memory),
    ("polyamide", 4.5, Origin::Memory),
    ("nylon", 4.5, Origin::Memory),
    ("polyester", 0.4, Origin::Memory),
    ("elastane", 1.3, Origin::Memory),
    ("polypropylene", 0.0, Origin::Memory),
    ("polyethylene", 0.0, Origin::Memory),
    ("glass fibre", 0.0, Origin::Memory),
    ("metal", 0.0, Origin::Memory),
    ("metallised", 0.0, Origin::Memory),
];

/// The allowance of a fibre under a rule set.
pub(super) fn allowance(fibre: &WrittenFibre, rule: RuleSet) -> Allowance {
    let annex = |origin| Allowance {
        percent: fibre.allowance(),
        origin,
    };
    match rule {
        RuleSet::Eu | RuleSet::Uk => annex(Origin::AnnexIx),
        RuleSet::Us | RuleSet::Ca => D1909
            .iter()
            .find(|(name, ..)| *name == fibre.fibre.name)
            .map_or_else(
                || annex(Origin::AnnexIxInstead),
                |(_, percent, origin)| Allowance {
                    percent: *percent,
                    origin: *origin,
                },
            ),
    }
}

/// The table of a rule set in words.
pub(super) fn table(rule: RuleSet) -> &'static str {
    match rule {
        RuleSet::Eu | RuleSet::Uk => {
            "agreed allowances of Annex IX of Regulation (EU) No 1007/2011"
        }
        RuleSet::Us | RuleSet::Ca => {
            "commercial moisture regains of ASTM D1909, second hand (the law names no table)"
        }
    }
}

impl Origin {
    /// In words, for an entry's source.
    pub(super) fn words(self) -> &'static str {
        match self {
            Origin::AnnexIx => "Regulation (EU) No 1007/2011, article 19(3) and Annex IX",
            Origin::Retold => {
                "ASTM D1909-13, second hand (Bioresources and Bioprocessing 7:51, table 10)"
            }
            Origin::Memory => "ASTM D1909, from memory",
            Origin::AnnexIxInstead => {
                "Annex IX of Regulation (EU) No 1007/2011, as no value of ASTM D1909 is known here"
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{FIBRES, fibre_written};

    fn percent(name: &str, rule: RuleSet) -> f64 {
        allowance(&fibre_written(name).unwrap(), rule).percent
    }

    #[test]
    fn wool_and_jute_differ_between_the_tables() {
        // Source, published: ASTM D1909-13 as retold in Bioresources and Bioprocessing 7:51 (2020),
        // table 10: cotton 8.5, flax 12, hemp 12, jute 13.75, silk 11, wool 13.6.
        for (name, us) in [
            ("cotton", 8.5),
            ("flax", 12.0),
            ("true hemp", 12.0),
            ("jute", 13.75),
            ("silk", 11.0),
            ("wool", 13.6),
        ] {
            assert_eq!(percent(name, RuleSet::Us), us, "{name}");
            assert_eq!(percent(name, RuleSet::Ca), us, "{name}");
        }
        assert_eq!(percent("wool", RuleSet::Eu), 17.0);
        assert_eq!(percent("combed wool", RuleSet::Uk), 18.25);
        assert_eq!(percent("jute", RuleSet::Eu), 17.0);
    }

    #[test]
    fn every_fibre_has_an_allowance_under_every_rule_set() {
        for fibre in FIBRES {
            for (_, rule) in RuleSet::ALL {
                let got = percent(fibre.name, *rule);
                assert!((0.0..=30.0).contains(&got), "{} {got}", fibre.name);
            }
        }
    }
}
