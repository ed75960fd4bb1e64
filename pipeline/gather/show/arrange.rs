//! The pieces of a show in the order in which they are met, and the plan of the walls.

use super::budget::{budget, others_of};
use super::walls::{hung, rooms};
use crate::finish::Kept;
use crate::read::{Archive, Exhibitions};
use crate::reckon::Reckoning;
use crate::reckon::exposure::Budget;
use crate::reckon::walls::{Advice, Plan, Rooms, Spot, hang};
use crate::record::{Exhibition, Loan, Order, Piece, RecordNumber, Shown, Studio, declared};
use std::collections::BTreeSet;
use std::path::Path;

/// One piece of the show.
#[derive(Debug)]
pub struct Entry<'a> {
    /// Its number in the catalogue, from 1.
    pub number: usize,
    /// As it is listed.
    pub shown: &'a Shown,
    /// Its loan, if it is lent.
    pub loan: Option<&'a Loan>,
    /// The piece.
    pub piece: &'a Piece,
    /// All that is reckoned for it.
    pub reckoning: Reckoning,
    /// What was finished of it.
    pub kept: Option<Kept>,
    /// The number of its record.
    pub record: RecordNumber,
    /// Its light budget on the wall it hangs on; nothing where the show's light or hours are not told.
    pub budget: Option<Budget>,
    /// Where it hangs.
    pub spot: Option<Spot>,
}

impl Entry<'_> {
    /// Whether its record is the one that was finished.
    pub fn is_finished(&self) -> bool {
        self.kept.as_ref().is_some_and(|kept| kept.current)
    }
}

/// A show, arranged.
#[derive(Debug)]
pub struct Arranged<'a> {
    /// The studio.
    pub studio: &'a Studio,
    /// The exhibition as written.
    pub exhibition: &'a Exhibition,
    /// Its pieces in their order.
    pub entries: Vec<Entry<'a>>,
    /// The walls as reckoned with.
    pub rooms: Rooms,
    /// The plan.
    pub plan: Plan,
    /// What to do where not all hang.
    pub advice: Option<Advice>,
}

impl<'a> Arranged<'a> {
    /// Arranges a show. Pieces that are not there are left to the findings; one that is listed twice hangs once.
    pub fn of(
        archive: &'a Archive,
        exhibitions: &'a Exhibitions,
        studio: &'a Studio,
        exhibition: &'a Exhibition,
        out: &Path,
    ) -> Arranged<'a> {
        let mut seen = BTreeSet::new();
        let mut listed: Vec<(&Shown, &Piece)> = exhibition
            .pieces
            .iter()
            .filter(|shown| seen.insert(shown.piece.value.clone()))
            .filter_map(|shown| {
                let folder = archive.pieces.iter().find(|p| p.slug == *shown.piece)?;
                Some((shown, folder.piece.as_ref()?))
            })
            .collect();
        in_order(&mut listed, exhibition.order);
        let rooms = rooms(exhibition);
        let mut entries: Vec<Entry> = listed
            .into_iter()
            .enumerate()
            .map(|(i, (shown, piece))| {
                let kept = Kept::of(out, studio, piece);
                let record = kept.as_ref().map_or_else(
                    || RecordNumber::of(&declared(studio, piece, None)),
                    |kept| kept.number.clone(),
                );
                Entry {
                    number: i + 1,
                    loan: exhibition.loan(&piece.slug),
                    reckoning: Reckoning::of(studio, piece),
                    shown,
                    piece,
                    kept,
                    record,
                    budget: None,
                    spot: None,
                }
            })
            .collect();
        let others = |piece: &Piece| others_of(exhibitions, exhibition, &piece.slug);
        let pieces: Vec<_> = entries
            .iter()
            .map(|e| hung(exhibition, e, &others(e.piece)))
            .collect();
        let plan = hang(&pieces, &rooms);
        let advice = Advice::on(&plan, &pieces, &rooms);
        for (entry, spot) in entries.iter_mut().zip(&plan.spots) {
            entry.spot = spot.as_ref().ok().copied();
            let wall = entry.spot.and_then(|s| exhibition.walls.get(s.wall));
            entry.budget = budget(
                exhibition,
                entry.shown,
                entry.piece,
                wall,
                &others(entry.piece),
            );
        }
        Arranged {
            studio,
            exhibition,
            entries,
            rooms,
            plan,
            advice,
        }
    }
}

impl Arranged<'_> {
    /// The languages of the papers, the leading one first.
    pub fn languages(&self) -> Vec<String> {
        let own = &self.exhibition.languages;
        let chosen = if own.is_empty() {
            &self.studio.languages
        } else {
            own
        };
        chosen.iter().map(|l| l.value.clone()).collect()
    }
}

fn in_order(listed: &mut [(&Shown, &Piece)], order: Order) {
    let day = |piece: &Piece| {
        piece
            .made
            .latest()
            .or(piece.made.earliest())
            .map(|d| d.ordinal())
    };
    match order {
        Order::AsListed => {}
        Order::Chronological => listed.sort_by_key(|(_, piece)| day(piece)),
        Order::BySeries => {
            // Series in the order in which their first piece is listed; what is in none keeps its place among them.
            let first = |name: &str, slug: &str| {
                listed.iter().position(|(_, other)| match &other.series {
                    Some(series) => *series.name == name,
                    None => other.slug == slug,
                })
            };
            let keys: Vec<(Option<usize>, Option<u32>)> = listed
                .iter()
                .map(|(_, piece)| match &piece.series {
                    Some(series) => (
                        first(&series.name, ""),
                        series.number.as_ref().and_then(|n| n.iter().min().copied()),
                    ),
                    None => (first("", &piece.slug), None),
                })
                .collect();
            let mut all: Vec<_> = keys.into_iter().zip(listed.iter().copied()).collect();
            all.sort_by_key(|(key, _)| *key);
            for (place, (_, entry)) in listed.iter_mut().zip(all) {
                *place = entry;
            }
        }
    }
}
