//! The audit as a studio runs it: over an archive, with its log, and with the disk that lies in the drawer.

use crate::bench::{Bench, SMALL_PIECE};
use std::fs;

const LOG: &str = "finished/audit-log.jsonl";

/// An archive with two finished pieces, and a copy of its shelf in `stick`.
fn shelved() -> Bench {
    let other = SMALL_PIECE.replace("Small Piece", "Other Piece");
    let bench = Bench::with_pieces(&[("small", SMALL_PIECE), ("other", &other)]);
    bench.run(&["finish", "studio"]).ends(0);
    let stick = bench.root().parent().unwrap().join("stick");
    fs::create_dir(&stick).unwrap();
    for name in ["small.r1.zip", "other.r1.zip"] {
        fs::copy(bench.path("finished/bundles").join(name), stick.join(name)).unwrap();
    }
    bench
}

/// Overwrites the octets from the middle of a bundle on.
fn spoil(bench: &Bench, file: &str, octets: &[u8]) {
    let path = bench.root().parent().unwrap().join(file);
    let mut held = fs::read(&path).unwrap();
    let middle = held.len() / 2;
    held[middle..middle + octets.len()].copy_from_slice(octets);
    fs::write(path, held).unwrap();
}

#[test]
fn an_archive_is_audited_and_its_log_tells_when() {
    let bench = shelved();
    let said = bench
        .run(&["audit", "studio", "--today", "2026-07-02"])
        .ends(0);
    assert!(said.out.contains("2 of 2 valid"), "{}", said.out);
    let log = fs::read_to_string(bench.path(LOG)).unwrap();
    assert_eq!(log.lines().count(), 2);
    assert!(log.contains("\"bag\":\"bundles/small.r1.zip\""), "{log}");
    assert!(log.contains("2026-07-02T00:00:00Z"), "{log}");
    // The shelf itself, and a bundle on it, go into the same log; a stick has none.
    bench
        .run(&["audit", "studio/finished/bundles", "--today", "2026-07-03"])
        .ends(0);
    bench.run(&["audit", "stick"]).ends(0);
    bench
        .run(&["audit", "studio/finished/bundles/small.r1.zip", "--no-log"])
        .ends(0);
    assert_eq!(
        fs::read_to_string(bench.path(LOG)).unwrap().lines().count(),
        4
    );
}

#[test]
fn only_what_is_due_is_audited() {
    let bench = shelved();
    bench
        .run(&["audit", "studio", "--today", "2026-07-02"])
        .ends(0);
    let due = |day: &str| {
        let ask = ["audit", "studio", "--due", "90d", "--list", "--today", day];
        bench.run(&ask).ends(0).out
    };
    assert!(
        due("2026-09-29").contains("0 of 2 due"),
        "{}",
        due("2026-09-29")
    );
    assert!(
        due("2026-09-30").contains("2 of 2 due"),
        "{}",
        due("2026-09-30")
    );
    assert!(due("2026-09-30").contains("last seen whole on 2026-07-02"));
    // One that was written to is due at once, and told with the day on which it was whole.
    spoil(&bench, "studio/finished/bundles/other.r1.zip", b"moth");
    let said = bench
        .run(&["audit", "studio", "--due", "90d", "--today", "2026-07-20"])
        .ends(1);
    assert!(
        said.out.contains("last seen whole on 2026-07-02"),
        "{}",
        said.out
    );
    assert!(!said.out.contains("small.r1.zip"), "{}", said.out);
    let wrong = bench.run(&["audit", "studio", "--due", "90"]).ends(2);
    assert!(wrong.err.contains("90d"), "{}", wrong.err);
}

#[test]
fn a_log_that_somebody_changed_is_told_and_the_audit_goes_on() {
    let bench = shelved();
    bench
        .run(&["audit", "studio", "--today", "2026-07-02"])
        .ends(0);
    let log = fs::read_to_string(bench.path(LOG)).unwrap();
    bench.put(LOG, log.replacen("valid", "incomplete", 1));
    let said = bench
        .run(&["audit", "studio", "--today", "2026-07-03"])
        .ends(1);
    assert!(said.err.contains("audit-log.jsonl:2"), "{}", said.err);
    assert!(said.out.contains("2 of 2 valid"), "{}", said.out);
}

#[test]
fn a_clock_that_was_set_back_is_told() {
    let bench = shelved();
    bench
        .run(&["audit", "studio", "--today", "2026-07-02"])
        .ends(0);
    let said = bench
        .run(&["audit", "studio", "--due", "90d", "--today", "2020-01-01"])
        .ends(0);
    assert!(said.err.contains("clock"), "{}", said.err);
    assert!(said.out.contains("2 of 2 valid"), "{}", said.out);
}

#[test]
fn a_damaged_bundle_is_mended_from_the_stick() {
    let bench = shelved();
    let bundle = bench.path("finished/bundles/small.r1.zip");
    let sound = fs::read(&bundle).unwrap();
    spoil(
        &bench,
        "studio/finished/bundles/small.r1.zip",
        b"moth and carpet beetle",
    );
    let spoiled = fs::read(&bundle).unwrap();
    let said = bench.run(&["audit", "studio", "stick", "--no-log"]).ends(1);
    assert!(
        said.out.contains("Good in stick/small.r1.zip"),
        "{}",
        said.out
    );
    assert!(
        said.out.contains("Most likely it has decayed"),
        "{}",
        said.out
    );
    let mend = [
        "audit",
        "studio",
        "--mend-from",
        "stick",
        "--mend-into",
        "new",
        "--no-log",
    ];
    let said = bench.run(&mend).ends(1);
    assert!(
        said.out.contains("mended: new/small.r1.zip"),
        "{}",
        said.out
    );
    let new = bench.root().parent().unwrap().join("new/small.r1.zip");
    assert!(fs::read(new).unwrap() == sound);
    assert!(
        fs::read(bundle).unwrap() == spoiled,
        "the damaged one was touched"
    );
    // Once more does no harm, and the shelf among the paths serves as well.
    bench.run(&mend).ends(1);
    bench
        .run(&[
            "audit",
            "studio",
            "stick",
            "--no-log",
            "--mend-into",
            "new2",
            "--mend-from",
        ])
        .ends(1);
}
