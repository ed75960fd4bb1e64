"""The seal of a bundle, proved by OpenSSH alone, and what changes when somebody meddles with it.

Source, reference library: ssh-keygen of OpenSSH (PROTOCOL.sshsig; ALLOWED SIGNERS in ssh-keygen(1)).
"""

import hashlib
import json
import re
import shutil
import subprocess
import sys
import zipfile

import pytest
import yaml

from conftest import PROGRAM, ROOT, run
from test_privacy import everything_said, kept_from_owners, spellings

WORDS = "slack water at four"


def sealed_archive(home, *options):
    shutil.copytree(ROOT / "sample-archive", home, ignore=shutil.ignore_patterns("finished", "slack-*", "many-*"))
    words = home.parent / "words"
    words.write_text(WORDS + "\n")
    words.chmod(0o600)
    run(PROGRAM, "key", home, "--make", "--since", "2026-01-01", "--passphrase-file", words)
    run(PROGRAM, "finish", home, "--piece", "tide-tables", "--passphrase-file", words, *options)
    return home


@pytest.fixture(scope="module")
def sealed(tmp_path_factory):
    return sealed_archive(tmp_path_factory.mktemp("sealed") / "studio")


@pytest.fixture()
def bag(sealed, tmp_path):
    with zipfile.ZipFile(sealed / "finished/bundles/tide-tables.r1.zip") as z:
        z.extractall(tmp_path)
    return tmp_path / "tide-tables.r1"


def proving_line(bag):
    """The command that READ-ME-FIRST.txt tells, as an heir would type it."""
    text = (bag / "READ-ME-FIRST.txt").read_text("ascii")
    return re.search(r"ssh-keygen -Y verify.*?\\\n.*?tagmanifest-sha256\.txt$", text, re.M | re.S).group(0)


def proves(bag):
    done = subprocess.run(proving_line(bag), shell=True, cwd=bag, capture_output=True, text=True)
    return done.returncode == 0, done.stdout + done.stderr


def audit(*arguments):
    done = subprocess.run([str(PROGRAM), "audit", "--json", *map(str, arguments)], capture_output=True, text=True)
    return done.returncode, json.loads(done.stdout)["bags"][0]


def test_ssh_keygen_proves_the_seal_with_the_line_that_the_bundle_tells(sealed, bag):
    good, said = proves(bag)
    assert good and "Good" in said, said
    fingerprint = re.search(r"SHA256:\S+", said).group(0)
    # The same key stands in the text, on the certificate, and in ssh-keygen's own reading of the key.
    assert fingerprint in (bag / "READ-ME-FIRST.txt").read_text()
    certificate = run("pdftotext", bag / "data/papers/certificate.pdf", "-")
    assert fingerprint in "".join(certificate.split()), "the certificate names the key"
    assert fingerprint in run("ssh-keygen", "-l", "-f", bag / "seal/key.pub")


def test_the_lines_of_the_text_tell_that_the_bundle_is_whole(bag):
    text = (bag / "READ-ME-FIRST.txt").read_text("ascii")
    lines = re.findall(r"^  (sha256sum .*)$", text, re.M)
    assert len(lines) == 2
    for line in lines:
        assert subprocess.run(line, shell=True, cwd=bag, capture_output=True, text=True).stdout == "OK\n"
    count = re.search(r"^  (find data .*)$", text, re.M).group(1)
    counted = lambda: subprocess.run(count, shell=True, cwd=bag, capture_output=True, text=True).stdout.split()
    one, other = counted()
    assert one == other
    (bag / "data/added-later.txt").write_text("not of the studio")
    one, other = counted()
    assert one != other, "a file on no list is seen"
    (bag / "data/added-later.txt").unlink()
    for fact in ("Tide Tables", "Ottilie Brackwater", "120.6 x W 164.8", "3.86 kg", "data/papers/hanging-sheet.pdf",
                 "2 July 2026"):
        assert fact in text, fact
    for path in re.findall(r"data/\S+\.(?:pdf|json)", text):
        assert (bag / path).is_file(), path


