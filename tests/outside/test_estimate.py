"""The estimate of the next piece against statsmodels and scipy, from archives made here."""

import json
import math
import random

import numpy as np
import pytest
import statsmodels.api as sm
import yaml
from scipy import stats

from conftest import PROGRAM, run

STUDIO = "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\nlanguages: [en]\nrules: [EU]\ncurrency: GBP\nhourly_rate: 30 GBP\n"


def archive_of(home, pieces):
    """An archive whose pieces have the given (height_cm, width_cm, sett, colours, hours by day)."""
    (home / "pieces").mkdir(parents=True)
    (home / "studio.yaml").write_text(STUDIO)
    for i, (height, width, sett, colours, hours) in enumerate(pieces):
        folder = home / "pieces" / f"piece-{i:02}"
        folder.mkdir()
        weft = [
            {"name": f"yarn {k}", "count": "NeW 2/8", "fibre": {"wool": 100}, "used": f"{100 + 10 * k} g"}
            for k in range(colours)
        ]
        piece = {
            "title": f"Piece {i}", "made": "2024", "kind": "commission", "top": "finish",
            "loom": {"sett": f"{sett} ends/cm", "width": f"{width} cm"},
            "warp": {"yarn": "twine", "count": "Ne 12/15", "fibre": {"cotton": 100}},
            "weft": weft, "measured": {"height": f"{height} cm", "width": f"{width} cm"},
        }
        (folder / "piece.yaml").write_text(yaml.safe_dump(piece, sort_keys=False))
        notes = "\n".join(f"## 2024-{1 + d // 28:02}-{1 + d % 28:02} · {h} h\nWove.\n" for d, h in enumerate(hours))
        (folder / "notes.md").write_text("# Notes\n\n" + notes)


def invented(n, seed):
    dice = random.Random(seed)
    out = []
    for _ in range(n):
        height, width = dice.randrange(40, 200), dice.randrange(40, 300)
        sett, colours = dice.choice([2, 2.5, 3, 3.5, 4, 5]), dice.randrange(3, 20)
        total = height * width / 1e4 * 60 * sett * math.exp(0.3 * dice.gauss(0, 1)) * colours**0.2
        days = dice.randrange(5, 60)
        out.append((height, width, sett, colours, [round(max(total / days, 0.1), 2)] * days))
    return out


@pytest.mark.parametrize("n,slopes", [(3, 0), (5, 0), (6, 1), (9, 2), (14, 3)])
def test_hours_and_their_interval_are_those_of_statsmodels(tmp_path, n, slopes):
    home = tmp_path / "studio"
    pieces = invented(n, n)
    archive_of(home, pieces)
    asked = ["--height", "150 cm", "--width", "200 cm", "--sett", "3.15 ends/cm", "--colours", "24"]
    got = json.loads(run(PROGRAM, "estimate", home, *asked, "--level", "90", "--json"))
    area = np.array([h * w / 1e4 for h, w, *_ in pieces])
    hours = np.array([sum(p[4]) for p in pieces])
    columns = [np.ones(n), np.log([p[2] for p in pieces]), np.log([p[3] for p in pieces]), np.log(area)][: slopes + 1]
    new = [1.0, math.log(3.15), math.log(24), math.log(3.0)][: slopes + 1]
    y = np.log(hours / area)
    # Source, reference library: statsmodels OLS, get_prediction with obs, alpha 0.1.
    fit = sm.OLS(y, np.column_stack(columns)).fit()
    low, high = fit.get_prediction(np.array([new])).conf_int(obs=True, alpha=0.1)[0]
    centre = fit.predict(np.array([new]))[0]
    h = got["hours"]
    assert len(h["model"]["columns"]) == slopes
    assert h["likely"] == pytest.approx(3 * math.exp(centre), rel=1e-8)
    assert (h["low"], h["high"]) == pytest.approx((3 * math.exp(low), 3 * math.exp(high)), rel=1e-7)
    assert h["model"]["coefficients"] == pytest.approx(list(fit.params), rel=1e-7, abs=1e-9)
    assert h["model"]["deviation"] == pytest.approx(math.sqrt(fit.mse_resid), rel=1e-8)
    residuals = [p["residual"] for p in got["pieces"]]
    assert residuals == pytest.approx(list(fit.resid), rel=1e-6, abs=1e-9)
    if fit.df_resid > 1:
        # Source, reference library: statsmodels, fitted anew without each piece.
        inside = 0
        for i, p in enumerate(got["pieces"]):
            keep = np.arange(n) != i
            x = np.column_stack(columns)
            without = sm.OLS(y[keep], x[keep]).fit()
            ends = without.get_prediction(x[[i]]).conf_int(obs=True, alpha=0.1)[0]
            o = p["from_the_others"]
            assert (o["low"], o["high"]) == pytest.approx(tuple(np.exp(ends) * area[i]), rel=1e-6)
            inside += ends[0] <= y[i] <= ends[1]
        assert got["coverage"] == {"inside": inside, "of": n}


