//! The declaration `bagit.txt` and the fields of `bag-info.txt` (RFC 8493 sections 2.1.1 and 2.2.2).

use super::{BYTE_ORDER_MARK, lines};

/// What a bag declares of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Declaration {
    /// Version of the BagIt format: major and minor.
    pub version: (u32, u32),
    /// Encoding of the tag files, as written.
    pub encoding: String,
}

impl Declaration {
    /// Whether the rules of version 1.0 hold. Older drafts were laxer in some.
    pub fn is_strict(&self) -> bool {
        self.version >= (1, 0)
    }

    /// Whether the tag files can be read as UTF-8.
    pub fn is_utf8(&self) -> bool {
        ["utf-8", "utf8", "us-ascii", "ascii"]
            .contains(&self.encoding.to_ascii_lowercase().as_str())
    }
}

/// A declaration as far as it could be read, and what is wrong with it, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Declared {
    /// Nothing, when it could not be read at all.
    pub declaration: Option<Declaration>,
    /// Each fault, in words that continue "the declaration …".
    pub faults: Vec<String>,
    /// Whether it begins with a byte-order mark.
    pub byte_order_mark: bool,
}

/// Reads `bagit.txt`: exactly two lines in this order, in UTF-8, without a byte-order mark.
pub fn parse_declaration(octets: &[u8]) -> Declared {
    let mut faults = Vec::new();
    let byte_order_mark = octets.starts_with(BYTE_ORDER_MARK);
    let bare = octets.strip_prefix(BYTE_ORDER_MARK).unwrap_or(octets);
    let Ok(text) = std::str::from_utf8(bare) else {
        faults.push("is not UTF-8 text".to_owned());
        return Declared {
            declaration: None,
            faults,
            byte_order_mark,
        };
    };
    let found = lines(text);
    if found.len() != 2 {
        faults.push(format!("has {} lines instead of two", found.len()));
    }
    let mut value = |at: usize, label: &str| -> Option<String> {
        let line = found.get(at).map_or("", |(_, line)| *line);
        let exact = line
            .strip_prefix(label)
            .and_then(|rest| rest.strip_prefix(": "));
        if let Some(value) = exact.filter(|value| !value.is_empty() && value.trim() == *value) {
            return Some(value.to_owned());
        }
        faults.push(format!(
            "has `{line}` where `{label}: …` is needed, with one space"
        ));
        let (written, value) = line.split_once(':')?;
        (written.trim().eq_ignore_ascii_case(label) && !value.trim().is_empty())
            .then(|| value.trim().to_owned())
    };
    let version = value(0, "BagIt-Version");
    let encoding = value(1, "Tag-File-Character-Encoding");
    let numbers = version.as_deref().and_then(parse_version);
    if let (Some(version), None) = (&version, numbers) {
        faults.push(format!(
            "gives the version `{version}`, which is not two numbers like 1.0"
        ));
    }
    let declaration = numbers
        .zip(encoding)
        .map(|(version, encoding)| Declaration { version, encoding });
    if let Some((major, minor)) = numbers
        && !matches!((major, minor), (1, 0) | (0, 93..=97))
    {
        faults.push(format!(
            "gives the version {major}.{minor}, which is not known; 1.0 and 0.93 to 0.97 are"
        ));
    }
    Declared {
        declaration,
        faults,
        byte_order_mark,
    }
}

fn parse_version(text: &str) -> Option<(u32, u32)> {
    let (major, minor) = text.split_once('.')?;
    let number = |digits: &str| {
        let plain = !digits.is_empty() && digits.bytes().all(|octet| octet.is_ascii_digit());
        plain.then(|| digits.parse().ok()).flatten()
    };
    Some((number(major)?, number(minor)?))
}

/// A line of `bag-info.txt` that is no field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldFault {
    /// Line, counted from 1.
    pub line: usize,
    /// What is wrong, in words.
    pub why: String,
}

