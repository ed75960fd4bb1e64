"""ICC profiles made from published numbers, byte by byte, for charts in other colours than sRGB.

Layouts: ICC.1:2001-04 (version 2) and ICC.1:2022 (version 4). Nothing here is taken from a profile file.
"""

import struct

import numpy as np

D50 = np.array([0.9642, 1.0, 0.8249])
D65 = (0.3127, 0.3290)
# Source, published: Adobe RGB (1998) Color Image Encoding, 4.3.1: primaries, white D65, gamma 563/256.
ADOBE_RGB = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))
# Source, published: SMPTE RP 431-2 and EG 432-1: the primaries of P3, with white D65; the curve is sRGB's.
P3 = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
# Source, published: IEC 61966-2-1, table 1 and its curve.
SRGB = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
# Source, published: ICC.1:2022, annex E.3: the Bradford matrix.
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])


def to_d50(primaries, white=D65):
    """From linear light to XYZ adapted to D50."""
    xyz = lambda x, y: np.array([x / y, 1.0, (1 - x - y) / y])
    columns = np.array([xyz(*p) for p in primaries]).T
    matrix = columns * np.linalg.solve(columns, xyz(*white))
    gains = (BRADFORD @ D50) / (BRADFORD @ xyz(*white))
    return np.linalg.inv(BRADFORD) @ np.diag(gains) @ BRADFORD @ matrix


def s15(*values):
    return b"".join(struct.pack(">i", round(v * 65536)) for v in values)


def xyz_tag(values):
    return b"XYZ \0\0\0\0" + s15(*values)


def gamma_tag(gamma):
    return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256))


def table_tag(values):
    return b"curv\0\0\0\0" + struct.pack(f">I{len(values)}H", len(values), *[round(v * 65535) for v in values])


def srgb_curve_tag():
    return b"para\0\0\0\0" + struct.pack(">HH", 3, 0) + s15(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def text_tag(text, version):
    if version == 4:
        letters = text.encode("utf-16-be")
        return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"GB", len(letters), 28) + letters
    letters = text.encode() + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(letters)) + letters + bytes(8 + 3 + 67)


def profile(version, kind, space, pcs, tags):
    """Header, table and tags."""
    table, data = struct.pack(">I", len(tags)), b""
    start = 128 + 4 + 12 * len(tags)
    for name, body in tags.items():
        body += bytes(-len(body) % 4)
        table += struct.pack(">4sII", name.encode(), start + len(data), len(body))
        data += body
    size = start + len(data)
    header = struct.pack(">I4sI4s4s4s", size, b"\0\0\0\0", version << 24, kind, space, pcs)
    header += struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp")
    header = header.ljust(68, b"\0") + s15(*D50)
    return header.ljust(128, b"\0") + table + data


def matrix_profile(name, primaries, curve, version):
    columns = to_d50(primaries).T
    tags = {"desc": text_tag(name, version), "cprt": text_tag("none", 4) if version == 4 else b"text\0\0\0\0none\0"}
    tags["wtpt"] = xyz_tag(D50)
    tags |= {f"{c}XYZ": xyz_tag(column) for c, column in zip("rgb", columns)}
    tags |= {f"{c}TRC": curve for c in "rgb"}
    return profile(version, b"mntr", b"RGB ", b"XYZ ", tags)


def grey_profile(name, curve, version):
    tags = {"desc": text_tag(name, version), "wtpt": xyz_tag(D50), "kTRC": curve}
    return profile(version, b"mntr", b"GRAY", b"XYZ ", tags)


def lab_of(xyz):
    """CIE L*a*b* relative to D50 (CIE 15)."""
    t = np.asarray(xyz) / D50
    f = np.where(t > 216 / 24389, np.cbrt(t), (t * 24389 / 27 + 16) / 116)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def table_profile(name, device, version, steps=17):
    """A profile of tables, PCS Lab: `device` gives Lab for values of 0 to 1. A `lut16Type` in version 2, a
    `lutAToBType` in version 4.

    Lab in 16 bits: in version 2 L* 100 is FF00 and a* 0 is 8000 (ICC.1:2001-04, 6.5.10); in version 4 L* 100
    is FFFF and a* 0 is 8080 (ICC.1:2022, 6.3.4.2).
    """
    axis = np.linspace(0, 1, steps)
    lab = device(np.stack(np.meshgrid(axis, axis, axis, indexing="ij"), -1))
    light, chroma = (652.8, 256) if version == 2 else (655.35, 257)
    encoded = np.stack([lab[..., 0] * light, (lab[..., 1] + 128) * chroma, (lab[..., 2] + 128) * chroma], -1)
    grid = np.clip(np.rint(encoded), 0, 65535).astype(">u2")
    if version == 4:
        curves = (b"curv" + bytes(8)) * 3
        body = b"mAB \0\0\0\0" + struct.pack(">4B5I", 3, 3, 0, 0, 32, 0, 0, 32 + 2 * len(curves), 32 + len(curves))
        body += curves * 2 + bytes([steps] * 3).ljust(16, b"\0") + bytes([2, 0, 0, 0]) + grid.tobytes()
        tags = {"desc": text_tag(name, 4), "cprt": text_tag("none", 4), "wtpt": xyz_tag(D50), "A2B0": body}
        return profile(4, b"scnr", b"RGB ", b"Lab ", tags)
    straight = struct.pack(">2H", 0, 65535) * 3
    body = b"mft2\0\0\0\0" + struct.pack(">4B", 3, 3, steps, 0) + s15(1, 0, 0, 0, 1, 0, 0, 0, 1)
    body += struct.pack(">2H", 2, 2) + straight + grid.tobytes() + straight
    tags = {"desc": text_tag(name, 2), "cprt": b"text\0\0\0\0none\0", "wtpt": xyz_tag(D50), "A2B0": body}
    return profile(2, b"scnr", b"RGB ", b"Lab ", tags)
