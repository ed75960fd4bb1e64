//! What the yarns and parts cost.

use crate::quantity::{Cost, Currency, Mass, Money};
use crate::reckon::figure::Figure;
use crate::reckon::mass::Masses;
use crate::record::Piece;
use rust_decimal::Decimal;

/// One yarn or part that has a cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name.
    pub name: String,
    /// The field its cost stands in.
    pub field: String,
    /// The cost as written.
    pub cost: Cost,
    /// The mass a price by mass is multiplied with, in grams; `None` where it is not known.
    pub mass: Option<Mass>,
    /// The cost of what is in the piece, rounded half to even; `None` where a mass is needed and not
    /// known.
    pub sum: Option<Money>,
}

/// The materials in one currency.
#[derive(Debug, Clone, PartialEq)]
pub struct Materials {
    /// Those with a cost in the currency, the warp first.
    pub lines: Vec<Material>,
    /// Sum of the rounded lines.
    pub total: Money,
    /// Yarns and parts that the sum lacks: no cost, another currency, or a mass that is not known.
    pub lacking: Vec<String>,
}

/// Every yarn and part with a cost, whatever its currency. The warp counts as strung, since the
/// thrums are bought too; where that is not known, as it lies in the piece.
pub(super) fn lines(piece: &Piece, masses: &Masses) -> Vec<Material> {
    let mut all = Vec::new();
    let mut add =
        |name: String, field: String, cost: Option<&Cost>, mass: Option<&Figure<Mass>>| {
            if let Some(cost) = cost {
                let mass = mass.map(|m| m.value);
                all.push(Material {
                    sum: cost.of(mass),
                    cost: cost.clone(),
                    name,
                    field,
                    mass,
                });
            }
        };
    let cost = piece.warp.cost.as_ref().map(|c| &c.value);
    let strung = masses.warp_strung.as_ref().or(masses.warp.as_ref());
    add("warp".into(), "warp.cost".into(), cost, strung);
    for (i, (weft, mass)) in piece.weft.iter().zip(&masses.weft).enumerate() {
        let cost = weft.cost.as_ref().map(|c| &c.value);
        let field = format!("weft[{i}].cost");
        add(mass.name.clone(), field, cost, mass.mass.as_ref());
    }
    for (part, (name, mass)) in piece.parts.iter().zip(&masses.parts) {
        let cost = part.cost.as_ref().map(|c| &c.value);
        let field = format!("parts.{name}.cost");
        add(name.clone(), field, cost, mass.as_ref());
    }
    all
}

impl Materials {
    /// Those in the currency; `None` where there is none.
    pub(super) fn of(lines: &[Material], piece: &Piece, currency: Currency) -> Option<Materials> {
        let (counted, other): (Vec<&Material>, Vec<&Material>) = lines
            .iter()
            .partition(|l| l.sum.is_some() && l.cost.money().currency == currency);
        let total = counted
            .iter()
            .filter_map(|l| l.sum.as_ref())
            .try_fold(Decimal::ZERO, |sum, s| sum.checked_add(s.amount))?;
        if counted.is_empty() {
            return None;
        }
        let mut lacking: Vec<String> = other.iter().map(|l| l.name.clone()).collect();
        if piece.warp.cost.is_none() {
            lacking.push("warp".into());
        }
        for (i, weft) in piece.weft.iter().enumerate() {
            if weft.cost.is_none() {
                let name = weft.name.as_ref().map(|n| n.value.clone());
                lacking.push(name.unwrap_or_else(|| format!("weft {}", i + 1)));
            }
        }
        let parts = piece.parts.iter().filter(|p| p.cost.is_none());
        lacking.extend(parts.map(|p| p.name.value.clone()));
        Some(Materials {
            lines: counted.into_iter().cloned().collect(),
            total: Money::rounded(total, currency),
            lacking,
        })
    }
}
