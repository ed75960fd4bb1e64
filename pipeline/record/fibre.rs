//! The fibres a yarn can be declared to hold: names permitted by Regulation (EU) No 1007/2011,
//! Annex I (consolidated text of 1 July 2013 with Delegated Regulation (EU) 2018/122), and their
//! agreed allowances from its Annex IX, both read in full. Words that may stand with a name are read in
//! `fibre_written`.

use super::fibre_written::fibre_written;

/// A fibre by its permitted name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fibre {
    /// The name in English as Annex I has it; the key of every table.
    pub name: &'static str,
    /// Annex IX, percent of the dry mass. Where the Annex has variants (`ALLOWANCES_BY_MAKE`) this is the one
    /// that applies when the variant is not known: carded for wool and hair (note 1), normal for cotton, filament
    /// for polyamide and polyurethane (a yarn for weaving is seldom staple nylon: common practice,
    /// no source).
    pub allowance: f64,
    /// Hair or wool or silk: food for moths and carpet beetles.
    pub protein: bool,
}

const fn f(name: &'static str, allowance: f64, protein: bool) -> Fibre {
    Fibre {
        name,
        allowance,
        protein,
    }
}

/// Every permitted fibre.
pub const FIBRES: &[Fibre] = &[
    f("wool", 17.0, true),
    f("alpaca", 17.0, true),
    f("llama", 17.0, true),
    f("camel", 17.0, true),
    f("cashmere", 17.0, true),
    f("mohair", 17.0, true),
    f("angora", 17.0, true),
    f("vicuna", 17.0, true),
    f("yak", 17.0, true),
    f("guanaco", 17.0, true),
    f("cashgora", 17.0, true),
    f("beaver", 17.0, true),
    f("otter", 17.0, true),
    f("animal hair", 17.0, true),
    f("horsehair", 15.0, true),
    f("silk", 11.0, true),
    f("cotton", 8.5, false),
    f("kapok", 10.9, false),
    f("flax", 12.0, false),
    f("linen", 12.0, false),
    f("true hemp", 12.0, false),
    f("jute", 17.0, false),
    f("abaca", 14.0, false),
    f("alfa", 14.0, false),
    f("coir", 13.0, false),
    f("broom", 14.0, false),
    f("ramie", 8.5, false),
    f("sisal", 14.0, false),
    f("sunn", 12.0, false),
    f("henequen", 14.0, false),
    f("maguey", 14.0, false),
    f("acetate", 9.0, false),
    f("alginate", 20.0, false),
    f("cupro", 13.0, false),
    f("modal", 13.0, false),
    f("protein", 17.0, false),
    f("triacetate", 7.0, false),
    f("viscose", 13.0, false),
    f("acrylic", 2.0, false),
    f("chlorofibre", 2.0, false),
    f("fluorofibre", 0.0, false),
    f("modacrylic", 2.0, false),
    f("polyamide", 5.75, false),
    f("nylon", 5.75, false),
    f("aramid", 8.0, false),
    f("polyimide", 3.5, false),
    f("lyocell", 13.0, false),
    f("polylactide", 1.5, false),
    f("polyester", 1.5, false),
    f("polyethylene", 1.5, false),
    f("polypropylene", 2.0, false),
    f("polycarbamide", 2.0, false),
    f("polyurethane", 3.0, false),
    f("vinylal", 5.0, false),
    f("trivinyl", 3.0, false),
    f("elastodiene", 1.0, false),
    f("elastane", 1.5, false),
    f("glass fibre", 2.0, false),
    f("elastomultiester", 1.5, false),
    f("elastolefin", 1.5, false),
    f("melamine", 7.0, false),
    f("metal", 2.0, false),
    f("metallised", 2.0, false),
    f("paper", 13.75, false),
    f("polyacrylate", 30.0, false),
];

/// Names that a label may print beside those of Annex I: wool that never was in a finished product
/// (the same Regulation, article 8 and Annex III), and wool won back from one, which the United States
/// name apart (15 USC 68(c)).
pub const WOOL_NAMES: &[&str] = &["virgin wool", "recycled wool"];

/// Finds a fibre by name, whatever its capitals; `_` and several blanks count as one blank. Words on
/// how it is spun or finished may stand with it: see [`fibre_written`].
pub fn fibre_named(name: &str) -> Option<&'static Fibre> {
    fibre_written(name).map(|written| written.fibre)
}
