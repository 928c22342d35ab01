"""OCCT (PyPI: cadquery-ocp-novtk) and manifold3d judge boards with cuts of every kind, alone and crossing.

For every case of FOLDER/cases.json OCCT builds the board by its own means. The board before any cut: its two cross
sections, each with its eased corners, extruded along X and along Y and intersected (mitred corners); where corners
are rounded in plan, a square prism is cut off each and a quarter turn of the eased section put in its place. Every
cut: half the bit's outline revolved and extruded as in occt_recess.py; a groove of four straight runs and four
quarter turns. All are cut from the board. Then:

- volume against ours: to 1e-8 of the removed volume (VolumePropertiesGK, 1e-10); centre of volume to 1e-6 mm;
- surface against ours: to 1e-8 of it;
- each cut's closed form against OCCT's volume of its tool: 1e-8;
- our meshes closed, within the stated chord bound, shrinking with the tolerance (the fitted exponent is at least
  0.7), and the direct way equal to the boolean: 1e-9;
- manifold3d: the same cutters from the same uncut board: NoError, volume equal to ours to 1e-9;
- our mesh: every edge in two triangles, none in four, no two triangles that cross (our own test), accepted by trimesh.

Usage: occt_cuts.py FOLDER
"""

import json
import math

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
from occt_recess import UP, area_of, boolean, half_outline, moved

BOUND = 1e-8
LEAST_CASES = 60
STEEPEST_ALLOWED = 0.7


def properties(shape):
    """Volume and centre by adaptive Gauss-Kronrod integration."""
    sums = GProp_GProps()
    BRepGProp.VolumePropertiesGK_s(shape, sums, 1e-10, False, False, True, False, False)
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


def tool(cut):
    """A cut by itself, its floor at z = 0, its surface at its depth."""
    half = half_outline(cut["radius"], cut["corner_radius"], cut["depth"])
    if cut["kind"] == "round":
        return groove(cut, half)
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
    checks.within(case["volume"], sums.Mass(), BOUND * removed, f"{name}: volume")
    area = area_of(board)
    checks.within(case["area"], area, BOUND * area, f"{name}: surface")
    centre = sums.CentreOfMass()
    off = math.dist(case["centre"], (centre.X(), centre.Y(), centre.Z()))
    checks.that(off <= 1e-6, f"{name}: centre off by {off:.3g} mm")
    return abs(case["volume"] - sums.Mass()) / removed


def judge_meshes(case, checks):
    """Closed, within the bound, shrinking; returns the worst error over the bound, and the exponent."""
    name, share, points = case["name"], 0.0, []
    for mesh in case["meshes"]:
        off, bound = abs(mesh["volume"] - case["volume"]), mesh["bound"]
        rounding = 1e-12 * case["volume"]
        checks.that(mesh["closed"], f"{name}: mesh at {mesh['tolerance']} is open")
        checks.that(off <= bound + rounding, f"{name}: mesh off by {off:.4g}, bound {bound:.4g}")
        checks.within(mesh["volume"], mesh["by_boolean"], 1e-9 * case["volume"], f"{name}: the two ways")
        if bound > 0:
            share = max(share, off / bound)
            points.append((math.log(mesh["tolerance"]), math.log(max(off, 1e-12))))
    exponent = math.inf
    if len(points) > 1:
        exponent = float(np.polyfit(*zip(*points), 1)[0])
        checks.that(exponent >= STEEPEST_ALLOWED, f"{name}: mesh error falls as tolerance^{exponent:.2f}")
    return share, exponent


def as_manifold(entry):
    """A mesh of ours for manifold3d, in full digits."""
    vertices = np.array(entry["vertices"], dtype=np.float64)
    triangles = np.array(entry["triangles"], dtype=np.uint64)
    return manifold3d.Manifold(manifold3d.Mesh64(vertices, triangles))


def segment_through(triangle, start, end):
    """Whether a segment passes through a triangle's inside, well clear of its border and of both its ends."""
    a, b, c = triangle
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal)
    if size == 0:
        return False
    normal = normal / size
    h0, h1 = np.dot(start - a, normal), np.dot(end - a, normal)
    if h0 * h1 >= 0 or min(abs(h0), abs(h1)) < 1e-6:
        return False
    p = start + (end - start) * (h0 / (h0 - h1))
    edges = [(a, b), (b, c), (c, a)]
    inside = [np.dot(np.cross(q - o, p - o), normal) / max(np.linalg.norm(q - o), 1e-12) for o, q in edges]
    return min(inside) > 1e-6


def crossing(vertices, triangles):
    """How many pairs of triangles cross, of those whose boxes meet and that share no vertex."""
    corners = vertices[triangles]
    low, high = corners.min(axis=1), corners.max(axis=1)

    def sides(t):
        return [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])]

    def through(one, other):
        return any(segment_through(one, *side) for side in sides(other))

    found = 0
    for i in range(len(triangles) - 1):
        near = ((low[i + 1 :] <= high[i]) & (high[i + 1 :] >= low[i])).all(axis=1)
        apart = ~np.isin(triangles[i + 1 :], triangles[i]).any(axis=1)
        for j in np.flatnonzero(near & apart) + i + 1:
            found += through(corners[i], corners[j]) or through(corners[j], corners[i])
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
        "five cuts and more on one board": any(len(case["sweeps"]) >= 5 for case in cases),
    }


def judge(folder, checks):
    """All cases of a folder; returns the worst of each comparison."""
    cases = json.loads((folder / "cases.json").read_text(encoding="utf-8"))
    checks.that(len(cases) >= LEAST_CASES, f"only {len(cases)} cases, at least {LEAST_CASES} wanted")
    for kind, found in kinds(cases).items():
        checks.that(found, f"no case with {kind}")
    worst = {"cases": len(cases), "relative": 0.0, "share": 0.0, "exponent": math.inf}
    for case in cases:
        worst["relative"] = max(worst["relative"], judge_exact(case, checks))
        share, exponent = judge_meshes(case, checks)
        worst["share"], worst["exponent"] = max(worst["share"], share), min(worst["exponent"], exponent)
        judge_solids(folder, case, checks)
    return worst


if __name__ == "__main__":
    common.main("occt_cuts", judge)
