"""The pictures that are woven, one function a piece.

Each fills a grid of yarns as it hangs. All of them are drawn for this archive.
`motifs.py` draws the small squares of the community hanging.
"""

import numpy as np
from PIL import Image, ImageDraw

from cloth import PICKS_PER_PITCH, Cloth

# A dyer's shelf.
BARE, FLEECE, SHELL = (231, 222, 202), (139, 133, 125), (214, 200, 172)
WELD, STRAW, SAND = (203, 170, 74), (220, 200, 138), (206, 184, 138)
MADDER, BRICK, BLUSH = (166, 56, 43), (186, 96, 62), (213, 164, 138)
NIGHT, INDIGO, BLUE, EBB, PALE = (30, 40, 66), (46, 68, 104), (84, 113, 145), (143, 167, 181), (186, 200, 203)
MOSS, GREEN, SAGE = (66, 84, 58), (100, 124, 82), (150, 160, 122)
WALNUT, OAK, TAN = (62, 47, 37), (112, 87, 64), (166, 140, 108)
SLATE, SILVER, GILT = (84, 97, 112), (204, 208, 210), (206, 170, 96)

LETTERS = {
    "O": ["01110", "10001", "10001", "10001", "10001", "10001", "01110"],
    "B": ["11110", "10001", "10001", "11110", "10001", "10001", "11110"],
    "2": ["01110", "10001", "00001", "00110", "01000", "10000", "11111"],
    "5": ["11111", "10000", "11110", "00001", "00001", "10001", "01110"],
    "6": ["00110", "01000", "10000", "11110", "10001", "10001", "01110"],
    " ": ["000"] * 7,
}


