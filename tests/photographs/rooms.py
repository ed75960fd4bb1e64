"""Pictures with things around the cloth: the frame loom, the room, the yarn table."""

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from cloth import smooth, weave
from scenes import DOUBLE, floats, lay, light, picture, place, plaster


def wood(shape, colour, seed, grain="h", boards=0):
    """Planed wood: slow bands along the grain and fine dark pores."""
    rng = np.random.default_rng(seed)
    rows, columns = shape if grain == "h" else shape[::-1]
    size = (rows, columns)
    bands = smooth(size, (max(3, rows / 22), 3), rng) * 0.045 + smooth(size, (max(4, rows / 5), 6), rng) * 0.03 + smooth(size, (max(4, rows / 2), max(4, columns / 60)), rng) * 0.02
    tone = np.ones(size, np.float32) + bands
    if boards:
        wide = rows / boards
        for n in range(boards):
            a, b = round(n * wide), round((n + 1) * wide)
            tone[a:b] *= 1 + 0.05 * rng.standard_normal()
            tone[a : a + max(1, round(wide * 0.02))] *= 0.6
    if grain == "v":
        tone = tone.T
    return np.clip(tone[..., None] * (np.asarray(colour, np.float32) / 255), 0, 1)


def paste(ground, block, left, top):
    left, top = round(left), round(top)
    bottom, right = min(ground.shape[0], top + block.shape[0]), min(ground.shape[1], left + block.shape[1])
    t, l = max(0, top), max(0, left)
    ground[t:bottom, l:right] = block[t - top : bottom - top, l - left : right - left]


def shade(ground, box, blur, strength, dx=0, dy=0):
    mask = Image.new("L", (ground.shape[1], ground.shape[0]))
    ImageDraw.Draw(mask).rectangle([box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy], fill=255)
    ground *= (1 - strength * floats(mask.filter(ImageFilter.GaussianBlur(blur))))[..., None]


def beam(shape, colour, seed, grain):
    """A bar of wood with a lighter upper (or left) arris and a darker lower one."""
    bar = wood(shape, colour, seed, grain)
    n = shape[0] if grain == "h" else shape[1]
    round_off = 1.08 - 0.34 * (np.arange(n) / n) ** 2.2 - 0.16 * np.exp(-np.arange(n) / (0.05 * n))
    return bar * (round_off[:, None, None] if grain == "h" else round_off[None, :, None]).astype(np.float32)


