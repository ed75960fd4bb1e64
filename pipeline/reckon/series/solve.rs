//! Finding numberings that fit: first the one that comes of itself, then by trying, every try counted.

use super::bits::Bits;
use super::filter::{Filtered, filter};
use super::slots::Slots;
use super::{Member, Written};

/// Steps that are left.
#[derive(Debug)]
pub(super) struct Budget {
    steps: u64,
    spent: bool,
}

impl Budget {
    pub fn new(steps: u64) -> Budget {
        Budget {
            steps,
            spent: false,
        }
    }

    /// Takes a step; `false` where none is left.
    fn step(&mut self) -> bool {
        match self.steps.checked_sub(1) {
            Some(left) => {
                self.steps = left;
                true
            }
            None => {
                self.spent = true;
                false
            }
        }
    }

    /// Whether it sufficed so far.
    pub fn left(&self) -> bool {
        !self.spent
    }
}

/// Pieces with the slots that are written for them, and who surely comes before whom.
#[derive(Debug, Clone)]
pub(super) struct Problem {
    pub domains: Vec<Bits>,
    pub before: Vec<Vec<usize>>,
    pub after: Vec<Vec<usize>>,
}

impl Problem {
    pub fn of(written: &Written, slots: &Slots) -> Problem {
        let within = written.of.map_or(slots.len(), |of| slots.within(of));
        let mut whole = Bits::empty(slots.len());
        (0..within).for_each(|s| whole.insert(s));
        let domain = |m: &Member| {
            if m.numbers.is_empty() {
                return whole.clone();
            }
            let mut some = Bits::empty(slots.len());
            for slot in m.numbers.iter().filter_map(|n| slots.of_number(*n)) {
                if slot < within {
                    some.insert(slot);
                }
            }
            some
        };
        let members = &written.members;
        let n = members.len();
        let (mut before, mut after) = (vec![Vec::new(); n], vec![Vec::new(); n]);
        if written.by_date {
            for i in 0..n {
                for j in 0..n {
                    if members[j].precedes(&members[i]) {
                        before[i].push(j);
                        after[j].push(i);
                    }
                }
            }
        }
        Problem {
            domains: members.iter().map(domain).collect(),
            before,
            after,
        }
    }

    /// Crosses out in a copy of some domains.
    fn filtered(&self, domains: &[Bits]) -> Option<Vec<Bits>> {
        let mut domains = domains.to_vec();
        filter(&mut domains, &self.before, &self.after).then_some(domains)
    }

    fn ordered(&self) -> bool {
        self.before.iter().any(|b| !b.is_empty())
    }
}

/// For each piece the slots it has in at least one numbering; nothing where there is no numbering. Where steps run out a
/// slot is left in.
pub(super) fn possible(problem: &Problem, budget: &mut Budget) -> Option<Filtered> {
    let mut domains = problem.filtered(&problem.domains)?;
    // Without an order, what the filter leaves is exact.
    if !problem.ordered() {
        return Some(Filtered { domains });
    }
    let mut seen: Vec<Bits> = domains.clone();
    seen.iter_mut().for_each(|s| {
        s.clip(1, 0);
    });
    let mark = |solution: &[usize], seen: &mut Vec<Bits>| {
        solution
            .iter()
            .enumerate()
            .for_each(|(i, s)| seen[i].insert(*s));
    };
    match solution(problem, &domains, budget) {
        Some(Some(first)) => mark(&first, &mut seen),
        Some(None) => return None,
        None => return Some(Filtered { domains }),
    }
    for i in 0..domains.len() {
        for slot in domains[i].clone().iter() {
            if !domains[i].has(slot) || seen[i].has(slot) {
                continue;
            }
            let mut fixed = domains.clone();
            fixed[i].clip(slot, slot);
            match problem
                .filtered(&fixed)
                .map(|f| solution(problem, &f, budget))
            {
                Some(Some(Some(found))) => mark(&found, &mut seen),
                None | Some(Some(None)) => {
                    domains[i].remove(slot);
                    // What goes takes other things with it.
                    if let Some(fewer) = problem.filtered(&domains) {
                        domains = fewer;
                    }
                }
                // Not proved either way.
                Some(None) => {}
            }
        }
    }
    Some(Filtered { domains })
}

