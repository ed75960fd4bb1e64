//! Listed photographs that are not in the folder.

use crate::check::{Check, Example, Rule, Subject};
use crate::read::{nearest, same_name};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("photo-missing");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A photograph is listed under `photos`, but no file of that name lies in the piece's folder \
          `photos`. Capitals count: `Front.JPG` is not `front.jpg` on every computer. An accent \
          stored as one character or as two is the same name.",
    bad: Example {
        piece: "photos: [{file: fornt.jpg, view: front, alt: Bands of green}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands of green}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let there: Vec<&str> = subject
        .files
        .iter()
        .filter_map(|file| file.strip_prefix("photos/"))
        .collect();
    for photo in &subject.piece.photos {
        let written = photo.file.as_str();
        if same_name(there.iter().copied(), written).is_none() {
            findings.push(KIND.at(
                &photo.file.place,
                format!("there is no `{}` in the folder `photos`", photo.file.value),
                remedy(subject, &there, written),
            ));
        }
    }
}

fn remedy(subject: &Subject, there: &[&str], written: &str) -> String {
    let name = |file: &str| format!("`{}`", file.escape_debug());
    if let Some(rest) = written.strip_prefix("photos/")
        && same_name(there.iter().copied(), rest).is_some()
    {
        return format!(
            "write {}: names are counted from the folder `photos`",
            name(rest)
        );
    }
    let low = written.to_lowercase();
    if let Some(file) = there.iter().find(|file| file.to_lowercase() == low) {
        return format!(
            "the file is called {}: capitals count, so write it the same",
            name(file)
        );
    }
    let last = |path: &str| path.rsplit('/').next().unwrap_or(path).to_lowercase();
    let elsewhere = subject.files.iter().find(|f| last(f) == last(written));
    if let Some(file) = elsewhere {
        return match file.strip_prefix("photos/") {
            Some(inside) => format!("it lies deeper: write {}", name(inside)),
            None => format!(
                "it lies at {}: move it into the folder `photos`",
                name(file)
            ),
        };
    }
    let stem = |file: &str| {
        file.rsplit_once('.')
            .map_or(file, |(s, _)| s)
            .to_lowercase()
    };
    if let Some(file) = there.iter().find(|file| stem(file) == stem(written)) {
        return format!("there is {}: did you mean that?", name(file));
    }
    match nearest(written, there.iter().copied()) {
        Some(file) => format!("did you mean {}?", name(file)),
        None if there.is_empty() => {
            "put the photograph into the piece's folder `photos`; there is none yet".to_string()
        }
        None => format!(
            "put it into the piece's folder `photos`, or write the name of one that is there: {}",
            crate::check::words::listed(there)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Seen;
    use crate::check::testing::found;

    fn remedy_for(file: &str, there: &'static str) -> Vec<String> {
        let piece = format!("photos: [{{file: \"{file}\", view: front}}]").leak();
        let example = Example {
            piece,
            photos: vec![(there, Seen::Upright(10, 10))].leak(),
            ..Example::PLAIN
        };
        found(&CHECK, &example)
            .into_iter()
            .map(|f| f.remedy)
            .collect()
    }

    #[test]
    fn each_way_to_miss_a_name_is_answered() {
        for (written, there, answer) in [
            ("front.jpg", "Front.JPG", "capitals count"),
            ("photos/front.jpg", "front.jpg", "counted from the folder"),
            ("front.jpg", "front.tif", "`front.tif`"),
            ("fron.jpg", "front.jpg", "did you mean `front.jpg`"),
            ("front.jpg", "web/front.jpg", "write `web/front.jpg`"),
            ("sunset.jpg", "front.jpg", "that is there: `front.jpg`"),
        ] {
            let remedies = remedy_for(written, there);
            assert!(remedies[0].contains(answer), "{written}: {remedies:?}");
        }
    }

    #[test]
    fn an_accent_stored_as_two_characters_is_the_same_name() {
        assert!(remedy_for("d\u{e9}tail.jpg", "de\u{301}tail.jpg").is_empty());
    }
}
