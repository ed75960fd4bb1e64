//! The reasoning about numbered series against trying everything: two thousand small series, every way to number their
//! pieces, every choice of days, every set of statements.

use offloom::quantity::Day;
use offloom::reckon::series::{Member, Outcome, Statement, Written, reason};
use std::collections::BTreeSet;

/// Splitmix64 (Steele and others, 2014; from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % n
    }
}

const FIRST: i64 = 739_000;
const DAYS: i64 = 9;
/// Without a count the trying stops here; numbers above are all alike for so few pieces.
const HIGHEST: u32 = 14;

fn a_series(dice: &mut Dice) -> Written {
    let n = dice.below(6) as usize + usize::from(dice.below(10) == 0);
    let of = (dice.below(3) > 0).then(|| dice.below(8) as u32 + u32::from(n > 0));
    let top = u64::from(of.unwrap_or(7)) + u64::from(dice.below(8) == 0);
    let by_date = dice.below(2) == 0;
    let members = (0..n)
        .map(|_| {
            let numbers = match dice.below(5) {
                0 => Vec::new(),
                1 | 2 => vec![dice.below(top.max(1)) as u32 + 1],
                _ => (0..2 + dice.below(2))
                    .map(|_| dice.below(top.max(1)) as u32 + 1)
                    .collect(),
            };
            let a = dice.below(DAYS as u64) as i64;
            let b = (a + dice.below(4) as i64).min(DAYS - 1);
            let day = |d: i64, dice: &mut Dice| {
                (dice.below(8) > 0).then(|| Day::from_ordinal(FIRST + d).unwrap())
            };
            let finished = (day(a, dice), day(b, dice));
            Member { numbers, finished }
        })
        .collect();
    Written {
        members,
        of,
        by_date,
    }
}

/// Which statements hold.
struct Held<'a> {
    w: &'a Written,
    numbers: Vec<bool>,
    days: Vec<bool>,
    count: bool,
}

