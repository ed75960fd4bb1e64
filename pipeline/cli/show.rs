//! Showing: findings with the source line underlined, errors, JSON; to the right stream, in colour
//! only where it is wanted, and quietly when the reader has gone.

use super::args::{ColorWhen, Manners};
use crate::read::Sources;
use crate::record::{Finding, Place, Rank};
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde_json::{Value, json};
use std::io::{IsTerminal, Write};

/// Where things are shown, and how.
pub(super) struct Screen {
    /// One JSON document instead of words.
    pub json: bool,
    /// No progress, no summaries.
    pub quiet: bool,
    color_out: bool,
    color_err: bool,
    width: usize,
}

impl Screen {
    /// A screen for the given manners, the terminal and NO_COLOR (which counts when it is not empty).
    pub fn new(manners: &Manners) -> Screen {
        #[allow(clippy::disallowed_methods)] // The command line is where the environment is read.
        let env = |name| std::env::var_os(name).filter(|v| !v.is_empty());
        let plain = env("NO_COLOR").is_some() || env("TERM").is_some_and(|t| t == "dumb");
        let wanted = |terminal: bool| match manners.color {
            ColorWhen::Always => true,
            ColorWhen::Never => false,
            ColorWhen::Auto => terminal && !plain,
        };
        let columns = env("COLUMNS").and_then(|c| c.to_str()?.parse().ok());
        Screen {
            json: manners.json,
            quiet: manners.quiet,
            color_out: wanted(std::io::stdout().is_terminal()),
            color_err: wanted(std::io::stderr().is_terminal()),
            width: columns.unwrap_or(110_usize).clamp(60, 200),
        }
    }

    /// Results, to standard output. A closed pipe ends the program quietly.
    pub fn say(&self, text: &str) {
        let mut out = std::io::stdout().lock();
        if out
            .write_all(text.as_bytes())
            .and_then(|()| out.write_all(b"\n"))
            .and_then(|()| out.flush())
            .is_err()
        {
            std::process::exit(0);
        }
    }

    /// A summary, to standard output; not when quiet or when JSON is wanted.
    pub fn tell(&self, text: &str) {
        if !self.quiet && !self.json {
            self.say(text);
        }
    }

    /// One JSON document.
    pub fn document(&self, value: &Value) {
        self.say(&serde_json::to_string_pretty(value).unwrap_or_default());
    }

    /// What went wrong with the machine or the use of it, to standard error.
    pub fn fail(&self, message: &str) {
        let message = safe(message);
        let text = if self.color_err {
            format!("\u{1b}[1m\u{1b}[91merror\u{1b}[0m: {message}")
        } else {
            format!("error: {message}")
        };
        // Nobody is left to hear it if standard error is closed too.
        let _ = writeln!(std::io::stderr().lock(), "offloom: {text}");
    }

    /// Why nothing was done at all: in words to standard error, and where JSON is wanted as its one
    /// document too.
    pub fn refuse(&self, message: &str) {
        if self.json {
            self.document(&json!({ "error": message }));
        }
        self.fail(message);
    }

    /// Findings, to standard error.
    pub fn findings(&self, findings: &[Finding], sources: &Sources) {
        let renderer = if self.color_err {
            Renderer::styled()
        } else {
            Renderer::plain()
        }
        .term_width(self.width);
        let mut err = std::io::stderr().lock();
        for finding in findings {
            if self.quiet && finding.kind.rank == Rank::Note {
                continue;
            }
            let text = renderer.render(&[group(finding, sources)]);
            if writeln!(err, "{text}\n").is_err() {
                return;
            }
        }
    }

    /// One finding on one line, to standard error: for files whose text can not be shown with a line underlined.
    pub fn warn(&self, rank: Rank, name: &str, message: &str) {
        if self.quiet && rank == Rank::Note {
            return;
        }
        let (word, colour) = match rank {
            Rank::Error => ("error", "91"),
            Rank::Warning => ("warning", "33"),
            Rank::Note => ("note", "92"),
        };
        let (name, message) = (safe(name), safe(message));
        let text = match self.color_err {
            true => format!("\u{1b}[1m\u{1b}[{colour}m{word}[{name}]\u{1b}[0m: {message}"),
            false => format!("{word}[{name}]: {message}"),
        };
        // Nobody is left to hear it if standard error is closed too.
        let _ = writeln!(std::io::stderr().lock(), "{text}");
    }

