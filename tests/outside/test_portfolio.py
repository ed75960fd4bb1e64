"""The portfolio in a browser: Chromium, driven by Playwright, judged by axe-core; its feed and site map by other readers."""

import csv
import json
import re
import shutil
import time
import xml.etree.ElementTree as ET

import feedparser
import pytest
from playwright.sync_api import sync_playwright

import axe
from conftest import PROGRAM, ROOT, run
from made import many

SIZES = {"phone": (390, 844), "tablet": (820, 1180), "desk": (1440, 900)}
ADDRESS = "https://loom.example/work/"
PIECES = sorted((ROOT / "sample-archive/pieces").glob("*/piece.yaml"))
WORKS = len(PIECES)
ISSUED = sum("\nissued:" in p.read_text() for p in PIECES)


@pytest.fixture(scope="module")
def browser():
    path = next((p for p in map(shutil.which, ["chromium", "chromium-browser", "google-chrome"]) if p), None)
    assert path, "a Chromium is needed"
    with sync_playwright() as p:
        opened = p.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield opened
        opened.close()


class Watched:
    """A page that remembers everything that should not have happened."""

    def __init__(self, browser, **settings):
        self.wrong = []
        self.page = browser.new_context(**settings).new_page()
        self.page.on("console", lambda m: self.wrong.append(f"console: {m.text}"))
        self.page.on("pageerror", lambda e: self.wrong.append(f"error: {e}"))
        self.page.on("request", self.request)
        self.page.on("requestfailed", lambda r: self.wrong.append(f"failed: {r.url}"))

    def request(self, r):
        if not r.url.startswith(("file:", "data:")):
            self.wrong.append(f"request: {r.url}")

    def open(self, path, hash=""):
        self.page.goto(path.as_uri() + hash)
        self.page.wait_for_load_state()
        return self.page


@pytest.fixture()
def watched(browser):
    made = []

    def make(**settings):
        made.append(Watched(browser, **settings))
        return made[-1]

    yield make
    for w in made:
        assert w.wrong == []
        w.page.context.close()


@pytest.fixture(scope="module")
def portfolio(archive):
    run(PROGRAM, "portfolio", archive, "--address", ADDRESS)
    return archive / "finished/portfolio"


@pytest.fixture(scope="module")
def studios_own(archive):
    run(PROGRAM, "portfolio", archive, "--for", "studio")
    return archive / "finished/portfolio-studio"


@pytest.fixture(scope="module")
def thousand(tmp_path_factory):
    home = many(tmp_path_factory.mktemp("thousand"), 1000, PROGRAM)
    run(PROGRAM, "portfolio", home)
    return home / "finished/portfolio"


def works(folder):
    text = (folder / "works.js").read_text()
    return json.loads(text[text.index("=") + 1 :].rstrip().rstrip(";"))


def violations(page):
    page.evaluate(axe.script().read_text())
    # The pages allow no connection, so that axe may not load their styles once more.
    found = page.evaluate("axe.run({ preload: false, runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'] })")
    assert len(found["passes"]) > 15, "axe has looked"
    return [(v["id"], [n["html"][:200] for n in v["nodes"]]) for v in found["violations"]]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_on_any_kind_of_page(portfolio, studios_own, watched, size, scheme):
    width, height = SIZES[size]
    w = watched(viewport={"width": width, "height": height}, color_scheme=scheme)
    pages = ["index.html", "list.html", "series.html", "piece/tide-tables.html", "piece/many-hands-shore.html"]
    for folder in [portfolio, studios_own]:
        for name in pages:
            page = w.open(folder / name)
            page.wait_for_timeout(150)
            # Source, reference library: axe-core 4.10.3, WCAG 2.2 A and AA.
            assert violations(page) == [], name
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= width, f"{name} runs out of the window: {wide}"


