//! A show as a curator prepares it: what is in its way, and what is made of it. The papers themselves are looked at
//! by tests/outside/test_exhibition.py.

use crate::bench::{Bench, SMALL_PIECE};
use offloom::check::{CHECKS, Example, Rule};
use std::collections::BTreeSet;

/// An archive with small pieces of the given names, finished.
fn finished(slugs: &[&str]) -> Bench {
    let all: Vec<(&str, String)> = slugs
        .iter()
        .map(|s| (*s, SMALL_PIECE.replace("Small Piece", s)))
        .collect();
    let pieces: Vec<(&str, &str)> = all.iter().map(|(s, t)| (*s, t.as_str())).collect();
    let bench = Bench::with_pieces(&pieces);
    bench.run(&["finish", "studio", "--quiet"]).ends(0);
    bench
}

/// What `exhibit` finds, by name.
fn found(bench: &Bench, show: &str) -> BTreeSet<String> {
    let said = bench.run(&["exhibit", "studio", show, "--json"]);
    let json = said.json();
    let all = json["findings"]
        .as_array()
        .unwrap_or_else(|| panic!("{said:?}"));
    all.iter()
        .map(|f| f["name"].as_str().unwrap().to_owned())
        .collect()
}

fn laid_out(example: &Example) -> Bench {
    let bench = Bench::empty();
    for (path, text) in example.files() {
        bench.put(&path, text);
    }
    bench
}

const SHOW: &str = "title: Ebb\nopen: 2027-02-05/2027-03-28\n";

