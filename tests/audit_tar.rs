//! Bags in tars: valid ones, and each way in which a tar can be wrong.

mod bundle_kit;

use std::fs;
use std::path::Path;

use bundle_kit::{FRONT, has, shown, sound_bundle, unpacked};
use offloom::audit::{Kind, Standing, Verdict, judge};
use tempfile::TempDir;

/// The octets of a tar with a sound bag in it, written with the general-purpose library.
fn sound_tar() -> Vec<u8> {
    let (_folder, bundle) = sound_bundle();
    let (_unpacked, bag) = unpacked(&bundle);
    tar_of(&bag)
}

fn tar_of(bag: &Path) -> Vec<u8> {
    let mut tar = tar::Builder::new(Vec::new());
    tar.mode(tar::HeaderMode::Deterministic);
    tar.append_dir_all("tide-tables.r1", bag).unwrap();
    tar.into_inner().unwrap()
}

fn judge_tar(octets: &[u8]) -> Verdict {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("tide-tables.r1.tar");
    fs::write(&path, octets).unwrap();
    judge(&path)
}

#[test]
fn a_sound_bag_in_a_tar_is_valid() {
    let verdict = judge_tar(&sound_tar());
    assert!(verdict.faults.is_empty(), "{}", shown(&verdict));
    assert_eq!(verdict.payload_files, 3);
}

#[test]
fn long_names_and_accents_are_read_from_a_tar() {
    let long = format!("data/{}/{}.txt", "lettres".repeat(14), "é".repeat(60));
    let (folder, bag) = unpacked(&sound_bundle().1);
    let path = bag.join(&long);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, b"weft").unwrap();
    let verdict = judge_tar(&tar_of(&bag));
    assert!(has(&verdict, Kind::Extra, &long), "{}", shown(&verdict));
    drop(folder);
}

#[test]
fn a_tar_cut_short_anywhere_is_never_valid() {
    let sound = sound_tar();
    // The two closing blocks of zeros may be followed by more of them, which say nothing.
    let end = sound.iter().rposition(|octet| *octet != 0).unwrap() + 1;
    let closed = end.div_ceil(512) * 512 + 1024;
    for length in (0..closed).step_by(101) {
        let verdict = judge_tar(&sound[..length]);
        assert!(!verdict.is_valid(), "{length} octets: {}", shown(&verdict));
    }
}

#[test]
fn every_octet_of_a_tar_turned_over_is_found() {
    let sound = sound_tar();
    for at in 0..sound.len() {
        let mut spoiled = sound.clone();
        spoiled[at] ^= 0xff;
        let verdict = judge_tar(&spoiled);
        assert!(!verdict.is_valid(), "octet {at}: {}", shown(&verdict));
    }
}

#[test]
fn links_doubles_and_names_that_lead_out_are_found_in_a_tar() {
    let (_folder, bag) = unpacked(&sound_bundle().1);
    let with = |add: &dyn Fn(&mut tar::Builder<Vec<u8>>)| {
        let mut tar = tar::Builder::new(Vec::new());
        tar.append_dir_all("tide-tables.r1", &bag).unwrap();
        add(&mut tar);
        judge_tar(&tar.into_inner().unwrap())
    };
    let header = |name: &[u8], size: u64, kind: tar::EntryType| {
        let mut header = tar::Header::new_gnu();
        header.as_mut_bytes()[..name.len()].copy_from_slice(name);
        header.set_size(size);
        header.set_mode(0o644);
        header.set_entry_type(kind);
        header.set_cksum();
        header
    };
    let file = tar::EntryType::Regular;
    let twice = with(&|tar| {
        let name = b"tide-tables.r1/data/notes.md";
        tar.append(&header(name, 4, file), &b"weft"[..]).unwrap();
    });
    assert!(
        has(&twice, Kind::TarDuplicate, "data/notes.md"),
        "{}",
        shown(&twice)
    );
    for name in [
        &b"tide-tables.r1/../../notes.md"[..],
        b"/etc/notes.md",
        b"tide-tables.r1/\xff\xfe.md",
    ] {
        let out = with(&|tar| tar.append(&header(name, 4, file), &b"weft"[..]).unwrap());
        assert!(
            out.faults.iter().any(|f| f.kind == Kind::TarName),
            "{}",
            shown(&out)
        );
        assert!(!out.is_valid());
    }
    let link = with(&|tar| {
        let mut link = header(b"tide-tables.r1/data/link.jpg", 0, tar::EntryType::Symlink);
        link.set_link_name("/etc/hostname").unwrap();
        link.set_cksum();
        tar.append(&link, &b""[..]).unwrap();
    });
    assert!(has(&link, Kind::Link, "data/link.jpg"), "{}", shown(&link));
}

#[test]
fn a_damaged_file_in_a_tar_is_named() {
    let mut octets = sound_tar();
    let content: Vec<u8> = (0..600_u32).map(|n| (n * 31 % 251) as u8).collect();
    let at = bundle_kit::place_of(&octets, &content);
    octets[at + 9] ^= 1;
    let verdict = judge_tar(&octets);
    assert_eq!(verdict.standing, Standing::CompleteNotValid);
    assert!(has(&verdict, Kind::Damaged, FRONT), "{}", shown(&verdict));
    assert_eq!(verdict.errors().count(), 1);
}
