"""Three pieces of the sample archive reckoned a second time: light, roll, parcel, hours and money.

Nothing is known here but what the weaver wrote; by_hand.py reads it.
"""

import datetime
import math
import re
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

import numpy as np

# pytest takes the fixtures all_said and piece by their names.
from by_hand import EXACT, Piece, all_said, fitted, greatest, piece, reading, spread

FADES = {"no-uv": [0.3, 1, 3, 10, 30, 100, 300, 1100], "with-uv": [0.22, 0.6, 1.5, 3.5, 8, 20, 50, 120]}


def two_figures(x):
    return float(f"{x:.1e}")


def test_light_adds_up_to_the_dose_share_and_years_said(piece):
    # Source, published: the dose is lux times hours; CIE 157:2004 as retold: 15,000, 150,000 and 600,000 lx·h a year
    # for blue wool 1 to 3, 4 to 6, 7 and 8.
    # Source, from memory: dose for a just noticeable fade after Michalski, each within a factor of two.
    grades = [tuple(int(g) for g in re.findall(r"\d", str(y["light"]))) for y in piece.record["weft"]]
    low, *more = min(grades)
    high = more[0] if more else low
    first = piece.record["weft"][grades.index((low, *more))]
    assert piece.words("light.weakest") == f"{first['name']}, blue wool {first['light']}"
    allowance = 15_000 if low <= 3 else 150_000 if low <= 6 else 600_000
    home = piece.record["display"]
    show = home.get("show")
    days = home.get("days", 365)
    known = {"home": reading(home["light"])}
    if show:
        known |= {"show": reading(show["light"]), "extra": reading(show["extra"]["light"])}

    def reckon(v):
        doses = {"home": v["home"] * home["hours_a_day"] * days}
        if show:
            extra = v["extra"] * show["extra"]["hours_a_day"]
            doses["show"] = (v["show"] * show["hours_a_day"] + extra) * show["days"]
            left = min(days, 365 - show["days"])
            doses["year-with-show"] = doses["show"] + v["home"] * home["hours_a_day"] * left
        found = {f"light.{name}.dose": dose for name, dose in doses.items()}
        return found | {f"light.{name}.share": 100 * dose / allowance for name, dose in doses.items()}

    hand = spread(reckon, known) | {"light.allowance": allowance}
    hand["light.home.days-within"] = allowance / (known["home"][0] * home["hours_a_day"])
    for name in ("home", "show", "year-with-show") if show else ("home",):
        dose = hand[f"light.{name}.dose"][0]
        # After a year in the light the allowance of that year is there already; a show starts on its first day.
        hand[f"light.{name}.rest"] = max(0, 12 * dose / allowance - (0 if name == "show" else 12))
        for kind, fade in FADES.items():
            soonest, latest = fade[low - 1] * 1e6 / 2, fade[high - 1] * 1e6 * 2
            hand[f"light.{name}.fade-share-{kind}"] = (
                two_figures(100 * dose / latest),
                two_figures(100 * dose / soonest),
            )
            if name != "show":
                hand[f"light.{name}.years-{kind}"] = two_figures(soonest / dose), two_figures(latest / dose)
    piece.agrees(hand, "light.")


