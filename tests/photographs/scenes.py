"""Puts cloth into pictures: on a wall, on the loom, in a room, close to; and yarn.

Everything is drawn at twice its final size and reduced, so that ribs do not
beat with the pixels.
"""

from dataclasses import replace

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from cloth import smooth, weave

DOUBLE = 2


def picture(array):
    return Image.fromarray((np.clip(array, 0, 1) * 255 + 0.5).astype(np.uint8))


def floats(image):
    return np.asarray(image, np.float32) / 255.0


def homography(source, target):
    """Coefficients for PIL that carry `target` pixels back to `source`."""
    rows, right = [], []
    for (x, y), (u, v) in zip(target, source):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.linalg.solve(np.asarray(rows, float), np.asarray(right, float))


def corners(cloth, size, margin, lean=(0.0, 0.0), turn=0.0, shift=(0, 0)):
    """Whole-pixel corners of a piece seen a little from one side.

    `lean` is how much nearer the right and the foot are; `turn` in degrees.
    The middle lengths keep the proportions of the piece.
    """
    width, height = size
    k = min(width * (1 - 2 * margin) / cloth.width, height * (1 - 2 * margin) / cloth.height)
    a = np.radians(turn)
    points = []
    for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        grow = 1 + lean[0] * sx + lean[1] * sy
        x, y = sx * cloth.width / 2 * k * grow, sy * cloth.height / 2 * k * grow
        points.append((width / 2 + shift[0] + x * np.cos(a) - y * np.sin(a), height / 2 + shift[1] + x * np.sin(a) + y * np.cos(a)))
    return [[round(x), round(y)] for x, y in points]


def place(ground, cloth, quad, seed, shadow=1.0, alpha_edge=0.6):
    """Hangs the cloth on `ground` (float, double size) with its corners at `quad` (final pixels)."""
    quad = [(x * DOUBLE, y * DOUBLE) for x, y in quad]
    across = (np.hypot(quad[1][0] - quad[0][0], quad[1][1] - quad[0][1]) + np.hypot(quad[2][0] - quad[3][0], quad[2][1] - quad[3][1])) / 2
    scale = across / cloth.width
    border = 0.012 * max(cloth.width, cloth.height)
    rgb, alpha = weave(cloth, scale, (-border, -border, cloth.width + border, cloth.height + border), seed)
    return lay(ground, rgb, alpha, border * scale, cloth.width * scale, cloth.height * scale, quad, shadow, alpha_edge)


def lay(ground, rgb, alpha, border, width, height, quad, shadow, alpha_edge=0.6):
    size = (ground.shape[1], ground.shape[0])
    source = [(border, border), (border + width, border), (border + width, border + height), (border, border + height)]
    back = homography(source, quad)
    how = dict(size=size, method=Image.Transform.PERSPECTIVE, data=tuple(back), resample=Image.Resampling.BICUBIC)
    cover = picture(alpha).filter(ImageFilter.GaussianBlur(alpha_edge)).transform(**how)
    cloth = floats(picture(rgb).transform(**how))
    a = floats(cover)
    if shadow:
        for blur, dx, dy, strength in ((max(size) / 75, 10, 26, 0.34), (max(size) / 400, 3, 7, 0.30)):
            cast = floats(cover.filter(ImageFilter.GaussianBlur(blur)))
            cast = np.roll(cast, (round(dy * max(size) / 4000), round(dx * max(size) / 4000)), (0, 1))
            ground = ground * (1 - shadow * strength * cast)[..., None] * np.asarray([1, 1, 1], np.float32)
    # A thick cloth is darker at its turned right and lower edges, lighter above.
    soft = floats(cover.filter(ImageFilter.GaussianBlur(max(size) / 700)))
    slope = np.roll(soft, (2, 2), (0, 1)) - np.roll(soft, (-2, -2), (0, 1))
    cloth = cloth * (1 + 0.9 * np.clip(-slope, -0.25, 0.12))[..., None]
    return ground * (1 - a[..., None]) + cloth * a[..., None]


def plaster(size, seed, colour=(226, 221, 211)):
    """A pale wall, double size: brushed plaster with slow unevenness."""
    rng = np.random.default_rng(seed)
    shape = (size[1] * DOUBLE, size[0] * DOUBLE)
    unit = min(shape) / 100
    rough = 0.008 * smooth(shape, (shape[0] / unit / 14, shape[1] / unit / 14), rng) + 0.006 * smooth(shape, (shape[0] / unit / 3, shape[1] / unit / 2), rng) + 0.006 * smooth(shape, (shape[0] / 12, shape[1] / 12), rng)
    wall = np.ones(shape + (3,), np.float32) * (np.asarray(colour, np.float32) / 255)
    return wall * (1 + rough)[..., None]


