//! The stages of payment added up against the price.

use crate::quantity::{Currency, Money};
use crate::record::{At, MoneyMatters, Piece};

/// Price and sum of the stages, where there are stages and all is in one currency.
pub(in crate::check) fn price_and_stages(piece: &Piece) -> Option<(&At<Money>, Money)> {
    let money: &MoneyMatters = piece.money.as_ref()?;
    let price = money.price.as_ref()?;
    let currency: Currency = price.currency;
    let same = money.stages.iter().all(|s| s.amount.currency == currency);
    if money.stages.is_empty() || !same {
        return None;
    }
    let amount = money.stages.iter().map(|s| s.amount.amount).sum();
    Some((price, Money { amount, currency }))
}
