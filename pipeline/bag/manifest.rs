//! Lines of tag files, manifests and percent coding (RFC 8493 sections 2.1.3, 2.2.1 and 2.3).

use std::fmt::Write;

use super::Algorithm;

/// The lines of a tag file with their numbers from 1. Each of LF, CR and CRLF ends a line; an ending
/// at the very end begins no further line.
pub fn lines(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let (line, after) = match rest.find(['\n', '\r']) {
            Some(at) => {
                let ending = if rest[at..].starts_with("\r\n") { 2 } else { 1 };
                (&rest[..at], &rest[at + ending..])
            }
            None => (rest, ""),
        };
        found.push((found.len() + 1, line));
        rest = after;
    }
    found
}

/// Percent-encodes exactly what a manifest must: LF, CR and `%`.
pub fn encode_path(path: &str) -> String {
    let mut coded = String::with_capacity(path.len());
    for c in path.chars() {
        match c {
            '\n' => coded.push_str("%0A"),
            '\r' => coded.push_str("%0D"),
            '%' => coded.push_str("%25"),
            other => coded.push(other),
        }
    }
    coded
}

/// The path a manifest's text stands for. Only `%0A`, `%0D` and `%25` (in either case) are decoded;
/// the second value tells that a `%` was found that stands for none of them.
pub fn raw_or_decoded(coded: &str) -> (String, bool) {
    let mut path = String::with_capacity(coded.len());
    let mut odd = false;
    let mut rest = coded;
    while let Some(at) = rest.find('%') {
        path.push_str(&rest[..at]);
        let code = rest.get(at + 1..at + 3).map(str::to_ascii_uppercase);
        let (meant, taken) = match code.as_deref() {
            Some("0A") => ('\n', 3),
            Some("0D") => ('\r', 3),
            Some("25") => ('%', 3),
            _ => {
                odd = true;
                ('%', 1)
            }
        };
        path.push(meant);
        rest = &rest[at + taken..];
    }
    path.push_str(rest);
    (path, odd)
}

/// Which list a file in the bag's own folder is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ManifestKind {
    /// `manifest-<algorithm>.txt`, with the algorithm as written.
    Payload(String),
    /// `tagmanifest-<algorithm>.txt`, with the algorithm as written.
    Tag(String),
}

impl ManifestKind {
    /// The algorithm as written in the file name.
    pub fn algorithm_name(&self) -> &str {
        match self {
            Self::Payload(name) | Self::Tag(name) => name,
        }
    }

    /// The algorithm, where this program knows it.
    pub fn algorithm(&self) -> Option<Algorithm> {
        Algorithm::named(self.algorithm_name())
    }
}

/// Whether a path is that of a payload or tag manifest.
pub fn manifest_kind(path: &str) -> Option<ManifestKind> {
    let stem = path.strip_suffix(".txt")?;
    if path.contains('/') {
        return None;
    }
    if let Some(name) = stem.strip_prefix("manifest-") {
        return Some(ManifestKind::Payload(name.to_owned()));
    }
    Some(ManifestKind::Tag(
        stem.strip_prefix("tagmanifest-")?.to_owned(),
    ))
}

/// One line of a manifest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ManifestLine {
    /// The checksum as written.
    pub checksum: String,
    /// The path as written.
    pub written: String,
    /// The path it stands for.
    pub path: String,
    /// Habits of other tools that a strict reader refuses, in words; the line was read all the same.
    pub habits: Vec<&'static str>,
}

/// Why a line is none of a manifest's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LineFault {
    /// Nothing but blanks.
    #[error("an empty line")]
    Empty,
    /// No blank between two parts.
    #[error("a checksum, a blank and a path are needed")]
    OnePart,
    /// The checksum is no hexadecimal number of the right length.
    #[error("`{0}` is not a checksum of this kind")]
    Checksum(String),
}

/// Reads one manifest line. `digits` is the length of the checksum where the algorithm is known.
pub fn parse_manifest_line(line: &str, digits: Option<usize>) -> Result<ManifestLine, LineFault> {
    const BLANKS: [char; 2] = [' ', '\t'];
    if line.trim_matches(BLANKS).is_empty() {
        return Err(LineFault::Empty);
    }
    let (checksum, rest) = line.split_once(BLANKS).ok_or(LineFault::OnePart)?;
    let rest = rest.trim_start_matches(BLANKS);
    if checksum.is_empty() || rest.is_empty() {
        return Err(LineFault::OnePart);
    }
    let mut habits = Vec::new();
    let mut digest = checksum;
    let mut written = rest;
    let mut backslashed = false;
    if let Some(bare) = digest.strip_prefix('\\') {
        habits.push("a backslash before the checksum, as md5sum writes it");
        digest = bare;
        backslashed = true;
    }
    if let Some(bare) = written.strip_prefix('*')
        && is_inside(bare)
    {
        habits.push("an asterisk before the path, as md5sum writes it");
        written = bare;
    }
    let whole = !digest.is_empty()
        && digest.len().is_multiple_of(2)
        && digits.is_none_or(|digits| digest.len() == digits)
        && digest.bytes().all(|octet| octet.is_ascii_hexdigit());
    if !whole {
        return Err(LineFault::Checksum(shortened(checksum)));
    }
    let (mut path, odd) = raw_or_decoded(written);
    if odd {
        habits.push("a `%` that is not written as %25");
    }
    if backslashed {
        path = path.replace("\\\\", "\\");
    }
    while let Some(bare) = path.strip_prefix("./") {
        habits.push("`./` before the path");
        path = bare.to_owned();
    }
    Ok(ManifestLine {
        checksum: digest.to_owned(),
        written: written.to_owned(),
        path,
        habits,
    })
}

