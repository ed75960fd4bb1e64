"""Nothing private reaches a paper for the public.

The private values are read from the sample archive itself: owners' names and addresses, prices, hours'
cost, the names of minors and of makers without consent, coordinates and serial numbers of photographs.
Looked for in the text, metadata and attachments of the public papers, in the record and in the plates.
"""

import itertools
import subprocess

import pikepdf
import yaml
from PIL import Image

from conftest import run

PUBLIC = [
    "care-label.pdf", "care-label-single.pdf", "catalogue-page.pdf", "hanging-sheet.pdf", "packing-sheet.pdf",
]
# What the owner may read but for their own name and the price: no address, no other sum, no minor's name.
OWNERS = ["certificate.pdf", "owner-sheet.pdf", "condition-sheet.pdf"]


def private_values(archive, slug):
    piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
    for owner in piece.get("owners") or []:
        yield from (owner[k] for k in ("name", "address") if owner.get(k))
    money = piece.get("money") or {}
    yield from (money[k] for k in ("price", "insured") if money.get(k))
    yield from (s["amount"] for s in money.get("stages") or [])
    for maker in (piece.get("makers") or {}).get("roll") or []:
        # YAML 1.1 reads a bare yes as true.
        if maker.get("consent") not in (True, "yes"):
            yield maker["name"]


def kept_from_owners(archive, slug):
    """What no paper but the studio's own says."""
    piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
    owners = piece.get("owners") or []
    yield from (o["address"] for o in owners if o.get("address"))
    yield from (o["name"] for o in owners[:-1] if o.get("name"))
    money = piece.get("money") or {}
    # A sum that is the price as well may be read.
    sums = [money.get("insured"), *(s["amount"] for s in money.get("stages") or [])]
    yield from (s for s in sums if s and s != money.get("price"))
    yield from (str(w["cost"]) for w in piece["weft"] if w.get("cost"))
    for opening in (piece.get("packing") or {}).get("openings") or []:
        yield opening["what"]
    for maker in (piece.get("makers") or {}).get("roll") or []:
        if maker.get("age") == "minor" and maker.get("consent") not in (True, "yes"):
            yield maker["name"]


def spellings(value):
    """A sum of money as it is written and as the papers print it."""
    amount, _, unit = str(value).partition(" ")
    if unit.isupper() and amount.replace(".", "").isdigit():
        whole, _, part = amount.partition(".")
        grouped = f"{int(whole):,}".replace(",", "\u202f") if len(whole) > 4 else whole
        printed = f"{grouped}.{part}" if part.strip("0") else grouped
        # A narrow space comes back from a page as a plain one.
        return {str(value), f"{printed} {unit}", f"{printed} {unit}".replace("\u202f", " ")}
    return {str(value)}


def everything_said(paper):
    """Text, metadata and attachments of a PDF, in one string."""
    said = run("pdftotext", paper, "-")
    with pikepdf.open(paper) as pdf:
        with pdf.open_metadata() as meta:
            said += str(meta)
        said += " ".join(f"{k} {v}" for k, v in pdf.docinfo.items())
        for attachment in pdf.attachments.values():
            said += attachment.get_file().read_bytes().decode("utf-8", "replace")
        said += " ".join(str(o) for o in pdf.objects if isinstance(o, (pikepdf.String, pikepdf.Dictionary)))
    return " ".join(said.split())


def test_private_values_are_in_the_sample_archive(archive, pieces):
    values = list(itertools.chain.from_iterable(private_values(archive, s) for s in pieces))
    assert len(values) > 12


def test_owners_papers_hold_nothing_of_the_studios(archive, finished, pieces):
    found = 0
    for slug in pieces:
        values = list(kept_from_owners(archive, slug))
        own = everything_said(finished / slug / "studio-sheet.pdf").replace("\u202f", " ")
        for name in OWNERS + PUBLIC:
            said = everything_said(finished / slug / name)
            for value in values:
                assert not any(s in said for s in spellings(value)), (slug, name, value)
        # The studio's own sheet has sums and addresses, so the search can find what it looks for.
        found += sum(any(s in own for s in spellings(v)) for v in values)
    assert found > 6


def test_public_papers_hold_nothing_private(archive, finished, pieces):
    for slug in pieces:
        values = [str(v) for v in private_values(archive, slug)]
        for name in PUBLIC:
            said = everything_said(finished / slug / name)
            for value in values:
                assert not any(s in said for s in spellings(value)), (slug, name, value)
        record = (finished / slug / "record.json").read_text()
        assert not [v for v in values if v in record], slug


def test_the_certificate_names_no_price_and_no_address(archive, finished, pieces):
    for slug in pieces:
        piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
        said = everything_said(finished / slug / "certificate.pdf")
        for owner in piece.get("owners") or []:
            if owner.get("address"):
                assert owner["address"] not in said, slug
        for key in ("price", "insured"):
            if (piece.get("money") or {}).get(key):
                assert piece["money"][key] not in said, slug


def test_camera_serials_and_coordinates_stay_in_the_original(archive, finished, pieces):
    serials = []
    for photo in sorted(archive.glob("pieces/*/photos/*")):
        exif = Image.open(photo).getexif().get_ifd(0x8769)
        serials += [str(exif[tag]) for tag in (0xA430, 0xA431, 0xA435) if tag in exif]
    assert serials, "the sample archive has a photograph with a serial number"
    made = [p for p in finished.rglob("*") if p.is_file() and p.suffix != ".zip"]
    for path, serial in itertools.product(made, serials):
        assert serial.encode() not in path.read_bytes(), (path, serial)
    tags = subprocess.run(
        ["exiftool", "-r", "-gps:all", "-ext", "jpg", "-ext", "pdf", str(finished)],
        capture_output=True, text=True,
    )
    assert "GPS" not in tags.stdout
