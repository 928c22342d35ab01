"""OCCT (PyPI: cadquery-ocp-novtk) and manifold3d judge boards with cuts of every kind, alone and crossing.

For every case of FOLDER/cases.json OCCT builds the board by its own means. The board before any cut: its two cross
sections, each with its eased corners, extruded along X and along Y and intersected (mitred corners); where corners
are rounded in plan, a square prism is cut off each and a quarter turn of the eased section put in its place. Every
cut: half the bit's outline revolved and extruded as in occt_recess.py; a groove of four straight runs and four
quarter turns. All are cut from the board. Then:

- volume against ours: to 1e-8 of the removed volume; centre of volume to 1e-6 mm; surface to 1e-8 of it;
- where cuts cross each other, a side or a rim, OCCT's edges are approximations (its default integration is then off by
  up to 1.1e-6 of what was removed): there OCCT judges to 1e-5 (centres to 1e-5 mm), and slices.py (numpy and scipy) volumes to 1e-8;
- each cut's closed form against OCCT's volume of its tool: 1e-8;
- our meshes closed, within the stated chord bound, shrinking with the tolerance (the fitted exponent is at least
  0.7, unless errors of two signs cancel to less than 2 % of the coarsest bound), and the direct way equal to the boolean: 1e-9;
- manifold3d: the same cutters from the same uncut board: NoError, volume equal to ours to 1e-9;
- our mesh: every edge in two triangles, none in four, no two triangles that cross (our own test), accepted by trimesh.

Usage: occt_cuts.py FOLDER
"""

import json
import math
import multiprocessing

import manifold3d
import numpy as np
import trimesh
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps

import judge as common
import slices
from occt_recess import UP, area_of, boolean, half_outline, moved

BOUND = 1e-8
THROUGH_EDGES = 1e-5
LEAST_CASES = 60
STEEPEST_ALLOWED = 0.7
CANCELLED = 0.02


def properties(shape):
    """Volume and centre by OCCT's default integration."""
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, sums)
    return sums


def wire_face(points, arcs):
    """A face in the plane of its points; `arcs` gives the middle of the arc that follows a point, by its index."""
    wire = BRepBuilderAPI_MakeWire()
    for i, start in enumerate(points):
        end = points[(i + 1) % len(points)]
        if start.Distance(end) < 1e-9:
            continue
        if i in arcs:
            wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, arcs[i], end).Value()).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(start, end).Edge())
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face()


def rim(case, which):
    """Kind and size of a rim."""
    entry = case[which]
    return (entry["kind"], float(entry["size"])) if entry else ("", 0.0)


def arc_middle(size):
    """The middle of a round-over's quarter circle, as (in from the side, away from the face)."""
    return size * (1 - math.sqrt(0.5))


def section(case, wide, place):
    """The board's cross section `wide` across with its eased corners; `place(across, z)` gives its points."""
    thickness = case["box"][2]
    (upper, u), (lower, v) = rim(case, "upper"), rim(case, "lower")
    across = [(v, 0), (wide - v, 0), (wide, v), (wide, thickness - u), (wide - u, thickness), (u, thickness),
              (0, thickness - u), (0, v)]
    a, b = arc_middle(u), arc_middle(v)
    arcs = {}
    if lower == "round-over":
        arcs[1], arcs[7] = place(wide - b, b), place(b, b)
    if upper == "round-over":
        arcs[3], arcs[5] = place(wide - a, thickness - a), place(a, thickness - a)
    return wire_face([place(x, z) for x, z in across], arcs)