#[test]
fn every_conflict_is_found_in_its_bad_example_and_not_in_its_good_one() {
    let mut wrong = Vec::new();
    for check in CHECKS
        .iter()
        .filter(|c| matches!(c.rule, Rule::WhileGathering))
    {
        let name = check.kind.name;
        if !found(&laid_out(&check.bad), "ebb").contains(name) {
            wrong.push(format!("{name}: not found in its bad example"));
        }
        let good = laid_out(&check.good);
        // Examples have no files of photographs, so that nothing is finished however good the example; the sample
        // shows are the good examples of these two.
        if ["no-print-plate", "piece-not-finished"].contains(&name) {
            continue;
        }
        if found(&good, "ebb").contains(name) {
            wrong.push(format!("{name}: found in its good example"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_show_is_made_twice_to_the_same_bytes_and_nothing_else_is_touched() {
    let bench = finished(&["one", "two"]);
    bench.put(
        "exhibitions/ebb.yaml",
        format!("{SHOW}walls: [{{name: north, width: 4 m}}]\npieces: [one, two]\n"),
    );
    let inputs = |b: &Bench| {
        (
            b.files("pieces"),
            b.files("exhibitions"),
            b.files("finished/bundles"),
        )
    };
    let before = inputs(&bench);
    bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    let made = bench.files("finished/exhibitions/ebb");
    let names: Vec<&str> = made.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "catalogue.pdf",
            "exhibition.json",
            "hang-plan.pdf",
            "hang-plan.svg",
            "light-budget.pdf",
            "loan-papers.pdf",
            "object-list.csv",
            "object-list.pdf",
            "packing-list.pdf",
            "wall-labels.pdf",
        ]
    );
    std::fs::remove_dir_all(bench.path("finished/exhibitions")).unwrap();
    bench
        .run(&["exhibit", "studio", "exhibitions/ebb.yaml"])
        .ends(0);
    assert!(made == bench.files("finished/exhibitions/ebb"));
    assert!(before == inputs(&bench));
}

#[test]
fn a_list_of_prices_is_made_when_asked_for_and_goes_when_it_no_longer_is() {
    let bench = finished(&["one"]);
    let show = |asked: &str| {
        format!(
            "{SHOW}{asked}walls: [{{name: north, width: 4 m}}]\npieces: [{{piece: one, for_sale: yes, price: 900 GBP}}]\n"
        )
    };
    let list = bench.path("finished/exhibitions/ebb/price-list.pdf");
    bench.put("exhibitions/ebb.yaml", show("price_list: yes\n"));
    bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    assert!(list.exists());
    bench.put("exhibitions/ebb.yaml", show(""));
    let said = bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    assert!(said.err.contains("price-not-asked"), "{}", said.err);
    assert!(!list.exists());
}

#[test]
fn a_tight_show_says_by_how_much_and_which_change_would_do() {
    // Source, exact case: three pieces of 30 cm, two gaps of 40 cm and 10 cm at either end are 190 cm, on 160 cm; 28 cm
    // with a quarter of it at either end are 160.
    let bench = finished(&["one", "two", "three"]);
    bench.put(
        "exhibitions/ebb.yaml",
        format!(
            "{SHOW}gap: 40 cm\nwalls: [{{name: north, width: 160 cm}}]\npieces: [one, two, three]\n"
        ),
    );
    let said = bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    for words in [
        "30 cm more than",
        "a gap of 28 cm instead of 40 cm",
        "without",
        "piece-without-place",
    ] {
        assert!(
            said.err.contains(words) || said.out.contains(words),
            "{words}: {said:?}"
        );
    }
    assert!(
        said.out.contains("2 of 3 pieces hang on 1 wall"),
        "{}",
        said.out
    );
}

#[test]
fn bad_shows_are_answered_and_sane_papers_made_where_they_can_be() {
    let bench = finished(&["one", "two"]);
    let wall = "walls: [{name: north, width: 4 m}]\n";
    for (lines, code, word) in [
        (format!("{wall}pieces: [onee]\n"), 1, "did you mean `one`"),
        (format!("{wall}pieces: [one, one]\n"), 0, "piece-listed-twice"),
        (format!("{wall}pieces: []\n"), 0, "show-empty"),
        ("pieces: [one]\n".to_owned(), 0, "has no wall"),
        ("walls: [{name: north, width: 0 m}]\npieces: [one]\n".to_owned(), 1, "nothing at all"),
        ("walls: [{name: north, width: 20 cm}]\npieces: [one]\n".to_owned(), 0, "30 cm wider"),
        (
            "walls: [{name: north, width: 4 m, keep_clear: [{from: 3 m, to: 5 m}]}]\npieces: [one]\n".to_owned(),
            0,
            "ends beyond the wall",
        ),
        (format!("{wall}pieces: [{{piece: one, wall: attic}}]\n"), 1, "the walls are: north"),
        (format!("{wall}pieces: [one]\nlight: 60\n"), 1, "no-unit"),
        (format!("{wall}pieces: [one]\nlenght: 4 m\n"), 1, "unknown-field"),
    ] {
        bench.put("exhibitions/ebb.yaml", format!("{SHOW}{lines}"));
        let said = bench.run(&["exhibit", "studio", "ebb"]).ends(code);
        assert!(said.err.contains(word), "{lines}: {}", said.err);
        if code == 0 {
            assert!(bench.path("finished/exhibitions/ebb/catalogue.pdf").exists());
        }
    }
    bench.put(
        "exhibitions/ebb.yaml",
        "title: Ebb\nopen: 2027-03-28/2027-02-05\n",
    );
    let said = bench.run(&["exhibit", "studio", "ebb"]).ends(1);
    assert!(said.err.contains("ends before it begins"), "{}", said.err);
    let said = bench.run(&["exhibit", "studio", "eb"]).ends(2);
    assert!(said.err.contains("did you mean `ebb`"), "{}", said.err);
    let said = bench.run(&["exhibit", "nowhere", "ebb"]).ends(2);
    assert!(said.err.contains("not found"), "{}", said.err);
}

#[test]
fn a_slip_in_an_exhibition_is_found_by_check_and_keeps_no_piece_from_being_finished() {
    let bench = finished(&["one"]);
    bench.put(
        "exhibitions/ebb.yaml",
        format!("{SHOW}pieces: [onee]\nlenght: 4 m\n"),
    );
    let said = bench.run(&["check", "studio"]).ends(1);
    for word in ["piece-unknown", "unknown-field", "exhibitions/ebb.yaml:3"] {
        assert!(said.err.contains(word), "{word}: {}", said.err);
    }
    bench.put(
        "pieces/one/piece.yaml",
        SMALL_PIECE.replace("30 cm", "31 cm"),
    );
    bench.run(&["finish", "studio"]).ends(0);
    bench.run(&["check", "studio", "--piece", "one"]).ends(0);
}

#[test]
fn hostile_words_stay_words() {
    let bench = finished(&["one"]);
    let words = "#panic() $x$ <b> [link](x) =cmd|' /C calc'!A0 \\u{202e}";
    bench.put(
        "exhibitions/ebb.yaml",
        format!(
            "title: \"{0}\"\nopen: 2027-02-05/2027-03-28\nvenue: '#include \"/etc/passwd\"'\nwalls: [{{name: '<script>\"&', width: 4 m}}]\npieces: [{{piece: one, label: '#let x = 1'}}]\n",
            words.replace('\\', "\\\\")
        ),
    );
    bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    let svg =
        std::fs::read_to_string(bench.path("finished/exhibitions/ebb/hang-plan.svg")).unwrap();
    assert!(!svg.contains("<script>") && svg.contains("&lt;script&gt;"));
}

#[test]
fn three_hundred_pieces_get_a_plan_and_papers() {
    let slugs: Vec<String> = (0..300).map(|i| format!("p{i:03}")).collect();
    let names: Vec<&str> = slugs.iter().map(String::as_str).collect();
    let all: Vec<(&str, &str)> = names.iter().map(|s| (*s, SMALL_PIECE)).collect();
    let bench = Bench::with_pieces(&all);
    let walls: Vec<String> = (0..12)
        .map(|i| format!("{{name: w{i}, width: 18 m}}"))
        .collect();
    bench.put(
        "exhibitions/ebb.yaml",
        format!(
            "{SHOW}walls: [{}]\npieces: [{}]\n",
            walls.join(", "),
            names.join(", ")
        ),
    );
    let said = bench.run(&["exhibit", "studio", "ebb"]).ends(0);
    assert!(
        said.out.contains("300 of 300 pieces hang on 12 walls"),
        "{}",
        said.out
    );
}

#[test]
fn the_conflicts_of_the_sample_shows_are_as_reviewed() {
    let bench = Bench::sample();
    bench.run(&["finish", "studio", "--quiet"]);
    assert_eq!(
        Vec::from_iter(found(&bench, "low-water")),
        ["light-over-year"],
    );
    assert_eq!(
        Vec::from_iter(found(&bench, "between-tides")),
        ["light-over-year", "mass-untold"],
    );
}
