"""What random programs leave of the wood, by LinuxCNC's interpreter and a numpy height field: nothing of ours is asked.

`program-cases` writes the programs. For each of them
- `rs274` accepts it, and its canonical moves end where our moves end, to 0.002 mm (programs.py says how they are read);
- rapids run at or above the safe height or straight up, and the spindle turns wherever it cuts;
- the bit, moved along those canonical moves over points of the stock (each move one vectorised distance), leaves heights
  that lie between those of the exact cut 0.05 mm farther in and 0.05 mm farther out, within 0.01 mm: so floors agree to
  0.01 mm and walls to 0.05 mm. The exact cut is worked out here from path, bit and depth;
- on those moves neither the bit nor, where its width and the bit's stick-out are known, the nut or the spindle's body above
  it comes into a clamp; and neither, where it is wider than its bit, ever comes below the surface;
- what it takes is the closed form (geometry of the recess: A t + E; A (t + m) + E + t m d; A times the way round) to
  0.1 % (a levelled face: length x width x depth), summed over a low-discrepancy sequence of points, for every eighth program that a closed form is known for.

A bit that goes down evenly is taken to be over each point where it comes nearest: that is never lower than it is.

Usage: removal.py FOLDER
"""

import json
import math
from pathlib import Path

import judge as common
import numpy as np
import programs

POINTS, MANY = 12_000, 600_000
FLOOR, WALL, SHARE, PLACE = 0.01, 0.05, 0.001, 0.002
APART = 0.5


def points(low, high, count):
    """The R2 sequence (Roberts 2018): low discrepancy, no row of it along a wall."""
    g = 1.32471795724474602596
    k = np.arange(1, count + 1)
    return np.stack([low[i] + (high[i] - low[i]) * np.mod(0.5 + k / g ** (i + 1), 1.0) for i in (0, 1)], axis=1)


def to_line(p, a, b):
    """Distance from a stretch, and which share of it is nearest."""
    way = np.subtract(b, a)
    long = float(way @ way)
    share = np.clip(((p - a) @ way) / long, 0.0, 1.0) if long > 1e-18 else np.zeros(len(p))
    return np.linalg.norm(p - (np.asarray(a) + share[:, None] * way), axis=1), share


def to_arc(p, centre, radius, begin, turn):
    """Distance from an arc, and which share of it is nearest."""
    arm = p - np.asarray(centre)
    angle = np.arctan2(arm[:, 1], arm[:, 0])
    ahead = np.mod((angle - begin) * math.copysign(1.0, turn), 2 * math.pi)
    on = ahead <= abs(turn)
    ends = [np.asarray(centre) + radius * np.array([math.cos(t), math.sin(t)]) for t in (begin, begin + turn)]
    to_ends = [np.linalg.norm(p - end, axis=1) for end in ends]
    nearer = np.minimum(*to_ends)
    rho = np.where(on, np.abs(np.linalg.norm(arm, axis=1) - radius), nearer)
    share = np.where(on, ahead / abs(turn), np.where(to_ends[0] <= to_ends[1], 0.0, 1.0))
    return rho, share


def underside(rho, radius, corner, rim=None):
    """How high the bit's underside is above its tip; nothing of it beyond its radius, or what eases a rim beside that."""
    if rim:
        kind, size = rim
        out = np.clip(rho - radius, 0.0, size)
        up = out if kind == "chamfer" else np.sqrt(np.clip(size**2 - (size - out) ** 2, 0.0, None))
        return np.where(rho <= radius + size, up, np.inf)
    out = np.clip(rho - (radius - corner), 0.0, None)
    return np.where(rho <= radius, corner - np.sqrt(np.clip(corner**2 - out**2, 0.0, None)), np.inf)


def to_path(p, path):
    """How far points lie from where a bit's centre goes."""
    kind = path["kind"]
    if kind == "arch":
        return to_arc(p, path["centre"], path["radius"], path["from"], path["turn"])[0]
    if kind == "round":
        (x0, y0), (x1, y1), r = path["low"], path["high"], path["radius"]
        middle, half = np.array([(x0 + x1) / 2, (y0 + y1) / 2]), np.array([(x1 - x0) / 2 - r, (y1 - y0) / 2 - r])
        q = np.abs(p - middle) - half
        outside = np.linalg.norm(np.clip(q, 0.0, None), axis=1) + np.minimum(np.max(q, axis=1), 0.0) - r
        return np.abs(outside)
    corners = np.asarray(path["corners"])
    if len(corners) <= 2:
        return to_line(p, corners[0], corners[-1])[0]
    low, high = corners.min(axis=0), corners.max(axis=0)
    return np.linalg.norm(np.clip(np.maximum(low - p, p - high), 0.0, None), axis=1)


