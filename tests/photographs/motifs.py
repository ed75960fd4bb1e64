"""The community hanging: forty-eight squares, a motif each, by many hands."""

import csv
import math

import numpy as np
from PIL import Image, ImageDraw

import designs as d

SIDE = 400  # pixels of one square while it is drawn

YARNS = [d.BARE, d.SHELL, d.SAND, d.STRAW, d.WELD, d.TAN, d.OAK, d.WALNUT, d.PALE, d.EBB, d.BLUE, d.INDIGO, d.NIGHT, d.SAGE, d.GREEN, d.MOSS, d.MADDER, d.BRICK, d.BLUSH, d.FLEECE, (92, 142, 148), (196, 120, 128)]
BARE, SHELL, SAND, STRAW, WELD, TAN, OAK, WALNUT, PALE, EBB, BLUE, INDIGO, NIGHT, SAGE, GREEN, MOSS, MADDER, BRICK, BLUSH, FLEECE, TEAL, PINK = range(22)

# Ground colours of the rows, from the top; the blue had run short by the last row woven.
GROUNDS = [[SAND, SHELL, BLUSH, STRAW, TAN, SAGE], [SHELL, STRAW, SAGE, PALE, SAND, BLUSH], [EBB, PALE, BLUE, TEAL, PALE, EBB], [INDIGO, BLUE, NIGHT, INDIGO, BLUE, MOSS], [EBB, BLUE, PALE, TEAL, EBB, SAGE], [INDIGO, TEAL, BLUE, NIGHT, INDIGO, MOSS]]


class Square:
    """One square in units of its side, 0 to 1."""

    def __init__(self, ground, rng):
        self.picture = Image.new("L", (SIDE, SIDE), ground)
        self.pen = ImageDraw.Draw(self.picture)
        self.rng = rng
        self.dark = ground in (BLUE, INDIGO, NIGHT, MOSS, TEAL)

    def poly(self, yarn, *points):
        self.pen.polygon([(x * SIDE, y * SIDE) for x, y in points], fill=yarn)

    def disc(self, yarn, x, y, r, squash=1.0):
        self.pen.ellipse([(x - r) * SIDE, (y - r * squash) * SIDE, (x + r) * SIDE, (y + r * squash) * SIDE], fill=yarn)

    def rect(self, yarn, x0, y0, x1, y1):
        self.pen.rectangle([x0 * SIDE, y0 * SIDE, x1 * SIDE, y1 * SIDE], fill=yarn)

    def line(self, yarn, width, *points):
        self.pen.line([(x * SIDE, y * SIDE) for x, y in points], fill=yarn, width=round(width * SIDE), joint="curve")

    def some(self, *yarns):
        return int(self.rng.choice(yarns))


def sea(s, level, *yarns):
    for n, yarn in enumerate(yarns):
        top = level + n * 0.1
        s.poly(yarn, *[(i / 24, top + 0.022 * math.sin(i * 0.9 + n * 2)) for i in range(25)], (1, 1), (0, 1))


def wave(s):
    for n, yarn in enumerate([BARE, BLUE, PALE, INDIGO, EBB, NIGHT]):
        top = 0.16 + n * 0.14
        s.poly(yarn, *[(i / 40, top + 0.06 * abs(math.sin(i / 40 * math.pi * 3 + n * 1.57)) - 0.03) for i in range(41)], (1, 1), (0, 1))


def fish(s):
    body, fin = s.some(MADDER, STRAW, BARE, WELD, BRICK), s.some(BARE, WELD, PALE)
    y = s.rng.uniform(0.4, 0.58)
    s.poly(body, (0.12, y), (0.3, y - 0.17), (0.52, y - 0.2), (0.7, y - 0.08), (0.88, y - 0.2), (0.84, y), (0.88, y + 0.2), (0.7, y + 0.08), (0.52, y + 0.2), (0.3, y + 0.17))
    for x in (0.42, 0.52, 0.62):
        s.line(fin, 0.035, (x, y - 0.13), (x + 0.03, y), (x, y + 0.13))
    s.disc(NIGHT, 0.27, y - 0.05, 0.035)
    s.line(fin, 0.03, (0.1, 0.86), (0.4, 0.83), (0.7, 0.87), (0.95, 0.84))


