"""Writes pictures as cameras do: EXIF, a thumbnail, an Adobe RGB (1998) profile.

Only what a program that cleans published photographs must cope with. Tag
numbers are those of TIFF 6.0 and Exif 2.3 (from memory); the profile follows
ICC.1:2001-04 (version 2, matrix and tone curves).
"""

import io
import struct

import numpy as np
from PIL import Image

ASCII, SHORT, LONG, RATIONAL = 2, 3, 4, 5


def exif(main=None, camera=None, place=None, thumbnail=None):
    """An EXIF block. The tables map tag to (type, value); `thumbnail` is JPEG bytes."""
    main, camera, place = dict(main or {}), dict(camera or {}), dict(place or {})
    for tag, table in ((0x8769, camera), (0x8825, place)):
        if table:
            main[tag] = (LONG, 0)
    body = bytearray(b"II*\0\x08\0\0\0")

    def directory(table):
        start = len(body)
        body.extend(bytes(2 + 12 * len(table) + 4))
        slots = {}
        struct.pack_into("<H", body, start, len(table))
        for n, tag in enumerate(sorted(table)):
            kind, value = table[tag]
            if kind == ASCII:
                data = value.encode("ascii") + b"\0"
                count = len(data)
            elif kind == RATIONAL:
                data = b"".join(struct.pack("<II", *pair) for pair in value)
                count = len(value)
            else:
                data = struct.pack("<H" if kind == SHORT else "<I", value)
                count = 1
            at = start + 2 + 12 * n
            struct.pack_into("<HHI", body, at, tag, kind, count)
            slots[tag] = at + 8
            if len(data) <= 4:
                body[at + 8 : at + 8 + len(data)] = data
            else:
                struct.pack_into("<I", body, at + 8, len(body))
                body.extend(data + b"\0" * (len(data) % 2))
        return slots, start + 2 + 12 * len(table)

    slots, following = directory(main)
    for tag, table in ((0x8769, camera), (0x8825, place)):
        if table:
            struct.pack_into("<I", body, slots[tag], len(body))
            directory(table)
    if thumbnail:
        struct.pack_into("<I", body, following, len(body))
        inner, _ = directory({0x0103: (SHORT, 6), 0x0201: (LONG, 0), 0x0202: (LONG, len(thumbnail))})
        struct.pack_into("<I", body, inner[0x0201], len(body))
        body.extend(thumbnail)
    return b"Exif\0\0" + bytes(body)


# Adobe RGB (1998): primaries, white and exponent as published by its maker.
PRIMARIES = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))
SRGB_PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
D65 = (0.3127, 0.3290)
D50_XYZ = (0.9642, 1.0, 0.8249)
EXPONENT = 2.19921875
BRADFORD = np.asarray([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])


def xyz(xy):
    return np.asarray([xy[0] / xy[1], 1.0, (1 - xy[0] - xy[1]) / xy[1]])


def matrix(primaries):
    """Linear RGB to XYZ under D65."""
    columns = np.stack([xyz(p) for p in primaries], 1)
    return columns * np.linalg.solve(columns, xyz(D65))


def adobe_rgb(picture):
    """The same colours, sRGB numbers turned into Adobe RGB (1998) numbers."""
    values = np.asarray(picture, np.float64) / 255
    linear = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    linear = linear @ (np.linalg.inv(matrix(PRIMARIES)) @ matrix(SRGB_PRIMARIES)).T
    return Image.fromarray((np.clip(linear, 0, 1) ** (1 / EXPONENT) * 255 + 0.5).astype(np.uint8))


def adobe_rgb_profile():
    """A small profile of our own making with the published figures."""
    to_d50 = np.linalg.inv(BRADFORD) @ np.diag((BRADFORD @ np.asarray(D50_XYZ)) / (BRADFORD @ xyz(D65))) @ BRADFORD
    columns = (to_d50 @ matrix(PRIMARIES)).T

    def fixed(values):
        return b"".join(struct.pack(">i", round(v * 65536)) for v in values)

    name = b"Wide RGB, exponent 2.2\0"
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + bytes(4 + 4 + 2 + 1 + 67),
        b"cprt": b"text\0\0\0\0No copyright, use freely\0",
        b"wtpt": b"XYZ \0\0\0\0" + fixed(xyz(D65)),
    }
    for channel, column in zip(b"rgb", columns):
        tags[bytes([channel]) + b"XYZ"] = b"XYZ \0\0\0\0" + fixed(column)
        tags[bytes([channel]) + b"TRC"] = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(EXPONENT * 256))
    table, data, at = b"", b"", 128 + 4 + 12 * len(tags)
    for tag, value in tags.items():
        value += bytes(-len(value) % 4)
        table += tag + struct.pack(">II", at + len(data), len(value))
        data += value
    head = struct.pack(">I4sI4s4s4s6H4s4sIIIQI", at + len(data), bytes(4), 0x02100000, b"mntr", b"RGB ", b"XYZ ", 1998, 11, 1, 0, 0, 0, b"acsp", bytes(4), 0, 0, 0, 0, 0) + fixed(D50_XYZ)
    return head + bytes(128 - len(head)) + struct.pack(">I", len(tags)) + table + data


def jpeg_bytes(image, quality):
    memory = io.BytesIO()
    image.save(memory, "JPEG", quality=quality)
    return memory.getvalue()


def write(image, path, quality=82, **more):
    """By the ending of `path`: JPEG, PNG, TIFF (deflate) or WebP."""
    ending = path.suffix
    if ending == ".jpg":
        image.save(path, "JPEG", quality=quality, subsampling=2, optimize=True, **more)
    elif ending == ".png":
        image.save(path, "PNG", optimize=True)
    elif ending == ".tif":
        image.save(path, "TIFF", compression="tiff_adobe_deflate", tiffinfo={317: 2})
    elif ending == ".webp":
        image.save(path, "WEBP", quality=quality, method=6)
    else:
        raise ValueError(f"{path}: no way to write this ending")
