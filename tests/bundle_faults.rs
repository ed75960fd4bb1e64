//! Spoils a sound bundle in every way, and wants each way found and the right file named.

mod bundle_kit;

use std::fs;
use std::io::{Cursor, Write};

use bundle_kit::*;
use offloom::audit::{Kind, Standing};
use zip::CompressionMethod::{Deflated, Stored};
use zip::write::SimpleFileOptions;

fn sound() -> Vec<u8> {
    fs::read(sound_bundle().1).unwrap()
}

fn files() -> Vec<(String, Vec<u8>)> {
    unzipped(&sound())
}

fn named(name: &str) -> String {
    format!("tide-tables.r1/{name}")
}

#[test]
fn every_single_octet_turned_over_is_found() {
    let sound = sound();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tide-tables.r1.zip");
    let mut unseen = Vec::new();
    for at in 0..sound.len() {
        let mut spoiled = sound.clone();
        spoiled[at] ^= 0xff;
        fs::write(&path, &spoiled).unwrap();
        if offloom::audit::judge(&path).faults.is_empty() {
            unseen.push(at);
        }
    }
    assert!(
        unseen.is_empty(),
        "of {} octets, these were not seen: {unseen:?}",
        sound.len()
    );
}

#[test]
fn a_damaged_photo_is_named_and_nothing_else_is() {
    let sound = sound();
    let front = &files()
        .iter()
        .find(|(name, _)| name.ends_with("front.jpg"))
        .unwrap()
        .1
        .clone();
    let start = place_of(&sound, front);
    for at in [start, start + 300, start + front.len() - 1] {
        let mut spoiled = sound.clone();
        spoiled[at] ^= 0xff;
        let verdict = judge_octets(&spoiled);
        assert_eq!(
            verdict.standing,
            Standing::CompleteNotValid,
            "{}",
            shown(&verdict)
        );
        assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
        assert!(has(&verdict, Kind::Damaged, FRONT), "{}", shown(&verdict));
        let message = &verdict.faults[0].message;
        assert!(
            message.contains("SHA-256") && message.contains("SHA-512"),
            "{message}"
        );
    }
}

#[test]
fn a_zeroed_stretch_is_found_and_the_files_in_it_are_named() {
    let sound = sound();
    let start = place_of(&sound, b"## 2026-03-04");
    let mut spoiled = sound.clone();
    spoiled[start..start + 20].fill(0);
    let verdict = judge_octets(&spoiled);
    assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
    assert!(has(&verdict, Kind::Damaged, NOTES), "{}", shown(&verdict));
}

#[test]
fn each_tag_file_with_a_changed_octet_is_named() {
    for name in [
        "bag-info.txt",
        "about.txt",
        "manifest-sha256.txt",
        "manifest-sha512.txt",
        "bagit.txt",
    ] {
        let mut spoiled = files();
        let content = &mut spoiled
            .iter_mut()
            .find(|(n, _)| *n == named(name))
            .unwrap()
            .1;
        let last = content.len() - 2;
        content[last] = if content[last] == b'q' { b'p' } else { b'q' };
        let verdict = judge_octets(&zipped(&spoiled, Stored));
        assert!(
            has(&verdict, Kind::Damaged, name),
            "{name}: {}",
            shown(&verdict)
        );
    }
}

#[test]
fn a_changed_manifest_is_told_apart_from_a_changed_file() {
    let mut spoiled = files();
    let manifest = &mut spoiled
        .iter_mut()
        .find(|(n, _)| *n == named("manifest-sha256.txt"))
        .unwrap()
        .1;
    let at = place_of(manifest, b"  data/photos/front.jpg") - 1;
    manifest[at] = if manifest[at] == b'0' { b'1' } else { b'0' };
    let verdict = judge_octets(&zipped(&spoiled, Stored));
    assert!(
        has(&verdict, Kind::Damaged, "manifest-sha256.txt"),
        "{}",
        shown(&verdict)
    );
    let front = verdict
        .faults
        .iter()
        .find(|fault| fault.file == FRONT)
        .unwrap();
    assert!(
        front.message.contains("manifest-sha256.txt is damaged"),
        "{}",
        front.message
    );
}