def rolled(piece):
    """The roll and its box, in mm: readings with doubts, then what follows."""
    m, packing = piece.record["measured"], piece.record.get("packing", {})
    around, along = ("width", "height") if piece.sideways else ("height", "width")
    lined = "lining" in piece.record.get("parts", {})
    thickness = reading(m["thickness"])
    advised = 200 if lined else 150 if thickness[0] > 3 else 100
    given = lambda field, otherwise: reading(packing[field]) if field in packing else (otherwise, EXACT)
    known = {"thickness": thickness, "around": greatest(m[around]), "along": greatest(m[along])}
    known |= {"tube": given("tube", advised), "interleaf": given("interleaf", 0.2)}
    known["mass"] = reading(m["mass"])
    known["weighs"] = reading(packing["weighs"]) if "weighs" in packing else (0.0, EXACT)
    ends, wall, clear = (given(f, d)[0] for f, d in (("ends", 50), ("wall", 3), ("clearance", 50)))
    loft = packing.get("loft", 1.1)

    def reckon(v):
        layer = (v["thickness"] + v["interleaf"]) * loft
        across = math.sqrt(v["tube"] ** 2 + 4 * v["around"] * layer / math.pi)
        return {
            "roll.layer": layer,
            "roll.diameter": across,
            "roll.turns": (across - v["tube"]) / (2 * layer),
            "roll.strain": 100 * v["thickness"] / (v["tube"] + v["thickness"]),
            "roll.tube-length": v["along"] + 2 * ends,
            "roll.tube-length-other-way": v["around"] + 2 * ends,
            "parcel.mass": (v["mass"] + v["weighs"]) / 1e3,
        }

    hand = spread(reckon, known) | {"roll.tube-advised": advised}
    # Turn by turn: each is a circle through the middle of its layer.
    layer, tube, left, turns = hand["roll.layer"][0], known["tube"][0], known["around"][0], 0
    while left > (circle := math.pi * (tube + (2 * turns + 1) * layer)):
        left, turns = left - circle, turns + 1
    begun = left / circle
    hand["roll.turns-by-turn"] = turns + begun
    widest = hand["roll.widest"] = tube + (2 * turns + (1 if begun <= 0.5 else 2)) * layer
    length = hand["roll.tube-length"][0]
    outside, thick = length + 2 * wall, widest + 2 * clear + 2 * wall
    hand |= {"parcel.inner-length": length, "parcel.inner-width": widest + 2 * clear}
    hand |= {"parcel.length": outside, "parcel.width": thick}
    long, *short = sorted([outside, thick, thick], reverse=True)
    hand["parcel.girth"] = 2 * sum(short) / 10
    hand["parcel.length-and-girth"] = (long + 2 * sum(short)) / 10
    hand["parcel.tape-girth"] = math.pi * widest / 10
    hand["parcel.tape-length-and-girth"] = (length + math.pi * widest) / 10
    hand["parcel.volumetric-mass"] = outside * thick * thick / 1e3 / packing.get("divisor", 5000)
    return hand


def longest(sides, across):
    """Longest rigid roll between walls: on each axis its reach is L u + D √(1 − u²), and the u² make one."""

    def room(long):
        slant, tilt = math.hypot(long, across), math.atan2(across, long)
        return sum(math.sin(math.asin(min(1, side / slant)) - tilt) ** 2 for side in sides) >= 1

    low, high = max(sides), sum(sides)
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if room(middle) else (low, middle)
    return low


def test_a_rolled_piece_is_as_thick_long_and_heavy_as_its_layers_make_it(piece):
    # Source, exact case: the edge of the cloth fills a ring; a turn is a circle; a box's girth and volume.
    # Source, published: museum notes on rolled storage: tube at least 4 in longer than the textile is wide.
    # Source, common practice: tubes of 100, 150 and 200 mm, loft 1.1, clearance 50 mm, 5000 cm³ a kilogram.
    piece.agrees(rolled(piece), "roll.", "parcel.")


def test_the_roll_goes_through_its_door_and_into_the_lift(all_said):
    # Source, exact case: reach of a slanting cylinder along the sides of a box; the longest found by halving.
    piece = Piece("tide-tables", all_said["tide-tables"])
    hand = rolled(piece)
    door, lift = piece.record["packing"]["openings"]
    across, length = hand["roll.widest"], hand["roll.tube-length"][0]
    sides = [reading(lift[side])[0] for side in ("width", "depth", "height")]
    piece.agrees(
        {"passage.2.level": longest(sides[:2], across), "passage.2.slanting": longest(sides, across)}, "passage."
    )
    assert across <= min(reading(door[side])[0] for side in ("width", "height"))
    assert piece.words("passage.1.fits").startswith("passes")
    assert length <= sides[2] and "standing upright" in piece.words("passage.2.fits")


def diary(piece):
    """(day, hours with doubt, height with doubt or None) of each heading in the notes."""
    heading = re.compile(r"^## (\d{4}-\d\d-\d\d) · (\S+ h)(?: · (\S+ cm))?$", re.M)
    return [
        (datetime.date.fromisoformat(d), reading(h), reading(c) if c else None)
        for d, h, c in heading.findall(piece.notes)
    ]


