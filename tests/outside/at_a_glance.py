"""Makes the picture of the papers in the README from a finished sample archive.

    target/outside/bin/python tests/outside/at_a_glance.py FINISHED templates/papers-at-a-glance.png
"""

import pathlib
import subprocess
import sys
import tempfile

from PIL import Image

PAPERS = [
    ("tide-tables", "certificate"),
    ("thirteen-moons", "catalogue-page"),
    ("many-hands-shore", "care-label"),
]
WIDTH, GAP = 460, 20

finished, target = map(pathlib.Path, sys.argv[1:])
pages = []
with tempfile.TemporaryDirectory() as folder:
    for slug, paper in PAPERS:
        stem = pathlib.Path(folder) / f"{slug}-{paper}"
        source = finished / slug / f"{paper}.pdf"
        subprocess.run(["pdftoppm", "-r", "150", "-l", "1", "-png", "-singlefile", source, stem], check=True)
        page = Image.open(f"{stem}.png").convert("RGB")
        pages.append(page.resize((WIDTH, round(page.height * WIDTH / page.width)), Image.LANCZOS))
height = max(page.height for page in pages)
sheet = Image.new("RGB", (len(pages) * (WIDTH + GAP) + GAP, height + 2 * GAP), (214, 212, 208))
for i, page in enumerate(pages):
    sheet.paste(page, (GAP + i * (WIDTH + GAP), GAP))
sheet.save(target, optimize=True)