def test_the_private_key_opens_in_ssh_keygen_with_its_passphrase_alone(sealed, tmp_path):
    key = tmp_path / "key"
    shutil.copy2(sealed / "seal/key", key)
    assert subprocess.run(["ssh-keygen", "-y", "-P", "wrong", "-f", key], capture_output=True).returncode != 0
    line = run("ssh-keygen", "-y", "-P", WORDS, "-f", key)
    assert line.split()[:2] == (sealed / "seal/key.pub").read_text().split()[:2]
    assert key.stat().st_mode & 0o077 == 0


def test_our_seal_is_octet_for_octet_the_one_that_ssh_keygen_makes(sealed, bag, tmp_path):
    key = tmp_path / "key"
    shutil.copy2(sealed / "seal/key", key)
    run("ssh-keygen", "-q", "-p", "-P", WORDS, "-N", "", "-f", key)
    copy = tmp_path / "sealed.txt"
    shutil.copy(bag / "tagmanifest-sha256.txt", copy)
    run("ssh-keygen", "-q", "-Y", "sign", "-f", key, "-n", "offloom-bundle", copy)
    made = (tmp_path / "sealed.txt.sig").read_text()
    ours = (bag / "seal/tagmanifest-sha256.txt.sig").read_text()
    assert "".join(made.split()) == "".join(ours.split())


def rewrite(bag):
    """Puts right every manifest for a changed file, as somebody would who wants to hide it."""
    for kind in ("manifest", "tagmanifest"):
        for algorithm in ("sha256", "sha512"):
            path = bag / f"{kind}-{algorithm}.txt"
            lines = []
            for line in path.read_text().splitlines():
                digest, _, file = line.partition("  ")
                lines.append(f"{hashlib.new(algorithm, (bag / file).read_bytes()).hexdigest()}  {file}")
            path.write_text("\n".join(lines) + "\n")
    info = bag / "bag-info.txt"
    sizes = [p.stat().st_size for p in (bag / "data").rglob("*") if p.is_file()]
    info.write_text(re.sub(r"Payload-Oxum: .*", f"Payload-Oxum: {sum(sizes)}.{len(sizes)}", info.read_text()))
    for algorithm in ("sha256", "sha512"):
        path = bag / f"tagmanifest-{algorithm}.txt"
        lines = [line.partition("  ")[2] for line in path.read_text().splitlines()]
        path.write_text("".join(
            f"{hashlib.new(algorithm, (bag / f).read_bytes()).hexdigest()}  {f}\n" for f in lines))


def test_a_file_and_every_manifest_changed_together_are_found_by_the_seal(bag):
    assert audit(bag)[0] == 0
    record = bag / "data/record.json"
    record.write_bytes(record.read_bytes().replace(b"Tide Tables", b"Tide Tablet"))
    rewrite(bag)
    run("sha256sum", "--check", "--quiet", "manifest-sha256.txt", cwd=bag)
    assert not proves(bag)[0]
    code, verdict = audit(bag)
    assert code == 1 and [f["name"] for f in verdict["faults"]] == ["seal-broken"]
    assert verdict["seal"]["standing"] == "broken"


def test_a_seal_taken_away_is_missed(sealed, bag):
    (bag / "seal/tagmanifest-sha256.txt.sig").unlink()
    code, verdict = audit(bag)
    assert code == 1 and [f["name"] for f in verdict["faults"]] == ["seal-gone"]
    # Without its keys a bag looks as if it never had a seal: only who expects one can miss it.
    shutil.rmtree(bag / "seal")
    rewrite_without_seal(bag)
    assert audit(bag)[0] == 0
    code, verdict = audit(bag, "--signers", sealed / "seal/allowed_signers")
    assert code == 1 and [f["name"] for f in verdict["faults"]] == ["seal-gone"]


