//! What is wrong with an exhibition as it is written: names that are not there, walls that can not be, loans that are
//! too short, promises to two shows.

use crate::check::while_gathering as kinds;
use crate::read::{Archive, Exhibitions, nearest, printable};
use crate::record::{Exhibition, Finding};
use std::collections::BTreeSet;

/// What is wrong with all exhibitions of an archive as they are written, what reading found with it.
pub fn written(archive: &Archive, exhibitions: &Exhibitions) -> Vec<Finding> {
    let each = exhibitions
        .all
        .iter()
        .flat_map(|e| as_written(archive, exhibitions, e));
    exhibitions.findings.iter().cloned().chain(each).collect()
}

/// What is wrong with an exhibition as it is written, by itself and against the archive.
pub(super) fn as_written(
    archive: &Archive,
    exhibitions: &Exhibitions,
    exhibition: &Exhibition,
) -> Vec<Finding> {
    let mut out = Vec::new();
    walls(exhibition, &mut out);
    pieces(archive, exhibition, &mut out);
    loans(exhibition, &mut out);
    elsewhere(exhibitions, exhibition, &mut out);
    out.into_iter().map(printable).collect()
}

fn walls(exhibition: &Exhibition, out: &mut Vec<Finding>) {
    let mut names = BTreeSet::new();
    for wall in &exhibition.walls {
        if !names.insert(wall.name.value.to_lowercase()) {
            out.push(kinds::SAME_WALL.at(
                &wall.name.place,
                format!("there is another wall `{}`", wall.name.value),
                "give each wall a name of its own",
            ));
        }
        let width = wall.width.value.value.mm();
        for clear in &wall.keep_clear {
            let (from, to) = (clear.from.value.value.mm(), clear.to.value.value.mm());
            let (place, what) = if to < from {
                (&clear.to.place, "ends before it begins")
            } else if to > width || from > width {
                (&clear.to.place, "ends beyond the wall")
            } else {
                continue;
            };
            let named = clear
                .what
                .as_ref()
                .map_or("this stretch", |w| w.value.as_str());
            out.push(kinds::BEYOND.at(
                place,
                format!("{named} on the wall `{}` {what}", wall.name.value),
                format!(
                    "both figures are from the wall's left corner, which is {} wide",
                    wall.width.value.text
                ),
            ));
        }
    }
}

fn pieces(archive: &Archive, exhibition: &Exhibition, out: &mut Vec<Finding>) {
    if exhibition.pieces.is_empty() {
        out.push(kinds::EMPTY.at(
            &exhibition.place,
            "no piece is listed",
            "name the folders of the pieces: `pieces: [tide-tables, sea-door]`",
        ));
    }
    let slugs = || archive.pieces.iter().map(|p| p.slug.as_str());
    let mut seen = BTreeSet::new();
    for shown in &exhibition.pieces {
        let name = shown.piece.as_str();
        match archive.pieces.iter().find(|p| p.slug == name) {
            None => {
                let remedy = nearest(name, slugs()).map_or_else(
                    || "write the name of its folder in `pieces`".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                out.push(kinds::UNKNOWN.at(
                    &shown.piece.place,
                    format!("there is no piece `{name}`"),
                    remedy,
                ));
            }
            Some(folder) if folder.piece.is_none() => out.push(kinds::UNKNOWN.at(
                &shown.piece.place,
                format!("the piece.yaml of `{name}` can not be read"),
                "`offloom check` says what is wrong with it",
            )),
            Some(_) if !seen.insert(name) => out.push(kinds::TWICE.at(
                &shown.piece.place,
                format!("`{name}` is listed more than once"),
                "keep the entry with the wishes that count",
            )),
            Some(_) => {}
        }
        if let Some(wish) = &shown.wall
            && exhibition.walls.iter().all(|w| w.name.value != wish.value)
        {
            let names = || exhibition.walls.iter().map(|w| w.name.value.as_str());
            let all = names().collect::<Vec<_>>().join(", ");
            let remedy = match nearest(wish, names()) {
                Some(near) => format!("did you mean `{near}`?"),
                None if all.is_empty() => "the exhibition has no `walls` yet".to_owned(),
                None => format!("the walls are: {all}"),
            };
            out.push(kinds::NO_SUCH_WALL.at(
                &wish.place,
                format!("there is no wall `{}`", wish.value),
                remedy,
            ));
        }
    }
}

fn loans(exhibition: &Exhibition, out: &mut Vec<Finding>) {
    let (first, last) = (exhibition.first_day(), exhibition.last_day());
    for loan in &exhibition.loans {
        if exhibition
            .pieces
            .iter()
            .all(|p| p.piece.value != loan.piece.value)
        {
            out.push(kinds::NOT_SHOWN.at(
                &loan.piece.place,
                format!("`{}` is lent but not among the pieces", loan.piece.value),
                "list it under `pieces`, or take the loan out",
            ));
        }
        let (from, to) = (loan.from.as_ref(), loan.to.as_ref());
        if let (Some(from), Some(to)) = (from, to)
            && to.value < from.value
        {
            out.push(kinds::LOAN_SHORT.at(
                &to.place,
                format!("the loan of `{}` ends before it begins", loan.piece.value),
                "write its first day under `from` and its last under `to`",
            ));
            continue;
        }
        if let (Some(to), Some(last)) = (to, last)
            && to.value < last
        {
            out.push(kinds::LOAN_SHORT.at(
                &to.place,
                format!(
                    "the loan of `{}` ends on {}, the show on {last}",
                    loan.piece.value, to.value
                ),
                "ask the lender for the rest, or take the piece down with `until:`",
            ));
        }
        if let (Some(from), Some(first)) = (from, first)
            && from.value > first
        {
            out.push(kinds::LOAN_SHORT.at(
                &from.place,
                format!(
                    "the loan of `{}` begins on {}, the show on {first}",
                    loan.piece.value, from.value
                ),
                "ask the lender for an earlier day: there has to be time to hang it, too",
            ));
        }
    }
}

fn elsewhere(exhibitions: &Exhibitions, this: &Exhibition, out: &mut Vec<Finding>) {
    let (Some(first), Some(last)) = (this.first_day(), this.last_day()) else {
        return;
    };
    for shown in &this.pieces {
        let mine_to = shown.until.as_ref().map_or(last, |u| u.value.min(last));
        for other in exhibitions.all.iter().filter(|o| o.slug != this.slug) {
            let (Some(from), Some(to)) = (other.first_day(), other.last_day()) else {
                continue;
            };
            let Some(there) = other
                .pieces
                .iter()
                .find(|p| p.piece.value == shown.piece.value)
            else {
                continue;
            };
            let to = there.until.as_ref().map_or(to, |u| u.value.min(to));
            if from <= mine_to && first <= to {
                let finding = kinds::ELSEWHERE.at(
                    &shown.piece.place,
                    format!(
                        "`{}` is in “{}” from {from} to {to}",
                        shown.piece.value, other.title.value
                    ),
                    "choose one of them, or take it down earlier with `until:`",
                );
                out.push(finding);
            }
        }
    }
}
