//! Every check of hanging held to its two examples, each alone.

use super::*;
use crate::check::testing::found;
use crate::check::{Check, Example};

const ALL: [&Check; 8] = [
    &bar_sags::CHECK,
    &bar_overstressed::CHECK,
    &bracket_off_bar::CHECK,
    &one_bracket::CHECK,
    &hold_down_bracket::CHECK,
    &centre_outside::CHECK,
    &bar_does_not_fit::CHECK,
    &slits_open::CHECK,
];

#[test]
fn each_check_finds_its_bad_example_once_and_its_good_one_never() {
    for check in ALL {
        assert_eq!(found(check, &check.bad).len(), 1, "{}", check.kind.name);
        for other in ALL {
            let slips = found(other, &check.good);
            assert!(slips.is_empty(), "{}: {slips:?}", check.kind.name);
        }
    }
}

#[test]
fn a_piece_that_says_nothing_of_hanging_is_left_in_peace() {
    for check in ALL {
        assert!(
            found(check, &Example::PLAIN).is_empty(),
            "{}",
            check.kind.name
        );
    }
}

#[test]
fn brackets_that_can_not_carry_are_named_each_for_itself() {
    let example = Example {
        piece: "hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [0 cm, 161 cm, 170 cm]}",
        ..Example::PLAIN
    };
    assert_eq!(found(&bracket_off_bar::CHECK, &example).len(), 2);
    assert!(found(&bar_sags::CHECK, &example).is_empty());
    assert!(found(&hold_down_bracket::CHECK, &example).is_empty());
}
