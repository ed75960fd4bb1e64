"""Turns a design, a grid of weft colours, into a picture of weft-faced cloth.

A tapestry is a grid already: across it the warp ends, along it the picks. A
design says which yarn covers each end in each pick; this file draws the ribs,
the beads of weft between them, the slits where two colours meet along a warp,
and the unevenness of dye and hand. It knows nothing of walls, rooms or files.
"""

from dataclasses import dataclass

import numpy as np
from PIL import Image

PICKS_PER_PITCH = 4  # picks in the height of one warp pitch; a bead is two picks tall


@dataclass
class Cloth:
    """A design as it hangs: `grid[y, x]` numbers the yarn in `yarns` (sRGB)."""

    grid: np.ndarray
    ribs: str  # "v": the warp hangs upright; "h": woven sideways, ribs lie level
    width: float  # cm as it hangs
    height: float  # cm as it hangs
    yarns: list
    abrash: float = 0.05  # how far the dye of one yarn wanders
    relief: float = 1.0  # how deep the ribs are

    def loom_grid(self):
        """The grid with the warp upright, shape (picks, ends)."""
        return self.grid if self.ribs == "v" else self.grid.T


def smooth(shape, cells, rng):
    """Soft noise of mean 0, deviation about 1, with `cells` (rows, columns) waves."""
    rows, columns = max(2, int(cells[0])), max(2, int(cells[1]))
    small = rng.standard_normal((rows + 2, columns + 2)).astype(np.float32)
    big = Image.fromarray(small).resize((shape[1], shape[0]), Image.Resampling.BICUBIC)
    return np.asarray(big) * 1.3


def slits(grid):
    """How far open the gap right of each end is, 0 to 1, shape as the grid."""
    differs = np.zeros(grid.shape, bool)
    differs[:, :-1] = grid[:, :-1] != grid[:, 1:]
    above = np.zeros(grid.shape, np.float32)
    below = np.zeros(grid.shape, np.float32)
    run = np.zeros(grid.shape[1], np.float32)
    for row in range(grid.shape[0]):
        run = (run + 1) * differs[row]
        above[row] = run
    run[:] = 0
    for row in range(grid.shape[0] - 1, -1, -1):
        run = (run + 1) * differs[row]
        below[row] = run
    # Widest in the middle of a long run, shut at its ends; runs under about six picks stay shut.
    length = above + below
    return np.clip(np.minimum(above, below) / 9.0, 0, 1) * (length > 7)


