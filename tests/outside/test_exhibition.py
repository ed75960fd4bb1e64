"""A show's papers and its plan, judged by other people's tools.

The plan of the walls is compared with scipy's mixed-integer solver (HiGHS); drawings and type are measured on rendered
pages; the list is read with Python's csv; the papers are read as an installer or a visitor would, from their text.
"""

import csv
import io
import json
import random
import re
import subprocess
import sys

import numpy as np
import pikepdf
import pytest
import yaml
from PIL import Image
from scipy.optimize import Bounds, LinearConstraint, milp

from conftest import PROGRAM, run

SHOWS = ["between-tides", "low-water"]
PAPERS = [
    "catalogue", "hang-plan", "light-budget", "loan-papers", "object-list", "packing-list", "wall-labels",
]
PUBLIC = ["catalogue", "object-list", "wall-labels", "hang-plan"]


@pytest.fixture(scope="module")
def shows(archive):
    made = {}
    for show in SHOWS:
        run(PROGRAM, "exhibit", archive, show)
        made[show] = archive / "finished/exhibitions" / show
    return made


@pytest.fixture(scope="module")
def papers(shows):
    found = sorted(p for folder in shows.values() for p in folder.glob("*.pdf"))
    assert len(found) == 2 * len(PAPERS) + 1, "and one list of prices"
    return found


def text(pdf, *more):
    return run("pdftotext", *more, pdf, "-")


def test_every_paper_of_a_show_is_whole_tagged_and_archival(papers):
    for paper in papers:
        # Source, reference library: qpdf --check; pikepdf for the claims of ISO 19005-3 and ISO 14289-1 (from memory).
        run("qpdf", "--check", paper)
        with pikepdf.open(paper) as pdf, pdf.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"], meta["pdfuaid:part"]) == ("3", "A", "1"), paper
            assert pdf.Root.MarkInfo.Marked and str(pdf.Root.Lang), paper
    pytest.importorskip("pdfua")
    # Source, reference library: pdfua; exit code 0 is no finding.
    run(sys.executable, "-m", "pdfua", "check", *papers)


def test_the_catalogue_has_bookmarks_and_its_contents_tell_the_right_pages(shows):
    for show, folder in shows.items():
        made = json.loads((folder / "exhibition.json").read_text())
        with pikepdf.open(folder / "catalogue.pdf") as pdf:
            with pdf.open_outline() as outline:
                marks = []

                def walk(items):
                    for item in items:
                        marks.append(item.title)
                        walk(item.children)

                walk(outline.root)
            count = len(pdf.pages)
        pages = [text(folder / "catalogue.pdf", "-layout", "-f", n, "-l", n) for n in range(1, count + 1)]
        contents = next(p for p in pages if re.search(r"contents", p, re.I))
        for piece in made["pieces"]:
            assert piece["title"] in marks, (show, marks)
            line = next(row for row in contents.splitlines() if piece["title"] in row)
            number = int(line.split()[-1])
            assert piece["title"] in pages[number - 1], (show, piece["title"], number)


def test_the_list_opens_in_a_spreadsheet(shows, archive):
    for show, folder in shows.items():
        raw = (folder / "object-list.csv").read_bytes()
        # Source, published: RFC 4180, sections 2.1 to 2.3: lines end with CRLF, a head line is allowed.
        assert raw.count(b"\r\n") == raw.count(b"\n") and raw.endswith(b"\r\n")
        rows = list(csv.DictReader(io.StringIO(raw.decode("utf-8"), newline="")))
        made = json.loads((folder / "exhibition.json").read_text())
        assert [r["piece"] for r in rows] == [p["piece"] for p in made["pieces"]]
        for row, piece in zip(rows, made["pieces"]):
            said = yaml.safe_load((archive / "pieces" / piece["piece"] / "piece.yaml").read_text())
            assert row["title"] == said["title"] and row["made"] == str(said["made"])
            # Source, published: ISO 8601-1 and 8601-2 (EDTF), level 0 and 1: years first, hyphens, no other marks.
            assert re.fullmatch(r"[0-9X~?%/.-]+", row["made"]), row["made"]
            assert float(row["height_mm"]) == piece["height_mm"] and float(row["width_mm"]) == piece["width_mm"]


