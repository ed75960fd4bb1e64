//! Issuing bundles: the same octets for the same contents, nothing lost, nothing half there, nothing
//! overwritten; and what a general-purpose zip library finds in them.

mod bundle_kit;

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use bundle_kit::*;
use offloom::audit::{Standing, judge};
use offloom::bundle::{
    BundleName, Contents, Edition, IssueError, Item, Seal, Source, StudioSeal, TagFile, issue,
    issue_sealed, latest, latest_edition,
};
use offloom::disk::{Sha256Digest, UNFINISHED_PREFIX};
use offloom::seal::{Moment, SealKey, Signer, Signers, verify};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn try_issue(folder: &Path, contents: &Contents) -> Result<offloom::bundle::Issued, IssueError> {
    issue(folder, contents, &mut |_| {}, &|| false)
}

fn file(path: &str, from: &Path) -> Item {
    let size = fs::metadata(from).unwrap().len();
    Item {
        path: path.to_owned(),
        from: Source::File {
            path: from.to_path_buf(),
            size,
        },
    }
}

#[test]
fn a_sound_bundle_is_valid_and_has_no_fault() {
    let (_folder, path) = sound_bundle();
    let verdict = judge(&path);
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
    assert_eq!(verdict.standing, Standing::Valid);
    assert_eq!(verdict.payload_files, 3);
    assert_eq!(verdict.algorithms, ["sha256", "sha512"]);
}

#[test]
fn the_same_contents_give_the_same_octets_in_any_order() {
    let contents = sound_contents();
    let mut turned = contents.clone();
    turned.payload.reverse();
    let first = tempfile::tempdir().unwrap();
    let second = tempfile::tempdir().unwrap();
    let one = fs::read(issue_in(first.path(), &contents).path).unwrap();
    let other = fs::read(issue_in(second.path(), &turned).path).unwrap();
    assert_eq!(one, other);
    // The number of this bundle, so that a change of the format by a newer library is noticed.
    assert_eq!(
        Sha256Digest::of(&one).to_string(),
        "abf75e2019f5557c9566f622b33b2dde3eabeb1f6e5e3b245249d25d1153b522",
        "the octets of a bundle have changed"
    );
}

#[test]
fn the_bag_in_the_zip_is_what_the_standard_wants() {
    // Source, published: RFC 8493 sections 2.1.1 (declaration), 2.1.3 and 2.2.1 (manifests), 2.2.2 (Payload-Oxum).
    let (_folder, path) = sound_bundle();
    let files: BTreeMap<String, Vec<u8>> = unzipped(&fs::read(path).unwrap()).into_iter().collect();
    assert!(files.keys().all(|name| name.starts_with("tide-tables.r1/")));
    let text =
        |name: &str| String::from_utf8(files[&format!("tide-tables.r1/{name}")].clone()).unwrap();
    assert_eq!(
        text("bagit.txt"),
        "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
    );
    let sum: usize = files
        .iter()
        .filter(|(n, _)| n.contains("/data/"))
        .map(|(_, c)| c.len())
        .sum();
    assert!(text("bag-info.txt").ends_with(&format!("Payload-Oxum: {sum}.3\n")));
    let manifest = text("manifest-sha256.txt");
    let listed: Vec<&str> = manifest
        .lines()
        .map(|line| line.split_once("  ").unwrap().1)
        .collect();
    assert_eq!(listed, ["data/empty.txt", NOTES, FRONT]);
    for line in manifest.lines() {
        let (digest, name) = line.split_once("  ").unwrap();
        let content = &files[&format!("tide-tables.r1/{name}")];
        assert_eq!(Sha256Digest::of(content).to_string(), digest);
    }
    let tags = text("tagmanifest-sha512.txt");
    let listed: Vec<&str> = tags
        .lines()
        .map(|line| line.split_once("  ").unwrap().1)
        .collect();
    assert_eq!(
        listed,
        [
            "about.txt",
            "bag-info.txt",
            "bagit.txt",
            "manifest-sha256.txt",
            "manifest-sha512.txt"
        ]
    );
}

