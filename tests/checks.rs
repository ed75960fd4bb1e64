//! The register of checks and the broken archives.
//!
//! Every check is held to its own two examples. Every folder below `tests/broken/` is a small archive
//! with something wrong in it, and its `expected.txt` holds every finding, one a line, as
//! `rank name file:line:column`; `sights.txt`, where there is one, says what would be seen in its
//! photographs. What a repository can not hold (links, sockets, accents stored as two characters, files
//! of 200 MB) is made in a temporary folder by `made.rs` and compared with
//! `tests/broken/made/<aspect>.txt`.
//!
//! After a change that is meant, run `ACCEPT=1 cargo test --release --test checks` and read what
//! changed in the expected files before committing them.

#[path = "broken/made.rs"]
mod made;

use offloom::check::{CHECKS, Check, Example, Rule, Subject, check, explain, manual, ranked};
use offloom::read::Archive;
use offloom::record::{Finding, Rank, Sight, Trouble};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

type Sights = BTreeMap<String, BTreeMap<String, Sight>>;

/// Reads an archive and checks it: everything that would be shown, in its order.
fn findings(root: &Path, sights: &Sights) -> Vec<Finding> {
    looked_at(root, sights, |subjects, mut found| {
        found.extend(check(subjects));
        ranked(found)
    })
}

/// Reads an archive and looks at its pieces; `look` is given what reading found.
fn looked_at(
    root: &Path,
    sights: &Sights,
    look: impl Fn(&[Subject], Vec<Finding>) -> Vec<Finding>,
) -> Vec<Finding> {
    let archive = Archive::read(root).expect("the folder is there");
    let none = BTreeMap::new();
    let files: Vec<BTreeSet<String>> = archive
        .pieces
        .iter()
        .map(|folder| folder.listing.files.iter().map(|f| f.relative.clone()))
        .map(Iterator::collect)
        .collect();
    let subjects: Vec<Subject> = archive
        .pieces
        .iter()
        .zip(&files)
        .filter_map(|(folder, files)| {
            Some(Subject {
                studio: archive.studio.as_ref(),
                piece: folder.piece.as_ref()?,
                files,
                sights: sights.get(&folder.slug).unwrap_or(&none),
            })
        })
        .collect();
    look(&subjects, archive.findings.clone())
}

/// `rank name file:line:column`, one a line.
fn table(findings: &[Finding]) -> String {
    let rank = |rank| match rank {
        Rank::Error => "error",
        Rank::Warning => "warning",
        Rank::Note => "note",
    };
    findings
        .iter()
        .map(|f| {
            let (kind, place) = (f.kind, &f.place);
            let obeyed = |text: &str| text.chars().any(char::is_control);
            assert!(
                !obeyed(&place.file),
                "{:?} could upset a terminal",
                place.file
            );
            assert!(
                !obeyed(&f.message),
                "{:?} could upset a terminal",
                f.message
            );
            assert!(!obeyed(&f.remedy), "{:?} could upset a terminal", f.remedy);
            well_said(f);
            format!(
                "{} {} {}:{}:{}\n",
                rank(kind.rank),
                kind.name,
                place.file,
                place.line,
                place.column
            )
        })
        .collect()
}

fn lay_out(example: &Example, root: &Path) -> Sights {
    let write = |path: &str, text: &str| {
        let path = root.join(path);
        let folder = path.parent().expect("a file in a folder");
        fs::create_dir_all(folder).expect("a temporary folder");
        fs::write(path, text).expect("a temporary file");
    };
    for (path, text) in example.files() {
        write(&path, &text);
    }
    let mut sights = Sights::new();
    for slug in ["p", "q"] {
        if !root.join("pieces").join(slug).is_dir() {
            continue;
        }
        let seen = example.sights(slug);
        for file in seen.keys() {
            write(
                &format!("pieces/{slug}/photos/{file}"),
                "stands for a photograph",
            );
        }
        sights.insert(slug.to_string(), seen);
    }
    for socket in example.sockets {
        std::os::unix::net::UnixListener::bind(root.join(socket)).expect("a socket");
    }
    sights
}

