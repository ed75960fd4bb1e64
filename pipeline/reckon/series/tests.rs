//! Series with answers known by hand.

use super::*;

fn written(members: &[&[u32]], of: Option<u32>) -> Written {
    Written {
        members: members
            .iter()
            .map(|n| Member {
                numbers: n.to_vec(),
                finished: (None, None),
            })
            .collect(),
        of,
        by_date: false,
    }
}

fn consistent(w: &Written) -> Reasoned {
    match reason(w) {
        Outcome::Consistent(r) => r,
        other => panic!("{other:?}"),
    }
}

fn dated(numbers: &[u32], first: &str, last: &str) -> Member {
    let day = |text: &str| Day::parse(text).ok();
    Member {
        numbers: numbers.to_vec(),
        finished: (day(first), day(last)),
    }
}

#[test]
fn two_pieces_that_share_two_numbers_leave_none_of_them_to_a_third() {
    // Source, exact case: Hall's theorem; {2, 3} and {2, 3} use up both.
    let r = consistent(&written(&[&[2, 3], &[3, 2], &[3, 4], &[1]], Some(5)));
    assert_eq!(r.settled, [(2, 4, Because::OnlyLeft)]);
    assert_eq!(r.remaining[0].spans, [(2, 3)]);
    assert_eq!(r.surely_used, [2, 3]);
    assert_eq!(r.gaps, [(5, 5)]);
    assert!(r.proved);
    let q = r.question.unwrap();
    assert_eq!((q.piece, q.at_least), (0, 2));
    assert_eq!(q.answers, [((2, 2), 2), ((3, 3), 2)]);
}

#[test]
fn a_number_that_only_one_piece_can_have_is_its_own_where_all_are_there() {
    let r = consistent(&written(&[&[1, 2], &[2, 3], &[2]], Some(3)));
    assert_eq!(
        r.remaining.iter().map(Remaining::only).collect::<Vec<_>>(),
        [Some(1), Some(3), Some(2)]
    );
    assert_eq!(r.settled[0], (0, 1, Because::OnlyPiece));
}

#[test]
fn three_pieces_in_two_numbers_contradict_each_other_and_nothing_else_is_blamed() {
    // Source, exact case: the pigeonhole principle.
    let w = written(&[&[7], &[1, 2], &[2, 1], &[8], &[1, 2]], Some(9));
    let Outcome::Contradiction(c) = reason(&w) else {
        panic!("three in two")
    };
    use Statement::Number;
    assert_eq!(c.statements, [Number(1), Number(2), Number(4)]);
    assert!(c.smallest);
}

#[test]
fn a_number_beyond_the_count_contradicts_the_count() {
    let Outcome::Contradiction(c) = reason(&written(&[&[11], &[2]], Some(9))) else {
        panic!("11 of 9")
    };
    assert_eq!(c.statements, [Statement::Number(0), Statement::Count]);
}

#[test]
fn more_pieces_than_the_count_blame_the_count_alone() {
    let Outcome::Contradiction(c) = reason(&written(&[&[], &[], &[]], Some(2))) else {
        panic!("3 of 2")
    };
    assert_eq!(c.statements, [Statement::Count]);
}

#[test]
fn days_settle_what_numbers_leave_open() {
    let mut w = written(&[], Some(5));
    w.members = vec![
        dated(&[1], "2024-10-01", "2024-10-31"),
        dated(&[2, 3], "2025-01-01", "2025-01-31"),
        dated(&[2, 3], "2025-03-01", "2025-03-31"),
        dated(&[], "2025-06-01", "2025-06-30"),
    ];
    w.by_date = true;
    let r = consistent(&w);
    assert_eq!(
        r.settled,
        [(1, 2, Because::OnlyLeft), (2, 3, Because::OnlyLeft)]
    );
    assert_eq!(r.remaining[3].spans, [(4, 5)]);
    assert_eq!(r.missing, Some(1));
    w.members[0].numbers = vec![4];
    let Outcome::Contradiction(c) = reason(&w) else {
        panic!("the first is after the second")
    };
    assert_eq!(c.statements.len(), 4, "{c:?}");
}

#[test]
fn a_series_without_a_count_has_no_end_and_its_gaps_end_at_the_highest_number() {
    let r = consistent(&written(&[&[1], &[5]], None));
    assert_eq!(r.gaps, [(2, 4)]);
    assert_eq!(r.missing, None);
    let r = consistent(&written(&[&[1], &[5], &[]], None));
    assert!(r.gaps.is_empty());
    assert!(
        r.remaining[2].upwards && r.remaining[2].spans[0] == (2, 4),
        "{:?}",
        r.remaining[2]
    );
    assert_eq!(r.remaining[2].count(), None);
}

#[test]
fn strange_series_are_answered() {
    for w in [
        Written::default(),
        written(&[], Some(0)),
        written(&[&[4_000_000_000], &[]], None),
        written(&[&[4_000_000_000], &[], &[1]], Some(u32::MAX)),
        written(&[&[u32::MAX], &[]], None),
        written(&[&[3, 3, 3], &[3, 4]], None),
    ] {
        let Outcome::Consistent(_) = reason(&w) else {
            panic!("{w:?}")
        };
    }
    // 0 is no number.
    assert!(matches!(
        reason(&written(&[&[0]], None)),
        Outcome::Contradiction(_)
    ));
    let twice: Vec<Vec<u32>> = (0..1500).map(|i| vec![i % 1499 + 1]).collect();
    let twice: Vec<&[u32]> = twice.iter().map(Vec::as_slice).collect();
    let Outcome::Contradiction(c) = reason(&written(&twice, None)) else {
        panic!("two have number 1")
    };
    assert_eq!(
        c.statements,
        [Statement::Number(0), Statement::Number(1499)]
    );
    let many: Vec<Vec<u32>> = (0..5000).map(|i| vec![i + 1]).collect();
    let many: Vec<&[u32]> = many.iter().map(Vec::as_slice).collect();
    assert!(matches!(reason(&written(&many, None)), Outcome::TooLarge));
}
