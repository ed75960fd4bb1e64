//! Fibre names that a label may not print. Trade names are answered with the permitted one.

use super::yarns::contents;
use crate::check::{Check, Example, Rule, Subject};
use crate::read::nearest;
use crate::record::{FIBRES, Finding, FindingKind, fibre_named};

const KIND: FindingKind = FindingKind::error("unknown-fibre");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A fibre is called by a name that is not among those permitted on a label (Regulation \
          (EU) No 1007/2011, Annex I). Trade names, breeds and plants that a fibre only comes from \
          are not permitted: bamboo is viscose, merino is wool. The label could not be printed with it.",
    bad: Example {
        piece: "weft: [{name: sea green, fibre: {merino: 80, silk: 20}, used: 410 g}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: sea green, fibre: {wool: 80, silk: 20}, used: 410 g}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// What is written on bands of yarn, and the name of Annex I it stands for. The Annex's definitions
/// settle the regenerated and synthetic ones (numbers 19 to 50); which trade name stands for which
/// fibre is common knowledge of the trade, from memory.
const TRADE_NAMES: &[(&str, &str)] = &[
    ("merino", "wool"),
    ("merino wool", "wool"),
    ("lambswool", "wool"),
    ("lamb's wool", "wool"),
    ("virgin wool", "wool"),
    ("new wool", "wool"),
    ("fleece wool", "wool"),
    ("sheep", "wool"),
    ("sheep's wool", "wool"),
    ("shetland", "wool"),
    ("superwash", "wool"),
    ("worsted", "wool"),
    ("laine", "wool"),
    ("wolle", "wool"),
    ("lana", "wool"),
    ("villa", "wool"),
    ("kid mohair", "mohair"),
    ("pashmina", "cashmere"),
    ("goat", "animal hair"),
    ("goat hair", "animal hair"),
    ("cow hair", "animal hair"),
    ("cattle hair", "animal hair"),
    ("dog hair", "animal hair"),
    ("horse hair", "horsehair"),
    ("horse", "horsehair"),
    ("tussah", "silk"),
    ("tussah silk", "silk"),
    ("wild silk", "silk"),
    ("peace silk", "silk"),
    ("spun silk", "silk"),
    ("mulberry silk", "silk"),
    ("bourette", "silk"),
    ("noil", "silk"),
    ("soie", "silk"),
    ("seide", "silk"),
    ("coton", "cotton"),
    ("baumwolle", "cotton"),
    ("mercerised cotton", "cotton"),
    ("organic cotton", "cotton"),
    ("pima", "cotton"),
    ("lin", "linen"),
    ("leinen", "linen"),
    ("hemp", "true hemp"),
    ("manila", "abaca"),
    ("manila hemp", "abaca"),
    ("coconut", "coir"),
    ("esparto", "alfa"),
    ("china grass", "ramie"),
    ("rayon", "viscose"),
    ("viscose rayon", "viscose"),
    ("artificial silk", "viscose"),
    ("art silk", "viscose"),
    ("bamboo", "viscose"),
    ("bamboo viscose", "viscose"),
    ("cuprammonium", "cupro"),
    ("tencel", "lyocell"),
    ("seacell", "lyocell"),
    ("soy", "protein"),
    ("soya", "protein"),
    ("milk", "protein"),
    ("pla", "polylactide"),
    ("perlon", "polyamide"),
    ("spandex", "elastane"),
    ("lycra", "elastane"),
    ("rubber", "elastodiene"),
    ("pvc", "chlorofibre"),
    ("kevlar", "aramid"),
    ("glass", "glass fibre"),
    ("fibreglass", "glass fibre"),
    ("lurex", "metallised"),
    ("metallic", "metallised"),
    ("metal thread", "metal"),
    ("gold", "metal"),
    ("silver", "metal"),
    ("copper", "metal"),
    ("brass", "metal"),
    ("steel", "metal"),
    ("washi", "paper"),
];

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for content in contents(subject.piece) {
        for share in content.shares {
            if fibre_named(&share.fibre).is_none() {
                let message = format!(
                    "`{}` in {} is not a fibre name that a label may print",
                    share.fibre.value, content.name
                );
                findings.push(KIND.at(&share.fibre.place, message, remedy(&share.fibre)));
            }
        }
    }
}

fn remedy(written: &str) -> String {
    let low = written.replace('_', " ").trim().to_lowercase();
    let permitted = |name: &str| format!("write `{name}`, the permitted name for it");
    if let Some((_, name)) = TRADE_NAMES.iter().find(|(trade, _)| *trade == low) {
        return match *name {
            "metallised" => "write `metallised` for its share of metal-coated film, and the core yarn's fibre for the rest, as its band says".to_string(),
            "protein" | "viscose" => format!("{}; it names how the fibre is made, not the plant or animal", permitted(name)),
            _ => permitted(name),
        };
    }
    // Annex I lets `wool`, `hair` or `fibre` follow some names; the names here stand alone.
    for tail in [" wool", " hair", " fibre", " fiber", " yarn"] {
        if let Some(fibre) = low.strip_suffix(tail).and_then(fibre_named) {
            return permitted(fibre.name);
        }
    }
    match nearest(&low, FIBRES.iter().map(|f| f.name)) {
        Some(name) => format!("did you mean `{name}`?"),
        None => "ask who sold the yarn which fibre it is, and write its name from Annex I of Regulation (EU) No 1007/2011, such as wool, silk, cotton, linen, viscose, polyamide".to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_trade_name_leads_to_a_permitted_one() {
        for (trade, name) in TRADE_NAMES {
            assert!(fibre_named(name).is_some(), "{name}");
            assert!(fibre_named(trade).is_none(), "{trade} is permitted itself");
        }
    }

    #[test]
    fn nylon_is_a_permitted_name() {
        // Source, published: Regulation (EU) No 1007/2011, Annex I, number 30: polyamide or nylon.
        assert!(fibre_named("Nylon").is_some());
    }

    #[test]
    fn slips_of_the_pen_and_tails_are_understood() {
        assert!(remedy("cottn").contains("`cotton`"));
        assert!(remedy("Alpaca hair").contains("`alpaca`"));
        assert!(remedy("BAMBOO").contains("`viscose`"));
        assert!(remedy("nettle").contains("Annex I"));
    }
}
