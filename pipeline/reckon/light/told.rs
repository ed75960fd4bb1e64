//! The entries of the light in the ledger.

use super::{Dose, Light, Responsivity, Weakest, days_until};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;

pub(super) const FADE_TABLE: &str = "dose for a just noticeable fade by ISO blue wool: Michalski, in CIE 157:2004 and CCI's page on light \
    (ultraviolet column from memory); each figure within a factor of two";
pub(super) const CIE: &str = "CIE 157:2004, limits by blue wool class (15,000 and 600,000 lx·h from memory, 15,000 and 150,000 \
    retold by conservators)";
pub(super) const ESTIMATE: &str = "An estimate. What is faded does not come back in the dark, and a filter against ultraviolet does not make \
    light harmless. Where much depends on it ask a textile conservator.";
/// Yarns named in a sentence before the rest is counted.
const NAMED: usize = 5;

impl Light {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = Vec::new();
        let weakest = self.weakest.as_ref();
        if let Some(w) = weakest {
            all.push(self.deciding(w));
            all.push(class(w));
            all.push(
                Entry::number(
                    "light.allowance",
                    "light a year for that class",
                    w.responsivity().a_year(),
                    "lx h",
                )
                .source(CIE)
                .from(["light.class"]),
            );
        }
        if !self.unknown.is_empty() {
            all.push(unknown(&self.unknown));
        }
        let doses = [
            ("home", "a year where it hangs", &self.home),
            ("show", "the show", &self.show),
            (
                "year-with-show",
                "a year with the show in it",
                &self.year_with_show,
            ),
        ];
        for (key, what, dose) in doses {
            if let Some(dose) = dose {
                all.extend(told(key, what, dose, weakest));
            }
        }
        if let Some(home) = &self.home {
            if !self.days_said
                && let Some(first) = all.iter_mut().find(|e| e.name == "light.home.dose")
            {
                first.what.push_str("; 365 days assumed");
            }
            all.extend(weakest.and_then(|w| days_within(home, w.responsivity())));
        } else {
            all.extend(weakest.iter().flat_map(|w| super::examples::examples(w)));
        }
        all
    }

    fn deciding(&self, w: &Weakest) -> Entry {
        let (low, high) = w.grade;
        let grade = if low == high {
            format!("{low}")
        } else {
            format!("{low}-{high}")
        };
        let words = if self.unknown.is_empty() {
            format!("{}, blue wool {grade}", w.name)
        } else {
            format!(
                "{}, blue wool {grade}, unless one of unknown fastness is weaker",
                w.name
            )
        };
        Entry::words("light.weakest", "the yarn that decides", words)
            .by("the lowest light fastness of all yarns, by its lower figure", "")
            .source("ISO 105-B02 grades as recorded; one piece takes the class of its most fugitive colour: own rule")
            .from([format!("weft[{}].light", w.index)])
    }
}

fn class(w: &Weakest) -> Entry {
    let class = w.responsivity();
    let (dose, level) = (class.a_year(), class.brightest());
    Entry::words(
        "light.class",
        "how easily light harms it",
        format!(
            "{}: at most {dose} lx h a year, no brighter than {level} lx",
            class.said()
        ),
    )
    .by(
        "blue wool 1 to 3, 4 to 6, 7 and 8, by the weakest yarn's lower figure",
        format!("blue wool {}", w.grade.0),
    )
    .source(CIE)
    .from(["light.weakest"])
}

fn unknown(names: &[String]) -> Entry {
    let mut said = names
        .iter()
        .take(NAMED)
        .cloned()
        .collect::<Vec<_>>()
        .join(", ");
    if names.len() > NAMED {
        said.push_str(&format!(" and {} more", names.len() - NAMED));
    }
    Entry::words("light.unknown", "yarns whose light fastness is not known", format!("{said}: one of them could decide"))
        .by(
            "no grade is taken from a dye's name: the same dye differs by fibre, mordant and depth",
            "",
        )
        .source("own rule; a published sheet puts most plant yellows and cochineal in blue wool 1 to 3, madder on wool in 4 to 6, indigo on wool in 7 and 8")
        .from(["weft"])
        .caution("Treat an unknown dye as one of blue wool 1 to 3 until a fading test says otherwise.")
}

