"""What the three files of checks by hand share: the record read again, doubts, corners, yarns, masses.

Only piece.yaml, notes.md and studio.yaml are read here; formulas and tables are written out again from the
sources named beside each check. A check asks for every number that the program gives under its heading, with
its doubt, so that no figure of these pieces stands that nobody has redone.
"""

import json
import math
import re
import shutil
from fractions import Fraction

import numpy as np
import pytest
import yaml
from conftest import PROGRAM, ROOT, run

SLUGS = ["tide-tables", "thirteen-moons", "slack-water-1"]
RULES = ["EU", "US", "CA", "UK"]  # the studio has the first; the label is asked of all
EXACT = 0.0
# In millimetres, grams and degrees: how the readings are kept here.
SIZES = {"mm": 1, "cm": 10, "m": 1000, "g": 1, "kg": 1000, "h": 1, "lx": 1, "%": 1}
HEADINGS = (
    "size.",
    "web.",
    "yarn.",
    "mass.",
    "fibre.",
    "hanging.",
    "light.",
    "roll.",
    "parcel.",
    "passage.",
    "time.",
    "money.",
)
UNMEASURED = ("care.", "pests.", "climate.", "time.usual-rate")  # advice, not arithmetic on the record


def reading(text):
    """A written quantity and its standard uncertainty: half its last place, evenly likely."""
    number, unit = re.fullmatch(r"([\d.]+) ?(\S+)", str(text).removesuffix(" left")).groups()
    places = len(number.partition(".")[2])
    return float(number) * SIZES[unit], 0.5 * 10.0**-places / math.sqrt(3) * SIZES[unit]


def readings(texts):
    return [reading(t) for t in (texts if isinstance(texts, list) else [texts])]


def spread(reckon, known):
    """Each result of `reckon` with its doubt: every known value moved a little by itself, squares added."""
    values = {name: value for name, (value, _) in known.items()}
    found = reckon(values)
    squares = dict.fromkeys(found, 0.0)
    for name, (value, u) in known.items():
        if u:
            step = u / 100
            more, less = reckon(values | {name: value + step}), reckon(values | {name: value - step})
            for result in found:
                squares[result] += ((more[result] - less[result]) / (2 * step) * u) ** 2
    return {name: (found[name], math.sqrt(squares[name])) for name in found}


class Piece:
    """What stands in the archive about one piece, and what the program says of it."""

    def __init__(self, slug, said):
        folder = ROOT / "sample-archive" / "pieces" / slug
        self.record = yaml.safe_load((folder / "piece.yaml").read_text(encoding="utf-8"))
        self.notes = (folder / "notes.md").read_text(encoding="utf-8")
        self.studio = yaml.safe_load((ROOT / "sample-archive" / "studio.yaml").read_text(encoding="utf-8"))
        self.said = said
        self.sideways = self.record["top"] in ("left", "right")

    def numbers(self, *headings):
        """Names of all figures under the headings that hold a number."""
        under = [n for n in self.said if n.startswith(headings) and not n.startswith(UNMEASURED)]
        return {n for n in under if {"value", "least"} & self.said[n].keys()}

    def words(self, name):
        return self.said[name]["words"]

    def agrees(self, hand, *headings):
        """Every number under the headings is in `hand`, as (value, doubt) or (least, most), and is the same."""
        wrong = [f"{n}: not redone" for n in sorted(self.numbers(*headings) - hand.keys())]
        wrong += [f"{n}: not said" for n in sorted(hand.keys() - self.said.keys())]
        for name, mine in hand.items():
            entry = self.said.get(name, {})
            if "least" in entry:
                if (entry["least"], entry["most"]) != pytest.approx(mine, rel=1e-6):
                    wrong.append(f"{name}: {entry['least']} to {entry['most']}, by hand {mine}")
            elif "value" in entry:
                value, u = mine if isinstance(mine, tuple) else (mine, None)
                # A number with a doubt is given to the fourth figure of the doubt, any other to nine figures.
                near = max(1e-6 * abs(value), 5.1e-4 * (entry.get("u") or 0), 1e-12)
                if abs(entry["value"] - value) > near:
                    wrong.append(f"{name}: {entry['value']}, by hand {value}")
                if u is not None and (entry.get("u") or 0) != pytest.approx(u, rel=1e-3, abs=1e-12):
                    wrong.append(f"{name}: doubt {entry.get('u')}, by hand {u}")
        assert not wrong, "\n".join(wrong)


@pytest.fixture(scope="session")
def all_said(tmp_path_factory):
    home = tmp_path_factory.mktemp("by-hand") / "studio"
    shutil.copytree(ROOT / "sample-archive", home, ignore=shutil.ignore_patterns("finished"))
    studio = home / "studio.yaml"
    studio.write_text(studio.read_text().replace("rules: [EU]", f"rules: [{', '.join(RULES)}]"))
    answer = json.loads(run(PROGRAM, "finish", home, "--explain", "all", "--json"))
    return {p["piece"]: {f["name"]: f for f in p["figures"]} for p in answer["pieces"]}


@pytest.fixture(params=SLUGS)
def piece(request, all_said):
    return Piece(request.param, all_said[request.param])


def spans(x, heights, widths):
    """Distances a tape would find on the corners (0, 0), (x0, 0), (x1, x2), (x3, x4): heights, widths, diagonals."""
    top_left, top_right, foot_right, foot_left = np.array([[0, 0], [x[0], 0], [x[1], x[2]], [x[3], x[4]]])
    along = [i / (heights - 1) for i in range(heights)]
    down = [i / (widths - 1) for i in range(widths)]
    found = [np.hypot(*(top_left - foot_left + s * (top_right - top_left - foot_right + foot_left))) for s in along]
    found += [np.hypot(*(top_right - top_left + s * (foot_right - foot_left - top_right + top_left))) for s in down]
    return np.array(found + [np.hypot(*(foot_right - top_left)), np.hypot(*(foot_left - top_right))])


