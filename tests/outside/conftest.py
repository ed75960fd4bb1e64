"""Shared by the outside checks: a finished copy of the sample archive.

Nothing here knows how offloom works inside; the checks see what a stranger sees.
"""

import pathlib
import shutil
import subprocess
import zipfile

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = ROOT / "target" / "release" / "offloom"


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
