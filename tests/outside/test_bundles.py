"""Bundles are opened and verified by tools that have never heard of offloom.

Sources: RFC 8493 (BagIt 1.0) through bagit-python, the Library of Congress's reference library; the
ZIP format through Info-ZIP's unzip and CPython's zipfile; SHA-256 through coreutils and hashlib.
"""

import hashlib
import json
import shutil
import subprocess
import sys
import zipfile

import bagit
import pytest

from conftest import PROGRAM, run


def test_bagit_python_finds_every_bundle_valid(bags):
    # Source, reference library: bagit (Library of Congress) validates every bundle.
    for folder in bags:
        bag = bagit.Bag(str(folder))
        bag.validate(processes=1)
        assert bag.version_info == (1, 0)
        assert {"sha256", "sha512"} <= set(bag.algorithms)
        done = subprocess.run(
            [sys.executable, "-m", "bagit", "--validate", str(folder)], capture_output=True, text=True
        )
        assert done.returncode == 0, done.stderr


def test_unzip_finds_every_bundle_whole(bundles):
    # Source, reference library: unzip (Info-ZIP) tests every bundle.
    for bundle in bundles:
        assert "No errors detected" in run("unzip", "-t", bundle)


def test_sha256sum_alone_verifies_an_unpacked_bundle(bags):
    # Source, reference library: sha256sum (GNU coreutils).
    # As the README tells somebody who has no offloom.
    for folder in bags:
        run("sha256sum", "--check", "--quiet", "manifest-sha256.txt", cwd=folder)
        run("sha256sum", "--check", "--quiet", "tagmanifest-sha256.txt", cwd=folder)
        run("sha512sum", "--check", "--quiet", "manifest-sha512.txt", cwd=folder)


def test_a_bundle_holds_the_piece_as_it_is(archive, bags, pieces):
    for slug, folder in zip(pieces, bags):
        source = archive / "pieces" / slug
        for file in sorted(p for p in source.rglob("*") if p.is_file()):
            kept = folder / "data" / "piece" / file.relative_to(source)
            assert kept.read_bytes() == file.read_bytes(), kept
        for paper in ("care-label", "certificate", "catalogue-page", "owner-sheet", "hanging-sheet", "packing-sheet",
                      "condition-sheet", "studio-sheet"):
            assert (folder / "data" / "papers" / f"{paper}.pdf").is_file()
        for name in ("record.json", "reckoning.json"):
            assert (folder / "data" / name).is_file()


def test_payload_oxum_counts_octets_and_files(bags):
    # Source, published: RFC 8493, section 2.2.2.
    for folder in bags:
        files = [p for p in (folder / "data").rglob("*") if p.is_file()]
        oxum = f"{sum(p.stat().st_size for p in files)}.{len(files)}"
        assert bagit.Bag(str(folder)).info["Payload-Oxum"] == oxum


def test_photographs_are_stored_and_times_tell_nothing(bundles):
    for bundle in bundles:
        with zipfile.ZipFile(bundle) as z:
            for entry in z.infolist():
                assert entry.compress_type == zipfile.ZIP_STORED
                assert entry.date_time == (1980, 1, 1, 0, 0, 0)
                assert entry.extra == b""


def test_a_flipped_byte_is_found_and_named(bundles, tmp_path):
    data = bytearray(bundles[0].read_bytes())
    with zipfile.ZipFile(bundles[0]) as z:
        photo = next(e for e in z.infolist() if e.filename.endswith("photos/front.jpg"))
    data[photo.header_offset + 5000] ^= 0xFF
    damaged = tmp_path / bundles[0].name
    damaged.write_bytes(data)
    done = subprocess.run([str(PROGRAM), "audit", str(damaged)], capture_output=True, text=True)
    assert done.returncode == 1
    assert "photos/front.jpg" in done.stdout
    with zipfile.ZipFile(damaged) as z:
        assert z.testzip() is not None, "the reference reader finds it too"


def test_audit_agrees_that_every_bundle_is_valid(finished, bags):
    run(PROGRAM, "audit", finished / "bundles")
    run(PROGRAM, "audit", *bags)


