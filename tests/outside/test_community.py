"""The papers of a piece made by many: who is named, who is not, and whether the map is true.

Names are read from the roll with Python's csv, the order is that of pyuca, and the map is measured on rendered pages.
"""

import csv
import io
import json
import re
import subprocess
import sys
import zipfile

import numpy as np
import pikepdf
import pytest
import pyuca
import yaml

from conftest import PROGRAM, run
from test_privacy import PUBLIC, everything_said
from test_true_size import Page, WITHIN, mm, read, same, sides

MANY = ["every-kitchen-window", "many-hands-shore"]
NEW = "every-kitchen-window"
FOR_ALL = ["credits-panel.pdf", "squares-map.pdf"]
PAPERS = ["credits-panel.pdf", "roll.pdf", "squares-list.pdf", "squares-map.pdf", "thanks-sheets.pdf"]


def roll(archive, slug):
    """Everybody on the roll, from piece.yaml and the table beside it."""
    makers = read(archive, slug)["makers"]
    said = {True: "yes", False: "no"}
    people = [m | {"consent": said.get(m.get("consent"), m.get("consent"))} for m in makers.get("roll") or []]
    if makers.get("roll_file"):
        text = (archive / "pieces" / slug / makers["roll_file"]).read_text("utf-8")
        # Source, reference library: Python's csv.
        people += list(csv.DictReader(io.StringIO(text, newline="")))
    return people


def withheld(archive, slug):
    return [p["name"] for p in roll(archive, slug) if p["consent"] != "yes"]


@pytest.fixture(scope="module")
def made(archive):
    """Each piece's folder, and what the command printed for machines."""
    out = {}
    for slug in MANY:
        said = run(PROGRAM, "community", archive, slug, "--json")
        out[slug] = (archive / "finished/community" / slug, said)
    return out


def pages(pdf):
    with pikepdf.open(pdf) as file:
        return len(file.pages)


def text(pdf, *more):
    return run("pdftotext", *more, pdf, "-")


def test_every_paper_is_whole_tagged_and_archival(made):
    papers = [folder / name for folder, _ in made.values() for name in PAPERS]
    for paper in papers:
        # Source, reference library: qpdf --check; pikepdf for the claims of ISO 19005-3 and ISO 14289-1 (from memory).
        run("qpdf", "--check", paper)
        with pikepdf.open(paper) as pdf, pdf.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"], meta["pdfuaid:part"]) == ("3", "A", "1"), paper
            assert pdf.Root.MarkInfo.Marked and str(pdf.Root.Lang), paper
    pytest.importorskip("pdfua")
    # Source, reference library: pdfua; exit code 0 is no finding.
    run(sys.executable, "-m", "pdfua", "check", *papers)


def test_the_sample_has_people_to_be_kept_unnamed(archive):
    for slug in MANY:
        people = roll(archive, slug)
        kept = [p for p in people if p["consent"] != "yes"]
        assert {p["age"] for p in kept} == {"adult", "minor"} and {p["consent"] for p in kept} == {"no", "unknown"}
    assert len(roll(archive, NEW)) == 80 and sum(p["age"] == "minor" for p in roll(archive, NEW)) == 20


def test_nobody_who_did_not_agree_is_named_in_anything_for_the_public(archive, finished, made):
    looked_at = 0
    for slug in MANY:
        folder, printed = made[slug]
        names = withheld(archive, slug)
        assert len(names) >= 8
        papers = [folder / n for n in FOR_ALL] + [finished / slug / n for n in PUBLIC]
        said = {p: everything_said(p) for p in papers}
        said |= {p: p.read_text("utf-8") for p in (finished / slug / "record.json", folder / "community.json")}
        said["printed"] = printed
        for plate in (finished / slug / "plates").rglob("*"):
            if plate.is_file():
                said[plate] = plate.name + subprocess.run(["exiftool", "-a", "-G", plate], capture_output=True, text=True).stdout
                said[plate] += plate.read_bytes().decode("latin-1")
        for where, all_of_it in said.items():
            for name in names:
                assert name not in all_of_it, (where, name)
            looked_at += 1
        # The studio's own papers have them all, so the search can find what it looks for.
        for own in ("roll.pdf", "thanks-sheets.pdf"):
            there = everything_said(folder / own)
            assert all(name in there for name in names), own
    assert looked_at > 20


