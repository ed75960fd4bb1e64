//! A show as its readers may see it: from what is arranged to the views of the papers.

use super::arrange::{Arranged, Entry};
use super::fixings::fixings;
use super::walls::hung;
use crate::paper::{
    HungView, OpeningView, PlanView, PublicView, RegisteredView, ShowPiece, ShowView, WallView,
};
use crate::quantity::{Length, Money};
use crate::reckon::longest_in_box;
use crate::reckon::walls::Line;
use crate::record::Opening;
use std::collections::BTreeMap;

/// What the public may know.
pub(super) fn public(show: &Arranged) -> ShowView {
    let languages = show.languages();
    let mut view = ShowView::of(show.studio, show.exhibition, languages.clone());
    view.pieces = show
        .entries
        .iter()
        .map(|e| {
            let piece = PublicView::of(show.studio, e.piece, &e.reckoning, &e.record)
                .in_languages(&languages);
            let wall = e.spot.and_then(|s| show.exhibition.walls.get(s.wall));
            let wall = wall.map(|w| w.name.value.as_str());
            ShowPiece::of(e.number, piece, e.shown, wall, e.is_finished())
        })
        .collect();
    view
}

/// What the installer may know.
pub(super) fn plan(show: &Arranged) -> PlanView {
    let exhibition = show.exhibition;
    let walls = exhibition
        .walls
        .iter()
        .enumerate()
        .map(|(w, wall)| {
            let mut pieces: Vec<HungView> = show
                .entries
                .iter()
                .enumerate()
                .filter_map(|(index, e)| hung_view(show, index, e, w))
                .collect();
            pieces.sort_by(|a, b| a.left.mm().total_cmp(&b.left.mm()));
            WallView {
                name: wall.name.value.clone(),
                width: wall.width.value.value,
                height: wall.height.as_ref().map(|h| h.value.value),
                clear: wall
                    .keep_clear
                    .iter()
                    .map(|c| {
                        let what = c.what.as_ref().map(|w| w.value.clone());
                        let most = wall.width.value.value.mm();
                        let within = |l: Length| Length::from_mm(l.mm().clamp(0.0, most));
                        (within(c.from.value.value), within(c.to.value.value), what)
                    })
                    .filter(|(from, to, _)| from.mm() < to.mm())
                    .collect(),
                hang: wall.hang.as_ref().map(|h| h.value),
                limit: wall.limit.as_ref().map(|l| l.value.value.kg()),
                pieces,
            }
        })
        .collect();
    PlanView {
        walls,
        left_over: (0..show.entries.len())
            .filter(|i| show.entries[*i].spot.is_none())
            .collect(),
        best: show.plan.is_best(),
        line: match show.rooms.line {
            Line::Top(height) => (true, height),
            Line::Centre(height) => (false, height),
        },
    }
}

fn hung_view(show: &Arranged, index: usize, entry: &Entry, wall: usize) -> Option<HungView> {
    let spot = entry.spot.filter(|s| s.wall == wall)?;
    let fixings = fixings(entry, &spot);
    let size = &entry.reckoning.size;
    Some(HungView {
        index,
        left: spot.left,
        bottom: spot.bottom,
        width: size.width.value,
        height: size.height.value,
        mass: hung(show.exhibition, entry, &[]).mass.map(|m| m.kg()),
        across: fixings.across,
        above: fixings.above,
        known: fixings.known,
    })
}

/// What the registrar may know, piece by piece.
pub(super) fn registered(show: &Arranged) -> Vec<RegisteredView> {
    show.entries
        .iter()
        .map(|e| {
            let roll = &e.reckoning.roll;
            let loan = e.loan;
            let own = e.piece.money.as_ref().and_then(|m| m.insured.as_ref());
            RegisteredView {
                budget: e.budget.clone(),
                lender: loan.map(|l| l.lender.value.clone()),
                span: (
                    loan.and_then(|l| l.from.as_ref()).map(|d| d.value),
                    loan.and_then(|l| l.to.as_ref()).map(|d| d.value),
                ),
                insured: loan
                    .and_then(|l| l.insured.as_ref())
                    .or(own)
                    .map(|m| m.value.clone()),
                transport: loan
                    .and_then(|l| l.transport.as_ref())
                    .map(|t| t.value.clone()),
                roll: roll.wound.as_ref().map(|w| {
                    (
                        roll.way.tube_length.value,
                        Length::from_mm(w.by_turn.widest),
                    )
                }),
                parcel: roll.parcel.as_ref().map(|p| p.outer),
                mass: roll
                    .parcel
                    .as_ref()
                    .and_then(|p| p.mass.as_ref())
                    .or(e.reckoning.masses.stated())
                    .map(|m| m.value.kg()),
                with_packing: roll.parcel.as_ref().is_some_and(|p| p.with_packing),
            }
        })
        .collect()
}

/// Which rolls do not pass each opening: endways through a door, at any slant into a lift or van.
pub(super) fn openings(openings: &[Opening], registered: &[RegisteredView]) -> Vec<OpeningView> {
    openings
        .iter()
        .map(|o| {
            let mut sides = vec![o.width.value.value.mm(), o.height.value.value.mm()];
            sides.extend(o.depth.as_ref().map(|d| d.value.value.mm()));
            let passes = |(length, diameter): (Length, Length)| match sides.len() {
                2 => sides.iter().all(|side| *side >= diameter.mm()),
                _ => longest_in_box(&sides, diameter.mm()) >= length.mm(),
            };
            OpeningView {
                what: o.what.value.clone(),
                unknown: (0..registered.len())
                    .filter(|i| registered[*i].roll.is_none())
                    .collect(),
                stuck: (0..registered.len())
                    .filter(|i| registered[*i].roll.is_some_and(|roll| !passes(roll)))
                    .collect(),
            }
        })
        .collect()
}

/// What is for sale, by number, with its price where one is written.
pub(super) fn prices(show: &Arranged) -> BTreeMap<usize, Option<Money>> {
    let offered = |e: &&Entry| match &e.shown.for_sale {
        Some(said) => said.value,
        None => e.shown.price.is_some(),
    };
    show.entries
        .iter()
        .filter(offered)
        .map(|e| (e.number, e.shown.price.as_ref().map(|p| p.value.clone())))
        .collect()
}
