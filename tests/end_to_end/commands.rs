//! The manners of the command line.

use crate::bench::{Bench, SMALL_PIECE};

#[test]
fn help_teaches_by_example_and_names_the_exit_codes() {
    let bench = Bench::empty();
    let help = bench.run(&["--help"]).ends(0);
    for part in [
        "offloom finish my-archive",
        "Exit codes",
        "begin",
        "check",
        "audit",
    ] {
        assert!(help.out.contains(part), "{part}\n{}", help.out);
    }
    for command in ["begin", "check", "finish", "audit", "explain", "man"] {
        let help = bench.run(&[command, "--help"]).ends(0);
        assert!(help.out.contains("Examples"), "{command}\n{}", help.out);
    }
    assert!(
        bench
            .run(&["--version"])
            .ends(0)
            .out
            .starts_with("offloom ")
    );
}

#[test]
fn wrong_use_ends_with_two_and_says_what_was_meant() {
    let bench = Bench::with_pieces(&[("sea-door", SMALL_PIECE)]);
    let said = bench.run(&["finsh", "studio"]).ends(2);
    assert!(said.err.contains("finish"), "{}", said.err);
    let said = bench.run(&["finish", "nowhere"]).ends(2);
    assert!(said.err.contains("nowhere"), "{}", said.err);
    let said = bench
        .run(&["finish", "studio", "--piece", "sea-dor"])
        .ends(2);
    assert!(said.err.contains("did you mean `sea-door`"), "{}", said.err);
    bench.run(&[]).ends(2);
}

#[test]
fn an_archive_can_be_begun_filled_in_and_finished() {
    let bench = Bench::empty();
    bench.run(&["begin", "studio"]).ends(0);
    bench
        .run(&[
            "begin",
            "studio",
            "--piece",
            "sea-door",
            "--title",
            "The Sea: a \"Door\" #3",
        ])
        .ends(0);
    // Nothing is filled in yet: every gap is named with a line to write.
    let said = bench.run(&["check", "studio"]).ends(1);
    for part in [
        "after `studio`",
        "after `weaver`",
        "after `made`",
        "after `height`",
    ] {
        assert!(said.err.contains(part), "{part}\n{}", said.err);
    }
    assert!(!said.err.contains("unknown-field"), "{}", said.err);
    let fill = |file: &str, from: &str, to: &str| {
        let text = std::fs::read_to_string(bench.path(file)).unwrap();
        assert!(text.contains(from), "{file} has no {from}");
        std::fs::write(bench.path(file), text.replacen(from, to, 1)).unwrap();
    };
    fill("studio.yaml", "studio:  ", "studio: Test Loom  ");
    fill("studio.yaml", "weaver:  ", "weaver: Ada Reed  ");
    let piece = "pieces/sea-door/piece.yaml";
    fill(piece, "made:  ", "made: 2026-03/2026-05  ");
    fill(piece, "  height:  ", "  height: 40 cm  ");
    fill(piece, "  width:\n", "  width: 30 cm\n");
    bench.run(&["finish", "studio"]).ends(0);
    let record = std::fs::read_to_string(bench.path("finished/sea-door/record.json")).unwrap();
    assert!(
        record.contains(r#""title":"The Sea: a \"Door\" #3""#),
        "{record}"
    );
    // A second begin changes nothing.
    let before = bench.files("");
    bench.run(&["begin", "studio"]).ends(0);
    bench
        .run(&["begin", "studio", "--piece", "sea-door"])
        .ends(0);
    assert_eq!(bench.files(""), before);
}

#[test]
fn a_field_of_the_piece_template_is_known_once_its_remark_is_taken_away() {
    let bench = Bench::empty();
    bench.run(&["begin", "studio"]).ends(0);
    bench.run(&["begin", "studio", "--piece", "p"]).ends(0);
    let text = std::fs::read_to_string(bench.path("pieces/p/piece.yaml")).unwrap();
    let open: String = text
        .lines()
        .map(
            |line| match line.strip_prefix("# ").or(line.strip_prefix("#")) {
                Some(field) if !line.starts_with("##") => format!("{field}\n"),
                _ => format!("{line}\n"),
            },
        )
        .collect();
    bench.put("pieces/p/piece.yaml", &open);
    let said = bench.run(&["check", "studio", "--json"]);
    let wrong: Vec<String> = said
        .findings()
        .into_iter()
        .filter(|f| f.contains("unknown-") || f.contains("not-yaml") || f.contains("wrong-"))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}\n{open}\n{}", said.out);
}

