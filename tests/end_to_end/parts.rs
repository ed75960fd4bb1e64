//! A large archive finished in parts, on one machine and on several.

use crate::bench::{Bench, SMALL_PIECE};
use std::collections::BTreeMap;

const SLUGS: [&str; 6] = ["ebb", "flood", "high", "low", "neap", "spring"];

fn archive() -> Bench {
    let all: Vec<(&str, String)> = SLUGS
        .iter()
        .map(|s| (*s, SMALL_PIECE.replace("Small Piece", s)))
        .collect();
    let pieces: Vec<(&str, &str)> = all.iter().map(|(s, t)| (*s, t.as_str())).collect();
    Bench::with_pieces(&pieces)
}

/// Every file that counts: locks are of the runs, not of what they made.
fn made(bench: &Bench, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let mut files = bench.files(folder);
    files.retain(|path, _| !path.contains(".offloom-"));
    files
}

#[test]
fn parts_make_the_same_bytes_as_one_run() {
    let bench = archive();
    bench
        .run(&["finish", "studio", "--out", "studio/whole"])
        .ends(0);
    for part in ["3/3", "1/3", "2/3"] {
        bench
            .run(&["finish", "studio", "--out", "studio/dealt", "--part", part])
            .ends(0);
    }
    let whole = made(&bench, "whole");
    assert!(whole.len() > SLUGS.len() * 8);
    assert!(made(&bench, "dealt") == whole);
}

#[test]
fn what_several_machines_made_comes_together_and_damage_is_left_behind() {
    let bench = archive();
    bench
        .run(&["finish", "studio", "--out", "studio/whole"])
        .ends(0);
    for (part, out) in [("1/2", "studio/a"), ("2/2", "studio/b")] {
        bench
            .run(&["finish", "studio", "--out", out, "--part", part])
            .ends(0);
    }
    // A machine broke down: a paper of one piece is spoilt.
    let spoilt = SLUGS
        .iter()
        .find(|s| bench.path(&format!("b/{s}/certificate.pdf")).exists())
        .expect("two parts of six pieces");
    bench.put(&format!("b/{spoilt}/certificate.pdf"), "spoilt");
    let said = bench
        .run(&[
            "merge",
            "studio",
            "studio/a",
            "studio/b",
            "--out",
            "studio/all",
            "--json",
        ])
        .ends(1)
        .json();
    assert_eq!(said["left"].as_array().unwrap().len(), 1);
    assert_eq!(said["lacking"], serde_json::json!([spoilt]));
    // Finished once more there, and gathered again, it is as if one machine had done it all.
    bench
        .run(&["finish", "studio", "--out", "studio/b", "--part", "2/2"])
        .ends(0);
    let said = bench
        .run(&[
            "merge",
            "studio",
            "studio/a",
            "studio/b",
            "--out",
            "studio/all",
            "--json",
        ])
        .ends(0)
        .json();
    assert_eq!(said["taken"], serde_json::json!([spoilt]));
    assert!(made(&bench, "all") == made(&bench, "whole"));
    bench
        .run(&["finish", "studio", "--out", "studio/all"])
        .ends(0);
    assert!(made(&bench, "all") == made(&bench, "whole"));
}

#[test]
fn another_bundle_of_the_same_name_is_never_overwritten() {
    let bench = archive();
    bench
        .run(&["finish", "studio", "--out", "studio/a"])
        .ends(0);
    bench.put("all/bundles/ebb.r1.zip", "issued long ago");
    let said = bench
        .run(&["merge", "studio", "studio/a", "--out", "studio/all"])
        .ends(1);
    assert!(said.err.contains("ebb.r1.zip"), "{said:?}");
    let kept = std::fs::read(bench.path("all/bundles/ebb.r1.zip")).unwrap();
    assert_eq!(kept, b"issued long ago");
}

#[test]
fn a_part_that_can_not_be_is_refused() {
    let bench = archive();
    for part in ["0/2", "3/2", "two"] {
        let said = bench.run(&["finish", "studio", "--part", part]).ends(2);
        assert!(said.err.contains("such as 2/5"), "{said:?}");
    }
    bench.run(&["merge", "studio", "nowhere"]).ends(2);
}
