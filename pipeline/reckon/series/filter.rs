//! What can be crossed out without trying: numbers that leave no room for the others.

use super::bits::Bits;

/// For each piece the slots it can have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filtered {
    pub domains: Vec<Bits>,
}

/// Crosses out until nothing goes any more; `false` where a piece is left without a slot.
pub(super) fn filter(domains: &mut [Bits], before: &[Vec<usize>], after: &[Vec<usize>]) -> bool {
    loop {
        if domains.iter().any(Bits::is_empty) {
            return false;
        }
        let mut changed = bounds(domains, before, after);
        if domains.iter().any(Bits::is_empty) {
            return false;
        }
        match all_different(domains) {
            None => return false,
            Some(crossed) => changed |= crossed,
        }
        if !changed {
            return true;
        }
    }
}

/// Pieces that surely come before another need room below it: with k of them whose own lowest slots are at least l,
/// the other lies k above l at least. The same from above.
fn bounds(domains: &mut [Bits], before: &[Vec<usize>], after: &[Vec<usize>]) -> bool {
    let mut changed = false;
    let n = domains.len();
    for i in 0..n {
        let mut lows: Vec<usize> = before[i]
            .iter()
            .filter_map(|j| domains[*j].first())
            .collect();
        lows.sort_unstable();
        // Each takes the next slot from its own lowest on: the last one's slot is below.
        let low = lows.iter().fold(0, |next, low| next.max(*low) + 1);
        let mut highs: Vec<usize> = after[i].iter().filter_map(|j| domains[*j].last()).collect();
        highs.sort_unstable_by(|a, b| b.cmp(a));
        let mut high = Some(usize::MAX);
        for h in highs {
            high = high.and_then(|x| x.min(h).checked_sub(1));
        }
        match high {
            Some(high) => changed |= domains[i].clip(low, high),
            None => {
                domains[i].clip(1, 0);
                return true;
            }
        }
    }
    changed
}

/// Régin's filter for different values (A filtering algorithm for constraints of difference in CSPs, AAAI 1994; from
/// memory): with one largest matching, a pair that is not in it can be in another one only if it lies on an alternating
/// cycle, or on an alternating path that ends at a free slot. Whether anything was crossed out; nothing where no matching
/// takes in every piece.
fn all_different(domains: &mut [Bits]) -> Option<bool> {
    let slots = domains
        .iter()
        .filter_map(Bits::last)
        .max()
        .map_or(0, |m| m + 1);
    let of_piece = matching(domains, slots)?;
    let mut holder = vec![usize::MAX; slots];
    for (i, slot) in of_piece.iter().enumerate() {
        holder[*slot] = i;
    }
    // Pieces can be reached from free slots: over a slot's other pieces, and from a piece to its own slot.
    let mut takers: Vec<Vec<usize>> = vec![Vec::new(); slots];
    for (i, d) in domains.iter().enumerate() {
        for slot in d.iter() {
            takers[slot].push(i);
        }
    }
    let mut reached = vec![false; slots];
    let mut waiting: Vec<usize> = (0..slots).filter(|s| holder[*s] == usize::MAX).collect();
    waiting.iter().for_each(|s| reached[*s] = true);
    while let Some(slot) = waiting.pop() {
        for i in &takers[slot] {
            let own = of_piece[*i];
            if !reached[own] {
                reached[own] = true;
                waiting.push(own);
            }
        }
    }
    let part = components(domains, &of_piece, &holder);
    let mut changed = false;
    for (i, d) in domains.iter_mut().enumerate() {
        let own = of_piece[i];
        let gone: Vec<usize> = d
            .iter()
            .filter(|slot| *slot != own && !reached[*slot])
            .filter(|slot| holder[*slot] == usize::MAX || part[holder[*slot]] != part[i])
            .collect();
        changed |= !gone.is_empty();
        gone.iter().for_each(|slot| d.remove(*slot));
    }
    Some(changed)
}

/// A slot for each piece, no slot twice, by augmenting paths, breadth first; nothing where there is none.
pub(super) fn matching(domains: &[Bits], slots: usize) -> Option<Vec<usize>> {
    let mut holder = vec![usize::MAX; slots];
    let mut of_piece = vec![usize::MAX; domains.len()];
    let mut order: Vec<usize> = (0..domains.len()).collect();
    order.sort_by_key(|i| domains[*i].len());
    for start in order {
        let mut from = vec![usize::MAX; slots];
        let mut queue = std::collections::VecDeque::from([start]);
        let mut end = None;
        'search: while let Some(i) = queue.pop_front() {
            for slot in domains[i].iter() {
                if from[slot] != usize::MAX {
                    continue;
                }
                from[slot] = i;
                if holder[slot] == usize::MAX {
                    end = Some(slot);
                    break 'search;
                }
                queue.push_back(holder[slot]);
            }
        }
        let mut slot = end?;
        loop {
            let i = from[slot];
            let former = of_piece[i];
            of_piece[i] = slot;
            holder[slot] = i;
            if i == start {
                break;
            }
            slot = former;
        }
    }
    Some(of_piece)
}

/// The strongly connected components of pieces, where one leads to another whose slot it could have (Tarjan 1972,
/// without recursion).
fn components(domains: &[Bits], of_piece: &[usize], holder: &[usize]) -> Vec<usize> {
    let n = domains.len();
    let next: Vec<Vec<usize>> = (0..n)
        .map(|i| {
            domains[i]
                .iter()
                .filter(|slot| *slot != of_piece[i])
                .map(|slot| holder[slot])
                .filter(|j| *j != usize::MAX)
                .collect()
        })
        .collect();
    let (mut index, mut low) = (vec![usize::MAX; n], vec![0; n]);
    let mut part = vec![usize::MAX; n];
    let mut open = vec![false; n];
    let (mut stack, mut counter, mut parts) = (Vec::new(), 0, 0);
    for root in 0..n {
        if index[root] != usize::MAX {
            continue;
        }
        let mut calls = vec![(root, 0)];
        while let Some((i, at)) = calls.pop() {
            if at == 0 {
                index[i] = counter;
                low[i] = counter;
                counter += 1;
                stack.push(i);
                open[i] = true;
            }
            if let Some(j) = next[i].get(at).copied() {
                calls.push((i, at + 1));
                if index[j] == usize::MAX {
                    calls.push((j, 0));
                } else if open[j] {
                    low[i] = low[i].min(index[j]);
                }
                continue;
            }
            if low[i] == index[i] {
                while let Some(j) = stack.pop() {
                    open[j] = false;
                    part[j] = parts;
                    if j == i {
                        break;
                    }
                }
                parts += 1;
            }
            if let Some((above, _)) = calls.last() {
                low[*above] = low[*above].min(low[i]);
            }
        }
    }
    part
}
