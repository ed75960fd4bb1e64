//! What a yarn cost: an amount for all of it, or a price by mass, such as `48 GBP/kg`.

use super::dimension::{Dimension, Mass};
use super::error::{ErrorKind, QuantityError};
use super::money::Money;
use super::number::split_number;
use rust_decimal::Decimal;

/// The cost of a yarn as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cost {
    /// For all of it that went into the piece.
    Whole(Money),
    /// By mass.
    ByMass {
        /// The price of so much.
        price: Money,
        /// So much, in grams, exact.
        grams: Decimal,
        /// The mass as written, such as `kg` or `50 g`.
        per: String,
    },
}

/// Units of mass in grams, exact; pound and ounce by the agreement of 1959.
const GRAMS: &[(&str, &str)] = &[
    ("g", "1"),
    ("kg", "1000"),
    ("oz", "28.349523125"),
    ("lb", "453.59237"),
];

impl Cost {
    /// Parses `38.50 GBP`, `48 GBP/kg` or `6.50 GBP/50 g`.
    pub fn parse(text: &str) -> Result<Cost, QuantityError> {
        let Some((price, per)) = text.split_once('/') else {
            return Money::parse(text).map(Cost::Whole);
        };
        let price = Money::parse(price).map_err(|error| by_mass(error, per.trim()))?;
        let wrong = || {
            QuantityError::new(
                ErrorKind::Unreadable,
                format!("`{}` is not a price by mass", text.trim()),
                "write it as `48 GBP/kg` or `6.50 GBP/50 g`; for all of the yarn together as `38.50 GBP`",
            )
        };
        let per = per.trim();
        let (number, unit) = split_number(per);
        let factor = GRAMS.iter().find(|(name, _)| *name == unit);
        let factor: Decimal = factor
            .and_then(|(_, grams)| grams.parse().ok())
            .ok_or_else(wrong)?;
        let count: Decimal = match number {
            "" => Decimal::ONE,
            // As sure as any number of hers: at most 18 digits, so that nothing overflows.
            _ if number.len() <= 9 => number.replace(',', ".").parse().map_err(|_| wrong())?,
            _ => return Err(wrong()),
        };
        let grams = count.checked_mul(factor).ok_or_else(wrong)?;
        if grams <= Decimal::ZERO {
            return Err(wrong());
        }
        Ok(Cost::ByMass {
            price,
            grams,
            per: per.to_string(),
        })
    }

    /// The money in it: its currency is that of the cost.
    pub fn money(&self) -> &Money {
        match self {
            Cost::Whole(money) | Cost::ByMass { price: money, .. } => money,
        }
    }

    /// What a mass costs, rounded half to even to the minor unit; the whole cost whatever the mass.
    /// `None` where the mass is needed and not known, or no sum can hold it.
    pub fn of(&self, mass: Option<Mass>) -> Option<Money> {
        match self {
            Cost::Whole(money) => Some(Money::rounded(money.amount, money.currency)),
            Cost::ByMass { price, grams, .. } => {
                let mass = exact(mass?.base())?;
                let cost = price.amount.checked_mul(mass)?.checked_div(*grams)?;
                Some(Money::rounded(cost, price.currency))
            }
        }
    }
}

impl std::fmt::Display for Cost {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Cost::Whole(money) => write!(f, "{money}"),
            Cost::ByMass { price, per, .. } => write!(f, "{price}/{per}"),
        }
    }
}

/// The same error for a price by mass: an amount that its remedy offers is offered by that mass.
fn by_mass(error: QuantityError, per: &str) -> QuantityError {
    let parts = error.remedy.split('`').enumerate().map(|(i, part)| {
        let amount = i % 2 == 1 && part.starts_with(|c: char| c.is_ascii_digit());
        if amount {
            format!("{part}/{per}")
        } else {
            part.to_string()
        }
    });
    QuantityError {
        remedy: parts.collect::<Vec<_>>().join("`"),
        ..error
    }
}

/// A measured number as an exact decimal, to a millionth: what a scale, a tape or a clock says has
/// fewer places. `None` where no decimal can hold it.
pub(crate) fn exact(number: f64) -> Option<Decimal> {
    let text = format!("{number:.6}");
    text.parse::<Decimal>().ok().map(|d| d.normalize())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Reading;

    fn of(cost: &str, mass: &str) -> String {
        let mass = Reading::<Mass>::parse(mass).unwrap().value;
        Cost::parse(cost)
            .unwrap()
            .of(Some(mass))
            .unwrap()
            .to_string()
    }

    #[test]
    fn a_price_by_mass_gives_the_cost_of_what_was_used() {
        // Source, exact case: 740 g at 48 GBP/kg are 35.52; 25 g at 6.50 GBP/50 g are 3.25; 1 lb is
        // 453.59237 g exactly (agreement of 1959), so 453.59237 g at 20 USD/lb are 20; half a penny
        // goes to the even penny: 0.125 to 0.12, 0.375 to 0.38.
        assert_eq!(of("48 GBP/kg", "740 g"), "35.52 GBP");
        assert_eq!(of("6.50 GBP/50 g", "25 g"), "3.25 GBP");
        assert_eq!(of("20 USD/lb", "453.59237 g"), "20.00 USD");
        assert_eq!(of("20 USD/lb", "16 oz"), "20.00 USD");
        assert_eq!(of("125 GBP/kg", "1 g"), "0.12 GBP");
        assert_eq!(of("375 GBP/kg", "1 g"), "0.38 GBP");
        assert_eq!(of("38.50 GBP", "1 g"), "38.50 GBP");
        assert_eq!(of("9000 JPY/kg", "83 g"), "747 JPY");
    }

    #[test]
    fn what_is_no_cost_is_refused_with_the_right_form() {
        for text in [
            "48 GBP/m",
            "48 GBP/",
            "48/kg",
            "48 GBP/0 g",
            "48 GBP/-1 g",
            "GBP",
        ] {
            assert!(Cost::parse(text).is_err(), "{text}");
        }
        let e = Cost::parse("£48/kg").unwrap_err();
        assert!(e.remedy.contains("`48 GBP/kg`"), "{}", e.remedy);
        assert!(Cost::parse("48 GBP/kg").unwrap().of(None).is_none());
        assert!(exact(f64::NAN).is_none());
        assert!(exact(1e300).is_none());
    }
}