def weave(cloth, scale, box=None, seed=0):
    """Draws the cloth at `scale` pixels a centimetre.

    `box` (left, top, right, bottom) in cm as it hangs; it may reach past the
    edges, where the picture is clear. Returns float RGB (0 to 1) and alpha.
    """
    left, top, right, bottom = box or (0.0, 0.0, cloth.width, cloth.height)
    if cloth.ribs == "h":
        across, along = (top, bottom), (left, right)
        size_across, size_along = cloth.height, cloth.width
    else:
        across, along = (left, right), (top, bottom)
        size_across, size_along = cloth.width, cloth.height
    grid = cloth.loom_grid()
    picks, ends = grid.shape
    pitch_px = scale * size_across / ends
    rng = np.random.default_rng(seed)
    shape = (round((along[1] - along[0]) * scale), round((across[1] - across[0]) * scale))
    # Where each pixel lies, in ends and picks; warps wander a little, the edges with them.
    u = (across[0] + (np.arange(shape[1], dtype=np.float32) + 0.5) / scale) * (ends / size_across)
    v = (along[0] + (np.arange(shape[0], dtype=np.float32) + 0.5) / scale) * (picks / size_along)
    cells = ((along[1] - along[0]) / 7, (across[1] - across[0]) / 7)
    u = u[None, :] + smooth(shape, cells, rng) * min(0.35, ends / 500) + smooth(shape, (cells[0] * 5, cells[1] * 5), rng) * 0.12
    v = v[:, None] + smooth(shape, cells, rng) * 1.1 + smooth(shape, (cells[0] * 2, cells[1] * 9), rng) * 0.5
    end = np.floor(u).astype(np.int32)
    f = u - end
    bead = np.floor((v + (end & 1)) / 2).astype(np.int32)
    g = (v + (end & 1)) / 2 - bead
    inside = (u >= 0) & (u < ends) & (v >= 0) & (v < picks)
    e = np.clip(end, 0, ends - 1)
    p = np.clip(2 * bead - (end & 1), 0, picks - 1)
    yarn = grid[p, e]
    colour = yarn_colours(cloth, grid.shape, rng)
    rgb = np.take(np.asarray(cloth.yarns, np.float32) / 255.0, yarn, axis=0)
    # Abrash: each skein a little lighter or darker, warmer or colder.
    rgb *= 1 + cloth.abrash * colour[yarn, p][..., None]
    rgb[..., 0] *= 1 + 0.3 * cloth.abrash * colour[yarn, (p + picks // 3) % picks]
    rgb[..., 2] *= 1 - 0.3 * cloth.abrash * colour[yarn, (p + picks // 3) % picks]
    # Passes and beads that differ: the hand, and the spinning.
    near = np.float32(min(1.0, pitch_px / 14))
    rgb *= 1 + (0.030 * rng.standard_normal(picks, np.float32)[p] + (0.03 + 0.03 * near) * rng.standard_normal(grid.shape, np.float32)[p, e])[..., None]
    rgb *= relief(cloth, f, g, u, v, near)[..., None]
    opening = slits(grid)
    gap = np.maximum(opening[p, e] * np.exp(-(((1 - f) / 0.2) ** 2)), opening[p, np.maximum(e - 1, 0)] * np.exp(-((f / 0.2) ** 2)))
    rgb *= (1 - (0.75 - 0.2 * near) * gap)[..., None]
    if near > 0.5:  # fibres, only where one could see them
        fuzz = rng.standard_normal(shape).astype(np.float32)
        fuzz = np.asarray(Image.fromarray(fuzz).resize((shape[1], shape[0])))
        fuzz = (fuzz + np.roll(fuzz, 1, 1) + np.roll(fuzz, 2, 1) + np.roll(fuzz, 1, 0)) / 2
        rgb *= (1 + 0.055 * near * fuzz)[..., None]
    # The cloth is not quite flat.
    rgb *= (1 + 0.012 * smooth(shape, (cells[0] / 3 + 1, cells[1] / 3 + 1), rng))[..., None]
    if cloth.ribs == "h":
        rgb, inside = rgb.transpose(1, 0, 2), inside.T
    return np.clip(rgb, 0, 1), inside.astype(np.float32)


def yarn_colours(cloth, shape, rng):
    """For each yarn, how its shade wanders along the piece."""
    count = len(cloth.yarns)
    slow = np.stack([smooth((2, shape[0]), (2, 9), rng)[0] for _ in range(count)])
    skeins = rng.standard_normal((count, shape[0] // 40 + 2)).astype(np.float32)
    steps = np.repeat(skeins, 40, axis=1)[:, : shape[0]]
    return 0.6 * slow + 0.5 * steps


def relief(cloth, f, g, u, v, near):
    """Light on ribs and beads, about 1; the light comes from the upper left."""
    across, along = 2 * f - 1, 2 * g - 1
    valley = 1 - (0.20 + 0.30 * near) * cloth.relief * np.abs(across) ** 2.6
    groove = 1 - (0.10 + 0.28 * near) * cloth.relief * np.abs(along) ** 3
    slope_across, slope_along = (0.07, 0.05) if cloth.ribs == "v" else (0.09, 0.04)
    lit = 1 - cloth.relief * (slope_across * across + slope_along * along)
    ply = 1 + 0.07 * near * np.sin(2 * np.pi * (1.5 * f + 1.6 * g) + 0.7 * np.floor(u))
    return valley * groove * lit * ply * (1.05 + 0.05 * near)