def exact(p, cuts, off):
    """Heights of the exact cut at points, each path's distance taken to be `off` more than it is."""
    z = np.zeros(len(p))
    for cut in cuts:
        rho = np.clip(to_path(p, cut["path"]) + off, 0.0, None)
        z = np.minimum(z, underside(rho, cut["radius"], cut["corner"], cut.get("rim")) - cut["depth"])
    return z


def sections(cut):
    """A and E of geometry's recess: half a section twice, and a full turn of it; by the two cases of d and r."""
    big, r, d = cut["radius"], cut["corner"], cut["depth"]
    if d >= r:
        area = 2 * ((big - r) * r + math.pi * r * r / 4 + big * (d - r))
        ends = (big - r) ** 2 * r + (big - r) * math.pi * r * r / 2 + 2 * r**3 / 3 + big * big * (d - r)
        return area, math.pi * ends
    a = r - d
    g = (r * r * math.acos(a / r) - a * math.sqrt(r * r - a * a)) / 2
    ends = (big - r) ** 2 * d + 2 * (big - r) * g + r * r * d - (r**3 - a**3) / 3
    return 2 * ((big - r) * d + g), math.pi * ends


def closed_form(cuts, stock):
    """What one cut takes of the stock, where a closed form is known: it lies within the stock and doesn't cross itself."""
    if len(cuts) != 1:
        return None
    cut = cuts[0]
    if cut.get("rim"):
        return None
    path, (area, ends) = cut["path"], sections(cut)
    low, high = reach(cut)
    inner = np.asarray(path["corners"]) if path["kind"] == "filled" and len(path["corners"]) == 4 else None
    if inner is not None and np.all(inner.min(axis=0) <= 0) and np.all(inner.max(axis=0) >= stock[:2]):
        return stock[0] * stock[1] * cut["depth"]  # a levelled face is all of it
    if low[0] < 0 or low[1] < 0 or high[0] > stock[0] or high[1] > stock[1]:
        return None
    if path["kind"] == "arch":
        return area * path["radius"] * abs(path["turn"]) + ends if path["radius"] > cut["radius"] else None
    if path["kind"] == "round":
        (x0, y0), (x1, y1), r = path["low"], path["high"], path["radius"]
        return area * (2 * (x1 - x0 + y1 - y0) - (8 - 2 * math.pi) * r) if r >= cut["radius"] else None
    corners = np.asarray(path["corners"])
    t, m = sorted(corners.max(axis=0) - corners.min(axis=0), reverse=True)
    return area * (t + m) + ends + t * m * cut["depth"]


def reach(cut):
    """The box that a cut stays in."""
    path = cut["path"]
    if path["kind"] == "arch":
        angles = np.linspace(path["from"], path["from"] + path["turn"], 721)
        corners = np.asarray(path["centre"]) + path["radius"] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    else:
        corners = np.asarray([path["low"], path["high"]] if path["kind"] == "round" else path["corners"])
    out = cut["radius"] + (cut.get("rim")[1] if cut.get("rim") else 0.0)
    return corners.min(axis=0) - out, corners.max(axis=0) + out


def left(p, moves, bits):
    """Heights that the bit leaves at points: the least of its underside over all moves."""
    z = np.zeros(len(p))
    for move, bit in zip(moves, bits):
        (x0, y0, z0), (x1, y1, z1) = move["start"], move["end"]
        if min(z0, z1) >= 0.0:
            continue
        radius, corner, rim = bit
        out = radius + (rim[1] if rim else 0.0)
        corners = [(x0, y0), (x1, y1)] + ([b[:2] for b in programs.bulges(move)] if move["arc"] else [])
        low, high = np.min(corners, axis=0) - out, np.max(corners, axis=0) + out
        near = np.flatnonzero(np.all((p >= low) & (p <= high), axis=1))
        if move["arc"]:
            clockwise, i, j = move["arc"]
            begin, end = math.atan2(-j, -i), math.atan2(y1 - y0 - j, x1 - x0 - i)
            turn = (end - begin) % (2 * math.pi) or 2 * math.pi
            turn = turn - 2 * math.pi if clockwise and turn < 2 * math.pi else (-turn if clockwise else turn)
            rho, share = to_arc(p[near], (x0 + i, y0 + j), math.hypot(i, j), begin, turn)
        else:
            rho, share = to_line(p[near], (x0, y0), (x1, y1))
        z[near] = np.minimum(z[near], z0 + (z1 - z0) * share + underside(rho, radius, corner, rim))
    return z