def loom(cloth, turned, size, share, seed):
    """The piece on a frame loom, woven to `share` of its length; `turned` quarter turns bring it upright as woven."""
    width, height = size[0] * DOUBLE, size[1] * DOUBLE
    ground = plaster(size, seed, (211, 206, 196)) * np.float32(0.93)
    along, across = (cloth.width, cloth.height) if turned % 2 else (cloth.height, cloth.width)
    scale = min(width * 0.74 / across, height * 0.80 / along)
    rgb, alpha = weave(cloth, scale, None, seed)
    rgb, alpha = np.rot90(rgb, turned).copy(), np.rot90(alpha, turned).copy()
    rows, columns = alpha.shape
    rng = np.random.default_rng(seed)
    pitch = scale * across / (cloth.grid.shape[1] if cloth.ribs == "v" else cloth.grid.shape[0])
    # The fell climbs area by area, in steps.
    fell, at = np.empty(columns), 0
    level = rows * (1 - share)
    while at < columns:
        wide = int(rng.uniform(0.05, 0.16) * columns)
        if columns - at - wide < 0.05 * columns:
            wide = columns - at
        top = level + rng.normal(0, 0.022) * rows
        run = np.arange(min(wide, columns - at))
        step = np.floor(run / (pitch * 6)) * pitch * 2.2
        fell[at : at + wide] = top + (step if rng.random() < 0.5 else step[::-1])
        at += wide
    woven = np.arange(rows)[:, None] >= fell[None, :]
    bar = round(min(width, height) * 0.045)
    left, top = (width - columns) // 2, max(round(height * 0.085), round(bar * 2.5))
    # Frame behind, and its shadow on the wall.
    outer = (left - bar * 1.7, top - bar * 1.5, left + columns + bar * 1.7, top + rows + bar * 1.5)
    for box in ((outer[0], outer[1], outer[0] + bar, outer[3]), (outer[2] - bar, outer[1], outer[2], outer[3]), (outer[0], outer[1], outer[2], outer[1] + bar), (outer[0], outer[3] - bar, outer[2], outer[3])):
        shade(ground, box, bar * 0.5, 0.35, bar * 0.5, bar * 0.6)
    shade(ground, (left, top + level, left + columns, top + rows), bar * 0.6, 0.35, bar * 0.5, bar * 0.6)
    colour = (176, 140, 98)
    for x in (outer[0], outer[2] - bar):
        paste(ground, beam((round(outer[3] - outer[1] + bar * 1.2), bar), colour, seed + 2, "v"), x, outer[1] - bar * 0.6)
    for y in (outer[1], outer[3] - bar):
        paste(ground, beam((bar, round(outer[2] - outer[0])), colour, seed + 3, "h"), outer[0], y)
    # Bare warp, from nail to nail.
    warp = Image.new("L", (width, height))
    dark = Image.new("L", (width, height))
    pen, pen_dark = ImageDraw.Draw(warp), ImageDraw.Draw(dark)
    nails = []
    strand = max(1, round(pitch * 0.34))
    for k in range(int(columns / pitch)):
        x = left + (k + 0.5) * pitch + rng.normal(0, 0.06 * pitch)
        y0 = outer[1] + bar * (0.42 if k % 4 < 2 else 0.6)
        pen_dark.line([(x + pitch * 0.5 + 6, y0), (x + pitch * 0.5 + 6, top + rows)], fill=90, width=strand)
        pen.line([(x, y0), (x, outer[3] - bar * 0.5)], fill=int(rng.uniform(205, 255)), width=strand)
        if k % 2 == 0:
            nails.append((x, y0))
    ground *= (1 - 0.5 * floats(dark.filter(ImageFilter.GaussianBlur(4))))[..., None]
    w = floats(warp)[..., None]
    ground = ground * (1 - w * 0.95) + np.asarray([0.93, 0.90, 0.82], np.float32) * w * w * 0.95
    # The woven part.
    a = (alpha * woven)[..., None]
    part = ground[top : top + rows, left : left + columns]
    under = np.zeros((height, width), np.float32)
    under[top : top + rows, left : left + columns] = a[..., 0]
    ground[top : top + rows, left : left + columns] = part * (1 - a) + rgb * a
    image = picture(ground)
    pen = ImageDraw.Draw(image)
    for x, y in nails:
        pen.ellipse([x - 3, y - 3, x + 3, y + 3], fill=(92, 90, 88))
    # Bobbins hang where the weaving stopped.
    for k in range(9):
        column = int((k + rng.uniform(0.25, 0.75)) * columns / 9)
        y = top + fell[column] + 2
        x = left + column
        sample = np.clip(rgb[min(rows - 1, int(fell[column]) + 8), column] * 255, 0, 255)
        colour = tuple(int(c) for c in sample)
        hang = y + rng.uniform(0.06, 0.14) * height
        sway = rng.uniform(-10, 10)
        long, thick = 0.042 * height, 0.0062 * height
        pen.line([(x + 5, y + 4), (x + sway + 6, hang + 5)], fill=tuple(int(c * 0.45) for c in colour), width=4)
        pen.line([(x, y), (x + sway, hang)], fill=tuple(int(c * 0.9) for c in colour), width=4)
        soft = Image.new("L", image.size)
        ImageDraw.Draw(soft).ellipse([x + sway - thick * 1.4 + 8, hang + 10, x + sway + thick * 1.6 + 8, hang + long * 1.8 + 10], fill=150)
        image.paste((26, 24, 24), mask=soft.filter(ImageFilter.GaussianBlur(5)))
        pen = ImageDraw.Draw(image)
        for i in range(-8, 9):  # wooden stem, then the wound yarn
            t = i / 8
            tone = 1.08 - 0.5 * abs(t + 0.25) ** 1.7
            half = 1.15 * thick * np.sqrt(1 - t * t * 0.98)
            pen.line([(x + sway + t * thick * 0.5, hang + long * 0.5), (x + sway + t * thick * 0.18, hang + long * 2.0)], fill=tuple(int(c * tone) for c in (188, 148, 100)), width=2)
        for i in range(int(long)):
            s = i / long
            half = thick * 1.6 * np.sqrt(max(0.0, 1 - (2 * s - 1) ** 2)) ** 0.8
            for t in np.linspace(-1, 1, 9):
                tone = (1.12 - 0.5 * abs(t + 0.3) ** 1.6) * (1 + 0.10 * np.sin(i * 1.3))
                pen.point((x + sway + t * half, hang + i), fill=tuple(int(min(255, c * tone)) for c in colour))
            pen.line([(x + sway - half, hang + i), (x + sway - half * 0.3, hang + i), ], fill=tuple(int(min(255, c * (0.98 + 0.1 * np.sin(i * 1.3)))) for c in colour), width=1)
            pen.line([(x + sway - half * 0.3, hang + i), (x + sway + half * 0.4, hang + i)], fill=tuple(int(min(255, c * (1.1 + 0.1 * np.sin(i * 1.3)))) for c in colour), width=1)
            pen.line([(x + sway + half * 0.4, hang + i), (x + sway + half, hang + i)], fill=tuple(int(min(255, c * (0.76 + 0.1 * np.sin(i * 1.3)))) for c in colour), width=1)
    return light(floats(image), seed, fall=0.20, centre=(0.3, 0.3), warm=0.05)


