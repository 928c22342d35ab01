"""OCCT (PyPI: cadquery-ocp-novtk, default integration of BRepGProp) judges the recess that a round bit leaves.

For every case of FOLDER/cases.json the solid is built by OCCT's own means: half the bit's outline (flat floor, quarter
circle, straight wall, eased rim, cut off at the depth) is revolved for each end and extruded along the travel; these
are fused and cut from the box; a recess wider than its bit has four such corners, four such sides, and a box between
them. Then:

- volume removed, by the closed form, against box minus what OCCT leaves, and against OCCT's volume of the fused tool:
  both to 1e-9 of the removed volume;
- section and ends against the area of the extruded outline and the volume of one revolved end: 1e-9;
- curved area against the area of the tool's faces that aren't planes: 1e-9;
- the stated chord bound against tolerance x curved area x (1 + tolerance / least radius), from OCCT's area: 1e-9, so
  that a bound can't be met by widening it;
- the mesh's removed volume within that bound, and never more than the exact one (its vertices lie on the surface);
- FOLDER/NAME.stl: accepted by the three mesh readers, its extents the box's; its volume gives the stated mesh volume
  within what f32 coordinates allow (solids.py); every point of its recess, sampled on each facet, within the chord
  tolerance of the exact surface and every vertex on it, each plus that rounding.

Usage: occt_recess.py FOLDER
"""

import json
import math

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.GeomAbs import GeomAbs_Plane
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

import judge as common
import solids

BOUND = 1e-9
LEAST_CASES = 20
UP = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))


def volume_of(shape):
    """Volume by OCCT's default integration."""
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, sums)
    return sums.Mass()


def area_of(shape):
    """Area by OCCT's default integration."""
    sums = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, sums)
    return sums.Mass()


def curved_area_of(shape):
    """Area of the faces that aren't planes."""
    total, faces = 0.0, TopExp_Explorer(shape, TopAbs_FACE)
    while faces.More():
        face = TopoDS.Face(faces.Current())
        if BRepAdaptor_Surface(face).GetType() != GeomAbs_Plane:
            total += area_of(face)
        faces.Next()
    return total


def half_outline(radius, corner, depth, rim=None):
    """Half the section in the plane y = 0, its axis on z, its floor at z = 0, cut off at the depth."""
    size = rim["size"] if rim else 0.0
    foot_of_rim = depth - size
    rise = corner if rim else min(corner, depth)
    turned = math.acos((corner - rise) / corner) if corner > 0 else 0.0
    flat = radius - corner

    def on_corner(angle):
        return gp_Pnt(flat + corner * math.sin(angle), 0, corner - corner * math.cos(angle))

    foot, corner_end = gp_Pnt(flat, 0, 0), on_corner(turned)
    if foot_of_rim >= corner:
        corner_end = gp_Pnt(radius, 0, corner)
    wall = gp_Pnt(corner_end.X(), 0, foot_of_rim)
    top = gp_Pnt(wall.X() + size, 0, depth)
    wire = BRepBuilderAPI_MakeWire()

    def straight(start, end):
        if start.Distance(end) > 1e-9:
            wire.Add(BRepBuilderAPI_MakeEdge(start, end).Edge())

    straight(gp_Pnt(0, 0, 0), foot)
    if corner > 0:
        arc = GC_MakeArcOfCircle(foot, on_corner(turned / 2), corner_end).Value()
        wire.Add(BRepBuilderAPI_MakeEdge(arc).Edge())
    straight(corner_end, wall)
    if rim and rim["kind"] == "round-over":
        middle = gp_Pnt(radius + size * (1 - math.sqrt(0.5)), 0, foot_of_rim + size * math.sqrt(0.5))
        wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(wall, middle, top).Value()).Edge())
    else:
        straight(wall, top)
    straight(top, gp_Pnt(0, 0, depth))
    straight(gp_Pnt(0, 0, depth), gp_Pnt(0, 0, 0))
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face()


def moved(shape, x=0.0, y=0.0, z=0.0, turn=0.0):
    """The shape turned about z and then moved."""
    turning, moving = gp_Trsf(), gp_Trsf()
    turning.SetRotation(UP, turn)
    moving.SetTranslation(gp_Vec(x, y, z))
    return BRepBuilderAPI_Transform(shape, moving.Multiplied(turning), True).Shape()