def test_an_owners_edition_names_nobody_who_did_not_agree(archive, finished, tmp_path):
    editions = sorted((finished / "bundles").glob("*.owner.zip"))
    assert editions
    names = [n for slug in MANY for n in withheld(archive, slug)]
    for edition in editions:
        with zipfile.ZipFile(edition) as z:
            for info in z.infolist():
                inside = z.read(info)
                if info.filename.endswith(".pdf"):
                    (tmp_path / "paper.pdf").write_bytes(inside)
                    said = everything_said(tmp_path / "paper.pdf")
                else:
                    said = inside.decode("utf-8", "replace")
                for name in names:
                    assert name not in said and name not in info.filename, (edition, info.filename, name)


def test_findings_about_consent_show_no_name(archive):
    done = subprocess.run([PROGRAM, "check", archive], capture_output=True, text=True)
    told = done.stdout + done.stderr
    assert "consent-withheld" in told and "consent-unknown" in told
    for block in re.split(r"\n\n", told):
        if NEW in block and "consent" in block.splitlines()[0]:
            for person in roll(archive, NEW):
                assert person["name"] not in block, block


def columns(pdf):
    """Names on the panel in the order of reading: sheet by sheet, column by column, lines that go on put together."""
    out = []
    for page in range(1, pages(pdf) + 1):
        html = run("pdftotext", "-bbox-layout", "-f", page, "-l", page, pdf, "-")
        for line in re.findall(r"<line [^>]*>(.*?)</line>", html, re.S):
            words = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]+)<', line)
            x, y, foot = (float(v) for v in words[0][:3])
            out.append((page, x, y, foot - y, " ".join(w[3] for w in words)))
    return out


def test_everybody_who_agreed_stands_on_the_panel_once_in_the_order_of_the_alphabet(archive, made):
    # Source, reference library: pyuca, the order of the Unicode collation algorithm (UTS #10).
    key = pyuca.Collator().sort_key
    for slug in MANY:
        named = [p for p in roll(archive, slug) if p["consent"] == "yes"]

        def sorting(person):
            *before, last = person["name"].split()
            by = person.get("sort") or " ".join([last, *before])
            return key(by.split()[0]), key(by)

        wanted = [p["name"] for p in sorted(named, key=sorting)]
        said = " ".join(text(made[slug][0] / "credits-panel.pdf").split())
        places = [said.find(name) for name in wanted]
        assert all(said.count(name) == 1 for name in wanted), [n for n in wanted if said.count(n) != 1]
        assert places == sorted(places), slug
        others = len(roll(archive, slug)) - len(named)
        assert re.search(rf"\b{others} others\b", said), slug


def test_the_panel_is_set_to_be_read_from_one_and_a_half_metres(made):
    for slug in MANY:
        panel = made[slug][0] / "credits-panel.pdf"
        with pikepdf.open(panel) as pdf:
            for page in pdf.pages:
                # Source, published: ISO 216: A3 is 297 mm by 420 mm.
                assert np.allclose([float(v) * 25.4 / 72 for v in page.mediabox[2:]], [420, 297], atol=0.1)
        lines = [r for r in columns(panel) if r[4][0].isalpha() and r[3] > 12]
        assert lines
        # Source, common practice: three times the 5 minutes of arc of 6/6 vision at 1.5 m is 6.5 mm; capitals of the
        # face are 0.65 of its size, so 28 points. A line as Poppler tells it is at least as tall as the type.
        tall = [r[3] for r in lines if r[4].split()[0] in {p.split()[0] for p in ("Lionel", "Isolde", "Tobias")}]
        assert tall and min(tall) >= 28, tall


def test_the_map_is_true_to_its_scale_from_both_sides(archive, made, tmp_path):
    for slug in MANY:
        pdf = made[slug][0] / "squares-map.pdf"
        piece = read(archive, slug)
        squares = piece["makers"]["squares"]
        border = mm(squares["border"]) if "border" in squares else 0.0
        for number in (2, 3):
            page = Page(pdf, tmp_path, number)
            (scale,) = set(page.scales())
            wide, high = (side / scale for side in sides(piece))
            # Source, exact case: the measures in piece.yaml over the scale in words.
            left, top, w, h = page.box(wide, high)
            same(w, wide)
            same(h, high)
            # Source, exact case: equal squares inside the border.
            one = (wide - 2 * border / scale) / squares["columns"]
            for c in range(1, squares["columns"]):
                x = left + border / scale + c * one
                assert any(abs(u[0] - x) <= WITHIN for u in page.upright), (slug, number, c)
            one = (high - 2 * border / scale) / squares["rows"]
            for r in range(1, squares["rows"]):
                y = top + border / scale + r * one
                assert any(abs(u[0] - y) <= WITHIN for u in page.level), (slug, number, r)
            # Source, exact case: the ruler's own words over the scale.
            length, unit = re.search(r"(\d+(?:\.\d+)?)\s(m|cm|mm)\s+(?:A square|From behind)", page.text).groups()
            ruler = float(length) * {"m": 1000, "cm": 10, "mm": 1}[unit] / scale
            found = page.line(ruler, lambda y, *_: y > top + h + 6)
            same(found[2] - found[1], ruler)


