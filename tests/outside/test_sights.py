"""What the photographs say of themselves, reckoned a second time with numpy and scipy.

The figures under test lie in each piece's stamp. The originals are read by Pillow, turned upright and
brought to linear light here; all sample photographs are smaller than a print plate, so their own pixels are
the plate's.
"""

import json

import numpy as np
import pytest
import yaml
from PIL import Image, ImageOps
from scipy import fft, ndimage

WEIGHTS = np.array([0.2126, 0.7152, 0.0722])


def luminance(path):
    """Linear luminance, 0 to 1, of an sRGB photograph, upright."""
    # Source, published: IEC 61966-2-1, the curve of sRGB; ITU-R BT.709, the weights of luminance.
    values = np.asarray(ImageOps.exif_transpose(Image.open(path)).convert("RGB")) / 255.0
    light = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    return light @ WEIGHTS


def sights(archive, finished):
    """Path, sight and corners of every photograph in sRGB."""
    for folder in sorted((archive / "pieces").iterdir()):
        record = yaml.safe_load((folder / "piece.yaml").read_text())
        corners = {p["file"]: p.get("corners") for p in record["photos"]}
        stamp = json.loads((finished / folder.name / ".stamp.json").read_text())
        for photo in stamp["photos"]:
            path = folder / "photos" / photo["file"]
            if Image.open(path).info.get("icc_profile") is None:
                yield path, photo["sight"]["looks"], corners[photo["file"]]


def test_the_likeness_is_the_cosine_transform_of_scipy(archive, finished):
    # Source, reference library: scipy's DCT-II of 32 by 32 fields, and numpy's median.
    count = 0
    for path, looks, _ in sights(archive, finished):
        light = luminance(path)
        rows, columns = (np.arange(33) * edge // 32 for edge in light.shape)
        fields = np.add.reduceat(np.add.reduceat(light, rows[:-1], axis=0), columns[:-1], axis=1)
        fields = np.cbrt(fields / np.outer(np.diff(rows), np.diff(columns)))
        waves = fft.dctn(fields, norm="ortho")[:8, :8].ravel()
        bits = waves > np.median(waves[1:])
        bits[0] = False
        own = int("".join("01"[int(b)] for b in bits), 2)
        # Two decoders of JPEG differ by a step here and there, which can tip a coefficient at the median.
        assert (own ^ looks["likeness"]).bit_count() <= 2, path
        count += 1
    assert count >= 15


def test_the_spread_of_edges_is_that_of_scipys_filters(archive, finished):
    # Source, reference library: scipy.ndimage's convolution and numpy's gradient; tiles as stated.
    kernel = np.array([1, 4, 6, 4, 1]) / 16
    for path, looks, corners in sights(archive, finished):
        if corners is not None:
            continue
        light = luminance(path)
        height, width = light.shape
        left, top = int(width * 0.12), int(height * 0.12)
        right, foot = int(width * 0.88), int(height * 0.88)
        sharp = light[top:foot, left:right]
        soft = sharp
        for _ in range(2):
            for axis in (1, 0):
                soft = ndimage.convolve1d(soft, kernel, axis=axis, mode="nearest")
        energies = []
        for picture in (soft, sharp):
            down, across = np.gradient(picture)
            energies.append(down**2 + across**2)
        tiles = []
        for y in range(8, sharp.shape[0] - 32, 32):
            for x in range(8, sharp.shape[1] - 32, 32):
                mx, my = left + x + 16, top + y + 16
                inside = min(mx - width * 0.12, width * 0.88 - mx, my - height * 0.12, height * 0.88 - my)
                if inside > 32:
                    tiles.append([e[y : y + 32, x : x + 32].sum() for e in energies])
        tiles = sorted(tiles, reverse=True)[: max(len(tiles) // 4, 4)]
        after, before = np.sum(tiles, axis=0)
        ratio = after / before
        own = np.sqrt(max(0.0, 2 * ratio**2 / (1 - ratio**2) - 1 / 3))
        assert looks["spread"] == pytest.approx(own, abs=0.02), path


def test_the_light_on_the_wall_is_the_plane_of_numpys_least_squares(archive, finished):
    # Source, reference library: numpy.linalg.lstsq over all of the wall, without leaving anything out.
    count = 0
    for path, looks, corners in sights(archive, finished):
        if corners is None or looks["uneven"] is None:
            continue
        light = luminance(path)
        height, width = light.shape
        xs, ys = np.array(corners).T
        far = 0.04 * max(width, height)
        y, x = np.mgrid[0:height, 0:width]
        wall = (x < xs.min() - far) | (x > xs.max() + far) | (y < ys.min() - far) | (y > ys.max() + far)
        system = np.column_stack([np.ones(wall.sum()), x[wall] / width - 0.5, y[wall] / height - 0.5])
        mean, across, down = np.linalg.lstsq(system, light[wall], rcond=None)[0]
        assert looks["uneven"] == pytest.approx((abs(across) + abs(down)) / mean, abs=0.04), path
        count += 1
    assert count >= 3


def test_the_palette_adds_up_and_its_oklab_is_its_srgb(archive, finished):
    # Source, published: Oklab's matrices (Björn Ottosson, 2020).
    first = np.array(
        [
            [0.4122214708, 0.5363325363, 0.0514459929],
            [0.2119034982, 0.6806995451, 0.1073969566],
            [0.0883024619, 0.2817188376, 0.6299787005],
        ]
    )
    second = np.array(
        [
            [0.2104542553, 0.7936177850, -0.0040720468],
            [1.9779984951, -2.4285922050, 0.4505937099],
            [0.0259040371, 0.7827717662, -0.8086757660],
        ]
    )
    files = sorted(finished.glob("*/plates/palette.json"))
    assert len(files) >= 6
    for file in files:
        palette = json.loads(file.read_text())
        percents = [c["percent"] for c in palette["colours"]]
        assert sum(percents) + palette["others_percent"] == pytest.approx(100), file
        assert percents == sorted(percents, reverse=True)
        for colour in palette["colours"]:
            values = np.array([int(colour["srgb"][i : i + 2], 16) for i in (1, 3, 5)]) / 255
            light = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
            assert second @ np.cbrt(first @ light) == pytest.approx(colour["oklab"], abs=6e-4)
