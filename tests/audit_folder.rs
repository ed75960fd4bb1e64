//! Audits bags in folders, made by hand after RFC 8493 and the classes of its conformance suite, and
//! shelves of bags.

mod bundle_kit;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use bundle_kit::*;
use offloom::audit::{Kind, Rank, Standing, Watch, find_bags, judge, judge_all, judge_watched};
use tempfile::TempDir;

// Source, published: RFC 1321, appendix A.5: MD5 of nothing.
// Source, reference library: md5sum of GNU coreutils: MD5 of "hello world".
const HELLO: &str = "5eb63bbbe01eeed093cb22bb8f5acdc3";
const NOTHING: &str = "d41d8cd98f00b204e9800998ecf8427e";

/// A minimal bag of version 1.0 with one MD5 manifest, as an older tool would make it.
fn old_bag() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let bag = folder.path().join("myfirstbag");
    fs::create_dir_all(bag.join("data/sub")).unwrap();
    fs::write(
        bag.join("bagit.txt"),
        "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
    )
    .unwrap();
    fs::write(bag.join("data/hello.txt"), "hello world").unwrap();
    fs::write(bag.join("data/sub/nothing"), "").unwrap();
    let manifest = format!("{HELLO} data/hello.txt\n{NOTHING} data/sub/nothing\n");
    fs::write(bag.join("manifest-md5.txt"), manifest).unwrap();
    (folder, bag)
}

fn with_manifest(lines: &str) -> offloom::audit::Verdict {
    let (_folder, bag) = old_bag();
    fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
    judge(&bag)
}

fn errors(verdict: &offloom::audit::Verdict) -> usize {
    verdict.errors().count()
}

#[test]
fn a_minimal_bag_by_another_tool_is_valid_with_remarks() {
    let (_folder, bag) = old_bag();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
    assert!(
        verdict
            .faults
            .iter()
            .all(|fault| fault.rank == Rank::Warning)
    );
    assert_eq!(verdict.algorithms, ["md5"]);
}

#[test]
fn an_unpacked_bundle_is_valid() {
    let (_folder, path) = sound_bundle();
    let (_unpacked, bag) = unpacked(&path);
    let verdict = judge(&bag);
    assert!(
        verdict.is_valid() && verdict.faults.is_empty(),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn free_forms_of_manifest_lines_are_accepted() {
    // Source, published: RFC 8493 section 2.1.3: upper-case digits, tabs and several blanks, and each of the line ends.
    let upper = HELLO.to_uppercase();
    for lines in [
        format!("{upper}\t data/hello.txt\r\n{NOTHING}  data/sub/nothing\r\n"),
        format!("{HELLO} data/hello.txt\r{NOTHING} data/sub/nothing"),
    ] {
        let verdict = with_manifest(&lines);
        assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
        assert!(!verdict.faults.iter().any(|fault| fault.kind == Kind::Habit));
    }
}

#[test]
fn habits_of_other_tools_are_read_with_a_remark() {
    for lines in [
        format!("{HELLO} *data/hello.txt\n{NOTHING} data/sub/nothing\n"),
        format!("{HELLO} ./data/hello.txt\n{NOTHING} data/sub/nothing\n"),
        format!("{HELLO} data/hello.txt\n\n{NOTHING} data/sub/nothing\n"),
    ] {
        let verdict = with_manifest(&lines);
        assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
        assert!(
            has(&verdict, Kind::Habit, "manifest-md5.txt"),
            "{}",
            shown(&verdict)
        );
    }
}

#[test]
fn each_broken_manifest_line_is_named_by_its_number() {
    let good = format!("{NOTHING} data/sub/nothing\n");
    for (line, kind) in [
        (
            format!("{HELLO} data/hello.txt\n{HELLO} data/hello.txt\n"),
            Kind::ListedTwice,
        ),
        (
            format!("{HELLO} data/hello.txt\nno checksum here\n"),
            Kind::Line,
        ),
        (format!("{HELLO} data/hello.txt\n{HELLO}\n"), Kind::Line),
        (
            format!("{HELLO} data/hello.txt\n{}a data/x\n", &HELLO[..30]),
            Kind::Line,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} bagit.txt\n"),
            Kind::OutsidePayload,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} ../../etc/passwd\n"),
            Kind::Escape,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} /etc/passwd\n"),
            Kind::Escape,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} data/../../x\n"),
            Kind::Escape,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} ~/x\n"),
            Kind::Escape,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} C:\\x\n"),
            Kind::Escape,
        ),
        (
            format!("{HELLO} data/hello.txt\n{HELLO} \\\\host\\x\n"),
            Kind::Escape,
        ),
    ] {
        let verdict = with_manifest(&(line.clone() + &good));
        assert_eq!(
            verdict.standing,
            Standing::Incomplete,
            "{line}: {}",
            shown(&verdict)
        );
        let fault = verdict.errors().next().unwrap();
        assert_eq!(
            (fault.kind, fault.line),
            (kind, Some(2)),
            "{line}: {}",
            shown(&verdict)
        );
        assert_eq!(fault.file, "manifest-md5.txt");
        assert_eq!(errors(&verdict), 1, "{line}: {}", shown(&verdict));
    }
}