def places(pdf, page):
    html = run("pdftotext", "-bbox", "-f", page, "-l", page, pdf, "-")
    found = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(\d+)[\u2011-](\d+)<', html)
    return {(int(r), int(c)): ((float(a) + float(b)) / 2, (float(t) + float(f)) / 2) for a, t, b, f, r, c in found}


def test_from_behind_every_square_stands_where_a_mirror_would_show_it(archive, made):
    for slug in MANY:
        pdf = made[slug][0] / "squares-map.pdf"
        squares = read(archive, slug)["makers"]["squares"]
        front, back = places(pdf, 2), places(pdf, 3)
        assert set(front) == {(r, c) for r in range(1, squares["rows"] + 1) for c in range(1, squares["columns"] + 1)}
        assert set(front) == set(back)
        middles = [front[at][0] + back[at][0] for at in front]
        # Source, exact case: a mirror keeps the sum of both places across, and the height.
        assert max(middles) - min(middles) < 2 * WITHIN * 72 / 25.4
        assert all(abs(front[at][1] - back[at][1]) < 0.5 for at in front)
        assert front[1, 1][0] < front[1, 2][0] and back[1, 1][0] > back[1, 2][0] and front[1, 1][1] < front[2, 1][1]


def test_the_map_names_nobody_at_all(archive, made):
    for slug in MANY:
        said = everything_said(made[slug][0] / "squares-map.pdf")
        # The weaver signs her papers, also where she is a maker among others.
        weaver = yaml.safe_load((archive / "studio.yaml").read_text())["weaver"]
        assert not [p["name"] for p in roll(archive, slug) if p["name"] in said and p["name"] != weaver]


def test_the_list_of_squares_is_the_map_as_python_reads_it(archive, made):
    for slug in MANY:
        source = (archive / "pieces" / slug / "squares.csv").read_text("utf-8")
        people = {p["name"]: p for p in roll(archive, slug)}
        wanted = []
        # Source, reference library: Python's csv.
        for row in csv.DictReader(io.StringIO(source, newline="")):
            for name in row["maker"].split(" + "):
                wanted.append((int(row["row"]), int(row["column"]), name, people[name]["age"], people[name]["consent"], row["motif"]))
        raw = (made[slug][0] / "squares.csv").read_bytes()
        # Source, published: RFC 4180, section 2.1: lines end with CRLF.
        assert raw.count(b"\r\n") == raw.count(b"\n")
        listed = [
            (int(r["row"]), int(r["column"]), r["maker"], r["age"], r["consent"], r["motif"])
            for r in csv.DictReader(io.StringIO(raw.decode("utf-8"), newline=""))
        ]
        assert sorted(listed) == sorted(wanted)
        assert [w[:2] for w in listed] == sorted(w[:2] for w in listed)


def test_each_sheet_of_thanks_is_for_one_person_with_their_squares(archive, made):
    for slug in MANY:
        folder = made[slug][0]
        rows = list(csv.DictReader(io.StringIO((folder / "squares.csv").read_text("utf-8"), newline="")))
        people = roll(archive, slug)
        pdf = folder / "thanks-sheets.pdf"
        sheets = text(pdf).split("\f")[: pages(pdf)]
        assert len(sheets) == len(people) + 1
        assert "Private" in sheets[0] and not [p["name"] for p in people if p["name"] in sheets[0]]
        left = {p["name"]: p for p in people}
        for sheet in sheets[1:]:
            said = " ".join(sheet.split()).replace("\u2011", "-")
            (name,) = [n for n in left if re.search(rf"(For|guardian of) {re.escape(n)} ", said)]
            person = left.pop(name)
            assert ("parent or guardian" in said) == (person["age"] == "minor"), name
            assert not [n for n in left if n in said], (name, "another name on the sheet")
            wanted = {f"{r['row']}-{r['column']}" for r in rows if r["maker"] == name}
            assert set(re.findall(r"\b\d+-\d+\b", said)) == wanted, name
        assert not left