def boat(s):
    sea(s, 0.68, INDIGO, BLUE, NIGHT)
    s.poly(s.some(MADDER, BRICK, WALNUT), (0.14, 0.6), (0.88, 0.6), (0.76, 0.76), (0.26, 0.76))
    s.rect(WALNUT, 0.485, 0.14, 0.515, 0.6)
    s.poly(s.some(BARE, STRAW, BLUSH), (0.53, 0.16), (0.53, 0.56), (0.82, 0.56))
    s.poly(s.some(BARE, WELD, MADDER), (0.47, 0.24), (0.47, 0.56), (0.24, 0.56))


def sun(s):  # all suns are square
    for k, yarn in ((0.34, STRAW), (0.27, WELD), (0.18, BRICK)):
        s.rect(yarn, 0.5 - k, 0.46 - k, 0.5 + k, 0.46 + k)
    sea(s, 0.84, BLUE, INDIGO)


def house(s):
    wall = s.some(BARE, BLUSH, SHELL, STRAW)
    s.rect(GREEN, 0, 0.82, 1, 1)
    s.rect(wall, 0.22, 0.44, 0.78, 0.84)
    s.poly(s.some(MADDER, BRICK, OAK), (0.14, 0.46), (0.5, 0.16), (0.86, 0.46))
    s.rect(WALNUT, 0.45, 0.62, 0.56, 0.84)
    s.rect(BLUE, 0.29, 0.53, 0.38, 0.63)
    s.rect(BLUE, 0.63, 0.53, 0.72, 0.63)
    s.rect(OAK, 0.66, 0.16, 0.73, 0.32)


def lighthouse(s):
    sea(s, 0.78, BLUE, INDIGO)
    s.poly(WALNUT, (0.28, 0.84), (0.72, 0.84), (0.64, 0.74), (0.36, 0.74))
    for n in range(5):
        y0, y1 = 0.28 + n * 0.095, 0.28 + (n + 1) * 0.095
        s.poly(MADDER if n % 2 else BARE, (0.43 - n * 0.014, y0), (0.57 + n * 0.014, y0), (0.584 + n * 0.014, y1), (0.416 - n * 0.014, y1))
    s.rect(WELD, 0.45, 0.19, 0.55, 0.28)
    s.poly(MADDER, (0.42, 0.19), (0.58, 0.19), (0.5, 0.1))
    s.poly(WELD, (0.57, 0.21), (0.57, 0.26), (0.98, 0.36), (0.98, 0.12))
    s.poly(WELD, (0.43, 0.21), (0.43, 0.26), (0.02, 0.36), (0.02, 0.12))


def star(s):
    points, yarn = int(s.rng.integers(5, 9)), s.some(BARE, STRAW, WELD, PALE)
    turn = s.rng.uniform(0, 1)
    s.poly(yarn, *[(0.5 + (0.38 if k % 2 == 0 else 0.16) * math.sin(math.pi * k / points + turn), 0.5 - (0.38 if k % 2 == 0 else 0.16) * math.cos(math.pi * k / points + turn)) for k in range(2 * points)])
    s.disc(s.some(MADDER, BRICK, BLUE), 0.5, 0.5, 0.08)


def shell(s):
    for k in range(11):
        a, b = math.pi * (1.08 + 0.84 * k / 11), math.pi * (1.08 + 0.84 * (k + 1) / 11)
        reach = 0.52
        s.poly((BLUSH, BRICK)[k % 2], (0.5, 0.82), (0.5 + reach * math.cos(a), 0.8 + 1.25 * reach * math.sin(a)), (0.5 + reach * math.cos(b), 0.8 + 1.25 * reach * math.sin(b)))
    s.poly(OAK, (0.38, 0.8), (0.62, 0.8), (0.58, 0.9), (0.42, 0.9))


def anchor(s):
    yarn = BARE if s.dark else NIGHT
    s.rect(yarn, 0.465, 0.24, 0.535, 0.82)
    s.rect(yarn, 0.3, 0.34, 0.7, 0.41)
    s.pen.ellipse([0.41 * SIDE, 0.08 * SIDE, 0.59 * SIDE, 0.26 * SIDE], outline=yarn, width=round(0.05 * SIDE))
    s.pen.arc([0.18 * SIDE, 0.3 * SIDE, 0.82 * SIDE, 0.88 * SIDE], 20, 160, fill=yarn, width=round(0.07 * SIDE))
    s.poly(yarn, (0.12, 0.7), (0.2, 0.52), (0.32, 0.66))
    s.poly(yarn, (0.88, 0.7), (0.8, 0.52), (0.68, 0.66))


