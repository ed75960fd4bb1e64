"""Fibre content by the law's arithmetic, redone from the weights with general-purpose libraries.

Random pieces are reckoned twice: by offloom, and here from the words of the law (dry mass, agreed
allowance, shares) with exact fractions, `uncertainties` and `apportionment`.
"""

import math
import random
import re
from fractions import Fraction

import pytest
import yaml
from apportionment.methods import compute
from uncertainties import ufloat

from conftest import ROOT

# Source, published: Regulation (EU) No 1007/2011, Annex IX, percent of the dry mass.
ANNEX_IX = {
    "wool": "17", "combed wool": "18.25", "carded wool": "17", "mohair": "17", "horsehair": "15",
    "silk": "11", "cotton": "8.5", "mercerised cotton": "10.5", "flax": "12", "true hemp": "12",
    "jute": "17", "ramie": "8.5", "viscose": "13", "lyocell": "13", "acetate": "9", "acrylic": "2",
    "polyamide": "5.75", "staple polyamide": "6.25", "polyester": "1.5", "metal": "2", "elastane": "1.5",
}
# Source, published: ASTM D1909-13 as retold in Bioresources and Bioprocessing 7:51 (2020), table 10.
D1909 = {"wool": "13.6", "silk": "11", "cotton": "8.5", "flax": "12", "true hemp": "12", "jute": "13.75"}


def base(name):
    """The label's name of a fibre written with its make."""
    return re.sub(r"^(combed|carded|mercerised|staple) ", "", name)


def weft(rng, fibres, most=4, **more):
    """Some yarns of one or two fibres, given to a tenth of a gram."""
    yarns = []
    for number in range(rng.randint(1, most)):
        chosen = rng.sample(sorted(fibres), rng.choice([1, 1, 2]))
        first = rng.randint(5, 95) if len(chosen) == 2 else 100
        shares = dict(zip(chosen, [first, 100 - first]))
        yarns.append({"name": f"y{number}", "fibre": shares, "used": f"{rng.uniform(5, 900):.1f} g"} | more)
    return yarns


def bare(yarns, **more):
    """A piece of these yarns alone: the warp is left out, so no count comes in."""
    return {"warp": {"fibre": {"cotton": 100}}, "weft": yarns, "label": {"warp": "left out"}} | more


def grams(yarn):
    return Fraction(yarn["used"].split()[0])


def shares_at_allowance(yarns):
    """Percent by fibre where every yarn is at its agreed allowance."""
    sums = {}
    for yarn in yarns:
        for fibre, share in yarn["fibre"].items():
            sums[base(fibre)] = sums.get(base(fibre), 0) + grams(yarn) * share / 100
    total = sum(sums.values())
    return {fibre: 100 * g / total for fibre, g in sums.items()}


def percents(entry):
    """{"wool": 71} from the words of a composition."""
    return {name: int(p) for p, name in re.findall(r"(\d+) ?% ([a-z ]+)", entry["words"])}


def key(fibre):
    return fibre.replace(" ", "-")


def test_shares_follow_from_the_weights(reckon):
    rng = random.Random(1)
    pieces = [bare(weft(rng, ANNEX_IX)) for _ in range(120)]
    for piece, figures in zip(pieces, reckon(*pieces)):
        for fibre, want in shares_at_allowance(piece["weft"]).items():
            assert figures[f"fibre.eu.{key(fibre)}"]["value"] == pytest.approx(float(want), abs=1e-3)


def test_dry_masses_are_what_is_left_without_the_allowance(reckon):
    rng = random.Random(2)
    pieces = [bare(weft(rng, ANNEX_IX)) for _ in range(80)]
    for piece, figures in zip(pieces, reckon(*pieces)):
        dry = {}
        for yarn in piece["weft"]:
            for fibre, share in yarn["fibre"].items():
                factor = 1 + Fraction(ANNEX_IX[fibre]) / 100
                dry[base(fibre)] = dry.get(base(fibre), 0) + grams(yarn) * share / 100 / factor
        for fibre, want in dry.items():
            assert figures[f"fibre.eu.dry-mass.{key(fibre)}"]["value"] == pytest.approx(float(want), abs=6e-3)


