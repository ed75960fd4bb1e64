//! One head line: its plain words, and the unit that stands with it.

use super::fields::{FIELDS, Field, Needs, UNITS};
use crate::quantity::Currency;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// What one head line says.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Head {
    /// The field and how plain the word for it is: 0 is plainest.
    pub field: Option<(Field, usize)>,
    /// The unit its values are in where they do not say.
    pub unit: Option<String>,
    /// Sizes stand width first.
    pub width_first: bool,
}

/// Lower case without accents; everything but letters, figures and the signs of units becomes single blanks.
pub(super) fn plain(text: &str) -> String {
    let kept: String = text
        .to_lowercase()
        .replace('ß', "ss")
        .replace("œ", "oe")
        .nfkd()
        .filter(|c| !is_combining_mark(*c))
        .map(|c| match c {
            '″' | '”' | '“' => '"',
            c if c.is_alphanumeric() || "\"£€$¥".contains(c) => c,
            _ => ' ',
        })
        .collect();
    kept.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Reads a head line: `Height (cm)`, `Width in`, `Höhe in cm`, `Preis €`, `weft 2`.
pub(super) fn read(text: &str) -> Head {
    // Words in brackets are a unit, or a word on how it is meant.
    let (before, inside) = match text.find(['(', '[']) {
        Some(at) => (&text[..at], &text[at..]),
        None => (text, ""),
    };
    let (before, inside) = (plain(before), plain(inside));
    let whole = match inside.is_empty() {
        true => before.clone(),
        false => format!("{before} {inside}"),
    };
    // The whole line may be one word of the table (`ends per inch`), or a word with a unit behind it.
    let tries = [(whole.as_str(), ""), (before.as_str(), inside.as_str())];
    for (words, rest) in tries {
        if let Some(found) = field_of(words) {
            return head(
                found,
                unit_of(found.0, rest).or_else(|| unit_of(found.0, words)),
                &whole,
            );
        }
    }
    let words: Vec<&str> = whole.split(' ').collect();
    for cut in (1..words.len()).rev() {
        let (front, back) = (words[..cut].join(" "), words[cut..].join(" "));
        let Some(found) = field_of(&front) else {
            continue;
        };
        // `Höhe in cm`, `width in inches`, `size approx cm`: linking words say nothing.
        let linked = words[cut..]
            .iter()
            .skip_while(|w| matches!(**w, "in" | "en" | "approx" | "ca" | "total" | "of"))
            .copied()
            .collect::<Vec<_>>()
            .join(" ");
        let unit = unit_of(found.0, &linked).or_else(|| unit_of(found.0, &back));
        let bare = linked.is_empty() || linked.chars().all(|c| c.is_ascii_digit());
        let order = found.0 == Field::Size && linked.split(' ').all(is_size_word);
        if unit.is_some() || bare && found.0.may_repeat() || order {
            return head(found, unit, &whole);
        }
    }
    Head::default()
}

/// What she writes behind `--map X=`: a field's name, with a unit in brackets or without. `Ok(None)`: no field.
pub(super) fn wanted(text: &str) -> Result<Option<Head>, String> {
    let (name, inside) = match text.split_once('(') {
        Some((name, rest)) => (name.trim(), rest.trim_end().trim_end_matches(')').trim()),
        None => (text.trim(), ""),
    };
    if name.is_empty() {
        return Ok(None);
    }
    let found = Field::named(&name.to_lowercase()).ok_or_else(|| {
        let all = FIELDS.iter().map(|w| w.name);
        let near = crate::read::nearest(name, all.clone());
        let near = near.map_or(String::new(), |n| format!("; did you mean `{n}`?"));
        let known = all.collect::<Vec<_>>().join(", ");
        format!("`{name}` is no field{near} Known: {known}")
    })?;
    let unit = match inside {
        "" => None,
        "day first" | "month first" if matches!(found, Field::Made | Field::OwnerSince) => {
            Some(inside.to_string())
        }
        "width first" if found == Field::Size => None,
        _ => Some(
            unit_of(found, &plain(inside))
                .ok_or_else(|| format!("`{inside}` is no unit for `{}`", found.name()))?,
        ),
    };
    Ok(Some(Head {
        field: Some((found, 0)),
        unit,
        width_first: inside == "width first",
    }))
}

fn head(found: (Field, usize), unit: Option<String>, whole: &str) -> Head {
    let order: Vec<&str> = whole.split(' ').filter(|w| is_size_word(w)).collect();
    let wide = |w: &&str| {
        matches!(
            *w,
            "w" | "b" | "l" | "width" | "breite" | "largeur" | "ancho" | "leveys"
        )
    };
    Head {
        field: Some(found),
        unit,
        width_first: found.0 == Field::Size && order.len() >= 2 && order.first().is_some_and(wide),
    }
}

fn is_size_word(word: &str) -> bool {
    matches!(
        word,
        "h" | "w"
            | "b"
            | "l"
            | "x"
            | "d"
            | "height"
            | "width"
            | "hohe"
            | "hoehe"
            | "breite"
            | "hauteur"
            | "largeur"
            | "alto"
            | "ancho"
            | "korkeus"
            | "leveys"
    )
}

fn field_of(words: &str) -> Option<(Field, usize)> {
    let without = words.replace(" x ", " ");
    FIELDS.iter().find_map(|w| {
        let at = w
            .words
            .iter()
            .position(|word| *word == words || *word == without)?;
        Some((w.field, at))
    })
}

fn unit_of(field: Field, words: &str) -> Option<String> {
    let needs = field.unit_of()?;
    let known = |words: &str| {
        UNITS
            .iter()
            .find(|(kind, word, _)| *kind == needs && *word == words)
            .map(|(.., unit)| unit.to_string())
    };
    let money = |word: &str| {
        let letters = word.to_uppercase();
        (needs == Needs::Money && word.len() == 3)
            .then(|| Currency::parse(&letters).ok())
            .flatten()
            .map(|_| letters)
    };
    // With sizes the order may stand beside the unit: `h x w cm`.
    let last = words.split(' ').next_back().unwrap_or("");
    known(words)
        .or_else(|| money(words))
        .or_else(|| known(last).filter(|_| field == Field::Size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn head_lines_are_read_with_their_units() {
        for (text, field, unit) in [
            ("Title", Some(Field::Title), None),
            ("TITEL", Some(Field::Title), None),
            ("Height (cm)", Some(Field::Height), Some("cm")),
            ("Height [in]", Some(Field::Height), Some("in")),
            ("Width in", Some(Field::Width), Some("in")),
            ("Width in inches", Some(Field::Width), Some("in")),
            ("Höhe in cm", Some(Field::Height), Some("cm")),
            ("Breite/cm", Some(Field::Width), Some("cm")),
            ("Größe", Some(Field::Size), None),
            ("Maße (H x B, cm)", Some(Field::Size), Some("cm")),
            ("Size (cm)", Some(Field::Size), Some("cm")),
            ("H x W cm", Some(Field::Size), Some("cm")),
            ("EPI", Some(Field::Sett), Some("epi")),
            ("Sett (ends/cm)", Some(Field::Sett), Some("ends/cm")),
            ("Price £", Some(Field::Price), Some("GBP")),
            ("Preis (EUR)", Some(Field::Price), Some("EUR")),
            ("Weight, kg", Some(Field::Mass), Some("kg")),
            ("Weft 2", Some(Field::Weft), None),
            ("Année", Some(Field::Made), None),
            ("Título", Some(Field::Title), None),
            ("Leveys (cm)", Some(Field::Width), Some("cm")),
            ("Height of ceiling", None, None),
            ("Edition", None, None),
            ("Title 2", None, None),
            ("", None, None),
        ] {
            let head = read(text);
            assert_eq!(head.field.map(|f| f.0), field, "{text}");
            assert_eq!(head.unit.as_deref(), unit, "{text}");
        }
        assert!(read("Size (W x H)").width_first);
        assert!(read("Maße B x H").width_first);
        assert!(!read("Size (H x W)").width_first);
    }

    #[test]
    fn what_she_maps_is_a_field_with_a_unit_or_nothing() {
        assert_eq!(wanted("").unwrap(), None);
        let head = wanted("width (cm)").unwrap().unwrap();
        assert_eq!(head.field, Some((Field::Width, 0)));
        assert_eq!(head.unit.as_deref(), Some("cm"));
        assert_eq!(
            wanted("made (day first)").unwrap().unwrap().unit.as_deref(),
            Some("day first")
        );
        assert!(wanted("widht").unwrap_err().contains("`width`"));
        assert!(wanted("width (kg)").unwrap_err().contains("no unit"));
    }
}
