"""Runs that die or fail at every single dealing with the disk: nothing issued is ever harmed, nothing half written
has a final name, and the next run completes.

strace (a general-purpose tracer) stops the real program at its k-th call of a kind, or makes that call fail, for every
kind that changes a disk and for every k. The piece has an issued first revision of both editions and a change for a
second one. As the same inputs give the same octets, each file may hold what it held before or what it should hold
afterwards, and nothing else.
"""

import collections
import concurrent.futures
import os
import pathlib
import re
import shutil
import subprocess
import tempfile

import pytest

from conftest import PROGRAM, run

STUDIO = "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n"
PIECE = """title: Small Water
made: 2026
warp: {yarn: cotton seine twine, count: Ne 12/15, fibre: {cotton: 100}}
weft: [{name: green, count: NeW 2/8, fibre: {wool: 100}}]
measured: {height: 20 cm, width: 30 cm}
owners: [{from: 2026-07, public: Private collection, name: Ada Quill, how: commissioned}]
"""
CALLS = ["write", "fsync", "rename", "renameat", "renameat2", "link", "linkat", "unlink", "unlinkat", "mkdir", "ftruncate"]
UNFINISHED = re.compile(r"(^|/)\.offloom-(unfinished-.*|lock)$")


def finish(home, *tracer):
    command = [*tracer, str(PROGRAM), "finish", str(home), "--quiet", "--threads", "1"]
    return subprocess.run(command, capture_output=True, text=True)


def files(home):
    finished = home / "finished"
    return {str(p.relative_to(finished)): p.read_bytes() for p in finished.rglob("*") if p.is_file()}


def named(held):
    return {name: octets for name, octets in held.items() if not UNFINISHED.search(name)}


@pytest.fixture(scope="module")
def before(tmp_path_factory):
    home = tmp_path_factory.mktemp("before") / "studio"
    piece = home / "pieces/small-water"
    piece.mkdir(parents=True)
    (home / "studio.yaml").write_text(STUDIO)
    (piece / "piece.yaml").write_text(PIECE)
    run(PROGRAM, "finish", home, "--quiet")
    (piece / "piece.yaml").write_text(PIECE.replace("Small Water", "Smaller Water"))
    return home


@pytest.fixture(scope="module")
def expected(before, tmp_path_factory):
    """What a whole run leaves, and how often it calls for each kind."""
    home = tmp_path_factory.mktemp("expected") / "studio"
    shutil.copytree(before, home)
    log = home.parent / "calls"
    done = finish(home, "strace", "-f", "-qq", "-e", f"trace={','.join(CALLS)}", "-o", str(log))
    assert done.returncode == 0, done.stderr
    counts = collections.Counter()
    for line in log.read_text().splitlines():
        called = re.match(r"(\d+) +(\w+)\(", line)
        if called:
            counts[called.groups()] += 1
    most = collections.Counter()
    for (_, call), count in counts.items():
        most[call] = max(most[call], count)
    return named(files(home)), most


def tried(before, expected, folder, call, k, what):
    """One run that is spoiled at its k-th call; gives what is wrong afterwards."""
    whole, _ = expected
    home = folder / f"{call}-{k}-{what.replace('=', '-')}"
    shutil.copytree(before, home)
    old = named(files(home))
    inject = f"inject={call}:{what}:when={k}"
    died = finish(home, "strace", "-f", "-qq", "-o", "/dev/null", "-e", f"trace={call}", "-e", inject)
    wrong = []
    held = files(home)
    for name, octets in named(held).items():
        if octets not in (old.get(name), whole.get(name)):
            wrong.append(f"{name} is neither what it was nor what it should be")
    for name, octets in old.items():
        if name.startswith("bundles/") and held.get(name) != octets:
            wrong.append(f"{name} was harmed")
    if what.startswith("error"):
        left = [name for name in held if "unfinished" in name]
        if died.returncode == 0 and named(held) != whole:
            wrong.append("it said that all was well")
        if left:
            wrong.append(f"left behind: {left}")
        if died.returncode not in (0, 2):
            wrong.append(f"ended with {died.returncode}: {died.stderr}")
        if died.returncode == 2 and not died.stderr.strip():
            wrong.append("failed without a word")
    again = finish(home)
    if again.returncode != 0:
        wrong.append(f"the next run failed: {again.stderr}")
    left = files(home)
    if named(left) != whole:
        differ = sorted(n for n in left.keys() | whole.keys() if left.get(n) != whole.get(n))
        wrong.append(f"the next run did not complete it: {differ}")
    if any("unfinished" in name for name in left):
        wrong.append("the next run did not sweep")
    shutil.rmtree(home)
    return [f"{call} {k} {what}: {w}" for w in wrong]