impl<'a> Held<'a> {
    fn all(w: &'a Written) -> Held<'a> {
        let n = w.members.len();
        Held {
            w,
            numbers: vec![true; n],
            days: vec![true; n],
            count: true,
        }
    }

    fn some(w: &'a Written, statements: &BTreeSet<Statement>) -> Held<'a> {
        let n = w.members.len();
        let has = |s| statements.contains(&s);
        Held {
            w,
            numbers: (0..n).map(|i| has(Statement::Number(i))).collect(),
            days: (0..n).map(|i| has(Statement::Finished(i))).collect(),
            count: has(Statement::Count),
        }
    }

    fn choices(&self, i: usize) -> Vec<u32> {
        let top = self.w.of.filter(|_| self.count).unwrap_or(HIGHEST);
        let m = &self.w.members[i];
        if m.numbers.is_empty() || !self.numbers[i] {
            (1..=top).collect()
        } else {
            let mut all: Vec<u32> = m
                .numbers
                .iter()
                .copied()
                .filter(|n| (1..=top).contains(n))
                .collect();
            all.sort_unstable();
            all.dedup();
            all
        }
    }

    /// Every numbering that fits.
    fn numberings(&self, found: &mut dyn FnMut(&[u32]) -> bool) -> bool {
        let mut so_far = Vec::new();
        self.go_on(&mut so_far, found)
    }

    fn go_on(&self, so_far: &mut Vec<u32>, found: &mut dyn FnMut(&[u32]) -> bool) -> bool {
        let i = so_far.len();
        if i == self.w.members.len() {
            return self.days_agree(so_far) && found(so_far);
        }
        for n in self.choices(i) {
            if so_far.contains(&n) {
                continue;
            }
            so_far.push(n);
            let done = self.go_on(so_far, found);
            so_far.pop();
            if done {
                return true;
            }
        }
        false
    }

    /// Whether some choice of days, one in each span, never falls in the order of the numbers. Every choice is tried.
    fn days_agree(&self, numbers: &[u32]) -> bool {
        if !self.w.by_date {
            return true;
        }
        let mut order: Vec<usize> = (0..numbers.len()).collect();
        order.sort_by_key(|i| numbers[*i]);
        self.days_from(&order, 0)
    }

    fn days_from(&self, order: &[usize], least: i64) -> bool {
        let Some((i, rest)) = order.split_first() else {
            return true;
        };
        let (a, b) = if self.days[*i] {
            self.w.members[*i].finished
        } else {
            (None, None)
        };
        let low = a.map_or(0, |d| d.ordinal() - FIRST);
        let high = b.map_or(DAYS - 1, |d| d.ordinal() - FIRST);
        (low.max(least)..=high).any(|day| self.days_from(rest, day))
    }
}

fn fits(held: &Held) -> bool {
    held.numberings(&mut |_| true)
}

/// What each piece can have, and in how many numberings each number is used.
fn possible(held: &Held) -> (Vec<BTreeSet<u32>>, usize, Vec<usize>) {
    let n = held.w.members.len();
    let mut sets = vec![BTreeSet::new(); n];
    let (mut total, mut used) = (0, vec![0; HIGHEST as usize + 2]);
    held.numberings(&mut |numbers| {
        for (set, n) in sets.iter_mut().zip(numbers) {
            set.insert(*n);
            used[*n as usize] += 1;
        }
        total += 1;
        false
    });
    (sets, total, used)
}

/// The size of the smallest contradictory set of statements.
fn smallest(w: &Written) -> usize {
    let mut all: Vec<Statement> = Vec::new();
    for (i, m) in w.members.iter().enumerate() {
        if !m.numbers.is_empty() {
            all.push(Statement::Number(i));
        }
        if w.by_date && m.finished != (None, None) {
            all.push(Statement::Finished(i));
        }
    }
    if w.of.is_some() {
        all.push(Statement::Count);
    }
    for size in 0..=all.len() {
        for mask in 0u32..1 << all.len() {
            if mask.count_ones() as usize == size {
                let some = (0..all.len())
                    .filter(|k| mask >> k & 1 == 1)
                    .map(|k| all[k])
                    .collect();
                if !fits(&Held::some(w, &some)) {
                    return size;
                }
            }
        }
    }
    unreachable!("all of them contradict each other")
}

fn without_end(w: &Written) -> bool {
    w.of.is_none()
}

fn compare(case: u64, w: &Written) -> bool {
    let held = Held::all(w);
    let outcome = reason(w);
    let r = match outcome {
        Outcome::TooLarge => panic!("case {case}: {w:?}"),
        Outcome::Contradiction(c) => {
            assert!(!fits(&held), "case {case}: it fits: {w:?}\n{c:?}");
            let some: BTreeSet<Statement> = c.statements.iter().copied().collect();
            assert!(
                !fits(&Held::some(w, &some)),
                "case {case}: {c:?} go together: {w:?}"
            );
            assert!(c.smallest, "case {case}");
            assert_eq!(c.statements.len(), smallest(w), "case {case}: {w:?}\n{c:?}");
            return false;
        }
        Outcome::Consistent(r) => r,
    };
    assert!(fits(&held), "case {case}: nothing fits: {w:?}");
    assert!(r.proved, "case {case}");
    let (sets, total, used) = possible(&held);
    for (i, (got, want)) in r.remaining.iter().zip(&sets).enumerate() {
        let mut numbers: BTreeSet<u32> = got.spans.iter().flat_map(|(a, b)| *a..=*b).collect();
        let mut want = want.clone();
        if got.upwards {
            // Compared below the trying's end, where nothing is squeezed against it yet.
            let safe = HIGHEST - w.members.len() as u32;
            numbers.extend(numbers.last().copied().unwrap_or(0)..=safe);
            numbers.retain(|n| *n <= safe && *n > 0);
            want.retain(|n| *n <= safe);
        }
        assert_eq!(numbers, want, "case {case}, piece {i}: {w:?}\n{r:?}");
        let sure = w.members[i].numbers.len() != 1 && want.len() == 1 && !got.upwards;
        assert_eq!(
            r.settled.iter().any(|(p, ..)| *p == i),
            sure,
            "case {case}, piece {i}: {w:?}"
        );
    }
    let known = |n: u32| r.remaining.iter().any(|p| p.only() == Some(n));
    let always: Vec<u32> = (1..=HIGHEST)
        .filter(|n| used[*n as usize] == total && total > 0 && !known(*n))
        .collect();
    assert_eq!(r.surely_used, always, "case {case}: {w:?}");
    let written = w
        .members
        .iter()
        .flat_map(|m| m.numbers.iter().copied())
        .max()
        .unwrap_or(0);
    let top = w.of.unwrap_or(written);
    let gaps: Vec<u32> = (1..=top).filter(|n| used[*n as usize] == 0).collect();
    let got: Vec<u32> = r.gaps.iter().flat_map(|(a, b)| *a..=*b).collect();
    assert_eq!(got, gaps, "case {case}: {w:?}");
    question(case, w, &r, &sets);
    true
}

/// The best question by asking every one.
fn question(case: u64, w: &Written, r: &offloom::reckon::series::Reasoned, sets: &[BTreeSet<u32>]) {
    if without_end(w) && w.members.iter().any(|m| m.numbers.is_empty()) {
        // Pieces that can have any number are not asked about; the others are judged in the other cases.
        return;
    }
    let already = sets.iter().filter(|s| s.len() == 1).count();
    let mut best: Option<(usize, Vec<usize>)> = None;
    for (i, set) in sets.iter().enumerate().filter(|(_, s)| s.len() > 1) {
        let settled: Vec<usize> = set
            .iter()
            .map(|n| {
                let mut told = w.clone();
                told.members[i].numbers = vec![*n];
                let (after, ..) = possible(&Held::all(&told));
                after.iter().filter(|s| s.len() == 1).count() - already
            })
            .collect();
        let worth = |s: &[usize]| {
            (
                *s.iter().min().unwrap(),
                s.iter().sum::<usize>() as f64 / s.len() as f64,
            )
        };
        if best
            .as_ref()
            .is_none_or(|(_, b)| worth(&settled) > worth(b))
        {
            best = Some((i, settled));
        }
    }
    match (&r.question, best) {
        (None, None) => {}
        (Some(q), Some((i, settled))) => {
            let got: Vec<usize> = q
                .answers
                .iter()
                .flat_map(|((a, b), n)| (*a..=*b).map(|_| *n))
                .collect();
            assert_eq!((q.piece, got), (i, settled), "case {case}: {w:?}");
        }
        other => panic!("case {case}: {other:?}: {w:?}"),
    }
}

#[test]
fn two_thousand_series_are_reasoned_as_trying_everything_does() {
    // Source, exact case: every numbering, every choice of days and every set of statements tried.
    let mut dice = Dice(20_260_701);
    let (mut consistent, mut contradictory) = (0, 0);
    for case in 0..2000 {
        let w = a_series(&mut dice);
        if compare(case, &w) {
            consistent += 1;
        } else {
            contradictory += 1;
        }
    }
    println!("{consistent} go together, {contradictory} do not");
    assert!(consistent > 500 && contradictory > 500);
}
