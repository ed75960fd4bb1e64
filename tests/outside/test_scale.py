"""A large archive in parts: GNU parallel deals it out, and the bytes are those of one run."""

import shutil
import subprocess

from conftest import PROGRAM, run
from made import archive as make


def files(folder):
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file() and not p.name.startswith(".offloom-")
    }


def test_gnu_parallel_makes_the_same_bytes_as_one_run(tmp_path):
    home = make(tmp_path / "studio", 12)
    whole, dealt = tmp_path / "whole", tmp_path / "dealt"
    run(PROGRAM, "finish", home, "--out", whole)
    # Source, reference library: GNU parallel deals out the parts; four at once on however many cores there are.
    command = ["parallel", "--will-cite", "-j4", PROGRAM, "finish", home, "--quiet", "--part", "{}/5", "--out", dealt]
    run(*command, ":::", *"12345")
    one, many = files(whole), files(dealt)
    assert len(one) > 12 * 8 and one.keys() == many.keys()
    assert [k for k in one if one[k] != many[k]] == []
    # On machines that share no disk, then gathered.
    for k in "123":
        run(PROGRAM, "finish", home, "--part", f"{k}/3", "--out", tmp_path / k)
    run(PROGRAM, "merge", home, *(tmp_path / k for k in "123"), "--out", tmp_path / "all")
    assert files(tmp_path / "all") == one


def test_a_part_that_was_killed_goes_on_where_it_was(tmp_path):
    home = make(tmp_path / "studio", 8)
    run(PROGRAM, "finish", home, "--out", tmp_path / "whole")
    out = tmp_path / "dealt"
    for after in [0.2, 0.6, 1.0]:
        try:
            subprocess.run([PROGRAM, "finish", home, "--part", "1/1", "--out", out, "--quiet"], timeout=after)
        except subprocess.TimeoutExpired:
            pass
    for name in list(out.glob("work-0000[13]")):
        shutil.rmtree(name)
    run(PROGRAM, "finish", home, "--part", "1/1", "--out", out)
    run(PROGRAM, "finish", home, "--out", out)
    assert files(out) == files(tmp_path / "whole")


def test_checking_without_photographs_finds_what_is_written(archive):
    import json

    def found(*more):
        done = subprocess.run([PROGRAM, "check", archive, "--json", *more], capture_output=True, text=True)
        return {(f["name"], f["file"], f["line"]) for f in json.loads(done.stdout)["findings"]}

    all_, written = found(), found("--without-photos")
    assert written <= all_ and len(written) > 3
    assert all(name.startswith(("photo-", "light-", "plate-", "figures-")) for name, *_ in all_ - written), all_ - written
