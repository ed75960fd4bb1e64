//! Figures in print: the language's decimal mark, thin spaces before units, `×` for by, inches in
//! eighths, and each figure with the places it was written with.

use super::words::Words;
use crate::quantity::{Length, Mass, Money, Reading};
use crate::record::{At, Measures};

/// The narrow no-break space that stands before a unit.
pub(super) const THIN: char = '\u{202F}';

/// A number with so many decimals and the language's mark.
pub(super) fn decimal(value: f64, places: usize, w: &Words) -> String {
    format!("{value:.places$}").replace('.', &w.language.decimal)
}

/// What she wrote, with the language's mark where a point stands between two figures.
pub(super) fn as_written(text: &str, w: &Words) -> String {
    let is_figure = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut out = String::with_capacity(text.len());
    for (i, c) in text.char_indices() {
        let (before, after) = (out.chars().next_back(), text[i..].chars().nth(1));
        if c == '.' && is_figure(before) && is_figure(after) {
            out.push_str(&w.language.decimal);
        } else {
            out.push(c);
        }
    }
    out
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
    pub height: Stated,
    /// Greatest width.
    pub width: Stated,
    /// Thickness, if measured.
    pub depth: Option<Stated>,
}

/// A length with the places it was written with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stated {
    /// The length.
    pub length: Length,
    /// Half of the last place written.
    pub half_place: Length,
}

impl Stated {
    /// The greatest of several readings, with its own places; nothing where there is none.
    pub(super) fn greatest(readings: &[At<Reading<Length>>]) -> Stated {
        let mm = |r: &At<Reading<Length>>| r.value.value.mm();
        let nothing = Length::from_mm(0.0);
        readings
            .iter()
            .max_by(|a, b| mm(a).total_cmp(&mm(b)))
            .map_or(
                Stated {
                    length: nothing,
                    half_place: nothing,
                },
                |r| Stated::of(&r.value),
            )
    }

    /// One reading.
    pub(super) fn of(reading: &Reading<Length>) -> Stated {
        Stated {
            length: reading.value,
            half_place: reading.half_place,
        }
    }

    /// In centimetres: one decimal where it was written to less than a centimetre, else none.
    fn centimetres(self, w: &Words) -> String {
        let places = usize::from(self.half_place.mm() < 5.0);
        decimal(self.length.cm(), places, w)
    }

    /// In millimetres, likewise.
    fn millimetres(self, w: &Words) -> String {
        let places = usize::from(self.half_place.mm() < 0.5);
        decimal(self.length.mm(), places, w)
    }
}

impl Extent {
    /// Height and width of a piece that is not woven yet.
    pub(super) fn flat(height: &Reading<Length>, width: &Reading<Length>) -> Extent {
        Extent {
            height: Stated::of(height),
            width: Stated::of(width),
            depth: None,
        }
    }

    /// "H 121.4 × W 166.4 cm (H 47 3/4 × W 65 1/2 in)": height by width by depth, the second system
    /// in brackets (Cataloging Cultural Objects, 3.2.1); centimetres to one decimal at most
    /// (Wellcome Collection's cataloguing note), inches to the nearest eighth. A thickness under a
    /// centimetre is said in millimetres, one under an inch to the nearest sixteenth (own rule: a
    /// decimal of a centimetre would be a third of it).
    pub(super) fn in_words(&self, measures: Measures, w: &Words) -> String {
        let metric = self.depth.map(|d| {
            if d.length.mm() < 10.0 {
                (d.millimetres(w), "mm")
            } else {
                (d.centimetres(w), "cm")
            }
        });
        let imperial = self.depth.map(|d| {
            if d.length.inches() < 1.0 {
                (sixteenths(d.length), "in")
            } else {
                (eighths(d.length), "in")
            }
        });
        let cm = self.row(w, |l| l.centimetres(w), "cm", metric);
        let inches = self.row(w, |l| eighths(l.length), "in", imperial);
        match measures {
            Measures::Cm => cm,
            Measures::In => inches,
            Measures::Both => format!("{cm} ({inches})"),
        }
    }

    /// Height by width, by depth: in one unit it stands once, behind the last; else behind each.
    fn row(
        &self,
        w: &Words,
        print: impl Fn(Stated) -> String,
        unit: &str,
        depth: Option<(String, &str)>,
    ) -> String {
        let nb = '\u{A0}';
        let mut out = format!(
            "{}{nb}{}{nb}×{nb}{}{nb}{}",
            w.size.height,
            print(self.height),
            w.size.width,
            print(self.width)
        );
        let mut last = unit;
        if let Some((depth, its)) = depth {
            if its != unit {
                out.push(THIN);
                out.push_str(unit);
            }
            out.push_str(&format!(" ×{nb}{}{nb}{depth}", w.size.depth));
            last = its;
        }
        out.push(THIN);
        out.push_str(last);
        out
    }
}

