"""Plates, and what must not travel with them.

Sources: Pillow and littlecms (through Pillow) as independent readers; exiftool for metadata.
"""

import hashlib
import json
import unicodedata
from xml.etree import ElementTree

import pytest
import yaml
from PIL import Image, ImageCms, ImageOps

from conftest import PROGRAM, run


@pytest.fixture(scope="session")
def plates(finished):
    found = sorted(finished.glob("*/plates/*.jpg"))
    assert len(found) > 20
    return found


def test_plates_carry_no_private_metadata(plates):
    # Source, reference library: exiftool.
    allowed = {"SourceFile", "ExifTool", "File", "JFIF", "ICC_Profile", "ICC-header", "Composite"}
    told = {"Title", "Creator", "Rights", "Credit", "AltTextAccessibility"}
    for facts in json.loads(run("exiftool", "-json", "-G1", *plates)):
        words = {key for key in facts if key.startswith("XMP-")}
        extra = {key for key in words if key.split(":")[1] not in told and ":Artwork" not in key}
        assert not extra, (facts["SourceFile"], extra)
        groups = {key.split(":")[0] for key in facts.keys() - words}
        extra = {g for g in groups if g not in allowed and not g.startswith("ICC")}
        assert extra <= {"System"}, (facts["SourceFile"], extra)


def told_by(*plates):
    """What plates tell, by exiftool, in their order."""
    return json.loads(run("exiftool", "-json", "-struct", "-XMP:all", *plates))


def test_plates_tell_what_they_show(archive, finished, pieces, plates):
    # Source, reference library: exiftool reads the XMP by the names of the IPTC Photo Metadata Standard.
    studio = yaml.safe_load((archive / "studio.yaml").read_text())
    all_told = {told["SourceFile"]: told for told in told_by(*plates)}
    seen = 0
    for slug in pieces:
        piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
        digest = hashlib.sha256((finished / slug / "record.json").read_bytes()).hexdigest()
        for photo in piece["photos"]:
            stem = photo["file"].rsplit(".", 1)[0]
            for size in ("print", "screen", "thumb"):
                plate = finished / slug / "plates" / f"{stem}-{size}.jpg"
                told = all_told[str(plate)]
                assert told["Title"] == piece["title"]
                assert told["AltTextAccessibility"] == photo["alt"]
                assert told.get("Creator") == ([photo["credit"]] if "credit" in photo else None)
                assert told.get("Credit") == photo.get("credit")
                assert told.get("Rights") == photo.get("rights")
                (work,) = told["ArtworkOrObject"]
                assert work["AOTitle"] == piece["title"]
                assert work["AOCreator"] == [studio["weaver"]]
                assert work["AOSource"] == studio["studio"]
                assert ("AODateCreated" in work) != ("AOCircaDateCreated" in work)
                assert "×" in work["AOPhysicalDescription"]
                number = work["AOSourceInvNo"].removeprefix("nih:sha-256-64;").replace("-", "")
                assert digest.startswith(number.split(";")[0]) and len(number) == 18
                seen += 1
    assert seen > 60


HARD = "Salt & <Pepper> ]]> \"quoted\" 'too' \\ &amp; — 織 🧵 a\u0301"


def test_any_words_come_back_from_a_plate_as_they_were_written(tmp_path):
    # Source, reference library: exiftool, and Python's own XML parser.
    photos = tmp_path / "pieces" / "hard" / "photos"
    photos.mkdir(parents=True)
    Image.new("RGB", (64, 48), (90, 120, 140)).save(photos / "front.png")
    (tmp_path / "studio.yaml").write_text(yaml.safe_dump({"studio": HARD, "weaver": HARD}))
    piece = {
        "title": HARD,
        "made": "2026-06-21",
        "warp": {"fibre": {"cotton": 100}},
        "weft": [{"name": "grey", "fibre": {"wool": 100}}],
        "measured": {"height": "48 cm", "width": "64 cm"},
        "photos": [{"file": "front.png", "view": "front", "alt": HARD, "credit": HARD, "rights": HARD}],
    }
    slug = tmp_path / "pieces" / "hard"
    (slug / "piece.yaml").write_text(yaml.safe_dump(piece, allow_unicode=True))
    run(PROGRAM, "finish", tmp_path)
    plate = tmp_path / "finished" / "hard" / "plates" / "front-screen.jpg"
    assert plate.is_file()
    (told,) = told_by(plate)
    same = lambda text: unicodedata.normalize("NFC", text)
    for words in (told["Title"], told["AltTextAccessibility"], told["Credit"], told["Rights"], told["Creator"][0]):
        assert same(words) == same(HARD)
    (work,) = told["ArtworkOrObject"]
    assert same(work["AOCreator"][0]) == same(HARD)
    assert work["AODateCreated"] == "2026:06:21"
    packet = plate.read_bytes().split(b"<?xpacket begin")[1].split(b"?>", 1)[1].split(b"<?xpacket end")[0]
    ElementTree.fromstring(packet)

    # Other words make the plate anew from the same picture, and nothing of the old ones is left.
    before = Image.open(plate).tobytes()
    piece["photos"][0] |= {"alt": "A grey field.", "credit": "", "rights": "© nobody"}
    (slug / "piece.yaml").write_text(yaml.safe_dump(piece, allow_unicode=True))
    run(PROGRAM, "finish", tmp_path)
    (told,) = told_by(plate)
    assert told["AltTextAccessibility"] == "A grey field." and told["Rights"] == "© nobody"
    assert "Creator" not in told and Image.open(plate).tobytes() == before