def room(cloth, size, seed, cloth_height, wall=(229, 225, 216), centre=0.5, bench_at=0.5, floor_colour=(158, 124, 88)):
    """The piece in a room with a bench; `cloth_height` is its share of the picture's height."""
    width, height = size[0] * DOUBLE, size[1] * DOUBLE
    ground = plaster(size, seed, wall)
    line = round(height * 0.79)
    boards = wood((height - line, width), floor_colour, seed + 4, "v", boards=0)
    y = (np.arange(height - line) / (height - line))[:, None]
    x = (np.arange(width)[None, :] - width / 2) / (0.55 + 0.9 * y)
    pitch = width / 13
    seam = np.abs((x / pitch) % 1 - 0.5) > 0.485
    which = np.floor(x / pitch).astype(int)
    tone = 1 + 0.05 * np.sin(which * 12.9898) + 0.03 * np.sin(which * 78.233)
    boards = boards * (tone * (1 - 0.35 * seam))[..., None].astype(np.float32) * (0.82 + 0.22 * y)[..., None].astype(np.float32)
    paste(ground, boards, 0, line)
    skirting = plaster((size[0], 40), seed + 5, (233, 230, 223))[: round(height * 0.03)]
    shade(ground, (0, line - height * 0.005, width, line + height * 0.012), height * 0.006, 0.35)
    paste(ground, skirting * np.float32(0.97), 0, line - skirting.shape[0])
    ground[line - skirting.shape[0] - 3 : line - skirting.shape[0]] *= 0.82
    ground[line - 3 : line + 4] *= 0.5
    # A tall window out of the picture lays its light on the wall.
    beam_light = Image.new("L", (width, height))
    pen = ImageDraw.Draw(beam_light)
    for k in range(2):
        l = width * (0.02 + 0.17 * k)
        pen.polygon([(l, 0), (l + width * 0.15, 0), (l + width * 0.30, line), (l + width * 0.15, line)], fill=255)
    ground *= (1 + 0.055 * floats(beam_light.filter(ImageFilter.GaussianBlur(width / 55))))[..., None] * np.asarray([1.0, 0.995, 0.975], np.float32)
    # The cloth.
    h = size[1] * cloth_height
    w = h * cloth.width / cloth.height
    cx, top = size[0] * centre, size[1] * (0.40 - cloth_height / 2)
    top = max(top, size[1] * 0.06)
    quad = [[cx - w / 2, top], [cx + w / 2, top], [cx + w / 2, top + h], [cx - w / 2, top + h]]
    ground = place(ground, cloth, quad, seed)
    # The bench.
    seat_w, seat_h = width * 0.34, height * 0.022
    bx, by = width * bench_at - seat_w / 2, height * 0.775
    leg_h, leg_w = height * 0.135, width * 0.017
    shade(ground, (bx + 10, by + leg_h + seat_h * 0.2, bx + seat_w + 30, by + leg_h + seat_h * 1.2), height * 0.012, 0.5)
    shade(ground, (bx + 30, by + seat_h, bx + seat_w + 60, by + leg_h), height * 0.03, 0.26)
    for x0 in (bx + seat_w * 0.07, bx + seat_w * 0.93 - leg_w):
        paste(ground, beam((round(leg_h * 0.9), round(leg_w * 0.8)), (98, 74, 52), seed + 7, "v") * np.float32(0.8), x0 + leg_w * 0.5, by + seat_h)
        paste(ground, beam((round(leg_h), round(leg_w)), (150, 114, 78), seed + 6, "v"), x0, by + seat_h)
    top_board = wood((round(seat_h * 1.25), round(seat_w)), (190, 150, 108), seed + 8, "h")
    paste(ground, top_board, bx, by - seat_h * 1.0)
    paste(ground, beam((round(seat_h), round(seat_w)), (158, 120, 82), seed + 9, "h"), bx, by + seat_h * 0.2)
    soft = floats(picture(ground).filter(ImageFilter.GaussianBlur(1.2)))
    return light(soft, seed, fall=0.24, centre=(0.3, 0.25), warm=0.05)


