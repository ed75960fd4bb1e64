//! The fields of a bundle's `bag-info.txt`.

use crate::bag::OXUM;

/// Fields in their order, repeats kept. `Payload-Oxum` is added when the bundle is issued; a
/// `Bagging-Date` stands there only when the caller gives one, for the clock is never asked.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BagInfo(pub Vec<(String, String)>);

/// A field that can't stand in `bag-info.txt`.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the field `{label}` can't stand in bag-info.txt: {why}")]
pub struct BadField {
    label: String,
    why: &'static str,
}

impl BagInfo {
    /// The fields as they will be written: line breaks and the blanks around them become one space,
    /// because tools join continued lines in different ways. `octets` and `files` give Payload-Oxum.
    pub(super) fn written(
        &self,
        octets: u64,
        files: u64,
    ) -> Result<Vec<(String, String)>, BadField> {
        let mut fields = Vec::with_capacity(self.0.len() + 1);
        for (label, value) in &self.0 {
            let bad = |why| BadField {
                label: label.clone(),
                why,
            };
            if label.is_empty() || label.trim() != label {
                return Err(bad(
                    "a label must not be empty, nor begin or end with a blank",
                ));
            }
            if label.contains(|c: char| c == ':' || c.is_control()) {
                return Err(bad(
                    "a label must not hold a colon, a line break or a control character",
                ));
            }
            if label.eq_ignore_ascii_case(OXUM) {
                return Err(bad("it is computed when the bundle is written"));
            }
            let value = one_line(value);
            if value.is_empty() {
                return Err(bad("it has no value"));
            }
            fields.push((label.clone(), value));
        }
        fields.push((OXUM.to_owned(), format!("{octets}.{files}")));
        Ok(fields)
    }
}

fn one_line(value: &str) -> String {
    let breaks = |c: char| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}');
    let parts = value
        .split(breaks)
        .map(str::trim)
        .filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(label: &str, value: &str) -> Result<Vec<(String, String)>, BadField> {
        BagInfo(vec![(label.to_owned(), value.to_owned())]).written(12, 3)
    }

    #[test]
    fn a_value_stays_on_one_line_and_the_sum_comes_last() {
        let fields = field("External-Description", " Slack water,\r\n  seen twice.\t\n").unwrap();
        assert_eq!(fields[0].1, "Slack water, seen twice.");
        assert_eq!(fields[1], (OXUM.to_owned(), "12.3".to_owned()));
    }

    #[test]
    fn fields_that_would_break_the_file_are_refused() {
        for (label, value) in [
            ("", "x"),
            (" A", "x"),
            ("A:B", "x"),
            ("A\nB", "x"),
            ("A", " \n"),
            ("payload-oxum", "1.1"),
        ] {
            assert!(field(label, value).is_err(), "{label:?} {value:?}");
        }
    }
}
