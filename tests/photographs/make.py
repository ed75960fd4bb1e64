#!/usr/bin/env python3
"""Makes the photographs of the sample archive; see README.md beside this file.

    python make.py [ARCHIVE] [PIECE/FILE ...]

Every picture has a fixed seed, so the same libraries give the same bytes. The
corners it prints are the ones that stand in the pieces' piece.yaml.
"""

import sys
from pathlib import Path

from PIL import Image, ImageFilter

import designs as d
import files
import motifs
import rooms
import scenes

SHELF = {"tide-tables": d.tide_tables, "slack-water-1": d.slack_water_1, "slack-water-2-or-3": d.slack_water_2_or_3, "slack-water-5": d.slack_water_5, "glebe-fields": d.glebe_fields, "thirteen-moons": d.thirteen_moons, "dock-leaf": d.dock_leaf}

# Fronts on a wall: picture size, margin, lean, turn in degrees, wall, seed.
FRONTS = {
    "tide-tables": ((2060, 1574), 0.055, (0.010, 0.005), 0.25, (226, 221, 211), 11),
    "slack-water-1": ((1460, 1880), 0.075, (-0.008, 0.006), -0.3, (219, 216, 208), 12),
    "slack-water-5": ((2000, 1200), 0.06, (0.006, -0.004), 0.15, (228, 222, 210), 14),
    "thirteen-moons": ((1130, 2100), 0.05, (0.004, 0.008), -0.2, (214, 209, 200), 16),
    "many-hands-shore": ((2140, 1656), 0.05, (-0.006, 0.008), 0.2, (222, 219, 212), 18),
    "every-kitchen-window": ((1900, 1340), 0.05, (0.005, 0.006), -0.15, (224, 221, 214), 19),
    "dock-leaf": ((1500, 1800), 0.10, (0.004, 0.003), 0.8, (232, 228, 220), 17),
}

CAMERA = {0x010F: (files.ASCII, "Invented Optical"), 0x0110: (files.ASCII, "Pocket Six")}


def plain(array):
    return scenes.picture(array)


def slide(cloth):
    """A scan of an old slide, trimmed to the edges: warm, soft, a little faded, with dust."""
    size = (1900, round(1900 * cloth.height / cloth.width))
    inset = 5
    quad = [[inset, inset], [size[0] - inset, inset], [size[0] - inset, size[1] - inset], [inset, size[1] - inset]]
    image = scenes.place(scenes.plaster(size, 15, (120, 110, 96)), cloth, quad, 15, shadow=0.3)
    image = scenes.floats(scenes.picture(image).filter(ImageFilter.GaussianBlur(1.6)))
    image = image * [0.90, 0.86, 0.78] + [0.065, 0.050, 0.042]
    return plain(scenes.light(image, 15, fall=0.18, warm=0.05, noise=0.012))


def trimmed(cloth, seed):
    """A front cut to the edges of the piece, so that the picture has its proportions."""
    size = (round(1820 * cloth.width / cloth.height), 1820)
    inset = 4
    quad = [[inset, inset], [size[0] - inset, inset], [size[0] - inset, size[1] - inset], [inset, size[1] - inset]]
    return plain(scenes.front(cloth, size, quad, seed, fall=0.10))


def fronts(piece, cloth):
    size, margin, lean, turn, wall, seed = FRONTS[piece]
    quad = scenes.corners(cloth, size, margin, lean, turn)
    print(f"{piece}/front.jpg corners: {quad}")
    return plain(scenes.front(cloth, size, quad, seed, wall=wall))