def bird(s):
    yarn = s.some(BARE, PALE) if s.dark else NIGHT
    for x, y, k in ((0.5, 0.42, 1.0), (0.24, 0.7, 0.5), (0.74, 0.76, 0.42)):
        s.poly(yarn, (x - 0.38 * k, y - 0.14 * k), (x - 0.2 * k, y - 0.22 * k), (x, y), (x + 0.2 * k, y - 0.22 * k), (x + 0.38 * k, y - 0.14 * k), (x + 0.17 * k, y - 0.08 * k), (x, y + 0.16 * k), (x - 0.17 * k, y - 0.08 * k))


def spiral(s):
    s.line(s.some(BARE, MADDER), 0.06, *[(0.5 + 0.0175 * k * math.cos(k * 0.45), 0.5 + 0.0175 * k * 0.5 * 2 * math.sin(k * 0.45)) for k in range(23)])


def moon(s):
    s.disc(BARE, 0.48, 0.48, 0.33)
    s.disc(NIGHT if s.dark else BLUE, 0.6, 0.42, 0.29)
    for x, y in ((0.16, 0.16), (0.82, 0.78), (0.2, 0.84), (0.86, 0.2)):
        s.poly(STRAW, (x, y - 0.05), (x + 0.05, y), (x, y + 0.05), (x - 0.05, y))


def net(s):
    for k in range(-6, 13):
        s.line(SHELL, 0.022, (k / 6, 0), (k / 6 + 0.5, 0.5), (k / 6, 1))
        s.line(SHELL, 0.022, (k / 6, 0), (k / 6 - 0.5, 0.5), (k / 6, 1))
    for x, y in ((0.33, 0.33), (0.67, 0.5), (0.42, 0.75)):
        s.disc(BRICK, x, y, 0.07)


def crab(s):
    for side in (-1, 1):
        for k in range(4):
            y = 0.52 + 0.07 * k
            s.line(BRICK, 0.035, (0.5, y), (0.5 + side * 0.33, y - 0.07 + 0.05 * k), (0.5 + side * 0.4, y + 0.1))
        s.line(MADDER, 0.05, (0.5 + side * 0.2, 0.46), (0.5 + side * 0.34, 0.34), (0.5 + side * 0.3, 0.22))
        s.poly(MADDER, (0.5 + side * 0.3, 0.3), (0.5 + side * 0.16, 0.17), (0.5 + side * 0.28, 0.1), (0.5 + side * 0.32, 0.2), (0.5 + side * 0.42, 0.12), (0.5 + side * 0.44, 0.26))
    s.line(BRICK, 0.035, (0.5, 0.7), (0.56, 0.92))  # the ninth leg
    s.disc(MADDER, 0.5, 0.56, 0.25, 0.72)
    s.disc(BARE, 0.42, 0.46, 0.03)
    s.disc(BARE, 0.58, 0.46, 0.03)


def tree(s):
    s.rect(GREEN if not s.dark else SAGE, 0, 0.86, 1, 1)
    s.rect(WALNUT, 0.46, 0.6, 0.54, 0.88)
    for n, (y, w) in enumerate(((0.14, 0.2), (0.3, 0.28), (0.46, 0.36))):
        s.poly((MOSS, GREEN, MOSS)[n] if not s.dark else (SAGE, GREEN, SAGE)[n], (0.5, y - 0.04), (0.5 - w, y + 0.22), (0.5 + w, y + 0.22))


def rain(s):
    for x, y, r in ((0.3, 0.3, 0.15), (0.5, 0.24, 0.19), (0.7, 0.31, 0.15)):
        s.disc(FLEECE, x, y, r)
    for k in range(6):
        for j in range(3):
            x, y = 0.18 + k * 0.13, 0.5 + j * 0.15 + 0.05 * (k % 2)
            s.line(BLUE, 0.03, (x, y), (x - 0.04, y + 0.09))