def test_the_wall_by_its_squares_can_be_reckoned_by_hand(archive, made):
    folder, _ = made[NEW]
    figures = {f["name"]: f for f in json.loads((folder / "community.json").read_text())["figures"]}
    piece = read(archive, NEW)
    s = piece["makers"]["squares"]
    lost = float(str(s["shrinkage"]).rstrip(" %")) / 100
    for name, n, field in (("height", s["rows"], "height"), ("width", s["columns"], "width")):
        # Source, exact case: n squares less what the wash takes, less the seams, and the border twice.
        by_hand = n * mm(s["side"]) * (1 - lost) - (n - 1) * mm(s["seam_takes"]) + 2 * mm(s["border"])
        # Figures are kept to two digits more than their doubt.
        assert abs(figures[f"community.{name}"]["value"] - by_hand) < figures[f"community.{name}"]["u"] / 50
        assert abs(figures[f"community.{name}_differs"]["value"]) < 20
    # Source, exact case: the scale's kilograms over 96 squares.
    assert abs(figures["community.mass_a_square"]["value"] - 10.72 / 96) < 1e-4
    # Source, published: 9.80665 m/s², third General Conference on Weights and Measures, 1901.
    load = 10.72 * 9.80665 / (max(mm(w) for w in piece["measured"]["width"]) / 1000)
    assert abs(figures["community.load"]["value"] - load) < 0.2
    assert "local codes" in figures["community.load"]["caution"] or "licensed" in figures["community.load"]["caution"]


def thrown(archive, tmp_path, count, rows, wide, languages):
    """A studio with a piece by so many people, of names of every length."""
    home = tmp_path / f"studio-{count}"
    folder = home / "pieces/many"
    folder.mkdir(parents=True)
    (home / "studio.yaml").write_text(yaml.safe_dump({"studio": "Test Loom", "weaver": "Ada Reed", "languages": languages}))
    ends = ["ash", "barrow", "croft", "dale", "ey", "ford", "gate", "holme", "ing", "ness"]
    names = [f"{ends[i % 10].title()}{ends[i // 10 % 10]} {ends[i // 7 % 10].title()}{ends[i % 9]}{ends[i // 90 % 10]}" for i in range(count)]
    names = [f"{n} {i}" for i, n in enumerate(names)]
    with open(folder / "roll.csv", "w", newline="") as out:
        csv.writer(out).writerows([("name", "age", "consent"), *((n, "adult", "yes") for n in names)])
    with open(folder / "squares.csv", "w", newline="") as out:
        csv.writer(out).writerows([names[(r * wide + c) % count] for c in range(wide)] for r in range(rows))
    (folder / "piece.yaml").write_text(yaml.safe_dump({
        "title": "Five Hundred Doors", "made": "2026", "warp": {"fibre": {"cotton": 100}}, "weft": [{"fibre": {"wool": 100}}],
        "measured": {"height": f"{rows * 30} cm", "width": f"{wide * 30} cm"},
        "makers": {"roll_file": "roll.csv", "squares": {"rows": rows, "columns": wide, "side": "30 cm", "map": "squares.csv"}},
    }, sort_keys=False))
    run(PROGRAM, "community", home, "many")
    return home / "finished/community/many", names


@pytest.mark.parametrize("count,rows,wide,languages", [(500, 20, 25, ["en", "fr"]), (12, 3, 4, ["de"])])
def test_many_names_and_few_all_stand_on_the_panel_within_its_edges(archive, tmp_path, count, rows, wide, languages):
    folder, names = thrown(archive, tmp_path, count, rows, wide, languages)
    panel = folder / "credits-panel.pdf"
    said = " ".join(text(panel).split())
    assert all(len(re.findall(rf"{re.escape(n)}(?!\d)", said)) == 1 for n in names)
    assert pages(panel) <= 16
    for page in range(1, pages(panel) + 1):
        html = run("pdftotext", "-bbox", "-f", page, "-l", page, panel, "-")
        boxes = np.array([[float(v) for v in m] for m in re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', html)])
        assert boxes[:, 0].min() > 40 and boxes[:, 2].max() < 1190.6 - 40 and boxes[:, 3].max() < 841.9 - 20
