"""Computes the lines of samples/traced-walnut.toml from a solid wood model, and prints the plan.

    python3 samples/traced.py > samples/traced-walnut.toml

The wood is invented: a stem whose pith leans and bows, rings unevenly wide and not quite round, a
heartwood line that follows no ring. Five blanks are sawn side by side from a slab of it; what each
of their ends shows is "traced" to a tenth of a millimetre, as a maker would with a ruler.
"""

from math import cos, hypot, pi, sin

WIDTH, THICKNESS, LENGTH = 40.0, 24.0, 450.0
KERF = 3.2
LETTERS = "ABCDE"
YEARS = 64


def widths():
    """Ring widths, mm: wide years near the pith, good and bad runs, a dry year now and then."""
    state, run = 20261, 0.0
    for year in range(YEARS):
        state = (state * 1103515245 + 12345) % 2**31
        chance = state / 2**31 - 0.5
        run = 0.6 * run + 0.9 * chance
        wide = (3.4 - 0.018 * year) * (1.0 + 0.55 * run + 0.35 * chance)
        yield max(0.9, wide * (0.45 if year % 11 == 7 else 1.0))


RADII = [sum(list(widths())[:year]) for year in range(YEARS + 1)]


def pith(t):
    """Where the pith stands in the slab's (u, v) at the share t of the length."""
    return 84.0 + 9.0 * t + 1.5 * sin(pi * t), -36.0 + 4.0 * t


def ripple(angle, t):
    """How far a ring lies outside its circle, mm."""
    return 1.4 * sin(2 * angle + 0.6) + 0.7 * sin(5 * angle + 1.1 + 0.6 * t) + 0.25 * sin(13 * angle + 2.0 * t)


def ring(year, angle, t):
    """Distance from the pith to the ring's edge."""
    radius = RADII[year] * (1.0 - 0.02 * t)
    return radius + ripple(angle, t) * min(1.0, radius / 40.0)


def heartwood(angle, t):
    """Distance from the pith to where heartwood ends: it follows no ring."""
    return 92.0 + 5.0 * sin(3 * angle + 0.4) + 2.0 * sin(8 * angle) - 5.0 * t


def traced(radius, t, left, step=5.0):
    """The longest stretch of a line that lies in the blank, in the blank's own (u, v)."""
    (pu, pv), runs, run = pith(t), [], []
    count = max(48, round(2 * pi * radius(0.5 * pi, t) / step))
    for n in range(count):
        angle = -0.5 * pi + 2 * pi * n / count
        far = radius(angle, t)
        u, v = pu + far * cos(angle) - left, pv + far * sin(angle)
        if -0.5 <= u <= WIDTH + 0.5 and -0.5 <= v <= THICKNESS + 0.5:
            run.append((u, v))
        elif run:
            runs.append(run)
            run = []
    best = max(runs, key=len, default=[])
    long = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(best, best[1:]))
    return best if len(best) > 1 and long > 5.0 else []


def points(line):
    return "[" + ", ".join(f"[{u:.1f}, {v:.1f}]" for u, v in line) + "]"


def end(name, t, left, common):
    lines = [(year, traced(lambda a, t, y=year: ring(y, a, t), t, left, 3.0)) for year in range(1, YEARS + 1)]
    lines = [(year, line) for year, line in lines if line]
    years = [year for year, _ in lines]
    assert years == list(range(years[0], years[-1] + 1)), "a gap in the rings"
    print(f"\n[blanks.shows.{name}.traced]")
    border = traced(heartwood, t, left)
    if border:
        print(f"heartwood = {points(border)}")
    print("rings = [")
    for year, line in lines:
        if year == common:
            print(f'    {{ name = "year {year}", points = {points(line)} }},')
        else:
            print(f"    {points(line)},")
    print("]")


def shown(t, left):
    return {year for year in range(1, YEARS + 1) if traced(lambda a, t: ring(year, a, t), t, left, 3.0)}


HEAD = """# A board from five walnut blanks whose ends were traced. Invented: the lines are computed from a
# solid wood model (samples/traced.py), no tree has grown them.
#
# The blanks were sawn side by side from one slab. On each end the rings were traced from the inside
# out, and the line where heartwood ends; one ring has the same name on both ends, so that it is
# known which is which. The pith leans, so the figure wanders by some 9 mm from end to end.

quarterturn = 1
name = "Traced walnut"
units = "millimetre"
finest = "0.5 mm"

"""

SHOP = """[shop.saw]
kerf = 3.2
held = "hold-down"
waste_block = 60
"""

TAIL = """
[[panels]]
name = "P"
order = ["A", "B", "C", "D", "E"]

[strips]
count = 12
width = 32

[layup]
repeat = ["as cut", "rolled over"]

[finishing]
flatten_upper = 1.5
flatten_lower = 1.5
trim = 5
"""

CUTS = """
[[bits]]
name = "dish"
diameter = 10
corner_radius = 3
reach = 16

[[bits]]
name = "straight"
diameter = 8
reach = 40
cuts_at_centre = true

[[handholds]]
edge = ["front", "back"]
bit = "dish"
depth = 7
width = 12
round_over = 0.5
setback = 70

[[finger_recesses]]
edge = "left"
bit = "dish"
depth = 8
in_from_edge = 2
setback = 50

[[finger_recesses]]
edge = "right"
bit = "dish"
depth = 8
in_from_edge = 20
rise = 8
chamfer = 1
setback = 50

[[grooves]]
bit = "dish"
depth = 5
setback = 24
corner_radius = 16
round_over = 1.5
spouts = [{ edge = "left", along = 60 }]

[feet]
bit = "straight"
depth = 7
from_edges = 30

[hanging_hole]
bit = "straight"
edge = "right"
in_from_edge = 11
along = 40

[corners]
radius = 10

[round_over]
radius = 2.5
rims = "upper rim"

[chamfer]
size = 1
rims = "lower rim"
"""


def main():
    print(HEAD + SHOP, end="")
    for n, letter in enumerate(LETTERS):
        left = n * (WIDTH + KERF)
        common = sorted(shown(0.0, left) & shown(1.0, left))
        common = common[len(common) // 2]
        print(f'\n[[blanks]]\nletter = "{letter}"\nwood = "black walnut"')
        print(f"width = {WIDTH:g}\nthickness = {THICKNESS:g}\nlength = {LENGTH:g}\nmoisture = 7.5")
        at_right = traced(heartwood, 0.0, left)
        middle = hypot(left + WIDTH / 2 - pith(0.5)[0], THICKNESS / 2 - pith(0.5)[1])
        if not at_right and middle > 92.0:
            print('\n[blanks.shows]\nwithout_line = "sapwood"')
        end("near", 0.0, left, common)
        end("far", 1.0, left, common)
    print(TAIL + CUTS, end="")


if __name__ == "__main__":
    main()