#[test]
fn percent_signs_are_read_after_the_standard_and_after_older_tools() {
    let (_folder, bag) = old_bag();
    fs::rename(bag.join("data/hello.txt"), bag.join("data/100%.txt")).unwrap();
    for (written, remarks) in [("data/100%25.txt", 0), ("data/100%.txt", 1)] {
        let lines = format!("{HELLO} {written}\n{NOTHING} data/sub/nothing\n");
        fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
        let verdict = judge(&bag);
        assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
        let habits = verdict
            .faults
            .iter()
            .filter(|fault| fault.kind == Kind::Habit)
            .count();
        assert_eq!(habits, remarks, "{}", shown(&verdict));
    }
    fs::rename(bag.join("data/100%.txt"), bag.join("data/a%0Ab")).unwrap();
    let lines = format!("{HELLO} data/a%0Ab\n{NOTHING} data/sub/nothing\n");
    fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
    assert!(
        has(&verdict, Kind::Habit, "data/a%0Ab"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn a_missing_changed_extra_and_hidden_file_are_each_named() {
    let (_folder, bag) = old_bag();
    fs::write(bag.join("data/hello.txt"), "hello World").unwrap();
    fs::remove_file(bag.join("data/sub/nothing")).unwrap();
    fs::write(bag.join("data/.hidden"), "").unwrap();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Incomplete);
    assert!(
        has(&verdict, Kind::Damaged, "data/hello.txt"),
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Missing, "data/sub/nothing"),
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Extra, "data/.hidden"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(errors(&verdict), 3, "{}", shown(&verdict));
}

#[test]
fn a_file_listed_in_one_manifest_only_is_a_fault_at_version_1_0() {
    // Source, published: RFC 8493 section 2.1.3; the drafts up to 0.97 let the union of the manifests do.
    let (_folder, bag) = old_bag();
    fs::write(
        bag.join("manifest-sha1.txt"),
        "da39a3ee5e6b4b0d3255bfef95601890afd80709 data/sub/nothing\n",
    )
    .unwrap();
    let verdict = judge(&bag);
    assert_eq!(
        verdict.standing,
        Standing::Incomplete,
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Extra, "data/hello.txt"),
        "{}",
        shown(&verdict)
    );
    fs::write(
        bag.join("bagit.txt"),
        "BagIt-Version: 0.97\nTag-File-Character-Encoding: UTF-8\n",
    )
    .unwrap();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
}

#[test]
fn faults_of_the_declaration_are_told() {
    let (_folder, bag) = old_bag();
    fs::write(
        bag.join("bagit.txt"),
        b"\xef\xbb\xbfBagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
    )
    .unwrap();
    let verdict = judge(&bag);
    assert!(
        has(&verdict, Kind::ByteOrderMark, "bagit.txt"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(
        (verdict.standing, errors(&verdict)),
        (Standing::Incomplete, 1)
    );
    fs::write(bag.join("bagit.txt"), "BagIt-Version: 1.0\n").unwrap();
    assert!(has(&judge(&bag), Kind::Declaration, "bagit.txt"));
    fs::remove_file(bag.join("bagit.txt")).unwrap();
    let verdict = judge(&bag);
    assert!(
        has(&verdict, Kind::Declaration, "bagit.txt"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(verdict.standing, Standing::Incomplete);
}

#[test]
fn another_encoding_is_told_and_what_is_plain_is_checked_all_the_same() {
    let (_folder, bag) = old_bag();
    fs::write(
        bag.join("bagit.txt"),
        "BagIt-Version: 1.0\nTag-File-Character-Encoding: ISO-8859-1\n",
    )
    .unwrap();
    assert_eq!(judge(&bag).standing, Standing::CouldNotTell);
    fs::write(bag.join("data/hello.txt"), "changed").unwrap();
    assert!(has(&judge(&bag), Kind::Damaged, "data/hello.txt"));
    fs::write(bag.join("bag-info.txt"), b"Contact-Name: Ren\xe9\n").unwrap();
    let verdict = judge(&bag);
    assert_eq!(
        verdict.standing,
        Standing::CouldNotTell,
        "{}",
        shown(&verdict)
    );
    assert_eq!(errors(&verdict), 1, "{}", shown(&verdict));
}

#[test]
fn unknown_checksums_are_not_passed_over() {
    let (_folder, bag) = old_bag();
    fs::rename(
        bag.join("manifest-md5.txt"),
        bag.join("manifest-blake9.txt"),
    )
    .unwrap();
    let verdict = judge(&bag);
    assert_eq!(
        verdict.standing,
        Standing::CouldNotTell,
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Algorithm, "manifest-blake9.txt"),
        "{}",
        shown(&verdict)
    );
    fs::remove_file(bag.join("data/hello.txt")).unwrap();
    assert_eq!(judge(&bag).standing, Standing::Incomplete);
}

#[test]
fn tag_manifests_are_held_to_their_rules() {
    let (_folder, bag) = old_bag();
    let manifest = fs::read(bag.join("manifest-md5.txt")).unwrap();
    let md5 = |octets: &[u8]| {
        let mut hashes = offloom::bag::Hashes::new(&[offloom::bag::Algorithm::Md5].into());
        hashes.update(octets);
        hashes.finish()[&offloom::bag::Algorithm::Md5].clone()
    };
    let right = format!("{} manifest-md5.txt\n", md5(&manifest));
    let write = |lines: &str| {
        fs::write(bag.join("tagmanifest-md5.txt"), lines).unwrap();
        judge(&bag)
    };
    let verdict = write(&right);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
    assert!(
        has(&verdict, Kind::TagManifest, "bagit.txt"),
        "{}",
        shown(&verdict)
    );
    for (lines, kind, file) in [
        (
            format!("{right}{HELLO} data/hello.txt\n"),
            Kind::TagManifest,
            "tagmanifest-md5.txt",
        ),
        (
            format!("{right}{HELLO} tagmanifest-md5.txt\n"),
            Kind::TagManifest,
            "tagmanifest-md5.txt",
        ),
        (
            format!("{right}{HELLO} gone.txt\n"),
            Kind::Missing,
            "gone.txt",
        ),
        (
            format!("{HELLO} bagit.txt\n"),
            Kind::TagManifest,
            "tagmanifest-md5.txt",
        ),
        (
            format!("{HELLO} manifest-md5.txt\n"),
            Kind::Damaged,
            "manifest-md5.txt",
        ),
    ] {
        let verdict = write(&lines);
        assert!(
            verdict.errors().any(|f| f.kind == kind && f.file == file),
            "{}",
            shown(&verdict)
        );
    }
}

#[test]
fn payload_oxum_is_compared_and_never_decides_alone() {
    let (_folder, bag) = old_bag();
    let info = |text: &str| {
        fs::write(bag.join("bag-info.txt"), text).unwrap();
        judge(&bag)
    };
    assert_eq!(info("Payload-Oxum: 11.2\n").standing, Standing::Valid);
    for wrong in ["12.2", "11.3", "11", "11.2.0", "x.y", "+11.2"] {
        let verdict = info(&format!("Payload-Oxum: {wrong}\n"));
        assert!(
            has(&verdict, Kind::Oxum, "bag-info.txt"),
            "{wrong}: {}",
            shown(&verdict)
        );
        assert_eq!(verdict.standing, Standing::CompleteNotValid);
    }
    let verdict = info("Payload-Oxum: 11.2\npayload-oxum: 11.2\n");
    assert!(
        has(&verdict, Kind::Info, "bag-info.txt"),
        "{}",
        shown(&verdict)
    );
    fs::write(bag.join("data/hello.txt"), "hello w0rld").unwrap();
    assert!(has(
        &info("Payload-Oxum: 11.2\n"),
        Kind::Damaged,
        "data/hello.txt"
    ));
}

#[test]
fn holes_are_told_and_nothing_is_fetched() {
    let (_folder, bag) = old_bag();
    fs::remove_file(bag.join("data/hello.txt")).unwrap();
    let fetch = |text: &str| {
        fs::write(bag.join("fetch.txt"), text).unwrap();
        judge(&bag)
    };
    let verdict = fetch("https://archive.example/hello.txt 11 data/hello.txt\n");
    assert_eq!(verdict.standing, Standing::Incomplete);
    assert!(
        has(&verdict, Kind::Hole, "data/hello.txt"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(errors(&verdict), 1, "{}", shown(&verdict));
    for (line, kind) in [
        ("https://a.example/x - ../x\n", Kind::Escape),
        ("https://a.example/x - /x\n", Kind::Escape),
        ("https://a.example/x many data/hello.txt\n", Kind::Fetch),
        ("https://a.example/x data/hello.txt\n", Kind::Fetch),
        ("x - data/hello.txt\n", Kind::Fetch),
        ("https://a.example/x - bagit.txt\n", Kind::Fetch),
        ("https://a.example/x - data/other.txt\n", Kind::Fetch),
    ] {
        let verdict = fetch(line);
        assert!(
            has(&verdict, kind, "fetch.txt"),
            "{line}: {}",
            shown(&verdict)
        );
    }
}

#[test]
fn accents_stored_the_other_way_are_found_and_twins_remarked() {
    let (_folder, bag) = old_bag();
    fs::rename(bag.join("data/hello.txt"), bag.join("data/cafe\u{301}")).unwrap();
    let lines = format!("{HELLO} data/caf\u{e9}\n{NOTHING} data/sub/nothing\n");
    fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
    assert!(
        has(&verdict, Kind::Twins, "data/cafe\u{301}"),
        "{}",
        shown(&verdict)
    );
    let lines = format!("{HELLO} data/CAF\u{c9}\n{NOTHING} data/sub/nothing\n");
    fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
    assert!(has(&judge(&bag), Kind::Missing, "data/CAF\u{c9}"));
}

#[test]
fn names_another_system_cannot_keep_are_remarked() {
    let (_folder, bag) = old_bag();
    fs::rename(bag.join("data/hello.txt"), bag.join("data/was?.txt")).unwrap();
    fs::rename(bag.join("data/sub"), bag.join("data/Was?.TXT")).unwrap();
    let lines = format!("{HELLO} data/was?.txt\n{NOTHING} data/Was?.TXT/nothing\n");
    fs::write(bag.join("manifest-md5.txt"), lines).unwrap();
    let verdict = judge(&bag);
    assert_eq!(verdict.standing, Standing::Valid, "{}", shown(&verdict));
    assert!(
        has(&verdict, Kind::Unportable, "data/was?.txt"),
        "{}",
        shown(&verdict)
    );
}

#[cfg(unix)]
#[test]
fn links_are_never_followed() {
    let (folder, bag) = old_bag();
    fs::write(folder.path().join("outside"), "hello world").unwrap();
    fs::remove_file(bag.join("data/hello.txt")).unwrap();
    std::os::unix::fs::symlink("../../outside", bag.join("data/hello.txt")).unwrap();
    std::os::unix::fs::symlink("..", bag.join("data/loop")).unwrap();
    let verdict = judge(&bag);
    assert!(
        has(&verdict, Kind::Link, "data/hello.txt"),
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Link, "data/loop"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(verdict.standing, Standing::Incomplete);
}

#[cfg(target_os = "linux")]
#[test]
fn a_name_that_is_not_utf_8_is_told() {
    use std::os::unix::ffi::OsStrExt;
    let (_folder, bag) = old_bag();
    fs::write(
        bag.join("data")
            .join(std::ffi::OsStr::from_bytes(b"caf\xe9")),
        "x",
    )
    .unwrap();
    let verdict = judge(&bag);
    assert!(
        has(&verdict, Kind::Extra, "data/caf\u{fffd}"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn what_is_no_bag_and_what_can_not_be_read_are_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.txt"), "a").unwrap();
    assert_eq!(judge(folder.path()).standing, Standing::NotABag);
    let verdict = judge(&folder.path().join("none"));
    assert_eq!(verdict.standing, Standing::CouldNotTell);
    assert!(
        verdict.faults[0].message.contains("not found"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn a_shelf_gives_every_bag_on_it_once_and_in_order() {
    let shelf = tempfile::tempdir().unwrap();
    let at = |name: &str| shelf.path().join(name);
    fs::create_dir_all(at("2026/deep")).unwrap();
    fs::write(at("readme.txt"), "a shelf").unwrap();
    let issued = issue_in(&at("2026"), &sound_contents()).path;
    let (_folder, bag) = old_bag();
    copy_folder(&bag, &at("b-bag"));
    copy_folder(&bag, &at("b-bag/data/inner"));
    fs::remove_file(at("b-bag/bagit.txt")).unwrap();
    fs::write(at("2026/deep/broken.ZIP"), "PK").unwrap();
    let found = find_bags(shelf.path()).unwrap();
    assert_eq!(
        found,
        [at("2026/deep/broken.ZIP"), issued.clone(), at("b-bag")]
    );
    let standings: Vec<_> = judge_all(&found, Watch::NOBODY, None)
        .into_iter()
        .map(|verdict| verdict.standing)
        .collect();
    assert_eq!(
        standings,
        [Standing::NotABag, Standing::Valid, Standing::Incomplete]
    );
    assert_eq!(find_bags(&issued).unwrap(), std::slice::from_ref(&issued));
    assert_eq!(find_bags(&bag).unwrap(), std::slice::from_ref(&bag));
    assert!(find_bags(&at("none")).is_err());
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy_folder(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

#[test]
fn an_audit_tells_its_progress_and_can_be_stopped() {
    let (_folder, path) = sound_bundle();
    let read = AtomicU64::new(0);
    let progress = |octets| {
        read.fetch_add(octets, Ordering::Relaxed);
    };
    judge_watched(
        &path,
        Watch {
            progress: &progress,
            cancelled: &|| false,
        },
    );
    assert!(read.into_inner() > 600);
    let verdict = judge_watched(
        &path,
        Watch {
            progress: &|_| {},
            cancelled: &|| true,
        },
    );
    assert_eq!(verdict.standing, Standing::CouldNotTell);
    assert_eq!(verdict.faults[0].kind, Kind::Stopped);
}

#[test]
fn a_verdict_as_json_has_the_fields_of_a_finding() {
    let (_folder, bag) = old_bag();
    fs::remove_file(bag.join("data/hello.txt")).unwrap();
    let json = serde_json::to_value(judge(&bag)).unwrap();
    assert_eq!(json["standing"], "incomplete");
    let fault = &json["faults"][0];
    assert_eq!(fault["name"], "missing");
    assert_eq!(fault["rank"], "error");
    assert_eq!(fault["file"], "data/hello.txt");
    assert_eq!(fault["rule"], "RFC 8493 section 3");
    assert!(
        fault["remedy"]
            .as_str()
            .is_some_and(|remedy| !remedy.is_empty())
    );
}