    /// What to do about the findings just shown.
    pub fn hint(&self, remedy: &str) {
        let _ = writeln!(std::io::stderr().lock(), "  help: {}", safe(remedy));
    }

    /// A piece's name set apart from what is said of it.
    pub fn strong(&self, text: &str) -> String {
        let text = safe(text);
        if self.color_out {
            format!("\u{1b}[1m{text}\u{1b}[0m")
        } else {
            text
        }
    }
}

fn group<'a>(finding: &'a Finding, sources: &'a Sources) -> Group<'a> {
    let level = match finding.kind.rank {
        Rank::Error => Level::ERROR,
        Rank::Warning => Level::WARNING,
        Rank::Note => Level::NOTE,
    };
    let title = level
        .primary_title(safe(&finding.message))
        .id(finding.kind.name);
    let mut group = Group::with_title(title);
    let also = finding.also.as_ref();
    match excerpt(&finding.place, sources) {
        Some((snippet, span)) => {
            let mut snippet = snippet.annotation(AnnotationKind::Primary.span(span));
            let mut apart = None;
            if let Some((place, why)) = also {
                match span_in(place, sources) {
                    Some(span) if place.file == finding.place.file => {
                        snippet =
                            snippet.annotation(AnnotationKind::Context.span(span).label(safe(why)));
                    }
                    _ => {
                        apart = excerpt(place, sources).map(|(s, span)| {
                            s.annotation(AnnotationKind::Context.span(span).label(safe(why)))
                        });
                    }
                }
            }
            group = group.element(snippet);
            if let Some(apart) = apart {
                group = group.element(apart);
            }
        }
        None => group = group.element(Origin::path(safe(&finding.place.file))),
    }
    group.element(Level::HELP.message(safe(&finding.remedy)))
}

/// The file's text with the place's span in it, or nothing where a whole file is meant.
fn excerpt<'a>(
    place: &'a Place,
    sources: &'a Sources,
) -> Option<(
    Snippet<'a, annotate_snippets::Annotation<'a>>,
    std::ops::Range<usize>,
)> {
    let text = sources.get(&place.file)?;
    let span = span_in(place, sources)?;
    let snippet = Snippet::source(text.as_str())
        .path(safe(&place.file))
        .fold(true);
    Some((snippet, span))
}

/// The bytes of a place in its file.
fn span_in(place: &Place, sources: &Sources) -> Option<std::ops::Range<usize>> {
    let text = sources.get(&place.file)?;
    if place.line == 0 {
        return None;
    }
    let mut start = 0;
    let mut lines = text.split_inclusive('\n');
    for _ in 1..place.line {
        start += lines.next()?.len();
    }
    let line = lines.next().unwrap_or("");
    let line = line.trim_end_matches(['\n', '\r']);
    let at = |column: usize| {
        line.char_indices()
            .nth(column)
            .map_or(line.len(), |(i, _)| i)
    };
    let from = at(place.column.saturating_sub(1) as usize);
    let to = at((place.column.saturating_sub(1) + place.length) as usize);
    Some(start + from..start + to.max(from))
}

/// A finding for machines.
pub(super) fn as_json(finding: &Finding) -> Value {
    let mut value = json!({
        "name": finding.kind.name,
        "rank": finding.kind.rank,
        "file": &*finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "message": finding.message,
        "remedy": finding.remedy,
    });
    if let (Some((place, why)), Value::Object(map)) = (&finding.also, &mut value) {
        map.insert(
            "also".into(),
            json!({"file": &*place.file, "line": place.line, "column": place.column, "why": why}),
        );
    }
    value
}

/// How many findings of each rank, in words.
pub(super) fn count(findings: &[Finding]) -> String {
    let of = |rank, one: &str, many: &str| {
        let n = findings.iter().filter(|f| f.kind.rank == rank).count();
        match n {
            0 => None,
            1 => Some(format!("1 {one}")),
            n => Some(format!("{n} {many}")),
        }
    };
    let parts: Vec<String> = [
        of(Rank::Error, "error", "errors"),
        of(Rank::Warning, "warning", "warnings"),
        of(Rank::Note, "note", "notes"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() {
        "nothing found".to_string()
    } else {
        parts.join(", ")
    }
}

/// Text from outside without control characters, which could steer a terminal, and without the marks
/// that turn the direction of writing around, which could show one name as another.
pub(super) fn safe(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\n' => '\n',
            '\t' => ' ',
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect()
}
