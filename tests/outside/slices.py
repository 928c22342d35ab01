"""Volumes of crossing cuts by numpy and scipy alone: level slices, each the integral of what cuts take along Y.

At a level z and a place x every cut takes one or two spans of y, and the board's outline leaves one; how long the
spans are together, within the outline, is integrated over x (Gauss-Legendre between all places where a boundary
begins, ends or crosses another, in the angle that makes vertical tangents smooth) and over z (scipy's quad). Knows cuts
as `cut-cases` writes them, and nothing of how they are computed there.
"""

import math

import numpy as np
from scipy.integrate import quad

NODES, WEIGHTS = np.polynomial.legendre.leggauss(28)
ANGLES = (NODES + 1) * math.pi / 2
GRID = 160


def half_width(cut, height):
    """Half of what the bit cuts at a height above the floor."""
    radius, corner = cut["radius"], cut["corner_radius"]
    if height >= corner:
        return radius
    return radius - corner + math.sqrt(max(0.0, corner**2 - (corner - height) ** 2))


def rounded(low, high, corner):
    """Places in x, and lower and upper bound along y, of a rectangle with rounded corners."""

    def bounds(x):
        into = np.maximum(np.maximum(low[0] + corner - x, x - (high[0] - corner)), 0.0)
        back = corner - np.sqrt(np.maximum(corner**2 - into**2, 0.0))
        outside = (x < low[0]) | (x > high[0])
        return np.where(outside, np.nan, low[1] + back), np.where(outside, np.nan, high[1] - back)

    return [low[0], low[0] + corner, high[0] - corner, high[0]], bounds


def run(start, end, rho):
    """The same of everything within rho of a point, or of a run along x or y."""
    (x0, y0), (x1, y1) = np.minimum(start, end), np.maximum(start, end)
    if x0 != x1 and y0 != y1:
        raise ValueError("a run is along x or y")
    return rounded((x0 - rho, y0 - rho), (x1 + rho, y1 + rho), rho)


def shapes(cut, rho):
    """What a cut takes at one level: an outside, and what is left standing within it or None."""
    if cut["kind"] == "filled":
        return run(cut["path"][0], cut["path"][-1], rho), None
    low, high = np.array(cut["path"])
    corner = cut["path_radius"]
    inner = rounded(low + rho, high - rho, max(corner - rho, 0.0))
    return rounded(low - rho, high + rho, corner + rho), inner


def spans(taken, x):
    """All spans along y at each x, as two arrays (span, x); nan where there is none."""
    lows, highs = [], []
    for (_, outside), inside in taken:
        low, high = outside(x)
        if inside is None:
            lows, highs = [*lows, low], [*highs, high]
        else:
            from_, to = inside[1](x)
            lows += [low, np.where(np.isnan(to), np.nan, to)]
            highs += [np.where(np.isnan(from_), high, from_), high]
    return np.array(lows), np.array(highs)


def covered(taken, room, x):
    """How long the spans are together within the room, at each x."""
    lows, highs = spans(taken, x)
    low, high = room[1](x)
    lows, highs = np.maximum(lows, low), np.minimum(highs, high)
    empty = np.isnan(lows) | np.isnan(highs) | np.isnan(low) | (highs <= lows)
    lows, highs = np.where(empty, math.inf, lows), np.where(empty, math.inf, highs)
    order = np.argsort(lows, axis=0)
    lows, highs = np.take_along_axis(lows, order, 0), np.take_along_axis(highs, order, 0)
    length, reached = np.zeros_like(x), np.full_like(x, -math.inf)
    for low, high in zip(lows, highs):
        there = np.isfinite(low)
        new = np.where(there, high, 0.0) - np.maximum(np.where(there, low, 0.0), reached)
        length += np.where(there, np.maximum(new, 0.0), 0.0)
        reached = np.where(there, np.maximum(reached, high), reached)
    return length


def crossings(taken, room, places):
    """Where two boundaries cross: a change of sign on a grid, halved down."""

    def bounds(x):
        lows, highs = spans(taken, x)
        return np.vstack([lows, highs, *[b[None, :] for b in room[1](x)]])

    found = []
    for a, b in zip(places[:-1], places[1:]):
        x = (a + b) / 2 - (b - a) / 2 * np.cos(np.linspace(1e-6, math.pi - 1e-6, GRID))
        y = bounds(x)
        first, second = np.triu_indices(len(y), 1)
        off = y[first] - y[second]
        pair, at = np.nonzero(off[:, :-1] * off[:, 1:] < 0)
        if not len(pair):
            continue
        left, right, sign = x[at], x[at + 1], np.sign(off[pair, at])
        for _ in range(52):
            middle = (left + right) / 2
            y = bounds(middle)
            now = y[first[pair], np.arange(len(pair))] - y[second[pair], np.arange(len(pair))]
            same = np.sign(now) == sign
            left, right = np.where(same, middle, left), np.where(same, right, middle)
        found += list(left)
    return found


def area(cuts, room):
    """Of what cuts, each with its half width there, take of a room."""
    taken = [shapes(cut, rho) for cut, rho in cuts if rho > 0]
    places = list(room[0])
    for outside, inside in taken:
        places += [*outside[0], *(inside[0] if inside else [])]
    within = {min(max(x, room[0][0]), room[0][-1]) for x in places}
    places = np.array(sorted(within))
    places = np.unique(np.concatenate([places, crossings(taken, room, places)]))
    a, b = places[:-1, None], places[1:, None]
    x = (a + b) / 2 - (b - a) / 2 * np.cos(ANGLES)
    weights = (b - a) / 2 * np.sin(ANGLES) * WEIGHTS * math.pi / 2
    return float((covered(taken, room, x.ravel()) * weights.ravel()).sum())


def rim_inset(rim, off):
    """How far the wood lies in from the side at `off` from the face."""
    if not rim or off >= rim["size"]:
        return 0.0
    size = rim["size"]
    return size - off if rim["kind"] == "chamfer" else size - math.sqrt(size**2 - (size - off) ** 2)


def removed(case, bound):
    """What is missing of a case's box, mm³, to about `bound`: corners, rims and all cuts."""
    long, wide, thick = case["box"]
    breaks = {0.0, thick}
    for cut in case["sweeps"]:
        for height in (0.0, min(cut["corner_radius"], cut["depth"]), cut["depth"]):
            breaks.add(height + thick - cut["depth"] if cut["face"] == "upper" else cut["depth"] - height)
    for rim, face in ((case["upper"], thick), (case["lower"], 0.0)):
        if rim:
            breaks.add(abs(face - rim["size"]))

    def at(z):
        inset = max(rim_inset(case["upper"], thick - z), rim_inset(case["lower"], z))
        corner = max(case["corner"] - inset, 0.0)
        room = rounded((inset, inset), (long - inset, wide - inset), corner)
        wood = (long - 2 * inset) * (wide - 2 * inset) - (4 - math.pi) * corner**2
        heights = [(c, z - thick + c["depth"] if c["face"] == "upper" else c["depth"] - z) for c in case["sweeps"]]
        cuts = [(c, half_width(c, h)) for c, h in heights if 0 < h < c["depth"]]
        return long * wide - wood + (area(cuts, room) if cuts else 0.0)

    levels = sorted(breaks)
    return sum(quad(at, a, b, epsabs=bound / len(levels), epsrel=0, limit=200)[0] for a, b in zip(levels, levels[1:]))
