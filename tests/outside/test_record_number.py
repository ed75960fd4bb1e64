"""The record number is recomputed from record.json alone.

Sources: RFC 8785 (JSON Canonicalization Scheme) through the package rfc8785; RFC 6920 (naming things
with hashes), sections 3 and 7, computed here with hashlib and base64; its Luhn check digit written out.
"""

import base64
import hashlib
import json

import bagit
import pikepdf
import rfc8785


def luhn16(digits):
    total = 0
    for i, digit in enumerate(reversed(digits)):
        product = int(digit, 16) * (2 if i % 2 == 0 else 1)
        total += product // 16 + product % 16
    return format((16 - total % 16) % 16, "x")


def test_record_json_is_canonical(finished, pieces):
    # Source, reference library: rfc8785 of PyPI (RFC 8785).
    for slug in pieces:
        raw = (finished / slug / "record.json").read_bytes()
        assert rfc8785.dumps(json.loads(raw)) == raw


def test_the_bundle_states_the_number_of_its_record(bags):
    # Source, reference library: hashlib of Python (RFC 6920).
    for folder in bags:
        digest = hashlib.sha256((folder / "data" / "record.json").read_bytes())
        info = bagit.Bag(str(folder)).info
        name = base64.urlsafe_b64encode(digest.digest()).rstrip(b"=").decode()
        assert info["External-Identifier"] == f"ni:///sha-256;{name}"
        short = digest.hexdigest()[:16]
        grouped = "-".join(short[i : i + 4] for i in range(0, 16, 4))
        assert info["Record-Number"] == f"nih:sha-256-64;{grouped};{luhn16(short)}"


def test_the_certificate_carries_the_record_itself(finished, pieces):
    for slug in pieces:
        with pikepdf.open(finished / slug / "certificate.pdf") as pdf:
            (name,) = pdf.attachments.keys()
            assert name == "record.json"
            attached = pdf.attachments[name].get_file().read_bytes()
        assert attached == (finished / slug / "record.json").read_bytes()
