"""Time at the loom and money, against Python's own datetime, statistics and decimal.

Random notes and prices are reckoned by offloom and, from the same text, by the standard library; money is
compared to the last coin.
"""

import datetime
import random
import statistics
from decimal import ROUND_HALF_EVEN, Decimal

import pytest

FOOT = Decimal("30.48")


def days_of(rng, count, first=None):
    """Different days in order, with hours and a rising height in whole millimetres."""
    first = first or datetime.date(rng.randint(1995, 2030), rng.randint(1, 12), rng.randint(1, 28))
    dates = sorted(first + datetime.timedelta(days=d) for d in rng.sample(range(3 * count), count))
    height = 0
    days = []
    for date in dates:
        height += rng.randint(0, 60)
        days.append((date, Decimal(rng.randint(5, 95)) / 10, height))
    return days


def notes_of(days):
    return "".join(f"## {date} · {hours} h · {height / 10} cm\n" for date, hours, height in days)


def rounded(amount, places=2):
    return amount.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_EVEN)


@pytest.mark.parametrize("seed", range(12))
def test_days_weeks_and_weekdays_are_those_of_the_calendar(reckon, seed):
    # Source, reference library: Python's datetime (isocalendar, weekday) over random years.
    rng = random.Random(seed)
    days = days_of(rng, rng.randint(5, 60))
    dates = [d for d, _, _ in days]
    (figures,) = reckon({"loom": {"width": "122 cm"}}, notes=notes_of(days))
    assert figures["time.days"]["value"] == len(dates)
    assert figures["time.weeks"]["value"] == len({d.isocalendar()[:2] for d in dates})
    assert figures["time.span"]["value"] == (dates[-1] - dates[0]).days + 1
    for number, name in enumerate("monday tuesday wednesday thursday friday saturday sunday".split()):
        assert figures[f"time.weekday.{name}"]["value"] == sum(d.weekday() == number for d in dates)


def test_the_turns_of_many_years_fall_into_the_right_week(reckon):
    # Source, reference library: Python's datetime.isocalendar over the turn of every year from 1990 to 2040.
    for start in range(1990, 2041, 17):
        dates = [
            datetime.date(year, 12, 27) + datetime.timedelta(days=d)
            for year in range(start, start + 17)
            for d in range(11)
        ]
        (figures,) = reckon({}, notes="".join(f"## {d} · 1 h\n" for d in dates))
        assert figures["time.weeks"]["value"] == len({d.isocalendar()[:2] for d in dates})