def corner_section(case):
    """What a rounded corner's quarter turn leaves: from its axis outward to c - i(z), in the plane y = 0."""
    c, thickness = case["corner"], case["box"][2]
    (upper, u), (lower, v) = rim(case, "upper"), rim(case, "lower")

    def on(size, kind, inset):
        """How far from the face the wood at `inset` begins."""
        if size == 0 or inset >= size:
            return 0.0
        return size - inset if kind == "chamfer" else size - math.sqrt(size * size - (size - inset) ** 2)

    def inset(size, kind, off):
        return size - off if kind == "chamfer" else size - math.sqrt(size * size - (size - off) ** 2)

    low_in, high_in = min(v, c), min(u, c)
    low, high = on(v, lower, low_in), thickness - on(u, upper, high_in)
    points = [gp_Pnt(0, 0, low), gp_Pnt(c - low_in, 0, low), gp_Pnt(c, 0, v), gp_Pnt(c, 0, thickness - u),
              gp_Pnt(c - high_in, 0, high), gp_Pnt(0, 0, high)]
    arcs = {}
    if lower == "round-over":
        off = (low + v) / 2
        arcs[1] = gp_Pnt(c - inset(v, lower, off), 0, off)
    if upper == "round-over":
        off = (thickness - high + u) / 2
        arcs[3] = gp_Pnt(c - inset(u, upper, off), 0, thickness - off)
    return wire_face(points, arcs)


def uncut(case):
    """The board before any cut."""
    a, b, t = map(float, case["box"])
    along_y = BRepPrimAPI_MakePrism(section(case, a, lambda x, z: gp_Pnt(x, 0, z)), gp_Vec(0, b, 0)).Shape()
    along_x = BRepPrimAPI_MakePrism(section(case, b, lambda y, z: gp_Pnt(0, y, z)), gp_Vec(a, 0, 0)).Shape()
    board = along_y
    if case["upper"] or case["lower"]:
        board = boolean(BRepAlgoAPI_Common, along_y, along_x)
    c = case["corner"]
    if c == 0:
        return board
    quarter = BRepPrimAPI_MakeRevol(corner_section(case), UP, math.pi / 2).Shape()
    for x, y, turn, at in [(0, 0, math.pi, (c, c)), (a - c, 0, -math.pi / 2, (a - c, c)),
                           (a - c, b - c, 0.0, (a - c, b - c)), (0, b - c, math.pi / 2, (c, b - c))]:
        prism = BRepPrimAPI_MakeBox(gp_Pnt(x, y, 0), c, c, t).Shape()
        board = boolean(BRepAlgoAPI_Cut, board, prism)
        board = boolean(BRepAlgoAPI_Fuse, board, moved(quarter, at[0], at[1], 0, turn))
    return board


def both_halves(half):
    """The bit's whole outline in the plane y = 0."""
    mirrored = gp_Trsf()
    mirrored.SetRotation(UP, math.pi)
    return [half, BRepBuilderAPI_Transform(half, mirrored, True).Shape()]


def fused(shapes):
    """All as one."""
    whole = shapes[0]
    for shape in shapes[1:]:
        whole = boolean(BRepAlgoAPI_Fuse, whole, shape)
    return whole


def run(half, start, end):
    """The bit's section extruded from a point to a point."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    heading = math.atan2(dy, dx)
    sides = []
    for face in both_halves(half):
        face = moved(face, start[0], start[1], 0, heading + math.pi / 2)
        sides.append(BRepPrimAPI_MakePrism(face, gp_Vec(dx, dy, 0)).Shape())
    return fused(sides)


def corner_turn(cut, half, at, begin):
    """A groove's quarter turn: outward half, and inward half as far as the corner's centre."""
    c = cut["path_radius"]
    shapes = []
    outward = BRepPrimAPI_MakeRevol(moved(half, x=c), UP, math.pi / 2).Shape()
    shapes.append(moved(outward, at[0], at[1], 0, begin))
    if c > 0:
        inward = moved(both_halves(half)[1], x=c)
        room = BRepPrimAPI_MakeBox(gp_Pnt(0, -1, -1), c, 2, cut["depth"] + 2).Shape()
        inward = boolean(BRepAlgoAPI_Common, inward, room)
        shapes.append(moved(BRepPrimAPI_MakeRevol(inward, UP, math.pi / 2).Shape(), at[0], at[1], 0, begin))
    return fused(shapes)


def groove(cut, half):
    """Four runs and four quarter turns."""
    (x0, y0), (x1, y1) = cut["path"]
    c = cut["path_radius"]
    runs = [((x0 + c, y0), (x1 - c, y0)), ((x1, y0 + c), (x1, y1 - c)), ((x1 - c, y1), (x0 + c, y1)),
            ((x0, y1 - c), (x0, y0 + c))]
    turns = [((x0 + c, y0 + c), math.pi), ((x1 - c, y0 + c), -math.pi / 2), ((x1 - c, y1 - c), 0.0),
             ((x0 + c, y1 - c), math.pi / 2)]
    return fused([run(half, *ends) for ends in runs] + [corner_turn(cut, half, at, begin) for at, begin in turns])


def arch(cut, half):
    """The section turned about the arc's centre, and a whole turn of it at either end."""
    (x, y), c, (begin, turn) = cut["path"][0], cut["path_radius"], cut["turn"]
    band = [moved(BRepPrimAPI_MakeRevol(moved(face, x=c), UP, turn).Shape(), x, y, 0, begin) for face in both_halves(half)]
    end = BRepPrimAPI_MakeRevol(half, UP).Shape()
    ends = [moved(end, x + c * math.cos(a), y + c * math.sin(a)) for a in (begin, begin + turn)]
    return fused(band + ends)