def test_bone_dry_weights_take_the_allowance_of_each_jurisdiction(reckon):
    rng = random.Random(3)
    pieces = [bare(weft(rng, D1909, humidity="0 %")) for _ in range(60)]
    for piece in pieces:
        for yarn in piece["weft"]:
            yarn["fibre"] = {next(iter(yarn["fibre"])): 100}
    # In the United States the warp counts; it is given no mass there, so only Europe is compared so.
    for piece, figures in zip(pieces, reckon(*pieces)):
        legal = {}
        for yarn in piece["weft"]:
            (fibre,) = yarn["fibre"]
            legal[fibre] = legal.get(fibre, 0) + grams(yarn) * (1 + Fraction(ANNEX_IX[fibre]) / 100)
        for fibre, mass in legal.items():
            want = 100 * mass / sum(legal.values())
            assert figures[f"fibre.eu.{key(fibre)}"]["value"] == pytest.approx(float(want), abs=1e-3)


def test_america_puts_other_moisture_on_dry_wool(reckon):
    # Source, published: ASTM D1909-13 as retold (see above): wool 13.6 against 17 in the Union.
    piece = {
        "loom": {"ends": 100, "woven": "1.000 m"},
        "warp": {"count": "4000 tex", "fibre": {"cotton": 100}},
        "weft": [{"fibre": {"wool": 100}, "used": "500.0 g", "humidity": "0 %"}],
    }
    (figures,) = reckon(piece, studio={"rules": ["EU", "US", "CA"]})
    for rule, regain in [("eu", 17), ("us", 13.6), ("ca", 13.6)]:
        wool = 500 * (1 + regain / 100)
        assert figures[f"fibre.{rule}.wool"]["value"] == pytest.approx(100 * wool / (wool + 400), abs=0.01)


def test_doubt_is_carried_as_the_library_carries_it(reckon):
    # Source, reference library: uncertainties 3.2.3, first-order propagation with correlations; each
    # weight is read to a tenth of a gram (rectangular), each regain to one point.
    rng = random.Random(4)
    table = {"wool": (12.8, 14.9), "silk": (8.9, 10.2), "cotton": (5.9, 6.8), "jute": (10.2, 12.2)}
    pieces = [bare(weft(rng, table, humidity="55 %")) for _ in range(60)]
    for piece, figures in zip(pieces, reckon(*pieces)):
        held = {fibre: ufloat(sum(ends) / 2, 1) for fibre, ends in table.items()}
        legal = {}
        for yarn in piece["weft"]:
            mass = ufloat(float(grams(yarn)), 0.05 / math.sqrt(3))
            parts = {f: s / 100 / (1 + float(ANNEX_IX[f]) / 100) for f, s in yarn["fibre"].items()}
            water = sum(part * (1 + held[f] / 100) for f, part in parts.items())
            for f, part in parts.items():
                dry = mass * part / water
                legal[f] = legal.get(f, 0) + dry * (1 + float(ANNEX_IX[f]) / 100)
        total = sum(legal.values())
        for fibre, mass in legal.items():
            want = 100 * mass / total
            got = figures[f"fibre.eu.{key(fibre)}"]
            assert got["value"] == pytest.approx(want.nominal_value, abs=max(2e-3, 0.01 * want.std_dev))
            assert (got["u"] or 0) == pytest.approx(want.std_dev, rel=2e-3, abs=1e-9)


def test_whole_percents_are_those_of_the_largest_remainder(reckon):
    # Source, reference library: apportionment 1.0, largest remainder (Hamilton); where no share is
    # under one percent and none ties, the minimum of 1 plays no part.
    rng = random.Random(5)
    pieces = [bare(weft(rng, ANNEX_IX, most=5)) for _ in range(200)]
    compared = 0
    for piece, figures in zip(pieces, reckon(*pieces)):
        shares = shares_at_allowance(piece["weft"])
        if min(shares.values()) < 1:
            continue
        order = sorted(shares, key=lambda f: (-shares[f], f))
        seats = compute("largest_remainder", [float(shares[f]) for f in order], 100, verbose=False)
        printed = percents(figures["fibre.eu.text"])
        assert list(printed) == order
        assert [printed[f] for f in order] == list(seats)
        compared += 1
    assert compared > 100