def test_days_hours_and_rates_come_out_of_the_notes_again(piece):
    # Source, published: Hyndman and Fan 1996, definition 7 (quartiles); GUM (JCGM 100:2008), 4.2.2 and 4.3.7.
    # Source, exact case: ISO weeks and weekdays by Python's datetime; area woven over the hours between two heights.
    days = diary(piece)
    assert len(days) == piece.notes.count("\n## ")
    known = {f"h{i}": h for i, (_, h, _) in enumerate(days)}
    known |= {f"at{i}": c for i, (_, _, c) in enumerate(days) if c}
    known |= {"width": reading(piece.record["loom"]["width"]), "area": fitted(piece)["area"]}
    noted = [i for i, (_, _, c) in enumerate(days) if c]
    pairs = [(a, b) for a, b in zip(noted, noted[1:]) if days[b][2][0] > days[a][2][0]]

    def rate(v, a, b):
        return (v[f"at{b}"] - v[f"at{a}"]) * v["width"] / 100 / sum(v[f"h{i}"] for i in range(a + 1, b + 1))

    def reckon(v):
        total = sum(v[f"h{i}"] for i in range(len(days)))
        found = {f"time.rate.{days[b][0]}": rate(v, a, b) for a, b in pairs}
        found |= {"time.hours": total, "time.rate": rate(v, noted[0], noted[-1])}
        return found | {"time.whole-rate": v["area"] * 1e4 / total}

    hand = spread(reckon, known)
    stretches = {days[b][0]: hand[f"time.rate.{days[b][0]}"] for _, b in pairs}
    for name, pick in (("slowest", min), ("fastest", max)):
        hand[f"time.{name}"] = stretches[pick(stretches, key=lambda d: stretches[d][0])]
    hours = sorted(h for _, (h, _), _ in days)
    hand["time.days"] = len({d for d, *_ in days})
    hand["time.days-without-hours"] = 0
    hand["time.weeks"] = len({d.isocalendar()[:2] for d, *_ in days})
    hand["time.span"] = (days[-1][0] - days[0][0]).days + 1
    for i, name in enumerate(["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]):
        hand[f"time.weekday.{name}"] = sum(d.weekday() == i for d, *_ in days)
    hand["time.day-median"] = float(np.median(hours))
    hand["time.day-quartiles"] = tuple(np.percentile(hours, [25, 75]))
    hand["time.day-extremes"] = hours[0], hours[-1]
    hand["time.day-deviation"] = float(np.std(hours, ddof=1))
    piece.agrees(hand, "time.")
    idle = [str(days[b][0]) for a, b in zip(noted, noted[1:]) if days[b][2][0] <= days[a][2][0]]
    assert piece.said.get("time.without-gain", {}).get("words", "") == ", ".join(idle)


def pence(amount):
    return amount.quantize(Decimal("0.01"), ROUND_HALF_EVEN)


def test_money_comes_out_again_to_the_penny(piece):
    # Source, reference library: Python's decimal with ROUND_HALF_EVEN; two decimals of GBP by ISO 4217.
    r, money = piece.record, piece.record["money"]
    plain = lambda text: Decimal(text.split()[0])
    costs = {}

    def cost(name, entry, mass):
        if "cost" in entry:
            amount, per = re.fullmatch(r"([\d.]+) GBP(?:/(.*))?", entry["cost"]).groups()
            by = {"kg": Decimal(1000), "100 g": Decimal(100)}.get(per)
            costs[f"money.cost.{name}"] = pence(Decimal(amount) * mass / by if by else Decimal(amount))

    grams = lambda text: plain(text) * (1000 if text.endswith("kg") else 1)
    cost("warp", r["warp"], None)
    for i, y in enumerate(r["weft"]):
        cost(
            f"weft[{i}]",
            y,
            grams(y["used"]) if "used" in y else grams(y["weighed"]["before"]) - grams(y["weighed"]["after"]),
        )
    for name, part in r.get("parts", {}).items():
        cost(f"parts.{name}", part, grams(part["used"]))
    price, hours = plain(money["price"]), sum(Decimal(str(h)) for _, (h, _), _ in diary(piece))
    materials = sum(costs.values(), Decimal(0))
    at_rate = pence(hours * plain(piece.studio["hourly_rate"]))
    hand = costs | {
        "money.price": price,
        "money.insured": plain(money["insured"]),
        "money.result": price - materials,
        "money.per-hour": pence((price - materials) / hours),
        "money.at-rate": at_rate,
        "money.asked": at_rate + materials,
        "money.over-asked": price - at_rate - materials,
    }
    if costs:
        hand["money.materials"] = materials
    if "stages" in money:
        stages = [plain(s["amount"]) for s in money["stages"]]
        hand |= {"money.stages": sum(stages), "money.stages-open": price - sum(stages)}
        exact = [Fraction(s) / Fraction(sum(stages)) * 10_000 for s in stages]
        whole = [math.floor(x) for x in exact]
        for i in sorted(range(len(whole)), key=lambda i: (whole[i] - exact[i], i))[: 10_000 - sum(whole)]:
            whole[i] += 1
        hand |= {f"money.share.{i}": Decimal(w) / 100 for i, w in enumerate(whole, 1)}
    said = {
        n: Decimal(piece.words(n).split()[0]) for n in piece.said if n.startswith("money.") and n != "money.per-area"
    }
    assert said == hand
    # The area is taken to the square millimetre.
    area = Decimal(f"{fitted(piece)['area'][0]:.6f}")
    assert piece.words("money.per-area").split()[0] == str(pence(price / area))