def tool(cut):
    """A cut by itself, its floor at z = 0, its surface at its depth."""
    half = half_outline(cut["radius"], cut["corner_radius"], cut["depth"], cut["rim"])
    if cut["kind"] == "round":
        return groove(cut, half)
    if cut["kind"] == "arch":
        return arch(cut, half)
    points = cut["path"]
    ends = [moved(BRepPrimAPI_MakeRevol(half, UP).Shape(), x, y) for x, y in points]
    return fused(ends + ([run(half, *points)] if len(points) == 2 else []))


def placed(shape, cut, case):
    """On its face: from above, or turned over in place and cut from below."""
    if cut["face"] == "upper":
        return moved(shape, z=case["box"][2] - cut["depth"])
    mirrored, raised = gp_Trsf(), gp_Trsf()
    mirrored.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)))
    raised.SetTranslation(gp_Vec(0, 0, cut["depth"]))
    return BRepBuilderAPI_Transform(shape, raised.Multiplied(mirrored), True).Shape()


def crosses(case):
    """Whether a cut meets another, or runs out of the side or through a rim."""
    boxes = [box_of(cut, case) for cut in case["sweeps"]]
    rims = max([rim[1] for rim in (rim(case, "upper"), rim(case, "lower"))] + [case["corner"]])
    a, b = case["box"][:2]
    if any(low[0] < rims or low[1] < rims or high[0] > a - rims or high[1] > b - rims for low, high in boxes):
        return True
    pairs = ((one, other) for i, one in enumerate(boxes) for other in boxes[:i])
    return any((one[0] <= other[1]).all() and (other[0] <= one[1]).all() for one, other in pairs)


def box_of(cut, case):
    """The box that a cut lies in."""
    path, reach = np.array(cut["path"], dtype=float), cut["radius"] + (cut["rim"]["size"] if cut["rim"] else 0.0)
    if cut["kind"] == "arch":
        angles = cut["turn"][0] + cut["turn"][1] * np.linspace(0, 1, 721)
        path = path[0] + cut["path_radius"] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        reach += 0.01
    thick, depth = case["box"][2], cut["depth"]
    levels = (thick - depth, thick) if cut["face"] == "upper" else (0.0, depth)
    return np.array([*(path.min(0) - reach), levels[0]]), np.array([*(path.max(0) + reach), levels[1]])


def judge_exact(case, checks):
    """Volume, surface, centre and closed forms; returns the worst of volume over the removed volume."""
    name, removed = case["name"], case["removed"]
    board = uncut(case)
    for i, cut in enumerate(case["sweeps"]):
        alone = tool(cut)
        whole = properties(alone).Mass()
        checks.within(cut["volume"], whole, BOUND * whole, f"{name}: closed form of cut {i}")
        board = boolean(BRepAlgoAPI_Cut, board, placed(alone, cut, case))
    sums = properties(board)
    bound = THROUGH_EDGES if crosses(case) else BOUND
    checks.within(case["volume"], sums.Mass(), bound * removed, f"{name}: volume")
    box = math.prod(case["box"])
    checks.within(case["volume"], box - removed, 1e-14 * box, f"{name}: volume and what was removed")
    relative = abs(case["volume"] - sums.Mass()) / removed
    if crosses(case):
        by_slices = slices.removed(case, 0.2 * BOUND * removed)
        checks.within(removed, by_slices, BOUND * removed, f"{name}: removed, by slices")
        relative = abs(removed - by_slices) / removed
    area = area_of(board)
    checks.within(case["area"], area, bound * area, f"{name}: surface")
    centre = sums.CentreOfMass()
    off = math.dist(case["centre"], (centre.X(), centre.Y(), centre.Z()))
    checks.that(off <= (1e-5 if crosses(case) else 1e-6), f"{name}: centre off by {off:.3g} mm")
    return relative


