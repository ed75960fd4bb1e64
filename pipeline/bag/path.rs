//! What a path may hold: dangers that lead out of a bag, names another system can't keep, and names
//! that another system takes for one (RFC 8493 sections 5 and 6).

use unicode_normalization::UnicodeNormalization;

/// Why a path must not be followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Danger {
    /// Nothing at all, or an empty part (`a//b`, `a/`).
    #[error("has an empty part")]
    Empty,
    /// Begins with `/` or `\`.
    #[error("begins at the root of the disk")]
    Absolute,
    /// Has a part `.` or `..`, also between backslashes.
    #[error("climbs out of the folder with dots")]
    Dots,
    /// Begins with `~`, which some programs take for a home folder.
    #[error("begins with a tilde, which stands for a home folder")]
    Home,
    /// Begins with a drive letter.
    #[error("begins with a drive letter")]
    Drive,
    /// Holds a NUL character, where many programs stop reading.
    #[error("holds a NUL character")]
    Nul,
}

/// Whether a relative path with `/` between its parts stays where it belongs, on every system.
pub fn check_path(path: &str) -> Result<(), Danger> {
    let mut first = path.chars();
    let drive = first.next().is_some_and(|c| c.is_ascii_alphabetic()) && first.next() == Some(':');
    if path.contains('\0') {
        Err(Danger::Nul)
    } else if path.starts_with(['/', '\\']) {
        Err(Danger::Absolute)
    } else if path.starts_with('~') {
        Err(Danger::Home)
    } else if drive {
        Err(Danger::Drive)
    } else if path
        .split(['/', '\\'])
        .any(|part| part == "." || part == "..")
    {
        Err(Danger::Dots)
    } else if path.split('/').any(str::is_empty) {
        Err(Danger::Empty)
    } else {
        Ok(())
    }
}

/// Why one part of a path can't be kept by another common system, or is lost on the way through older
/// tools; nothing when it is safe everywhere.
pub fn unportable(part: &str) -> Option<&'static str> {
    if part
        .chars()
        .any(|c| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}'))
    {
        return Some("holds a line break or control character");
    }
    if part.chars().any(is_directional) {
        return Some("holds an invisible character that turns the reading direction");
    }
    if part.contains(['<', '>', ':', '"', '|', '?', '*', '\\']) {
        return Some("holds one of < > : \" | ? * \\, which Windows forbids");
    }
    if part.contains('%') {
        return Some("holds a %, which tools for bags treat in different ways");
    }
    if part.ends_with(|c: char| c == '.' || c.is_whitespace()) {
        return Some("ends in a dot or blank, which some systems cut off");
    }
    if is_reserved(part) {
        return Some("is a name that Windows keeps for a device");
    }
    if part.len() > LONGEST_PART {
        return Some("is longer than 255 octets, which most disks can't keep");
    }
    None
}

/// Octets that one part of a path may have on the common file systems.
pub(crate) const LONGEST_PART: usize = 255;

/// Marks that change the direction of the text around them, or the byte-order mark.
pub(crate) fn is_directional(c: char) -> bool {
    matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// CON, PRN, AUX, NUL, COM1-9, LPT1-9 and their like, with or without an extension.
pub(crate) fn is_reserved(part: &str) -> bool {
    let stem = part
        .split('.')
        .next()
        .unwrap_or(part)
        .trim_end()
        .to_uppercase();
    if ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"].contains(&stem.as_str()) {
        return true;
    }
    ["COM", "LPT"].iter().any(|port| {
        stem.strip_prefix(port).is_some_and(|number| {
            let mut digits = number.chars();
            let digit = digits.next();
            digits.next().is_none()
                && digit.is_some_and(|c| c.is_ascii_digit() || matches!(c, '¹' | '²' | '³'))
        })
    })
}

/// The path in composed form (NFC), to compare names that differ only in how accents are stored.
pub fn composed(path: &str) -> String {
    path.nfc().collect()
}

/// A key under which all paths fall together that some file system takes for one: composed, and
/// without the difference of case.
pub fn folded(path: &str) -> String {
    // Lower, upper, lower again brings together what full case folding does (ß with ss, ſ with s).
    let lower: String = path.nfd().collect::<String>().to_lowercase();
    lower.to_uppercase().to_lowercase().nfc().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_that_lead_out_are_seen_on_every_system() {
        // Source, published: RFC 8493 section 5.1, and the classes of path escape in its conformance suite.
        for (path, danger) in [
            ("/etc/passwd", Danger::Absolute),
            ("\\\\server\\share", Danger::Absolute),
            ("\\\\?\\C:\\x", Danger::Absolute),
            ("data/../../x", Danger::Dots),
            ("data/..\\..\\x", Danger::Dots),
            ("..", Danger::Dots),
            ("./x", Danger::Dots),
            ("~/x", Danger::Home),
            ("~root/x", Danger::Home),
            ("C:/x", Danger::Drive),
            ("c:x", Danger::Drive),
            ("data//x", Danger::Empty),
            ("data/", Danger::Empty),
            ("", Danger::Empty),
            ("data/a\0b", Danger::Nul),
        ] {
            assert_eq!(check_path(path), Err(danger), "{path:?}");
        }
        for path in [
            "data/a b.txt",
            "data/..a",
            "data/a..",
            "data/a~",
            "data/a:b",
            "é",
        ] {
            assert_eq!(check_path(path), Ok(()), "{path:?}");
        }
    }

    #[test]
    fn names_windows_forbids_are_seen() {
        // Source, published: RFC 8493 section 6 names the characters and the devices.
        for part in [
            "a<b", "a:b", "a\"b", "a|b", "a?b", "a*b", "CON", "con.txt", "Lpt9.a.b", "nul ",
        ] {
            assert!(unportable(part).is_some(), "{part:?}");
        }
        for part in [
            "100%.txt",
            "a\nb",
            "a ",
            "a.",
            "\u{202e}gpj.exe",
            "a\u{a0}",
            &"x".repeat(256),
        ] {
            assert!(unportable(part).is_some(), "{part:?}");
        }
        for part in [
            "CONE",
            "COM",
            "COM10",
            "lptx",
            "a b",
            ".hidden",
            "é",
            &"x".repeat(255),
        ] {
            assert_eq!(unportable(part), None, "{part:?}");
        }
    }

    #[test]
    fn names_another_disk_takes_for_one_have_one_key() {
        assert_eq!(folded("Caf\u{e9}.TXT"), folded("cafe\u{301}.txt"));
        assert_eq!(folded("STRASSE"), folded("straße"));
        assert_eq!(composed("cafe\u{301}"), "caf\u{e9}");
        assert_ne!(composed("A"), composed("a"));
        assert_ne!(folded("a"), folded("b"));
    }
}