#[test]
fn json_is_one_document_and_findings_have_their_fixed_fields() {
    let bench = Bench::with_pieces(&[("p", &SMALL_PIECE.replace("40 cm", "40 kg"))]);
    let said = bench.run(&["check", "studio", "--json"]).ends(1);
    let json = said.json();
    let finding = &json["findings"][0];
    for field in [
        "name", "rank", "file", "line", "column", "message", "remedy",
    ] {
        assert!(!finding[field].is_null(), "{field}: {finding}");
    }
    assert_eq!(
        said.findings()[0],
        "error wrong-unit pieces/p/piece.yaml:5:20"
    );
    bench.run(&["finish", "studio", "--json"]).ends(1).json();
}

#[test]
fn findings_show_the_line_underlined_and_without_colour_in_a_pipe() {
    let bench = Bench::with_pieces(&[("p", &SMALL_PIECE.replace("40 cm", "40 kg"))]);
    let said = bench.run(&["check", "studio"]).ends(1);
    assert!(
        said.err.contains("measured: {height: 40 kg, width: 30 cm}"),
        "{}",
        said.err
    );
    assert!(said.err.contains("^^^^^"), "{}", said.err);
    assert!(said.err.contains("error[wrong-unit]"), "{}", said.err);
    assert!(!said.err.contains('\u{1b}') && !said.out.contains('\u{1b}'));
    let coloured = bench.run(&["check", "studio", "--color", "always"]).ends(1);
    assert!(coloured.err.contains('\u{1b}'));
    let quiet = bench.run(&["check", "studio", "--quiet"]).ends(1);
    assert!(quiet.out.is_empty() && quiet.err.contains("wrong-unit"));
}

#[test]
fn completions_and_man_page_know_every_command() {
    let bench = Bench::empty();
    for shell in ["bash", "zsh", "fish"] {
        let out = bench.run(&["completions", shell]).ends(0).out;
        for command in ["begin", "check", "finish", "audit", "explain"] {
            assert!(out.contains(command), "{shell} {command}");
        }
    }
    assert!(bench.run(&["man"]).ends(0).out.contains(".TH offloom"));
    assert!(
        bench
            .run(&["man", "finish"])
            .ends(0)
            .out
            .contains("reissue")
    );
}

#[test]
fn a_reader_who_goes_away_is_no_error() {
    use std::process::Stdio;
    let bench = Bench::empty();
    let mut child = bench
        .program()
        .args(["completions", "bash"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert!(
        done.stderr.is_empty(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    assert_eq!(done.status.code(), Some(0));
}

#[test]
fn every_finding_is_explained() {
    let bench = Bench::empty();
    let all = bench.run(&["explain", "--json"]).ends(0).json();
    let names: Vec<&str> = all["checks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| c["name"].as_str().unwrap())
        .collect();
    assert!(names.len() > 40, "{}", names.len());
    let said = bench.run(&["explain", names[0]]).ends(0);
    assert!(said.out.contains("Wrong:"), "{}", said.out);
    bench.run(&["explain", "no-such-thing"]).ends(2);
}

#[test]
fn a_refusal_is_one_json_document_too() {
    let bench = Bench::with_pieces(&[("p", SMALL_PIECE)]);
    for wrong in [
        &["check", "nowhere", "--json"][..],
        &["finish", "studio", "--piece", "q", "--json"],
        &["begin", "nowhere", "--piece", "q", "--json"],
    ] {
        let said = bench.run(wrong).ends(2).json();
        assert!(
            said["error"].as_str().is_some_and(|e| !e.is_empty()),
            "{said}"
        );
    }
}