/// `*data/…` is the mark of md5sum; a file really named with an asterisk in front lies elsewhere.
fn is_inside(path: &str) -> bool {
    path.starts_with("data/") || path.starts_with("./data/") || path.ends_with(".txt")
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= 40 {
        return text.to_owned();
    }
    text.chars().take(40).chain(['…']).collect()
}

/// A whole manifest of checksums with `digits` figures, as pairs of path and checksum; the first line that
/// can't be read otherwise, in words.
pub fn parse_manifest(text: &str, digits: usize) -> Result<Vec<(String, String)>, String> {
    lines(text)
        .into_iter()
        .map(
            |(number, line)| match parse_manifest_line(line, Some(digits)) {
                Ok(read) => Ok((read.path, read.checksum.to_ascii_lowercase())),
                Err(error) => Err(format!("line {number}: {error}")),
            },
        )
        .collect()
}

/// A whole manifest from pairs of checksum and path, in the order given.
pub fn print_manifest<'a>(entries: impl IntoIterator<Item = (String, &'a str)>) -> String {
    let mut text = String::new();
    for (checksum, path) in entries {
        writeln!(text, "{checksum}  {}", encode_path(path)).expect("a String takes any text");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    const MD5: &str = "49afbd86a1ca9f34b677a3f09655eae9";

    #[test]
    fn all_three_line_endings_are_read() {
        assert_eq!(
            lines("a\nb\rc\r\nd"),
            [(1, "a"), (2, "b"), (3, "c"), (4, "d")]
        );
        assert_eq!(lines("a\n"), [(1, "a")]);
        assert_eq!(lines("a\n\n"), [(1, "a"), (2, "")]);
        assert_eq!(lines(""), []);
    }

    #[test]
    fn the_example_line_of_the_standard_is_read() {
        // Source, published: RFC 8493 section 4.1 (the checksum and path of its first example bag).
        let line = format!("{MD5} data/27613-h/images/q172.png");
        let read = parse_manifest_line(&line, Some(32)).unwrap();
        assert_eq!(read.checksum, MD5);
        assert_eq!(read.path, "data/27613-h/images/q172.png");
        assert!(read.habits.is_empty());
    }

    #[test]
    fn blanks_case_and_tabs_are_free_and_inner_blanks_kept() {
        let line = format!("{} \t data/a  b.txt", MD5.to_uppercase());
        let read = parse_manifest_line(&line, Some(32)).unwrap();
        assert_eq!(read.path, "data/a  b.txt");
        assert_eq!(read.checksum, MD5.to_uppercase());
    }

    #[test]
    fn only_line_ends_and_percent_are_coded() {
        // Source, published: RFC 8493 section 2.1.3: LF, CR and % are percent-encoded, and only those.
        let name = "data/100% weft *\\ é\r\n.txt";
        assert_eq!(encode_path(name), "data/100%25 weft *\\ é%0D%0A.txt");
        assert_eq!(raw_or_decoded(&encode_path(name)), (name.to_owned(), false));
        assert_eq!(
            raw_or_decoded("a%0a%0d%2Fb%"),
            ("a\n\r%2Fb%".to_owned(), true)
        );
        assert_eq!(raw_or_decoded("%é%25"), ("%é%".to_owned(), true));
    }

    #[test]
    fn lines_that_are_none_are_refused_with_the_reason() {
        assert_eq!(parse_manifest_line(" \t", Some(32)), Err(LineFault::Empty));
        assert_eq!(parse_manifest_line(MD5, Some(32)), Err(LineFault::OnePart));
        assert_eq!(
            parse_manifest_line(" data/a", Some(32)),
            Err(LineFault::OnePart)
        );
        let short = parse_manifest_line(&format!("{} data/a", &MD5[..31]), Some(32));
        assert!(matches!(short, Err(LineFault::Checksum(_))), "{short:?}");
        let letters = parse_manifest_line(&format!("{}xy data/a", &MD5[..30]), Some(32));
        assert!(
            matches!(letters, Err(LineFault::Checksum(_))),
            "{letters:?}"
        );
    }

    #[test]
    fn habits_of_md5sum_are_read_and_told() {
        let read = parse_manifest_line(&format!("{MD5} *data/a.txt"), Some(32)).unwrap();
        assert_eq!((read.path.as_str(), read.habits.len()), ("data/a.txt", 1));
        let read = parse_manifest_line(&format!("\\{MD5}  data/a\\\\b"), Some(32)).unwrap();
        assert_eq!((read.path.as_str(), read.habits.len()), ("data/a\\b", 1));
        let read = parse_manifest_line(&format!("{MD5}  ./data/a"), Some(32)).unwrap();
        assert_eq!((read.path.as_str(), read.habits.len()), ("data/a", 1));
    }

    #[test]
    fn manifests_are_known_by_their_names() {
        assert_eq!(
            manifest_kind("manifest-sha256.txt"),
            Some(ManifestKind::Payload("sha256".into()))
        );
        assert_eq!(
            manifest_kind("tagmanifest-md5.txt"),
            Some(ManifestKind::Tag("md5".into()))
        );
        assert_eq!(manifest_kind("data/manifest-md5.txt"), None);
        assert_eq!(manifest_kind("manifest-md5"), None);
        assert_eq!(manifest_kind("manifest.txt"), None);
    }
}
