"""Plates, and what must not travel with them.

Sources: Pillow and littlecms (through Pillow) as independent readers; exiftool for metadata.
"""

import json

import pytest
from PIL import Image, ImageCms, ImageOps

from conftest import run


@pytest.fixture(scope="session")
def plates(finished):
    found = sorted(finished.glob("*/plates/*.jpg"))
    assert len(found) > 20
    return found


def test_plates_carry_no_private_metadata(plates):
    # Source, reference library: exiftool.
    allowed = {"SourceFile", "ExifTool", "File", "JFIF", "ICC_Profile", "ICC-header", "Composite"}
    for facts in json.loads(run("exiftool", "-json", "-G1", *plates)):
        groups = {key.split(":")[0] for key in facts}
        extra = {g for g in groups if g not in allowed and not g.startswith("ICC")}
        assert extra <= {"System"}, (facts["SourceFile"], extra)


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
