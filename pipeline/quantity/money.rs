//! Money as exact decimals with a currency, never as a float.

use super::error::{ErrorKind, QuantityError};
use rust_decimal::{Decimal, RoundingStrategy};

/// A currency by its ISO 4217 letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Currency([u8; 3]);

impl Currency {
    /// Parses three capital letters.
    pub fn parse(text: &str) -> Result<Currency, QuantityError> {
        match text.trim().as_bytes() {
            [a, b, c] if [a, b, c].iter().all(|x| x.is_ascii_uppercase()) => {
                Ok(Currency([*a, *b, *c]))
            }
            _ => Err(QuantityError::new(
                ErrorKind::UnknownUnit,
                format!("`{}` is not a currency", text.trim()),
                "write the three capital letters of ISO 4217, such as `GBP`, `EUR`, `CAD`, `USD`",
            )),
        }
    }

    /// How many decimals the currency has: the minor unit of ISO 4217, list one, by way of the table
    /// that Mozilla generates from it (CurrencyDataGenerated, 2026-01-01). Two where it is not named.
    pub fn minor_digits(self) -> u32 {
        match &self.0 {
            b"BIF" | b"CLP" | b"DJF" | b"GNF" | b"ISK" | b"JPY" | b"KMF" | b"KRW" | b"PYG"
            | b"RWF" | b"UGX" | b"UYI" | b"VND" | b"VUV" | b"XAF" | b"XOF" | b"XPF" => 0,
            b"BHD" | b"IQD" | b"JOD" | b"KWD" | b"LYD" | b"OMR" | b"TND" => 3,
            b"CLF" | b"UYW" => 4,
            _ => 2,
        }
    }
}

impl std::fmt::Display for Currency {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().try_for_each(|b| write!(f, "{}", *b as char))
    }
}

/// An amount in one currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Money {
    /// The amount, exact.
    pub amount: Decimal,
    /// The currency.
    pub currency: Currency,
}

impl Money {
    /// An amount rounded to the currency's minor unit, half to even (IEEE 754-2019, 4.3.1,
    /// roundTiesToEven; the rule of many accounts, for a half is as often rounded down as up).
    pub fn rounded(amount: Decimal, currency: Currency) -> Money {
        let mut amount = amount.round_dp_with_strategy(
            currency.minor_digits(),
            RoundingStrategy::MidpointNearestEven,
        );
        amount.rescale(currency.minor_digits());
        Money { amount, currency }
    }

    /// Parses `4200 CAD`, `4200.50 CAD` or `CAD 4200`.
    pub fn parse(text: &str) -> Result<Money, QuantityError> {
        let text = text.trim();
        Money::read(text).map_err(|error| match instead(text) {
            Some(remedy) => QuantityError { remedy, ..error },
            None => error,
        })
    }

    fn read(text: &str) -> Result<Money, QuantityError> {
        let words: Vec<&str> = text.split_whitespace().collect();
        let (amount, currency) = match words.as_slice() {
            [one]
                if one
                    .bytes()
                    .all(|b| b.is_ascii_digit() || b".,".contains(&b)) =>
            {
                return Err(QuantityError::new(
                    ErrorKind::NoUnit,
                    format!("`{text}` has no currency"),
                    format!("write the currency too, such as `{text} GBP`"),
                ));
            }
            [a, b] if a.starts_with(|c: char| c.is_ascii_digit() || c == '-') => (*a, *b),
            [a, b] if b.starts_with(|c: char| c.is_ascii_digit() || c == '-') => (*b, *a),
            _ => {
                return Err(QuantityError::new(
                    ErrorKind::Unreadable,
                    format!("`{text}` is not an amount of money"),
                    "write digits and a currency, such as `4200 CAD` or `28.50 GBP`; no thousands separator",
                ));
            }
        };
        let currency = Currency::parse(currency)?;
        let marks = amount.chars().filter(|c| ".,".contains(*c)).count();
        let amount = amount
            .replace(',', ".")
            .parse::<Decimal>()
            .ok()
            .filter(|_| marks <= 1)
            .ok_or_else(|| {
                QuantityError::new(
                    ErrorKind::Unreadable,
                    format!("`{text}` is not an amount of money"),
                    "write digits and a currency, such as `4200 CAD` or `28.50 GBP`; no thousands separator",
                )
            })?;
        if amount.is_sign_negative() {
            return Err(QuantityError::new(
                ErrorKind::Impossible,
                format!("`{text}` is below zero"),
                "write the amount without the minus sign",
            ));
        }
        if amount.scale() > currency.minor_digits() {
            return Err(QuantityError::new(
                ErrorKind::Impossible,
                format!(
                    "`{text}` has more decimals than {currency} has coins for ({})",
                    currency.minor_digits()
                ),
                "round it to whole coins; a comma is read as a decimal mark, so write thousands without one",
            ));
        }
        Ok(Money { amount, currency })
    }
}

/// Signs of money and the letters of ISO 4217 they stand for, the likeliest first.
const SIGNS: &[(char, &[&str])] = &[
    ('€', &["EUR"]),
    ('£', &["GBP"]),
    ('$', &["USD", "CAD"]),
    ('¥', &["JPY", "CNY"]),
];

