"""Hanging: load, beam on brackets, best places, sections and cut lengths against reference libraries.

The beam is redone in three other ways: sympy's Beam (singularity functions, solved in rational numbers),
scipy (moment curve integrated twice by Simpson's rule, reactions from the condition of no sag at the
brackets), and by pocket calculator from the numbers the ledger itself prints.
"""

import math
import random
import re

import numpy as np
import pytest
from scipy.integrate import cumulative_simpson
from scipy.optimize import minimize

G = 9.80665
E = {"pine": 8900.0, "oak": 12150.0, "aluminium": 69000.0, "steel": 200000.0, "acrylic": 3200.0, "fir": 13400.0}
DENSITY = {"pine": 448.0, "oak": 755.0, "aluminium": 2700.0, "steel": 7850.0, "acrylic": 1190.0, "fir": 537.6}
STIFFNESS_U = {"pine": 0.22, "oak": 0.22, "fir": 0.22, "aluminium": 0.02, "steel": 0.02, "acrylic": 0.10}
DENSITY_U = {"pine": 0.10, "oak": 0.10, "fir": 0.10, "aluminium": 0.01, "steel": 0.01, "acrylic": 0.01}


def chance(seed):
    return random.Random(seed)


def section(random):
    """A section in words with its second moment, section modulus and area."""
    kind = random.choice(["flat", "round", "tube", "box"])
    if kind == "flat":
        b, h = random.randint(5, 40), random.randint(10, 100)
        return f"{b} x {h} mm", b * h**3 / 12, b * h**2 / 6, b * h
    if kind == "round":
        d = random.randint(8, 60)
        return f"round {d} mm", math.pi * d**4 / 64, math.pi * d**3 / 32, math.pi * d**2 / 4
    if kind == "tube":
        d, t = random.randint(10, 60), random.choice([1, 1.5, 2, 3])
        i = math.pi * (d**4 - (d - 2 * t) ** 4) / 64
        return f"tube {d} x {t} mm", i, 2 * i / d, math.pi * (d**2 - (d - 2 * t) ** 2) / 4
    b, h, t = random.randint(10, 40), random.randint(10, 80), random.choice([1, 2, 3])
    i = (b * h**3 - (b - 2 * t) * (h - 2 * t) ** 3) / 12
    return f"box {b} x {h} x {t} mm", i, 2 * i / h, b * h - (b - 2 * t) * (h - 2 * t)