def test_a_bag_made_by_the_reference_library_is_valid(tmp_path):
    # Source, reference library: bagit makes the bag that audit judges.
    (tmp_path / "letter.txt").write_text("A letter.\n")
    bagit.make_bag(str(tmp_path), checksums=["md5", "sha1", "sha256", "sha512"])
    run(PROGRAM, "audit", tmp_path)
    (tmp_path / "data" / "letter.txt").write_text("A better.\n")
    done = subprocess.run([str(PROGRAM), "audit", str(tmp_path)], capture_output=True, text=True)
    assert done.returncode == 1 and "letter.txt" in done.stdout


@pytest.mark.parametrize("algorithm", ["md5", "sha1", "sha224", "sha256", "sha384", "sha512"])
@pytest.mark.parametrize("held", ["folder", "zip", "tar"])
def test_bags_of_the_reference_library_are_judged_as_it_judges_them(tmp_path, algorithm, held):
    # Source, reference library: bagit makes and validates the bag; zipfile and tarfile of Python pack it.
    bag = tmp_path / "letters"
    bag.mkdir()
    (bag / "letter.txt").write_text("A letter.\n")
    (bag / "brève é 100%.txt").write_text("Brève.\n")
    (bag / ".hidden").write_text("")
    made = bagit.make_bag(str(bag), {"Contact-Name": "Ottilie Brackwater " * 9}, checksums=[algorithm])
    assert made.is_valid()

    def audited(name):
        path = bag
        if held != "folder":
            path = shutil.make_archive(str(tmp_path / name), held, root_dir=tmp_path, base_dir="letters")
        done = subprocess.run([str(PROGRAM), "audit", "--json", str(path)], capture_output=True, text=True)
        return done.returncode, json.loads(done.stdout)["bags"][0]

    code, verdict = audited("sound")
    assert code == 0 and verdict["standing"] == "valid", verdict
    assert verdict["algorithms"] == [algorithm]
    (bag / "data" / "letter.txt").write_text("A better.\n")
    with pytest.raises(bagit.BagValidationError):
        bagit.Bag(str(bag)).validate()
    code, verdict = audited("changed")
    assert code == 1 and verdict["standing"] == "complete-not-valid", verdict
    assert [f["file"] for f in verdict["faults"] if f["rank"] == "error"] == ["data/letter.txt"]
    (bag / "data" / "letter.txt").unlink()
    code, verdict = audited("missing")
    assert code == 1 and verdict["standing"] == "incomplete", verdict


def test_7z_finds_every_bundle_whole(bundles):
    # Source, reference library: 7z of the Debian package p7zip-full.
    for bundle in bundles:
        run("7z", "t", "-bd", bundle)


def test_a_piece_beyond_4_gib_is_read_by_every_tool(tmp_path):
    # Source, reference library: unzip, 7z and Python's zipfile read the 64-bit records of the ZIP format.
    home = tmp_path / "studio"
    piece = home / "pieces/film"
    piece.mkdir(parents=True)
    (home / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    (piece / "piece.yaml").write_text(
        "title: Film\nmade: 2026\nwarp: {fibre: {cotton: 100}}\nweft: [{fibre: {wool: 100}}]\n"
        "measured: {height: 40 cm, width: 30 cm}\n"
    )
    with open(piece / "making.mov", "wb") as film:
        film.truncate(4_300_000_000)
        film.seek(2**32)
        film.write(b"weft")
    # A child's peak memory begins with its parent's, so a small parent asks.
    ask = (
        "import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True, stderr=subprocess.DEVNULL); "
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    kibibytes = int(run(sys.executable, "-c", ask, PROGRAM, "finish", home, "--quiet"))
    bundle = home / "finished/bundles/film.r1.zip"
    (piece / "making.mov").unlink()
    run("unzip", "-tq", bundle)
    run("7z", "t", "-bd", bundle)
    with zipfile.ZipFile(bundle) as opened:
        with opened.open("film.r1/data/piece/making.mov") as film:
            film.seek(2**32)
            assert film.read(5) == b"weft\0"
    run(PROGRAM, "audit", "--no-log", bundle)
    assert kibibytes < 150 * 1024, "memory grows with the size of files"
    bundle.unlink()


def test_manifests_name_what_hashlib_computes(bags):
    # Source, reference library: hashlib of Python.
    for folder in bags:
        for line in (folder / "manifest-sha256.txt").read_text().splitlines():
            digest, path = line.split(maxsplit=1)
            assert hashlib.sha256((folder / path).read_bytes()).hexdigest() == digest
