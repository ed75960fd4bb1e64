//! What a piece cost and brought in: materials, the result of an hour, the stages of the price. All
//! amounts are exact decimals in ONE currency; what is in another one is left out and named, for no
//! rate of exchange is guessed. Everything here is private: it stays in the studio.

mod ledger;
mod materials;
mod stages;

pub use materials::{Material, Materials};
pub use stages::Stages;

use super::mass::Masses;
use super::size::Size;
use super::time::TimeAtWork;
use crate::quantity::{Currency, Money, exact};
use crate::record::{Piece, Studio};
use rust_decimal::Decimal;

/// The money of one piece, as far as the record tells.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Finances {
    /// The currency of every figure: the price's, else the studio's, else that of its hour, else that
    /// of the first cost.
    pub currency: Option<Currency>,
    /// The price.
    pub price: Option<Money>,
    /// What the materials cost, as far as they have a cost.
    pub materials: Option<Materials>,
    /// Price less materials. Below nothing where the materials cost more.
    pub result: Option<Money>,
    /// The hours that the figures by the hour are reckoned with.
    pub hours: Option<WorkHours>,
    /// Result / hours, rounded half to even to the minor unit.
    pub per_hour: Option<Money>,
    /// The studio's hour.
    pub rate: Option<Money>,
    /// Hours × the studio's hour.
    pub at_rate: Option<Money>,
    /// Hours × the studio's hour + materials.
    pub asked: Option<Money>,
    /// Price less that.
    pub over_asked: Option<Money>,
    /// Price / area of the face, by the square metre.
    pub per_area: Option<Money>,
    /// Sum insured.
    pub insured: Option<Money>,
    /// The stages of the price.
    pub stages: Option<Stages>,
    /// Amounts in another currency: what they are for, and the amount.
    pub left_out: Vec<(String, String)>,
    /// Area of the face in m², to a millionth, as the price by area divides by it.
    pub area: Option<Decimal>,
}

/// Hours as exact decimals, to a millionth of an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkHours {
    /// The hours.
    pub hours: Decimal,
    /// Whether some of them are an estimate the record asked for.
    pub estimated: bool,
    /// Days whose hours are not among them.
    pub days_without: usize,
}

impl Finances {
    /// Reckons the money. Sums that no decimal can hold are left out.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        masses: &Masses,
        size: &Size,
        time: Option<&TimeAtWork>,
    ) -> Finances {
        let matters = piece.money.clone().unwrap_or_default();
        let lines = materials::lines(piece, masses);
        let price = matters.price.as_ref().map(|p| &p.value);
        let hour = studio.hourly_rate.as_ref().map(|r| &r.value);
        let currency = price
            .map(|p| p.currency)
            .or_else(|| studio.currency.as_ref().map(|c| c.value))
            .or_else(|| hour.map(|h| h.currency))
            .or_else(|| lines.first().map(|l| l.cost.money().currency));
        let Some(currency) = currency else {
            return Finances::default();
        };
        let mut left_out = Vec::new();
        let mut ours = |what: &str, money: Option<&Money>| {
            let money = money?;
            if money.currency == currency {
                return Some(Money::rounded(money.amount, currency));
            }
            left_out.push((what.to_string(), money.to_string()));
            None
        };
        let price = ours("price", price);
        let insured = ours("insured", matters.insured.as_ref().map(|i| &i.value));
        let rate = ours("hourly rate", hour);
        for stage in &matters.stages {
            ours(&stage.what.value, Some(&stage.amount.value));
        }
        for line in &lines {
            ours(&line.name, Some(line.cost.money()));
        }
        let materials = Materials::of(&lines, piece, currency);
        let hours = time.and_then(WorkHours::of);
        let area = exact(size.area.value.m2()).filter(|a| *a > Decimal::ZERO);
        let money = |amount: Option<Decimal>| amount.map(|a| Money::rounded(a, currency));
        let spent = materials.as_ref().map_or(Decimal::ZERO, |m| m.total.amount);
        let result = money(price.as_ref().and_then(|p| p.amount.checked_sub(spent)));
        let per = |sum: &Option<Money>, by: Option<Decimal>| {
            money(
                sum.as_ref()
                    .zip(by)
                    .and_then(|(s, b)| s.amount.checked_div(b)),
            )
        };
        let at_rate = money(
            rate.as_ref()
                .zip(hours)
                .and_then(|(r, h)| r.amount.checked_mul(h.hours)),
        );
        let asked = money(at_rate.as_ref().and_then(|a| a.amount.checked_add(spent)));
        Finances {
            currency: Some(currency),
            per_hour: per(&result, hours.map(|h| h.hours)),
            per_area: per(&price, area),
            over_asked: money(
                price
                    .as_ref()
                    .zip(asked.as_ref())
                    .and_then(|(p, a)| p.amount.checked_sub(a.amount)),
            ),
            stages: Stages::of(&matters.stages, price.as_ref(), currency),
            price,
            materials,
            result,
            hours,
            rate,
            at_rate,
            asked,
            insured,
            left_out,
            area,
        }
    }
}