def test_every_link_and_picture_of_every_page_is_there(portfolio, studios_own, watched):
    for folder in [portfolio, studios_own]:
        for path in sorted(folder.rglob("*.html")):
            text = path.read_text()
            for name in re.findall(r'(?:href|src)="([^"#]+)"', text):
                assert not re.match(r"[a-z]+:", name), (path, name)
                assert (path.parent / name).resolve().is_file(), (path, name)
    page = watched().open(portfolio / "piece/tide-tables.html")
    broken = "[...document.images].filter(i => !i.closest('dialog') && i.loading !== 'lazy' && (!i.complete || !i.naturalWidth)).map(i => i.src)"
    assert page.evaluate(broken) == []


def count(page):
    return page.locator("#grid > li").count()


def test_filters_and_search_leave_what_python_leaves(portfolio, watched):
    data = works(portfolio)
    page = watched().open(portfolio / "index.html")
    assert count(page) == len(data["works"]) == WORKS
    for facet in data["facets"]:
        box = page.locator(f"#{facet['id']}")
        for i, value in enumerate(facet["values"]):
            has = lambda w: w.get(facet["id"])
            want = sum(1 for w in data["works"] if has(w) == i or (isinstance(has(w), list) and i in has(w)))
            if len(facet["values"]) < 2:
                continue
            box.select_option(str(i))
            assert count(page) == want > 0, (facet["id"], value)
            said = page.locator("#count").inner_text()
            assert said == ("1 work" if want == 1 else f"{want} works")
        if len(facet["values"]) > 1:
            box.select_option("")
    for text, want in [("slack", 3), ("SLACK water 2025", 2), ("tide", 1), ("1994", 1), ("no such thing", 0), ("", WORKS)]:
        page.fill("#q", text)
        assert count(page) == want, text
    page.fill("#q", "slack")
    page.locator("#years button", has_text="2024").click()
    assert count(page) == 1
    assert "q=slack" in page.url and "year=2024" in page.url
    page.reload()
    assert count(page) == 1 and page.input_value("#q") == "slack"
    page.click("#clear")
    assert count(page) == WORKS
    titles = page.locator("#grid .name").all_inner_texts()
    page.select_option("#order", "old")
    assert page.locator("#grid .name").all_inner_texts() == titles[::-1]