def test_an_installer_finds_each_piece_from_the_plan_alone(shows):
    """Left edge, top edge and both fixings of every piece, read from the page as words."""
    for folder in shows.values():
        said = text(folder / "hang-plan.pdf", "-layout")
        made = json.loads((folder / "exhibition.json").read_text())
        hung = [p for p in made["pieces"] if p["hangs"]]
        assert len(hung) >= 3
        for piece in hung:
            row = next(r for r in said.splitlines() if re.search(rf"^\s*{piece['number']}\s+{re.escape(piece['title'])}\s", r))
            figures = [float(x) * 10 for x in re.findall(r"\d+(?:\.\d+)?", row.split(piece["title"], 1)[1])]
            at = piece["hangs"]
            wanted = [at["left_mm"], at["top_mm"], *at["fixings_across_mm"], at["fixings_above_mm"]]
            # Centimetres are printed to the millimetre.
            assert np.allclose(figures[: len(wanted)], wanted, atol=0.51), (row, wanted)
            # Source, exact case: the fixings lie behind the piece, as far from its middle on either side.
            across = at["fixings_across_mm"]
            middle = at["left_mm"] + piece["width_mm"] / 2
            assert all(at["left_mm"] <= x <= at["left_mm"] + piece["width_mm"] for x in across)
            assert abs(sum(across) / len(across) - middle) < 60
            assert at["bottom_mm"] < at["fixings_above_mm"] < at["top_mm"]


DPI = 300


def rendered(pdf, page, folder):
    stem = folder / f"{pdf.parent.name}-{pdf.stem}-{page}"
    run("pdftoppm", "-r", DPI, "-gray", "-png", "-f", page, "-l", page, "-singlefile", pdf, stem)
    return np.asarray(Image.open(f"{stem}.png").convert("L"))


def longest_run(dark):
    """The longest unbroken dark stretch in any row."""
    best = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
        if len(edges):
            best = max(best, int((edges[1::2] - edges[::2]).max()))
    return best


def test_walls_are_drawn_to_their_scale(shows, archive, tmp_path):
    checked = 0
    for show, folder in shows.items():
        walls = {w["name"]: w for w in yaml.safe_load((archive / "exhibitions" / f"{show}.yaml").read_text())["walls"]}
        with pikepdf.open(folder / "hang-plan.pdf") as pdf:
            pages = len(pdf.pages)
        for page in range(2, pages + 1):
            said = text(folder / "hang-plan.pdf", "-layout", "-f", page, "-l", page)
            scale = re.search(r"1\s*:\s*(\d+)", said)
            wall = next((w for n, w in walls.items() if re.search(rf"wall: {n}\b", said, re.I)), None)
            if not scale or not wall:
                continue
            dots = rendered(folder / "hang-plan.pdf", page, tmp_path)[: int(DPI * 6.2)]
            wide = float(wall["width"].split()[0]) * 1000 / int(scale.group(1))
            high = float(wall["height"].split()[0]) * 1000 / int(scale.group(1))
            measured = longest_run(dots < 140) * 25.4 / DPI
            upright = longest_run((dots < 140).T) * 25.4 / DPI
            # What lies on the floor and what stands in the corners, within 0.4 mm on paper.
            assert abs(measured - wide) < 0.4, (show, page, measured, wide)
            assert abs(upright - high) < 0.4, (show, page, upright, high)
            checked += 1
    assert checked == 5


def test_wall_labels_are_set_large_enough(shows, tmp_path):
    """The size is measured as the distance of two lines and as the height of small letters."""
    pdf = shows["low-water"] / "wall-labels.pdf"
    words = run("pdftotext", "-bbox", "-f", 1, "-l", 1, pdf, "-")
    found = {m[4]: tuple(map(float, m[:4])) for m in re.findall(
        r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]+)<', words)}
    rows = sorted({round(found[w][1], 1) for w in ("first", "nothing", "mud.") if w in found})
    pitch = rows[1] - rows[0]
    # Source, published: guidelines of a Canadian museum, object labels of 24 points; the Smithsonian Guidelines for
    # Accessible Exhibition Design have the same for reading from nearby (from memory). Lines stand 1.3 sizes apart.
    assert abs(pitch - 24 * 1.3) < 0.3, pitch
    x0, y0, x1, y1 = (v / 72 * DPI for v in found["moves"])
    dots = rendered(pdf, 1, tmp_path)[int(y0) : int(y1) + 1, int(x0) : int(x1) + 1]
    ink = np.flatnonzero((dots < 128).any(axis=1))
    tall = (ink[-1] - ink[0] + 1) * 25.4 / DPI
    # Small letters of the face are 0.43 of its size (measured in the face itself): 3.6 mm.
    assert 3.4 < tall < 4.0, tall