class Board:
    """A grid to draw on in centimetres; x to the right, y down, as it hangs."""

    def __init__(self, width, height, ends, ribs, seed):
        self.width, self.height, self.ends, self.ribs = width, height, ends, ribs
        across, along = (width, height) if ribs == "v" else (height, width)
        self.picks = round(ends * PICKS_PER_PITCH * along / across)
        shape = (self.picks, ends) if ribs == "v" else (ends, self.picks)
        self.grid = np.zeros(shape, np.uint8)
        self.x = ((np.arange(shape[1]) + 0.5) * width / shape[1])[None, :]
        self.y = ((np.arange(shape[0]) + 0.5) * height / shape[0])[:, None]
        self.rng = np.random.default_rng(seed)

    def put(self, where, yarn):
        self.grid[np.broadcast_to(where, self.grid.shape)] = yarn

    def passes(self, mean_ends):
        """Noise from 0 to 1 in single passes: long along the weft, one pass deep."""
        rows = np.empty((self.picks, self.ends), np.float32)
        for pick in range(0, self.picks, 2):
            cuts = np.cumsum(np.r_[self.rng.integers(0, mean_ends), self.rng.integers(mean_ends // 3 + 1, 2 * mean_ends, 2 + 4 * self.ends // mean_ends)])
            row = self.rng.random(len(cuts) + 1, np.float32)[np.searchsorted(cuts, np.arange(self.ends))]
            rows[pick : pick + 2] = row
        return rows if self.ribs == "v" else rows.T

    def teeth(self, mean_picks):
        """Hatching: 0 to 1 in wedges that run along the weft."""
        line = []
        while len(line) < self.picks:
            half = int(self.rng.integers(max(2, mean_picks // 3), mean_picks))
            tip = 0.75 + 0.25 * self.rng.random()
            line += list(np.linspace(0.05, tip, half)) + list(np.linspace(tip, 0.05, max(2, half * 2 // 3)))
        line = np.asarray(line[: self.picks], np.float32)
        return line[:, None] if self.ribs == "v" else line[None, :]

    def wave(self, along, reach, cells):
        """A soft random line over the positions `along`, within about ±reach."""
        knots = self.rng.standard_normal(cells + 3)
        at = (along - along.min()) / (along.max() - along.min() + 1e-9) * cells + 1
        i = np.clip(at.astype(int), 1, cells + 1)
        t = at - i
        t = t * t * (3 - 2 * t)
        return reach * (knots[i] * (1 - t) + knots[np.minimum(i + 1, cells + 2)] * t)

    def polygon(self, points):
        """True inside the corners given in cm."""
        rows, columns = self.grid.shape
        picture = Image.new("1", (columns, rows))
        ImageDraw.Draw(picture).polygon([(x * columns / self.width, y * rows / self.height) for x, y in points], fill=1)
        return np.asarray(picture)

    def write(self, text, right, foot, unit, yarn):
        """Woven letters, their lower right corner at (right, foot)."""
        width = sum(len(LETTERS[c][0]) + 1 for c in text) - 1
        x = right - width * unit
        for c in text:
            for row, bits in enumerate(LETTERS[c]):
                for column, bit in enumerate(bits):
                    if bit == "1":
                        l, t = x + column * unit, foot - (7 - row) * unit
                        self.put((self.x >= l) & (self.x < l + unit) & (self.y >= t) & (self.y < t + unit), yarn)
            x += (len(LETTERS[c][0]) + 1) * unit

    def cloth(self, yarns, **more):
        return Cloth(self.grid, self.ribs, self.width, self.height, yarns, **more)


def tide_tables():
    b = Board(164.6, 120.37, 366, "h", 1)
    sand, straw, bare, pale, ebb, blue, sage, green, moss, indigo, night, red, oak = range(13)
    yarns = [SAND, STRAW, BARE, PALE, EBB, BLUE, SAGE, GREEN, MOSS, INDIGO, NIGHT, MADDER, OAK]
    x, y, day, turn = b.x, b.y, 164.6 / 28, 164.6 / 10
    springs = 0.52 + 0.48 * np.cos(2 * np.pi * (x - 36) / 92)
    grain, hatch = b.passes(60), b.teeth(16)
    # The dry sky: sand and straw, bare towards the middle of the month.
    b.put(grain < 0.75 - 0.4 * np.cos(2 * np.pi * (x - 60) / 150) - y / 90, straw)
    b.put(grain > 0.62 + 0.5 * np.abs(x - 84) / 84 + y / 200, bare)
    b.put((np.abs(x - 5.5) < 0.4) | (np.abs(x - 158) < 0.5), oak)

    def tide(level, reach, lag):
        return level - 0.74 * reach * (0.25 + 0.75 * springs) * np.cos(2 * np.pi * (x / turn - lag))

    surface = tide(47, 14, 0.5)
    layers = [(surface, pale), (tide(52, 14.5, 0.56), ebb), (tide(59.5, 13, 0.64), blue), (tide(70, 10.5, 0.76), sage), (tide(76, 9.5, 0.84), green), (tide(85, 7.5, 0.95), moss), (tide(92.5, 5.5, 1.1), indigo), (tide(104, 3.5, 1.3), night)]
    for line, yarn in layers:
        b.put(y + 1.1 * (hatch - 0.4) > line, yarn)
    # Lights on the ebb, passes of a lighter yarn.
    b.put((b.grid == ebb) & (b.passes(14) > 0.9), pale)
    b.put((b.grid == blue) & (b.passes(14) > 0.93), ebb)
    b.put((b.grid == indigo) & (b.passes(20) > 0.9), blue)
    b.put((b.grid == night) & (b.passes(40) > 0.86), indigo)
    for post in (31.2, 33.9, 36.6, 126.4, 129.1):
        b.put((np.abs(x - post) < 0.75) & (y > 80 + 0.2 * (post % 9)) & (y < 108), oak)
    b.put((np.abs((x / day + 0.5) % 1 - 0.5) * day < 0.17) & (x > 7) & ((x < 138) | (x < 156) & (y < 103)), bare)
    for n, k in enumerate((0, 2, 3, 5, 7, 8)):
        cx = (k + 0.5 + 0.03 * (-1) ** n) * turn
        cy = np.interp(cx, x[0], surface[0]) - 1.0
        size = 2.5 if n % 3 else 3.0
        ball = ((x - cx) / size) ** 2 + ((y - cy) / (size * 1.12)) ** 2 < 1
        b.put(ball, red)
        b.put(ball & (np.abs(y - cy + 0.4) < 0.42), bare)
        b.put((np.abs(x - cx) < 0.3) & (y < cy - size) & (y > cy - size - 2.6), oak)
    b.write("OB 26", 160.4, 115.6, 0.66, bare)
    return b.cloth(yarns)


def slack_water_1():
    b = Board(59.1, 80.3, 240, "v", 2)
    grey, slate, pale, brown, linen, dark, mist, oak = range(8)
    yarns = [FLEECE, SLATE, PALE, WALNUT, BARE, (58, 66, 78), (170, 172, 168), OAK]
    x, y = b.x, b.y
    grain, fine = b.passes(70), b.passes(18)
    b.put(y >= 0, slate)
    b.put(grain < (y - 1) / 17, grey)
    b.put(grain < (y - 13) / 14, mist)
    b.put(grain < (y - 25) / 10, pale)
    bank = 33.2 + b.wave(x, 0.5, 7)
    b.put((y > bank) & (y < 36.4), dark)
    b.put((y > bank + 1.3) & (y < 36.4) & (fine > 0.7), slate)
    b.put(y >= 36.4, pale)
    b.put((y >= 36.4) & (grain < (y - 44) / 24), mist)
    b.put((y >= 36.4) & (fine < (y - 50) / 26), grey)
    b.put((y >= 36.4) & (grain > 1.35 - (y - 50) / 34), slate)
    b.put((y > 71) & (fine < (y - 70) / 11), dark)
    lean = (y - 16) * 0.012
    b.put((np.abs(x - 36 - lean) < 2.5) & (y > 15.5) & (y < 47.5), brown)
    b.put((np.abs(x - 34.7 - lean) < 0.75) & (y > 15.9) & (y < 47.5) & (fine > 0.3), oak)
    for rope in (21.0, 22.3):
        b.put((np.abs(x - 36.1) < 2.75) & (np.abs(y - rope) < 0.4), linen)
    shake = b.wave(y, 1.0, 24) * np.clip((y - 47.5) / 22, 0, 1)
    b.put((np.abs(x - 36.5 - shake) < 2.4) & (y >= 47.5) & (y < 75) & (fine > (y - 52) / 30), dark)
    b.put((np.abs(x - 36.5 - shake) < 1.1) & (y >= 47.5) & (y < 62) & (fine > 0.4), brown)
    b.put((y > 47.1) & (y < 47.8) & (np.abs(x - 36.3) > 2.6) & (np.abs(x - 36) < 14), linen)
    b.put((b.passes(5) > 0.988) & (y > 38) & (y < 70) & (np.abs(x - 36.4) > 4), linen)
    b.write("OB", 56.6, 77.6, 0.5, linen)
    return b.cloth(yarns)


def slack_water_2_or_3():
    b = Board(59.1, 79.7, 240, "v", 3)
    harbour, blue, grey, bare, straw, rose, weld, night = range(8)
    yarns = [INDIGO, BLUE, (150, 142, 132), BARE, STRAW, (219, 178, 150), (209, 180, 104), NIGHT]
    x, y = b.x, b.y
    grain, fine = b.passes(60), b.passes(24)
    b.put(grain > 0.2 + y / 26, night)
    b.put(grain < (y - 24) / 18, blue)
    shore = 43 + b.wave(x, 0.7, 6)
    b.put((y > shore - 7) & (grain < (y - shore + 8) / 9), grey)
    b.put(y > shore, straw)
    b.put((y > shore) & (grain < 0.75 - (y - shore) / 40), rose)
    b.put((y > shore + 8) & (fine < 0.1 + (y - shore - 8) / 60), weld)
    b.put((y > shore) & (fine > 0.94), bare)
    b.put((y > 66) & (grain > 1.25 - (y - 66) / 30), grey)
    # The slipway, and the place where the heron was.
    b.put(b.polygon([(0, 30), (26, 39), (26, 44.3), (0, 51)]), grey)
    b.put(b.polygon([(0, 31.2), (26, 39.6), (26, 40.6), (0, 33.2)]), harbour)
    b.put(b.polygon([(0, 36), (26, 42), (26, 42.5), (0, 37.2)]) & (fine > 0.2), blue)
    b.put(b.polygon([(59.1, 35.5), (26, 41), (26, 44.3), (59.1, 47.5)]), grey)
    b.put(b.polygon([(59.1, 37), (26, 41.8), (26, 42.4), (59.1, 39.2)]), harbour)
    rise = np.clip((y - 11) / 52, 0, 1)
    half = 2.9 * np.sin(np.pi * rise**1.15) ** 0.55
    gap = np.abs(x - 26.4 - 0.9 * np.sin(y / 13)) < half
    b.put(gap, bare)
    b.put(gap & (fine < (y - 50) / 16), straw)
    b.put(gap & (fine < (20 - y) / 14), blue)
    b.put(gap & (b.passes(9) > 0.96) & (y < 50), straw)
    b.write("OB", 56.4, 77.0, 0.5, harbour)
    return b.cloth(yarns)


def slack_water_5():
    b = Board(109.5, 60.0, 240, "h", 4)
    haze, water, deep, green, moss, oak, walnut, rust, light = range(9)
    yarns = [SHELL, EBB, (112, 141, 160), SAGE, GREEN, OAK, WALNUT, BRICK, PALE]
    x, y = b.x, b.y
    hatch, fine = b.teeth(18), b.passes(16)
    b.put(y + 6 * hatch < 8, light)
    hills = 14.5 + 2.6 * np.sin(x / 17.0 + 1) + 1.3 * np.sin(x / 6.3) + b.wave(x, 0.4, 22)
    b.put(y > hills, green)
    b.put(y + 3.2 * hatch > hills + 6.4 + np.sin(x / 9), moss)
    b.put(y > 25, light)
    b.put(y + 7 * (hatch - 0.5) > 33, water)
    b.put(y + 11 * (hatch - 0.5) > 49, deep)
    b.put((y > 25) & (y < 28.5) & (fine > 0.72), green)
    b.put((y > 28) & (b.passes(7) > 0.965), light)
    piles = [(12, 2.0, 8.5), (27.5, 1.5, 12.0), (43.5, 2.2, 6.0), (57, 1.6, 10.0), (70.5, 1.9, 13.5), (94, 2.9, 7.5)]
    for n, (px, half, head) in enumerate(piles):
        lean = 0.02 * (n - 2) * (y - 36)
        pile = (np.abs(x - px - lean) < half) & (y > head + 0.7 * np.sin(x * 1.3)) & (y < 37 + 0.3 * n)
        b.put(pile, walnut)
        b.put(pile & (x - px - lean < -half * 0.25) & (fine > 0.15), oak)
        b.put(pile & (y > 33.2 + 0.3 * n) & (fine > 0.35), rust)
        shake = b.wave(y, 0.6, 16) * np.clip((y - 37) / 8, 0, 1)
        below = (np.abs(x - px + lean - shake) < half * (1.02 - (y - 37) / 70)) & (y >= 37 + 0.3 * n) & (y < 58 - head * 0.35)
        b.put(below & (hatch + (fine - 0.5) * 0.4 > (y - 46) / 14), oak)
        b.put(below & (y < 43) & (fine > 0.5), walnut)
    b.write("OB 25", 107.0, 57.6, 0.44, walnut)
    return b.cloth(yarns)


def glebe_fields():
    b = Board(132.5, 96.0, 316, "v", 5)
    hedge, weld, straw, sand, green, sage, moss, tan, oak, sky, cloud, brick = range(12)
    yarns = [(58, 56, 42), WELD, STRAW, SAND, GREEN, SAGE, MOSS, TAN, OAK, (165, 178, 178), SHELL, BRICK]
    x, y, rng = b.x + 0 * b.y, b.y + 0 * b.x, b.rng
    crest = 21 + 3.0 * np.sin(x / 21 + 0.6) + 1.4 * np.sin(x / 8.5)
    depth = np.clip(y - crest, 0.01, None) / 78
    far = np.log1p(9 * depth)  # fields shrink towards the crest
    px, py = (x - 66) / (0.45 + 1.0 * depth), far * 52
    places = [(-104 + 23 * i + 11 * (j % 2) + rng.uniform(-7, 7), -4 + 13.5 * j + rng.uniform(-4, 4)) for j in range(10) for i in range(10)]
    seeds = np.asarray(places)[:95]
    reach = np.stack([np.hypot(px - sx, (py - sy) * 1.35) for sx, sy in seeds])
    order = np.argpartition(reach, 1, axis=0)[:2]
    near, second = np.take_along_axis(reach, order, 0)
    order = np.where(near <= second, order, order[::-1])
    near, second = np.minimum(near, second), np.maximum(near, second)
    which, apart = order[0], np.hypot(*((seeds[order[0]] - seeds[order[1]]) * [1, 1.35]).transpose(2, 0, 1))
    edge = (second**2 - near**2) / (2 * apart)
    crops = rng.choice([weld, straw, sand, green, sage, moss, tan, oak, brick], 95, p=[0.16, 0.14, 0.12, 0.16, 0.15, 0.09, 0.09, 0.06, 0.03])
    partner = {weld: straw, straw: sand, sand: straw, green: sage, sage: green, moss: green, tan: sand, oak: tan, brick: tan}
    other = np.array([partner[int(c)] for c in crops])
    angle, pitch, kind = rng.uniform(-0.9, 0.9, 95), rng.uniform(5, 9, 95), rng.random(95)
    furrow = (np.cos(angle[which]) * px + np.sin(angle[which]) * py) / pitch[which] % 1
    field = np.where((kind[which] < 0.62) & (furrow < 0.4), other[which], crops[which])
    field = np.where((kind[which] >= 0.62) & (b.passes(26) < 0.3), other[which], field)
    b.grid[:] = field
    b.put(edge < 0.75 + 0.55 * (kind[which] > 0.5), hedge)
    b.put(y < crest, sky)
    b.put((y < crest) & (b.passes(60) < 0.85 - y / 22), cloud)
    b.put((y > crest - 1.5 - 0.9 * np.abs(np.sin(x * 0.9))) & (y < crest) & (np.sin(x / 13) > 0.1), moss)
    for _ in range(46):  # trees in the hedges
        i = int(rng.integers(0, x.size))
        r, c = divmod(i, x.shape[1])
        if b.y[r, 0] < 27 or b.grid[r, c] != hedge and rng.random() < 0.85:
            continue
        size = 0.7 + 2.1 * depth[r, c]
        tree = (x - b.x[0, c]) ** 2 + ((y - b.y[r, 0] + size) * 0.85) ** 2 < size**2
        b.put(tree, moss)
        b.put(tree & (x < b.x[0, c] - 0.2 * size) & (b.passes(6) > 0.4), green)
    return b.cloth(yarns, abrash=0.08)


def thirteen_moons():
    b = Board(69.0, 137.17, 420, "v", 6)
    night, evening, dusk, silk, mixed, silkblue, silver, gilt, rose, deep = range(10)
    yarns = [(31, 37, 58), (46, 60, 92), (92, 70, 66), (234, 226, 205), (186, 184, 178), (56, 78, 118), SILVER, GILT, (136, 98, 84), (22, 27, 42)]
    x, y = b.x, b.y
    grain, fine = b.passes(80), b.passes(24)
    b.put(grain > 0.25 + y / 42, deep)
    b.put(grain < (y - 46) / 52, evening)
    b.put(grain < (y - 84) / 26, dusk)
    b.put((fine < (y - 98) / 34) & (y < 113), rose)
    b.put(y >= 112 + 0.25 * np.sin(x / 6), evening)
    b.put((y >= 112.3) & (grain < (y - 110) / 22), night)
    b.put((y >= 112.3) & (grain > 1.5 - (y - 112) / 26), deep)
    b.put((y >= 113) & (fine > 0.9), silkblue)
    for k in range(46):
        sx, sy = b.rng.uniform(3, 66), b.rng.uniform(3, 92)
        b.put((np.abs(x - sx) + np.abs(y - sy) * 1.0 < b.rng.choice([0.22, 0.3, 0.42])), gilt if k % 3 else silk)
    unseen = (3, 5, 7, 12)
    for k in range(13):
        cy = 9.2 + 7.95 * k
        cx = 34.5 + 19.5 * np.sin((k - 6) * 0.78)
        r = 3.65 + 1.35 * np.exp(-(((k - 6) / 2.2) ** 2))
        disc = (x - cx) ** 2 + (y - cy) ** 2 < r * r
        rim = ((x - cx) ** 2 + (y - cy) ** 2 < (r + 0.34) ** 2) & ~disc
        phase = (k - 6) / 6.6  # thin to full to thin
        limb = np.sqrt(np.clip(r * r - (y - cy) ** 2, 0, None)) * (1 - 2 * abs(phase))
        lit = disc & ((x - cx > -limb) if phase < 0 else (x - cx < limb))
        if k == 6:
            lit = disc
        b.put(rim, silver if k not in unseen else silkblue)
        b.put(disc, silkblue)
        b.put(disc & (fine > 0.6), evening)
        b.put(lit, silk if k not in unseen else mixed)
        seas = np.sin((x - cx) * 1.3 + k) + np.sin((y - cy) * 1.15 + 2 * k) + 0.6 * np.sin((x + y) * 0.9)
        b.put(lit & (seas > 1.25), mixed if k not in unseen else silver)
        b.put(lit & (fine > 0.86), mixed if k not in unseen else silk)
    path = 34.5 + 6.5 * np.sin((y - 112) / 5.4)
    b.put((y > 113.5) & (y < 134) & (np.abs(x - path) < 5 + (y - 112) * 0.35) & (b.passes(7) > 0.74), silver)
    b.put((y > 116) & (b.passes(9) > 0.975), silver)
    b.write("OB 26", 66.4, 134.8, 0.36, silver)
    return b.cloth(yarns, relief=0.9)


def dock_leaf():
    b = Board(7.144, 8.865, 46, "v", 7)
    bare, green, sage, moss, red, shell = range(6)
    yarns = [(226, 215, 192), GREEN, SAGE, MOSS, MADDER, (216, 203, 176)]
    x, y = b.x, b.y
    b.put(b.passes(20) > 0.8, shell)
    # t runs from the tip to the stalk; the midrib bends a little.
    t = (y - 0.95) / 5.9
    rib = 3.75 - 0.75 * (t - 0.1) ** 2 + 0.25 * t
    tt = np.clip(t, 0, 1)
    half = 1.7 * np.sin(np.pi * tt**0.72) ** 0.8 * (1 + 0.06 * np.sin(t * 19)) + 0.02
    leaf = (np.abs(x - rib) < half) & (t > 0) & (t < 1)
    b.put(leaf, green)
    b.put(leaf & (x < rib), sage)
    b.put(leaf & (np.abs(x - rib) > half * 0.78) & (x > rib), moss)
    side = np.abs(x - rib)
    vein = ((y + side * 0.75) % 0.92 < 0.17) & (side < half * 0.86) & (t > 0.08) & (t < 0.98)
    b.put(leaf & vein & (x > rib), moss)
    b.put(leaf & vein & (x < rib), green)
    b.put((np.abs(x - rib) < 0.10) & (t > 0.04) & (y < 8.05), red)
    b.put(leaf & vein & (side < half * 0.4), red)
    b.write("OB", 6.72, 8.55, 0.1554, moss)
    return b.cloth(yarns, abrash=0.03)
