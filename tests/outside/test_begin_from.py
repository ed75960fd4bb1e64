"""Lists and photographs taken in: what openpyxl and odfpy wrote into workbooks is what PyYAML reads in the folders made,
and photographs with dates by Pillow are grouped by them."""

import datetime
import json
import random
import subprocess

import numpy as np
import openpyxl
import pytest
import yaml
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from PIL import Image

from conftest import PROGRAM, run

HEAD = ["Title", "Finished", "Height (cm)", "Width (cm)", "Weight (kg)", "Technique", "Price (GBP)", "Owner", "Shelf"]
TITLES = [
    "The Sea Door", "1984", "yes", "No: 5 # grey", "Größe “oben”", "海の扉", "- dash", "=cmd|' /C calc'!A0", "12:30",
    "0x1F", "{a: b}", "'quoted'", "~", "null", "1e3", "*anchor", "50 % grey",
]


def works():
    dice = random.Random(5)
    rows = []
    for title in TITLES:
        day = datetime.date(dice.randrange(1985, 2026), dice.randrange(1, 13), dice.randrange(1, 29))
        height, width = dice.randrange(200, 3000) / 10, dice.randrange(20, 300)
        rows.append([title, day, height, width, dice.choice([None, 2.35]), "slit tapestry", 1200, "Corwin Hale", "A/3"])
    return rows


def xlsx(path, rows):
    book = openpyxl.Workbook()
    book.active.title = "Clients"
    sheet = book.create_sheet("Works")
    sheet.append(HEAD)
    for at, row in enumerate(rows, 2):
        sheet.append([None] + row[1:])
        # Titles that begin with = are text here, not formulas.
        cell = sheet.cell(at, 1)
        cell.value = row[0]
        cell.data_type = "s"
    book.save(path)


def ods(path, rows):
    book = OpenDocumentSpreadsheet()
    table = Table(name="Works")
    for row in [HEAD] + rows:
        line = TableRow()
        for value in row:
            match value:
                case None:
                    cell = TableCell()
                case datetime.date():
                    cell = TableCell(valuetype="date", datevalue=value.isoformat())
                case int() | float():
                    cell = TableCell(valuetype="float", value=value)
                case _:
                    cell = TableCell(valuetype="string")
            if value is not None:
                cell.addElement(P(text=str(value)))
            line.addElement(cell)
        table.addElement(line)
    book.spreadsheet.addElement(table)
    book.save(path)


@pytest.mark.parametrize("write,ending", [(xlsx, "xlsx"), (ods, "ods")])
def test_what_was_written_into_a_workbook_is_read_in_the_folders(tmp_path, write, ending):
    rows = works()
    book = tmp_path / f"works.{ending}"
    write(book, rows)
    told = json.loads(run(PROGRAM, "begin", tmp_path / "studio", "--from", book, "--json"))
    assert told["sheet"] == "Works"
    assert len(told["rows"]) == len(rows)
    for row, became in zip(rows, told["rows"]):
        title, day, height, width, mass, technique, price, owner, shelf = row
        folder = tmp_path / "studio" / "pieces" / became["piece"]
        # Source, reference library: PyYAML 6 reads the file, openpyxl 3 and odfpy 1.4 wrote the cells.
        piece = yaml.safe_load((folder / "piece.yaml").read_text())
        assert piece["title"] == title
        assert piece["made"] == day
        assert piece["measured"]["height"] == f"{height:g} cm"
        assert piece["measured"]["width"] == f"{width} cm"
        assert piece["measured"].get("mass") == (f"{mass:g} kg" if mass else None)
        assert piece["technique"] == technique
        assert piece["money"] == {"price": f"{price} GBP"}
        assert piece["owners"][0]["name"] == owner
        assert f"> Shelf: {shelf}" in (folder / "notes.md").read_text()


def test_a_formula_that_was_never_reckoned_is_told_and_left_out(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["Title", "Height (cm)"])
    # Source, reference library: openpyxl writes formulas without their results.
    book.active.append(["Ebb", "=100+20"])
    book.save(tmp_path / "works.xlsx")
    done = subprocess.run(
        [PROGRAM, "begin", tmp_path / "studio", "--from", tmp_path / "works.xlsx"], capture_output=True, text=True
    )
    assert done.returncode == 1
    assert "B2" in done.stderr and "formula without its result" in done.stderr
    piece = yaml.safe_load((tmp_path / "studio/pieces/ebb/piece.yaml").read_text())
    assert piece["measured"]["height"] is None


