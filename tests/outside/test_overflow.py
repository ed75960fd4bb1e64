"""Texts of every length: nothing is printed outside the margins, and no page is blank.

The pieces are made here from a fixed seed. The words are read back with pdftotext -bbox of Poppler.
"""

import random
import re
import subprocess

import pytest
import yaml
from PIL import Image

from conftest import PROGRAM, run

PIECES = 24
WORDS = (
    "tide buoy warp weft slack water ebb the a of and harbour mark shuttle bobbin over under between linen "
    "grey-green Wattenmeer Höhenlinie pääsiäisyö señal Łódź İstanbul Θάλασσα dreiundzwanzigtausend"
).split()
SECRETS = ["Zebedee Quillfast", "9 Unlisted Row", "77123 GBP"]


def text(rng, words):
    out = []
    while len(out) < words:
        out += [rng.choice(WORDS) for _ in range(rng.randint(4, 18))] + ["."]
    return " ".join(out[:words]).replace(" .", ".").capitalize()


def piece(rng, i):
    title = "W" * rng.randint(40, 300) if i == 5 else text(rng, 60)[: rng.choice([1, 12, 60, 140, 300])].strip(" .")
    yarns = [0, 1, 12, 40][i % 4]
    said = [0, 3, 40, 300, 1200, 6000][i % 6]
    height, width = rng.choice([(40, 40), (214, 60), (50, 310), (120, 166)])
    made = {
        "title": title or "T",
        "made": rng.choice(["1994~", "2026-03/2026-06", "199X", "2024-06-01", "1993?/1995"]),
        "warp": {"yarn": text(rng, rng.randint(1, 12)).strip("."), "count": "Ne 12/15", "fibre": {"cotton": 100}},
        "weft": [
            {"name": text(rng, rng.randint(1, 4)).strip("."), "count": "NeW 2/8", "fibre": {"wool": 100}, "used": "0.1 kg"}
            for _ in range(yarns or 1)
        ],
        "measured": {"height": f"{height} cm", "width": f"{width} cm"},
        "owners": [{"from": "1999", "public": "Private collection", "name": SECRETS[0], "address": SECRETS[1]}],
        "money": {"price": SECRETS[2]},
    }
    if yarns == 0:
        # The least a piece may say of its weft.
        made["weft"] = [{"fibre": {"wool": 100}}]
    if said:
        made["statement"] = "\n\n".join(text(rng, min(said, 120)) for _ in range(max(1, said // 120)))
    if i % 3 == 0:
        made["technique"] = text(rng, 14)
        made["credits"] = [{"what": text(rng, 9), "who": text(rng, 3)} for _ in range(i % 7)]
        made["inscription"] = text(rng, 20)
    photos = [0, 1, 2, 60][(i // 2) % 4]
    if photos:
        made["photos"] = [
            {"file": f"{n}.jpg", "view": "front" if n == 0 else "detail", "alt": f"View {n}.", "credit": text(rng, 4)}
            for n in range(photos)
        ]
    return made, photos, (width, height)


@pytest.fixture(scope="module")
def odd(tmp_path_factory):
    rng = random.Random(20261125)
    home = tmp_path_factory.mktemp("odd") / "studio"
    for i in range(PIECES):
        made, photos, (width, height) = piece(rng, i)
        folder = home / "pieces" / f"p{i:02}"
        (folder / "photos").mkdir(parents=True)
        (folder / "piece.yaml").write_text(yaml.safe_dump(made, allow_unicode=True, sort_keys=False))
        for n in range(photos):
            Image.new("RGB", (width * 4, height * 4), (n * 4, 90, 120)).save(folder / "photos" / f"{n}.jpg")
    return home


# Two languages crowd a page most; one alone leaves most white.
@pytest.mark.parametrize("languages, tape, sheet", [(["en"], "50 mm", "A4"), (["de", "fi"], "60 mm", "letter"),
                                                    (["fr", "es"], "70 mm", "A4")])
def test_nothing_is_printed_outside_the_margins_and_no_page_is_blank(odd, tmp_path, languages, tape, sheet):
    (odd / "studio.yaml").write_text(yaml.safe_dump({
        "studio": "Brackwater Tapestry", "weaver": "Ottilie Brackwater", "place": "Saltby Quay",
        "contact": "studio@brackwater.example", "languages": languages, "tape": tape, "paper": sheet,
    }))
    done = subprocess.run([str(PROGRAM), "finish", str(odd), "--out", str(tmp_path / "out")], capture_output=True, text=True)
    assert done.returncode in (0, 1), done.stderr
    papers = sorted(p for p in (tmp_path / "out").glob("p*/*.pdf"))
    assert len(papers) == 9 * PIECES, done.stdout + done.stderr
    for paper in papers:
        # Source, reference library: pdftotext -bbox of Poppler.
        boxes = run("pdftotext", "-bbox", paper, "-")
        pages = boxes.split("<page ")[1:]
        for number, page in enumerate(pages, 1):
            width, height = (float(x) for x in re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
            words = [(tuple(map(float, m[:4])), m[4]) for m in re.findall(
                r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page)]
            assert words, f"{paper} page {number} is blank"
            if paper.name == "care-label-single.pdf":
                left = right = top = bottom = 7 * 72 / 25.4
            else:
                left, right = width * 34 / 210, width * 26 / 210
                top, bottom = height * 24 / 297, height * 10 / 297
            if number > 1:
                # Further pages have a running head above the text.
                top = 10 * 72 / 25.4 + 9
            for (x0, y0, x1, y1), word in words:
                # A letter's box is larger than what is seen of it: half a line upwards and downwards. A full
                # stop or a hyphen at a line's end hangs into the margin, on purpose: 3.5 pt at most.
                assert x0 >= left - 1.5 and x1 <= width - right + 3.5, (paper, number, word, x0, x1, width)
                assert y0 >= top - 9 and y1 <= height - bottom + 9, (paper, number, word, y0, y1)
            if not paper.name.startswith("care-label"):
                # Pages count up: where a layout never comes to rest, they do not.
                foot = " ".join(word for (_, _, _, y1), word in words if y1 > height * 0.93)
                counted = re.search(r"(\d+)(?: (?:of|von|sur|de) |/)(\d+)", foot.split("Tapestry")[-1])
                assert counted and counted.groups() == (str(number), str(len(pages))), (paper, foot)
            # More than the foot: something of the piece is on every page.
            if paper.name != "care-label-single.pdf":
                assert any(box[3] < height * 0.9 for box, _ in words), f"{paper} page {number} has only its foot"
        if paper.name == "certificate.pdf":
            assert len(pages) <= 2, paper
        plain = run("pdftotext", paper, "-")
        raw = paper.read_bytes()
        # The owner's papers name the owner, the owner's sheet the price; the studio's own has everything.
        grouped = [SECRETS[0], SECRETS[1], "77 123 GBP", SECRETS[2]]
        allowed = {
            "certificate.pdf": grouped[:1], "condition-sheet.pdf": grouped[:1],
            "owner-sheet.pdf": [grouped[0]] + grouped[2:], "studio-sheet.pdf": grouped,
        }.get(paper.name, [])
        for secret in grouped:
            if secret not in allowed:
                assert secret not in plain.replace("\u202f", " "), (paper, secret)
                assert secret.encode() not in raw, (paper, secret)
