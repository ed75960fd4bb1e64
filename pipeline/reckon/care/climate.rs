//! The air a hanging should have, and the air it was measured in.

use crate::quantity::Dimension;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;
use crate::record::Piece;

/// Relative humidity advised for textiles, %: AIC's textile wiki and the Åland museum both give 40 to 60.
pub const HUMIDITY: (f64, f64) = (40.0, 60.0);
/// Temperature advised for textiles, °C: AIC's textile wiki.
pub const TEMPERATURE: (f64, f64) = (15.0, 20.0);
/// Damp: mould and corrosion (Canadian Conservation Institute, on incorrect humidity), %.
pub const DAMP: f64 = 75.0;
/// Standard air for measuring textiles: 20.0 ± 2.0 °C and 65 ± 4 % (ISO 139:2005).
pub const STANDARD: [(f64, f64); 2] = [(18.0, 22.0), (61.0, 69.0)];

/// The air it was measured in.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// °C, and as written.
    pub temperature: Option<(f64, String)>,
    /// % RH, and as written.
    pub humidity: Option<(f64, String)>,
}

impl Climate {
    /// Relative humidity to keep a hanging in, %.
    pub const KEPT_HUMIDITY: (f64, f64) = HUMIDITY;
    /// Temperature to keep it in, °C.
    pub const KEPT_TEMPERATURE: (f64, f64) = TEMPERATURE;
    /// From here on it is damp, %.
    pub const DAMP: f64 = DAMP;

    pub(super) fn of(piece: &Piece) -> Climate {
        let air = piece.measured.at.as_ref();
        let temperature = air.and_then(|a| a.temperature.as_ref());
        let humidity = air.and_then(|a| a.humidity.as_ref());
        Climate {
            temperature: temperature.map(|t| (t.value.value.celsius(), t.value.text.clone())),
            humidity: humidity.map(|h| (h.value.value.base(), h.value.text.clone())),
        }
    }

    /// Whether it was measured in standard air; `None` where the air is not fully said.
    pub fn standard(&self) -> Option<bool> {
        let inside = |x: f64, (low, high): (f64, f64)| (low..=high).contains(&x);
        let (t, h) = (self.temperature.as_ref()?, self.humidity.as_ref()?);
        Some(inside(t.0, STANDARD[0]) && inside(h.0, STANDARD[1]))
    }

    pub(super) fn entries(&self) -> Vec<Entry> {
        let mut all = vec![
            Entry::range("climate.humidity", "relative humidity to keep it in", HUMIDITY, "%")
                .by("slow change with the seasons is borne, sudden change is not", "")
                .source("AIC textile wiki; Åland museum: under 40 % too dry, over 60 % mould and insects")
                .caution("Over 75 % for weeks means mould, which harms people too: air it out and ask a conservator."),
            Entry::range("climate.temperature", "temperature to keep it in", TEMPERATURE, "C")
                .by("cooler is better and slows insects", "")
                .source("AIC textile wiki"),
        ];
        let measured = [
            (
                "climate.measured-humidity",
                "humidity when it was measured",
                "%",
                &self.humidity,
                HUMIDITY,
                "measured.at.humidity",
            ),
            (
                "climate.measured-temperature",
                "temperature when it was measured",
                "C",
                &self.temperature,
                TEMPERATURE,
                "measured.at.temperature",
            ),
        ];
        for (name, what, unit, reading, range, field) in measured {
            let Some((value, text)) = reading else {
                continue;
            };
            all.push(
                Entry::words(
                    name,
                    what,
                    format!("{text}: {}", against(*value, range, unit)),
                )
                .by(
                    "compared with the range to keep it in",
                    format!("{} to {} {unit}", range.0, range.1),
                )
                .source("the ranges above")
                .from([field]),
            );
        }
        if let Some(standard) = self.standard() {
            let words = if standard {
                "standard air: size and mass can be compared with any other taken in it"
            } else {
                "not standard air: wool takes up and gives off water, so mass may differ by a few percent elsewhere"
            };
            all.push(
                Entry::words("climate.standard-air", "the air it was measured in", words)
                    .by("20.0 ± 2.0 °C and 65 ± 4 % RH", "")
                    .source("ISO 139:2005")
                    .from(["measured.at.temperature", "measured.at.humidity"]),
            );
        }
        all
    }
}

/// Where a value lies to a range, in words.
fn against(value: f64, (low, high): (f64, f64), unit: &str) -> String {
    let by = |d: f64| significant(d, 2);
    if value < low {
        format!("{} {unit} under the range", by(low - value))
    } else if value > DAMP && unit == "%" {
        format!("{} {unit} over the range, and damp", by(value - high))
    } else if value > high {
        format!("{} {unit} over the range", by(value - high))
    } else {
        "within the range".to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn air(t: f64, h: f64) -> Climate {
        Climate {
            temperature: Some((t, format!("{t} C"))),
            humidity: Some((h, format!("{h} %"))),
        }
    }

    #[test]
    fn air_is_set_against_the_range() {
        // Source, published: AIC textile wiki and the Åland museum: 40 to 60 % relative humidity; under it
        // too dry, over it mould and insects.
        assert_eq!(against(58.0, HUMIDITY, "%"), "within the range");
        assert_eq!(against(34.0, HUMIDITY, "%"), "6 % under the range");
        assert_eq!(against(66.0, HUMIDITY, "%"), "6 % over the range");
        // Source, published: Canadian Conservation Institute: over 75 % is damp.
        assert_eq!(
            against(80.0, HUMIDITY, "%"),
            "20 % over the range, and damp"
        );
        // Source, published: a museum association's loan figures (Bizot 16-25 °C and 40-60 %; Icon 5-23 °C
        // and 35-65 %): the ranges advised here lie within the second.
        assert!(
            HUMIDITY.0 >= 35.0
                && HUMIDITY.1 <= 65.0
                && TEMPERATURE.0 >= 5.0
                && TEMPERATURE.1 <= 23.0
        );
    }

    #[test]
    fn standard_air_is_that_of_iso_139() {
        // Source, published: ISO 139:2005: 20.0 ± 2.0 °C, 65 ± 4 %.
        assert_eq!(air(20.0, 65.0).standard(), Some(true));
        assert_eq!(air(22.0, 61.0).standard(), Some(true));
        assert_eq!(air(23.0, 65.0).standard(), Some(false));
        assert_eq!(air(20.0, 58.0).standard(), Some(false));
    }
}
