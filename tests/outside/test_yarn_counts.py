"""Yarn counts against pint's textile units.

Source: the package Pint, whose default registry has the group Textile (tex, dtex, denier, number_english,
number_meter); the systems it lacks are built there from their hank lengths in yards to the pound.
"""

import json

import pint
import pytest

from conftest import PROGRAM, run

unit = pint.UnitRegistry()


def indirect(count, plies, per):
    """Grams a kilometre of a plied yarn counted in lengths to a mass."""
    return (plies / (count * per)).to("g/km").magnitude


HANKS = {
    "Ne": 1 * unit.number_english,
    "Nm": 1 * unit.number_meter,
    "NeW": 560 * unit.yard / unit.pound,
    "NeL": 300 * unit.yard / unit.pound,
}

CASES = [
    ("Ne 12/15", indirect(12, 15, HANKS["Ne"])),
    ("Ne 12/6", indirect(12, 6, HANKS["Ne"])),
    ("Ne 8/2", indirect(8, 2, HANKS["Ne"])),
    ("Nm 8/2", indirect(8, 2, HANKS["Nm"])),
    ("Nm 7/2", indirect(7, 2, HANKS["Nm"])),
    ("Nm 60/2", indirect(60, 2, HANKS["Nm"])),
    ("NeW 2/8", indirect(8, 2, HANKS["NeW"])),
    ("NeW 12/3", indirect(12, 3, HANKS["NeW"])),
    ("NeL 16/2", indirect(16, 2, HANKS["NeL"])),
    ("NeL 8/5", indirect(8, 5, HANKS["NeL"])),
    ("silk 60/2", indirect(60, 1, HANKS["Ne"])),
    ("run 3", indirect(3, 1, 1600 * unit.yard / unit.pound)),
    ("Yorkshire 16/2", indirect(16, 2, 256 * unit.yard / unit.pound)),
    ("jute 8", (8 * unit.jute).to("g/km").magnitude),
    ("250 tex", (250 * unit.tex).to("g/km").magnitude),
    ("1200 dtex", (1200 * unit.dtex).to("g/km").magnitude),
    ("den 840", (840 * unit.denier).to("g/km").magnitude),
    ("1100 yd/lb", (1 / (1100 * unit.yard / unit.pound)).to("g/km").magnitude),
    ("700 m/kg", (1 / (700 * unit.meter / unit.kilogram)).to("g/km").magnitude),
    ("350 m/100 g", (1 / (350 * unit.meter / (100 * unit.gram))).to("g/km").magnitude),
]


@pytest.fixture(scope="module")
def reckoned(tmp_path_factory):
    """What offloom makes of every count, from a piece woven of them all."""
    archive = tmp_path_factory.mktemp("yarns")
    (archive / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    piece = archive / "pieces" / "sampler"
    piece.mkdir(parents=True)
    weft = "".join(f"  - {{name: '{c}', count: {c}, fibre: {{wool: 100}}}}\n" for c, _ in CASES)
    (piece / "piece.yaml").write_text(
        "title: Sampler\nmade: 2026\nwarp: {count: Ne 12/9, fibre: {cotton: 100}}\n"
        f"weft:\n{weft}measured: {{height: 40 cm, width: 30 cm}}\n"
    )
    run(PROGRAM, "finish", archive)
    text = (archive / "finished" / "sampler" / "reckoning.json").read_text()
    return {y["yarn"]: y["tex"] for y in json.loads(text)["yarns"]}


@pytest.mark.parametrize("count,tex", CASES)
def test_a_yarn_count_means_what_pint_says(reckoned, count, tex):
    # Source, reference library: pint, group Textile.
    assert reckoned[count] == pytest.approx(tex, rel=1e-7)