def others(piece, cloth):
    """The other pictures of a piece, by file name, each made when it is asked for."""
    corner = lambda across: (cloth.width - across, cloth.height - across * 0.72, cloth.width + across * 0.06, cloth.height + across * 0.06)
    return {
        "tide-tables": {
            "back.jpg": lambda: plain(scenes.back(cloth, (1400, 1066), scenes.corners(cloth, (1400, 1066), 0.05, (0.004, 0)), 21)),
            "detail.jpg": lambda: plain(scenes.close(cloth, (32, 28, 51, 43), 1300, 22, 2)),
            "signature.jpg": lambda: plain(scenes.close(cloth, corner(26), 1100, 23, -2)),
            "loom.jpg": lambda: plain(rooms.loom(cloth, 1, (1120, 1400), 0.5, 24)),
            "installed.webp": lambda: plain(rooms.room(cloth, (1600, 1100), 25, 0.52)),
            "material.jpg": lambda: plain(rooms.yarns([d.INDIGO, d.GREEN, d.EBB, d.SAND, d.BARE, d.OAK, d.MADDER], (1300, 840), 26)),
        },
        "slack-water-1": {"detail.jpg": lambda: plain(scenes.close(cloth, (29, 38, 45, 52), 1300, 31, 1.5))},
        "slack-water-2-or-3": {"signature.jpg": lambda: plain(scenes.close(cloth, corner(13), 1000, 41, 1))},
        "slack-water-5": {
            "loom.jpg": lambda: plain(rooms.loom(cloth, 3, (1000, 1400), 0.52, 51)),
            "material.png": lambda: plain(rooms.yarns([d.EBB, d.SAGE, d.WALNUT, d.BRICK], (600, 460), 52)),
        },
        "thirteen-moons": {
            "back.jpg": lambda: plain(scenes.back(cloth, (820, 1500), scenes.corners(cloth, (820, 1500), 0.05), 61, tails=1100)),
            "detail.jpg": lambda: plain(scenes.close(cloth, (27.6, 19.4, 41.4, 30.6), 1300, 62, 1)),
            "installed.jpg": lambda: plain(rooms.room(cloth, (1200, 1400), 63, 0.62, (222, 219, 212), 0.42, 0.72)),
            "material.tif": lambda: plain(rooms.yarns([d.NIGHT, (52, 70, 112), d.OAK, (234, 226, 205)], (520, 400), 64)),
        },
        "many-hands-shore": {
            "detail.jpg": lambda: plain(scenes.close(cloth, (34, 127, 88, 168), 1400, 81, 0.8)),
            "loom.jpg": lambda: plain(rooms.loom(cloth, 0, (1400, 1200), 0.5, 82)),
            "installed.jpg": lambda: plain(rooms.room(cloth, (1500, 1080), 83, 0.56, (224, 222, 214), floor_colour=(140, 118, 96))),
        },
        "dock-leaf": {"signature.jpg": lambda: plain(scenes.close(cloth, corner(2.3), 900, 71, -1))},
    }.get(piece, {})


def save_front(piece, image, path):
    """Each front carries something that a published copy must honour or lose."""
    if piece == "tide-tables":
        files.write(files.adobe_rgb(image), path, 80, icc_profile=files.adobe_rgb_profile())
    elif piece == "slack-water-1":  # the camera was held on its side: stored turned
        turned = image.transpose(Image.Transpose.ROTATE_90)
        files.write(turned, path, exif=files.exif({0x0112: (files.SHORT, 6), **CAMERA}))
    elif piece == "dock-leaf":  # and here on its head
        turned = image.transpose(Image.Transpose.ROTATE_180)
        files.write(turned, path, exif=files.exif({0x0112: (files.SHORT, 3)}))
    elif piece == "slack-water-5":  # a serial number, and where it was taken (out at sea)
        camera = {0x9003: (files.ASCII, "2025:07:04 11:20:05"), 0xA431: (files.ASCII, "IO-6-0048151623")}
        place = {0x0001: (files.ASCII, "N"), 0x0002: (files.RATIONAL, ((54, 1), (41, 1), (1234, 100))), 0x0003: (files.ASCII, "E"), 0x0004: (files.RATIONAL, ((2, 1), (37, 1), (5071, 100)))}
        files.write(image, path, exif=files.exif({0x0112: (files.SHORT, 1), **CAMERA}, camera, place))
    elif piece == "thirteen-moons":
        files.write(image, path, exif=files.exif({0x0112: (files.SHORT, 1), 0x013B: (files.ASCII, "Ottilie Brackwater"), **CAMERA}, {0xA430: (files.ASCII, "O. Brackwater, Sail Loft, Saltby Quay")}))
    elif piece == "many-hands-shore":
        small = image.copy()
        small.thumbnail((160, 160))
        files.write(image, path, 80, exif=files.exif({0x0112: (files.SHORT, 1), **CAMERA}, thumbnail=files.jpeg_bytes(small, 70)))
    elif piece == "every-kitchen-window":
        files.write(image, path, 76)
    else:
        files.write(image, path)


def main(archive, wanted):
    shelf = dict(SHELF)
    shelf["many-hands-shore"] = lambda: motifs.many_hands_shore(archive / "pieces/many-hands-shore/squares.csv")
    shelf["every-kitchen-window"] = lambda: motifs.every_kitchen_window(archive / "pieces/every-kitchen-window/squares.csv")
    for piece, design in shelf.items():
        names = ["front.jpg", *others(piece, None)]
        names = [n for n in names if not wanted or f"{piece}/{n}" in wanted]
        if not names:
            continue
        cloth = design()
        folder = archive / "pieces" / piece / "photos"
        folder.mkdir(parents=True, exist_ok=True)
        for name in names:
            path = folder / name
            if name == "front.jpg":
                made = slide(cloth) if piece == "glebe-fields" else trimmed(cloth, 13) if piece == "slack-water-2-or-3" else fronts(piece, cloth)
                save_front(piece, made, path)
            else:
                files.write(others(piece, cloth)[name](), path)
            print(f"{piece}/{name}: {path.stat().st_size // 1024} KiB", flush=True)


if __name__ == "__main__":
    here = Path(__file__).resolve().parents[2] / "sample-archive"
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else here, set(sys.argv[2:]))