#[test]
fn the_zip_keeps_no_time_mode_or_compression_of_this_machine() {
    let (_folder, path) = sound_bundle();
    let mut zip = zip::ZipArchive::new(fs::File::open(path).unwrap()).unwrap();
    assert_eq!(zip.offset(), 0);
    assert!(zip.comment().is_empty());
    for at in 0..zip.len() {
        let entry = zip.by_index(at).unwrap();
        let time = entry.last_modified().unwrap();
        assert_eq!(
            (time.year(), time.month(), time.day(), time.hour()),
            (1980, 1, 1, 0)
        );
        assert_eq!(entry.unix_mode(), Some(0o100_644));
        assert_eq!(entry.compression(), zip::CompressionMethod::Stored);
        assert!(entry.extra_data().is_none_or(|extra| extra.is_empty()));
    }
}

#[test]
fn an_issued_bundle_is_never_overwritten() {
    let (folder, path) = sound_bundle();
    let before = fs::read(&path).unwrap();
    let mut changed = sound_contents();
    changed.payload.pop();
    let error = try_issue(folder.path(), &changed).unwrap_err();
    assert!(matches!(error, IssueError::AlreadyThere { .. }), "{error}");
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(names(folder.path()), ["tide-tables.r1.zip"]);
}

#[test]
fn of_two_runs_for_one_revision_one_wins_and_the_other_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let results: Vec<bool> = std::thread::scope(|scope| {
        let runs: Vec<_> = (0..4)
            .map(|_| scope.spawn(|| try_issue(folder.path(), &sound_contents()).is_ok()))
            .collect();
        runs.into_iter().map(|run| run.join().unwrap()).collect()
    });
    assert_eq!(results.iter().filter(|won| **won).count(), 1);
    assert_eq!(names(folder.path()), ["tide-tables.r1.zip"]);
    assert!(judge(&folder.path().join("tide-tables.r1.zip")).is_valid());
}

#[test]
fn names_no_system_can_keep_are_archived_under_stand_ins_and_listed() {
    let folder = tempfile::tempdir().unwrap();
    let odd = [
        "100%.txt",
        "Icon\r",
        "a\nb",
        "CON",
        "was? das:.txt",
        "ends in blank ",
        "caf\u{e9}",
        "cafe\u{301}",
        "Photo.JPG",
        "photo.jpg",
        "renamed-files.json",
        "\u{202e}gpj",
    ];
    let long = "x".repeat(300) + ".jpg";
    let mut payload: Vec<Item> = odd
        .iter()
        .map(|name| bytes(name, name.as_bytes()))
        .collect();
    payload.push(bytes(&long, long.as_bytes()));
    let issued = issue_in(folder.path(), &contents("odd", payload));
    let verdict = judge(&issued.path);
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
    let files: BTreeMap<String, Vec<u8>> = unzipped(&fs::read(&issued.path).unwrap())
        .into_iter()
        .collect();
    let list: serde_json::Value =
        serde_json::from_slice(&files["odd.r1/data/renamed-files.json"]).unwrap();
    let mut recovered: BTreeMap<String, String> = BTreeMap::new();
    for entry in list["renamed"].as_array().unwrap() {
        let text = |key: &str| entry[key].as_str().unwrap().to_owned();
        recovered.insert(text("archived"), text("original"));
    }
    // Each file's octets are its own name, so that nothing can be mixed up unseen.
    let mut seen = 0;
    for (path, content) in &files {
        let Some(archived) = path.strip_prefix("odd.r1/data/") else {
            continue;
        };
        if archived == "renamed-files.json" {
            continue;
        }
        let original = recovered.get(archived).map_or(archived, String::as_str);
        assert_eq!(original.as_bytes(), content.as_slice());
        seen += 1;
    }
    assert_eq!(seen, odd.len() + 1);
}

