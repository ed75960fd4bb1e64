"""The condition sheet's outline at its true size: corners, grid and names, measured in the rendered page.

The pieces are made here from corners that are known; their readings are the distances between those, as a
tape would give them. Nothing is taken from the program but the scale and the squares that the sheet prints.
"""

import math
import re

import numpy as np
import pytest
import yaml
from PIL import Image
from skimage.measure import label, regionprops

from conftest import PROGRAM, run

DPI = 400
MM = 25.4 / DPI
# Within this, in mm on paper.
TRUE = 0.3
# Top left, top right, lower right, lower left; mm, the top edge along x.
SHAPES = {
    "square-enough": [(0, 0), (1648, 0), (1644, 1206), (-3, 1203)],
    "out-of-square": [(0, 0), (1200, 0), (1150, 1010), (-40, 980)],
    "small": [(0, 0), (71.4, 0), (71.6, 89), (0.3, 88.8)],
    "tall": [(0, 0), (690, 0), (692, 1370), (-4, 1372)],
}


def between(a, b):
    return math.dist(a, b)


def point(a, b, share):
    return tuple(p + share * (q - p) for p, q in zip(a, b))


def piece(corners):
    a, b, c, d = corners
    said = lambda *lengths: [f"{length:.1f} mm" for length in lengths]
    return {
        "title": "Low Water",
        "made": "2026",
        "warp": {"count": "Ne 12/6", "fibre": {"cotton": 100}},
        "weft": [{"name": "sand", "fibre": {"wool": 100}, "used": "410 g"}],
        "measured": {
            # Left, middle, right; top, middle, foot.
            "height": said(between(a, d), between(point(a, b, 0.5), point(d, c, 0.5)), between(b, c)),
            "width": said(between(a, b), between(point(a, d, 0.5), point(b, c, 0.5)), between(d, c)),
            "diagonals": said(between(a, c), between(b, d)),
        },
    }


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    home = tmp_path_factory.mktemp("outlines")
    studio = {"studio": "Brackwater Tapestry", "weaver": "Ottilie Brackwater", "languages": ["en"]}
    (home / "studio.yaml").write_text(yaml.safe_dump(studio))
    for slug, corners in SHAPES.items():
        folder = home / "pieces" / slug
        folder.mkdir(parents=True)
        (folder / "piece.yaml").write_text(yaml.safe_dump(piece(corners), sort_keys=False))
    run(PROGRAM, "finish", home, "--only", "condition-sheet")
    return {slug: Face.both(home / "finished" / slug / "condition-sheet.pdf", home) for slug in SHAPES}


class Face:
    """One side with an outline: its corners and lines in mm on the page, and what it says of itself."""

    def __init__(self, paper, number, folder):
        name = folder / f"{paper.parent.name}-{number}"
        run("pdftoppm", "-r", DPI, "-gray", "-png", "-singlefile", "-f", number, "-l", number, paper, name)
        self.page = np.asarray(Image.open(f"{name}.png").convert("L")).astype(float)
        text = run("pdftotext", "-f", number, "-l", number, paper, "-")
        self.one_to = int(re.search(r"Drawn 1:(\d+)", text)[1])
        self.words = [
            ((float(x0) + float(x1)) / 2 * 25.4 / 72, (float(y0) + float(y1)) / 2 * 25.4 / 72, word)
            for x0, y0, x1, y1, word in re.findall(
                r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>',
                run("pdftotext", "-bbox", "-f", number, "-l", number, paper, "-"))
        ]
        self.corners = self.find()

    @staticmethod
    def both(paper, folder):
        pages = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", paper))[1])
        sides = [run("pdftotext", "-f", n, "-l", n, paper, "-") for n in range(1, pages + 1)]
        front, back = [n for n, text in enumerate(sides, 1) if "Drawn 1:" in text]
        faces = Face(paper, front, folder), Face(paper, back, folder)
        squares = re.search(r"Squares of ([\d.]+)\s×\s[\d.]+\s(cm|mm)", sides[front - 1])
        for face in faces:
            face.step = float(squares[1]) * 10
        return faces

    def find(self):
        """The outline is the largest thing drawn in black; a line is laid through each of its edges."""
        dark = self.page < 90
        largest = max(regionprops(label(dark, connectivity=2)), key=lambda r: r.area_bbox)
        y0, x0, y1, x1 = self.box = largest.bbox
        ink = (255 - self.page[y0:y1, x0:x1]) * largest.image
        h, w = ink.shape

        def edge(along, pick):
            """Middle of the stroke next to a side, at places along it; a straight line through them."""
            places = np.arange(int(0.15 * along), int(0.85 * along), 3)
            middles = []
            for i in places:
                row = pick(i)
                first = np.flatnonzero(row)[0]
                run_ = row[first:first + 12]
                run_ = run_[: np.argmin(run_ > 0)] if (run_ == 0).any() else run_
                middles.append(first + (run_ * np.arange(len(run_))).sum() / run_.sum())
            # Lines of the grid meet the edge here and there, which a median passes over.
            fit = np.polyfit(places, middles, 1)
            for _ in range(3):
                off = np.abs(np.polyval(fit, places) - middles)
                keep = off <= np.median(off) * 2 + 0.2
                fit = np.polyfit(places[keep], np.asarray(middles)[keep], 1)
            return fit

        left = edge(h, lambda i: ink[i])
        right = edge(h, lambda i: ink[i][::-1])
        top = edge(w, lambda j: ink[:, j])
        foot = edge(w, lambda j: ink[::-1, j])
        right = np.array([-right[0], w - 1 - right[1]])
        foot = np.array([-foot[0], h - 1 - foot[1]])

        def meet(side, level):
            # x = s y + t and y = u x + v.
            (s, t), (u, v) = side, level
            x = (s * v + t) / (1 - s * u)
            return (x0 + x + 0.5) * MM, (y0 + u * x + v + 0.5) * MM

        return [meet(left, top), meet(right, top), meet(right, foot), meet(left, foot)]

    def uprights(self):
        """Where the grid's upright lines stand, mm from the page's left edge, looked for on several levels."""
        (ax, ay), (bx, _), _, (_, dy) = self.corners
        found = []
        levels = [int((ay + (dy - ay) * share) / MM) for share in np.linspace(0.2, 0.8, 41)]
        counts = np.sum([self.page[y] < 215 for y in levels], axis=0)
        inside = np.arange(len(counts)) * MM
        hit = (counts >= 30) & (inside > ax + 1.2) & (inside < bx - 1.2)
        for start in np.flatnonzero(np.diff(np.r_[0, hit.astype(int), 0]) == 1):
            stop = start + np.argmin(hit[start:]) if not hit[start:].all() else len(hit)
            found.append((start + stop) / 2 * MM)
        return found

    def letters(self):
        """Columns by their letter above the outline: middle of each, mm."""
        top = min(y for _, y in self.corners)
        return {word: x for x, y, word in self.words if re.fullmatch("[A-Z]", word) and top - 6 < y < top}


