"""Renders the photographs of samples/photographed-walnut.toml, and writes that plan.

    python3 samples/photographed.py             # writes samples/photographed-walnut/*.jpg and the plan
    python3 samples/photographed.py --check     # renders them again and compares

Nothing here was photographed: the wood is that of samples/traced.py, which no tree has grown, and
the camera, the bench and the card are computed too. Both samples show the same board, once by
traced lines and once by pictures: perspective, uneven and tinted light, blur and noise.

Needs numpy and Pillow.
"""

import io
import sys
from pathlib import Path

import numpy as np
from PIL import Image

import traced
from traced import KERF, LENGTH, LETTERS, THICKNESS, WIDTH

HERE = Path(__file__).resolve().parent
FOLDER = HERE / "photographed-walnut"
SIZE = (1024, 768)
QUALITY = 82
CARD = (60, 60, 200, 110)  # the patch that the plan points at: x, y, width, height
REFLECTANCE = 0.9
# The colours of black walnut and what latewood and pores do to them, as the tool draws that wood.
HEARTWOOD, SAPWOOD = (78, 52, 38), (196, 166, 124)
LATEWOOD = {"body": 0.6, "line": 0.4, "heartwood": 0.36, "sapwood": 0.2}


def light(srgb):
    """sRGB bytes to linear light (IEC 61966-2-1)."""
    value = np.asarray(srgb, dtype=float) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def srgb(linear):
    """Linear light to sRGB, 0 to 255."""
    value = np.clip(linear, 0.0, 1.0)
    return 255.0 * np.where(value <= 0.0031308, value * 12.92, 1.055 * value ** (1 / 2.4) - 0.055)


def hashed(i, j, salt):
    """A number from 0 to 1 that belongs to a cell of a grid."""
    mask = np.uint64(0xFFFFFFFF)
    h = (i.astype(np.int64).astype(np.uint64) * np.uint64(0x9E3779B1)) & mask
    h = (h ^ ((j.astype(np.int64).astype(np.uint64) * np.uint64(0x85EBCA77)) & mask) ^ np.uint64(salt * 0x27D4EB2F & 0xFFFFFFFF)) & mask
    for shift, factor in ((15, 0x2C1B3C6D), (12, 0x297A2D39), (15, 0x1B56C4E9)):
        h = ((h ^ (h >> np.uint64(shift))) * np.uint64(factor)) & mask
    return (h >> np.uint64(8)).astype(float) / float(1 << 24)


def noise(x, y, salt):
    """Smooth noise, -1 to 1, one cell to a unit."""
    i, j = np.floor(x), np.floor(y)
    s, t = x - i, y - j
    s, t = s * s * (3 - 2 * s), t * t * (3 - 2 * t)
    at = lambda di, dj: 2 * hashed(i + di, j + dj, salt) - 1
    return (at(0, 0) * (1 - s) + at(1, 0) * s) * (1 - t) + (at(0, 1) * (1 - s) + at(1, 1) * s) * t


def pores(u, v, after, salt):
    """Share of each point that pores take: 1 in a pore. Larger and more of them where `after` is small."""
    cell, covered = 0.34, np.zeros_like(u)
    for di in (-1, 0, 1):
        for dj in (-1, 0, 1):
            i, j = np.floor(u / cell) + di, np.floor(v / cell) + dj
            x = (i + 0.2 + 0.6 * hashed(i, j, salt)) * cell
            y = (j + 0.2 + 0.6 * hashed(i, j, salt + 1)) * cell
            radius = (0.1 - 0.06 * after) * (0.75 + 0.5 * hashed(i, j, salt + 2))
            there = hashed(i, j, salt + 3) < 0.6 - 0.25 * after
            covered = np.maximum(covered, ((u - x) ** 2 + (v - y) ** 2 < radius**2) & there)
    return covered


