//! What stands in the way of a show once it is arranged, found early.

use super::arrange::Arranged;
use super::walls::{remedies, why};
use crate::check::while_gathering as kinds;
use crate::read::printable;
use crate::record::{At, Finding, Owner, Piece, Place, Told, View};

/// A plate narrower than this, in pixels, is not fit for the catalogue: ten centimetres at 250 pixels an inch.
const LEAST_PIXELS: u32 = 985;

/// What stands in the way once the show is arranged.
pub(super) fn arranged(show: &Arranged) -> Vec<Finding> {
    let mut out = Vec::new();
    without_place(show, &mut out);
    for entry in &show.entries {
        untold_mass(show, entry, &mut out);
        lent(show, entry.piece, &entry.shown.piece.place, &mut out);
        let at = &entry.shown.piece.place;
        let title = entry.piece.title.as_str();
        if !entry.is_finished() {
            let never = entry.kept.is_none();
            let what = if never {
                "was never finished"
            } else {
                "has changed since it was finished"
            };
            out.push(kinds::UNFINISHED.at(
                at,
                format!("“{title}” {what}"),
                "run `offloom finish` first: plates and record number come from there",
            ));
        }
        let front = entry.piece.photo(View::Front);
        let plate = front.and_then(|photo| entry.kept.as_ref()?.print(photo));
        let wanting = match (front, &plate) {
            (None, _) => Some("has no photograph of its front".to_owned()),
            (Some(_), None) if entry.is_finished() => Some("has no plate of its front".to_owned()),
            (_, Some(plate)) if plate.size.0.max(plate.size.1) < LEAST_PIXELS => Some(format!(
                "has a front plate of {} × {} pixels, too few for print",
                plate.size.0, plate.size.1
            )),
            _ => None,
        };
        if let Some(wanting) = wanting {
            out.push(kinds::NO_PLATE.at(
                at,
                format!("“{title}” {wanting}"),
                "photograph it anew, at least 3000 pixels on its longer side, and list it with `view: front`",
            ));
        }
        light(entry, &mut out);
    }
    languages(show, &mut out);
    minors(show, &mut out);
    prices(show, &mut out);
    out.into_iter().map(printable).collect()
}

/// A piece that somebody owns has to be lent.
fn lent(show: &Arranged, piece: &Piece, at: &Place, out: &mut Vec<Finding>) {
    let Some(owner) = piece.owners.last() else {
        return;
    };
    let own = is_the_studio(show, owner);
    if !own && show.exhibition.loan(&piece.slug).is_none() {
        out.push(kinds::NOT_LENT.at(
            at,
            format!("“{}” has an owner and no loan", piece.title.value),
            "ask the owner, and write the loan under `loans`",
        ));
    }
}

/// Whether an owner is the studio itself, by its name or by the words that studios use of themselves.
fn is_the_studio(show: &Arranged, owner: &Owner) -> bool {
    let studio = show.studio;
    let names = [
        studio.weaver.value.as_str(),
        studio.studio.value.as_str(),
        "the weaver",
        "the studio",
        "the artist",
    ];
    let is = |text: &Option<At<String>>| {
        text.as_ref()
            .is_some_and(|t| names.iter().any(|n| t.trim().eq_ignore_ascii_case(n)))
    };
    is(&owner.name) || (owner.name.is_none() && is(&owner.public))
}

fn without_place(show: &Arranged, out: &mut Vec<Finding>) {
    let remedy = remedies(show).join("; ");
    for (entry, spot) in show.entries.iter().zip(&show.plan.spots) {
        if let Err(no_place) = spot {
            let remedy = if remedy.is_empty() {
                "leave it out, or find it another wall".to_owned()
            } else {
                remedy.clone()
            };
            out.push(kinds::NO_PLACE.at(
                &entry.shown.piece.place,
                format!("“{}” {}", entry.piece.title.value, why(*no_place)),
                remedy,
            ));
        }
    }
}

/// A wall with a limit, and a piece on it of which nobody told what it weighs.
fn untold_mass(show: &Arranged, entry: &super::Entry, out: &mut Vec<Finding>) {
    let wall = entry.spot.and_then(|s| show.exhibition.walls.get(s.wall));
    let Some(wall) = wall.filter(|w| w.limit.is_some()) else {
        return;
    };
    if entry.reckoning.masses.stated().is_none() {
        out.push(kinds::UNTOLD_MASS.at(
            &entry.shown.piece.place,
            format!(
                "“{}” hangs on the wall `{}`, which has a limit, and nobody told what it weighs",
                entry.piece.title.value, wall.name.value
            ),
            "weigh it, and write `mass` under `measured`",
        ));
    }
}

