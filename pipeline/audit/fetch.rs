//! Reads `fetch.txt`, the list of files that lie elsewhere. Nothing is ever fetched: a hole is told of.

use std::collections::BTreeMap;

use super::rules::Case;
use super::verdict::Kind;
use crate::bag::{FETCH_FILE, PAYLOAD, check_path, lines, raw_or_decoded};

/// The paths of `fetch.txt`, each with its line.
pub(super) type Holes = BTreeMap<String, usize>;

/// Reads `fetch.txt`: address, length and path in each line.
pub(super) fn fetched(case: &mut Case) -> Holes {
    let mut holes = Holes::new();
    let Some(member) = case.holder.find(FETCH_FILE) else {
        return holes;
    };
    let Some((text, whole)) = case.tag_text(member) else {
        return holes;
    };
    let remedy = "Each line is an address, a length or `-`, and a path below data/.";
    if !whole {
        case.error(
            Kind::Fetch,
            FETCH_FILE,
            "is not UTF-8 text throughout.",
            remedy,
        );
    }
    for (number, line) in lines(&text) {
        const BLANKS: [char; 2] = [' ', '\t'];
        let parts = line.split_once(BLANKS).and_then(|(address, rest)| {
            let (length, path) = rest.trim_start_matches(BLANKS).split_once(BLANKS)?;
            Some((address, length, path.trim_start_matches(BLANKS)))
        });
        let message = match parts {
            Some((address, length, path)) => {
                let (path, _) = raw_or_decoded(path);
                let measured = length == "-"
                    || (!length.is_empty() && length.bytes().all(|octet| octet.is_ascii_digit()));
                if let Err(danger) = check_path(&path) {
                    case.error(
                        Kind::Escape,
                        FETCH_FILE,
                        format!("names `{path}`, a path that {danger}."),
                        remedy,
                    )
                    .line = Some(number);
                    continue;
                }
                if !address.contains(':') {
                    format!("has `{address}` where a whole address is needed.")
                } else if !measured {
                    format!("has `{length}` where a number of octets or `-` is needed.")
                } else if !path.starts_with(PAYLOAD) {
                    format!("names `{path}`, which is no payload file.")
                } else {
                    holes.insert(path, number);
                    continue;
                }
            }
            None => "has a line that is not address, length and path.".to_owned(),
        };
        case.error(Kind::Fetch, FETCH_FILE, message, remedy).line = Some(number);
    }
    holes
}
