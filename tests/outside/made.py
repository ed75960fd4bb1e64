"""Archives of any size, made from nothing: for what has to hold for a thousand pieces as for eight."""

import hashlib
import io
import json

from PIL import Image, ImageDraw

STUDIO = """\
studio: Brackwater Tapestry
weaver: Ottilie Brackwater
place: Saltby Quay
languages: [en]
rules: [EU]
currency: GBP
hourly_rate: 28 GBP
"""

PIECE = """\
title: Work {i:05}, {word}
made: {year}-{month:02}
kind: {kind}
{series}top: finish
technique: {technique}
issued: {year}-{month:02}-28
statement: Woven in a week of {word}.
loom: {{sett: 3 ends/cm, ends: 360, width: 120 cm, woven: 84 cm, warp_length: 140 cm, hems: {{start: 2 cm, finish: 2 cm}}}}
warp: {{yarn: cotton seine twine, count: Ne 12/15, fibre: {{cotton: 100}}}}
weft:
  - {{name: green, count: NeW 8/2, fibre: {{wool: 100}}, used: 0.5 kg, light: 5}}
  - {{name: blue, count: NeW 8/2, fibre: {{wool: 100}}, used: 0.4 kg, light: 6}}
measured: {{on: {year}-{month:02}-20, height: 80.0 cm, width: 118.0 cm, mass: 1.13 kg}}
photos:
  - {{file: front.jpg, view: front, alt: "Bands of colour, number {i}"}}
"""

WORDS = ["heron", "mud", "frost", "salt", "reeds", "rain", "shingle"]
KINDS = ["commission", "speculative", "series", "study"]
TECHNIQUES = ["slit tapestry", "interlocked tapestry", "slit tapestry, woven sideways"]


def photograph(i):
    """A small JPEG of bands, another for each piece."""
    seed = hashlib.sha256(str(i).encode()).digest()
    image = Image.new("RGB", (590, 400), "#ddd8cc")
    draw = ImageDraw.Draw(image)
    for k in range(8):
        colour = tuple(seed[3 * k : 3 * k + 3])
        draw.rectangle([20, 20 + 45 * k, 570, 65 + 45 * k], fill=colour)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def archive(home, n, photos=True):
    """An archive of n pieces, not finished."""
    (home / "pieces").mkdir(parents=True)
    (home / "studio.yaml").write_text(STUDIO)
    for i in range(n):
        folder = home / "pieces" / f"work-{i:05}"
        (folder / "photos").mkdir(parents=True)
        kind = KINDS[i % 4]
        series = f"series: {{name: Tides {i // 40}, number: {i % 40 // 4 + 1}}}\n" if kind == "series" else ""
        text = PIECE.format(
            i=i, word=WORDS[i % 7], year=1985 + i % 41, month=1 + i % 12, kind=kind, series=series,
            technique=TECHNIQUES[i % 3],
        )
        (folder / "piece.yaml").write_text(text)
        days = [f"## {1985 + i % 41}-{1 + i % 12:02}-{d + 3:02} · 7 h · {12 * (d + 1)} cm\nWove.\n" for d in range(7)]
        (folder / "notes.md").write_text("# Notes\n\n" + "\n".join(days))
        (folder / "photos/front.jpg").write_bytes(photograph(i) if photos else b"")
    return home


def plates(home, program, n):
    """What `finish` leaves for the portfolio of each piece, from one piece that was really finished.

    A thousand pieces take minutes to finish, most of it for papers that the portfolio does not look at.
    """
    import shutil
    import subprocess

    first = home / "pieces/work-00000"
    subprocess.run([program, "finish", home, "--piece", "work-00000", "--quiet"], check=True)
    out = home / "finished"
    stamp = json.loads((out / "work-00000/.stamp.json").read_text())
    for i in range(1, n):
        slug = f"work-{i:05}"
        folder = out / slug
        (folder / "plates").mkdir(parents=True)
        for plate in (out / "work-00000/plates").iterdir():
            shutil.copyfile(plate, folder / "plates" / plate.name)
        (folder / ".stamp.json").write_text(json.dumps(stamp))
        shutil.copyfile(out / "work-00000/record.json", folder / "record.json")
    assert first.is_dir()


def many(home, n, program):
    """An archive of n pieces with plates."""
    archive(home / "studio", n)
    plates(home / "studio", program, n)
    return home / "studio"