def light(image, seed, fall=0.16, centre=(0.38, 0.3), warm=0.02, noise=0.006):
    """Soft light from one side, the lens's corners, and the sensor's grain; reduces to final size."""
    image = floats(picture(image).reduce(DOUBLE))
    rng = np.random.default_rng(seed + 1000)
    y, x = np.mgrid[0 : image.shape[0], 0 : image.shape[1]].astype(np.float32)
    x, y = x / image.shape[1], y / image.shape[0]
    far = np.hypot(x - centre[0], y - centre[1])
    image = image * (1.03 - fall * far**1.6)[..., None]
    image = image * (1 + warm * np.stack([0.5 - far, 0 * far, far - 0.5], -1))
    grain = rng.standard_normal(image.shape[:2]).astype(np.float32)[..., None] * noise
    tint = rng.standard_normal(image.shape).astype(np.float32) * noise * 0.35
    return np.clip(image + grain + tint, 0, 1)


def front(cloth, size, quad, seed, wall=(226, 221, 211), **lighting):
    return light(place(plaster(size, seed, wall), cloth, quad, seed), seed, **lighting)


def close(cloth, box, long_edge, seed, turn=0.0, **lighting):
    """A detail: the part in `box` (cm), a little turned, its far corners out of focus."""
    left, top, right, bottom = box
    grow = 0.06 * max(right - left, bottom - top)
    scale = long_edge * DOUBLE / max(right - left, bottom - top)
    rgb, alpha = weave(cloth, scale, (left - grow, top - grow, right + grow, bottom + grow), seed)
    under = np.ones_like(rgb) * np.asarray([0.84, 0.82, 0.78], np.float32)
    soft = floats(picture(alpha).filter(ImageFilter.GaussianBlur(scale * 0.12)))
    under *= (1 - 0.45 * np.roll(soft, (round(scale * 0.15), round(scale * 0.1)), (0, 1)))[..., None]
    edge = floats(picture(alpha).filter(ImageFilter.GaussianBlur(2)))[..., None]
    image = picture(rgb * edge + under * (1 - edge)).rotate(turn, Image.Resampling.BICUBIC)
    cut = round(grow * scale)
    image = image.crop((cut, cut, image.width - cut, image.height - cut))
    image = image.crop((0, 0, image.width // 2 * 2, image.height // 2 * 2))
    blurred = floats(image.filter(ImageFilter.GaussianBlur(5)))
    sharp = floats(image)
    y, x = np.mgrid[0 : sharp.shape[0], 0 : sharp.shape[1]].astype(np.float32)
    mix = np.clip(np.hypot(x / sharp.shape[1] - 0.48, y / sharp.shape[0] - 0.5) * 2.4 - 0.85, 0, 1)[..., None]
    return light(sharp * (1 - mix) + blurred * mix, seed, fall=0.22, **lighting)


def back(cloth, size, quad, seed, tails=1500):
    """The wrong side: the picture mirrored, weft ends hanging from the colour changes."""
    mirrored = replace(cloth, grid=cloth.grid[:, ::-1].copy(), relief=cloth.relief * 1.1, abrash=cloth.abrash + 0.02)
    image = picture(place(plaster(size, seed, (205, 199, 188)), mirrored, quad, seed))
    grid, rng = mirrored.grid, np.random.default_rng(seed)
    edge = np.argwhere((grid[1:, :-1] != grid[1:, 1:]) | (grid[1:, :-1] != grid[:-1, :-1]))
    (x0, y0), (x1, y1), _, (x3, y3) = [(x * DOUBLE, y * DOUBLE) for x, y in quad]
    cm = np.hypot(x1 - x0, y1 - y0) / cloth.width
    chosen = edge[np.sort(rng.choice(len(edge), min(tails, len(edge)), replace=False))]
    shade = Image.new("L", image.size)
    strands = []
    for row, column in chosen:
        u, v = column / grid.shape[1], row / grid.shape[0]
        x, y = x0 + (x1 - x0) * u + (x3 - x0) * v, y0 + (y1 - y0) * u + (y3 - y0) * v
        length, bend, lean = cm * rng.uniform(1.2, 4.6), rng.normal(0, 0.55), rng.normal(0, 0.16)
        points = [(x + length * (lean * t + bend * t * t * (1 - 0.5 * t)), y + length * t * (1 - 0.15 * abs(bend))) for t in np.linspace(0, 1, 9)]
        colour = np.asarray(cloth.yarns[grid[row, column]]) * rng.uniform(0.9, 1.12)
        strands.append((points, tuple(int(c) for c in np.clip(colour, 0, 255))))
    wide = max(2, round(cm * 0.17))
    pen = ImageDraw.Draw(shade)
    for points, _ in strands:
        pen.line([(px + wide, py + wide) for px, py in points], fill=150, width=wide + 1, joint="curve")
    image = floats(image) * (1 - 0.55 * floats(shade.filter(ImageFilter.GaussianBlur(wide * 0.7))))[..., None]
    image = picture(image)
    pen = ImageDraw.Draw(image)
    for points, colour in strands:
        dark = tuple(int(c * 0.72) for c in colour)
        pen.line(points, fill=dark, width=wide, joint="curve")
        pen.line([(px - wide * 0.2, py) for px, py in points], fill=colour, width=max(1, round(wide * 0.6)), joint="curve")
    return light(floats(image), seed, fall=0.24, centre=(0.65, 0.25))
