"""Rolls, tubes and openings against windings, searches and error propagation done by general libraries.

The fixture `reckon` gives every figure of a piece by name; nothing here knows how it was worked out.
"""

import math

import numpy as np
import pytest
from scipy import integrate, optimize
from uncertainties import ufloat, umath

PIECES = 60


def piece(rng, openings=0):
    """A random piece with a random tube, and what was written, in millimetres."""
    said = {
        "height": int(rng.integers(300, 3000)),
        "width": int(rng.integers(300, 3000)),
        "thickness": round(float(rng.uniform(1.0, 9.0)), 1),
        "tube": int(rng.integers(75, 300)),
        "interleaf": round(float(rng.uniform(0.1, 0.8)), 1),
        "loft": round(float(rng.uniform(1.0, 1.3)), 2),
        "ends": int(rng.integers(50, 150)),
        "sideways": bool(rng.integers(2)),
        "round": ["warp", "weft"][int(rng.integers(2))],
    }
    rooms = [{k: int(rng.integers(300, 3500)) for k in ("width", "height", "depth")} for _ in range(openings)]
    record = {
        "top": "left" if said["sideways"] else "finish",
        "measured": {k: f"{said[k]} mm" for k in ("height", "width", "thickness")},
        "packing": {
            "tube": f"{said['tube']} mm",
            "interleaf": f"{said['interleaf']} mm",
            "loft": said["loft"],
            "ends": f"{said['ends']} mm",
            "round": said["round"],
            "openings": [{"what": f"room {i}"} | {k: f"{v} mm" for k, v in room.items()} for i, room in enumerate(rooms)],
        },
    }
    height_rolled = (said["round"] == "warp") != said["sideways"]
    said["length"] = said["height"] if height_rolled else said["width"]
    said["along"] = said["width"] if height_rolled else said["height"]
    said["layer"] = (said["thickness"] + said["interleaf"]) * said["loft"]
    return record, said, rooms


@pytest.fixture()
def rolls(reckon):
    rng = np.random.default_rng(1807)
    made = [piece(rng, openings=2) for _ in range(PIECES)]
    figures = reckon(*[record for record, _, _ in made])
    return [(f, said, rooms) for f, (_, said, rooms) in zip(figures, made)]