def flower(s):
    petal = s.some(PINK, BLUSH, MADDER, WELD) if s.dark else s.some(PINK, MADDER, INDIGO)
    s.rect(GREEN if not s.dark else SAGE, 0.475, 0.5, 0.525, 0.96)
    s.poly(GREEN if not s.dark else SAGE, (0.5, 0.84), (0.74, 0.62), (0.68, 0.8))
    s.poly(GREEN if not s.dark else SAGE, (0.5, 0.9), (0.26, 0.7), (0.32, 0.86))
    for k in range(7):
        s.disc(petal, 0.5 + 0.19 * math.cos(k * 0.8976), 0.36 + 0.19 * math.sin(k * 0.8976), 0.105)
    s.disc(WELD, 0.5, 0.36, 0.1)


def pebbles(s):
    for k in range(26):
        x, y = 0.1 + 0.2 * (k % 5) + s.rng.uniform(-0.03, 0.03) + 0.06 * ((k // 5) % 2), 0.1 + 0.18 * (k // 5) + s.rng.uniform(-0.02, 0.02)
        s.disc(s.some(SHELL, TAN, FLEECE, BARE, OAK, PALE), x, y, s.rng.uniform(0.05, 0.085), 0.75)


def checks(s):
    a, b = s.some(MADDER, INDIGO, MOSS), s.some(BARE, STRAW)
    for i in range(6):
        for j in range(6):
            if (i + j) % 2:
                s.rect(a if (i // 2 + j // 2) % 2 else b, 0.08 + i * 0.14, 0.08 + j * 0.14, 0.08 + (i + 1) * 0.14, 0.08 + (j + 1) * 0.14)


def knot(s):
    yarn = s.some(MADDER, INDIGO, BRICK)
    points = [(0.5 + 0.36 * math.sin(t * 2) * math.cos(t) * 1.15, 0.5 + 0.36 * math.sin(t * 2) * math.sin(t) * 1.15) for t in np.linspace(0, 2 * math.pi, 90)]
    s.line(WALNUT, 0.105, *points)
    s.line(yarn if yarn != INDIGO else EBB, 0.065, *points)


def many_hands_shore(map_file):
    """The hanging; which motif stands where is read from the piece's own map."""
    return hanging(map_file, d.Board(244.1, 183.0, 744, "v", 8), 6, 8, 100, 0)


def every_kitchen_window(map_file):
    """The wall of squares in its border, from the piece's own map."""
    return hanging(map_file, d.Board(360.0, 242.8, 1080, "v", 9), 8, 12, 500, 4)


def hanging(map_file, b, high, wide, seed, border):
    """Squares in rows and columns on a board, inside a plain border of so many centimetres."""
    rows, columns = b.grid.shape
    edge_y, edge_x = round(border * rows / b.height), round(border * columns / b.width)
    b.put(np.bool_(border > 0), OAK)
    rows, columns = rows - 2 * edge_y, columns - 2 * edge_x
    with open(map_file, encoding="utf-8", newline="") as lines:
        for entry in csv.DictReader(lines):
            row, column = int(entry["row"]) - 1, int(entry["column"]) - 1
            rng = np.random.default_rng(seed + (10 if wide <= 10 else 20) * row + column)
            ground = GROUNDS[row % 6][(column * 5 + row * 2 + column // 3) % 6]
            square = Square(ground, rng)
            globals()[entry["motif"]](square)
            if rng.random() < 0.4:  # some wove themselves a border
                square.pen.rectangle([0, 0, SIDE - 1, SIDE - 1], outline=square.some(BARE, OAK, MADDER, STRAW, WALNUT), width=round(SIDE * 0.035))
            top, bottom = edge_y + round(row * rows / high), edge_y + round((row + 1) * rows / high)
            left, right = edge_x + round(column * columns / wide), edge_x + round((column + 1) * columns / wide)
            cells = np.asarray(square.picture.resize((right - left, bottom - top), Image.Resampling.NEAREST)).copy()
            # Passes of a second shade in the ground, more with some hands than with others.
            shade = {INDIGO: BLUE, NIGHT: INDIGO, BLUE: INDIGO, EBB: PALE, PALE: EBB, TEAL: BLUE, SAND: SHELL, SHELL: BARE, STRAW: SAND, BLUSH: SHELL, TAN: SAND, SAGE: GREEN, MOSS: GREEN}[ground]
            streaks = np.repeat(rng.random((cells.shape[0] // 2 + 1, 1)), 2, axis=0)[: cells.shape[0]]
            cells[(cells == ground) & (streaks < rng.uniform(0, 0.35))] = shade
            b.grid[top:bottom, left:right] = cells
    return b.cloth(YARNS, abrash=0.07)