#[test]
fn a_bundle_cut_short_anywhere_is_never_valid() {
    let sound = sound();
    for length in (0..sound.len()).step_by(7) {
        let verdict = judge_octets(&sound[..length]);
        assert_ne!(
            verdict.standing,
            Standing::Valid,
            "{length} of {} octets",
            sound.len()
        );
    }
    let inside = place_of(&sound, b"## 2026-03-04") + 5;
    let verdict = judge_octets(&sound[..inside]);
    assert_eq!(verdict.standing, Standing::Incomplete);
    assert!(
        has(&verdict, Kind::ZipCutShort, NOTES),
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::ZipCutShort, "tide-tables.r1.zip"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn two_files_that_changed_places_are_both_named() {
    let mut spoiled = files();
    let at = |end: &str| {
        files()
            .iter()
            .position(|(name, _)| name.ends_with(end))
            .unwrap()
    };
    let (front, notes) = (at("front.jpg"), at("notes.md"));
    let one = spoiled[front].1.clone();
    spoiled[front].1 = std::mem::replace(&mut spoiled[notes].1, one);
    let verdict = judge_octets(&zipped(&spoiled, Stored));
    assert_eq!(
        verdict.standing,
        Standing::CompleteNotValid,
        "{}",
        shown(&verdict)
    );
    assert!(has(&verdict, Kind::Damaged, FRONT) && has(&verdict, Kind::Damaged, NOTES));
}

#[test]
fn a_missing_and_an_extra_file_are_named() {
    let mut spoiled = files();
    spoiled.retain(|(name, _)| !name.ends_with("front.jpg"));
    spoiled.push((named("data/.DS_Store"), b"litter".to_vec()));
    let verdict = judge_octets(&zipped(&spoiled, Stored));
    assert_eq!(verdict.standing, Standing::Incomplete);
    assert!(has(&verdict, Kind::Missing, FRONT), "{}", shown(&verdict));
    assert!(
        has(&verdict, Kind::Extra, "data/.DS_Store"),
        "{}",
        shown(&verdict)
    );
    assert!(
        has(&verdict, Kind::Oxum, "bag-info.txt"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn each_missing_tag_file_is_named() {
    for name in [
        "bagit.txt",
        "bag-info.txt",
        "manifest-sha512.txt",
        "about.txt",
    ] {
        let mut spoiled = files();
        spoiled.retain(|(n, _)| *n != named(name));
        let verdict = judge_octets(&zipped(&spoiled, Stored));
        assert_eq!(verdict.standing, Standing::Incomplete, "{name}");
        assert!(
            has(&verdict, Kind::Missing, name),
            "{name}: {}",
            shown(&verdict)
        );
    }
}

#[test]
fn other_zip_programs_may_have_packed_the_bag() {
    let mut packed = files();
    packed.reverse();
    let verdict = judge_octets(&zipped(&packed, Deflated));
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    zip.add_directory("renamed", SimpleFileOptions::default())
        .unwrap();
    zip.add_directory("renamed/data", SimpleFileOptions::default())
        .unwrap();
    for (name, content) in files() {
        let options = SimpleFileOptions::default().large_file(true);
        zip.start_file(name.replace("tide-tables.r1", "renamed"), options)
            .unwrap();
        zip.write_all(&content).unwrap();
    }
    let verdict = judge_octets(&zip.finish().unwrap().into_inner());
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
}

#[test]
fn a_zip_written_as_a_stream_is_read_too() {
    let mut octets = Vec::new();
    let mut zip = zip::ZipWriter::new_stream(&mut octets);
    for (name, content) in files() {
        zip.start_file(
            name,
            SimpleFileOptions::default().compression_method(Deflated),
        )
        .unwrap();
        zip.write_all(&content).unwrap();
    }
    zip.finish().unwrap();
    let verdict = judge_octets(&octets);
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
    // The sizes and the check sum that follow the data are compared as well.
    let at = octets
        .windows(4)
        .position(|window| window == b"PK\x07\x08")
        .unwrap();
    octets[at + 5] ^= 0xff;
    assert!(
        judge_octets(&octets)
            .faults
            .iter()
            .any(|fault| fault.kind == Kind::ZipRecord)
    );
}

#[test]
fn octets_in_front_behind_and_between_are_found() {
    let sound = sound();
    let stub = [&b"#!/bin/sh\n"[..], &sound].concat();
    let verdict = judge_octets(&stub);
    assert!(
        has(&verdict, Kind::ZipStub, "tide-tables.r1.zip"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(verdict.standing, Standing::CompleteNotValid);
    assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
    let tail = [&sound[..], b"more"].concat();
    let verdict = judge_octets(&tail);
    assert!(
        has(&verdict, Kind::ZipTail, "tide-tables.r1.zip"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
    // The same in front of the directory, with its place put right.
    let directory = place_of(&sound, b"PK\x01\x02");
    let mut gap = [&sound[..directory], b"hidden", &sound[directory..]].concat();
    let end = gap.len() - 6;
    let place = u32::try_from(directory + 6).unwrap().to_le_bytes();
    gap[end..end + 4].copy_from_slice(&place);
    let verdict = judge_octets(&gap);
    assert!(
        has(&verdict, Kind::ZipGap, "tide-tables.r1.zip"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn two_files_of_one_name_are_found() {
    // The library refuses to write one name twice, so the second is renamed in the finished octets.
    let mut doubled = files();
    doubled.push((named("data/notes.mx"), b"other notes".to_vec()));
    let mut octets = zipped(&doubled, Stored);
    while let Some(at) = octets.windows(8).position(|window| window == b"notes.mx") {
        octets[at + 7] = b'd';
    }
    let verdict = judge_octets(&octets);
    assert!(
        has(&verdict, Kind::ZipDuplicate, NOTES),
        "{}",
        shown(&verdict)
    );
    assert_ne!(verdict.standing, Standing::Valid);
}

#[test]
fn names_that_lead_out_of_the_zip_are_found() {
    for name in [
        "../evil.txt",
        "/etc/evil",
        "tide-tables.r1/../../evil",
        "C:/evil",
        "~/evil",
    ] {
        let mut spoiled = files();
        spoiled.push((name.to_owned(), b"evil".to_vec()));
        let verdict = judge_octets(&zipped(&spoiled, Stored));
        assert!(
            verdict
                .faults
                .iter()
                .any(|f| f.kind == Kind::ZipName && name.ends_with(&f.file)),
            "{name}: {}",
            shown(&verdict)
        );
        assert_ne!(verdict.standing, Standing::Valid, "{name}");
    }
    let mut spoiled = files();
    spoiled.push((named("data\\..\\..\\evil"), b"evil".to_vec()));
    let verdict = judge_octets(&zipped(&spoiled, Stored));
    assert!(
        verdict.faults.iter().any(|f| f.kind == Kind::ZipName),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn a_link_in_the_zip_is_found() {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in files() {
        if name.ends_with("notes.md") {
            zip.add_symlink(&name, "/etc/passwd", SimpleFileOptions::default())
                .unwrap();
        } else {
            zip.start_file(name, SimpleFileOptions::default()).unwrap();
            zip.write_all(&content).unwrap();
        }
    }
    let verdict = judge_octets(&zip.finish().unwrap().into_inner());
    assert!(has(&verdict, Kind::Link, NOTES), "{}", shown(&verdict));
    assert_eq!(verdict.standing, Standing::Incomplete);
}

#[test]
fn a_second_folder_or_a_loose_file_at_the_top_is_found() {
    let mut spoiled = files();
    spoiled.push(("loose.txt".to_owned(), b"loose".to_vec()));
    let verdict = judge_octets(&zipped(&spoiled, Stored));
    assert!(
        has(&verdict, Kind::ZipTop, "loose.txt"),
        "{}",
        shown(&verdict)
    );
    let flat: Vec<_> = files()
        .into_iter()
        .map(|(name, content)| (name.replace("tide-tables.r1/", ""), content))
        .collect();
    let verdict = judge_octets(&zipped(&flat, Stored));
    assert!(
        has(&verdict, Kind::ZipTop, "tide-tables.r1.zip"),
        "{}",
        shown(&verdict)
    );
    assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
}

#[test]
fn the_two_names_of_one_file_must_agree() {
    let mut spoiled = sound();
    let at = place_of(&spoiled, b"notes.md");
    spoiled[at] = b'v';
    let verdict = judge_octets(&spoiled);
    assert!(has(&verdict, Kind::ZipRecord, NOTES), "{}", shown(&verdict));
    assert_eq!(verdict.faults.len(), 1, "{}", shown(&verdict));
}

#[test]
fn an_encrypted_file_and_an_unknown_compression_are_told() {
    let sound = sound();
    let local = place_of(&sound, b"notes.md") - "tide-tables.r1/data/".len() - 30;
    let central = sound.windows(8).rposition(|w| w == b"notes.md").unwrap()
        - "tide-tables.r1/data/".len()
        - 46;
    let mut encrypted = sound.clone();
    encrypted[local + 6] |= 1;
    encrypted[central + 8] |= 1;
    let verdict = judge_octets(&encrypted);
    assert!(
        has(&verdict, Kind::ZipEncrypted, NOTES),
        "{}",
        shown(&verdict)
    );
    assert_eq!(
        verdict.standing,
        Standing::CouldNotTell,
        "{}",
        shown(&verdict)
    );
    let mut strange = sound.clone();
    strange[local + 8] = 97;
    strange[central + 10] = 97;
    let verdict = judge_octets(&strange);
    assert!(has(&verdict, Kind::ZipMethod, NOTES), "{}", shown(&verdict));
    assert_eq!(
        verdict.standing,
        Standing::CouldNotTell,
        "{}",
        shown(&verdict)
    );
}

#[test]
fn a_file_that_swells_beyond_measure_is_not_unpacked() {
    let mut swelling = files();
    swelling.push((named("data/zeros"), vec![0; 70_000_000]));
    let verdict = judge_octets(&zipped(&swelling, Deflated));
    assert!(
        has(&verdict, Kind::ZipSwelling, "data/zeros"),
        "{}",
        shown(&verdict)
    );
}

#[test]
fn a_packed_file_with_a_false_size_is_found() {
    let mut packed = zipped(&files(), Deflated);
    // Both headers of notes.md are made to state one octet less.
    let name = named("data/notes.md").into_bytes();
    let places: Vec<usize> = packed
        .windows(name.len())
        .enumerate()
        .filter(|(_, window)| *window == name.as_slice())
        .map(|(at, _)| at)
        .collect();
    packed[places[0] - 8] -= 1;
    packed[places[1] - 22] -= 1;
    let verdict = judge_octets(&packed);
    assert_eq!(
        verdict.standing,
        Standing::CompleteNotValid,
        "{}",
        shown(&verdict)
    );
    let fault = verdict
        .faults
        .iter()
        .find(|fault| fault.file == NOTES)
        .unwrap();
    assert!(
        fault.message.contains("more octets than the zip says"),
        "{}",
        fault.message
    );
}

#[test]
fn files_that_share_their_octets_are_found() {
    // The central entry of empty.txt is pointed at the place of another file.
    let mut spoiled = sound();
    let find = |octets: &[u8], name: &str| {
        let name = named(name).into_bytes();
        octets
            .windows(name.len())
            .rposition(|window| window == name.as_slice())
            .unwrap()
    };
    let (empty, notes) = (
        find(&spoiled, "data/empty.txt"),
        find(&spoiled, "data/notes.md"),
    );
    let place: Vec<u8> = spoiled[notes - 4..notes].to_vec();
    spoiled[empty - 4..empty].copy_from_slice(&place);
    let verdict = judge_octets(&spoiled);
    assert!(
        verdict.faults.iter().any(|f| f.kind == Kind::ZipOverlap),
        "{}",
        shown(&verdict)
    );
    assert_ne!(verdict.standing, Standing::Valid);
}

#[test]
fn octets_that_are_no_zip_are_no_bag() {
    for octets in [&b""[..], b"hello", &[0; 5000], b"%PDF-1.7\n"] {
        assert_eq!(judge_octets(octets).standing, Standing::NotABag);
    }
    let other = zipped(&[("a/b.txt".to_owned(), b"b".to_vec())], Stored);
    assert_eq!(judge_octets(&other).standing, Standing::NotABag);
}

#[test]
fn many_random_spoilings_are_all_found() {
    // A fixed sequence (a multiplicative generator of Park and Miller, from memory), so that a failure
    // can be repeated.
    let sound = sound();
    let mut state: u64 = 2026;
    let mut next = |below: usize| {
        state = state * 48_271 % 2_147_483_647;
        state as usize % below
    };
    for _ in 0..1500 {
        let mut spoiled = sound.clone();
        let at = next(sound.len());
        match next(4) {
            0 => spoiled[at] ^= 1 << next(8),
            1 => spoiled.truncate(at),
            2 => {
                spoiled.remove(at);
            }
            _ => spoiled.insert(at, next(256) as u8),
        }
        let verdict = judge_octets(&spoiled);
        // One turned bit in a time, a version or a permission touches no file: at least no file may
        // then be called damaged.
        if verdict.faults.is_empty() {
            assert_eq!(
                spoiled.len(),
                sound.len(),
                "a lost or added octet was not seen at {at}"
            );
            assert_eq!(
                unzipped(&spoiled),
                unzipped(&sound),
                "a change was not seen at {at}"
            );
        }
    }
}
