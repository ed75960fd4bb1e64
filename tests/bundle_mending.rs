//! What happened to a damaged file, where it is still good, and a bundle put together anew.

mod bundle_kit;

use std::fs;
use std::path::{Path, PathBuf};

use bundle_kit::{
    FRONT, NOTES, issue_in, place_of, sound_bundle, sound_contents, unpacked, unzipped, zipped,
};
use offloom::audit::{Damage, Fault, Kind, Verdict, Watch, judge_all};
use offloom::bundle::{MendError, Mended, mend};
use tempfile::TempDir;
use zip::CompressionMethod::Stored;

/// A shelf for each copy of the sound bundle, and the octets of the bundle.
fn copies(number: usize) -> (Vec<TempDir>, Vec<PathBuf>, Vec<u8>) {
    let (_folder, bundle) = sound_bundle();
    let octets = fs::read(&bundle).unwrap();
    let shelves: Vec<TempDir> = (0..number).map(|_| tempfile::tempdir().unwrap()).collect();
    let paths = shelves
        .iter()
        .map(|shelf| shelf.path().join("tide-tables.r1.zip"))
        .collect::<Vec<_>>();
    for path in &paths {
        fs::write(path, &octets).unwrap();
    }
    (shelves, paths, octets)
}

/// Changes the octets of one file where it lies in the bundle.
fn spoil(bundle: &Path, file: &str, change: impl FnOnce(&mut [u8])) {
    let mut octets = fs::read(bundle).unwrap();
    let (_folder, sound) = sound_bundle();
    let content = unzipped(&fs::read(sound).unwrap())
        .into_iter()
        .find(|(name, _)| name.ends_with(file))
        .unwrap()
        .1;
    let at = place_of(&octets, &content);
    change(&mut octets[at..at + content.len()]);
    fs::write(bundle, octets).unwrap();
}

fn judged(paths: &[PathBuf]) -> Vec<Verdict> {
    judge_all(paths, Watch::NOBODY, None)
}

fn fault<'a>(verdict: &'a Verdict, file: &str) -> &'a Fault {
    verdict
        .errors()
        .find(|fault| fault.file == file && fault.kind != Kind::Line)
        .unwrap()
}

fn mended(verdicts: &[Verdict], into: &Path) -> Result<Mended, MendError> {
    mend(&verdicts[0], verdicts, into, &mut |_| {}, &|| false)
}

#[test]
fn a_turned_bit_is_named_and_turned_back_without_any_other_copy() {
    let (_shelves, paths, sound) = copies(1);
    spoil(&paths[0], FRONT, |octets| octets[417] ^= 0x20);
    let verdicts = judged(&paths);
    assert_eq!(
        fault(&verdicts[0], FRONT).likely,
        Some(Damage::TurnedBit { octet: 417, bit: 5 })
    );
    let into = tempfile::tempdir().unwrap();
    let new = mended(&verdicts, into.path()).unwrap();
    assert_eq!(new.turned_back, [FRONT]);
    assert!(fs::read(new.path).unwrap() == sound);
}

