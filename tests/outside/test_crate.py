"""Every bundle describes itself as an RO-Crate 1.2.

Source, reference library: roc-validator (PyPI), profile ro-crate-1.2, at the severity `required`; and rocrate
(PyPI), which reads crates. The JSON-LD context that the validator wants from the network is the one that the
package rocrate carries, with the terms of 1.2 in it.
"""

import json
import pathlib
import subprocess
import sys
import urllib.parse
import zipfile

import pytest

HERE = pathlib.Path(__file__).parent


def graph(folder):
    whole = json.loads((folder / "data/ro-crate-metadata.json").read_text())
    assert whole["@context"] == "https://w3id.org/ro/crate/1.2/context"
    entities = {e["@id"]: e for e in whole["@graph"]}
    assert len(entities) == len(whole["@graph"]), "an entity stands twice"
    return entities


def references(value):
    if isinstance(value, dict):
        if set(value) == {"@id"}:
            yield value["@id"]
        else:
            for v in value.values():
                yield from references(v)
    elif isinstance(value, list):
        for v in value:
            yield from references(v)


@pytest.fixture(scope="module")
def owners(finished, tmp_path_factory):
    out = tmp_path_factory.mktemp("owners")
    folders = []
    for bundle in sorted((finished / "bundles").glob("*.owner.zip")):
        with zipfile.ZipFile(bundle) as z:
            z.extractall(out)
        folders.append(out / bundle.stem)
    assert folders
    return folders


def test_the_validator_finds_nothing_required_wanting(bags, owners):
    for folder in [*bags, *owners]:
        done = subprocess.run([sys.executable, str(HERE / "crate_validator.py"), str(folder / "data")],
                              capture_output=True, text=True)
        assert done.returncode == 0, f"{folder.name}\n{done.stdout}\n{done.stderr}"


def test_the_validator_would_find_a_missing_photograph(bags, tmp_path):
    import shutil

    bag = next(b for b in bags if b.name.startswith("tide-tables"))
    copy = tmp_path / "data"
    shutil.copytree(bag / "data", copy)
    (copy / "piece/photos/front.jpg").unlink()
    done = subprocess.run([sys.executable, str(HERE / "crate_validator.py"), str(copy)], capture_output=True, text=True)
    assert done.returncode != 0


def test_every_file_of_a_bundle_is_described_once_and_no_reference_dangles(bags, owners):
    for folder in [*bags, *owners]:
        entities = graph(folder)
        files = {p.relative_to(folder / "data").as_posix(): p for p in (folder / "data").rglob("*") if p.is_file()}
        files.pop("ro-crate-metadata.json")
        files.pop("renamed-files.json", None)
        told = {urllib.parse.unquote(i): e for i, e in entities.items() if "File" in e["@type"]}
        assert set(told) == set(files), folder.name
        for name, entity in told.items():
            assert int(entity["contentSize"]) == files[name].stat().st_size
        for entity in entities.values():
            for target in references({k: v for k, v in entity.items() if k not in ("@id", "conformsTo")}):
                assert target in entities, (folder.name, entity["@id"], target)


def test_the_tapestry_its_size_and_where_each_paper_came_from_can_be_read(bags):
    entities = graph(next(b for b in bags if b.name.startswith("tide-tables")))
    art = entities["#tapestry"]
    assert art["@type"] == "VisualArtwork" and art["artform"] == "tapestry" and art["name"] == "Tide Tables"
    # Source, exact case: the greatest of the readings in the sample piece; UN/CEFACT Recommendation 20: CMT, MMT, KGM.
    size = {k: (entities[art[k]["@id"]]["value"], entities[art[k]["@id"]]["unitCode"])
            for k in ("height", "width", "depth", "weight")}
    assert size == {"height": (120.6, "CMT"), "width": (164.8, "CMT"), "depth": (4, "MMT"), "weight": (3.86, "KGM")}
    assert art["material"][:1] == ["wool"] and entities["#maker"]["name"] == "Ottilie Brackwater"
    made = {}
    for entity in entities.values():
        if entity["@type"] == "CreateAction":
            for result in references(entity["result"]):
                made[result] = set(references(entity["object"]))
    assert "piece/piece.yaml" in made["papers/certificate.pdf"]
    assert made["plates/front-print.jpg"] == {"piece/photos/front.jpg"}
    front = entities["piece/photos/front.jpg"]
    assert front["caption"] and front["creditText"] == "Jory Fennimore-Quill"


def test_an_owner_s_edition_speaks_of_no_file_that_it_has_not(owners):
    for folder in owners:
        text = (folder / "data/ro-crate-metadata.json").read_text()
        for name in ("piece.yaml", "notes.md", "studio-sheet", "reckoning", "studio.txt"):
            assert name not in text, (folder.name, name)