def boolean(operation, first, second):
    """Runs one boolean operation, or says that OCCT failed."""
    done = operation(first, second)
    done.Build()
    if not done.IsDone():
        raise RuntimeError("OCCT's boolean operation failed")
    return done.Shape()


def swept(case):
    """OCCT's solids of one case: the tool's whole sweep, one end revolved, and twice the half outline's area."""
    half = half_outline(case["radius"], case["corner_radius"], case["depth"], case["rim"])
    x, y = case["travel"] / 2, case["widening"] / 2
    end = BRepPrimAPI_MakeRevol(half, UP).Shape()
    corners = {(sx * x, sy * y) for sx in (-1, 1) for sy in (-1, 1)}
    parts = [moved(end, *at) for at in sorted(corners)]
    if x > 0:
        for side, turn in ((y, math.pi / 2), (-y, -math.pi / 2)):
            parts.append(BRepPrimAPI_MakePrism(moved(half, -x, side, turn=turn), gp_Vec(2 * x, 0, 0)).Shape())
    if y > 0:
        for side, turn in ((x, 0.0), (-x, math.pi)):
            parts.append(BRepPrimAPI_MakePrism(moved(half, side, -y, turn=turn), gp_Vec(0, 2 * y, 0)).Shape())
    if x > 0 and y > 0:
        parts.append(BRepPrimAPI_MakeBox(gp_Pnt(-x, -y, 0), 2 * x, 2 * y, case["depth"]).Shape())
    tool = parts[0]
    for part in parts[1:]:
        tool = boolean(BRepAlgoAPI_Fuse, tool, part)
    return tool, end, 2 * area_of(half)


def judge_exact(case, name, checks):
    """The closed forms; returns (ours against OCCT, OCCT's two ways against each other, OCCT's curved area)."""
    tool, end, section = swept(case)
    a, b, c = map(float, case["box"])
    box = BRepPrimAPI_MakeBox(a, b, c).Shape()
    left = boolean(BRepAlgoAPI_Cut, box, moved(tool, a / 2, b / 2, c - case["depth"]))
    removed, whole = a * b * c - volume_of(left), volume_of(tool)
    ours, curved = case["volume_removed"], curved_area_of(tool)
    checks.within(ours, removed, BOUND * removed, f"{name}: volume removed, box less what is left")
    checks.within(ours, whole, BOUND * whole, f"{name}: volume removed, the tool's sweep")
    checks.within(case["section"], section, BOUND * section, f"{name}: section")
    checks.within(case["ends"], volume_of(end), BOUND * volume_of(end), f"{name}: volume of the two ends")
    checks.within(case["curved_area"], curved, BOUND * curved, f"{name}: curved area")
    off = max(abs(ours - removed) / removed, abs(ours - whole) / whole)
    return off, abs(removed - whole) / whole, curved


def chord_bound(case, curved):
    """The bound that the geometry allows, from OCCT's curved area."""
    tolerance, rim = case["chord_tolerance"], case["rim"]
    radii = [case["corner_radius"] or case["radius"]]
    if rim and rim["kind"] == "round-over":
        radii.append(rim["size"])
    return tolerance * curved * (1 + tolerance / min(radii))


def off_surface(points, case):
    """Distance from points of the recess, in the box's frame, to its exact surface (floor, corner, wall, rim)."""
    radius, corner, depth, rim = case["radius"], case["corner_radius"], case["depth"], case["rim"]
    a, b, c = case["box"]
    x = np.maximum(np.abs(points[:, 0] - a / 2) - case["travel"] / 2, 0)
    y = np.maximum(np.abs(points[:, 1] - b / 2) - case["widening"] / 2, 0)
    across = np.hypot(x, y) - (radius - corner)
    height = points[:, 2] - (c - depth)
    rounded = np.abs(np.hypot(across, height - corner) - corner)
    if corner == 0:
        off = np.minimum(np.abs(height), np.abs(across))
    else:
        off = np.where(across <= 0, np.abs(height), np.where(height >= corner, np.abs(across - corner), rounded))
    if not rim:
        return off
    out, up = across - corner, height - (depth - rim["size"])
    if rim["kind"] == "chamfer":
        on_rim = np.abs(out - up) / math.sqrt(2)
    else:
        on_rim = np.abs(np.hypot(out - rim["size"], up) - rim["size"])
    return np.where(up > 0, on_rim, off)


