//! One thing said in one language or two, as the templates take it.

use super::words::Words;
use serde::Serialize;

/// One thing, said once or in each language.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Said(Vec<Phrase>);

#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Phrase {
    /// The language, or nothing for the weaver's own words and for plain figures.
    lang: Option<String>,
    runs: Vec<Run>,
    /// Whether it goes on from the phrase before it, with no mark between them.
    tight: bool,
}

/// A stretch of text; titles stand in italics.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(untagged)]
pub(super) enum Run {
    /// Text.
    Plain(String),
    /// A title.
    Title {
        /// The title itself.
        title: String,
    },
}

impl Said {
    /// The weaver's own words: said once, as they are.
    pub(super) fn own(text: impl Into<String>) -> Said {
        Said(vec![Phrase {
            lang: None,
            runs: vec![Run::Plain(text.into())],
            tight: false,
        }])
    }

    /// Said in each language; where two come out the same it is said once.
    pub(super) fn each(tongues: &[&Words], say: impl Fn(&Words) -> String) -> Said {
        Said::runs(tongues, |w| vec![Run::Plain(say(w))])
    }

    /// The same with titles inside.
    pub(super) fn runs(tongues: &[&Words], say: impl Fn(&Words) -> Vec<Run>) -> Said {
        let mut out: Vec<Phrase> = Vec::new();
        for words in tongues {
            let runs = say(words);
            if out.iter().all(|p| p.runs != runs) {
                out.push(Phrase {
                    lang: Some(words.language.code.clone()),
                    runs,
                    tight: false,
                });
            }
        }
        Said(out)
    }

    /// All phrases as plain text, one behind the other: for what is said in one language.
    pub(super) fn plain(&self) -> String {
        let runs = self.0.iter().flat_map(|p| &p.runs);
        runs.map(|run| match run {
            Run::Plain(text) | Run::Title { title: text } => text.as_str(),
        })
        .collect()
    }

    /// Goes on with what another says: her own words stand once, before or after what is said in each
    /// language, and not once more in every sentence.
    pub(super) fn then(mut self, next: Said) -> Said {
        self.0.extend(
            next.0
                .into_iter()
                .enumerate()
                .map(|(i, p)| Phrase { tight: i == 0, ..p }),
        );
        self
    }
}

/// Fills a pattern and keeps `{title}` apart, to be set in italics.
pub(super) fn with_title(pattern: &str, title: &str, values: &[(&str, &str)]) -> Vec<Run> {
    let (before, after) = pattern.split_once("{title}").unwrap_or((pattern, ""));
    let plain = |text: &str| Run::Plain(super::words::fill(text, values));
    vec![
        plain(before),
        Run::Title {
            title: title.to_string(),
        },
        plain(after),
    ]
}

/// A term and its value.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Fact {
    /// What it is.
    pub term: Said,
    /// What it says; several lines where it has several.
    pub lines: Vec<Said>,
    /// A remark in small type below.
    pub note: Option<Said>,
}

impl Fact {
    pub(super) fn new(term: Said, value: Said) -> Fact {
        Fact {
            term,
            lines: vec![value],
            note: None,
        }
    }
}