fn found_in(example: &Example) -> Vec<Finding> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let sights = lay_out(example, folder.path());
    findings(folder.path(), &sights)
}

/// What one check finds by itself: where a slip is named for several figures, what a check of one
/// relation says of it is left out of the whole.
fn found_alone(check: &Check, example: &Example) -> Vec<Finding> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let sights = lay_out(example, folder.path());
    looked_at(folder.path(), &sights, |subjects, mut found| {
        match check.rule {
            Rule::WhileReading | Rule::WhileSetting | Rule::WhileGathering => {}
            Rule::Piece(rule) | Rule::Silence(rule) => {
                subjects.iter().for_each(|s| rule(s, &mut found));
            }
            Rule::Archive(rule) => rule(subjects, &mut found),
        }
        found
    })
}

#[test]
fn nothing_is_found_in_the_plain_archive() {
    assert_eq!(table(&found_in(&Example::PLAIN)), "");
}

#[test]
fn every_bad_example_is_found_out_and_every_good_one_is_not() {
    let mut wrong = Vec::new();
    for check in CHECKS {
        let name = check.kind.name;
        let mut bad = found_in(&check.bad);
        if bad.iter().any(|f| f.kind.name == "figures-disagree") {
            bad = found_alone(check, &check.bad);
        }
        let pressed = matches!(check.rule, Rule::WhileSetting | Rule::WhileGathering);
        if !pressed && !bad.iter().any(|f| f.kind == check.kind) {
            wrong.push(format!(
                "{name}: not found in its bad example:\n{}",
                table(&bad)
            ));
        }
        let good = found_in(&check.good);
        let spoiled = |f: &&Finding| f.kind == check.kind || f.kind.rank == Rank::Error;
        for finding in good.iter().filter(spoiled) {
            wrong.push(format!("{name}: its good example has {finding:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_bad_example_shows_its_own_slip_and_hardly_another() {
    for check in CHECKS {
        let others: Vec<_> = found_in(&check.bad)
            .into_iter()
            .filter(|f| f.kind != check.kind && f.kind.rank == Rank::Error)
            .map(|f| f.kind.name)
            .collect();
        assert!(others.is_empty(), "{}: {others:?}", check.kind.name);
    }
}

#[test]
fn figures_without_measure_are_answered_and_never_stop_the_program() {
    let huge = "79228162514264337593543950335";
    let lines = [
        "measured: {height: 0.00000000000001 mm, width: 99999999999999999 m, mass: 99999999999999999 lb, thickness: 0.0000000001 mm, diagonals: [0.000001 mm, 99999999999999999 m]}".to_string(),
        "loom: {sett: 0.00000000001 epi, ends: 999999, width: 0.000000001 mm, woven: 99999999999999999 ft, warp_length: 1 mm, hems: {start: 99999999999999999 m}}".to_string(),
        format!("money: {{price: {huge} GBP, stages: [{{what: a, amount: {huge} GBP}}, {{what: b, amount: {huge} GBP}}]}}"),
        format!("money: {{price: 0.01 GBP, stages: [{{what: a, amount: {huge} GBP}}]}}"),
        "series: {name: S, number: [999999, 1, 1, 999999], of: 999999}".to_string(),
        "owners: [{from: XXXX}, {from: 0000/9999-12-31}, {from: ../..}, {from: /}, {from: '[..2026,2027..]'}]".to_string(),
        "made: 9999-24\nissued: 0000-01-01".to_string(),
        "display: {light: 99999999999999999 lx, hours_a_day: -99999999999999}".to_string(),
        "makers: {roll: [{name: x}], squares: {rows: 999999, columns: 1, side: 0.00000001 mm}}".to_string(),
        "photos: [{file: front.jpg, view: front, corners: [[0, 0], [0, 0], [0, 0], [0, 0]]}]".to_string(),
        "weft: [{fibre: {wool: 0, silk: 0}, weighed: {before: 0.0000001 g, after: 99999999999999999 kg}}]".to_string(),
    ];
    for piece in lines {
        let piece: &'static str = piece.leak();
        let example = Example {
            piece,
            beside: piece,
            notes: "## 0000-01-01 · 99999999999999999 h · 99999999999999999 m\n## 9999-12-31 · 0.00001 min · 0.00001 mm\n## 2024-02-29 · 1 h\n",
            ..Example::PLAIN
        };
        let found = found_in(&example);
        assert!(!found.is_empty(), "{piece}");
        table(&found);
    }
}

#[test]
fn every_name_is_taken_once_and_well_formed() {
    let mut names = BTreeSet::new();
    for Check { kind, .. } in CHECKS {
        assert!(names.insert(kind.name), "{} twice", kind.name);
        let fine = |c: char| c.is_ascii_lowercase() || c == '-';
        assert!(kind.name.chars().all(fine), "{}", kind.name);
        assert!(explain(kind.name).is_some_and(|c| c.kind == *kind));
    }
    assert!(explain("no-such-check").is_none());
}

#[test]
fn the_manual_explains_every_check_with_both_examples() {
    let manual = manual();
    for check in CHECKS {
        let name = check.kind.name;
        assert!(check.doc.len() > 60, "{name} is hardly explained");
        assert!(check.doc.ends_with('.'), "{name}: {}", check.doc);
        assert!(!check.doc.contains("  "), "{name}: blanks run together");
        assert!(manual.contains(&format!("### {name} (")), "{name}");
        let shown = offloom::check::entry(check);
        assert!(shown.contains("Wrong:\n"), "{name}");
    }
}

#[test]
fn messages_speak_as_the_house_does() {
    let mut said = Vec::new();
    for check in CHECKS {
        said.extend(found_in(&check.bad));
    }
    assert!(said.len() >= CHECKS.len());
    said.iter().for_each(well_said);
}

/// Lower case, no full stop, quotes in pairs, and a way out. Broken archives are held to it too.
fn well_said(f: &Finding) {
    let name = f.kind.name;
    assert!(!f.message.ends_with('.'), "{name}: {}", f.message);
    for text in [&f.message, &f.remedy] {
        let first = text.chars().next().expect("it says something");
        assert!(!first.is_uppercase(), "{name}: {text}");
        assert_eq!(text.matches('`').count() % 2, 0, "{name}: {text}");
    }
    assert!(!f.remedy.ends_with('.'), "{name}: {}", f.remedy);
}

#[test]
fn every_kind_of_finding_in_the_sources_is_in_the_register() {
    let pipeline = Path::new(env!("CARGO_MANIFEST_DIR")).join("pipeline");
    let known: BTreeSet<&str> = CHECKS.iter().map(|c| c.kind.name).collect();
    let mut used = BTreeSet::new();
    for folder in ["read", "check"] {
        for entry in walkdir::WalkDir::new(pipeline.join(folder)) {
            let path = entry.expect("the sources are readable").into_path();
            if path.extension().is_none_or(|e| e != "rs") {
                continue;
            }
            let text = fs::read_to_string(&path).expect("the sources are text");
            for rank in ["error", "warning", "note"] {
                // As a kind is written, by itself or in a table of checks.
                for begins in [format!("FindingKind::{rank}(\""), format!(" = {rank} \"")] {
                    for after in text.split(&begins).skip(1) {
                        let name = after.split('"').next().unwrap_or_default();
                        used.insert(name.to_string());
                    }
                }
            }
        }
    }
    assert!(used.len() > 50, "the search finds hardly anything");
    let used: BTreeSet<&str> = used.iter().map(String::as_str).collect();
    assert_eq!(
        used.difference(&known).collect::<Vec<_>>(),
        [&""; 0],
        "not registered"
    );
    assert_eq!(
        known.difference(&used).collect::<Vec<_>>(),
        [&""; 0],
        "never raised"
    );
}

/// What would be seen, from lines such as `p/front.jpg 5000 3656` or `p/front.jpg cut-short`.
fn sights_of(text: &str) -> Sights {
    let mut sights = Sights::new();
    for line in text.lines() {
        let (path, what) = line.split_once(" = ").expect("path = what");
        let (slug, file) = path.split_once('/').expect("piece/photo");
        let trouble = |t| Sight {
            trouble: Some(t),
            ..Sight::default()
        };
        let sight = match what {
            "empty" => trouble(Trouble::Empty),
            "cut short" => trouble(Trouble::CutShort),
            "text" => trouble(Trouble::NotAPicture("text".to_string())),
            "damaged" => trouble(Trouble::Damaged("a block is missing".to_string())),
            "heic" => trouble(Trouble::NotReadHere("HEIC".to_string())),
            "huge" => trouble(Trouble::TooLarge {
                width: 60_000,
                height: 60_000,
                most_megapixels: 400,
            }),
            "with place" => Sight {
                size: Some((4980, 3642)),
                private: vec!["the place it was taken".to_string()],
                ..Sight::default()
            },
            size => {
                let (width, height) = size.split_once(' ').expect("width height");
                let number = |t: &str| t.parse().expect("pixels");
                Sight {
                    size: Some((number(width), number(height))),
                    ..Sight::default()
                }
            }
        };
        let piece = sights.entry(slug.to_string()).or_default();
        piece.insert(file.to_string(), sight);
    }
    sights
}

/// Compares with the expected file, or rewrites it where that is asked for.
fn compare(aspect: &str, found: &[Finding], expected: &Path, wrong: &mut Vec<String>) {
    let table = table(found);
    #[allow(clippy::disallowed_methods)] // A test may ask how it is run.
    if std::env::var_os("ACCEPT").is_some() {
        fs::write(expected, &table).expect("the expected file can be written");
        return;
    }
    let want = fs::read_to_string(expected).unwrap_or_default();
    if table != want {
        let told: Vec<String> = found
            .iter()
            .map(|f| format!("{}: {} ({})", f.kind.name, f.message, f.remedy))
            .collect();
        wrong.push(format!(
            "{aspect}\nexpected:\n{want}found:\n{table}{}\n",
            told.join("\n")
        ));
    }
}

fn broken() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/broken")
}

#[test]
fn every_broken_archive_gives_exactly_its_findings() {
    let mut wrong = Vec::new();
    let mut count = 0;
    let mut folders: Vec<_> = fs::read_dir(broken())
        .expect("tests/broken is there")
        .map(|e| e.expect("readable").path())
        .filter(|p| p.is_dir() && !p.ends_with("made"))
        .collect();
    folders.sort();
    for folder in folders {
        let sights = fs::read_to_string(folder.join("sights.txt")).unwrap_or_default();
        let found = findings(&folder, &sights_of(&sights));
        let aspect = folder.file_name().unwrap_or_default().to_string_lossy();
        compare(&aspect, &found, &folder.join("expected.txt"), &mut wrong);
        count += 1;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count >= 25, "only {count} broken archives are left");
}

#[test]
fn archives_that_no_repository_can_hold_give_exactly_their_findings() {
    let mut wrong = Vec::new();
    for (aspect, make) in made::ALL {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let root = folder.path().join("archive");
        let sights = lay_out(&Example::PLAIN, &root);
        if !make(&root) {
            eprintln!(
                "{aspect}: can not be made on this system or by this user, so it is passed over"
            );
            continue;
        }
        let found = findings(&root, &sights);
        let expected = broken().join("made").join(format!("{aspect}.txt"));
        compare(aspect, &found, &expected, &mut wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_expected_file_of_a_made_archive_belongs_to_one() {
    let names: BTreeSet<String> = made::ALL.iter().map(|(a, _)| format!("{a}.txt")).collect();
    for entry in fs::read_dir(broken().join("made")).expect("tests/broken/made is there") {
        let name = entry.expect("readable").file_name();
        let name = name.to_string_lossy().into_owned();
        assert!(names.contains(&name), "{name} belongs to nothing");
    }
}

#[test]
fn no_broken_archive_changes_its_own_files() {
    let folder = broken().join("swapped-figures");
    let before = contents(&folder);
    let _ = findings(&folder, &Sights::new());
    assert_eq!(before, contents(&folder));
}

fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|e| e.expect("readable").into_path())
        .filter(|p| p.is_file())
        .map(|p| (p.clone(), fs::read(&p).expect("readable")))
        .collect()
}