def followed(path, checks, name):
    """The canonical moves of a program in mm, with how many stops came before each; None where it is refused."""
    text = path.read_text(encoding="ascii")
    accepted, _, complaint = programs.interpret(path)
    if not checks.that(accepted, f"{name}: rs274 refuses it: {complaint}"):
        return None
    spoken = path.with_suffix(".spoken")
    spoken.write_text(programs.positions(text))
    _, calls, _ = programs.interpret(spoken)
    spoken.unlink()
    moves = programs.moves_of(calls, text)
    stops, counted = 0, iter(moves)
    for call, _ in calls:
        if call == "PROGRAM_STOP":
            stops += 1
        elif call in ("STRAIGHT_TRAVERSE", "STRAIGHT_FEED", "ARC_FEED"):
            next(counted)["stops"] = stops
    scale = programs.MILLIMETRES["G20" if "G20" in text.split() else "G21"]
    return programs.scaled(moves, scale)


def bits_of(case, moves):
    """The radii of the bit that each move is made with, and how far it stands out: a new one after each stop."""
    order = []
    for cut in case["cuts"]:
        bit = (case["bits"][cut["part"]], (cut["radius"], cut["corner"], cut.get("rim")), cut.get("out"))
        order += [] if order and order[-1] == bit else [bit]
    used = [order[min(move["stops"], len(order) - 1)] for move in moves]
    return [bit[1] for bit in used], [bit[2] for bit in used]


def places(move):
    """Points on a move, APART from each other."""
    (x0, y0, z0), (x1, y1, z1) = move["start"], move["end"]
    if not move["arc"]:
        count = math.ceil(math.dist(move["start"], move["end"]) / APART) + 1
        return np.linspace((x0, y0, z0), (x1, y1, z1), count)
    clockwise, i, j = move["arc"]
    begin, end, radius = math.atan2(-j, -i), math.atan2(y1 - y0 - j, x1 - x0 - i), math.hypot(i, j)
    turn = (end - begin) % (2 * math.pi) or 2 * math.pi
    turn = turn - 2 * math.pi if clockwise and turn < 2 * math.pi else (-turn if clockwise else turn)
    share = np.linspace(0.0, 1.0, math.ceil(radius * abs(turn) / APART) + 1)
    angle = begin + turn * share
    return np.stack([x0 + i + radius * np.cos(angle), y0 + j + radius * np.sin(angle), z0 + (z1 - z0) * share], axis=1)


def judge_clamps(case, moves, bits, outs, checks, name):
    """Neither bit, nut nor spindle comes into a clamp, and what is wider than its bit stays above the surface."""
    nut, (body, nut_high), met, low = case.get("nut"), case.get("spindle") or (None, 0.0), [], []
    # From wherever the bit is it first goes up.
    for move, (radius, _, rim), out in list(zip(moves, bits, outs))[1:]:
        p, radius = places(move), radius + (rim[1] if rim else 0.0)
        discs = [("bit", radius, 0.0)]
        for what, wide, up in (("nut", nut, 0.0), ("spindle", body, nut_high)):
            if wide and out is not None and wide / 2 > radius:
                discs.append((what, wide / 2, out + up))
                low += [(what, move)] if p[:, 2].min() + out + up < -PLACE else []
        for what, reach, up in discs:
            for i, (a, b, above) in enumerate(case["clamps"]):
                off = np.linalg.norm(np.clip(np.maximum(a - p[:, :2], p[:, :2] - b), 0.0, None), axis=1)
                if np.any((off < reach - PLACE) & (p[:, 2] + up < above - PLACE)):
                    met.append((what, i + 1, move["start"], move["end"]))
    checks.that(not met, f"{name}: runs into a clamp: {met[:1]}")
    checks.that(not low, f"{name}: {' and '.join(dict(low))} below the surface: {low[:1]}")