def rewrite_without_seal(bag):
    for algorithm in ("sha256", "sha512"):
        path = bag / f"tagmanifest-{algorithm}.txt"
        path.write_text("".join(l for l in path.read_text().splitlines(True) if "seal/" not in l))


def test_a_stranger_s_seal_is_told_from_the_studio_s(sealed, tmp_path):
    other = sealed_archive(tmp_path / "other" / "studio")
    bundle = other / "finished/bundles/tide-tables.r1.zip"
    code, verdict = audit(bundle)
    assert code == 0 and verdict["seal"]["standing"] == "says-of-itself"
    code, verdict = audit(bundle, "--signers", sealed / "seal/allowed_signers")
    assert code == 1 and verdict["seal"]["standing"] == "stranger"
    code, verdict = audit(bundle, "--signers", other / "seal/allowed_signers")
    assert code == 0 and verdict["seal"]["standing"] == "known"


def test_a_key_that_was_lost_before_the_day_of_the_bundle_is_told(sealed, tmp_path):
    bundle = sealed / "finished/bundles/tide-tables.r1.zip"
    listed = (sealed / "seal/allowed_signers").read_text()
    signers = tmp_path / "signers"
    for window, standing in [
        ('valid-after="20260101Z",valid-before="20400101Z"', "known"),
        ('valid-after="20260101Z",valid-before="20260601Z"', "out-of-time"),
        ('valid-after="20270101Z"', "out-of-time"),
    ]:
        signers.write_text(listed.replace('valid-after="20260101Z"', window))
        code, verdict = audit(bundle, "--signers", signers)
        assert verdict["seal"]["standing"] == standing, window
        assert code == (0 if standing == "known" else 1)
        # ssh-keygen draws the same line, asked for the day that the bundle claims.
        with zipfile.ZipFile(bundle) as z:
            z.extractall(tmp_path / "bag")
        bag = tmp_path / "bag/tide-tables.r1"
        line = proving_line(bag).replace("seal/allowed_signers", str(signers)) + " -Overify-time=20260702"
        done = subprocess.run(line, shell=True, cwd=bag, capture_output=True, text=True)
        assert (done.returncode == 0) == (standing == "known"), done.stderr


def test_the_owner_s_edition_is_sealed_and_holds_nothing_of_the_studio_s(sealed, tmp_path):
    bundle = sealed / "finished/bundles/tide-tables.r1.owner.zip"
    with zipfile.ZipFile(bundle) as z:
        z.extractall(tmp_path)
    bag = tmp_path / "tide-tables.r1.owner"
    assert proves(bag)[0]
    run(sys.executable,
        "-m", "bagit", "--validate", "--quiet", bag)
    files = sorted(p.relative_to(bag).as_posix() for p in bag.rglob("*") if p.is_file())
    assert "data/papers/certificate.pdf" in files and "data/plates/front-print.jpg" in files
    for name in files:
        assert not re.search(r"piece\.yaml|notes|studio|reckoning|photos/", name), name
    secrets = list(kept_from_owners(sealed, "tide-tables"))
    piece = yaml.safe_load((sealed / "pieces/tide-tables/piece.yaml").read_text())
    notes = (sealed / "pieces/tide-tables/notes.md").read_text()
    secrets += [line for line in notes.splitlines() if len(line) > 40]
    assert len(secrets) > 10 and piece["owners"]
    for name in files:
        path = bag / name
        said = everything_said(path) if path.suffix == ".pdf" else path.read_bytes().decode("utf-8", "replace")
        for secret in secrets:
            assert not any(s in said for s in spellings(secret)), (name, secret)


def test_a_piece_without_an_owner_has_no_owner_s_edition(archive):
    made = {p.name for p in (archive / "finished/bundles").iterdir()}
    for slug in (p.name for p in (archive / "pieces").iterdir()):
        piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
        assert (f"{slug}.r1.owner.zip" in made) == bool(piece.get("owners")), slug