#[test]
fn a_lost_stretch_a_saved_file_and_files_that_changed_places_are_told_apart() {
    let (_shelves, paths, sound) = copies(1);
    spoil(&paths[0], FRONT, |octets| octets[100..400].fill(0));
    let verdicts = judged(&paths);
    assert_eq!(
        fault(&verdicts[0], FRONT).likely,
        Some(Damage::Zeroed {
            at: 100,
            octets: 300
        })
    );

    // Saved anew: zipped again with another content.
    let mut files = unzipped(&sound);
    for (name, content) in &mut files {
        if name.ends_with(NOTES) {
            content.extend(b"Not so.\n");
        }
    }
    fs::write(&paths[0], zipped(&files, Stored)).unwrap();
    assert_eq!(
        fault(&judged(&paths)[0], NOTES).likely,
        Some(Damage::Grown { octets: 48, of: 40 })
    );
    let mut files = unzipped(&sound);
    for (name, content) in &mut files {
        if name.ends_with(NOTES) {
            content[3..7].copy_from_slice(b"1999");
        }
    }
    fs::write(&paths[0], zipped(&files, Stored)).unwrap();
    assert_eq!(
        fault(&judged(&paths)[0], NOTES).likely,
        Some(Damage::Rewritten)
    );

    let mut files = unzipped(&sound);
    let at = |end: &str| {
        files
            .iter()
            .position(|(name, _)| name.ends_with(end))
            .unwrap()
    };
    let (one, other) = (at(FRONT), at(NOTES));
    let content = files[one].1.clone();
    files[one].1 = std::mem::replace(&mut files[other].1, content);
    fs::write(&paths[0], zipped(&files, Stored)).unwrap();
    let verdict = &judged(&paths)[0];
    assert_eq!(
        fault(verdict, FRONT).likely,
        Some(Damage::ChangedPlaces { with: NOTES.into() })
    );
    assert_eq!(
        fault(verdict, NOTES).likely,
        Some(Damage::ChangedPlaces { with: FRONT.into() })
    );
}

#[test]
fn a_file_of_an_unpacked_bag_that_is_cut_short_is_told() {
    let (_folder, bundle) = sound_bundle();
    let (_unpacked, bag) = unpacked(&bundle);
    let front = bag.join(FRONT);
    let octets = fs::read(&front).unwrap();
    fs::write(&front, &octets[..512]).unwrap();
    let verdicts = judged(std::slice::from_ref(&bag));
    let expected = Some(Damage::CutShort {
        octets: 512,
        of: 600,
    });
    assert_eq!(fault(&verdicts[0], FRONT).likely, expected);
    // Two short files at once: the sum tells of neither, but the other copy does of both.
    fs::write(bag.join(NOTES), b"## 2026").unwrap();
    assert_eq!(
        fault(&judged(std::slice::from_ref(&bag))[0], FRONT).likely,
        None
    );
    let verdicts = judged(&[bag, bundle]);
    assert_eq!(fault(&verdicts[0], FRONT).likely, expected);
    assert_eq!(
        fault(&verdicts[0], NOTES).likely,
        Some(Damage::CutShort { octets: 7, of: 40 })
    );
}

#[test]
fn two_damaged_copies_give_the_whole_bundle_back_octet_for_octet() {
    let (_shelves, paths, sound) = copies(2);
    spoil(&paths[0], FRONT, |octets| octets[..300].reverse());
    spoil(&paths[0], "manifest-sha256.txt", |octets| {
        octets[5..9].fill(b'0')
    });
    spoil(&paths[1], NOTES, |octets| octets[3..7].fill(b'x'));
    spoil(&paths[1], "tagmanifest-sha512.txt", |octets| {
        octets[5..9].fill(b'0')
    });
    let before: Vec<Vec<u8>> = paths.iter().map(|path| fs::read(path).unwrap()).collect();
    let verdicts = judged(&paths);
    let good = &fault(&verdicts[0], FRONT).elsewhere;
    assert_eq!(good.len(), 1, "{good:?}");
    assert_eq!(
        (good[0].bag.as_path(), good[0].file.as_str()),
        (paths[1].as_path(), FRONT)
    );
    let into = tempfile::tempdir().unwrap();
    let new = mended(&verdicts, into.path()).unwrap();
    assert!(fs::read(&new.path).unwrap() == sound);
    assert!(
        new.taken
            .iter()
            .any(|(file, from)| file == FRONT && from.bag == paths[1])
    );
    // The other way round the same comes out, and what is there already stays.
    let other = mend(&verdicts[1], &verdicts, into.path(), &mut |_| {}, &|| false).unwrap();
    assert_eq!(other.path, new.path);
    for (path, octets) in paths.iter().zip(before) {
        assert!(
            fs::read(path).unwrap() == octets,
            "a damaged bundle was written to"
        );
    }
}