def judge_moves(case, moves, checks, name):
    """Our moves against the interpreter's, and what a move may not do."""
    cuts = [move for move in moves if not move["rapid"]]
    if case["arcs"]:
        ours = [move for move in case["moves"] if move[0] != "rapid"]
        off = max((math.dist(a["end"], b[1:4]) for a, b in zip(cuts, ours)), default=math.inf)
        kinds = all(bool(a["arc"]) == (b[0] == "arc") for a, b in zip(cuts, ours))
        checks.that(len(cuts) == len(ours) and kinds, f"{name}: {len(cuts)} cutting moves, ours are {len(ours)}")
        checks.within(off, 0.0, PLACE, f"{name}: where moves end")
    programs.judge_moves(moves, case["safe"], PLACE, name, checks)


def judge_heights(case, moves, bits, checks, name):
    """What is left at scattered points."""
    stock = case["stock"]
    boxes = [reach(cut) for cut in case["cuts"]]
    low = np.clip(np.min([b[0] for b in boxes], axis=0) - 1.0, 0.0, None)
    high = np.minimum(np.max([b[1] for b in boxes], axis=0) + 1.0, stock[:2])
    p = points(low, high, POINTS)
    found = left(p, moves, bits)
    deep, shallow = exact(p, case["cuts"], -WALL) - FLOOR, exact(p, case["cuts"], WALL) + FLOOR
    checks.that(bool(np.all(found >= deep)), f"{name}: gouged by {np.max(deep - found) + FLOOR:.4f} mm")
    checks.that(bool(np.all(found <= shallow)), f"{name}: left by {np.max(found - shallow) + FLOOR:.4f} mm")
    return low, high, bits


def judge_volume(case, moves, box, checks, name):
    """What is taken, against the closed form; whether there was one."""
    wanted = closed_form(case["cuts"], case["stock"])
    if wanted is None:
        return False
    low, high, bits = box
    p = points(low, high, MANY)
    taken = -float(np.mean(left(p, moves, bits))) * float(np.prod(high - low))
    checks.within(taken, wanted, SHARE * wanted, f"{name}: volume removed")
    return True


def judge(folder, checks, least=300):
    """All programs of a folder."""
    cases = json.loads((folder / "cases.json").read_text(encoding="utf-8"))
    checks.that(len(cases) >= least, f"{folder.name}: {len(cases)} programs, wanted {least}")
    volumes, inches, stops, panels, held, nuts, spindles = 0, 0, 0, 0, 0, 0, 0
    for i, case in enumerate(cases):
        name = case["program"]
        moves = followed(folder / name, checks, name)
        if moves is None:
            continue
        inches += case["inch"]
        stops += moves[-1]["stops"]
        judge_moves(case, moves, checks, name)
        bits, outs = bits_of(case, moves)
        panels += case["panel"]
        held += bool(case["clamps"])
        nuts += bool(case["nut"]) and any(out is not None for out in outs)
        spindles += bool(case["spindle"]) and any(out is not None for out in outs)
        judge_clamps(case, moves, bits, outs, checks, name)
        box = judge_heights(case, moves, bits, checks, name)
        if i % 4 == 0:
            volumes += judge_volume(case, moves, box, checks, name)
    checks.that(volumes >= least // 20, f"{folder.name}: only {volumes} volumes judged")
    checks.that(least // 4 <= inches <= len(cases) - least // 4, f"{folder.name}: {inches} of {len(cases)} in inches")
    checks.that(stops >= least // 30, f"{folder.name}: only {stops} stops for another bit")
    for count, what in ((panels, "levelled panels"), (held, "clamped"), (nuts, "with a nut"), (spindles, "with a spindle")):
        checks.that(count >= least // 30, f"{folder.name}: only {count} {what}")
    print(
        f"{len(cases)} programs, {inches} in inches, {stops} stops for another bit, {volumes} volumes, "
        f"{panels} of panels, {held} clamped, {nuts} with a nut, {spindles} with a spindle"
    )


if __name__ == "__main__":
    common.main("removal", judge)
