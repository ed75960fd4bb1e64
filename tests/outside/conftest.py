"""Shared by the outside checks: a finished copy of the sample archive.

Nothing here knows how offloom works inside; the checks see what a stranger sees.
"""

import json
import os
import pathlib
import shutil
import subprocess
import zipfile

import pytest
import yaml

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = pathlib.Path(os.environ.get("OFFLOOM", ROOT / "target" / "release" / "offloom"))


def run(*arguments, **more):
    """Runs a command and gives what it printed; a failure shows both streams."""
    done = subprocess.run([str(a) for a in arguments], capture_output=True, text=True, **more)
    assert done.returncode == 0, f"{arguments}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="session")
def archive(tmp_path_factory):
    """A copy of the sample archive with everything made."""
    folder = tmp_path_factory.mktemp("archive") / "studio"
    shutil.copytree(ROOT / "sample-archive", folder, ignore=shutil.ignore_patterns("finished"))
    run(PROGRAM, "finish", folder)
    return folder


@pytest.fixture(scope="session")
def finished(archive):
    return archive / "finished"


@pytest.fixture(scope="session")
def pieces(archive):
    found = sorted(p.name for p in (archive / "pieces").iterdir() if p.is_dir())
    assert len(found) >= 7
    return found


@pytest.fixture(scope="session")
def bundles(finished, pieces):
    found = [finished / "bundles" / f"{slug}.r1.zip" for slug in pieces]
    assert all(p.is_file() for p in found)
    return found


@pytest.fixture(scope="session")
def bags(bundles, tmp_path_factory):
    """Every bundle unpacked, its one top folder."""
    out = tmp_path_factory.mktemp("unpacked")
    folders = []
    for bundle in bundles:
        into = out / bundle.stem
        with zipfile.ZipFile(bundle) as z:
            z.extractall(into)
        inside = list(into.iterdir())
        assert len(inside) == 1, "a bundle unpacks to one folder"
        folders.append(inside[0])
    return folders


@pytest.fixture()
def reckon(tmp_path):
    """Reckons pieces given as dictionaries: `reckon(piece, ...)` gives, for each, its figures by name.

    A piece needs only the fields that matter; the rest is as in a plain one. `studio` and `notes`
    (text of notes.md, the same for all) may be given too.
    """

    def make(*pieces, studio=None, notes=None):
        home = tmp_path / f"archive-{len(list(tmp_path.iterdir()))}"
        home.mkdir()
        house = {"studio": "Brackwater Tapestry", "weaver": "Ottilie Brackwater", "currency": "GBP"}
        (home / "studio.yaml").write_text(yaml.safe_dump(house | (studio or {})))
        plain = {
            "title": "Low Water",
            "made": "2026-03/2026-06",
            "warp": {"count": "Ne 12/6", "fibre": {"cotton": 100}},
            "weft": [{"name": "sea green", "count": "NeW 2/8", "fibre": {"wool": 100}, "used": "410 g"}],
            "measured": {"height": "121.4 cm", "width": "166.0 cm"},
        }
        for number, piece in enumerate(pieces):
            folder = home / "pieces" / f"piece-{number:05}"
            folder.mkdir(parents=True)
            (folder / "piece.yaml").write_text(yaml.safe_dump(plain | piece, sort_keys=False, allow_unicode=True))
            if notes:
                (folder / "notes.md").write_text(notes)
        answer = json.loads(run(PROGRAM, "finish", home, "--explain", "all", "--json"))
        return [{entry["name"]: entry for entry in piece["figures"]} for piece in answer["pieces"]]

    return make
