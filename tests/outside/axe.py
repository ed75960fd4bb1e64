"""axe-core from the npm registry: the accessibility rules that the portfolio's pages are judged by.

Fetched once into target/outside, and believed only with the digest below.
"""

import hashlib
import io
import pathlib
import sys
import tarfile
import urllib.request

ROOT = pathlib.Path(__file__).resolve().parents[2]
VERSION = "4.10.3"
SHA512 = "5e6edba515e70d25f6604d9815f064d859c5d1ea7ab661bbc4f87c88779ef0c21cae0abbeb636471ef39e9d62d2582e4b88a1866f19f4ecfcf6d986275e4dc12"
PLACE = ROOT / "target" / "outside-axe" / f"axe-{VERSION}.min.js"


def script():
    """The path of axe.min.js."""
    if not PLACE.is_file():
        address = f"https://registry.npmjs.org/axe-core/-/axe-core-{VERSION}.tgz"
        with urllib.request.urlopen(address, timeout=120) as answer:
            octets = answer.read()
        assert hashlib.sha512(octets).hexdigest() == SHA512, "axe-core is not what it was"
        with tarfile.open(fileobj=io.BytesIO(octets)) as tar:
            text = tar.extractfile("package/axe.min.js").read()
        PLACE.parent.mkdir(parents=True, exist_ok=True)
        PLACE.write_bytes(text)
    return PLACE


if __name__ == "__main__":
    sys.stdout.write(f"{script()}\n")