def all_tried(before, expected, folder, cases):
    with concurrent.futures.ThreadPoolExecutor(2) as workers:
        outcomes = workers.map(lambda case: tried(before, expected, folder, *case), cases)
        return [wrong for outcome in outcomes for wrong in outcome]


def test_a_run_killed_at_any_call_harms_nothing_and_the_next_completes(before, expected, tmp_path):
    cases = [(call, k, "signal=KILL") for call, most in expected[1].items() for k in range(1, most + 1)]
    print(f"killed at {len(cases)} calls: {dict(expected[1])}")
    assert len(cases) > 100
    assert not all_tried(before, expected, tmp_path, cases)


@pytest.mark.parametrize(
    "calls, error",
    [
        (["write", "fsync"], "ENOSPC"),
        (["fsync"], "EIO"),
        (["rename", "renameat", "renameat2", "link", "linkat", "mkdir"], "EACCES"),
        (["rename", "renameat", "renameat2", "link", "linkat", "mkdir"], "EROFS"),
    ],
)
def test_a_disk_that_fails_at_any_call_is_told_and_harms_nothing(before, expected, tmp_path, calls, error):
    cases = [(call, k, f"error={error}") for call in calls for k in range(1, expected[1][call] + 1)]
    print(f"{error} at {len(cases)} calls")
    assert cases
    assert not all_tried(before, expected, tmp_path, cases)


@pytest.mark.parametrize("error, said", [("ENOSPC", "no space left"), ("EROFS", "can only be read"), ("EIO", "Check the disk")])
def test_what_the_disk_refuses_is_told_in_plain_words(before, tmp_path, error, said):
    home = tmp_path / "studio"
    shutil.copytree(before, home)
    old = files(home)
    done = finish(home, "strace", "-f", "-qq", "-o", "/dev/null", "-e", "trace=fsync", "-e", f"inject=fsync:error={error}:when=3+")
    assert done.returncode == 2, done
    assert said in done.stderr, done.stderr
    after = files(home)
    assert all(after.get(name) == octets for name, octets in old.items() if name.startswith("bundles/"))


@pytest.fixture()
def open_to_all():
    """A folder that others may enter, as pytest's own are not."""
    folder = pathlib.Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def test_permission_lost_half_way_is_told_and_harms_nothing(before, expected, open_to_all):
    home = open_to_all / "studio"
    shutil.copytree(before, home)
    old = files(home)
    # The shelf can no longer be written to, though the papers can.
    for path in (home, *home.rglob("*")):
        path.chmod(0o777 if path.is_dir() else 0o666)
    (home / "finished/bundles").chmod(0o555)
    as_nobody = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"] if os.geteuid() == 0 else []
    done = finish(home, *as_nobody)
    assert done.returncode == 2, done
    assert "no permission" in done.stderr, done.stderr
    after = files(home)
    assert all(after.get(name) == octets for name, octets in old.items() if name.startswith("bundles/"))
    (home / "finished/bundles").chmod(0o777)
    assert finish(home).returncode == 0
    assert named(files(home)) == expected[0]


def test_of_two_runs_at_once_each_ends_well_and_one_issues(before, expected, tmp_path):
    home = tmp_path / "studio"
    shutil.copytree(before, home)
    runs = [subprocess.Popen([str(PROGRAM), "finish", str(home), "--quiet"], stderr=subprocess.PIPE) for _ in range(4)]
    for one in runs:
        _, said = one.communicate()
        assert one.returncode == 0, said
    assert named(files(home)) == expected[0]
