//! The order of names on a list, as the language of the list has it.
//!
//! Names are sorted by their last word, and where that is the same by the whole name; a name that is sorted otherwise
//! (a family name that stands first, a particle that counts or does not) says so on the roll with `sort`. What the letters'
//! order is differs between languages (å, ä and ö stand last in Finnish, ñ after n in Spanish): it is that of the Common
//! Locale Data Repository, by the collation algorithm of UTS #10.

use icu_collator::options::CollatorOptions;
use icu_collator::{Collator, CollatorBorrowed};
use icu_locale_core::Locale;
use std::cmp::Ordering;

/// What a name is sorted by: what the roll says, else the name with its last word before the others.
pub fn sorted_by(name: &str, sort: Option<&str>) -> String {
    if let Some(sort) = sort {
        return sort.to_string();
    }
    match name.trim().rsplit_once(char::is_whitespace) {
        Some((before, last)) => format!("{last} {before}"),
        None => name.trim().to_string(),
    }
}

/// Puts things into the order of their sorting names in a language (ISO 639-1). A language without an order of its own
/// has the common one. Where two sorting names are alike to the language their code points decide, so that the same
/// names always come in the same order.
pub fn in_order<T>(language: &str, all: &mut [T], by: impl Fn(&T) -> String) {
    let collator = collator(language);
    let compare = |a: &T, b: &T| {
        let (a, b) = (by(a), by(b));
        // The last word by itself first: "Ash Zoe" stands before "Ashby Ann" in every order.
        let (first_a, first_b) = (first(&a), first(&b));
        compared(collator.as_ref(), first_a, first_b)
            .then_with(|| compared(collator.as_ref(), &a, &b))
            .then_with(|| a.cmp(&b))
    };
    all.sort_by(compare);
}

fn first(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or("")
}

fn collator(language: &str) -> Option<CollatorBorrowed<'static>> {
    let locale = Locale::try_from_str(language).ok()?;
    Collator::try_new(locale.into(), CollatorOptions::default()).ok()
}

fn compared(collator: Option<&CollatorBorrowed<'static>>, a: &str, b: &str) -> Ordering {
    collator.map_or_else(|| a.cmp(b), |c| c.compare(a, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn order(language: &str, names: &[&str]) -> Vec<String> {
        let mut all: Vec<String> = names.iter().map(|n| n.to_string()).collect();
        in_order(language, &mut all, |n| sorted_by(n, None));
        all
    }

    #[test]
    fn each_language_has_its_own_order() {
        let names = ["Aino Ähtäri", "Aino Zetter", "Aino Ahti"];
        // Source, published: UTS #10, section 1.1: z before ö in Swedish (so in Finnish), ö before z in German.
        assert_eq!(
            order("fi", &names),
            ["Aino Ahti", "Aino Zetter", "Aino Ähtäri"]
        );
        assert_eq!(
            order("de", &names),
            ["Aino Ähtäri", "Aino Ahti", "Aino Zetter"]
        );
        // Source, published: CLDR, Spanish: ñ is a letter after n.
        assert_eq!(
            order("es", &["Ana Ñuño", "Ana Nuz", "Ana Oca"]),
            ["Ana Nuz", "Ana Ñuño", "Ana Oca"]
        );
    }

    #[test]
    fn names_go_by_their_last_word_unless_the_roll_says_otherwise() {
        assert_eq!(
            order("en", &["Zoe Ash", "Ann Ashby", "Ben Ash"]),
            ["Ben Ash", "Zoe Ash", "Ann Ashby"]
        );
        assert_eq!(sorted_by("Old Mr Capstick", None), "Capstick Old Mr");
        assert_eq!(
            sorted_by("Ludwig van der Tide", Some("van der Tide")),
            "van der Tide"
        );
        assert_eq!(sorted_by("Piper", None), "Piper");
    }
}