@pytest.mark.parametrize("seed", range(12))
def test_hours_are_spread_as_the_library_has_them(reckon, seed):
    # Source, reference library: Python's statistics (quantiles, inclusive; stdev) and decimal sums.
    rng = random.Random(100 + seed)
    days = days_of(rng, rng.randint(2, 60))
    hours = [h for _, h, _ in days]
    (figures,) = reckon({}, notes=notes_of(days))
    floats = [float(h) for h in hours]
    lower, median, upper = statistics.quantiles(floats, n=4, method="inclusive")
    assert figures["time.hours"]["value"] == pytest.approx(float(sum(hours)), abs=0.01)
    assert figures["time.day-median"]["value"] == pytest.approx(median, rel=1e-8)
    assert figures["time.day-quartiles"]["least"] == pytest.approx(lower, rel=1e-8)
    assert figures["time.day-quartiles"]["most"] == pytest.approx(upper, rel=1e-8)
    assert figures["time.day-extremes"]["most"] == max(floats)
    assert figures["time.day-deviation"]["value"] == pytest.approx(statistics.stdev(floats), rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_each_stretch_is_woven_at_its_own_rate(reckon, seed):
    # Source, reference library: Python's fractions by way of decimal: area gained over hours, in cm² an hour.
    rng = random.Random(200 + seed)
    days = days_of(rng, rng.randint(3, 40))
    width = Decimal(rng.randint(200, 3000)) / 10
    (figures,) = reckon({"loom": {"width": f"{width} cm"}}, notes=notes_of(days))
    rates = {}
    for (_, _, low), (date, hours, high) in zip(days, days[1:]):
        name = f"time.rate.{date}"
        if high > low:
            rates[date] = float(Decimal(high - low) / 10 * width / hours)
            assert figures[name]["value"] == pytest.approx(rates[date], rel=1e-3)
        else:
            assert name not in figures
            assert str(date) in figures["time.without-gain"]["words"]
    if rates:
        assert figures["time.slowest"]["value"] == pytest.approx(min(rates.values()), rel=1e-3)
        assert figures["time.fastest"]["value"] == pytest.approx(max(rates.values()), rel=1e-3)
        whole = Decimal(days[-1][2] - days[0][2]) / 10 * width / sum(h for _, h, _ in days[1:])
        assert figures["time.rate"]["value"] == pytest.approx(float(whole), rel=1e-3)


@pytest.mark.parametrize("seed", range(6))
def test_missing_hours_are_estimated_only_when_asked_for(reckon, seed):
    # Source, reference library: Python's statistics (median, stdev, NormalDist): the doubt of m days at the
    # median of n, its standard error taken from the density of the normal distribution at its centre.
    rng = random.Random(300 + seed)
    days = days_of(rng, rng.randint(4, 30))
    missing = rng.randint(1, 9)
    more = [days[-1][0] + datetime.timedelta(days=1 + d) for d in range(missing)]
    notes = notes_of(days) + "".join(f"## {d}\n" for d in more)
    left, estimated = reckon({}, {"missing_hours": "estimate"}, notes=notes)
    assert left["time.days-without-hours"]["value"] == missing
    assert not [name for name in left if "estimate" in name]
    assert "time.whole-rate" not in left
    floats = [float(h) for _, h, _ in days]
    s = statistics.stdev(floats)
    centre = statistics.NormalDist(0, s).pdf(0)
    error = 1 / (2 * centre * len(floats) ** 0.5)
    entry = estimated["time.hours-estimated"]
    assert entry["value"] == pytest.approx(missing * statistics.median(floats), rel=1e-2)
    assert entry["u"] == pytest.approx((missing * s**2 + (missing * error) ** 2) ** 0.5, rel=1e-2)
    assert "ESTIMATED" in entry["what"]
    total = float(sum(h for _, h, _ in days)) + missing * statistics.median(floats)
    assert estimated["time.hours-with-estimate"]["value"] == pytest.approx(total, rel=1e-2)


def test_the_usual_rates_are_square_feet_a_week(reckon):
    # Source, published: J. Soroka, How long does it take to weave a tapestry?: one square foot a week at 10
    # ends an inch, five at 4, in days of eight hours; a foot is 30.48 cm (agreement of 1959).
    (figures,) = reckon({}, notes="## 2026-03-02 · 5 h\n")
    usual = figures["time.usual-rate"]
    assert usual["least"] == pytest.approx(float(FOOT * FOOT / 40))
    assert usual["most"] == pytest.approx(float(5 * FOOT * FOOT / 40))


@pytest.mark.parametrize("seed", range(25))
def test_money_agrees_to_the_last_coin(reckon, seed):
    # Source, reference library: Python's decimal with ROUND_HALF_EVEN; minor units of ISO 4217.
    rng = random.Random(400 + seed)
    code, places = rng.choice([("GBP", 2), ("EUR", 2), ("JPY", 0), ("KWD", 3)])

    def amount(most):
        return Decimal(rng.randint(1, most * 10**places)).scaleb(-places)

    price, rate, warp, by_kilo, by_ball = amount(9000), amount(60), amount(90), amount(120), amount(15)
    grams, ball = rng.randint(1, 2000), rng.choice([25, 50, 100])
    more = rng.randint(1, 300)
    stages = [amount(3000) for _ in range(rng.randint(1, 7))]
    days = days_of(rng, rng.randint(1, 30))
    piece = {
        "warp": {"fibre": {"cotton": 100}, "cost": f"{warp} {code}"},
        "weft": [
            {"name": "sea", "fibre": {"wool": 100}, "used": f"{grams} g", "cost": f"{by_kilo} {code}/kg"},
            {"name": "sand", "fibre": {"wool": 100}, "used": f"{more} g", "cost": f"{by_ball} {code}/{ball} g"},
            {"name": "red", "fibre": {"wool": 100}, "used": "10 g", "cost": "5 CHF"},
        ],
        "measured": {"height": "100 cm", "width": "200 cm"},
        "money": {
            "price": f"{price} {code}",
            "stages": [{"what": f"stage {i}", "amount": f"{s} {code}"} for i, s in enumerate(stages)],
        },
    }
    studio = {"currency": code, "hourly_rate": f"{rate} {code}"}
    (figures,) = reckon(piece, notes=notes_of(days), studio=studio)

    def said(name):
        number, currency = figures[name]["words"].split()
        assert currency == code
        assert len(number.partition(".")[2]) == places
        return Decimal(number)

    sea, sand = rounded(by_kilo * grams / 1000, places), rounded(by_ball * more / ball, places)
    hours = sum(h for _, h, _ in days)
    assert said("money.cost.weft[0]") == sea
    assert said("money.cost.weft[1]") == sand
    assert said("money.materials") == warp + sea + sand
    assert said("money.result") == price - warp - sea - sand
    assert said("money.per-hour") == rounded((price - warp - sea - sand) / hours, places)
    assert said("money.at-rate") == rounded(hours * rate, places)
    assert said("money.asked") == said("money.at-rate") + said("money.materials")
    assert said("money.over-asked") == price - said("money.asked")
    assert said("money.per-area") == rounded(price / 2, places)
    assert said("money.stages") == sum(stages)
    assert said("money.stages-open") == price - sum(stages)
    assert figures["money.left-out"]["words"] == "red: 5 CHF"
    shares = [Decimal(figures[f"money.share.{i + 1}"]["words"].split()[0]) for i in range(len(stages))]
    assert sum(shares) == 100
    for share, stage in zip(shares, stages):
        assert abs(share - 100 * stage / sum(stages)) < Decimal("0.01")


def test_half_a_penny_goes_to_the_even_penny(reckon):
    # Source, reference library: Python's decimal with ROUND_HALF_EVEN over every half penny of one pound.
    pieces = []
    for grams in range(1, 60):
        weft = [{"name": "sea", "fibre": {"wool": 100}, "used": f"{grams} g", "cost": "125 GBP/kg"}]
        pieces.append({"weft": weft, "money": {"price": "10 GBP"}})
    for grams, figures in enumerate(reckon(*pieces), start=1):
        want = rounded(Decimal(125) * grams / 1000)
        assert figures["money.cost.weft[0]"]["words"] == f"{want} GBP"
