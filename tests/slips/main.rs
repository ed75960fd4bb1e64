//! Whether the slip finder names the slip that was made: a thousand invented pieces with true figures,
//! a thousand with one slip planted in each.

mod piece;
mod plant;
mod speed;

use offloom::read::{notes_from, piece_from};
use offloom::reckon::slip::{Contradiction, Kind, Shape, contradictions};
use offloom::record::Piece;
use piece::{Dice, Written};
use plant::{KINDS, Planted, plant};
use std::collections::BTreeMap;

const PIECES: u64 = 1000;

fn read(written: &Written) -> Piece {
    let text = written.yaml();
    let (piece, slips) = piece_from("trial", &"pieces/trial/piece.yaml".into(), &text);
    let mut piece = piece.unwrap_or_else(|| panic!("{slips:?}\n{text}"));
    assert!(slips.is_empty(), "{slips:?}\n{text}");
    piece.notes = notes_from(&"pieces/trial/notes.md".into(), &written.notes_md()).0;
    piece
}

fn found(written: &Written) -> Vec<Contradiction> {
    let photo = written.photo.map(|ratio| Shape { ratio, doubt: 0.05 });
    contradictions(&read(written), photo)
}

/// At which place the planted slip stands, from 0.
fn rank(found: &[Contradiction], planted: &Planted) -> Option<usize> {
    found.first()?.slips.iter().position(|slip| {
        slip.kinds.contains(&planted.kind)
            && (planted.field.is_empty() || slip.field == planted.field)
    })
}

#[derive(Default)]
struct Tally {
    planted: u32,
    detected: u32,
    first: u32,
    three: u32,
    /// What stood first instead.
    instead: BTreeMap<Kind, u32>,
}

#[test]
fn true_figures_are_not_doubted() {
    let mut doubted = 0;
    for seed in 0..PIECES {
        let written = Written::true_piece(&mut Dice::new(seed));
        let found = found(&written);
        if !found.is_empty() {
            doubted += 1;
            println!("piece {seed}: {:?} {:?}", found[0].relations, found[0].said);
        }
    }
    println!("true pieces doubted: {doubted} of {PIECES}");
    assert!(doubted * 50 < PIECES, "{doubted} of {PIECES}");
}

#[test]
fn the_slip_that_was_made_is_named_first() {
    let mut tallies: BTreeMap<Kind, Tally> = BTreeMap::new();
    let mut made = 0;
    let mut seed = 10_000;
    while made < PIECES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let written = Written::true_piece(&mut dice);
        let kind = KINDS[(made % KINDS.len() as u64) as usize];
        let Some((slipped, planted)) = plant(&written, kind, &mut dice) else {
            continue;
        };
        made += 1;
        let tally = tallies.entry(kind).or_default();
        tally.planted += 1;
        let found = found(&slipped);
        if found.is_empty() {
            continue;
        }
        tally.detected += 1;
        match rank(&found, &planted) {
            Some(0) => {
                tally.first += 1;
                tally.three += 1;
            }
            other => {
                if other.is_some() {
                    tally.three += 1;
                }
                if let Some(slip) = found.first().and_then(|c| c.slips.first()) {
                    *tally.instead.entry(slip.kinds[0]).or_insert(0) += 1;
                }
                // Captured unless asked for with --nocapture.
                println!(
                    "{seed} {:?} {} {}: at {other:?}; {:?}",
                    planted.kind, planted.field, planted.change, found[0].said
                );
                for s in &found[0].slips {
                    println!("    {:.2} {:?} {}", s.likelihood, s.kinds, s.words);
                }
            }
        }
    }
    let sum = |f: fn(&Tally) -> u32| tallies.values().map(f).sum::<u32>();
    println!(
        "{:<12} planted detected first  in three   first instead",
        "kind"
    );
    for (kind, t) in &tallies {
        println!(
            "{:<12} {:>7} {:>8} {:>5} {:>9}   {:?}",
            format!("{kind:?}"),
            t.planted,
            t.detected,
            t.first,
            t.three,
            t.instead
        );
    }
    let (detected, first, three) = (sum(|t| t.detected), sum(|t| t.first), sum(|t| t.three));
    println!(
        "all: {detected} detected of {PIECES}; first {:.1} %, among three {:.1} %",
        100.0 * f64::from(first) / f64::from(detected),
        100.0 * f64::from(three) / f64::from(detected)
    );
    assert!(detected > 400, "{detected}");
    assert!(
        first * 100 >= detected * 85,
        "first in {first} of {detected}"
    );
    assert!(
        three * 100 >= detected * 97,
        "among three in {three} of {detected}"
    );
}
