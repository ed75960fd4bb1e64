//! Trouble from outside: no room, no leave, two at once, a stop half way, names and texts meant to break
//! things. Nothing may be lost and nothing half done may have a final name.

use crate::bench::{Bench, SMALL_PIECE, Said, said};
use std::time::{Duration, Instant};

fn no_leftovers(bench: &Bench) {
    let left: Vec<String> = bench
        .files("finished")
        .into_keys()
        .filter(|name| name.contains("unfinished"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn two_runs_at_once_issue_one_bundle_and_both_end_well() {
    let bench = Bench::sample_pieces(&["dock-leaf", "slack-water-1"]);
    let mut first = bench.program().args(["finish", "studio"]).spawn().unwrap();
    let mut second = bench.program().args(["finish", "studio"]).spawn().unwrap();
    assert!(first.wait().unwrap().success());
    assert!(second.wait().unwrap().success());
    let bundles: Vec<String> = bench
        .files("finished/bundles")
        .into_keys()
        .filter(|n| n.ends_with(".zip"))
        .collect();
    assert_eq!(
        bundles,
        [
            "dock-leaf.r1.owner.zip",
            "dock-leaf.r1.zip",
            "slack-water-1.r1.owner.zip",
            "slack-water-1.r1.zip"
        ]
    );
    no_leftovers(&bench);
    bench.run(&["audit", "studio/finished/bundles"]).ends(0);
}

#[cfg(unix)]
#[test]
fn a_stop_half_way_leaves_nothing_half_done_and_the_next_run_completes() {
    let whole = Bench::sample_pieces(&["tide-tables", "dock-leaf"]);
    whole.run(&["finish", "studio"]).ends(0);
    for pause in [5, 60, 150, 300, 600, 1200] {
        let bench = Bench::sample_pieces(&["tide-tables", "dock-leaf"]);
        let mut child = bench
            .program()
            .args(["finish", "studio", "--quiet"])
            .stdout(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(pause));
        let id = child.id().to_string();
        let _ = std::process::Command::new("kill")
            .args(["-INT", &id])
            .status();
        let started = Instant::now();
        let code = child.wait().unwrap().code();
        assert!(
            started.elapsed() < Duration::from_secs(20),
            "it does not stop"
        );
        // Before its handler stands the signal itself ends it; after the work it ends well.
        assert!(
            matches!(code, Some(130 | 0) | None),
            "{code:?} after {pause} ms"
        );
        if bench.path("finished").exists() {
            no_leftovers(&bench);
        }
        bench.run(&["finish", "studio"]).ends(0);
        assert!(
            bench.files("finished") == whole.files("finished"),
            "after {pause} ms"
        );
    }
}

#[cfg(unix)]
#[test]
fn killed_outright_the_next_run_completes_and_sweeps_up() {
    let whole = Bench::sample_pieces(&["slack-water-5"]);
    whole.run(&["finish", "studio"]).ends(0);
    for pause in [100, 400, 800] {
        let bench = Bench::sample_pieces(&["slack-water-5"]);
        let mut child = bench
            .program()
            .args(["finish", "studio", "--quiet"])
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(pause));
        child.kill().unwrap();
        child.wait().unwrap();
        bench.run(&["finish", "studio"]).ends(0);
        assert!(
            bench.files("finished") == whole.files("finished"),
            "after {pause} ms"
        );
    }
}

/// A run into a small disk of its own, or one whose files may not grow; what it said and what it left.
#[cfg(unix)]
fn without_room(limit: &str, prepare: impl Fn(&std::path::Path) -> bool) -> Option<(Bench, Said)> {
    let bench = Bench::sample_pieces(&["slack-water-1", "dock-leaf"]);
    let small = bench.path("small");
    std::fs::create_dir(&small).unwrap();
    if !prepare(&small) {
        return None;
    }
    // The signal for a file that grows too large is ignored, so that writing fails instead.
    let script = format!("trap '' XFSZ; ulimit -f {limit}; exec \"$0\" \"$@\"");
    let program = env!("CARGO_BIN_EXE_offloom");
    let mut shell = std::process::Command::new("sh");
    shell.current_dir(bench.root().parent().unwrap());
    shell.args([
        "-c",
        &script,
        program,
        "finish",
        "studio",
        "--out",
        "studio/small",
    ]);
    let said = said(&mut shell);
    Some((bench, said))
}

#[cfg(unix)]
#[test]
fn files_that_may_not_grow_are_said_plainly_and_leave_nothing_half_done() {
    let (bench, said) = without_room("1024", |_| true).unwrap();
    assert_eq!(said.code, Some(2), "{}\n{}", said.out, said.err);
    assert!(
        said.err.contains("no space left") && said.err.contains("Make room"),
        "{}",
        said.err
    );
    let left: Vec<String> = bench.files("small").into_keys().collect();
    assert!(
        !left
            .iter()
            .any(|n| n.contains("unfinished") || n.ends_with(".zip")),
        "{left:?}"
    );
    // With room the same order is completed.
    bench
        .run(&["finish", "studio", "--out", "studio/small"])
        .ends(0);
    bench.run(&["audit", "studio/small/bundles"]).ends(0);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_plainly_and_leaves_nothing_half_done() {
    let mount = |small: &std::path::Path| {
        let mut mount = std::process::Command::new("mount");
        mount
            .args(["-t", "tmpfs", "-o", "size=2m", "tmpfs"])
            .arg(small);
        mount.stderr(std::process::Stdio::null());
        mount.status().is_ok_and(|s| s.success())
    };
    // Only root may mount a small disk; the test above holds elsewhere.
    let Some((bench, said)) = without_room("unlimited", mount) else {
        return;
    };
    let left: Vec<String> = bench.files("small").into_keys().collect();
    let unmounted = std::process::Command::new("umount")
        .arg(bench.path("small"))
        .status();
    assert!(unmounted.unwrap().success());
    assert_eq!(said.code, Some(2), "{}\n{}", said.out, said.err);
    assert!(said.err.contains("no space left"), "{}", said.err);
    assert!(!left.iter().any(|n| n.contains("unfinished")), "{left:?}");
    assert!(
        !left.iter().any(|n| n.ends_with("slack-water-1.r1.zip")),
        "{left:?}"
    );
}

#[cfg(unix)]
#[test]
fn an_output_folder_without_leave_to_write_is_said_plainly() {
    let bench = Bench::with_pieces(&[("p", SMALL_PIECE)]);
    // A file stands where the folder should be: this holds for root too.
    bench.put("finished", "in the way");
    let said = bench.run(&["finish", "studio"]).ends(2);
    assert!(said.err.contains("finished"), "{}", said.err);
    let said = bench
        .run(&["finish", "studio", "--out", "/proc/offloom"])
        .ends(2);
    assert!(said.err.contains("/proc/offloom"), "{}", said.err);
}

#[test]
fn markup_and_code_in_a_text_stay_text() {
    for title in [
        "#import \"@preview/x:1.0.0\"",
        "*bold* _it_ `raw` $x^2$ <label> @ref",
        "#read(\"/etc/passwd\")",
        "\\u{41} \\ // /* [content] {code}",
        "#panic(\"no\")",
        "= Heading",
    ] {
        let title_yaml = serde_json::to_string(title).unwrap();
        let bench = Bench::with_pieces(&[("p", &SMALL_PIECE.replace("Small Piece", &title_yaml))]);
        bench.run(&["finish", "studio"]).ends(0);
        let record = std::fs::read_to_string(bench.path("finished/p/record.json")).unwrap();
        assert!(record.contains(&title_yaml), "{record}");
    }
}

#[test]
fn long_and_foreign_titles_are_set() {
    let long = "Tide ".repeat(40);
    for title in [
        long.trim(),
        "Ääni ja çöpçü — Ελλάδα",
        "مد وجزر",
        "潮汐表",
        "🌊 Wave",
        "e\u{301}te\u{301}",
    ] {
        let yaml = serde_json::to_string(title).unwrap();
        let bench = Bench::with_pieces(&[("p", &SMALL_PIECE.replace("Small Piece", &yaml))]);
        let said = bench.run(&["finish", "studio"]).ends(0);
        assert!(bench.path("finished/p/certificate.pdf").is_file());
        let foreign = title.chars().any(|c| u32::from(c) > 0x600 && c != '—');
        assert_eq!(
            said.err.contains("letters-lacking"),
            foreign,
            "{title}: {}",
            said.err
        );
    }
}

#[cfg(unix)]
#[test]
fn folders_with_odd_names_are_finished_or_refused_with_words() {
    let odd = [
        "two words",
        "Ångström",
        "e\u{301}te\u{301}",
        "🌊",
        "مد",
        "-dash",
        "it's",
    ];
    let pieces: Vec<(&str, &str)> = odd.iter().map(|s| (*s, SMALL_PIECE)).collect();
    let bench = Bench::with_pieces(&pieces);
    bench.run(&["finish", "studio"]).ends(0);
    for slug in odd {
        assert!(
            bench
                .path(&format!("finished/bundles/{slug}.r1.zip"))
                .is_file(),
            "{slug}"
        );
    }
    bench.run(&["audit", "studio/finished/bundles"]).ends(0);

    let bench = Bench::with_pieces(&[("line\nend", SMALL_PIECE), ("what?", SMALL_PIECE)]);
    let said = bench.run(&["finish", "studio"]);
    assert_ne!(said.code, Some(0));
    assert!(said.err.contains("awkward-folder"), "{}", said.err);
    assert!(said.err.contains("what?"), "{}", said.err);
}

#[test]
fn a_damaged_former_bundle_is_not_built_upon() {
    let bench = Bench::with_pieces(&[("p", SMALL_PIECE)]);
    bench.run(&["finish", "studio"]).ends(0);
    bench.put("finished/bundles/p.r1.zip", "not a zip");
    let said = bench.run(&["finish", "studio"]).ends(2);
    assert!(said.err.contains("p.r1.zip"), "{}", said.err);
    assert_eq!(
        std::fs::read(bench.path("finished/bundles/p.r1.zip")).unwrap(),
        b"not a zip"
    );
    assert!(!bench.path("finished/bundles/p.r2.zip").exists());
}

#[test]
fn the_folder_of_one_piece_is_recognised_and_nothing_is_made_in_it() {
    let bench = Bench::with_pieces(&[("sea-door", SMALL_PIECE)]);
    let before = bench.files("");
    let said = bench.run(&["finish", "studio/pieces/sea-door"]).ends(1);
    assert!(said.err.contains("`--piece sea-door`"), "{}", said.err);
    assert!(bench.files("") == before);
}
