//! Parts that are not the woven face: which of them are components with a composition of their own
//! (Regulation (EU) No 1007/2011, article 11(2)), which are left out.

use super::law::{COMPONENT_LEAST, HAIR};
use super::mixture::{Mixture, YarnIn};
use crate::reckon::mass::Masses;
use crate::reckon::uncertain::Uncertain;
use crate::record::{Part, Piece, RuleSet};

/// A textile part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Component {
    pub name: String,
    /// Its place among the parts of the record.
    index: usize,
    /// Percent of the piece, where every mass is known.
    pub share: Option<Uncertain>,
    /// Whether it is stated for itself: a main lining, or 30 % and more.
    pub stated: bool,
    /// Whether it is the lining.
    pub lining: bool,
}

/// The textile parts. A heading is an accessory and is left out (Annex VII (a)).
pub(super) fn components(piece: &Piece, masses: &Masses, face: &Mixture) -> Vec<Component> {
    let textile = |part: &Part| {
        !part.fibre.is_empty() && !part.animal_origin.as_ref().is_some_and(|a| a.value)
    };
    let known = masses.parts.iter().all(|(_, mass)| mass.is_some());
    let whole = (face.complete() && known).then(|| {
        let parts = masses.parts.iter().filter_map(|(_, mass)| mass.as_ref());
        let face = face.portions.iter().map(|p| &p.legal);
        Uncertain::sum(face.chain(parts.map(|m| m.number())))
    });
    piece
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| textile(part) && part.name.value != "heading")
        .map(|(index, part)| {
            let mass = masses.parts.get(index).and_then(|(_, m)| m.as_ref());
            let share = mass
                .zip(whole.as_ref())
                .map(|(m, whole)| (m.number() / whole).times(100.0));
            let lining = part.name.value == "lining";
            let large = share
                .as_ref()
                .is_some_and(|s| s.value + HAIR >= COMPONENT_LEAST);
            Component {
                name: part.name.value.clone(),
                index,
                stated: lining || large,
                share,
                lining,
            }
        })
        .collect()
}

impl Component {
    /// Its fibres. Its own shares need no mass of the whole, so one gram stands for a mass that is not
    /// known.
    pub fn mixture(&self, piece: &Piece, masses: &Masses, rule: RuleSet) -> Mixture {
        let one = Uncertain::exact(1.0);
        let mass = masses.parts.get(self.index).and_then(|(_, m)| m.as_ref());
        let yarn = YarnIn {
            name: self.name.clone(),
            shares: piece.parts.get(self.index).map_or(&[], |p| &p.fibre),
            mass: Some(mass.map_or(&one, |m| m.number())),
            humidity: None,
            decorative: false,
            warp: false,
        };
        Mixture::of([&yarn], rule)
    }
}

/// Whether a part holds wool as the United States mean it.
pub(super) fn wool(piece: &Piece, rule: RuleSet) -> bool {
    piece.parts.iter().any(|part| {
        let yarn = YarnIn {
            name: String::new(),
            shares: &part.fibre,
            mass: None,
            humidity: None,
            decorative: false,
            warp: false,
        };
        Mixture::of([&yarn], rule).wool()
    })
}
