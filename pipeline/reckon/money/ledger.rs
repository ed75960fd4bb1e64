//! The ledger's entries of the money. Amounts stand as words, exact to the minor unit: as a number
//! with a point somewhere a machine would make a float of them.

use super::Finances;
use crate::quantity::{Cost, Money};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;

const ROUNDED: &str =
    "exact decimals, rounded half to even to the minor unit of ISO 4217 (IEEE 754-2019, 4.3.1)";
const GIVEN: &str = "the record; decimals by the minor unit of ISO 4217";

impl Finances {
    /// The ledger's entries. All are private.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = Vec::new();
        let mut add = |name: &str,
                       what: &str,
                       money: &Option<Money>,
                       by: (&str, String),
                       source: &str,
                       from: &[&str]| {
            if let Some(money) = money {
                let entry = Entry::words(name, what, money.to_string())
                    .by(by.0, by.1)
                    .source(source)
                    .from(from.iter().copied());
                all.push(entry);
            }
        };
        let said = |money: &Option<Money>| money.as_ref().map_or(String::new(), Money::to_string);
        add(
            "money.price",
            "price",
            &self.price,
            ("as given", String::new()),
            GIVEN,
            &["money.price"],
        );
        add(
            "money.insured",
            "sum insured",
            &self.insured,
            ("as given", String::new()),
            GIVEN,
            &["money.insured"],
        );
        let materials = self.materials.as_ref().map(|m| m.total.clone());
        let spent = materials
            .as_ref()
            .map_or("nothing known of materials".to_string(), Money::to_string);
        add(
            "money.result",
            "price less the materials that have a cost",
            &self.result,
            (
                "price − materials",
                format!("{} − {spent}", said(&self.price)),
            ),
            "sum of exact decimals",
            &["money.price", "money.materials"],
        );
        let hours = self.hours_said();
        add(
            "money.per-hour",
            "result of an hour",
            &self.per_hour,
            (
                "(price − materials) / hours",
                format!("{} / {hours}", said(&self.result)),
            ),
            ROUNDED,
            &["money.result", "time.hours"],
        );
        add(
            "money.at-rate",
            "the hours at what an hour of the studio costs",
            &self.at_rate,
            (
                "hours × hourly rate",
                format!("{hours} × {}", said(&self.rate)),
            ),
            ROUNDED,
            &["time.hours", "studio.hourly_rate"],
        );
        add(
            "money.asked",
            "what the studio's hour and the materials come to",
            &self.asked,
            (
                "hours × hourly rate + materials",
                format!("{} + {spent}", said(&self.at_rate)),
            ),
            "sum of rounded amounts",
            &["money.at-rate", "money.materials"],
        );
        add(
            "money.over-asked",
            "price over that; below nothing where the price did not cover it",
            &self.over_asked,
            (
                "price − (hours × hourly rate + materials)",
                format!("{} − {}", said(&self.price), said(&self.asked)),
            ),
            "sum of rounded amounts",
            &["money.price", "money.asked"],
        );
        let area = self.area.map_or(String::new(), |a| format!("{a} m²"));
        add(
            "money.per-area",
            "price of a square metre of the face",
            &self.per_area,
            ("price / area", format!("{} / {area}", said(&self.price))),
            ROUNDED,
            &["money.price", "size.area"],
        );
        all.extend(self.material_entries());
        all.extend(self.stage_entries());
        if !self.left_out.is_empty() {
            let listed: Vec<String> = self
                .left_out
                .iter()
                .map(|(what, money)| format!("{what}: {money}"))
                .collect();
            let currency = self.currency.map_or(String::new(), |c| c.to_string());
            all.push(
                Entry::words(
                    "money.left-out",
                    format!("amounts that are not in {currency} and count nowhere; no rate of exchange is guessed"),
                    listed.join("; "),
                )
                .by("currency ≠ the currency of the price, else of the studio", "")
                .source("own rule")
                .from(["money", "warp.cost", "weft.cost", "parts.cost", "studio.hourly_rate"]),
            );
        }
        all
    }

    fn hours_said(&self) -> String {
        self.hours.map_or(String::new(), |h| {
            let which = match (h.estimated, h.days_without) {
                (true, _) => ", ESTIMATED ones among them".to_string(),
                (false, 0) => String::new(),
                (false, 1) => ", and 1 more day whose hours are not noted".to_string(),
                (false, n) => format!(", and {n} more days whose hours are not noted"),
            };
            format!("{} h{which}", h.hours)
        })
    }

    fn material_entries(&self) -> Vec<Entry> {
        let Some(m) = &self.materials else {
            return Vec::new();
        };
        let mut all = Vec::new();
        for line in &m.lines {
            let Some(sum) = &line.sum else {
                continue;
            };
            let by = match &line.cost {
                Cost::Whole(_) => ("as given for all of it", String::new()),
                Cost::ByMass { .. } => {
                    let mass = line.mass.map_or(0.0, |m| m.g());
                    let mass = significant(mass, 6);
                    ("mass × price by mass", format!("{mass} g × {}", line.cost))
                }
            };
            let name = format!("money.cost.{}", line.field.trim_end_matches(".cost"));
            let what = format!("cost of {}", line.name);
            all.push(
                Entry::words(name, what, sum.to_string())
                    .by(by.0, by.1)
                    .source(ROUNDED)
                    .from([line.field.clone()]),
            );
        }
        let sums: Vec<String> = m
            .lines
            .iter()
            .filter_map(|l| l.sum.as_ref())
            .map(|s| s.amount.to_string())
            .collect();
        let what = match m.lacking.as_slice() {
            [] => "cost of all materials".to_string(),
            names => format!(
                "cost of the materials that have one; without {}",
                names.join(", ")
            ),
        };
        let fields: Vec<String> = m.lines.iter().map(|l| l.field.clone()).collect();
        all.push(
            Entry::words("money.materials", what, m.total.to_string())
                .by("sum of the rounded costs", sums.join(" + "))
                .source("sum of exact decimals")
                .from(fields),
        );
        all
    }

    fn stage_entries(&self) -> Vec<Entry> {
        let Some(s) = &self.stages else {
            return Vec::new();
        };
        let from = ["money.stages"];
        let amounts: Vec<String> = s.each.iter().map(|(_, m)| m.amount.to_string()).collect();
        let mut all = vec![
            Entry::words("money.stages", "stage payments together", s.sum.to_string())
                .by("sum of the stages", amounts.join(" + "))
                .source("sum of exact decimals")
                .from(from),
        ];
        if let Some((rest, price)) = s.rest.as_ref().zip(self.price.as_ref()) {
            all.push(
                Entry::words(
                    "money.stages-open",
                    "what the stages leave of the price; below nothing where they exceed it",
                    rest.to_string(),
                )
                .by("price − stages", format!("{price} − {}", s.sum))
                .source("sum of exact decimals")
                .from(["money.price", "money.stages"]),
            );
        }
        for (i, ((what, amount), share)) in s.each.iter().zip(&s.shares).enumerate() {
            all.push(
                Entry::words(
                    format!("money.share.{}", i + 1),
                    format!("share of the stage: {what}"),
                    format!("{}.{:02} %", share / 100, share % 100),
                )
                .by(
                    "stage / all stages, to a hundredth of a percent, so that all make 100",
                    format!("{amount} / {}", s.sum),
                )
                .source("method of largest remainders")
                .from(from),
            );
        }
        all
    }
}