def wood(u, v, t, salt):
    """Linear light of the wood at (u, v) of the slab, at the share t of its length."""
    pu, pv = traced.pith(t)
    du, dv = u - pu, v - pv
    far, angle = np.hypot(du, dv), np.arctan2(dv, du)
    ripple = (
        1.4 * np.sin(2 * angle + 0.6) + 0.7 * np.sin(5 * angle + 1.1 + 0.6 * t) + 0.25 * np.sin(13 * angle + 2.0 * t)
    )
    bent = np.where(far - ripple >= 40.0, far - ripple, far / (1.0 + ripple / 40.0))
    radii = np.array(traced.RADII)
    nominal = np.clip(bent / (1.0 - 0.02 * t), 0.0, radii[-1] - 1e-6)
    year = np.searchsorted(radii, nominal, side="right") - 1
    f = (nominal - radii[year]) / (radii[year + 1] - radii[year])
    strength = 1.0 + 0.35 * (2 * hashed(year, np.zeros_like(year), 5) - 1)
    dark = LATEWOOD["body"] * (3 * f**2 - 2 * f**3) + LATEWOOD["line"] * f**8
    dark = strength * (dark - 0.5 * LATEWOOD["body"] - LATEWOOD["line"] / 9)
    border = 92.0 + 5.0 * np.sin(3 * angle + 0.4) + 2.0 * np.sin(8 * angle) - 5.0 * t
    heart = np.clip(0.5 - (far - border) / 2.0, 0.0, 1.0)
    heart = (heart * heart * (3 - 2 * heart))[..., None]
    colour = light(SAPWOOD) + (light(HEARTWOOD) - light(SAPWOOD)) * heart
    depth = 0.7 + 0.6 * (1.0 - colour / colour.max(axis=-1, keepdims=True))
    strong = LATEWOOD["sapwood"] + (LATEWOOD["heartwood"] - LATEWOOD["sapwood"]) * heart
    pore = pores(u, v, f, salt) - 0.055
    drift = 1.0 + 0.07 * noise(du / 35.0, dv / 35.0, 11) + 0.03 * noise(du / 11.0, dv / 11.0, 12)
    streak = 1.0 + 0.2 * noise(nominal / 22.0, 0 * nominal, 13)[..., None] * heart
    return colour * (1 - strong * depth * dark[..., None]) * (1 - 0.6 * depth * pore[..., None]) * streak * drift[..., None]


def homography(corners):
    """The 3 x 3 map that takes the unit square's corners to these points."""
    rows, right = [], []
    for (s, t), (x, y) in zip(((0, 0), (1, 0), (1, 1), (0, 1)), corners):
        rows += [[s, t, 1, 0, 0, 0, -x * s, -x * t], [0, 0, 0, s, t, 1, -y * s, -y * t]]
        right += [x, y]
    return np.append(np.linalg.solve(rows, right), 1.0).reshape(3, 3)


def view(near, number):
    """The corners of (0, 0), (U, 0), (U, V), (0, V) in the photograph, by where the camera was held."""
    chance = np.random.default_rng(700 + 2 * number + near)
    wide, high = 760.0, 760.0 * THICKNESS / WIDTH
    left, top = 132.0 + chance.uniform(-20, 20), 232.0 + chance.uniform(-20, 12)
    box = [(left, top + high), (left + wide, top + high), (left + wide, top), (left, top)]
    moved = [(x + chance.uniform(-22, 22), y + chance.uniform(-16, 16)) for x, y in box]
    # On the near end u runs to the left.
    return [moved[1], moved[0], moved[3], moved[2]] if near else moved


def blurred(picture, sigma):
    """Gaussian blur along both axes."""
    reach = int(np.ceil(3 * sigma))
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    kernel /= kernel.sum()
    for axis in (0, 1):
        padded = np.pad(picture, [(reach, reach) if a == axis else (0, 0) for a in range(3)], mode="edge")
        count = picture.shape[axis]
        picture = sum(k * np.take(padded, range(n, n + count), axis=axis) for n, k in enumerate(kernel))
    return picture


def bench(x, y, number):
    """A plain board of grey card on the bench, with a little of its own grain."""
    grain = 1.0 + 0.03 * noise(x / 40.0, y / 90.0, 31 + number) + 0.02 * noise(x / 3.0, y / 3.0, 41 + number)
    return light((104, 112, 116)) * grain[..., None]


