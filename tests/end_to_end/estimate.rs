//! The next piece, as a weaver asks for it. Its figures are judged by tests/outside/test_estimate.py.

use crate::bench::{Bench, SMALL_PIECE};

const ASKED: [&str; 6] = [
    "estimate", "studio", "--height", "150cm", "--width", "200cm",
];

fn more<'a>(options: &[&'a str]) -> Vec<&'a str> {
    ASKED.iter().chain(options).copied().collect()
}

#[test]
fn the_sample_tells_what_it_leans_on_and_writes_nothing() {
    let bench = Bench::sample();
    let said = bench
        .run(&more(&["--sett", "8epi", "--colours", "24"]))
        .ends(0);
    let text = said.out;
    for word in [
        "hours ",
        "months ",
        "price ",
        "weft ",
        "warp ",
        "leaning on",
        "left out in turn",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
    assert!(!bench.path("finished").exists());
}

#[test]
fn a_size_without_a_unit_is_refused_with_what_to_write() {
    let bench = Bench::with_pieces(&[("one", SMALL_PIECE)]);
    let said = bench
        .run(&["estimate", "studio", "--height", "150", "--width", "2 m"])
        .ends(2);
    assert!(said.err.contains("--height"), "{said:?}");
    assert!(said.err.contains("150 cm"), "{said:?}");
}

#[test]
fn an_archive_without_hours_says_so() {
    let bench = Bench::with_pieces(&[("one", SMALL_PIECE)]);
    let said = bench.run(&ASKED).ends(0);
    assert!(said.out.contains("no piece has all its hours"), "{said:?}");
}

#[test]
fn a_quote_that_says_something_else_is_not_changed() {
    let bench = Bench::sample();
    bench
        .run(&more(&["--quote", "gate", "--price", "9000 GBP"]))
        .ends(0);
    let path = bench.path("finished/quotes/gate.pdf");
    let before = std::fs::read(&path).unwrap();
    bench
        .run(&more(&["--quote", "gate", "--price", "9000 GBP"]))
        .ends(0);
    let said = bench
        .run(&more(&["--quote", "gate", "--price", "9500 GBP"]))
        .ends(2);
    assert!(said.err.contains("another name"), "{said:?}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    bench.run(&more(&["--quote", "../gate"])).ends(2);
}

#[test]
fn a_piece_that_is_not_there_is_named_with_the_nearest() {
    let bench = Bench::sample();
    let said = bench.run(&more(&["--with", "dock-leef"])).ends(2);
    assert!(said.err.contains("dock-leaf"), "{said:?}");
    bench
        .run(&more(&["--with", "dock-leaf", "--without", "tide-tables"]))
        .ends(0);
}