def judge_meshes(case, checks):
    """Closed, within the bound, shrinking; returns the worst error over the bound, and the exponent."""
    name, share, points, shares = case["name"], 0.0, [], []
    for mesh in case["meshes"]:
        off, bound = abs(mesh["volume"] - case["volume"]), mesh["bound"]
        rounding = 1e-12 * case["volume"]
        checks.that(mesh["closed"], f"{name}: mesh at {mesh['tolerance']} is open")
        checks.that(off <= bound + rounding, f"{name}: mesh off by {off:.4g}, bound {bound:.4g}")
        checks.within(mesh["volume"], mesh["by_boolean"], 1e-9 * case["volume"], f"{name}: the two ways")
        if bound > 0:
            share = max(share, off / bound)
            shares.append(off / bound)
            points.append((math.log(mesh["tolerance"]), math.log(max(off, 1e-12))))
    exponent = math.inf
    # Errors of several cuts, and of walls that curve in and out, have two signs and may cancel at one tolerance: where
    # little of the coarsest bound is left, the bound alone judges.
    if len(points) > 1 and len(case["sweeps"]) < 5 and shares[0] > CANCELLED:
        exponent = float(np.polyfit(*zip(*points), 1)[0])
        checks.that(exponent >= STEEPEST_ALLOWED, f"{name}: mesh error falls as tolerance^{exponent:.2f}")
    return share, exponent


def as_manifold(entry):
    """A mesh of ours for manifold3d, in full digits."""
    vertices = np.array(entry["vertices"], dtype=np.float64)
    triangles = np.array(entry["triangles"], dtype=np.uint64)
    return manifold3d.Manifold(manifold3d.Mesh64(vertices, triangles))


