"""Plates, and what must not travel with them.

Sources: Pillow and littlecms (through Pillow) as independent readers; exiftool for metadata.
"""

import hashlib
import io
import json
import shutil
import unicodedata
from fractions import Fraction
from xml.etree import ElementTree

import numpy as np
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
    told = {"Title", "Creator", "DateCreated", "Rights", "Credit", "AltTextAccessibility"}
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
    exif = Image.Exif()
    exif[0x8769] = {0x9003: "2026:06:21 14:05:09"}
    Image.new("RGB", (64, 48), (90, 120, 140)).save(photos / "front.png", exif=exif)
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
    # The day of the photograph, without the hour.
    assert told["DateCreated"] == "2026:06:21"
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


def entry(archive, slug, file):
    """A photograph's entry in piece.yaml, and width over height as measured."""
    piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
    (photo,) = [photo for photo in piece["photos"] if photo["file"] == file]

    def mean(readings):
        readings = readings if isinstance(readings, list) else [readings]
        return sum(number_of(reading) for reading in readings) / len(readings)

    measured = piece["measured"]
    return photo, mean(measured["width"]) / mean(measured["height"])


def number_of(reading):
    """A length like `121.4 cm` or `30 1/2 in` as a bare number in its own unit."""
    *number, _ = str(reading).split()
    return float(sum(Fraction(part) for part in number))


def fields(image, size, quad=None):
    """The means of the light in so many fields (IEC 61966-2-1), as sRGB values of 0 to 255; with a quad, of
    what lies between its corners."""
    values = np.asarray(image.convert("RGB"), dtype="float32") / 255
    light = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4).astype("float32")
    means = []
    for channel in range(3):
        plane = Image.fromarray(light[..., channel])
        if quad:
            plane = plane.transform(plane.size, Image.QUAD, quad, Image.BICUBIC)
        means.append(np.asarray(plane.resize(size, Image.BOX)))
    light = np.stack(means, -1)
    return 255 * np.where(light <= 0.0031308, light * 12.92, 1.055 * light.clip(0) ** (1 / 2.4) - 0.055)


def as_hung(image, photo, size):
    """Fields of the piece alone, along its corners, by Pillow; of the whole picture where there are none."""
    if "corners" not in photo:
        return fields(image, size)
    by_height = sorted(photo["corners"], key=lambda p: p[1])
    (upper_left, upper_right), (lower_left, lower_right) = sorted(by_height[:2]), sorted(by_height[2:])
    return fields(image, size, [v for p in (upper_left, lower_left, lower_right, upper_right) for v in p])


def test_plates_have_their_sizes_and_whole_colours(archive, plates):
    # Source, reference library: Pillow's size of the original, exiftool's reading of the sampling factors.
    edges = {"print": 2900, "screen": 1600, "thumb": 400}
    facts = {f["SourceFile"]: f for f in json.loads(run("exiftool", "-json", "-YCbCrSubSampling", *plates))}
    for plate in plates:
        stem, size = plate.stem.rsplit("-", 1)
        (original,) = (archive / "pieces" / plate.parts[-3] / "photos").glob(f"{stem}.*")
        with Image.open(original) as photo:
            longest = max(photo.size)
        width, height = Image.open(plate).size
        photo, proportion = entry(archive, plate.parts[-3], original.name)
        if photo["view"] == "front" and "corners" in photo:
            # Squared up: of the measured proportion, and never enlarged.
            assert abs(width / height - proportion) < proportion * 1.5 / min(width, height), plate
            assert max(width, height) <= min(edges[size], longest), plate
        else:
            assert max(width, height) == min(edges[size], longest), plate
        assert facts[str(plate)]["YCbCrSubSampling"] == "YCbCr4:4:4 (1 1)"


def test_fine_ribs_keep_their_contrast_so_that_nothing_need_be_sharpened(tmp_path):
    # Source, exact case: waves of light of known contrast, three photograph pixels to one of the screen plate.
    # A wave of four plate pixels (half of the finest that it can hold) must keep 95 % of its contrast, and a
    # coarse one must not gain any: sharpening would only add halos.
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
    photo, _ = entry(archive, "slack-water-1", "front.jpg")
    apart = as_hung(upright, photo, (9, 9)) - fields(plate, (9, 9))
    print(f"at most {abs(apart).max():.1f} of 255 apart")
    assert abs(apart).max() < 12


def test_adobe_rgb_is_shown_in_its_true_colours(archive, tmp_path):
    # Source, reference library: Pillow and LittleCMS convert the same photograph. It is listed without its
    # corners here, so that nothing but the colours is compared.
    original = Image.open(archive / "pieces" / "tide-tables" / "photos" / "front.jpg")
    profile = ImageCms.ImageCmsProfile(io.BytesIO(original.info["icc_profile"]))
    true = ImageCms.profileToProfile(
        original, profile, ImageCms.createProfile("sRGB"), renderingIntent=1, outputMode="RGB"
    )
    photos = tmp_path / "pieces" / "whole" / "photos"
    photos.mkdir(parents=True)
    shutil.copy(original.filename, photos / "front.jpg")
    (tmp_path / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    piece = {
        "title": "Whole",
        "made": "2026",
        "warp": {"fibre": {"cotton": 100}},
        "weft": [{"name": "grey", "fibre": {"wool": 100}}],
        "measured": {"height": "121 cm", "width": "166 cm"},
        "photos": [{"file": "front.jpg", "view": "front", "alt": "The whole photograph."}],
    }
    (photos.parent / "piece.yaml").write_text(yaml.safe_dump(piece))
    run(PROGRAM, "finish", tmp_path)
    size = (60, 48)
    plate = fields(Image.open(tmp_path / "finished" / "whole" / "plates" / "front-screen.jpg"), size)

    def apart(image):
        return abs(fields(image, size) - plate).mean()

    print(f"apart {apart(true):.2f}, without the profile {apart(original):.2f} of 255")
    assert apart(true) < 1
    assert apart(true) < apart(original) / 2, "the profile was not honoured"
