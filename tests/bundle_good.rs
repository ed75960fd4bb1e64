//! No false alarm: a thousand good bundles of every size, name and shape, and none is called anything but valid.

mod bundle_kit;

use bundle_kit::{contents, issue_in, shown};
use offloom::audit::{Watch, judge_all};
use offloom::bundle::{Item, Source};

#[test]
fn a_thousand_good_bundles_are_found_good() {
    // A fixed sequence (a multiplicative generator of Park and Miller, from memory), so that a failure can be repeated.
    let mut state: u64 = 1909;
    let mut next = |below: u64| {
        state = state * 48_271 % 2_147_483_647;
        state % below
    };
    let names = [
        "photos/front.jpg",
        "notes.md",
        "lettres/été.txt",
        "drawings/100 %25.svg",
        ".hidden",
        "a b  c.txt",
        "潮汐表.txt",
        "con.txt",
        "deep/er/and/deep/er/still.dat",
        "Notes.MD",
        "semi;colon&amp.txt",
        "quote'\".txt",
    ];
    let folder = tempfile::tempdir().unwrap();
    let mut paths = Vec::new();
    for number in 0..1000 {
        let mut payload = Vec::new();
        for name in names {
            if next(3) == 0 {
                continue;
            }
            let size = match next(8) {
                0 => 0,
                1 => 1 + next(4),
                2 => 60_000 + next(10_000),
                _ => next(2000),
            };
            let fill = next(3);
            let octets = (0..size)
                .map(|_| if fill == 0 { 0 } else { next(256) as u8 })
                .collect();
            payload.push(Item {
                path: name.to_owned(),
                from: Source::Bytes(octets),
            });
        }
        if payload.is_empty() {
            payload.push(bundle_kit::bytes("empty.txt", b""));
        }
        let issued = issue_in(
            folder.path(),
            &contents(&format!("piece-{number}"), payload),
        );
        paths.push(issued.path);
    }
    let verdicts = judge_all(&paths, Watch::NOBODY, None);
    assert_eq!(verdicts.len(), 1000);
    for verdict in &verdicts {
        assert!(verdict.faults.is_empty(), "{}", shown(verdict));
    }
}