@pytest.mark.parametrize("shown,made", [("mmm yyyy", "2019-03"), ("mmm-yy", "2019-03"), ("yyyy", 2019),
                                        ("dd.mm.yyyy", datetime.date(2019, 3, 1))])
def test_a_date_cell_says_no_more_than_it_shows(tmp_path, shown, made):
    book = openpyxl.Workbook()
    book.active.append(["Title", "Made"])
    book.active.append(["Ebb", datetime.date(2019, 3, 1)])
    # Source, reference library: openpyxl writes the number format of ECMA-376.
    book.active["B2"].number_format = shown
    book.save(tmp_path / "works.xlsx")
    run(PROGRAM, "begin", tmp_path / "studio", "--from", tmp_path / "works.xlsx")
    assert yaml.safe_load((tmp_path / "studio/pieces/ebb/piece.yaml").read_text())["made"] == made


def test_a_cell_at_the_far_end_of_a_sheet_asks_for_no_memory(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["Title", "Height (cm)"])
    book.active.append(["Ebb", 120])
    book.active.cell(1_048_576, 2).value = 1
    book.save(tmp_path / "works.xlsx")
    done = subprocess.run(
        ["bash", "-c", 'ulimit -v 2000000; exec "$@"', "-", PROGRAM, "begin", tmp_path / "studio", "--from",
         tmp_path / "works.xlsx", "--dry-run"], capture_output=True, text=True)
    assert "ebb" in done.stdout, done.stderr
    assert done.returncode in (0, 1)


def photograph(path, colours, moment, dice):
    """Bands of a few colours with a weave's grain, and the moment it was taken."""
    bands = np.repeat(np.array([dice.choice(colours) for _ in range(30)], float), 20, axis=0)
    grain = np.random.default_rng(dice.randrange(10**6)).normal(0, 6, (600, 800, 3))
    pixels = np.clip(np.repeat(bands[:, None, :], 800, axis=1) + grain, 0, 255).astype("uint8")
    image = Image.fromarray(pixels)
    exif = Image.Exif()
    if moment:
        # Source, published: CIPA DC-008 (EXIF), tag 0x9003 DateTimeOriginal in the IFD of tag 0x8769.
        exif.get_ifd(0x8769)[0x9003] = moment
    image.save(path, quality=90, exif=exif)


RED = [(150, 40, 30), (190, 70, 50), (120, 30, 40)]
BLUE = [(30, 60, 130), (40, 90, 160), (20, 40, 90)]


def test_photographs_are_grouped_by_day_and_colours_in_whatever_order_they_lie(tmp_path):
    dice = random.Random(9)
    wanted = {
        "draft-2024-05-03-a": {"k.jpg": (RED, "2024:05:03 09:00:00"), "b.jpg": (RED, "2024:05:03 09:20:00")},
        "draft-2024-05-03-b": {"a.jpg": (BLUE, "2024:05:03 10:00:00"), "m.jpg": (BLUE, "2024:05:03 10:01:00")},
        "draft-2024-06-01-a": {"c.jpg": (RED, "2024:06:01 08:00:00")},
    }
    files = [(n, *how) for group in wanted.values() for n, how in group.items()]
    answers = []
    for turn in range(2):
        home = tmp_path / f"turn{turn}"
        (home / "loose").mkdir(parents=True)
        made = random.Random(3)
        pictures = {}
        for name, colours, moment in files:
            photograph(tmp_path / name, colours, moment, made)
            pictures[name] = (tmp_path / name).read_bytes()
        order = list(pictures)
        dice.shuffle(order)
        for name in order:
            (home / "loose" / name).write_bytes(pictures[name])
        told = json.loads(run(PROGRAM, "begin", home / "studio", "--from", home / "loose", "--json"))
        answers.append(told)
        found = {g["piece"]: {p["from"] for p in g["photos"]} for g in told["groups"]}
        assert found == {slug: set(group) for slug, group in wanted.items()}
        for slug, group in wanted.items():
            folder = home / "studio" / "pieces" / slug
            piece = yaml.safe_load((folder / "piece.yaml").read_text())
            assert {p["file"] for p in piece["photos"]} == set(group)
            assert all(p["view"] is None for p in piece["photos"])
            for name in group:
                assert (folder / "photos" / name).read_bytes() == pictures[name]
    assert answers[0] == answers[1]