def segments_through(triangles, starts, ends):
    """Row by row: whether a segment passes through a triangle's inside, clear of its border and of both its ends."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    normals = normals / np.where(sizes == 0, 1.0, sizes)[:, None]
    before = np.einsum("ij,ij->i", starts - a, normals)
    after = np.einsum("ij,ij->i", ends - a, normals)
    passes = (sizes > 0) & (before * after < 0) & (np.minimum(np.abs(before), np.abs(after)) >= 1e-6)
    share = np.where(passes, before / np.where(passes, before - after, 1.0), 0.0)
    at = starts + (ends - starts) * share[:, None]
    for o, q in ((a, b), (b, c), (c, a)):
        within = np.einsum("ij,ij->i", np.cross(q - o, at - o), normals)
        passes &= within > 1e-6 * np.maximum(np.linalg.norm(q - o, axis=1), 1e-12)
    return passes


def neighbours(low, high):
    """Pairs of boxes that meet, in batches: sorted along X, each with those that begin before it ends."""
    order = np.argsort(low[:, 0], kind="stable")
    last = np.searchsorted(low[order, 0], high[order, 0], side="right")
    counts = last - np.arange(len(order)) - 1
    for some in np.array_split(np.arange(len(order)), max(1, int(counts.sum()) // 2_000_000 + 1)):
        first = np.repeat(some, counts[some])
        within = np.arange(len(first)) - np.repeat(np.cumsum(counts[some]) - counts[some], counts[some])
        i, j = order[first], order[first + 1 + within]
        meet = (low[i] <= high[j]).all(axis=1) & (low[j] <= high[i]).all(axis=1)
        yield i[meet], j[meet]


def crossing(vertices, triangles):
    """How many pairs of triangles cross, of those whose boxes meet and that share no vertex."""
    corners = vertices[triangles]
    found = 0
    for i, j in neighbours(corners.min(axis=1), corners.max(axis=1)):
        apart = ~(triangles[i][:, :, None] == triangles[j][:, None, :]).any(axis=(1, 2))
        one, other = corners[i[apart]], corners[j[apart]]
        cross = np.zeros(len(one), dtype=bool)
        for first, second in ((one, other), (other, one)):
            for k in range(3):
                cross |= segments_through(first, second[:, k], second[:, (k + 1) % 3])
        found += int(cross.sum())
    return found


def judge_solids(folder, case, checks):
    """manifold3d on the same tessellation, and our own look at edges and crossings."""
    name = case["name"]
    data = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))
    whole = as_manifold(data["uncut"])
    for cutter in data["cutters"]:
        whole = whole - as_manifold(cutter)
    checks.that(whole.status() == manifold3d.Error.NoError, f"{name}: manifold3d says {whole.status()}")
    ours = case["meshes"][0]["volume"]
    checks.within(ours, whole.volume(), 1e-9 * ours, f"{name}: volume by manifold3d")
    vertices, triangles = np.array(data["board"]["vertices"]), np.array(data["board"]["triangles"])
    edges = np.sort(triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    _, counts = np.unique(edges, axis=0, return_counts=True)
    checks.that((counts == 2).all(), f"{name}: an edge with {counts.max()} triangles")
    checks.that(len(np.unique(vertices, axis=0)) == len(vertices), f"{name}: two vertices at one place")
    checks.that(trimesh.Trimesh(vertices, triangles, process=False).is_volume, f"{name}: trimesh finds no volume")
    pairs = crossing(vertices, triangles)
    checks.that(pairs == 0, f"{name}: {pairs} pairs of triangles cross")


def kinds(cases):
    """The kinds that the cases must show."""
    cuts = [(case, cut) for case in cases for cut in case["sweeps"]]
    return {
        "a groove whose inner corner is tighter than the bit": any(
            cut["kind"] == "round" and cut["path_radius"] < cut["radius"] for _, cut in cuts
        ),
        "a groove from below": any(cut["kind"] == "round" and cut["face"] == "lower" for _, cut in cuts),
        "a hole right through": any(cut["through"] for _, cut in cuts),
        "rounded corners tighter than the round-over": any(
            case["upper"] and 0 < case["corner"] < case["upper"]["size"] for case in cases
        ),
        "an arc within its face, and one through the side": all(
            any(cut["kind"] == "arch" and len(case["sweeps"]) == 1 and crosses(case) == through for case, cut in cuts)
            for through in (False, True)
        ),
        "an eased rim of every kind of path, rounded and chamfered": {
            (cut["kind"], cut["rim"]["kind"]) for _, cut in cuts if cut["rim"]
        } >= {(kind, rim) for kind in ("filled", "arch", "round") for rim in ("round-over", "chamfer")},
        "five cuts and more on one board": any(len(case["sweeps"]) >= 5 for case in cases),
    }


def judge(folder, checks):
    """All cases of a folder; returns the worst of each comparison."""
    cases = json.loads((folder / "cases.json").read_text(encoding="utf-8"))
    checks.that(len(cases) >= LEAST_CASES, f"only {len(cases)} cases, at least {LEAST_CASES} wanted")
    for kind, found in kinds(cases).items():
        checks.that(found, f"no case with {kind}")
    worst = {"cases": len(cases), "relative": 0.0, "share": 0.0, "exponent": math.inf}
    with multiprocessing.Pool() as pool:
        for found, relative, share, exponent in pool.imap(judge_case, [(folder, case) for case in cases]):
            checks.add(found)
            worst["relative"] = max(worst["relative"], relative)
            worst["share"], worst["exponent"] = max(worst["share"], share), min(worst["exponent"], exponent)
    return worst


def judge_case(what):
    """One case, in a process of its own: its checks, and the worst of each comparison."""
    folder, case = what
    checks = common.Checks("occt_cuts", quiet=True)
    relative = judge_exact(case, checks)
    share, exponent = judge_meshes(case, checks)
    judge_solids(folder, case, checks)
    return checks, relative, share, exponent


if __name__ == "__main__":
    common.main("occt_cuts", judge)
