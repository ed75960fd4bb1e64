//! Figures in print: the language's decimal mark, thin spaces before units, `×` for by, inches in
//! eighths.

use super::words::Words;
use crate::quantity::{Length, Mass, Reading};
use crate::record::Measures;

/// The narrow no-break space that stands before a unit.
pub(super) const THIN: char = '\u{202F}';

/// A number with so many decimals and the language's mark.
pub(super) fn decimal(value: f64, places: usize, w: &Words) -> String {
    format!("{value:.places$}").replace('.', &w.language.decimal)
}

/// A number with as many decimals as it needs, two at most.
pub(super) fn short(value: f64, w: &Words) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.replace('.', &w.language.decimal)
}

/// Height, width and depth of a piece, as stated.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Extent {
    /// Greatest height.
    pub height: Length,
    /// Greatest width.
    pub width: Length,
    /// Thickness, if measured.
    pub depth: Option<Length>,
    /// Whether the readings went down to the millimetre.
    pub fine: bool,
}

impl Extent {
    /// "H 121.4 × W 166.4 cm (H 47 3/4 × W 65 1/2 in)": height by width by depth, the second system
    /// in brackets (Cataloging Cultural Objects, 3.2.1); centimetres to one decimal at most
    /// (Wellcome Collection's cataloguing note), inches to the nearest eighth.
    pub(super) fn in_words(&self, measures: Measures, w: &Words) -> String {
        let places = usize::from(self.fine);
        let cm = self.row(
            w,
            |l, thick| decimal(l.cm(), if thick { 1 } else { places }, w),
            "cm",
        );
        let inches = self.row(w, |l, _| eighths(l), "in");
        match measures {
            Measures::Cm => cm,
            Measures::In => inches,
            Measures::Both => format!("{cm} ({inches})"),
        }
    }

    fn row(&self, w: &Words, print: impl Fn(Length, bool) -> String, unit: &str) -> String {
        let nb = '\u{A0}';
        let mut out = format!(
            "{}{nb}{}{nb}×{nb}{}{nb}{}",
            w.size.height,
            print(self.height, false),
            w.size.width,
            print(self.width, false)
        );
        if let Some(depth) = self.depth {
            out.push_str(&format!(" ×{nb}{}{nb}{}", w.size.depth, print(depth, true)));
        }
        out.push(THIN);
        out.push_str(unit);
        out
    }
}

/// Inches of 25.4 mm to the nearest eighth, as museums print them.
pub(super) fn eighths(length: Length) -> String {
    // Lengths of tapestries are far within range; a negative one can not be written.
    let eighths = (length.inches() * 8.0).round().max(0.0) as u64;
    let part = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
    let part = part.get((eighths % 8) as usize).copied().unwrap_or("");
    match (eighths / 8, part) {
        (0, "") => "0".to_string(),
        (0, part) => part.to_string(),
        (whole, part) => format!("{whole}{part}"),
    }
}

/// A mass as the scale gave it: "4.31 kg", "820 g", with pounds and ounces where inches are used.
pub(super) fn mass(reading: &Reading<Mass>, measures: Measures, w: &Words) -> String {
    let (value, half) = (reading.value, reading.half_place);
    let metric = if value.kg() >= 1.0 {
        let places = (1..=3).fold(0, |p, n| {
            let step = [1000.0, 100.0, 10.0, 1.0].get(n).copied().unwrap_or(1.0);
            if half.g() * 2.0 <= step * 1.001 { n } else { p }
        });
        format!("{}{THIN}kg", decimal(value.kg(), places, w))
    } else {
        format!("{}{THIN}g", decimal(value.g(), 0, w))
    };
    let ounces = (value.g() / 28.349_523_125).round().max(0.0) as u64;
    let avoirdupois = match (ounces / 16, ounces % 16) {
        (0, oz) => format!("{oz}{THIN}oz"),
        (lb, 0) => format!("{lb}{THIN}lb"),
        (lb, oz) => format!("{lb}{THIN}lb {oz}{THIN}oz"),
    };
    match measures {
        Measures::Cm => metric,
        Measures::In => avoirdupois,
        Measures::Both => format!("{metric} ({avoirdupois})"),
    }
}

/// A length on a drawing: "168 cm" or "66⅛ in".
pub(super) fn length(value: Length, measures: Measures, w: &Words) -> String {
    match measures {
        Measures::In => format!("{}{THIN}in", eighths(value)),
        _ => format!("{}{THIN}cm", short((value.cm() * 10.0).round() / 10.0, w)),
    }
}

/// "71 %".
pub(super) fn percent(whole: u32) -> String {
    format!("{whole}{THIN}%")
}

#[cfg(test)]
mod tests {
    use super::super::words::Lexicon;
    use super::*;

    #[test]
    fn inches_agree_with_published_captions() {
        // Cataloging Cultural Objects, 3.2.1: 198 × 233 × 82 cm is 78 × 91 3/4 × 32 1/4 in; museum
        // captions with 26.6 × 19.1 cm (10 1/2 × 7 1/2) and 17 × 13 cm (6 3/4 × 5 1/8).
        for (cm, inches) in [
            (198.0, "78"),
            (233.0, "91¾"),
            (82.0, "32¼"),
            (26.6, "10½"),
            (19.1, "7½"),
            (17.0, "6¾"),
            (13.0, "5⅛"),
        ] {
            assert_eq!(eighths(Length::from_mm(cm * 10.0)), inches);
        }
    }

    #[test]
    fn the_size_has_its_letters_and_the_second_system_in_brackets() {
        let lexicon = Lexicon::new();
        let size = Extent {
            height: Length::from_mm(1214.0),
            width: Length::from_mm(1664.0),
            depth: None,
            fine: true,
        };
        let say = |code: &str, measures| {
            let text = size.in_words(measures, lexicon.choose(&[code.to_string()])[0]);
            text.replace(['\u{A0}', THIN], " ")
        };
        assert_eq!(say("en", Measures::Cm), "H 121.4 × W 166.4 cm");
        assert_eq!(say("fi", Measures::Cm), "K 121,4 × L 166,4 cm");
        assert_eq!(
            say("en", Measures::Both),
            "H 121.4 × W 166.4 cm (H 47¾ × W 65½ in)"
        );
    }

    #[test]
    fn a_mass_keeps_the_places_it_was_written_with() {
        let lexicon = Lexicon::new();
        let w = lexicon.choose(&[])[0];
        for (text, print) in [
            ("4.31 kg", "4.31 kg"),
            ("4.3 kg", "4.3 kg"),
            ("4310 g", "4.310 kg"),
            ("820 g", "820 g"),
            ("5 kg", "5 kg"),
        ] {
            let reading = Reading::parse(text).unwrap();
            assert_eq!(mass(&reading, Measures::Cm, w).replace(THIN, " "), print);
        }
        // 1 lb is 453.59237 g exactly: 9 lb 8 oz is 4309 g.
        let reading = Reading::parse("4309 g").unwrap();
        assert_eq!(
            mass(&reading, Measures::In, w).replace(THIN, " "),
            "9 lb 8 oz"
        );
    }
}