@pytest.mark.parametrize("slug", SHAPES)
def test_the_outline_has_its_true_corners_to_scale(sheets, slug):
    # Source, exact case: the readings are the distances between known corners, so that those come out again,
    # divided by the scale that the sheet prints.
    front, _ = sheets[slug]
    (ox, oy) = front.corners[0]
    for (x, y), (rx, ry) in zip(front.corners, SHAPES[slug]):
        assert abs(x - ox - rx / front.one_to) < TRUE, (slug, x - ox, rx / front.one_to)
        assert abs(y - oy - ry / front.one_to) < TRUE, (slug, y - oy, ry / front.one_to)


@pytest.mark.parametrize("slug", SHAPES)
def test_the_back_is_the_front_seen_from_behind(sheets, slug):
    # Source, exact case: a turn about an upright axis changes the sign of x and leaves y.
    front, back = sheets[slug]
    assert front.one_to == back.one_to
    (fx, fy), (bx, by) = front.corners[0], back.corners[1]
    for i, j in ((0, 1), (1, 0), (2, 3), (3, 2)):
        (x, y), (u, v) = front.corners[i], back.corners[j]
        assert abs((x - fx) - (bx - u)) < TRUE, (slug, i)
        assert abs((y - fy) - (v - by)) < TRUE, (slug, i)


@pytest.mark.parametrize("slug", ["square-enough", "small", "tall"])
def test_the_grid_is_counted_from_the_top_left_in_squares_of_the_size_it_says(sheets, slug):
    front, back = sheets[slug]
    width = SHAPES[slug][1][0]
    for face, origin, way in ((front, front.corners[0][0], 1), (back, back.corners[1][0], -1)):
        lines = sorted(face.uprights(), key=lambda x: way * x)
        wanted = [k * face.step / face.one_to for k in range(1, int(width // face.step) + 1)]
        # What is left over at the far side is a column of its own only where there is room for one.
        assert len(wanted) - 1 <= len(lines) <= len(wanted), (slug, lines, wanted)
        for line, want in zip(lines, wanted):
            assert abs(way * (line - origin) - want) < TRUE, (slug, way, line - origin, want)


@pytest.mark.parametrize("slug", SHAPES)
def test_a_square_of_cloth_has_one_name_from_both_sides(sheets, slug):
    # Source, exact case: what stands k mm right of the front's top left corner stands k mm left of the
    # back's top right corner.
    front, back = sheets[slug]
    names, behind = front.letters(), back.letters()
    assert list(names) and set(names) == set(behind), (slug, names, behind)
    for name in names:
        k = names[name] - front.corners[0][0]
        assert abs(k - (back.corners[1][0] - behind[name])) < 2 * TRUE, (slug, name)
    # A is the first from the left in front, and the first from the right behind.
    assert min(names, key=names.get) == "A" and max(behind, key=behind.get) == "A"
