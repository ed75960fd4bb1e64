//! The one fact that would settle the most.

use super::Span;
use super::bits::Bits;
use super::filter::Filtered;
use super::slots::Slots;
use super::solve::{Budget, Problem, possible};
use std::collections::BTreeSet;

/// Which number has this piece?
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The piece.
    pub piece: usize,
    /// How many pieces become sure whatever the answer is, the piece itself counted.
    pub at_least: usize,
    /// For each answer how many become sure; answers that settle the same in one stretch are told together.
    pub answers: Vec<(Span, usize)>,
    /// Whether every piece that could be asked about was tried. In a large series only those with the fewest choices are.
    pub of_all: bool,
}

/// No more answers than this are tried, to all questions together.
const MOST_ANSWERS: usize = 2000;

/// The best question: the one that settles the most in its worst answer; of equals the one that settles the most on
/// average; of those the first. Only pieces with a known number of choices are asked about.
pub(super) fn best(
    problem: &Problem,
    now: &Filtered,
    slots: &Slots,
    budget: &mut Budget,
) -> Option<Question> {
    let sure = |domains: &[Bits]| domains.iter().filter(|d| d.len() == 1).count();
    let already = sure(&now.domains);
    let choices = |d: &Bits| -> Option<Vec<(usize, Span)>> {
        let all: Option<Vec<(usize, Span)>> = d.iter().map(|s| Some((s, slots.span(s)?))).collect();
        all.filter(|_| d.len() > 1)
    };
    let open: Vec<(usize, Vec<(usize, Span)>)> = now
        .domains
        .iter()
        .enumerate()
        .filter_map(|(i, d)| Some((i, choices(d)?)))
        .collect();
    let mut by_choices: Vec<usize> = (0..open.len()).collect();
    by_choices.sort_by_key(|i| (open[*i].1.len(), *i));
    let mut room = MOST_ANSWERS;
    let tried: BTreeSet<usize> = by_choices
        .into_iter()
        .take_while(|i| {
            let fits = open[*i].1.len() <= room;
            room = room.saturating_sub(open[*i].1.len());
            fits
        })
        .collect();
    let of_all = tried.len() == open.len();
    let open = open
        .into_iter()
        .enumerate()
        .filter(|(i, _)| tried.contains(i))
        .map(|(_, o)| o);
    let mut best: Option<Question> = None;
    for (piece, choices) in open {
        let mut answers = Vec::new();
        for (slot, span) in choices {
            let mut told = problem.clone();
            told.domains = now.domains.clone();
            told.domains[piece].clip(slot, slot);
            // Every answer is possible, so that each leaves something.
            let settled = possible(&told, budget).map_or(0, |after| sure(&after.domains));
            answers.push((span, settled.saturating_sub(already)));
        }
        let least = answers.iter().map(|(_, n)| *n).min().unwrap_or(0);
        let mean = |all: &[(Span, usize)]| {
            let weight = |(a, b): Span| u128::from(b - a) + 1;
            let settled: u128 = all.iter().map(|(s, n)| weight(*s) * *n as u128).sum();
            (settled, all.iter().map(|(s, _)| weight(*s)).sum::<u128>())
        };
        let better = best.as_ref().is_none_or(|b| {
            let ((s, n), (t, m)) = (mean(&answers), mean(&b.answers));
            (least, s * m) > (b.at_least, t * n)
        });
        if better {
            best = Some(Question {
                piece,
                at_least: least,
                answers,
                of_all,
            });
        }
    }
    best
}