/// Inches to the nearest sixteenth, for what is thinner than an inch; never nothing at all.
fn sixteenths(length: Length) -> String {
    let sixteenths = (length.inches() * 16.0).round().clamp(1.0, 16.0) as u64;
    if sixteenths.is_multiple_of(2) {
        eighths(Length::from_mm(sixteenths as f64 * 25.4 / 16.0))
    } else {
        format!("{sixteenths}/16")
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

/// Rounded to two significant digits, as an estimate is told.
pub(super) fn two_digits(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(value.abs())) - 1.0);
    libm::round(value / step) * step
}

/// A whole number in groups of three, parted by narrow spaces from five digits on (ISO 80000-1, 7.3.1,
/// from memory): so it reads alike in every language.
pub(super) fn grouped(value: f64) -> String {
    parted(&format!("{:.0}", libm::round(value)))
}

fn parted(whole: &str) -> String {
    let digits = whole.trim_start_matches('-');
    let mut out = String::new();
    if digits.len() < whole.len() {
        out.push('−');
    }
    if digits.len() < 5 {
        out.push_str(digits);
        return out;
    }
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(THIN);
        }
        out.push(c);
    }
    out
}

/// An amount with its currency: "11 400 GBP", "149.59 GBP". Nothing is written for no pence.
pub(super) fn money(money: &Money, w: &Words) -> String {
    let text = Money::rounded(money.amount, money.currency)
        .amount
        .to_string();
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let mut out = parted(whole);
    if part.bytes().any(|b| b != b'0') {
        out.push_str(&w.language.decimal);
        out.push_str(part);
    }
    format!("{out}\u{A0}{}", money.currency)
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
        let size = extent("121.4 cm", "166.4 cm", None);
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
    fn amounts_are_parted_and_keep_their_pence() {
        let lexicon = Lexicon::new();
        let said = |text: &str, code: &str| {
            let words = lexicon.choose(&[code.to_string()])[0];
            // A sum below nothing comes from reckoning alone; it can not be written.
            let mut sum = Money::parse(text.trim_start_matches('-')).unwrap();
            if text.starts_with('-') {
                sum.amount = -sum.amount;
            }
            let text = money(&sum, words);
            text.replace(['\u{A0}', THIN], " ")
        };
        // Source, from memory: ISO 80000-1, 7.3.1: groups of three, parted by a small space; not for four digits.
        assert_eq!(said("11400 GBP", "en"), "11 400 GBP");
        assert_eq!(said("3250 GBP", "en"), "3250 GBP");
        assert_eq!(said("1234567.5 EUR", "de"), "1 234 567,50 EUR");
        assert_eq!(said("-10982.50 GBP", "en"), "−10 982.50 GBP");
        assert_eq!(said("120000 JPY", "fi"), "120 000 JPY");
        assert_eq!(grouped(150_000.4).replace(THIN, " "), "150 000");
        assert_eq!(
            [394_200.0, 2.628, 0.0457].map(two_digits),
            [390_000.0, 2.6, 0.046]
        );
    }

    fn extent(height: &str, width: &str, depth: Option<&str>) -> Extent {
        let stated = |text: &str| Stated::of(&Reading::parse(text).unwrap());
        Extent {
            height: stated(height),
            width: stated(width),
            depth: depth.map(stated),
        }
    }

    #[test]
    fn each_figure_keeps_the_places_it_was_written_with() {
        let lexicon = Lexicon::new();
        let w = lexicon.choose(&[])[0];
        let say = |height, width, depth, measures| {
            let text = extent(height, width, depth).in_words(measures, w);
            text.replace(['\u{A0}', THIN], " ")
        };
        let cm = Measures::Cm;
        assert_eq!(say("96 cm", "132.5 cm", None, cm), "H 96 × W 132.5 cm");
        assert_eq!(
            say("80.4 cm", "59.2 cm", Some("3.5 mm"), cm),
            "H 80.4 × W 59.2 cm × D 3.5 mm"
        );
        assert_eq!(
            say("8 cm", "7 cm", Some("2 mm"), cm),
            "H 8 × W 7 cm × D 2 mm"
        );
        assert_eq!(
            say("8 cm", "7 cm", Some("12 mm"), cm),
            "H 8 × W 7 × D 1.2 cm"
        );
        // Source, published: yard and pound agreement (1959), 1 in = 25.4 mm: 3.5 mm are 2.2 sixteenths, 5 mm
        // are 3.1, 12 mm are 7.6, 30 mm are 9.4 eighths.
        let inches = Measures::In;
        assert_eq!(
            say("26.6 cm", "19.1 cm", Some("3.5 mm"), inches),
            "H 10½ × W 7½ × D ⅛ in"
        );
        assert!(say("1 m", "1 m", Some("5 mm"), inches).ends_with("D 3/16 in"));
        assert!(say("1 m", "1 m", Some("12 mm"), inches).ends_with("D ½ in"));
        assert!(say("1 m", "1 m", Some("30 mm"), inches).ends_with("D 1⅛ in"));
        assert!(say("1 m", "1 m", Some("0.1 mm"), inches).ends_with("D 1/16 in"));
        assert_eq!(
            say("26.6 cm", "19.1 cm", Some("3.5 mm"), Measures::Both),
            "H 26.6 × W 19.1 cm × D 3.5 mm (H 10½ × W 7½ × D ⅛ in)"
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
