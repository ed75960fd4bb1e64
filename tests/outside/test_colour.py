"""Colours of plates, against littlecms: what a chart in each profile becomes.

A chart like a photograph (soft fields of colour through the whole gamut, with a texture of threads) is
saved in each profile, finished, and the print plate is compared with littlecms' conversion of the same
chart, in cells of 12 × 12 pixels.
"""

import io

import colour
import numpy as np
import pytest
import yaml
from PIL import Image, ImageCms

import profiles
from conftest import PROGRAM, run

SIZE = (960, 720)
CELL = 12
# lower and upper end of the chart's values: a little inside the cube's faces, where a JPEG can follow.
LOW, HIGH = 6, 249


def field(dice):
    """A soft random field of 0 to 1, all values about equally frequent."""
    nodes = Image.fromarray(dice.random((9, 12)).astype("float32"), mode="F")
    soft = np.asarray(nodes.resize(SIZE, Image.BICUBIC))
    ranks = np.argsort(np.argsort(soft, axis=None)).reshape(soft.shape)
    return ranks / (ranks.size - 1)


def chart(channels=3):
    dice = np.random.default_rng(20261125)
    picture = np.stack([field(dice) for _ in range(channels)], -1)
    rows = np.arange(SIZE[1])[:, None, None]
    threads = np.where(rows % 4 < 2, -2.0, 2.0)
    values = LOW + picture * (HIGH - LOW) + threads
    return np.clip(np.rint(values), 0, 255).astype("uint8")


def scanner(values):
    """An invented device: uneven curves, channels that mix, and a black that is not quite black."""
    curves = np.stack([values[..., i] ** g for i, g in enumerate((1.9, 2.1, 2.0))], -1)
    mixed = curves @ np.array([[0.86, 0.09, 0.05], [0.08, 0.85, 0.07], [0.03, 0.10, 0.87]]).T
    return profiles.lab_of((0.004 + 0.996 * mixed) @ profiles.to_d50(profiles.SRGB).T)


GAMMA = profiles.gamma_tag(563 / 256)
CURVE = profiles.srgb_curve_tag()
TABLE = profiles.table_tag([(v / 255) ** 1.8 for v in range(256)])
CHARTS = {
    "srgb-v2": ("RGB", profiles.matrix_profile("sRGB chart", profiles.SRGB, profiles.table_tag(
        [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in np.linspace(0, 1, 1024)]), 2)),
    "srgb-v4": ("RGB", profiles.matrix_profile("sRGB chart", profiles.SRGB, CURVE, 4)),
    "adobe-rgb": ("RGB", profiles.matrix_profile("Adobe RGB chart", profiles.ADOBE_RGB, GAMMA, 2)),
    "display-p3": ("RGB", profiles.matrix_profile("P3 chart", profiles.P3, CURVE, 4)),
    "p3-by-a-table": ("RGB", profiles.matrix_profile("P3 with a table", profiles.P3, TABLE, 2)),
    "scanner-v2": ("RGB", profiles.table_profile("Invented scanner", scanner, 2)),
    "scanner-v4": ("RGB", profiles.table_profile("Invented scanner", scanner, 4)),
    "grey-v2": ("L", profiles.grey_profile("Grey 1.8", TABLE, 2)),
    "grey-v4": ("L", profiles.grey_profile("Grey like sRGB", CURVE, 4)),
}


def saved(name):
    mode, icc = CHARTS[name]
    picture = Image.fromarray(chart(3) if mode == "RGB" else chart(1)[..., 0], mode=mode)
    out = io.BytesIO()
    picture.save(out, "PNG", icc_profile=icc)
    return picture, icc, out.getvalue()


@pytest.fixture(scope="module")
def plates(tmp_path_factory):
    home = tmp_path_factory.mktemp("charts")
    (home / "studio.yaml").write_text(yaml.safe_dump({"studio": "Brackwater Tapestry", "weaver": "Ottilie Brackwater"}))
    for name in CHARTS:
        folder = home / "pieces" / name
        (folder / "photos").mkdir(parents=True)
        (folder / "photos" / "front.png").write_bytes(saved(name)[2])
        piece = {
            "title": f"Chart {name}",
            "made": "2026",
            "warp": {"fibre": {"cotton": 100}},
            "weft": [{"name": "grey", "fibre": {"wool": 100}}],
            "measured": {"height": "72 cm", "width": "96 cm"},
            "photos": [{"file": "front.png", "view": "front", "alt": "A chart."}],
        }
        (folder / "piece.yaml").write_text(yaml.safe_dump(piece))
    run(PROGRAM, "finish", home)
    return {n: Image.open(home / "finished" / n / "plates" / "front-print.jpg") for n in CHARTS}


def by_littlecms(name, intent=ImageCms.Intent.RELATIVE_COLORIMETRIC):
    picture, icc, _ = saved(name)
    return ImageCms.profileToProfile(
        picture, ImageCms.ImageCmsProfile(io.BytesIO(icc)), ImageCms.createProfile("sRGB"),
        renderingIntent=intent, outputMode="RGB",
    )


def lab(picture):
    """Each cell's mean in CIE L*a*b*, white D65."""
    values = np.asarray(picture.convert("RGB"), dtype=float)
    rows, columns = values.shape[0] // CELL, values.shape[1] // CELL
    cells = values[: rows * CELL, : columns * CELL].reshape(rows, CELL, columns, CELL, 3).mean((1, 3)) / 255
    return colour.XYZ_to_Lab(colour.sRGB_to_XYZ(cells), (0.3127, 0.3290))


def apart(one, other):
    return colour.delta_E(lab(one), lab(other), method="CIE 2000")


@pytest.mark.parametrize("name", CHARTS)
def test_plates_have_the_colours_that_littlecms_finds(plates, name):
    # Source, reference library: LittleCMS (through Pillow's ImageCms) converts the same chart, relative
    # colorimetric without black-point compensation; the difference by colour-science's CIE DE2000.
    difference = apart(plates[name], by_littlecms(name))
    print(f"{name}: mean {difference.mean():.3f}, maximum {difference.max():.3f}")
    assert difference.mean() < 0.3
    assert difference.max() < 1.5


@pytest.mark.parametrize("name", ["adobe-rgb", "display-p3", "p3-by-a-table", "scanner-v2", "scanner-v4", "grey-v2"])
def test_a_profile_set_aside_would_be_noticed(plates, name):
    # The same chart taken for sRGB differs by several times what is allowed.
    difference = apart(plates[name], saved(name)[0])
    assert difference.mean() > 1.5 or difference.max() > 6


def test_the_difference_that_judges_agrees_with_the_published_pairs():
    # Source, published: Sharma, Wu and Dalal (2005), table 1, pairs 1, 4, 7, 10, 17, 20 and 25: hue
    # wrap-around, greys, blues, and neighbours of neutral.
    pairs = [
        ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
        ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
        ((50.0, 0.0, 0.0), (50.0, -1.0, 2.0), 2.3669),
        ((50.0, 2.4900, -0.0010), (50.0, -2.4900, 0.0010), 7.1792),
        ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
        ((50.0, 2.5, 0.0), (58.0, 24.0, 15.0), 19.4535),
        ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ]
    for one, other, published in pairs:
        assert colour.delta_E(np.array(one), np.array(other), method="CIE 2000") == pytest.approx(published, abs=1e-4)
