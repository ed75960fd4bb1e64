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
    ("tide-tables", "hanging-sheet"),
    ("thirteen-moons", "owner-sheet"),
    ("many-hands-shore", "packing-sheet"),
]
WIDTH, GAP, IN_A_ROW = 460, 20, 3

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
rows = -(-len(pages) // IN_A_ROW)
sheet = Image.new("RGB", (IN_A_ROW * (WIDTH + GAP) + GAP, rows * (height + GAP) + GAP), (214, 212, 208))
for i, page in enumerate(pages):
    row, column = divmod(i, IN_A_ROW)
    sheet.paste(page, (GAP + column * (WIDTH + GAP), GAP + row * (height + GAP)))
sheet.save(target, optimize=True)