impl WorkHours {
    /// The hours noted, with the estimate where the record asks for one; nothing without hours.
    fn of(time: &TimeAtWork) -> Option<WorkHours> {
        let hours = exact(time.total().value).filter(|h| *h > Decimal::ZERO)?;
        let estimated = time.estimate.is_some();
        Some(WorkHours {
            hours,
            estimated,
            days_without: if estimated {
                0
            } else {
                time.days_without_hours
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Reckoning;
    use crate::read::{notes_from, piece_from, studio_from};

    fn reckoned(studio: &str, money: &str, notes: &str) -> Reckoning {
        let studio = format!("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n{studio}");
        let studio = studio_from(&"studio.yaml".into(), &studio).0.unwrap();
        let text =
            format!("title: Low Water\nmade: 2026\nmeasured: {{height: 1 m, width: 2 m}}\n{money}");
        let (piece, slips) = piece_from("p", &"piece.yaml".into(), &text);
        let mut piece = piece.unwrap_or_else(|| panic!("{slips:?}"));
        piece.notes = notes_from(&"notes.md".into(), notes).0;
        Reckoning::of(&studio, &piece)
    }

    fn said(r: &Reckoning, name: &str) -> String {
        let found = r.entries().into_iter().find(|e| e.name == name);
        found.map_or("nothing".to_string(), |e| e.said())
    }

    const YARNS: &str = "\
warp: {cost: 12.40 GBP}
weft:
  - {name: sea, used: 740 g, cost: 48 GBP/kg}
  - {name: sand, used: 25 g, cost: 6.50 GBP/50 g}
parts: {lining: {used: 480 g}}
";

    #[test]
    fn an_hour_brings_what_price_materials_and_hours_make_of_it() {
        let notes = "## 2026-03-02 · 5.5 h\n## 2026-03-03 · 6 h\n## 2026-03-04 · 20 min\n";
        let money = format!("{YARNS}money: {{price: 300 GBP}}\n");
        let r = reckoned("hourly_rate: 28 GBP\n", &money, notes);
        // Source, exact case: 12.40 + 35.52 + 3.25 = 51.17; 300 − 51.17 = 248.83; over 11 h 50 min =
        // 71/6 h it is 248.83 · 6/71 = 21.0278…; 28 · 71/6 = 331.33; with materials 382.50; 2 m² at 300
        // are 150 a square metre.
        assert_eq!(said(&r, "money.materials"), "51.17 GBP");
        assert_eq!(said(&r, "money.cost.weft[0]"), "35.52 GBP");
        assert_eq!(said(&r, "money.result"), "248.83 GBP");
        assert_eq!(said(&r, "money.per-hour"), "21.03 GBP");
        assert_eq!(said(&r, "money.at-rate"), "331.33 GBP");
        assert_eq!(said(&r, "money.asked"), "382.50 GBP");
        assert_eq!(said(&r, "money.over-asked"), "-82.50 GBP");
        assert_eq!(said(&r, "money.per-area"), "150.00 GBP");
        assert_eq!(said(&r, "money.left-out"), "nothing");
        let lacking = &r.money.materials.as_ref().unwrap().lacking;
        assert_eq!(lacking, &["lining"]);
    }

    #[test]
    fn coins_follow_the_currency() {
        let notes = "## 2026-03-02 · 7 h\n";
        // Source, published: ISO 4217 minor units by way of Mozilla's table (2026-01-01): the yen has none,
        // the Kuwaiti dinar three; 100 000 / 7 = 14285.71…, 1000 / 7 = 142.857 142….
        for (price, per_hour) in [
            ("100000 JPY", "14286 JPY"),
            ("1000 KWD", "142.857 KWD"),
            ("1000 EUR", "142.86 EUR"),
        ] {
            let money = format!("warp: {{}}\nweft: [{{}}]\nmoney: {{price: {price}}}\n");
            let money = money.replace("{}", "{fibre: {wool: 100}}");
            assert_eq!(
                said(&reckoned("", &money, notes), "money.per-hour"),
                per_hour
            );
        }
    }

    #[test]
    fn another_currency_counts_nowhere_and_is_named() {
        let money = "\
warp: {cost: 10 EUR}
weft: [{name: sea, cost: 20 GBP}]
money: {price: 100 GBP, insured: 90 USD, stages: [{what: deposit, amount: 40 GBP}, {what: rest, amount: 60 EUR}]}
";
        let r = reckoned("hourly_rate: 30 CAD\n", money, "## 2026-03-02 · 2 h\n");
        assert_eq!(said(&r, "money.materials"), "20.00 GBP");
        assert_eq!(said(&r, "money.per-hour"), "40.00 GBP");
        assert_eq!(said(&r, "money.stages"), "40.00 GBP");
        assert_eq!(said(&r, "money.stages-open"), "60.00 GBP");
        assert_eq!(said(&r, "money.at-rate"), "nothing");
        assert_eq!(
            said(&r, "money.left-out"),
            "insured: 90 USD; hourly rate: 30 CAD; rest: 60 EUR; warp: 10 EUR"
        );
    }

    #[test]
    fn stages_make_the_price_and_their_shares_make_a_hundred() {
        let money = "\
warp: {fibre: {cotton: 100}}
weft: [{fibre: {wool: 100}}]
money: {price: 100 GBP, stages: [{what: a, amount: 33.33 GBP}, {what: b, amount: 33.33 GBP}, {what: c, amount: 33.34 GBP}]}
";
        let r = reckoned("", money, "");
        assert_eq!(said(&r, "money.stages"), "100.00 GBP");
        assert_eq!(said(&r, "money.stages-open"), "0.00 GBP");
        assert_eq!(r.money.stages.as_ref().unwrap().shares, [3333, 3333, 3334]);
    }

    #[test]
    fn a_day_without_hours_is_said_beside_the_result_of_an_hour() {
        let money =
            "warp: {fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}}]\nmoney: {price: 100 GBP}\n";
        let r = reckoned("", money, "## 2026-03-02 · 2 h\n## 2026-03-03\n");
        let entry = r
            .entries()
            .into_iter()
            .find(|e| e.name == "money.per-hour")
            .unwrap();
        assert!(
            entry
                .worked
                .contains("1 more day whose hours are not noted"),
            "{}",
            entry.worked
        );
    }

    #[test]
    fn sums_beyond_any_decimal_are_left_out() {
        let huge = "79228162514264337593543950335";
        let money = format!(
            "warp: {{cost: {huge} GBP}}\nweft: [{{cost: {huge} GBP/g, used: 99999999999999999 kg}}, {{cost: {huge} GBP}}]\nmoney: {{price: {huge} GBP, stages: [{{what: a, amount: {huge} GBP}}, {{what: b, amount: {huge} GBP}}]}}\n"
        );
        let r = reckoned(
            &format!("hourly_rate: {huge} GBP\n"),
            &money,
            "## 2026-03-02 · 9999999999 h\n",
        );
        for entry in r.entries() {
            assert!(!entry.said().is_empty(), "{entry:?}");
        }
        assert_eq!(said(&r, "money.stages"), "nothing");
    }
}
