//! `offloom estimate`: the next piece, from the finished ones.

use super::Exit;
use super::args::Estimate;
use super::show::Screen;
use super::stop::Stop;
use crate::finish::Letters;
use crate::gather::estimate::{QuoteOrder, json, lean, sentences, write_quote};
use crate::quantity::{Day, Length, Money, QuantityError, Reading, Sett};
use crate::read::Archive;
use crate::reckon::estimate::Wanted;
use serde_json::json as value;

/// What was asked, read.
struct Asked {
    height: Reading<Length>,
    width: Reading<Length>,
    wanted: Wanted,
    level: f64,
    start: Option<Day>,
    price: Option<Money>,
}

pub(super) fn run(screen: &Screen, asked: &Estimate, stop: &Stop) -> Exit {
    match estimate(screen, asked, stop) {
        Ok(exit) => exit,
        Err(message) => {
            screen.refuse(&message);
            Exit::Failed
        }
    }
}

fn estimate(screen: &Screen, asked: &Estimate, stop: &Stop) -> Result<Exit, String> {
    let read = read(asked)?;
    if let Some(name) = &asked.quote {
        plain_name(name)?;
    }
    let archive = Archive::read(&asked.archive).map_err(|e| e.to_string())?;
    let Some(studio) = &archive.studio else {
        screen.findings(&archive.findings, &archive.sources);
        return Ok(Exit::Findings);
    };
    let leaning = lean(&archive, studio, &asked.with, &asked.without)?;
    let e = leaning.estimate(studio, read.wanted, read.level);
    let mut document = json(&leaning, &e, read.start);
    let lines = sentences(&leaning, &e, read.start);
    let mut exit = Exit::Done;
    let mut made = None;
    if let Some(name) = &asked.quote {
        let out = asked.out.clone();
        let out = out.unwrap_or_else(|| asked.archive.join("finished"));
        let fonts = asked.fonts.clone().map(Letters::from);
        let order = QuoteOrder {
            name,
            title: asked.title.as_deref(),
            client: asked.client.as_deref(),
            price: read.price,
            size: (&read.height, &read.width),
            start: read.start,
            out: &out,
            fonts: fonts.as_ref(),
            stop: &|| stop.asked(),
            waiting: &|| screen.tell("waiting for another run in this archive"),
        };
        let (path, findings) =
            write_quote(&archive, studio, &leaning, &e, &order).map_err(|e| e.to_string())?;
        if findings.is_empty() {
            document["quote"] = value!(path);
            made = Some(path);
        } else {
            screen.findings(&findings, &archive.sources);
            exit = Exit::Findings;
        }
    }
    if screen.json {
        screen.document(&document);
        return Ok(exit);
    }
    for line in &lines {
        screen.say(line);
    }
    if let Some(path) = made {
        screen.say("");
        screen.say(&format!("quote: {}", path.display()));
    }
    Ok(exit)
}

fn read(asked: &Estimate) -> Result<Asked, String> {
    let told = |option: &str, error: QuantityError| {
        format!("{option}: {}; {}", error.message, error.remedy)
    };
    let length = |option: &str, text: &str| {
        let reading = Reading::<Length>::parse(text).map_err(|e| told(option, e))?;
        if reading.value.mm() < 10.0 || reading.value.mm() > 1e5 {
            return Err(format!(
                "{option}: `{text}` is not the size of a tapestry; write it from 1 cm to 100 m"
            ));
        }
        Ok(reading)
    };
    let (height, width) = (
        length("--height", &asked.height)?,
        length("--width", &asked.width)?,
    );
    let sett = match &asked.sett {
        None => None,
        Some(text) => Some(Reading::<Sett>::parse(text).map_err(|e| told("--sett", e))?),
    };
    let between = |option: &str, x: f64, low: f64, high: f64| {
        if (low..=high).contains(&x) {
            Ok(x)
        } else {
            Err(format!("{option}: `{x}` is not between {low} and {high}"))
        }
    };
    let hours_a_week = match asked.hours_a_week {
        None => None,
        Some(h) => Some(between("--hours-a-week", h, 0.5, 168.0)?),
    };
    let start = match &asked.start {
        None => None,
        Some(text) => Some(Day::parse(text).map_err(|e| told("--start", e))?),
    };
    let price = match &asked.price {
        None => None,
        Some(text) => Some(Money::parse(text).map_err(|e| told("--price", e))?),
    };
    Ok(Asked {
        level: between("--level", asked.level, 50.0, 99.9)? / 100.0,
        wanted: Wanted {
            height: height.value,
            width: width.value,
            ends_per_cm: sett.map(|s| s.value.per_cm()),
            colours: asked.colours.map_or(0, usize::from),
            sideways: asked.sideways,
            hours_a_week,
        },
        height,
        width,
        start,
        price,
    })
}

/// A quote's name is a file's: letters, figures, hyphens and points within.
fn plain_name(name: &str) -> Result<(), String> {
    let plain = |c: char| c.is_alphanumeric() || "-_.".contains(c);
    if name.is_empty() || name.len() > 100 || name.starts_with('.') || !name.chars().all(plain) {
        return Err(format!(
            "`{}` does not serve as a quote's name; write letters, figures and hyphens, such as `sea-gate`",
            name.escape_debug()
        ));
    }
    Ok(())
}