def test_the_whole_way_goes_by_keyboard(portfolio, watched):
    w = watched(viewport={"width": 1200, "height": 800}, reduced_motion="reduce")
    page = w.open(portfolio / "index.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "q"
    page.keyboard.type("tide tables")
    assert count(page) == 1
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.closest('#grid') !== null"):
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/piece/tide-tables.html")
    page.locator(".enlarge").focus()
    page.keyboard.press("Enter")
    viewer = page.locator("#viewer")
    assert viewer.evaluate("d => d.open")
    page.wait_for_function("document.querySelector('#viewer img').src.includes('-print.jpg')")
    page.wait_for_timeout(100)
    before = float(viewer.get_attribute("data-scale"))
    page.keyboard.press("+")
    page.keyboard.press("+")
    assert float(viewer.get_attribute("data-scale")) > before * 2
    place = page.evaluate("document.querySelector('#viewer img').style.transform")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate("document.querySelector('#viewer img').style.transform") != place
    page.keyboard.press("0")
    assert float(viewer.get_attribute("data-scale")) == pytest.approx(1)
    still = page.evaluate("getComputedStyle(document.querySelector('#viewer img')).transitionDuration")
    assert still == "0s", "motion is asked to be reduced"
    page.keyboard.press("Escape")
    assert not viewer.evaluate("d => d.open")
    assert page.evaluate("document.activeElement.className") == "enlarge", "focus comes back"


def test_without_scripts_everything_can_still_be_read(portfolio, watched):
    page = watched(java_script_enabled=False).open(portfolio / "index.html")
    assert count(page) == WORKS
    page.click("noscript a")
    assert page.locator("tbody tr").count() == WORKS
    page.locator("tbody a", has_text="Glebe Fields").click()
    assert page.locator("h1").inner_text() == "Glebe Fields"


def test_paper_shows_no_buttons(portfolio, watched):
    page = watched().open(portfolio / "index.html")
    page.emulate_media(media="print")
    assert not page.locator("#filters").is_visible() and not page.locator("nav").first.is_visible()
    assert page.locator("#grid").is_visible()


def test_the_machine_s_words_are_public_and_true(portfolio, archive):
    for path in (portfolio / "piece").glob("*.html"):
        text = path.read_text()
        data = json.loads(re.search(r'<script type="application/ld\+json">(.*?)</script>', text, re.S).group(1))
        # Source, published: schema.org, VisualArtwork and CreativeWork (from memory).
        assert data["@type"] == "VisualArtwork" and data["artform"] == "Tapestry"
        assert data["url"].startswith(ADDRESS) and data["name"] in text.replace("&#x27;", "'")
        kept = json.loads((archive / "finished" / path.stem / "reckoning.json").read_text())
        assert data["height"]["value"] == pytest.approx(kept["size_mm"]["height"]["value"] / 10, abs=0.01)
    # Source, reference library: feedparser; RFC 4287.
    feed = feedparser.parse((portfolio / "feed.xml").read_bytes())
    assert not feed.bozo and len(feed.entries) == ISSUED
    assert feed.entries[0].title == "Dock Leaf" and feed.entries[0].updated == "2026-08-20T00:00:00Z"
    assert all(e.link.startswith(ADDRESS) for e in feed.entries)
    atom = "{http://www.w3.org/2005/Atom}"
    ids = [e.text for e in ET.parse(portfolio / "feed.xml").iterfind(f".//{atom}entry/{atom}id")]
    assert len(set(ids)) == ISSUED and all(i.startswith("ni:///sha-256;") for i in ids)
    # Source, published: sitemaps.org protocol 0.9; the image extension 1.1 (from memory).
    tree = ET.parse(portfolio / "sitemap.xml").getroot()
    space = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9", "i": "http://www.google.com/schemas/sitemap-image/1.1"}
    for loc in [*tree.iterfind(".//s:loc", space), *tree.iterfind(".//i:loc", space)]:
        assert loc.text.startswith(ADDRESS) and (portfolio / loc.text[len(ADDRESS) :]).is_file(), loc.text


def private_words(archive, pieces):
    import yaml

    words = set()
    for slug in pieces:
        piece = yaml.safe_load((archive / "pieces" / slug / "piece.yaml").read_text())
        for owner in piece.get("owners", []):
            words |= {owner[k] for k in ["name", "address"] if k in owner}
        makers = piece.get("makers", {})
        roll = list(makers.get("roll", []))
        if "roll_file" in makers:
            with open(archive / "pieces" / slug / makers["roll_file"], newline="") as file:
                roll += csv.DictReader(file)
        # YAML reads a bare yes as true.
        words |= {m["name"] for m in roll if m.get("consent") not in (True, "yes")}
        money = piece.get("money", {})
        words |= {str(money[k]).split()[0] for k in ["price", "insured"] if k in money}
    return words


def test_the_public_edition_holds_nothing_private_and_the_studio_s_says_that_it_does(portfolio, studios_own, archive, pieces):
    words = private_words(archive, pieces)
    assert len(words) > 30
    for path in portfolio.rglob("*"):
        if path.suffix in {".html", ".js", ".xml"}:
            text = path.read_text()
            hit = [w for w in words if w in text]
            assert not hit, (path, hit)
    # The commission hangs in a private room, which is nobody's to see.
    assert not list(portfolio.glob("plates/tide-tables/installed*"))
    everything = "".join(p.read_text() for p in studios_own.rglob("*.html"))
    assert "Merrin Tallowby" in everything and "11" in everything
    for path in studios_own.rglob("*.html"):
        text = path.read_text()
        assert "Private: this edition" in text and 'content="noindex' in text, path
    assert not (studios_own / "feed.xml").exists() and not (studios_own / "sitemap.xml").exists()


def test_two_languages_are_two_sets_of_pages(archive, tmp_path, watched):
    home = tmp_path / "studio"
    shutil.copytree(archive, home)
    studio = home / "studio.yaml"
    studio.write_text(studio.read_text().replace("languages: [en]", "languages: [de, fi]"))
    run(PROGRAM, "portfolio", home)
    page = watched().open(home / "finished/portfolio/index.html")
    assert page.evaluate("document.documentElement.lang") == "de"
    assert page.locator("#count").inner_text() == f"{WORKS} Arbeiten"
    assert page.locator('a[hreflang="fi"]').inner_text() == "Suomi"
    page.click('a[hreflang="fi"]')
    assert page.evaluate("document.documentElement.lang") == "fi"
    assert page.locator("#count").inner_text() == f"{WORKS} teosta"
    page.locator("#grid a").first.click()
    assert page.locator("h1").inner_text() == "Dock Leaf"
    page.click('a[hreflang="de"]')
    assert page.url.endswith("portfolio/piece/dock-leaf.html")
    assert violations(page) == []


def test_a_thousand_works_begin_light_and_filter_within_a_frame(thousand, watched):
    first = [thousand / n for n in ["index.html", "works.js", "portfolio.js", "portfolio.css"]]
    octets = sum(p.stat().st_size for p in first)
    print(f"first view: {octets} octets")
    assert octets < 300_000
    page = watched(viewport={"width": 1440, "height": 900}).open(thousand / "index.html")
    assert count(page) < 200, "cards are drawn as they come into view"
    assert page.locator("#count").inner_text() == "1000 works"
    # From the letter typed to the page laid out; the middle of thirty, in a browser without a picture to draw.
    took = page.evaluate("""() => {
        const q = document.getElementById('q'), all = [];
        for (let i = 0; i < 30; i += 1) {
            q.value = ['work', '17', 'slit', 'heron', ''][i % 5];
            const start = performance.now();
            q.dispatchEvent(new Event('input', { bubbles: true }));
            document.body.getBoundingClientRect();
            all.push(performance.now() - start);
        }
        return all.sort((a, b) => a - b);
    }""")
    print(f"filter: {took[15]:.1f} ms in the middle, {took[-1]:.1f} at most")
    page.fill("#q", "work 00017")
    assert count(page) == 1


def test_what_is_gone_is_taken_away_and_what_is_strange_is_left(archive, tmp_path):
    home = tmp_path / "studio"
    shutil.copytree(archive, home)
    run(PROGRAM, "portfolio", home)
    folder = home / "finished/portfolio"
    before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    times = {p: p.stat().st_mtime_ns for p in before}
    time.sleep(0.02)
    # A second run touches nothing; without its list it makes the same again.
    run(PROGRAM, "portfolio", home)
    assert times == {p: p.stat().st_mtime_ns for p in folder.rglob("*") if p.is_file()}
    (folder / ".portfolio.json").unlink()
    (folder / "plates/dock-leaf/front-thumb.jpg").unlink()
    (folder / "piece/dock-leaf.html").write_text("spoilt")
    run(PROGRAM, "portfolio", home)
    assert before == {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    shutil.rmtree(home / "pieces/dock-leaf")
    (folder / "CNAME").write_text("loom.example")
    run(PROGRAM, "portfolio", home)
    assert not (folder / "piece/dock-leaf.html").exists() and (folder / "CNAME").exists()
    other = tmp_path / "other"
    (other / "portfolio").mkdir(parents=True)
    (other / "portfolio/thesis.txt").write_text("mine")
    import subprocess

    done = subprocess.run([PROGRAM, "portfolio", home, "--out", other], capture_output=True, text=True)
    assert done.returncode == 2 and "not of a portfolio" in done.stderr
    assert [p.name for p in (other / "portfolio").iterdir()] == ["thesis.txt"]
