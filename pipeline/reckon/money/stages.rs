//! The stages of the price: their exact sum, what is left, and each one's share.

use crate::quantity::{Currency, Money};
use crate::record::Stage;
use rust_decimal::Decimal;

/// The stages in the currency of the price.
#[derive(Debug, Clone, PartialEq)]
pub struct Stages {
    /// What each is for, and how much.
    pub each: Vec<(String, Money)>,
    /// Their sum.
    pub sum: Money,
    /// Price less their sum: nothing where they make the price, below nothing where they exceed it.
    pub rest: Option<Money>,
    /// Each one's share of their sum in hundredths of a percent; together 10 000.
    pub shares: Vec<u32>,
}

impl Stages {
    /// Adds the stages in the currency; `None` where there is none.
    pub(super) fn of(all: &[Stage], price: Option<&Money>, currency: Currency) -> Option<Stages> {
        let each: Vec<(String, Money)> = all
            .iter()
            .filter(|s| s.amount.currency == currency)
            .map(|s| {
                let amount = Money::rounded(s.amount.amount, currency);
                (s.what.value.clone(), amount)
            })
            .collect();
        if each.is_empty() {
            return None;
        }
        let sum = each
            .iter()
            .try_fold(Decimal::ZERO, |sum, (_, m)| sum.checked_add(m.amount))?;
        let rest = price
            .and_then(|p| p.amount.checked_sub(sum))
            .map(|rest| Money::rounded(rest, currency));
        let amounts: Vec<Decimal> = each.iter().map(|(_, m)| m.amount).collect();
        Some(Stages {
            shares: shares(&amounts, 10_000),
            sum: Money::rounded(sum, currency),
            rest,
            each,
        })
    }
}

/// Whole shares of `units` that add up to `units`: each gets the floor of its exact share, and what is
/// left goes one by one to the largest remainders, of equals to the first (the method of largest
/// remainders). Empty where the amounts make nothing or more than a decimal can hold.
fn shares(amounts: &[Decimal], units: u32) -> Vec<u32> {
    let exact = |sum: Decimal, amount: &Decimal| {
        let scaled = amount.checked_mul(Decimal::from(units))?.checked_div(sum)?;
        let whole = scaled.floor();
        Some((u32::try_from(whole).ok()?, scaled - whole))
    };
    let sum = amounts
        .iter()
        .try_fold(Decimal::ZERO, |sum, a| sum.checked_add(*a))
        .filter(|s| *s > Decimal::ZERO);
    let parts: Option<Vec<(u32, Decimal)>> =
        sum.and_then(|sum| amounts.iter().map(|a| exact(sum, a)).collect());
    let Some(parts) = parts else {
        return Vec::new();
    };
    let mut whole: Vec<u32> = parts.iter().map(|(w, _)| *w).collect();
    let left = units.saturating_sub(whole.iter().sum()) as usize;
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by(|a, b| parts[*b].1.cmp(&parts[*a].1).then(a.cmp(b)));
    for i in order.into_iter().take(left) {
        whole[i] += 1;
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(amounts: &[&str], units: u32) -> Vec<u32> {
        let amounts: Vec<Decimal> = amounts.iter().map(|a| a.parse().unwrap()).collect();
        shares(&amounts, units)
    }

    #[test]
    fn shares_are_those_of_the_largest_remainders() {
        // Source, from memory: the usual worked example of the method, 10 seats among votes of 47 000,
        // 16 000, 15 800, 12 000, 6 100 and 3 100: 5, 2, 1, 1, 1 and 0.
        let votes = ["47000", "16000", "15800", "12000", "6100", "3100"];
        assert_eq!(of(&votes, 10), [5, 2, 1, 1, 1, 0]);
        assert_eq!(of(&["1", "1", "1"], 10_000), [3334, 3333, 3333]);
        assert_eq!(of(&["0", "0"], 10_000), [0; 0]);
        assert_eq!(of(&[], 10_000), [0; 0]);
    }

    #[test]
    fn shares_always_make_the_whole() {
        let mut seed = 5_u64;
        for n in 1..200_usize {
            let amounts: Vec<Decimal> = (0..n)
                .map(|_| {
                    seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                    Decimal::new((seed >> 40) as i64 + 1, 2)
                })
                .collect();
            assert_eq!(shares(&amounts, 10_000).iter().sum::<u32>(), 10_000);
        }
    }
}
