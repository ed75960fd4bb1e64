//! `explain`, `completions` and `man`: what the program says of itself. All of it comes from the
//! parser and the register of checks, so that it can not differ from them.

use super::Exit;
use super::args::{Completions, Explain, Man, Offloom};
use super::show::Screen;
use crate::check::{CHECKS, Check, Example};
use crate::read::nearest;
use clap::CommandFactory;
use serde_json::json;

pub(super) fn explain(screen: &Screen, asked: &Explain) -> Exit {
    let Some(name) = &asked.name else {
        let lines: Vec<String> = CHECKS
            .iter()
            .map(|c| format!("{:28} {:8} {}", c.kind.name, rank(c), first_sentence(c.doc)))
            .collect();
        if screen.json {
            let all: Vec<_> = CHECKS.iter().map(|c| as_json(c)).collect();
            screen.document(&json!({ "checks": all }));
        } else {
            screen.say(&lines.join("\n"));
        }
        return Exit::Done;
    };
    match CHECKS.iter().find(|c| c.kind.name == name) {
        Some(check) if screen.json => screen.document(&as_json(check)),
        Some(check) => screen.say(&page(screen, check)),
        None => {
            let near = nearest(name, CHECKS.iter().map(|c| c.kind.name));
            let hint = near.map_or("`offloom explain` lists them all".to_string(), |n| {
                format!("did you mean `{n}`?")
            });
            screen.fail(&format!("there is no finding named `{name}`; {hint}"));
            return Exit::Failed;
        }
    }
    Exit::Done
}

fn rank(check: &Check) -> String {
    format!("{:?}", check.kind.rank).to_lowercase()
}

fn first_sentence(doc: &str) -> String {
    let doc = doc.split_whitespace().collect::<Vec<_>>().join(" ");
    doc.split_once(". ")
        .map_or(doc.clone(), |(s, _)| format!("{s}."))
}

fn as_json(check: &Check) -> serde_json::Value {
    json!({ "name": check.kind.name, "rank": check.kind.rank, "doc": check.doc })
}

fn page(screen: &Screen, check: &Check) -> String {
    format!(
        "{} ({})\n\n{}\n\nA bad example:\n{}\nA good one:\n{}",
        screen.strong(check.kind.name),
        rank(check),
        check.doc.trim(),
        shown(&check.bad),
        shown(&check.good)
    )
}

fn shown(example: &Example) -> String {
    let mut out = String::new();
    for (path, text) in example.files {
        out.push_str(&format!("  {path}\n"));
        for line in text.lines() {
            out.push_str(&format!("    {line}\n"));
        }
    }
    out
}

pub(super) fn completions(screen: &Screen, asked: &Completions) -> Exit {
    let mut out = Vec::new();
    clap_complete::generate(asked.shell, &mut Offloom::command(), "offloom", &mut out);
    screen.say(String::from_utf8_lossy(&out).trim_end());
    Exit::Done
}

pub(super) fn man(screen: &Screen, asked: &Man) -> Exit {
    let mut command = Offloom::command();
    command.build();
    let page = match &asked.command {
        None => command,
        Some(name) => match command.find_subcommand(name) {
            Some(found) => found.clone().name(format!("offloom-{name}").leak() as &str),
            None => {
                screen.fail(&format!("there is no command `{name}`"));
                return Exit::Failed;
            }
        },
    };
    let mut out = Vec::new();
    // A date would differ from day to day; the version stands in its place.
    let done = clap_mangen::Man::new(page)
        .date("")
        .manual("offloom")
        .render(&mut out);
    match done {
        Ok(()) => {
            screen.say(String::from_utf8_lossy(&out).trim_end());
            Exit::Done
        }
        Err(error) => {
            screen.fail(&error.to_string());
            Exit::Failed
        }
    }
}