def test_wall_labels_are_black_on_white_and_their_lines_are_short(shows):
    for folder in shows.values():
        for line in text(folder / "wall-labels.pdf", "-layout").splitlines():
            # Source, published: Smithsonian Guidelines, labels: at most 55 characters a line.
            assert len(re.sub(r"\s{3,}.*", "", line.strip())) <= 55, line


def private_values(archive, show):
    plan = yaml.safe_load((archive / "exhibitions" / f"{show}.yaml").read_text())
    lenders = {loan["lender"] for loan in plan["loans"]}
    sums = {loan["insured"].split()[0] for loan in plan["loans"]} | {
        p["price"].split()[0] for p in plan["pieces"] if isinstance(p, dict) and "price" in p
    }
    owners = set()
    for entry in plan["pieces"]:
        said = yaml.safe_load((archive / "pieces" / entry["piece"] / "piece.yaml").read_text())
        for owner in said.get("owners", []):
            owners |= {owner[k] for k in ("name", "address") if k in owner}
            lenders.discard(owner.get("public"))
        for maker in (said.get("makers") or {}).get("roll", []):
            if maker.get("consent") is not True and maker.get("consent") != "yes":
                owners.add(maker["name"])
    return lenders - {"The studio"}, sums, owners


def test_no_public_paper_of_a_show_holds_lenders_sums_or_private_names(shows, archive):
    for show, folder in shows.items():
        lenders, sums, owners = private_values(archive, show)
        assert sums and owners
        for paper in PUBLIC:
            said = re.sub(r"\s+", " ", text(folder / f"{paper}.pdf"))
            for value in lenders | owners:
                assert value not in said, (show, paper, value)
            for value in sums:
                assert not re.search(rf"\b{value}\b", said.replace("\u202f", "")), (show, paper, value)
        said = (folder / "object-list.csv").read_text() + (folder / "hang-plan.svg").read_text()
        for value in lenders | owners:
            assert value not in said, (show, value)
        assert (folder / "price-list.pdf").exists() == (show == "low-water")


# The plan against another solver.

CLASSES = {2: 15_000, 5: 150_000, 8: 600_000}
BRIGHTEST = {2: 50, 5: 50, 8: 200}


def thrown(seed):
    """A show of 12 to 18 pieces on 4 to 6 walls, tight enough to be hard."""
    dice = random.Random(seed)
    pieces = [
        {"width": dice.randrange(400, 1900, 50), "height": dice.randrange(400, 1800, 50), "grade": dice.choice([2, 5, 8])}
        for _ in range(dice.randrange(12, 19))
    ]
    count = dice.randrange(4, 7)
    gap = dice.choice([200, 300, 450])
    total = sum(p["width"] + gap for p in pieces)
    share = dice.uniform(0.92, 1.25) * total / count
    walls = []
    for i in range(count):
        width = max(2000, round(share * dice.uniform(0.8, 1.2), -2))
        wall = {"name": f"w{i}", "width": width, "lux": dice.choice([40, 45, 60, 120]), "clear": None}
        if dice.random() < 0.3:
            start = dice.randrange(0, int(width) - 800, 100)
            wall["clear"] = (start, start + 700)
        if dice.random() < 0.3:
            wall["height"] = dice.choice([2100, 2300])
        walls.append(wall)
    for p in pieces:
        if dice.random() < 0.15:
            p["wall"] = dice.randrange(count)
    return pieces, walls, gap


