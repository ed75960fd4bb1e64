"""Papers as other people's programs see them.

Sources: qpdf, poppler (pdfinfo, pdffonts, pdftotext, pdftoppm), pikepdf for the structure, zxing-cpp for
the QR code. What PDF/A-3 and PDF/UA-1 want is from memory of ISO 19005-3 and ISO 14289-1; none of these
tools is a validator of them, so the checks are of the parts that can be seen.
"""

import hashlib
import subprocess

import pikepdf
import pytest
import yaml
import zxingcpp
from PIL import Image

from conftest import run

PAPERS = ["care-label", "certificate", "catalogue-page"]


@pytest.fixture(scope="session")
def papers(finished, pieces):
    return [finished / slug / f"{paper}.pdf" for slug in pieces for paper in PAPERS]


def test_qpdf_finds_no_fault(papers):
    # Source, reference library: qpdf --check.
    for paper in papers:
        run("qpdf", "--check", paper)


def test_every_font_is_embedded(papers):
    for paper in papers:
        rows = run("pdffonts", paper).splitlines()[2:]
        assert rows, f"{paper} has no text"
        for row in rows:
            # emb, sub and uni are the three columns before object and generation number.
            assert row.split()[-5:-2] == ["yes", "yes", "yes"], row


def test_papers_claim_the_archival_and_the_accessible_standard(papers):
    for paper in papers:
        with pikepdf.open(paper) as pdf, pdf.open_metadata() as meta:
            assert meta["pdfaid:part"] == "3"
            assert meta["pdfaid:conformance"] == "A"
            assert meta["pdfuaid:part"] == "1"
            assert pdf.Root.MarkInfo.Marked
            assert "/StructTreeRoot" in pdf.Root
            assert pdf.Root.ViewerPreferences.DisplayDocTitle
            assert str(pdf.Root.Lang).startswith("en")
            assert "/OutputIntents" in pdf.Root


def figures(node):
    """Every Figure element of a structure tree."""
    if isinstance(node, pikepdf.Array):
        for kid in node:
            yield from figures(kid)
    elif isinstance(node, pikepdf.Dictionary):
        if node.get("/S") == "/Figure":
            yield node
        if "/K" in node:
            yield from figures(node.K)


def test_every_picture_is_told_in_words(papers):
    for paper in papers:
        with pikepdf.open(paper) as pdf:
            found = list(figures(pdf.Root.StructTreeRoot.K))
            assert found, f"{paper} has no tagged figure"
            for figure in found:
                assert str(figure.get("/Alt", "")).strip(), paper


def test_papers_name_the_piece_and_its_maker(archive, papers):
    for paper in papers:
        piece = yaml.safe_load((archive / "pieces" / paper.parent.name / "piece.yaml").read_text())
        text = " ".join(run("pdftotext", paper, "-").split())
        assert piece["title"] in text, paper
        # A piece made by many names its makers' number and the studio in place of one maker.
        makers = {"many-hands-shore": "26 makers", "every-kitchen-window": "80 makers"}
        maker = makers[paper.parent.name] if "makers" in piece else "Ottilie Brackwater"
        assert maker in text, paper
        assert "Brackwater Tapestry" in text, paper


def test_the_same_piece_has_one_number_on_all_its_papers(finished, pieces):
    for slug in pieces:
        digest = hashlib.sha256((finished / slug / "record.json").read_bytes()).hexdigest()
        for paper in PAPERS:
            text = run("pdftotext", finished / slug / f"{paper}.pdf", "-")
            bare = "".join(c for c in text if c.isalnum()).lower()
            assert digest[:16] in bare, (slug, paper)


def test_the_code_on_the_certificate_leads_to_the_record(archive, finished, pieces, tmp_path):
    # Source, reference library: zxing-cpp reads the code.
    base = yaml.safe_load((archive / "studio.yaml").read_text()).get("record_base") or ""
    for slug in pieces:
        run("pdftoppm", "-r", "200", "-png", finished / slug / "certificate.pdf", tmp_path / slug)
        read = []
        for page in sorted(tmp_path.glob(f"{slug}*.png")):
            read += [r.text for r in zxingcpp.read_barcodes(Image.open(page))]
        digest = hashlib.sha256((finished / slug / "record.json").read_bytes()).hexdigest()
        assert len(read) == 1, (slug, read)
        assert read[0].startswith(base)
        assert digest[:16] in read[0].replace("-", ""), read


def test_pages_have_the_studios_size(papers):
    # A4 is 210 × 297 mm (ISO 216), in points 595.28 × 841.89.
    for paper in papers:
        size = next(l for l in run("pdfinfo", paper).splitlines() if l.startswith("Page size"))
        width, height = (float(x) for x in size.split()[2:5:2])
        assert (width, height) == pytest.approx((595.28, 841.89), abs=0.1)


def test_no_page_is_blank(papers, tmp_path):
    for i, paper in enumerate(papers):
        run("pdftoppm", "-r", "40", "-png", "-gray", paper, tmp_path / f"p{i}")
    pages = sorted(tmp_path.glob("*.png"))
    assert len(pages) >= len(papers)
    for page in pages:
        dark = sum(Image.open(page).histogram()[:200])
        assert dark > 50, page


def test_xmp_and_info_name_title_and_author(archive, papers):
    for paper in papers:
        info = run("pdfinfo", paper)
        piece = yaml.safe_load((archive / "pieces" / paper.parent.name / "piece.yaml").read_text())
        day = piece.get("issued")
        if day:
            # The document's date is the day on the papers, never the clock's.
            with pikepdf.open(paper) as pdf:
                assert str(pdf.docinfo["/CreationDate"]).startswith(f"D:{day:%Y%m%d}"), paper
        assert "Author:          Ottilie Brackwater" in info
        assert "Title:" in info


def test_tools_agree_that_papers_are_tagged(papers):
    # Source, reference library: pdfinfo of Poppler.
    for paper in papers:
        assert "Tagged:          yes" in run("pdfinfo", paper)
        tree = subprocess.run(["pdfinfo", "-struct", str(paper)], capture_output=True, text=True)
        assert "Document" in tree.stdout