/// Slots that are used in every numbering.
pub(super) fn always_used(
    problem: &Problem,
    possible: &Filtered,
    budget: &mut Budget,
) -> Vec<usize> {
    let bound = possible
        .domains
        .iter()
        .filter_map(Bits::last)
        .max()
        .map_or(0, |m| m + 1);
    // One numbering tells which slots may be used always; each is then taken away in turn.
    let Some(Some(first)) = solution(problem, &possible.domains, budget) else {
        return Vec::new();
    };
    let mut candidates = Bits::empty(bound);
    first.iter().for_each(|slot| candidates.insert(*slot));
    let mut always = Vec::new();
    for slot in candidates.clone().iter() {
        if !candidates.has(slot) {
            continue;
        }
        let mut without = possible.domains.clone();
        without.iter_mut().for_each(|d| d.remove(slot));
        match problem
            .filtered(&without)
            .map(|f| solution(problem, &f, budget))
        {
            None | Some(Some(None)) => always.push(slot),
            Some(Some(Some(other))) => {
                let mut used = Bits::empty(bound);
                other.iter().for_each(|s| used.insert(*s));
                let gone: Vec<usize> = candidates.iter().filter(|s| !used.has(*s)).collect();
                gone.iter().for_each(|s| candidates.remove(*s));
            }
            Some(None) => {}
        }
    }
    always
}

/// Whether there is a numbering at all; nothing where steps ran out.
pub(super) fn fits(problem: &Problem, budget: &mut Budget) -> Option<bool> {
    match problem.filtered(&problem.domains) {
        None => Some(false),
        Some(_) if !problem.ordered() => Some(true),
        Some(domains) => solution(problem, &domains, budget).map(|s| s.is_some()),
    }
}

/// A numbering within filtered domains: `Some(None)` where there is none, nothing where steps ran out.
pub(super) fn solution(
    problem: &Problem,
    domains: &[Bits],
    budget: &mut Budget,
) -> Option<Option<Vec<usize>>> {
    if !problem.ordered() {
        let bound = domains
            .iter()
            .filter_map(Bits::last)
            .max()
            .map_or(0, |m| m + 1);
        return Some(super::filter::matching(domains, bound));
    }
    if !budget.step() {
        return None;
    }
    if let Some(found) = in_turn(problem, domains) {
        return Some(Some(found));
    }
    // Where each piece's slots run without a hole, going in turn finds a numbering if there is one.
    if domains.iter().all(|d| {
        d.last()
            .zip(d.first())
            .is_some_and(|(b, a)| b - a + 1 == d.len())
    }) {
        return Some(None);
    }
    let open = (0..domains.len()).filter(|i| domains[*i].len() > 1);
    let Some(i) = open.min_by_key(|i| domains[*i].len()) else {
        // All have one slot, and the filter has looked at every pair of them.
        let one: Option<Vec<usize>> = domains.iter().map(Bits::first).collect();
        return Some(one);
    };
    for slot in domains[i].iter() {
        let mut fixed = domains.to_vec();
        fixed[i].clip(slot, slot);
        if let Some(fixed) = problem.filtered(&fixed) {
            match solution(problem, &fixed, budget) {
                Some(None) => {}
                found_or_spent => return found_or_spent,
            }
        }
    }
    Some(None)
}

/// Slot by slot the piece that must be placed soonest, of those that may stand there and whose forerunners are placed
/// (earliest due date; optimal for tasks of one unit with release days, due days and an order that agrees with them, see
/// Lawler, Management Science 1973; from memory).
fn in_turn(problem: &Problem, domains: &[Bits]) -> Option<Vec<usize>> {
    let n = domains.len();
    let bound = domains
        .iter()
        .filter_map(Bits::last)
        .max()
        .map_or(0, |m| m + 1);
    let mut waits: Vec<usize> = problem.before.iter().map(Vec::len).collect();
    let mut placed = vec![usize::MAX; n];
    let mut left = n;
    for slot in 0..bound {
        let fits = |i: &usize| placed[*i] == usize::MAX && waits[*i] == 0 && domains[*i].has(slot);
        let due = |i: &usize| (domains[*i].last(), domains[*i].len());
        if let Some(i) = (0..n).filter(fits).min_by_key(due) {
            placed[i] = slot;
            left -= 1;
            for j in &problem.after[i] {
                waits[*j] -= 1;
            }
        }
    }
    (left == 0).then_some(placed)
}