def laid_out(pieces, walls, gap, home):
    (home / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    for i, p in enumerate(pieces):
        folder = home / "pieces" / f"p{i:02}"
        folder.mkdir(parents=True)
        (folder / "piece.yaml").write_text(
            f"title: P{i}\nmade: 2026\nwarp: {{fibre: {{cotton: 100}}}}\n"
            f"weft: [{{fibre: {{wool: 100}}, light: {p['grade']}}}]\n"
            f"measured: {{height: {p['height']} mm, width: {p['width']} mm}}\n"
        )
    plan = {
        "title": "Thrown", "open": "2027-01-04/2027-01-31", "hours": {"days_a_week": 6, "hours_a_day": 7},
        "gap": f"{gap} mm",
        "walls": [
            {"name": w["name"], "width": f"{w['width']:.0f} mm", "light": f"{w['lux']} lx"}
            | ({"height": f"{w['height']} mm"} if "height" in w else {})
            | ({"keep_clear": [{"from": f"{w['clear'][0]} mm", "to": f"{w['clear'][1]} mm"}]} if w["clear"] else {})
            for w in walls
        ],
        "pieces": [
            {"piece": f"p{i:02}"} | ({"wall": walls[p["wall"]]["name"]} if "wall" in p else {})
            for i, p in enumerate(pieces)
        ],
    }
    (home / "exhibitions").mkdir()
    (home / "exhibitions/thrown.yaml").write_text(yaml.safe_dump(plan, sort_keys=False))


def solved(pieces, walls, gap):
    """The best score by scipy, one figure after the other."""
    stretches = []
    for w, wall in enumerate(walls):
        edge = 0
        for a, b in [wall["clear"]] if wall["clear"] else []:
            if a > edge:
                stretches.append((w, a - edge))
            edge = b
        if wall["width"] > edge:
            stretches.append((w, wall["width"] - edge))
    n, m = len(pieces), len(stretches)
    end = min(gap / 4, 100)
    dose = lambda lux: lux * 7 * 28 * 6 / 7
    may = np.zeros((n, m), bool)
    bright = np.zeros((n, m), bool)
    for i, p in enumerate(pieces):
        bottom = max(1500 - p["height"] / 2, 300)
        for s, (w, length) in enumerate(stretches):
            fits = p["width"] + 2 * end <= length and bottom + p["height"] <= walls[w].get("height", 1e9)
            may[i, s] = fits and p.get("wall", w) == w
            lux = walls[w]["lux"]
            bright[i, s] = lux > BRIGHTEST[p["grade"]] or dose(lux) > CLASSES[p["grade"]]
    # Variables: x[i, s], a break y[i] for each pair, the fill f.
    x = lambda i, s: i * m + s
    y = lambda i: n * m + i
    f = n * m + n - 1
    size = f + 1
    rows, low, high = [], [], []

    def add(terms, lo, hi):
        row = np.zeros(size)
        for k, v in terms:
            row[k] += v
        rows.append(row)
        low.append(lo)
        high.append(hi)

    for i in range(n):
        add([(x(i, s), 1) for s in range(m)], 0, 1)
    for s, (_, length) in enumerate(stretches):
        takes = [(x(i, s), pieces[i]["width"] + gap) for i in range(n)]
        add(takes, 0, length - 2 * end + gap)
        add([(k, v / (length - 2 * end + gap)) for k, v in takes] + [(f, -1)], -np.inf, 0)
    for i in range(n - 1):
        for s in range(1, m):
            # Piece i hangs in s or later, the next one before s.
            add([(x(i, t), 1) for t in range(s, m)] + [(x(i + 1, t), 1) for t in range(s)] + [(y(i), -1)], -np.inf, 1)
    upper = np.ones(size)
    for i in range(n):
        for s in range(m):
            upper[x(i, s)] = may[i, s]
    integral = np.ones(size)
    integral[f] = 0
    goals = [
        [(x(i, s), -1.0) for i in range(n) for s in range(m)],
        [(x(i, s), float(bright[i, s])) for i in range(n) for s in range(m)],
        [(y(i), 1.0) for i in range(n - 1)],
        [(f, 1.0)],
    ]
    score = []
    for goal in goals:
        cost = np.zeros(size)
        for k, v in goal:
            cost[k] += v
        # Source, reference library: scipy.optimize.milp (HiGHS).
        done = milp(cost, constraints=LinearConstraint(np.array(rows), low, high), bounds=Bounds(0, upper), integrality=integral,
                    options={"mip_rel_gap": 0, "time_limit": 60})
        assert done.status == 0, done.message
        score.append(done.fun)
        add(list(zip(range(size), cost)), -np.inf, done.fun + 1e-7)
    return n + round(score[0]), round(score[1]), round(score[2]), score[3]


@pytest.mark.parametrize("seed", range(20))
def test_the_plan_is_as_good_as_another_solver_s(seed, tmp_path):
    pieces, walls, gap = thrown(seed)
    laid_out(pieces, walls, gap, tmp_path)
    done = subprocess.run([PROGRAM, "exhibit", tmp_path, "thrown", "--json"], capture_output=True, text=True)
    plan = json.loads(done.stdout)["result"]["plan"]
    ours = plan["score"]
    wanted = solved(pieces, walls, gap)
    told = (ours["left_over"], ours["too_bright"], ours["out_of_order"])
    if plan["best"]:
        assert told == wanted[:3], (told, wanted)
        assert abs(ours["fullest_millionths"] / 1e6 - wanted[3]) < 2e-6, (ours, wanted)
    else:
        # What could not be proved is told, and is never better than the best.
        assert told + (ours["fullest_millionths"] / 1e6 + 2e-6,) >= wanted
        assert ours["left_over"] == wanted[0]