/// The fields in their order, repeats kept, and the lines that are none. A value continued over
/// several lines keeps its line breaks, without the indentation. With `strict`, the rules of version
/// 1.0 for the blanks around the colon are held to.
pub fn parse_info(text: &str, strict: bool) -> (Vec<(String, String)>, Vec<FieldFault>) {
    let mut fields: Vec<(String, String)> = Vec::new();
    let mut faults = Vec::new();
    for (line, written) in lines(text) {
        let mut fault = |why: &str| {
            faults.push(FieldFault {
                line,
                why: why.to_owned(),
            })
        };
        if written.starts_with([' ', '\t']) {
            match fields.last_mut() {
                Some((_, value)) => {
                    value.push('\n');
                    value.push_str(written.trim_start_matches([' ', '\t']));
                }
                None => fault("a continued line, but no field before it"),
            }
            continue;
        }
        let Some((label, value)) = written.split_once(':') else {
            fault(if written.is_empty() {
                "an empty line"
            } else {
                "no colon: a field is `Label: value`"
            });
            continue;
        };
        let (label, value) = if strict {
            if label.is_empty() || label.trim_matches([' ', '\t']) != label {
                fault("a label must not be empty nor end in a blank");
            }
            match value.strip_prefix([' ', '\t']) {
                Some(value) => (label, value),
                None => {
                    fault("one blank is needed after the colon");
                    (label, value)
                }
            }
        } else {
            (label.trim(), value.trim_start_matches([' ', '\t']))
        };
        fields.push((label.trim().to_owned(), value.to_owned()));
    }
    (fields, faults)
}

/// The text of `bag-info.txt`. Labels and values must have been looked at: no line break in either.
pub fn print_info(fields: &[(String, String)]) -> String {
    fields
        .iter()
        .map(|(label, value)| format!("{label}: {value}\n"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::DECLARATION;
    use super::*;

    #[test]
    fn our_own_declaration_is_without_fault() {
        let declared = parse_declaration(DECLARATION.as_bytes());
        assert!(declared.faults.is_empty(), "{declared:?}");
        let declaration = declared.declaration.unwrap();
        assert!(declaration.is_strict() && declaration.is_utf8());
        let crlf = DECLARATION.replace('\n', "\r\n");
        assert!(parse_declaration(crlf.as_bytes()).faults.is_empty());
        assert!(
            parse_declaration(DECLARATION.trim_end().as_bytes())
                .faults
                .is_empty()
        );
    }

    #[test]
    fn each_slip_in_a_declaration_is_told() {
        // Source, published: RFC 8493 section 2.1.1, and the class "invalid declaration" of its conformance suite.
        for wrong in [
            "",
            "BagIt-Version: 1.0\n",
            "Tag-File-Character-Encoding: UTF-8\nBagIt-Version: 1.0\n",
            "BagIt-Version : 1.0\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version:  1.0\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version: 1.0 \nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version: one\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version: 1.0.0\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version: 2.7\nTag-File-Character-Encoding: UTF-8\n",
            "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n\n",
            "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\nMore: 1\n",
        ] {
            assert!(
                !parse_declaration(wrong.as_bytes()).faults.is_empty(),
                "{wrong:?}"
            );
        }
        assert!(!parse_declaration(b"\xff\xfe").faults.is_empty());
        let marked = [BYTE_ORDER_MARK, DECLARATION.as_bytes()].concat();
        assert!(parse_declaration(&marked).byte_order_mark);
    }

    #[test]
    fn the_example_of_the_standard_is_read_with_its_continued_lines() {
        // Source, published: the example in RFC 8493 section 2.2.2: a value folded onto a second line.
        let text = "Source-Organization: FOO University\n\
                    External-Description: Uncompressed greyscale TIFF images from the\n     \
                    FOO papers collection\n\
                    Payload-Oxum: 279164409832.1198\n";
        let (fields, faults) = parse_info(text, true);
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(fields.len(), 3);
        assert_eq!(
            fields[1].1,
            "Uncompressed greyscale TIFF images from the\nFOO papers collection"
        );
    }

    #[test]
    fn repeated_fields_keep_their_order() {
        let text = "Contact-Name: A\nX: 1\nContact-Name: B: C\n";
        let (fields, faults) = parse_info(text, true);
        assert!(faults.is_empty());
        let expected = [("Contact-Name", "A"), ("X", "1"), ("Contact-Name", "B: C")];
        assert!(
            fields
                .iter()
                .map(|(l, v)| (l.as_str(), v.as_str()))
                .eq(expected)
        );
        assert_eq!(print_info(&fields), text);
    }

    #[test]
    fn lines_that_are_no_fields_are_named_by_number() {
        let (_, faults) = parse_info(" x\nno colon\nA : b\nC:d\n\n", true);
        assert_eq!(
            faults.iter().map(|f| f.line).collect::<Vec<_>>(),
            [1, 2, 3, 4, 5]
        );
        let (fields, faults) = parse_info("A : b\nC:d\n", false);
        assert!(faults.is_empty());
        assert_eq!(fields[0], ("A".to_owned(), "b".to_owned()));
    }
}
