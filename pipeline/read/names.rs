//! File names that are the same although their octets differ. One keyboard writes `é` as one
//! character, another system stores it as `e` and an accent (Unicode normal forms C and D, UAX #15);
//! nobody can see the difference, so it is none. Capitals can be seen, and count.

use unicode_normalization::UnicodeNormalization;

/// The file that is meant by a written name: the very same one, else the one that differs in its
/// normal form alone.
pub fn same_name<'a>(
    files: impl Iterator<Item = &'a str> + Clone,
    written: &str,
) -> Option<&'a str> {
    let mut all = files.clone();
    all.find(|file| *file == written).or_else(|| {
        let composed: String = written.nfc().collect();
        let mut all = files;
        all.find(|file| file.nfc().eq(composed.chars()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn composed_and_decomposed_accents_are_one_name_and_capitals_are_not() {
        // UAX #15: U+00E9 is U+0065 U+0301 in form D.
        let files = ["de\u{301}tail.jpg", "Front.jpg"];
        let found = same_name(files.iter().copied(), "d\u{e9}tail.jpg");
        assert_eq!(found, Some("de\u{301}tail.jpg"));
        assert_eq!(same_name(files.iter().copied(), "front.jpg"), None);
        let both = ["de\u{301}tail.jpg", "d\u{e9}tail.jpg"];
        let found = same_name(both.iter().copied(), "d\u{e9}tail.jpg");
        assert_eq!(found, Some("d\u{e9}tail.jpg"), "the very same one first");
    }
}