fn told(key: &str, what: &str, dose: &Dose, weakest: Option<&Weakest>) -> Vec<Entry> {
    let name = |rest: &str| format!("light.{key}.{rest}");
    let total = significant(dose.lux_hours.value, 6);
    let sum = dose
        .terms
        .iter()
        .map(|(lux, hours, days)| format!("{lux} × {hours} × {days}"))
        .collect::<Vec<_>>()
        .join(" + ");
    let mut all = vec![
        Entry::uncertain(
            name("dose"),
            format!("light in {what}"),
            &dose.lux_hours,
            "lx h",
        )
        .by(
            "H = Σ E h n, lux × hours a day × days",
            format!("{sum} = {total} lx h"),
        )
        .source("reciprocity: equal doses do equal harm at ordinary levels; the doubt is that of the reading alone, daylight and meters move it more")
        .from(dose.from.clone())
        .caution(ESTIMATE),
    ];
    let Some(w) = weakest else { return all };
    let class = w.responsivity();
    let allowed = class.a_year();
    all.push(
        Entry::uncertain(
            name("share"),
            format!("share of a year's allowance in {what}"),
            &dose.share(class).times(100.0),
            "%",
        )
        .by(
            "H / H_year",
            format!(
                "{total} / {allowed} = {} %",
                significant(100.0 * dose.share(class).value, 4)
            ),
        )
        .source(CIE)
        .from([name("dose"), "light.allowance".into()])
        .caution(ESTIMATE),
    );
    let rest = if key == "show" {
        dose.months(class)
    } else {
        (dose.months(class) - 12.0).max(0.0)
    };
    let (about, formula, worked) = if key == "show" {
        (
            "months from the opening day until the allowance has grown back: until then it rests in the dark",
            "12 H / H_year",
            format!("12 × {total} / {allowed}"),
        )
    } else {
        (
            "months of rest in the dark after such a year until the allowance has grown back",
            "12 H / H_year − 12, not below 0",
            format!("12 × {total} / {allowed} − 12"),
        )
    };
    all.push(
        Entry::number(name("rest"), about, rest, "months")
            .by(formula, format!("{worked} = {}", significant(rest, 3)))
            .source("arithmetic on the allowance; rest only spreads the light, it brings no colour back")
            .from([name("dose"), "light.allowance".into()]),
    );
    all.extend(fading(&name, what, dose, w, key != "show"));
    all
}

/// Shares of a fade and years until it, without and with ultraviolet; which of both columns applies is
/// said where the record tells.
fn fading(
    name: &dyn Fn(&str) -> String,
    what: &str,
    dose: &Dose,
    w: &Weakest,
    yearly: bool,
) -> Vec<Entry> {
    let mut all = Vec::new();
    let total = significant(dose.lux_hours.value, 6);
    for (uv, suffix, with) in [
        (false, "no-uv", "ultraviolet blocked"),
        (true, "with-uv", "daylight through plain glass"),
    ] {
        let applies = match dose.filtered {
            Some(filtered) if filtered != uv => "; this one applies",
            Some(_) => "; the other one applies",
            None => "; it is not said which applies",
        };
        let (least, most) = w.fade_dose(uv);
        let (low, high) = dose.fade_share(w, uv);
        all.push(
            Entry::range(
                name(&format!("fade-share-{suffix}")),
                format!("share of a just noticeable fade in {what}, {with}{applies}"),
                (round2(100.0 * low), round2(100.0 * high)),
                "%",
            )
            .by(
                "H / 2J to 2 H / J, J the dose for a just noticeable fade",
                format!(
                    "{total} / {} to {total} / {} lx h",
                    significant(most, 4),
                    significant(least, 4)
                ),
            )
            .source(FADE_TABLE)
            .from([name("dose"), "light.weakest".into()])
            .caution(ESTIMATE),
        );
        if let (true, Some((low, high))) = (yearly, dose.years(w, uv)) {
            all.push(
                Entry::range(
                    name(&format!("years-{suffix}")),
                    format!("years until a fade can be noticed, such a year after the other, {with}{applies}"),
                    (round2(low), round2(high)),
                    "years",
                )
                .by(
                    "J / 2H to 2 J / H",
                    format!("{} / {total} to {} / {total}", significant(least, 4), significant(most, 4)),
                )
                .source(FADE_TABLE)
                .from([name("dose"), "light.weakest".into()])
                .caution(ESTIMATE),
            );
        }
    }
    all
}

fn days_within(home: &Dose, class: Responsivity) -> Option<Entry> {
    let (lux, hours, _) = *home.terms.first()?;
    let days = days_until(class.a_year(), lux, hours)?;
    Some(
        Entry::number(
            "light.home.days-within",
            "days of that light that use up a year's allowance",
            days,
            "days",
        )
        .by(
            "H_year / (E h)",
            format!(
                "{} / ({lux} × {hours}) = {}",
                class.a_year(),
                significant(days, 4)
            ),
        )
        .source(CIE)
        .from(["display.light", "display.hours_a_day", "light.allowance"]),
    )
}

/// Two significant digits: a range known to a factor of two has no more.
pub(super) fn round2(value: f64) -> f64 {
    significant(value, 2).parse().map_or(value, |rounded: f64| {
        if rounded.abs() < 100.0 {
            return rounded;
        }
        let step = libm::pow(10.0, libm::floor(libm::log10(rounded.abs())) - 1.0);
        libm::round(value / step) * step
    })
}

#[cfg(test)]
mod tests {
    use super::round2;

    #[test]
    fn a_range_shows_two_digits() {
        assert_eq!(
            [0.0457, 1.234, 98.7, 152.2, 6512.0, 0.0].map(round2),
            [0.046, 1.2, 99.0, 150.0, 6500.0, 0.0]
        );
    }
}