def test_plates_have_their_sizes_and_whole_colours(archive, plates):
    # Source, reference library: Pillow's size of the original, exiftool's reading of the sampling factors.
    edges = {"print": 2900, "screen": 1600, "thumb": 400}
    facts = {f["SourceFile"]: f for f in json.loads(run("exiftool", "-json", "-YCbCrSubSampling", *plates))}
    for plate in plates:
        stem, size = plate.stem.rsplit("-", 1)
        (original,) = (archive / "pieces" / plate.parts[-3] / "photos").glob(f"{stem}.*")
        with Image.open(original) as photo:
            longest = max(photo.size)
        assert max(Image.open(plate).size) == min(edges[size], longest), plate
        assert facts[str(plate)]["YCbCrSubSampling"] == "YCbCr4:4:4 (1 1)"


def test_fine_ribs_keep_their_contrast_so_that_nothing_need_be_sharpened(tmp_path):
    # Source, exact case: waves of light of known contrast, three photograph pixels to one of the screen plate.
    # A wave of four plate pixels (half of the finest that it can hold) must keep 95 % of its contrast, and a
    # coarse one must not gain any: sharpening would only add halos.
    import numpy as np

    photos = tmp_path / "pieces" / "ribs" / "photos"
    photos.mkdir(parents=True)
    x = np.arange(4800)
    bands = [0.4 + 0.2 * np.cos(2 * np.pi * (x - 1) / (3 * period)) for period in (4, 8, 40)]
    light = np.repeat(np.array(bands), 200, axis=0)
    values = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    grey = np.rint(values * 255).astype("uint8")
    Image.fromarray(np.stack([grey] * 3, -1)).save(photos / "front.png")
    (tmp_path / "studio.yaml").write_text(yaml.safe_dump({"studio": "Brackwater Tapestry", "weaver": "Ottilie Brackwater"}))
    piece = {
        "title": "Ribs",
        "made": "2026",
        "warp": {"fibre": {"cotton": 100}},
        "weft": [{"name": "grey", "fibre": {"wool": 100}}],
        "measured": {"height": "12 cm", "width": "96 cm"},
        "photos": [{"file": "front.png", "view": "front", "alt": "Ribs."}],
    }
    (photos.parent / "piece.yaml").write_text(yaml.safe_dump(piece))
    run(PROGRAM, "finish", tmp_path)
    plate = Image.open(tmp_path / "finished" / "ribs" / "plates" / "front-screen.jpg")
    assert plate.size == (1600, 200)
    values = np.asarray(plate)[..., 1] / 255
    light = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    at = np.arange(200, 1400)
    for band, (period, least) in enumerate([(4, 0.95), (8, 0.98), (40, 0.99)]):
        row = light[round((band + 0.25) * 200 / 3) : round((band + 0.75) * 200 / 3), 200:1400].mean(0)
        wave = 2 * abs(np.mean((row - row.mean()) * np.exp(2j * np.pi * at / period)))
        kept = wave / 0.2
        print(f"waves of {period} pixels keep {kept:.3f}")
        assert least < kept < 1.05


def test_plates_are_srgb_and_say_so(plates):
    # Source, reference library: Pillow and LittleCMS.
    for plate in plates:
        image = Image.open(plate)
        assert image.mode == "RGB"
        assert image.info.get("icc_profile"), plate


def test_a_photograph_stored_on_its_side_stands_upright(archive, finished):
    # EXIF orientation 6, turned by Pillow's own transposition.
    original = archive / "pieces" / "slack-water-1" / "photos" / "front.jpg"
    assert Image.open(original).getexif()[0x0112] == 6
    upright = ImageOps.exif_transpose(Image.open(original)).convert("RGB")
    plate = Image.open(finished / "slack-water-1" / "plates" / "front-screen.jpg")
    assert (plate.width > plate.height) == (upright.width > upright.height)
    small = upright.resize(plate.size).resize((24, 24))
    pairs = zip(small.tobytes(), plate.resize((24, 24)).tobytes())
    assert max(abs(a - b) for a, b in pairs) < 16


def test_adobe_rgb_is_shown_in_its_true_colours(archive, finished):
    # Source, reference library: Pillow and LittleCMS convert the same photograph.
    original = Image.open(archive / "pieces" / "tide-tables" / "photos" / "front.jpg")
    import io

    profile = ImageCms.ImageCmsProfile(io.BytesIO(original.info["icc_profile"]))
    true = ImageCms.profileToProfile(
        original, profile, ImageCms.createProfile("sRGB"), renderingIntent=1, outputMode="RGB"
    )
    plate = Image.open(finished / "tide-tables" / "plates" / "front-screen.jpg").convert("RGB")
    size = (60, 48)
    true, plate = true.resize(size, Image.BOX), plate.resize(size, Image.BOX)
    untouched = original.convert("RGB").resize(size, Image.BOX)

    def apart(a, b):
        return sum(abs(x - y) for x, y in zip(a.tobytes(), b.tobytes())) / len(a.tobytes())

    assert apart(true, plate) < 2.5
    assert apart(true, plate) < apart(untouched, plate) / 2, "the profile was not honoured"
