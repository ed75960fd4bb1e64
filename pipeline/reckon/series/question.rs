//! The one fact that would settle the most.

use super::Span;
use super::bits::Bits;
use super::filter::Filtered;
use super::slots::Slots;
use super::solve::{Budget, Problem, possible};

/// Which number has this piece?
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The piece.
    pub piece: usize,
    /// How many pieces become sure whatever the answer is, the piece itself counted.
    pub at_least: usize,
    /// For each answer how many become sure; answers that settle the same in one stretch are told together.
    pub answers: Vec<(Span, usize)>,
}

/// More answers than this to all questions together are not tried.
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
    if open.iter().map(|(_, c)| c.len()).sum::<usize>() > MOST_ANSWERS {
        return None;
    }
    let mut best: Option<Question> = None;
    for (piece, choices) in open {
        let mut answers = Vec::new();
        for (slot, span) in choices {
            let mut told = problem.clone();
            told.domains = now.domains.clone();
            told.domains[piece].clip(slot, slot);
            let after = possible(&told, budget)?;
            answers.push((span, sure(&after.domains).saturating_sub(already)));
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
            });
        }
    }
    best
}