def test_the_interval_of_few_pieces_is_that_of_scipy(tmp_path):
    home = tmp_path / "studio"
    pieces = invented(4, 77)
    archive_of(home, pieces)
    got = json.loads(run(PROGRAM, "estimate", home, "--height", "1 m", "--width", "1 m", "--level", "80", "--json"))
    rates = np.log([sum(p[4]) / (p[0] * p[1] / 1e4) for p in pieces])
    # Source, reference library: scipy.stats.t; the prediction interval of a mean.
    half = stats.t.ppf(0.9, 3) * rates.std(ddof=1) * math.sqrt(1 + 1 / 4)
    assert got["hours"]["low"] == pytest.approx(math.exp(rates.mean() - half), rel=1e-8)
    assert got["hours"]["high"] == pytest.approx(math.exp(rates.mean() + half), rel=1e-8)
    # The price is the hours, whole, at the rate; no piece tells its materials.
    assert got["price"]["likely"] == f"{round(got['hours']['likely']) * 30}.00 GBP"


def test_months_of_a_week_s_hours_and_the_window_follow(tmp_path):
    home = tmp_path / "studio"
    archive_of(home, invented(5, 5))
    asked = ["--height", "150 cm", "--width", "200 cm", "--hours-a-week", "30", "--start", "2027-01-11"]
    got = json.loads(run(PROGRAM, "estimate", home, *asked, "--json"))
    import datetime

    assert got["weeks"]["high"] == pytest.approx(got["hours"]["high"] / 30)
    assert got["months"]["high"] == pytest.approx(got["weeks"]["high"] * 7 / (365.2425 / 12))
    # Source, reference library: Python's datetime.
    for end in ["low", "high"]:
        days = math.ceil(got["weeks"][end] * 7)
        day = datetime.date(2027, 1, 11) + datetime.timedelta(days=days - 1)
        assert got["window"][{"low": "from", "high": "to"}[end]] == day.isoformat()


def test_warp_and_weft_are_the_arithmetic_of_the_loom(tmp_path):
    home = tmp_path / "studio"
    pieces = [(100, 100, 3, 4, [5.0] * 10)] * 3
    archive_of(home, pieces)
    got = json.loads(run(PROGRAM, "estimate", home, "--height", "150 cm", "--width", "200 cm", "--colours", "4", "--json"))
    # Source, exact case: three equal pieces; 3 m² holds three times their weft of 100 + 110 + 120 + 130 g.
    assert got["weft"]["held_g"]["likely"] == pytest.approx(3 * 460)
    assert got["weft"]["order_g"] == pytest.approx([3 * g * 1.15 for g in (130, 120, 110, 100)])
    # Width in the loom is the finished one, so no draw-in; Ne 12/15 is 15 × 590.5 / 12 tex (ASTM D861, from memory).
    w = got["warp"]
    assert w["ends"] == 600 and w["width_mm"] == pytest.approx(2000)
    assert w["mass_g"] == pytest.approx(w["length_m"] * 15 * 590.541 / 12 / 1000, rel=1e-4)


def test_two_pieces_give_no_interval_and_say_so(tmp_path):
    home = tmp_path / "studio"
    archive_of(home, invented(2, 3))
    got = json.loads(run(PROGRAM, "estimate", home, "--height", "1 m", "--width", "1 m", "--json"))
    assert got["hours"]["low"] is None and got["hours"]["likely"] > 0
    said = run(PROGRAM, "estimate", home, "--height", "1 m", "--width", "1 m")
    assert "no interval" in said


def test_a_quote_holds_nothing_of_other_clients_nor_of_the_hour(archive, tmp_path):
    asked = ["--height", "150 cm", "--width", "200 cm", "--sett", "8 epi", "--colours", "24", "--out", tmp_path]
    run(PROGRAM, "estimate", archive, *asked, "--quote", "sea-gate", "--client", "M. Tallowby", "--title", "Sea Gate")
    pdf = tmp_path / "quotes/sea-gate.pdf"
    said = run("pdftotext", "-layout", pdf, "-")
    assert "page 1 of 1" in said and "Sea Gate" in said and "M. Tallowby" in said
    for private in ["Merrin", "11400", "28 GBP", "hour", "Slack Water", "Tide Tables"]:
        assert private not in said, private
    run("qpdf", "--check", pdf)


@pytest.mark.parametrize("languages,paper", [("de, fi", "A4"), ("fr, es", "letter")])
def test_a_quote_is_one_page_in_two_languages_too(archive, tmp_path, languages, paper):
    import shutil

    home = tmp_path / "studio"
    shutil.copytree(archive, home, ignore=shutil.ignore_patterns("finished"))
    studio = (home / "studio.yaml").read_text().replace("languages: [en]", f"languages: [{languages}]")
    (home / "studio.yaml").write_text(studio.replace("paper: A4", f"paper: {paper}"))
    asked = ["--height", "150 cm", "--width", "200 cm", "--hours-a-week", "30", "--start", "2027-01-11"]
    title = "A very long title for a tapestry that is not woven yet, in three lines or more"
    run(PROGRAM, "estimate", home, *asked, "--quote", "long", "--client", "M. Tallowby", "--title", title)
    assert "Pages:           1" in run("pdfinfo", home / "finished/quotes/long.pdf")