def some_piece(random, brackets=None, shift=True):
    """A piece with a bar, and the numbers that its figures have to be reckoned from."""
    width = random.randint(400, 3000)
    length = random.choice([width - 50, width - 20, width, width + 100])
    mass = random.randint(300, 9000) / 1000
    material = random.choice(sorted(E))
    words, inertia, modulus, area = section(random)
    n = brackets or random.randint(2, 7)
    at = sorted(random.sample(range(0, length + 1), n))
    loaded = min(width, length)
    c = random.randint(-loaded // 2 + 20, loaded // 2 - 20) if shift else 0
    hanging = {
        "support": "bar",
        "bar": {"material": material, "section": words, "length": f"{length} mm"},
        "brackets": [f"{x} mm" for x in at],
    }
    if c:
        hanging["centre_of_mass"] = f"{abs(c)} mm {'right' if c > 0 else 'left'}"
    piece = {"measured": {"height": "1 m", "width": f"{width} mm", "mass": f"{mass} kg"}, "hanging": hanging}
    own = DENSITY[material] * area * length * 1e-9 * G
    facts = dict(
        width=width, length=length, mass=mass, material=material, inertia=inertia, modulus=modulus, area=area,
        at=at, c=c, loaded=loaded, own=own, weight=mass * G, ei=E[material] * inertia,
    )
    return piece, facts


def load_of(f):
    """Where the piece's load begins and ends, and its N/mm there: evenly changing, a triangle beyond a sixth."""
    middle, loaded, c, w = f["length"] / 2, f["loaded"], f["c"], f["weight"]
    if abs(c) <= loaded / 6:
        a = middle - loaded / 2
        return a, a + loaded, w / loaded * (1 - 6 * c / loaded), w / loaded * (1 + 6 * c / loaded)
    base = 3 * (loaded / 2 - abs(c))
    if c > 0:
        return middle + loaded / 2 - base, middle + loaded / 2, 0.0, 2 * w / base
    return middle - loaded / 2, middle - loaded / 2 + base, 2 * w / base, 0.0


def moments_of_load(f, x):
    """Shear and moment of the loads left of x, by the areas of rectangle and trapezium, exactly."""
    a, b, start, end = load_of(f)
    own = f["own"] / f["length"]
    t = np.clip(x, a, b) - a
    slope = (end - start) / (b - a)
    part = start * t + slope * t**2 / 2
    about = start * t**2 / 2 + slope * t**3 / 3
    return own * x**2 / 2 + part * (x - a) - about


def bent(f, at, points=20001):
    """The bar bent: reactions, sag and moment along it, by quadrature."""
    x = np.linspace(0, f["length"], points)
    step = x[1] - x[0]

    def twice(m):
        slope = cumulative_simpson(m, dx=step, initial=0)
        return cumulative_simpson(slope, dx=step, initial=0)

    # E I w'' = -M, M = sum of R <x - a> - moment of the loads; w = c0 + c1 x - double integral.
    loads = twice(moments_of_load(f, x))
    at = np.array(at, dtype=float)
    each = [np.clip(x - a, 0, None) ** 3 / 6 for a in at]
    n = len(at)
    # In shares of the length, so that the rows are of one size.
    size = f["length"]
    rows, right = [], []
    for a in at:
        rows.append([max(a - b, 0) ** 3 / 6 / size**3 for b in at] + [-1, -a / size])
        right.append(np.interp(a, x, loads) / size**3)
    rows.append([1] * n + [0, 0])
    right.append(f["weight"] + f["own"])
    rows.append(list(at / size) + [0, 0])
    right.append((f["weight"] * (size / 2 + f["c"]) + f["own"] * size / 2) / size)
    solution = np.linalg.solve(np.array(rows, dtype=float), np.array(right, dtype=float))
    reactions = solution[:n]
    bend = sum(r * e for r, e in zip(reactions, each))
    line = (solution[n] + solution[n + 1] * x / size) * size**3
    sag = (line - bend + loads) / f["ei"]
    # The moment has its corners over the brackets, which the grid may miss.
    places = np.concatenate([x, at])
    moment = sum(r * np.clip(places - a, 0, None) for r, a in zip(reactions, at)) - moments_of_load(f, places)
    return x, reactions, sag, moment


def figures(entries, f):
    return [entries[f"hanging.reaction-{k + 1}"]["value"] for k in range(len(f["at"]))]


def apart(at):
    return min(b - a for a, b in zip(at, at[1:]))


@pytest.fixture()
def many(reckon):
    r = chance(26)
    made = []
    while len(made) < 250:
        piece, f = some_piece(r)
        # Quadrature can not see brackets that stand a hair apart.
        if apart(f["at"]) > f["length"] / 40:
            made.append((piece, f))
    answers = reckon(*[piece for piece, _ in made])
    return [(entries, f) for entries, (_, f) in zip(answers, made)]


def test_weight_and_line_load_carry_their_doubt(many):
    from uncertainties import ufloat

    for entries, f in many:
        places = len(str(f["mass"]).split(".")[1])
        mass = ufloat(f["mass"], 0.5 * 10**-places / math.sqrt(3))
        width = ufloat(f["width"], 0.5 / math.sqrt(3))
        weight, line = mass * G, mass * G / (width / 1000)
        # Source, reference library: uncertainties (linear propagation): weight and line load with their standard uncertainty, 250 pieces.
        for name, want in [("hanging.weight", weight), ("hanging.line-load", line)]:
            assert entries[name]["value"] == pytest.approx(want.nominal_value, rel=1e-4)
            assert entries[name]["u"] == pytest.approx(want.std_dev, rel=1e-3)


def test_units_are_what_they_say(many):
    import pint

    unit = pint.UnitRegistry()
    for entries, f in many[:40]:
        # Source, reference library: pint: kilograms times its standard gravity in newtons, over the width in metres.
        weight = (f["mass"] * unit.kg * unit.standard_gravity).to("N")
        assert entries["hanging.weight"]["value"] == pytest.approx(weight.magnitude, rel=1e-4)
        line = (weight / (f["width"] * unit.mm)).to("N/m")
        assert entries["hanging.line-load"]["value"] == pytest.approx(line.magnitude, rel=1e-4)
        # Source, reference library: pint: density times volume times its standard gravity for the bar itself.
        own = (DENSITY[f["material"]] * unit("kg/m^3") * f["area"] * unit("mm^2") * f["length"] * unit.mm * unit.standard_gravity).to("N")
        assert entries["hanging.bar-weight"]["value"] == pytest.approx(own.magnitude, rel=1e-3)


def test_brackets_hold_what_quadrature_has_them_hold(many):
    for entries, f in many:
        _, reactions, _, _ = bent(f, f["at"])
        scale = max(abs(reactions))
        # Source, reference library: numpy.linalg and scipy.integrate: reactions of 250 bars on 2 to 7 brackets anywhere, uneven loads.
        for got, want in zip(figures(entries, f), reactions):
            assert got == pytest.approx(want, abs=2e-4 * scale), f


def test_bars_sag_as_quadrature_has_them_sag(many):
    for entries, f in many:
        x, _, sag, moment = bent(f, f["at"])
        most = sag[np.argmax(abs(sag))]
        # Source, reference library: scipy.integrate.cumulative_simpson: greatest sag either way, both ends, of the same 250 bars.
        assert entries["hanging.sag"]["value"] == pytest.approx(most, rel=2e-3), f
        assert entries["hanging.left-end"]["value"] == pytest.approx(sag[0], abs=1e-3 * abs(most)), f
        assert entries["hanging.right-end"]["value"] == pytest.approx(sag[-1], abs=1e-3 * abs(most)), f
        # Source, reference library: numpy: greatest moment either way on a grid of 20,001 places and over the brackets, and the stress it makes.
        widest = moment[np.argmax(abs(moment))]
        assert abs(entries["hanging.moment"]["value"]) == pytest.approx(abs(widest), rel=1e-3), f
        assert entries["hanging.stress"]["value"] == pytest.approx(abs(widest) / f["modulus"], rel=1e-2), f


def test_forces_and_moments_are_in_balance(many):
    for entries, f in many:
        all_of_it = f["weight"] + f["own"]
        got = figures(entries, f)
        scale = max(map(abs, got))
        # Source, exact case: statics: reactions add up to the weight, and their moments to its moment about the left end.
        assert sum(got) == pytest.approx(all_of_it, abs=1e-3 * scale)
        about = f["weight"] * (f["length"] / 2 + f["c"]) + f["own"] * f["length"] / 2
        assert sum(r * a for r, a in zip(got, f["at"])) == pytest.approx(about, abs=1e-3 * scale * f["length"])


def test_a_person_can_redo_sag_and_moment_from_what_is_printed(many):
    number = r"(-?[\d.]+)"
    for entries, f in many:
        worked = entries["hanging.sag"]["worked"]
        t, _, s, a, m, v, q, r, ei = map(float, re.match(
            rf"t = {number} from {number} mm; S {number}, A {number}, M {number}, V {number}, q {number}, r {number}; E I = {number}$", worked).groups())
        sag = (s + a * t - m * t**2 / 2 - v * t**3 / 6 + q * t**4 / 24 + r * t**5 / 120) / ei
        # Source, exact case: the polynomial of the bar between two loads, put in from the ledger's own words.
        assert sag == pytest.approx(entries["hanging.sag"]["value"], rel=2e-2), worked
        worked = entries["hanging.moment"]["worked"]
        t, _, m, v, q, r = map(float, re.match(
            rf"t = {number} from {number} mm: {number} \+ {number} t − {number} t²/2 − {number} t³/6$", worked).groups())
        # Source, exact case: moment by shear and load from the place named, likewise.
        assert m + v * t - q * t**2 / 2 - r * t**3 / 6 == pytest.approx(entries["hanging.moment"]["value"], rel=1e-3), worked


def test_sympys_beam_agrees_exactly(reckon):
    import sympy
    from sympy.physics.continuum_mechanics.beam import Beam

    r = chance(5)
    made = []
    while len(made) < 8:
        piece, f = some_piece(r, brackets=r.choice([2, 3, 4]))
        if apart(f["at"]) > 50:
            made.append((piece, f))
    for entries, (_, f) in zip(reckon(*[p for p, _ in made]), made):
        exact = sympy.Rational
        names = sympy.symbols(f"R0:{len(f['at'])}")
        x = sympy.Symbol("x")
        length = exact(f["length"])
        beam = Beam(length, 1, 1)
        own = exact(f["own"]).limit_denominator(10**9) / length
        a, b, start, end = [exact(v).limit_denominator(10**9) for v in load_of(f)]
        # Loads downwards are positive here, reactions upwards: both by superposition, so signs only have to agree.
        beam.apply_load(own, 0, 0, end=length)
        beam.apply_load(start, a, 0, end=b)
        beam.apply_load((end - start) / (b - a), a, 1, end=b)
        for name, at in zip(names, f["at"]):
            beam.apply_load(-name, at, -1)
            beam.bc_deflection.append((at, 0))
        beam.solve_for_reaction_loads(*names)
        got = figures(entries, f)
        scale = max(map(abs, got))
        # Source, reference library: sympy.physics.continuum_mechanics.beam.Beam in rational numbers: reactions of bars on 2 to 4 brackets with an uneven load.
        for name, value in zip(names, got):
            assert float(beam.reaction_loads[name]) == pytest.approx(value, abs=1e-3 * scale), f
        deflection = sympy.lambdify(x, beam.deflection().rewrite(sympy.Piecewise), "math")
        # Source, reference library: sympy's Beam: sag at the place the ledger names and at both ends.
        place = float(re.search(r"([\d.]+) cm from", entries["hanging.sag"]["what"]).group(1)) * 10
        want = entries["hanging.sag"]["value"]
        assert abs(float(deflection(place)) / f["ei"]) == pytest.approx(abs(want), rel=2e-3), f
        assert abs(float(deflection(1e-9)) / f["ei"]) == pytest.approx(abs(entries["hanging.left-end"]["value"]), abs=1e-3 * abs(want))


def test_sag_and_reactions_are_as_doubtful_as_their_sources(reckon):
    r = chance(11)
    made = [some_piece(r, brackets=2, shift=False) for _ in range(30)]
    for entries, (_, f) in zip(reckon(*[p for p, _ in made]), made):
        places = len(str(f["mass"]).split(".")[1])
        u_weight = 0.5 * 10**-places / math.sqrt(3) * G
        u_own = DENSITY_U[f["material"]] * f["own"]
        draws = np.random.default_rng(1)
        # Source, reference library: numpy.random, Monte Carlo of 4,000 draws (GUM Supplement 1): spread of a reaction and of the sag.
        a, b = f["at"]
        if b - a < f["length"] / 4:
            continue  # First order does not hold where brackets stand close.
        u = entries["hanging.reaction-1"]["u"]
        tape = 0.5 / math.sqrt(3)  # every length is written in whole millimetres
        place = lambda x: draws.normal(x, tape, 4000)
        first, second, length = place(a), place(b), place(f["length"])
        weight = draws.normal(f["weight"], u_weight, 4000) + draws.normal(f["own"], u_own, 4000) * length / f["length"]
        sample = weight * (second - length / 2) / (second - first)
        assert u == pytest.approx(np.std(sample), rel=0.06)
        total = f["weight"] + f["own"]
        relative = math.sqrt((u_weight**2 + u_own**2) / total**2 + STIFFNESS_U[f["material"]] ** 2)
        if f["loaded"] == f["length"]:
            # Places and length as written add to what mass, wood and stiffness leave open.
            got = entries["hanging.sag"]["u"] / abs(entries["hanging.sag"]["value"])
            assert got >= 0.98 * relative


def test_the_best_places_are_the_best(reckon):
    pieces, facts = [], []
    for n in [2, 3, 4, 5]:
        r = chance(n)
        piece, f = some_piece(r, shift=False)
        f["at"] = []
        piece["hanging"] |= {"fixings": n, "brackets": []}
        pieces.append(piece)
        facts.append(dict(f, n=n))
    for entries, f in zip(reckon(*pieces), facts):
        n, length = f["n"], f["length"]

        def most(shares):
            half = np.clip(np.array(shares), 0.001, 0.999)
            at = np.concatenate([half, [0.5] if n % 2 else [], 1 - half[::-1]]) * length
            if np.any(np.diff(at) < 1):
                return 1e9
            _, _, sag, _ = bent(f, at, points=2001)
            return float(np.max(sag))

        start = (np.arange(n // 2) + 0.5) / n
        found = minimize(most, start, method="Nelder-Mead", options={"xatol": 1e-6, "fatol": 1e-12, "maxiter": 2000})
        # Source, reference library: scipy.optimize.minimize (Nelder and Mead) over all symmetrical places: it finds no less sag.
        assert entries["hanging.best-sag"]["value"] == pytest.approx(found.fun, rel=5e-3), n
        places = [float(x) * 10 for x in re.findall(r"[\d.]+(?=[, ])", entries["hanging.best-places"]["words"])]
        for got, want in zip(places, found.x * length):
            assert got == pytest.approx(want, abs=0.004 * length), n


def test_sections_are_those_of_plane_geometry(reckon):
    import sympy

    r = chance(3)
    pieces = [some_piece(r) for _ in range(60)]
    for entries, (piece, f) in zip(reckon(*[p for p, _ in pieces]), pieces):
        words = piece["hanging"]["bar"]["section"]
        sizes = [sympy.Rational(x) for x in re.findall(r"[\d.]+", words)]

        def rectangle(b, h):
            corners = [sympy.Point(x * b / 2, y * h / 2) for x, y in [(-1, -1), (1, -1), (1, 1), (-1, 1)]]
            return sympy.Polygon(*corners).second_moment_of_area()[0]

        def disc(d):
            return sympy.Circle((0, 0), d / 2).second_moment_of_area()[0]

        if words.startswith("round"):
            want = disc(sizes[0])
        elif words.startswith("tube"):
            want = disc(sizes[0]) - disc(sizes[0] - 2 * sizes[1])
        elif words.startswith("box"):
            b, h, t = sizes
            want = rectangle(b, h) - rectangle(b - 2 * t, h - 2 * t)
        else:
            want = rectangle(*sizes)
        # Source, reference library: sympy.geometry second_moment_of_area of rectangle and circle, less the hole's.
        assert entries["hanging.bar-inertia"]["value"] == pytest.approx(float(want), rel=1e-8), words


def test_sag_follows_its_scaling_laws(reckon):
    def bar(material, height, length, mass, width):
        return {
            "measured": {"height": "1 m", "width": f"{width} mm", "mass": f"{mass} kg"},
            "hanging": {"bar": {"material": material, "section": f"18 x {height} mm", "length": f"{length} mm"},
                        "brackets": ["0 mm", f"{length} mm"]},
        }

    plain, longer, higher, oak = reckon(
        bar("pine", 70, 1000, 2.0, 1000), bar("pine", 70, 2000, 4.0, 2000),
        bar("pine", 140, 1000, 2.0, 1000), bar("oak", 70, 1000, 2.0, 1000))
    sag = lambda e: e["hanging.sag"]["value"]
    # Source, exact case: at the same load on each metre sag grows with the fourth power of the length.
    assert sag(longer) / sag(plain) == pytest.approx(16, rel=1e-3)
    own, total = plain["hanging.bar-weight"]["value"], 2 * G
    # Source, exact case: twice the height is eight times the second moment, and twice the bar's own weight.
    assert sag(higher) / sag(plain) == pytest.approx((total + 2 * own) / (total + own) / 8, rel=1e-3)
    # Source, exact case: sag goes with load over E.
    heavy = oak["hanging.bar-weight"]["value"]
    assert sag(oak) / sag(plain) == pytest.approx((total + heavy) / (total + own) * E["pine"] / E["oak"], rel=1e-3)


def test_fixings_and_pull_follow_from_statics(reckon):
    r = chance(8)
    for _ in range(6):
        n, factor = r.randint(2, 9), r.randint(2, 10)
        thick, high, cloth = r.randint(10, 30), r.randint(40, 100), r.randint(2, 8)
        piece = {
            "measured": {"height": "1 m", "width": "1650 mm", "mass": "4.5 kg", "thickness": f"{cloth} mm"},
            "hanging": {"support": "hook-and-loop", "fixings": n, "factor": factor,
                        "bar": {"material": "pine", "section": f"{thick} x {high} mm", "length": "1600 mm"}},
        }
        entries = reckon(piece)[0]
        total = 4.5 * G + 448 * thick * high * 1600e-9 * G
        # Source, exact case: statics: W/N each, W/2 on two, T = W e/h about the batten's foot, each times its factor.
        assert entries["hanging.fixing-load"]["value"] == pytest.approx(total / n, rel=1e-3)
        assert entries["hanging.fixing-load-two"]["value"] == pytest.approx(total / 2, rel=1e-3)
        pull = total * (thick + cloth / 2) / (high / 2)
        assert entries["hanging.pull-out"]["value"] == pytest.approx(pull, rel=1e-3)
        assert entries["hanging.pull-out-two"]["value"] == pytest.approx(pull / 2 * factor, rel=1e-3)
        assert entries["hanging.fixing-design-load"]["value"] >= total / 2 * factor * 0.999


def test_every_weight_overhead_comes_with_its_caution(many):
    for entries, _ in many[:20]:
        for name in ["hanging.weight", "hanging.line-load", "hanging.reaction-1", "hanging.sag", "hanging.stress",
                     "hanging.wall-load", "hanging.fixing-design-load", "hanging.best-places", "hanging.support-choice"]:
            caution = entries[name].get("caution", "")
            assert "competent person" in caution and "local codes" in caution, name
