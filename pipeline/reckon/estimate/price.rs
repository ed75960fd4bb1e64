//! Cost and price of the next piece, and the stages it is paid in.

use super::model::{Column, Estimated, Traits};
use super::past::Past;
use crate::quantity::{Currency, Money, exact};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// What the next piece costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// What an hour costs.
    pub rate: Money,
    /// Likely hours, in whole hours, × the rate.
    pub work: Money,
    /// Materials by the square metre of finished pieces in the same currency; nothing where none tells all its costs.
    pub materials: Option<Money>,
    /// Pieces that told their materials.
    pub materials_from: usize,
    /// Work and materials.
    pub likely: Money,
    /// The same at both ends of the interval of hours.
    pub range: Option<(Money, Money)>,
}

impl Price {
    pub(super) fn of(
        past: &[&Past],
        wanted: &Traits,
        level: f64,
        hours: Option<&Estimated>,
        rate: Option<&Money>,
    ) -> Option<Price> {
        let (hours, rate) = (hours?, rate?);
        let currency = rate.currency;
        let at = |hours: f64| work(rate, hours);
        let told: Vec<(Traits, f64)> = past
            .iter()
            .filter_map(|p| {
                let money = p.materials.as_ref().filter(|m| m.currency == currency)?;
                Some((p.traits(), money.amount.to_f64()?))
            })
            .collect();
        let materials = Estimated::of(&told, wanted, level, &[] as &[Column])
            .and_then(|e| Some(Money::rounded(exact(e.likely)?, currency)));
        let with = |work: Money| {
            let more = materials.as_ref().map_or(Decimal::ZERO, |m| m.amount);
            Some(Money::rounded(work.amount.checked_add(more)?, currency))
        };
        let range = hours
            .range
            .and_then(|(low, high)| Some((with(at(low)?)?, with(at(high)?)?)));
        let work = at(hours.likely)?;
        Some(Price {
            likely: with(work.clone())?,
            rate: rate.clone(),
            work,
            materials_from: told.len(),
            materials,
            range,
        })
    }
}

/// Whole hours × the rate.
fn work(rate: &Money, hours: f64) -> Option<Money> {
    let whole = exact(hours.round())?;
    let sum = rate.amount.checked_mul(whole)?;
    Some(Money::rounded(sum, rate.currency))
}

/// A price in three stages, on order, half woven and on delivery (common practice, no source): thirds to the minor unit,
/// what is left over with the last.
pub fn thirds(price: &Money) -> [Money; 3] {
    let currency: Currency = price.currency;
    let third = Money::rounded(
        (price.amount / Decimal::from(3)).trunc_with_scale(currency.minor_digits()),
        currency,
    );
    let rest = price.amount - third.amount - third.amount;
    let last = Money::rounded(rest, currency);
    [third.clone(), third, last]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_stages_make_the_price() {
        for text in ["1000 GBP", "0.02 GBP", "11399.99 EUR", "100 JPY"] {
            let price = Money::parse(text).unwrap();
            let all = thirds(&price);
            let sum: Decimal = all.iter().map(|s| s.amount).sum();
            assert_eq!(sum, price.amount, "{all:?}");
        }
        let all = thirds(&Money::parse("1000 GBP").unwrap());
        let said: Vec<String> = all.iter().map(Money::to_string).collect();
        assert_eq!(said, ["333.33 GBP", "333.33 GBP", "333.34 GBP"]);
    }
}