fn light(entry: &super::Entry, out: &mut Vec<Finding>) {
    let Some(budget) = &entry.budget else { return };
    let at = &entry.shown.piece.place;
    let title = entry.piece.title.as_str();
    let yarn = match &budget.weakest {
        Some(weakest) => format!("for “{}”", weakest.name),
        None => "as nobody told how fast its yarns are,".to_owned(),
    };
    let class = budget.class();
    if let Some(remedy) = budget.remedy() {
        let day = remedy
            .last_day
            .map_or(String::new(), |d| format!(", or take it down after {d}"));
        let lux = remedy.lux.min(class.brightest());
        let remedy = if remedy.lux >= 1.0 {
            format!("light it with {lux:.0} lx at most{day}")
        } else if day.is_empty() {
            "it has had its year's light elsewhere: show it next year, or keep it in the dark till then".to_owned()
        } else {
            format!("no light is dim enough to the end{day}")
        };
        out.push(kinds::LIGHT.at(
            at,
            format!(
                "“{title}” gets {:.0} lx·h in the year of the show; {yarn} it should be {:.0} at most",
                budget.year(),
                budget.allowed()
            ),
            remedy,
        ));
    } else if budget.is_too_bright() {
        out.push(kinds::LIGHT.at(
            at,
            format!(
                "“{title}” hangs in {:.0} lx; {yarn} it should be {:.0} at most",
                budget.show.lux,
                class.brightest()
            ),
            format!("light it with {:.0} lx at most", class.brightest()),
        ));
    }
}

/// Every text of hers for the public.
fn texts<'a>(show: &'a Arranged) -> impl Iterator<Item = &'a Vec<Told>> {
    let labels = show.entries.iter().map(|e| &e.shown.label);
    std::iter::once(&show.exhibition.introduction).chain(labels)
}

fn languages(show: &Arranged, out: &mut Vec<Finding>) {
    let codes = show.languages();
    for told in texts(show).filter(|_| codes.len() > 1) {
        let missing: Vec<&str> = codes
            .iter()
            .filter(|code| {
                told.iter()
                    .all(|t| t.language.as_ref().is_none_or(|l| l != *code))
            })
            .map(String::as_str)
            .collect();
        let Some(first) = told.first() else { continue };
        if missing.is_empty() {
            continue;
        }
        let said = if first.language.is_none() {
            "in no language that is told"
        } else {
            "in one language alone"
        };
        out.push(kinds::UNTOLD.at(
            &first.text.place,
            format!(
                "this text is written {said}; the papers speak {}",
                codes.join(" and ")
            ),
            format!(
                    "write it as `{{{}}}`",
                    codes
                        .iter()
                        .map(|c| format!("{c}: …"))
                        .collect::<Vec<_>>()
                        .join(", ")
                ),
        ));
    }
}

fn minors(show: &Arranged, out: &mut Vec<Finding>) {
    let unnamed: Vec<&str> = show
        .entries
        .iter()
        .filter_map(|e| e.piece.makers.as_ref())
        .flat_map(|makers| &makers.roll)
        .filter(|maker| !maker.may_be_named())
        .map(|maker| maker.name.value.as_str())
        .filter(|name| name.chars().count() > 2)
        .collect();
    for told in texts(show).flatten() {
        if unnamed.iter().any(|name| told.text.contains(name)) {
            out.push(kinds::MINOR.at(
                &told.text.place,
                "this text names somebody of the roll who has not agreed to be named",
                "take the name out, or ask for consent and write `consent: yes` on the roll",
            ));
        }
    }
}

fn prices(show: &Arranged, out: &mut Vec<Finding>) {
    if show.exhibition.lists_prices() {
        return;
    }
    for entry in &show.entries {
        let Some(price) = &entry.shown.price else {
            continue;
        };
        out.push(kinds::PRICE.at(
            &price.place,
            format!(
                "“{}” has a price, and no list of prices is asked for",
                entry.piece.title.value
            ),
            "write `price_list: yes` to print the list, or leave the price out",
        ));
        let amount = price.value.amount.normalize().to_string();
        for told in texts(show).flatten() {
            if told.text.contains(&amount) {
                out.push(kinds::PRICE.at(
                    &told.text.place,
                    format!("this text for the public has the sum {amount} in it"),
                    "leave sums to the list of prices",
                ));
            }
        }
    }
}
