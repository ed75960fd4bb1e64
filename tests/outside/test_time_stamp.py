"""A time-stamp over the record: carried, told of, and proved by OpenSSL alone.

Source, reference library: openssl ts, as authority and as verifier (RFC 3161).
"""

import json
import re
import shutil
import subprocess
import zipfile

import pytest

from conftest import PROGRAM, ROOT, run

CONFIG = """
[tsa]
default_tsa = here
[here]
serial = {folder}/serial
signer_digest = sha256
default_policy = 1.3.6.1.4.1.99999.1
digests = sha256, sha384, sha512
"""


def openssl(*arguments, **options):
    return subprocess.run(["openssl", *map(str, arguments)], capture_output=True, text=True, **options)


@pytest.fixture(scope="module")
def authority(tmp_path_factory):
    """A time-stamping authority of one certificate, which is its own root."""
    folder = tmp_path_factory.mktemp("authority")
    (folder / "tsa.cnf").write_text(CONFIG.format(folder=folder))
    (folder / "serial").write_text("01\n")
    made = openssl(
        "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "36500",
        "-subj", "/O=Invented Time Authority/CN=Clock One", "-keyout", folder / "key.pem", "-out", folder / "cert.pem",
        "-addext", "extendedKeyUsage=critical,timeStamping", "-addext", "keyUsage=critical,digitalSignature",
    )  # fmt: skip
    assert made.returncode == 0, made.stderr

    def stamp(data, into, digest="sha256"):
        run("openssl", "ts", "-query", "-data", data, f"-{digest}", "-cert", "-out", folder / "query.tsq")
        run(
            "openssl", "ts", "-reply", "-queryfile", folder / "query.tsq", "-config", folder / "tsa.cnf",
            "-signer", folder / "cert.pem", "-inkey", folder / "key.pem", "-out", into,
        )  # fmt: skip

    stamp.certificate = folder / "cert.pem"
    return stamp


@pytest.fixture(scope="module")
def stamped(tmp_path_factory, authority):
    """An archive whose piece was finished, stamped, and finished again."""
    home = tmp_path_factory.mktemp("stamped") / "studio"
    shutil.copytree(ROOT / "sample-archive", home, ignore=shutil.ignore_patterns("finished", "slack-*", "many-*"))
    run(PROGRAM, "finish", home, "--piece", "tide-tables")
    piece = home / "pieces/tide-tables"
    authority(home / "finished/tide-tables/record.json", piece / "record.tsr")
    shutil.copy(authority.certificate, piece / "record-authority.pem")
    run(PROGRAM, "finish", home, "--piece", "tide-tables")
    return home


@pytest.fixture(params=["r2", "r2.owner"])
def bag(stamped, request, tmp_path):
    with zipfile.ZipFile(stamped / f"finished/bundles/tide-tables.{request.param}.zip") as z:
        z.extractall(tmp_path)
    return tmp_path / f"tide-tables.{request.param}"


def proving_lines(bag):
    text = (bag / "READ-ME-FIRST.txt").read_text("ascii")
    return re.search(r"^ *(openssl ts -verify.*?\n.*?-CAfile AUTHORITY.pem)\n *(openssl ts -reply.*?)$", text, re.M).groups()


def test_an_heir_proves_the_time_by_the_lines_of_the_read_me(bag, authority):
    verify, show = proving_lines(bag)
    verify = verify.replace("AUTHORITY.pem", str(authority.certificate))
    done = subprocess.run(verify, shell=True, cwd=bag, capture_output=True, text=True)
    assert "Verification: OK" in done.stdout + done.stderr, done
    shown = subprocess.run(show, shell=True, cwd=bag, capture_output=True, text=True)
    assert re.search(r"Time stamp: .*GMT", shown.stdout), shown
    assert (bag / "data/record-authority.pem").read_bytes() == authority.certificate.read_bytes()


def test_openssl_refuses_another_record_and_a_changed_stamp(bag, authority):
    verify = proving_lines(bag)[0].replace("AUTHORITY.pem", str(authority.certificate))
    prove = lambda: subprocess.run(verify, shell=True, cwd=bag, capture_output=True).returncode
    assert prove() == 0
    record = bag / "data/record.json"
    sound = record.read_bytes()
    record.write_bytes(sound.replace(b"Tide", b"Tale", 1))
    assert prove() != 0
    record.write_bytes(sound)
    stamp = bag / "data/record.tsr"
    octets = bytearray(stamp.read_bytes())
    octets[-3] ^= 1
    stamp.write_bytes(octets)
    assert prove() != 0


def test_audit_tells_the_time_that_openssl_tells(stamped, tmp_path):
    bundle = stamped / "finished/bundles/tide-tables.r2.zip"
    told = json.loads(run(PROGRAM, "audit", "--json", "--no-log", bundle))["bags"][0]
    assert told["standing"] == "valid"
    with zipfile.ZipFile(bundle) as z:
        (tmp_path / "s.tsr").write_bytes(z.read("tide-tables.r2/data/record.tsr"))
    shown = openssl("ts", "-reply", "-in", tmp_path / "s.tsr", "-text").stdout
    month, day, clock, year = re.search(r"Time stamp: (\w+) +(\d+) (\S+) (\d+) GMT", shown).groups()
    months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()
    expected = f"{year}-{months.index(month) + 1:02}-{int(day):02}T{clock}Z"
    assert told["time_stamp"] == expected


@pytest.mark.parametrize("digest", ["sha384", "sha512"])
def test_stamps_over_longer_digests_are_known(stamped, authority, tmp_path, digest):
    home = tmp_path / "studio"
    shutil.copytree(stamped, home)
    authority(home / "finished/tide-tables/record.json", home / "pieces/tide-tables/record.tsr", digest)
    checked = json.loads(run(PROGRAM, "check", home, "--piece", "tide-tables", "--json"))
    assert "time-stamp" not in [f["name"] for f in checked["findings"]]


def test_a_stamp_for_a_former_record_is_named_and_not_laid_beside_the_new_one(stamped, tmp_path):
    home = tmp_path / "studio"
    shutil.copytree(stamped, home)
    piece = home / "pieces/tide-tables/piece.yaml"
    piece.write_text(piece.read_text().replace("title: Tide Tables", "title: Tide Tables, Revised"))
    checked = json.loads(run(PROGRAM, "check", home, "--piece", "tide-tables", "--json"))
    found = [f for f in checked["findings"] if f["name"] == "time-stamp"]
    assert len(found) == 1 and found[0]["rank"] == "warning", found
    assert found[0]["file"].endswith("record.tsr")
    run(PROGRAM, "finish", home, "--piece", "tide-tables")
    with zipfile.ZipFile(home / "finished/bundles/tide-tables.r3.zip") as z:
        names = z.namelist()
        assert "openssl" not in z.read("tide-tables.r3/READ-ME-FIRST.txt").decode()
    assert "tide-tables.r3/data/record.tsr" not in names
    assert "tide-tables.r3/data/piece/record.tsr" in names


def test_a_file_that_is_no_time_stamp_is_named(stamped, tmp_path):
    home = tmp_path / "studio"
    shutil.copytree(stamped, home)
    (home / "pieces/tide-tables/record.tsr").write_text("stamped on 2 July 2026")
    checked = json.loads(run(PROGRAM, "check", home, "--piece", "tide-tables", "--json"))
    assert "time-stamp" in [f["name"] for f in checked["findings"]]