def photograph(near, number):
    """One photograph as an array of bytes."""
    width, height = SIZE
    chance = np.random.default_rng(900 + 2 * number + near)
    back = np.linalg.inv(homography(view(near, number)))
    left, t = number * (WIDTH + KERF), 0.0 if near else 1.0
    tint = np.array([1.0, chance.uniform(0.93, 0.98), chance.uniform(0.82, 0.92)]) * chance.uniform(0.82, 0.98)
    slant = chance.uniform(-0.1, 0.1, 2)
    total, each = np.zeros((height, width, 3)), 2
    for n in range(each * each):
        x = np.arange(width) + (n % each + 0.5) / each
        y = np.arange(height) + (n // each + 0.5) / each
        x, y = np.meshgrid(x, y)
        s, t_, w = (back[i, 0] * x + back[i, 1] * y + back[i, 2] for i in range(3))
        s, t_ = s / w, t_ / w
        here = (s >= 0) & (s <= 1) & (t_ >= 0) & (t_ <= 1)
        seen = bench(x, y, number)
        a, b, c, d = CARD
        # The card reaches a little beyond the patch that is pointed at.
        seen[(x > a - 24) & (x < a + c + 24) & (y > b - 24) & (y < b + d + 16)] = REFLECTANCE
        seen[here] = wood(left + s[here] * WIDTH, t_[here] * THICKNESS, t, 50 + number)
        uneven = 1.0 + slant[0] * (x / width - 0.5) + slant[1] * (y / height - 0.5)
        total += seen * uneven[..., None]
    total = blurred(total / each**2 * tint, 0.8)
    noisy = srgb(total) + chance.normal(0.0, 1.8, total.shape)
    return np.clip(np.rint(noisy), 0, 255).astype(np.uint8)


def plan():
    """The plan's text: that of the traced sample, but for what the ends show."""
    lines = [HEAD + traced.SHOP]
    for number, letter in enumerate(LETTERS):
        lines += ["[[blanks]]", f'letter = "{letter}"', 'wood = "black walnut"', f"width = {WIDTH:g}"]
        lines += [f"thickness = {THICKNESS:g}", f"length = {LENGTH:g}", "moisture = 7.5", "", "[blanks.shows]"]
        for end in ("near", "far"):
            # One photograph has its corners named, of the others they are found.
            corners = ""
            if (number, end) == (0, "near"):
                points = ", ".join(f"[{x:.1f}, {y:.1f}]" for x, y in view(True, number))
                corners = f" corners = [{points}],"
            card = f"card = [{', '.join(str(n) for n in CARD)}]"
            lines.append(
                f'{end} = {{ photo = {{ file = "photographed-walnut/{letter}-{end}.jpg",{corners} {card} }} }}'
            )
        lines.append("")
    return "\n".join(lines) + traced.TAIL


HEAD = """# A board from five walnut blanks whose ends were photographed. Invented: the pictures are rendered
# from the solid wood model of the traced sample (samples/photographed.py), nobody has taken them.
#
# Each end lies on grey card with a white card beside it, which card = [...] points at. The corners of
# one end are named, those of the others are found. The rings are found in the pictures too.

quarterturn = 1
name = "Photographed walnut"
units = "millimetre"
finest = "0.5 mm"

"""


def encoded(pixels):
    """As a JPEG."""
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "JPEG", quality=QUALITY, subsampling=2)
    return out.getvalue()


def decoded(data):
    """A JPEG's pixels."""
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(float)


def check():
    """Whether the kept files are what this script makes: the plan to the letter, the pictures within what another
    machine's arithmetic and another version of the encoder may change."""
    wrong = [] if (HERE / "photographed-walnut.toml").read_text() == plan() else ["the plan differs"]
    for number, letter in enumerate(LETTERS):
        for near in (True, False):
            name = f"{letter}-{'near' if near else 'far'}.jpg"
            kept, made = decoded((FOLDER / name).read_bytes()), decoded(encoded(photograph(near, number)))
            if kept.shape != made.shape:
                wrong.append(f"{name}: another size")
                continue
            off = np.abs(kept - made)
            if off.mean() > 0.5 or np.percentile(off, 99.9) > 24:
                wrong.append(f"{name}: {off.mean():.2f} off in the mean, {np.percentile(off, 99.9):.0f} at 99.9 %")
    print("\n".join(wrong) if wrong else "the photographs are what samples/photographed.py makes")
    return 1 if wrong else 0


def main():
    if "--check" in sys.argv[1:]:
        return check()
    FOLDER.mkdir(exist_ok=True)
    for number, letter in enumerate(LETTERS):
        for near in (True, False):
            name = f"{letter}-{'near' if near else 'far'}.jpg"
            (FOLDER / name).write_bytes(encoded(photograph(near, number)))
    (HERE / "photographed-walnut.toml").write_text(plan())
    return 0


if __name__ == "__main__":
    sys.exit(main())