/// How to write an amount that has a sign or a thousands separator. `None` where nobody can tell.
fn instead(text: &str) -> Option<String> {
    let written: Vec<String> = amounts_meant(text)
        .iter()
        .map(|amount| format!("`{amount}`"))
        .collect();
    let thousands = "without a sign and without a mark between thousands";
    (!written.is_empty()).then(|| format!("write {}, {thousands}", written.join(" or ")))
}

/// The amounts that one with a sign or a thousands separator can mean, written as [`Money::parse`] reads them: none
/// where nobody can tell, several where a sign is of several currencies.
pub fn amounts_meant(text: &str) -> Vec<String> {
    if text.contains('-') {
        return Vec::new();
    }
    let sign = SIGNS.iter().find(|(sign, _)| text.contains(*sign));
    let letters: String = text.chars().filter(char::is_ascii_uppercase).collect();
    let currencies: Vec<&str> = match sign {
        Some((_, all)) => all.to_vec(),
        None => vec![letters.as_str()],
    };
    let mut digits: String = text
        .chars()
        .filter(|c| c.is_ascii_digit() || ".,".contains(*c))
        .collect();
    // A mark with three digits behind it parts thousands; another one before the end parts decimals.
    let mut parted = false;
    while let Some(at) = digits.find(['.', ',']) {
        let after = digits.get(at + 1..).unwrap_or_default();
        let run = after.bytes().take_while(u8::is_ascii_digit).count();
        if run != 3 || at == 0 || at > 3 && !parted {
            break;
        }
        digits.remove(at);
        parted = true;
    }
    let digits = digits.replace(',', ".");
    currencies
        .iter()
        .map(|currency| format!("{digits} {currency}"))
        .filter(|amount| amount != text && Money::read(amount).is_ok())
        .collect()
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.amount, self.currency)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_currency_has_its_coins() {
        // Source, published: ISO 4217, list one, in the form Mozilla generates from it
        // (CurrencyDataGenerated, 2026-01-01): minor units of 0, 3 and 4; all others have 2.
        for (codes, digits) in [
            (
                "JPY KRW ISK CLP VND XAF XOF XPF BIF DJF GNF KMF PYG RWF UGX UYI VUV",
                0,
            ),
            ("KWD BHD IQD JOD LYD OMR TND", 3),
            ("CLF UYW", 4),
            ("GBP EUR USD CAD CHF SEK NOK DKK PLN CZK HUF", 2),
        ] {
            for code in codes.split(' ') {
                assert_eq!(
                    Currency::parse(code).unwrap().minor_digits(),
                    digits,
                    "{code}"
                );
            }
        }
    }

    #[test]
    fn a_half_penny_goes_to_the_even_penny() {
        // Source, published: IBM, Enterprise PL/I language reference, ROUNDTOEVEN: 23.5 and 24.5 round to
        // 24, −23.5 and −24.5 to −24.
        let yen = |text: &str| {
            Money::rounded(text.parse().unwrap(), Currency::parse("JPY").unwrap()).to_string()
        };
        assert_eq!(yen("23.5"), "24 JPY");
        assert_eq!(yen("24.5"), "24 JPY");
        assert_eq!(yen("-23.5"), "-24 JPY");
        assert_eq!(yen("-24.5"), "-24 JPY");
        // Source, published: rust_decimal's documentation of MidpointNearestEven: 6.5 to 6, 7.5 to 8.
        assert_eq!(yen("6.5"), "6 JPY");
        assert_eq!(yen("7.5"), "8 JPY");
        let pounds = Money::rounded("2".parse().unwrap(), Currency::parse("GBP").unwrap());
        assert_eq!(pounds.to_string(), "2.00 GBP");
    }

    #[test]
    fn signs_of_money_and_thousands_are_answered_with_the_right_form() {
        for (text, want) in [
            ("€8,200", "`8200 EUR`"),
            ("8.200,50 €", "`8200.50 EUR`"),
            ("£6800", "`6800 GBP`"),
            ("6,800 GBP", "`6800 GBP`"),
            ("$4200", "`4200 USD` or `4200 CAD`"),
            ("1,234,567.89 EUR", "`1234567.89 EUR`"),
        ] {
            let e = Money::parse(text).unwrap_err();
            assert!(e.remedy.contains(want), "{text}: {}", e.remedy);
        }
        let e = Money::parse("4200.555 GBP").unwrap_err();
        assert!(e.remedy.contains("round"), "{}", e.remedy);
        assert!(
            Money::parse("much")
                .unwrap_err()
                .remedy
                .contains("4200 CAD")
        );
        assert!(Money::parse("-5 GBP").unwrap_err().remedy.contains("minus"));
    }

    #[test]
    fn money_is_exact_and_knows_its_currency() {
        let m = Money::parse("28.10 GBP").unwrap();
        assert_eq!(m.amount + m.amount + m.amount, "84.30".parse().unwrap());
        assert_eq!(Money::parse("CAD 4200").unwrap().to_string(), "4200 CAD");
        assert!(Money::parse("4200").unwrap_err().kind == ErrorKind::NoUnit);
        assert!(
            Money::parse("4,200 GBP").is_err(),
            "a thousands comma is not swallowed"
        );
        assert!(Money::parse("12.5 JPY").is_err());
    }
}