def test_the_rules_part_ways_as_the_laws_say(reckon):
    # Source, published: 15 USC 68b(a)(2) and 16 CFR 303.3: wool named always, others from 5 %;
    # Regulation (EU) No 1007/2011, article 9(1): all named, in descending order.
    rng = random.Random(6)
    pieces = []
    for _ in range(120):
        yarns = weft(rng, ["wool", "silk", "flax", "viscose", "polyester", "jute"], most=6)
        for yarn in yarns:
            yarn["used"] = f"{rng.uniform(1, 30) ** 2:.1f} g"
        pieces.append({
            "loom": {"ends": 100, "woven": "1.000 m"},
            "warp": {"count": f"{rng.randint(500, 5000)} tex", "fibre": {"cotton": 100}},
            "weft": yarns,
        })
    for figures in reckon(*pieces, studio={"rules": ["EU", "US", "CA", "UK"]}):
        exact = {}
        for name, entry in figures.items():
            found = re.fullmatch(r"fibre\.us\.([a-z]+)", name)
            if found and entry.get("unit") == "%" and found[1] != "decorative":
                exact[found[1]] = entry["value"]
        us = percents(figures["fibre.us.text"])
        assert sum(us.values()) == 100
        for fibre, share in exact.items():
            named = share >= 5 or fibre == "wool"
            assert (fibre in us) == named, (exact, us)
            if named:
                assert (us[fibre] >= 5) == (share >= 5)
        eu = percents(figures["fibre.eu.text"])
        assert set(eu) == set(exact) and sum(eu.values()) == 100 and min(eu.values()) >= 1
        assert list(eu.values()) == sorted(eu.values(), reverse=True)
        assert percents(figures["fibre.uk.text"]) == eu
        assert "laine" in figures["fibre.ca.text"]["words"] or "wool" not in exact or exact["wool"] < 5


def test_what_is_not_asked_for_is_said_as_plainly(reckon):
    # Source, published: C.R.C., c. 1551, Schedule II, item 2(c); 15 USC 68j; Regulation (EU) No
    # 1007/2011, Annex V, item 18.
    cotton = {"weft": [{"fibre": {"cotton": 100}, "used": "400 g"}]}
    with_wool, without = reckon({}, cotton)
    for figures in (with_wool, without):
        assert "exempt by name" in figures["fibre.ca.required"]["words"]
        assert "hand-embroidered" in figures["fibre.eu.required"]["words"]
        for rule in ("eu", "us", "ca", "uk"):
            assert "not legal advice" in figures[f"fibre.{rule}.required"]["words"]
    assert "wool product" in with_wool["fibre.us.required"]["words"]
    assert "no label is required" in without["fibre.us.required"]["words"]


def test_both_readings_of_the_warp_stand_side_by_side(reckon):
    # Source, published: Regulation (EU) No 1007/2011, Annex VII (d).
    piece = {
        "loom": {"ends": 100, "woven": "1.000 m"},
        "warp": {"count": "4000 tex", "fibre": {"cotton": 100}},
        "weft": [{"fibre": {"wool": 100}, "used": "600.0 g"}],
    }
    for label, want in [(None, "60 % wool, 40 % cotton"), ("counted", "60 % wool, 40 % cotton"), ("left out", "100 % wool")]:
        (figures,) = reckon(piece | ({"label": {"warp": label}} if label else {}))
        assert figures["fibre.eu.text"]["words"] == want
        assert figures["fibre.eu.warp-counted"]["words"] == "60 % wool, 40 % cotton"
        assert figures["fibre.eu.warp-left-out"]["words"] == "100 % wool"


def test_every_language_of_the_union_says_the_same_percentages(reckon):
    (figures,) = reckon(bare([{"fibre": {"wool": 60, "silk": 30, "polyester": 10}, "used": "100.0 g"}]))
    words = figures["fibre.eu.languages"]["words"]
    lines = dict(line.split(": ", 1) for line in words.split("; "))
    assert len(lines) == 24
    for code, line in lines.items():
        assert re.findall(r"\d+", line) == ["60", "30", "10"], code
    # The papers' own words agree where they speak the language.
    for code in ("en", "fr", "de", "fi", "es"):
        own = yaml.safe_load((ROOT / "templates" / "words" / f"{code}.yaml").read_text())["fibres"]
        assert lines[code] == f"60 % {own['wool']}, 30 % {own['silk']}, 10 % {own['polyester']}"