def ball(radius, colour, rng):
    """A wound ball of yarn, square picture and its cover; light from the upper left."""
    n = radius * 2
    y, x = np.mgrid[0:n, 0:n].astype(np.float32)
    x, y = (x - radius + 0.5) / radius, (y - radius + 0.5) / radius
    wobble = 1 + 0.012 * np.sin(5 * np.arctan2(y, x) + rng.uniform(0, 6)) + 0.008 * np.sin(9 * np.arctan2(y, x))
    r2 = (x * x + y * y) / wobble**2
    inside = r2 < 1
    z = np.sqrt(np.clip(1 - r2, 0, 1))
    normal = np.stack([x, y, z], -1)
    tone, layer = np.zeros((n, n), np.float32), np.ones((n, n), np.float32)
    strands = rng.uniform(13, 16)
    for k in range(16):  # later windings lie over earlier ones
        axis = rng.standard_normal(3)
        axis /= np.linalg.norm(axis)
        side = np.cross(axis, [0.31, 0.52, 0.79])
        d = normal @ axis
        mid, half = rng.uniform(-0.35, 0.35), (2.0 if k < 1 else rng.uniform(0.16, 0.34))
        band = np.abs(d - mid) < half
        phase = (d * strands * 2.0) % 1
        twist = np.sin(2 * np.pi * (strands * 5 * np.arctan2(normal @ side, z + 0.01) / np.pi + phase))
        strand = (1 - 0.62 * np.abs(2 * phase - 1) ** 2.4) * (1 + 0.09 * twist)
        edge = np.clip((half - np.abs(d - mid)) * 14, 0, 1)
        tone = np.where(band, strand, tone * (0.80 if k else 1) ** (np.abs(np.abs(d - mid) - half) < 0.05))
        layer = np.where(band, 0.9 + 0.012 * k + 0.05 * edge, layer)
    lit = np.clip(normal @ (np.asarray([-0.45, -0.62, 0.64])), 0, 1)
    shadow = 0.34 + 0.78 * lit
    rgb = (np.asarray(colour, np.float32) / 255) * (tone * layer * shadow * (1 + 0.05 * rng.standard_normal((n, n))))[..., None]
    cover = np.clip((1 - np.sqrt(np.clip(r2, 0, None))) * radius / 2.5, 0, 1) * inside
    return np.clip(rgb * 1.12, 0, 1).astype(np.float32), cover.astype(np.float32)