#[test]
fn a_lost_manifest_is_made_anew_and_proved_by_the_tag_manifest() {
    let (_shelves, paths, sound) = copies(1);
    let mut files = unzipped(&sound);
    files.retain(|(name, _)| !name.ends_with("/manifest-sha512.txt"));
    fs::write(&paths[0], zipped(&files, Stored)).unwrap();
    let into = tempfile::tempdir().unwrap();
    let new = mended(&judged(&paths), into.path()).unwrap();
    assert!(fs::read(new.path).unwrap() == sound);
}

#[test]
fn good_octets_are_found_under_another_name_in_another_bag() {
    let (_shelves, paths, sound) = copies(1);
    spoil(&paths[0], FRONT, |octets| octets.reverse());
    let shelf = tempfile::tempdir().unwrap();
    let mut other = sound_contents();
    other.name =
        offloom::bundle::BundleName::new("other", 3, offloom::bundle::Edition::Owner).unwrap();
    for item in &mut other.payload {
        if item.path.ends_with("front.jpg") {
            item.path = "photos/seen-from-the-front.jpg".into();
        }
    }
    let issued = issue_in(shelf.path(), &other);
    let verdicts = judged(&[paths[0].clone(), issued.path]);
    let place = &fault(&verdicts[0], FRONT).elsewhere[0];
    assert_eq!(place.file, "data/photos/seen-from-the-front.jpg");
    let into = tempfile::tempdir().unwrap();
    let new = mended(&verdicts, into.path()).unwrap();
    assert!(fs::read(new.path).unwrap() == sound);
}

#[test]
fn what_is_good_nowhere_is_named_and_nothing_is_written() {
    let (_shelves, paths, _) = copies(2);
    for path in &paths {
        spoil(path, FRONT, |octets| octets.reverse());
        spoil(path, NOTES, |octets| octets.reverse());
    }
    let into = tempfile::tempdir().unwrap();
    match mended(&judged(&paths), into.path()) {
        Err(MendError::Lacking { files, .. }) => assert_eq!(files, [NOTES, FRONT]),
        other => panic!("{other:?}"),
    }
    assert_eq!(fs::read_dir(into.path()).unwrap().count(), 0);
}

#[test]
fn every_octet_of_a_bundle_may_decay_and_the_other_copy_mends_it() {
    let (_shelves, paths, sound) = copies(2);
    let into = tempfile::tempdir().unwrap();
    let mut tried = 0;
    for at in (0..sound.len()).step_by(7) {
        let mut octets = sound.clone();
        octets[at] = !octets[at];
        fs::write(&paths[0], &octets).unwrap();
        let verdicts = judged(&paths);
        if verdicts[0].is_valid() {
            continue;
        }
        let new = mended(&verdicts, into.path()).unwrap_or_else(|e| panic!("octet {at}: {e}"));
        assert!(fs::read(&new.path).unwrap() == sound, "octet {at}");
        fs::remove_file(new.path).unwrap();
        tried += 1;
    }
    assert!(tried > 300, "{tried}");
}

#[test]
fn another_bundle_of_the_same_name_is_never_taken_for_a_copy() {
    let (_shelves, paths, _) = copies(1);
    spoil(&paths[0], FRONT, |octets| octets.reverse());
    spoil(&paths[0], "tagmanifest-sha256.txt", |octets| {
        octets[..64].fill(b'0')
    });
    spoil(&paths[0], "tagmanifest-sha512.txt", |octets| {
        octets[..64].fill(b'0')
    });
    let shelf = tempfile::tempdir().unwrap();
    let mut other = sound_contents();
    other.payload = vec![bundle_kit::bytes("photos/front.jpg", b"quite another")];
    let issued = issue_in(shelf.path(), &other);
    let into = tempfile::tempdir().unwrap();
    assert!(mended(&judged(&[paths[0].clone(), issued.path]), into.path()).is_err());
    assert_eq!(fs::read_dir(into.path()).unwrap().count(), 0);
}