def judge_surface(mesh, case, rounding, name, checks):
    """Vertices on the exact surface, sampled points within the chord tolerance; returns the worst over the bound."""
    a, b, c = case["box"]
    middles = mesh.triangles_center
    size = np.array([a, b, c])
    outside = (np.abs(mesh.face_normals) > 0.999) & (
        (np.abs(middles) < 1e-3) | (np.abs(middles - size) < 1e-3)
    )
    corners = mesh.triangles[~outside.any(axis=1)]
    if not checks.that(len(corners) > 0, f"{name}: its mesh has no recess"):
        return math.inf
    steps = [(i / 8, j / 8, (8 - i - j) / 8) for i in range(9) for j in range(9 - i)]
    inner = np.einsum("sk,fkd->fsd", np.array(steps), corners).reshape(-1, 3)
    at_corner = off_surface(corners.reshape(-1, 3), case).max()
    at_most = off_surface(inner, case).max()
    checks.that(at_corner <= rounding, f"{name}: a vertex {at_corner:.3g} mm off the surface, rounding {rounding:.3g}")
    bound = case["chord_tolerance"] + rounding
    checks.that(at_most <= bound, f"{name}: a facet {at_most:.4g} mm off the surface, bound {bound:.4g}")
    return at_most / bound


def judge_mesh(folder, case, curved, name, checks):
    """The mesh as stated and as written; returns its volume error over the bound, and accepted or not."""
    ours, bound = case["mesh_volume_removed"], chord_bound(case, curved)
    checks.within(case["chord_bound"], bound, BOUND * bound, f"{name}: chord bound")
    checks.within(ours, case["volume_removed"], bound, f"{name}: volume that the mesh removes")
    checks.that(ours <= case["volume_removed"] * (1 + BOUND), f"{name}: the mesh removes more than the recess has")
    before = len(checks.failures)
    mesh = solids.accept(folder / f"{name}.stl", checks, case["box"])
    accepted = len(checks.failures) == before
    if mesh is not None:
        a, b, c = case["box"]
        checks.within(a * b * c - float(mesh.volume), ours, solids.rounding_bound(mesh), f"{name}: volume of its STL")
        judge_surface(mesh, case, math.sqrt(3) * solids.half_ulp(mesh) + 1e-9, name, checks)
    return abs(ours - case["volume_removed"]) / bound, accepted


def judge(folder, checks):
    """All cases of a folder; returns the worst of each comparison."""
    cases = json.loads((folder / "cases.json").read_text(encoding="utf-8"))
    checks.that(len(cases) >= LEAST_CASES, f"only {len(cases)} cases, at least {LEAST_CASES} wanted")
    for kind, found in kinds(cases).items():
        checks.that(found, f"no case with {kind}")
    worst = {"cases": len(cases), "relative": 0.0, "peer": 0.0, "share": 0.0, "accepted": 0}
    for case in cases:
        relative, peer, curved = judge_exact(case, case["name"], checks)
        share, accepted = judge_mesh(folder, case, curved, case["name"], checks)
        worst["relative"] = max(worst["relative"], relative)
        worst["peer"] = max(worst["peer"], peer)
        worst["share"] = max(worst["share"], share)
        worst["accepted"] += accepted
    return worst


def kinds(cases):
    """The kinds of recess that the cases must show."""
    return {
        "a square end (r = 0)": any(case["corner_radius"] == 0 for case in cases),
        "a ball nose (r = D/2)": any(case["corner_radius"] == case["radius"] for case in cases),
        "d < r": any(case["depth"] < case["corner_radius"] for case in cases),
        "d = r": any(case["depth"] == case["corner_radius"] for case in cases),
        "d > r > 0": any(case["depth"] > case["corner_radius"] > 0 for case in cases),
        "wider than the bit": any(case["widening"] > 0 and not case["rim"] for case in cases),
        "a rounded rim": any(case["rim"] and case["rim"]["kind"] == "round-over" for case in cases),
        "a chamfered rim, wider than the bit": any(
            case["widening"] > 0 and case["rim"] and case["rim"]["kind"] == "chamfer" for case in cases
        ),
    }


if __name__ == "__main__":
    common.main("occt_recess", judge)
