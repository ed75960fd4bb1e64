//! Names of folders: from a title, and whether one serves at all.

use std::collections::BTreeSet;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Octets of a name made from a title.
const LONGEST: usize = 60;
/// Names that some systems keep for devices.
const DEVICES: &[&str] = &["con", "prn", "aux", "nul"];

/// Whether a name serves as a piece's folder on every system.
pub fn serves_as_folder(name: &str) -> bool {
    !name.is_empty()
        && name.len() <= 100
        && !name.starts_with(['.', '-'])
        && !name.ends_with(['.', ' '])
        && !name.contains(['/', '\\', ':', '*', '?', '"', '<', '>', '|', '%'])
        && !name.chars().any(char::is_control)
}

/// A folder's name from a title: small letters and figures joined by hyphens, Latin letters without accents; nothing
/// where none is left.
pub(super) fn from_title(title: &str) -> Option<String> {
    let spelled = title
        .to_lowercase()
        .replace('ß', "ss")
        .replace('æ', "ae")
        .replace('œ', "oe")
        .replace('ø', "o")
        .replace('ł', "l")
        .replace(['đ', 'ð'], "d")
        .replace('þ', "th")
        .replace(['\'', '’'], "");
    let mut out = String::new();
    for c in spelled.nfkd().filter(|c| !is_combining_mark(*c)).nfc() {
        if c.is_alphanumeric() {
            if out.len() + c.len_utf8() > LONGEST {
                break;
            }
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    let device = DEVICES.contains(&out)
        || out.len() == 4 && (out.starts_with("com") || out.starts_with("lpt"));
    match out {
        "" => None,
        out if device => Some(format!("piece-{out}")),
        out => Some(out.to_string()),
    }
}

/// The name, with a number behind it where it is taken; then it is taken.
pub(super) fn free(name: &str, taken: &mut BTreeSet<String>) -> String {
    let mut out = name.to_string();
    let mut number = 2;
    while !taken.insert(folded(&out)) {
        out = format!("{name}-{number}");
        number += 1;
    }
    out
}

/// As systems compare names that do not tell capitals or the forms of accents apart.
pub(super) fn folded(name: &str) -> String {
    name.to_lowercase().nfc().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_becomes_a_plain_name() {
        for (title, slug) in [
            ("The Sea Door", Some("the-sea-door")),
            ("  Größe & Maß: 2 ", Some("grosse-mass-2")),
            ("Étude n° 3", Some("etude-n-3")),
            ("L'Heure bleue", Some("lheure-bleue")),
            ("../../etc/passwd", Some("etc-passwd")),
            ("=cmd|' /C calc'!A0", Some("cmd-c-calc-a0")),
            ("CON", Some("piece-con")),
            ("海の扉", Some("海の扉")),
            ("???", None),
            ("", None),
        ] {
            assert_eq!(from_title(title).as_deref(), slug, "{title}");
            assert!(from_title(title).is_none_or(|s| serves_as_folder(&s)));
        }
        assert!(from_title(&"long ".repeat(100)).unwrap().len() <= LONGEST);
    }

    #[test]
    fn the_second_of_a_name_gets_a_number() {
        let mut taken = BTreeSet::new();
        let names: Vec<String> = (0..3).map(|_| free("tide", &mut taken)).collect();
        assert_eq!(names, ["tide", "tide-2", "tide-3"]);
    }
}
