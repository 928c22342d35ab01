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
    radius, corner, rim = cut["radius"], cut["corner_radius"], cut["rim"]
    if rim and height > cut["depth"] - rim["size"]:
        return radius + rim_inset(rim, cut["depth"] - height)
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


def disc(centre, rho):
    """The same of everything within rho of a point."""
    return run(centre, centre, rho)


def sector(centre, inner, outer, begin, turn):
    """Places, and two spans along y, of what lies between two radii from a centre and two directions, up to half a
    turn apart."""
    ends = [(r, angle) for r in (inner, outer) for angle in (begin, begin + turn)]
    places = [centre[0] + r * math.cos(angle) for r, angle in ends]
    places += [centre[0] + side * r for r in (inner, outer) for side in (-1, 1)]

    def wedge(x):
        low, high = np.full_like(x, -math.inf), np.full_like(x, math.inf)
        for angle, side in ((begin, 1.0), (begin + turn, -1.0)):
            # side * (cos(a) (y - cy) - sin(a) (x - cx)) >= 0
            slope = side * math.cos(angle)
            offset = side * math.sin(angle) * (x - centre[0])
            if abs(slope) < 1e-12:
                low = np.where(offset > 0, math.inf, low)
            elif slope > 0:
                low = np.maximum(low, centre[1] + offset / slope)
            else:
                high = np.minimum(high, centre[1] + offset / slope)
        return low, high

    def spans(x):
        off = np.abs(x - centre[0])
        far = np.sqrt(np.maximum(outer**2 - off**2, 0.0))
        near = np.sqrt(np.maximum(inner**2 - off**2, 0.0))
        low, high = wedge(x)
        found = []
        for a, b in ((centre[1] - far, centre[1] - near), (centre[1] + near, centre[1] + far)):
            a, b = np.maximum(a, low), np.minimum(b, high)
            empty = (off > outer) | (b <= a)
            found.append((np.where(empty, np.nan, a), np.where(empty, np.nan, b)))
        return found

    return places, spans


def within(shape):
    """A shape of one span along y, as one of several."""
    places, bounds = shape
    return places, lambda x: [bounds(x)]


def shapes(cut, rho):
    """What a cut takes at one level: shapes, each its places in x, and its spans along y."""
    if cut["kind"] == "filled":
        return [within(run(cut["path"][0], cut["path"][-1], rho))]
    corner = cut["path_radius"]
    if cut["kind"] == "arch":
        centre, (begin, turn) = np.array(cut["path"][0]), cut["turn"]
        ends = [centre + corner * np.array([math.cos(a), math.sin(a)]) for a in (begin, begin + turn)]
        return [sector(centre, corner - rho, corner + rho, begin, turn), *[within(disc(end, rho)) for end in ends]]
    low, high = np.array(cut["path"])
    outer = rounded(low - rho, high + rho, corner + rho)
    inner = rounded(low + rho, high - rho, max(corner - rho, 0.0))

    def ring(x):
        (low, high), (from_, to) = outer[1](x), inner[1](x)
        return [(low, np.where(np.isnan(from_), high, from_)), (np.where(np.isnan(to), np.nan, to), high)]

    return [([*outer[0], *inner[0]], ring)]


def spans(taken, x):
    """All spans along y at each x, as two arrays (span, x); nan where there is none."""
    pairs = [pair for _, spans_at in taken for pair in spans_at(x)]
    return np.array([low for low, _ in pairs]), np.array([high for _, high in pairs])


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
    taken = [shape for cut, rho in cuts if rho > 0 for shape in shapes(cut, rho)]
    places = [*room[0], *(x for there, _ in taken for x in there)]
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
        rim = cut["rim"]["size"] if cut["rim"] else 0.0
        for height in (0.0, min(cut["corner_radius"], cut["depth"]), cut["depth"] - rim, cut["depth"]):
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