def wind(core, length, layer, steps=7200):
    """Lays the cloth on the tube a small angle at a time; gives turns, greatest width and the ring's area."""
    radius = np.full(steps, core / 2.0)
    angle = 2.0 * math.pi / steps
    left, at = length, 0
    while left > 0.0:
        left -= (radius[at % steps] + layer / 2.0) * angle
        radius[at % steps] += layer
        at += 1
    width = (radius + np.roll(radius, steps // 2)).max()
    area = integrate.trapezoid(np.append(radius, radius[0]) ** 2 / 2.0, dx=angle) - math.pi * core**2 / 4.0
    return at / steps, width, area


def test_a_roll_wound_step_by_step_has_the_turns_and_the_width_reckoned(rolls):
    # Source, reference library: NumPy: cloth laid on a tube in 7200 steps a turn, each layer on the one before.
    for figures, said, _ in rolls:
        turns, width, _ = wind(said["tube"], said["length"], said["layer"])
        assert figures["roll.turns-by-turn"]["value"] == pytest.approx(turns, abs=2e-3)
        near_half = abs((turns % 0.5) - 0.25) > 0.245
        if not near_half:
            assert figures["roll.widest"]["value"] == pytest.approx(width, rel=1e-9)


def test_the_ring_is_the_cloths_edge(rolls):
    # Source, reference library: SciPy, integrate.trapezoid: area of the wound ring in polar form.
    for figures, said, _ in rolls:
        _, _, area = wind(said["tube"], said["length"], said["layer"])
        diameter = math.sqrt(said["tube"] ** 2 + 4.0 * area / math.pi)
        assert figures["roll.diameter"]["value"] == pytest.approx(diameter, rel=1e-3)


def test_a_spiral_has_nearly_the_same_turns(rolls):
    # Source, reference library: SciPy, quad and brentq: the arc of an Archimedean spiral through the layers' middles.
    for figures, said, _ in rolls:
        d, t = said["tube"], said["layer"]
        grow = t / (2.0 * math.pi)

        def arc(turns):
            # Half a layer further in than a spiral whose first turn rests on the tube all round.
            radius = lambda a: d / 2.0 + grow * a
            return integrate.quad(lambda a: math.hypot(radius(a), grow), 0.0, 2.0 * math.pi * turns)[0]

        turns = optimize.brentq(lambda n: arc(n) - said["length"], 0.0, 60.0)
        assert figures["roll.turns"]["value"] == pytest.approx(turns, rel=1e-3)


def test_the_doubt_of_a_roll_is_that_of_its_readings(rolls):
    # Source, reference library: uncertainties: the same formulas with each reading known to half its last place.
    half = 0.5 / math.sqrt(3.0)
    for figures, said, _ in rolls:
        cloth = ufloat(said["thickness"], half / 10.0)
        interleaf = ufloat(said["interleaf"], half / 10.0)
        core = ufloat(said["tube"], half)
        length = ufloat(said["length"], figures_u_of_length(figures, said))
        layer = (cloth + interleaf) * said["loft"]
        diameter = umath.sqrt(core**2 + 4 * length * layer / math.pi)
        for name, want in [
            ("roll.layer", layer),
            ("roll.diameter", diameter),
            ("roll.turns", (diameter - core) / (2 * layer)),
            ("roll.strain", 100 * cloth / (core + cloth)),
        ]:
            entry = figures[name]
            assert entry["value"] == pytest.approx(want.nominal_value, rel=1e-3), name
            assert entry["u"] == pytest.approx(want.std_dev, rel=2e-3), name


def figures_u_of_length(figures, said):
    """The doubt of the rolled length, as the ledger gives it for the tube that would lie along it."""
    return figures["roll.tube-length-other-way"]["u"]


def test_both_tube_lengths_leave_bare_ends(rolls):
    # Source, published: museum notes on flat textile storage: tube at least 4 in longer than the textile is wide.
    for figures, said, _ in rolls:
        assert figures["roll.tube-length"]["value"] == pytest.approx(said["along"] + 2 * said["ends"], abs=1e-6)
        assert figures["roll.tube-length-other-way"]["value"] == pytest.approx(said["length"] + 2 * said["ends"], abs=1e-6)
        assert figures["roll.tube-length"]["value"] - said["along"] >= 100.0 - 1e-6


def longest(sides, diameter, rng):
    """The longest cylinder in a box, by trying directions, then by a local search from the best."""
    sides = np.array(sides, float)
    if (sides < diameter).any():
        return 0.0

    def allowed(u):
        u = np.abs(u) / np.linalg.norm(u, axis=-1, keepdims=True)
        with np.errstate(divide="ignore", invalid="ignore"):
            each = (sides - diameter * np.sqrt(np.clip(1.0 - u**2, 0.0, None))) / u
        return np.where(u < 1e-12, np.inf, each).min(axis=-1)

    tries = np.vstack([np.eye(len(sides)) + 1e-13, np.abs(rng.normal(size=(20000, len(sides))))])
    values = allowed(tries)
    best = tries[values.argmax()]
    found = optimize.minimize(lambda u: -allowed(u), best, method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-9, "maxiter": 20000})
    return max(values.max(), -found.fun)


def test_no_direction_lets_a_longer_roll_into_a_room(rolls):
    # Source, reference library: SciPy, Nelder-Mead from the best of 20,000 random directions: the longest rigid
    # cylinder in a box of three sides.
    rng = np.random.default_rng(3)
    fits = 0
    for figures, said, rooms in rolls:
        diameter = figures["roll.widest"]["value"]
        for i, room in enumerate(rooms, 1):
            sides = [room["width"], room["depth"], room["height"]]
            want = longest(sides, diameter, rng)
            got = figures[f"passage.{i}.slanting"]["value"]
            assert got >= want * (1.0 - 1e-7)
            assert got == pytest.approx(want, rel=2e-3)
            # Source, reference library: the same search in the plane of the floor.
            level = longest(sides[:2], diameter, rng) if sides[2] >= diameter else 0.0
            assert figures[f"passage.{i}.level"]["value"] == pytest.approx(level, rel=2e-3)
            words = figures[f"passage.{i}.fits"]["words"]
            assert ("goes in" in words) == (got >= figures["roll.tube-length"]["value"]), words
            fits += "goes in" in words
    assert 0 < fits < 2 * PIECES


def test_published_rolls(reckon):
    def roll(length, core, cloth, interleaf):
        measured = {"height": length, "width": "900 mm", "thickness": cloth}
        return {"measured": measured, "packing": {"tube": core, "interleaf": interleaf, "loft": 1}}

    by_hand, page = reckon(
        roll("1884.96 mm", "100 mm", "3.8 mm", "0.2 mm"),
        roll("1500 in", "3 in", "0.25 in", "0.25 in"),
    )
    # Source, exact case: core 100, layer 4, length 1884.96: 5 turns, 140 across.
    assert by_hand["roll.diameter"]["value"] == pytest.approx(140.0, abs=1e-3)
    assert by_hand["roll.turns"]["value"] == pytest.approx(5.0, abs=1e-4)
    # Source, published: an online roll calculator's example: 3 in, 1500 in, 0.5 in: 31.05 in.
    assert page["roll.diameter"]["value"] / 25.4 == pytest.approx(31.05, abs=0.006)


def test_nothing_is_invented_where_the_thickness_is_not_measured(reckon):
    (figures,) = reckon({"packing": {"tube": "100 mm", "openings": [{"what": "door", "width": "80 cm", "height": "2 m"}]}})
    assert "roll.tube-length" in figures
    for name in ("roll.diameter", "roll.turns", "roll.strain", "parcel.length", "passage.1.fits"):
        assert name not in figures