#[test]
fn a_source_that_has_gone_or_changed_stops_the_bundle_and_is_named() {
    let sources = tempfile::tempdir().unwrap();
    let folder = tempfile::tempdir().unwrap();
    let photo = sources.path().join("front.jpg");
    fs::write(&photo, b"front").unwrap();
    let contents = contents("tide", vec![file("photos/front.jpg", &photo)]);

    fs::write(&photo, b"front, longer").unwrap();
    let error = try_issue(folder.path(), &contents).unwrap_err();
    assert!(
        matches!(&error, IssueError::Changed { path } if *path == photo),
        "{error}"
    );

    fs::remove_file(&photo).unwrap();
    let error = try_issue(folder.path(), &contents).unwrap_err();
    assert!(
        matches!(&error, IssueError::Vanished { path } if *path == photo),
        "{error}"
    );
    assert!(error.to_string().contains("front.jpg"));

    fs::create_dir(&photo).unwrap();
    let error = try_issue(folder.path(), &contents).unwrap_err();
    assert!(
        matches!(&error, IssueError::Changed { path } if *path == photo),
        "{error}"
    );
    assert!(names(folder.path()).is_empty());
}

#[test]
fn a_source_rewritten_with_the_same_size_while_it_is_read_is_noticed() {
    let sources = tempfile::tempdir().unwrap();
    let folder = tempfile::tempdir().unwrap();
    let photo = sources.path().join("front.jpg");
    fs::write(&photo, vec![1; 3_000_000]).unwrap();
    let contents = contents("tide", vec![file("front.jpg", &photo)]);
    let spoiled = Cell::new(false);
    let error = issue(
        folder.path(),
        &contents,
        &mut |_| {
            if !spoiled.replace(true) {
                fs::write(&photo, vec![2; 3_000_000]).unwrap();
            }
        },
        &|| false,
    )
    .unwrap_err();
    assert!(matches!(error, IssueError::Changed { .. }), "{error}");
    assert!(names(folder.path()).is_empty());
}

#[test]
fn stopping_at_any_moment_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let contents = contents(
        "tide",
        vec![bytes("a", &vec![7; 1_000_000]), bytes("b", b"b")],
    );
    for looks in 0..8 {
        let left = Cell::new(looks);
        let result = issue(folder.path(), &contents, &mut |_| {}, &|| {
            left.set(left.get() - 1);
            left.get() < 0
        });
        if result.is_ok() {
            assert!(
                looks > 4,
                "stopped after {looks} looks, and yet it was issued"
            );
            return;
        }
        assert!(matches!(result, Err(IssueError::Cancelled)), "{result:?}");
        assert!(names(folder.path()).is_empty());
    }
}

#[test]
fn progress_counts_every_octet_twice() {
    let folder = tempfile::tempdir().unwrap();
    let contents = contents("tide", vec![bytes("a", &vec![7; 700_000])]);
    let mut seen = 0;
    issue(
        folder.path(),
        &contents,
        &mut |octets| seen += octets,
        &|| false,
    )
    .unwrap();
    assert!(seen >= 1_400_000, "{seen}");
}

#[test]
fn paths_that_lead_astray_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for path in ["../x", "/x", "a/../../x", "a//b", "", "./a"] {
        let error =
            try_issue(folder.path(), &contents("tide", vec![bytes(path, b"x")])).unwrap_err();
        assert!(
            matches!(error, IssueError::BadPath { .. }),
            "{path:?}: {error}"
        );
    }
    let twice = vec![bytes("a", b"1"), bytes("a", b"2")];
    let error = try_issue(folder.path(), &contents("tide", twice)).unwrap_err();
    assert!(matches!(error, IssueError::Twice { .. }), "{error}");
    let error = try_issue(folder.path(), &contents("tide", Vec::new())).unwrap_err();
    assert!(matches!(error, IssueError::Empty), "{error}");
    for name in [
        "bagit.txt",
        "data/x",
        "DATA/x",
        "manifest-md5.txt",
        "../x",
        "fetch.txt",
        "a%",
    ] {
        let mut contents = sound_contents();
        contents.tags = vec![TagFile {
            name: name.into(),
            octets: Vec::new(),
        }];
        let error = try_issue(folder.path(), &contents).unwrap_err();
        assert!(
            matches!(error, IssueError::BadTag { .. }),
            "{name:?}: {error}"
        );
    }
    assert!(names(folder.path()).is_empty());
}

#[test]
fn a_missing_folder_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let error = try_issue(&folder.path().join("none"), &sound_contents()).unwrap_err();
    assert!(error.to_string().contains("none"), "{error}");
}