def yarns(colours, size, seed, table=(146, 118, 88)):
    """Balls of yarn on a table, seen from above and a little from the front."""
    width, height = size[0] * DOUBLE, size[1] * DOUBLE
    ground = wood((height, width), table, seed, "h", boards=4)
    rng = np.random.default_rng(seed)
    count = len(colours)
    rows = 1 if count <= 3 else 2
    split = [colours] if rows == 1 else [colours[: count // 2], colours[count // 2 :]]
    spots = []
    for r, line in enumerate(split):
        radius = min(width / (len(split[-1]) * 2 + 0.9), height / (rows * 2 + 0.35)) * 0.97
        for k, colour in enumerate(line):
            x = width * (k + 0.5 + (0.0 if len(line) == len(split[-1]) else 0.0)) / len(line) + rng.normal(0, 0.05) * radius
            y = height * (r + 0.5) / rows + rng.normal(0, 0.06) * radius + (0.06 - 0.05 * r) * height * (rows - 1)
            spots.append((x, y, radius * rng.uniform(0.90, 1.06), colour))
    for x, y, radius, colour in spots:
        for blur, grow, strength, off in ((0.30, 1.0, 0.55, 0.34), (0.09, 0.93, 0.5, 0.12)):
            mask = Image.new("L", (width, height))
            ImageDraw.Draw(mask).ellipse([x - radius * grow + radius * off, y - radius * grow + radius * off, x + radius * grow + radius * off, y + radius * grow + radius * off], fill=255)
            ground *= (1 - strength * floats(mask.filter(ImageFilter.GaussianBlur(radius * blur))))[..., None]
    image = picture(ground)
    pen = ImageDraw.Draw(image)
    for x, y, radius, colour in spots[::2]:  # a loose end or two, from under the ball
        points = [(x + radius * (0.5 + 0.8 * t), y + radius * (0.55 + 0.42 * t + 0.10 * np.sin(t * 6 + x))) for t in np.linspace(0, 1, 30)]
        wide = max(5, round(radius * 0.03))
        pen.line([(a + 4, b + 6) for a, b in points], fill=(70, 54, 40), width=wide, joint="curve")
        pen.line(points, fill=tuple(int(c * 0.78) for c in colour), width=wide, joint="curve")
        pen.line([(a, b - 2) for a, b in points], fill=colour, width=wide // 2, joint="curve")
    ground = floats(image).copy()
    for x, y, radius, colour in spots:
        rgb, cover = ball(int(radius), colour, rng)
        l, t = int(x - radius), int(y - radius)
        l0, t0 = max(0, l), max(0, t)
        r1, b1 = min(width, l + rgb.shape[1]), min(height, t + rgb.shape[0])
        rgb, cover = rgb[t0 - t : b1 - t, l0 - l : r1 - l], cover[t0 - t : b1 - t, l0 - l : r1 - l, None]
        ground[t0:b1, l0:r1] = ground[t0:b1, l0:r1] * (1 - cover) + rgb * cover
    return light(ground, seed, fall=0.28, centre=(0.3, 0.25), warm=0.05)
