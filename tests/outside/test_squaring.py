"""The front plate, squared up, against another library's warp of the same photograph by the same corners."""

import io
import json

import numpy as np
import pytest
import yaml
from PIL import Image, ImageCms, ImageOps
from skimage.transform import ProjectiveTransform, warp

from conftest import PROGRAM, run

FRONTS = ["dock-leaf", "every-kitchen-window", "many-hands-shore", "slack-water-1", "slack-water-5", "thirteen-moons", "tide-tables"]


def in_srgb(image):
    """Pixels in sRGB, by LittleCMS where a profile is aboard."""
    icc = image.info.get("icc_profile")
    if icc:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(icc))
        image = ImageCms.profileToProfile(image, profile, ImageCms.createProfile("sRGB"), renderingIntent=1, outputMode="RGB")
    return image.convert("RGB")


def light(values):
    """Linear light of sRGB values of 0 to 1 (IEC 61966-2-1)."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def value(linear):
    linear = np.clip(linear, 0, 1)
    return np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)


def squared_elsewhere(photo, corners, size):
    """The rectangle of `size` by scikit-image: bicubic, in linear light; a pixel's middle lies at a half."""
    width, height = size
    rectangle = np.array([[0, 0], [width, 0], [width, height], [0, height]], float) - 0.5
    back = ProjectiveTransform.from_estimate(rectangle, np.array(corners, float) - 0.5)
    pixels = light(np.asarray(photo, float) / 255)
    return value(warp(pixels, back, output_shape=(height, width), order=3, mode="edge")) * 255


@pytest.mark.parametrize("slug", FRONTS)
def test_the_front_plate_is_the_rectangle_another_library_draws_from_the_same_corners(archive, finished, slug):
    # Source, reference library: scikit-image's estimate of the map from the four corners, and its warp.
    piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
    front = next(p for p in piece["photos"] if p["view"] == "front")
    photo = in_srgb(ImageOps.exif_transpose(Image.open(archive / "pieces" / slug / "photos" / front["file"])))
    plate = Image.open(finished / slug / "plates" / "front-print.jpg").convert("RGB")
    theirs = squared_elsewhere(photo, front["corners"], plate.size)
    ours = np.asarray(plate, float)
    apart = np.abs(ours - theirs)
    # The plate is a JPEG of quality 88 and its filter is sharper than theirs: single pixels of a rib differ by
    # a few of 255. Means of 8 × 8 pixels cancel both.
    h, w = (n // 8 * 8 for n in ours.shape[:2])
    blocks = np.abs((ours - theirs)[:h, :w].reshape(h // 8, 8, w // 8, 8, 3).mean((1, 3)))
    assert apart.mean() < 4.0, apart.mean()
    assert blocks.mean() < 0.8, blocks.mean()
    assert blocks.max() < 10.0, blocks.max()
    # One pixel aside, in any direction, the two are far less alike.
    for axis in (0, 1):
        for step in (1, -1):
            assert np.abs(ours - np.roll(theirs, step, axis)).mean() > 1.5 * apart.mean()


@pytest.mark.parametrize("slug", FRONTS)
def test_the_front_plate_has_the_measured_proportion(archive, finished, slug):
    # Source, exact case: width over height of the record, to the rounding of one pixel.
    from fractions import Fraction

    def millimetres(text):
        number, unit = text.rsplit(" ", 1)
        return float(sum(map(Fraction, number.split()))) * {"cm": 10.0, "in": 25.4}[unit]

    def mean(readings):
        readings = readings if isinstance(readings, list) else [readings]
        return sum(map(millimetres, readings)) / len(readings)

    measured = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())["measured"]
    proportion = mean(measured["width"]) / mean(measured["height"])
    for size in ("print", "screen"):
        plate = Image.open(finished / slug / "plates" / f"front-{size}.jpg")
        assert abs(plate.width - proportion * plate.height) <= 1.0 + proportion, plate.size


def test_found_corners_are_those_written_down_and_nothing_is_written(archive):
    # Source, exact case: the sample photographs were drawn with the corners that stand in piece.yaml.
    before = {p: p.read_bytes() for p in sorted((archive / "pieces").glob("*/piece.yaml"))}
    proposals = json.loads(run(PROGRAM, "check", archive, "--find-corners", "--json"))["corners"]
    found = {p["piece"]: p for p in proposals}
    for slug in FRONTS:
        piece = yaml.safe_load(before[archive / "pieces" / slug / "piece.yaml"].decode())
        front = next(p for p in piece["photos"] if p["view"] == "front")
        photo = ImageOps.exif_transpose(Image.open(archive / "pieces" / slug / "photos" / front["file"]))
        apart = np.linalg.norm(np.array(found[slug]["corners"]) - np.array(front["corners"]), axis=1)
        assert apart.max() < 0.005 * np.hypot(*photo.size), (slug, apart)
    # Trimmed to the piece: there is no wall, so nothing is proposed.
    for slug in ("glebe-fields", "slack-water-2-or-3"):
        assert "wall" in found[slug]["not_found"]
    assert before == {p: p.read_bytes() for p in before}