struct NoSeal;

impl Seal for NoSeal {
    fn proofs(&self) -> Vec<TagFile> {
        Vec::new()
    }

    fn sign(&self, _: &[u8]) -> Result<TagFile, String> {
        Err("the key is locked".to_owned())
    }
}

#[test]
fn a_seal_covers_the_tag_manifest_and_its_keys_are_vouched_for() {
    let folder = tempfile::tempdir().unwrap();
    let contents = sound_contents();
    let key = SealKey::make("studio").unwrap();
    let since = Moment::of_day("2026-01-01").unwrap();
    let signers = Signers(vec![Signer::of_studio(
        "studio".to_owned(),
        key.public(),
        since,
    )]);
    let seal = StudioSeal {
        key: &key,
        signers: &signers,
    };
    let issued = issue_sealed(folder.path(), &contents, Some(&seal), &mut |_| {}, &|| {
        false
    })
    .unwrap();
    assert_eq!(judge(&issued.path).faults, []);
    let files: BTreeMap<String, Vec<u8>> = unzipped(&fs::read(&issued.path).unwrap())
        .into_iter()
        .collect();
    let file = |name: &str| {
        String::from_utf8_lossy(&files[&format!("tide-tables.r1/{name}")]).into_owned()
    };
    let tags = file("tagmanifest-sha256.txt");
    assert!(tags.contains("  seal/key.pub\n") && tags.contains("  seal/allowed_signers\n"));
    let signer = verify(&file("seal/tagmanifest-sha256.txt.sig"), tags.as_bytes()).unwrap();
    assert_eq!(signer.fingerprint(), key.public().fingerprint());

    let other = tempfile::tempdir().unwrap();
    let error = issue_sealed(other.path(), &contents, Some(&NoSeal), &mut |_| {}, &|| {
        false
    })
    .unwrap_err();
    assert!(error.to_string().contains("the key is locked"), "{error}");
    assert!(names(other.path()).is_empty());
}

#[test]
fn the_newest_revision_of_exactly_this_piece_is_found() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(latest(folder.path(), "tide").unwrap(), None);
    assert_eq!(latest(&folder.path().join("none"), "tide").unwrap(), None);
    for (slug, revision, edition) in [
        ("tide", 2, Edition::Studio),
        ("tide", 10, Edition::Studio),
        ("tide", 11, Edition::Owner),
        ("tide-tables", 30, Edition::Studio),
        ("tide.r1", 40, Edition::Studio),
    ] {
        let mut contents = sound_contents();
        contents.name = BundleName::new(slug, revision, edition).unwrap();
        issue_in(folder.path(), &contents);
    }
    fs::write(folder.path().join("tide.r99.txt"), "no bundle").unwrap();
    let former = latest(folder.path(), "tide").unwrap().unwrap();
    assert_eq!(former.name.revision(), 10);
    assert_eq!(former.field("external-identifier"), Some("tide-tables"));
    assert_eq!(former.payload.len(), 3);
    assert_eq!(former.payload["data/empty.txt"], Sha256Digest::of(b""));
    let owner = latest_edition(folder.path(), "tide", Edition::Owner)
        .unwrap()
        .unwrap();
    assert_eq!(owner.path.file_name().unwrap(), "tide.r11.owner.zip");
}

#[test]
fn a_damaged_newest_bundle_is_not_guessed_over() {
    let (folder, path) = sound_bundle();
    fs::write(&path, b"PK\x03\x04").unwrap();
    let error = latest(folder.path(), "tide-tables").unwrap_err();
    assert!(error.to_string().contains("tide-tables.r1.zip"), "{error}");
}

#[test]
fn an_unfinished_bundle_of_a_dead_run_is_no_bundle() {
    let (folder, path) = sound_bundle();
    let half = folder.path().join(format!("{UNFINISHED_PREFIX}abc.zip"));
    fs::copy(&path, &half).unwrap();
    let found = offloom::audit::find_bags(folder.path()).unwrap();
    assert_eq!(found, [path]);
    assert_eq!(
        latest(folder.path(), "tide-tables")
            .unwrap()
            .unwrap()
            .name
            .revision(),
        1
    );
}
