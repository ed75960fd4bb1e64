//! The stages of payment added up against the price.

use crate::quantity::{Currency, Money};
use crate::record::{At, MoneyMatters, Piece};
use rust_decimal::Decimal;

/// Price and sum of the stages, where there are stages and all is in one currency.
pub(in crate::check) fn price_and_stages(piece: &Piece) -> Option<(&At<Money>, Money)> {
    let money: &MoneyMatters = piece.money.as_ref()?;
    let price = money.price.as_ref()?;
    let currency: Currency = price.currency;
    let same = money.stages.iter().all(|s| s.amount.currency == currency);
    if money.stages.is_empty() || !same {
        return None;
    }
    // More digits than a sum can hold are no price.
    let amount = money
        .stages
        .iter()
        .try_fold(Decimal::ZERO, |sum, s| sum.checked_add(s.amount.amount))?;
    Some((price, Money { amount, currency }))
}
