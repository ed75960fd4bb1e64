"""How near plates come to a photograph shrunk without any haste, by SSIMULACRA2 (100 is the same picture)."""

import subprocess

import numpy as np
import pytest
import yaml
from PIL import Image
from scipy.sparse import csr_matrix
from ssimulacra2 import compute_ssimulacra2

from conftest import PROGRAM, run
from test_squaring import light, value

WIDTH, HEIGHT = 4200, 2800


def cloth():
    """Fields of colour with ribs across them and a little grain."""
    dice = np.random.default_rng(20261125)
    fields = (dice.random((14, 21, 3)) * 255).astype("uint8")
    picture = np.asarray(Image.fromarray(fields).resize((WIDTH, HEIGHT), Image.BICUBIC), dtype="float32") / 255
    ribs = 1 + 0.08 * np.sin(np.arange(HEIGHT, dtype="float32") * 0.9)[:, None, None]
    picture = picture * ribs + dice.normal(0, 0.02, (HEIGHT, WIDTH, 1)).astype("float32")
    return Image.fromarray((np.clip(picture, 0, 1) * 255).astype("uint8"))


def lanczos(have, want):
    """The weights of a Lanczos filter of three lobes, a row for each pixel wanted."""
    scale = have / want
    rows = np.zeros((want, have))
    for row in range(want):
        middle = (row + 0.5) * scale
        at = np.arange(max(0, int(middle - 3 * scale) - 1), min(have, int(middle + 3 * scale) + 2))
        far = (at + 0.5 - middle) / scale
        weights = np.where(abs(far) < 3, np.sinc(far) * np.sinc(far / 3), 0)
        rows[row, at] = weights / weights.sum()
    return csr_matrix(rows)


def unhurried(photo, width, height):
    """Shrunk in linear light in double precision."""
    linear = light(np.asarray(photo, dtype=float) / 255)
    down, across = lanczos(linear.shape[0], height), lanczos(linear.shape[1], width)
    planes = [(across @ (down @ linear[..., channel]).T).T for channel in range(3)]
    return Image.fromarray(np.rint(value(np.stack(planes, -1)) * 255).astype("uint8"))


@pytest.fixture(scope="module")
def finished_cloth(tmp_path_factory):
    home = tmp_path_factory.mktemp("fineness")
    photos = home / "pieces" / "cloth" / "photos"
    photos.mkdir(parents=True)
    cloth().save(photos / "front.jpg", quality=94)
    (home / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    piece = {
        "title": "Cloth",
        "made": "2026",
        "warp": {"fibre": {"cotton": 100}},
        "weft": [{"name": "grey", "fibre": {"wool": 100}}],
        "measured": {"height": "80 cm", "width": "120 cm"},
        "photos": [{"file": "front.jpg", "view": "front", "alt": "Fields of colour."}],
    }
    (photos.parent / "piece.yaml").write_text(yaml.safe_dump(piece))
    run(PROGRAM, "finish", home)
    return home


@pytest.mark.parametrize("size, edge, quality", [("screen", 1600, 82), ("thumb", 400, 80)])
def test_a_plate_is_as_near_to_its_photograph_as_others_make_it(finished_cloth, tmp_path, size, edge, quality):
    # Source, reference library: ssimulacra2 as the judge, double precision in numpy and scipy as the measure,
    # vipsthumbnail (libvips) at the same quality as the one to come up to.
    photo = finished_cloth / "pieces" / "cloth" / "photos" / "front.jpg"
    wanted = unhurried(Image.open(photo), edge, round(edge * HEIGHT / WIDTH))
    wanted.save(tmp_path / "wanted.png")

    def score(jpeg):
        with Image.open(jpeg) as made:
            assert made.size == wanted.size
            made.convert("RGB").save(tmp_path / "made.png")
        return compute_ssimulacra2(str(tmp_path / "wanted.png"), str(tmp_path / "made.png"))

    ours = score(finished_cloth / "finished" / "cloth" / "plates" / f"front-{size}.jpg")
    theirs = []
    for more in ([], ["--linear"]):
        out = tmp_path / "theirs.jpg"
        subprocess.run(
            ["vipsthumbnail", photo, "--size", f"{edge}x{edge}>", "--export-profile", "srgb", *more]
            + ["-o", f"{out}[Q={quality},subsample-mode=off]"],
            check=True,
        )
        theirs.append(score(out))
    print(f"{size}: ours {ours:.1f}, vipsthumbnail {theirs[0]:.1f}, in linear light {theirs[1]:.1f}")
    assert ours >= max(theirs) and ours > 80