def slopes(f, x, step=1e-3):
    return np.array([(f(x + d) - f(x - d)) / (2 * step) for d in step * np.eye(len(x))]).T


def fitted(piece):
    """Corners that fit all readings best, as Gauss and Newton have it; area, lean, angle, scatter."""
    m = piece.record["measured"]
    h, w, d = readings(m["height"]), readings(m["width"]), readings(m["diagonals"])
    values, us = (np.array(column) for column in zip(*(h + w + d)))
    height, width = np.mean([v for v, _ in h]), np.mean([v for v, _ in w])
    model = lambda x: spans(x, len(h), len(w))
    x = np.array([width, width, height, 0.0, height])
    for _ in range(30):
        slope = slopes(model, x) / us[:, None]
        x = x + np.linalg.lstsq(slope, (values - model(x)) / us, rcond=None)[0]
    off = values - model(x)
    scatter = math.sqrt(np.sum((off / us) ** 2) / (len(values) - 5))

    def area(x):
        # Bretschneider's rule: four sides and both diagonals.
        s = spans(x, 2, 2)
        left, right, top, foot, p, q = s
        return 0.25 * math.sqrt(4 * p**2 * q**2 - (left**2 + right**2 - top**2 - foot**2) ** 2)

    def lean(x):
        p, q = spans(x, 2, 2)[4:]
        return (p**2 - q**2) / (4 * width)

    covariance = np.linalg.inv(slope.T @ slope) * max(1, scatter) ** 2
    doubt = lambda f: math.sqrt((g := slopes(f, x)) @ covariance @ g)
    corners = np.array([[0, 0], [x[0], 0], [x[1], x[2]], [x[3], x[4]]])
    angles = []
    for i in range(4):
        a, b = corners[i - 1] - corners[i], corners[(i + 1) % 4] - corners[i]
        angles.append(math.degrees(math.acos(a @ b / np.hypot(*a) / np.hypot(*b))) - 90)
    fields = ["height"] * len(h) + ["width"] * len(w) + ["diagonals"] * len(d)
    places = [*range(len(h)), *range(len(w)), *range(len(d))]
    worst = int(np.argmax(np.abs(off / us)))
    return {
        "area": (area(x) / 1e6, doubt(area) / 1e6),
        "lean": (lean(x), doubt(lean)),
        "angles": angles,
        "scatter": scatter,
        "worst": (f"measured.{fields[worst]}[{places[worst]}]", off[worst], abs(off[worst] / us[worst])),
    }


def mean(read):
    """Mean of several readings; their scatter and their last places both make its doubt."""
    values, us = zip(*read)
    n = len(values)
    scatter = np.std(values, ddof=1) / math.sqrt(n) if n > 1 else 0.0
    return float(np.mean(values)), math.hypot(scatter, us[0] / math.sqrt(n))


def greatest(texts):
    return max(readings(texts))


POUND, YARD = Fraction("0.45359237"), Fraction("0.9144")
HANK = {"Ne": 840, "NeW": 560, "NeL": 300}


def tex_of(count):
    """Grams in a kilometre of the yarn as used, exactly."""
    if m := re.fullmatch(r"(Ne[WL]?) (\d+)/(\d+)", count):
        return Fraction(m[3]) / Fraction(m[2]) * POUND / (HANK[m[1]] * YARD) * 1_000_000
    if m := re.fullmatch(r"Nm (\d+)/(\d+)", count):
        return 1000 * Fraction(m[2]) / Fraction(m[1])
    if m := re.fullmatch(r"den (\d+)", count):
        return Fraction(m[1]) / 9
    if m := re.fullmatch(r"(\d+) yd/lb", count):
        return POUND / (int(m[1]) * YARD) * 1_000_000
    return Fraction(re.fullmatch(r"(\d+) tex", count)[1])


def knowns(piece):
    """Everything weighed and measured, by name, with its doubt; factors of one for the doubts of house rules."""
    r = piece.record
    loom, m = r["loom"], r["measured"]
    known = {
        name: reading(loom[field])
        for name, field in (("loom-width", "width"), ("woven", "woven"), ("strung", "warp_length"))
    }
    known |= {f"hem-{end}": reading(text) for end, text in loom["hems"].items()}
    known["across"] = mean(readings(m["height" if piece.sideways else "width"]))
    known["along"] = mean(readings(m["width" if piece.sideways else "height"]))
    # A counted web is exact; one reckoned from the sett may be out by half an end besides.
    known["odd-end"] = (0.0, EXACT if "ends" in loom else 0.5 / math.sqrt(3))
    known["count"] = (1.0, 0.03)
    known["trimmed"] = (1.0, 0.02)
    for i, yarn in enumerate(r["weft"], 1):
        if "used" in yarn:
            known[f"weft-{i}"] = reading(yarn["used"])
        else:
            known[f"weft-{i}-before"], known[f"weft-{i}-after"] = (
                reading(yarn["weighed"][k]) for k in ("before", "after")
            )
    known |= {f"part.{name}": reading(part["used"]) for name, part in r.get("parts", {}).items()}
    known["mass"] = reading(m["mass"])
    known["area"] = fitted(piece)["area"]
    return known


def wefts(v, count):
    """Weft yarns in the piece: what was used, less what was trimmed, of all in one share."""
    return [
        v["trimmed"] * (v[f"weft-{i}"] if f"weft-{i}" in v else v[f"weft-{i}-before"] - v[f"weft-{i}-after"])
        for i in range(1, count + 1)
    ]
