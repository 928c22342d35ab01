"""Three mesh readers judge every STL: trimesh, manifold3d (both PyPI) and admesh (Debian).

All three must take it as it stands: closed, consistently and outwardly oriented, one body, nothing to repair. Vertices
are merged only where their f32 coordinates are equal. Against the report:

- Extents: an f32 coordinate lies within half a unit in the last place (ulp) of the reported length; the corner is 0.
- Volume: within `solid.chord bound` of `solid.volume`, plus what storing f32 coordinates can do. Each coordinate moves
  by at most h, half an ulp of the largest one, so a vertex by at most sqrt(3) h, and the volume by at most the area
  times that (second-order terms, h times shorter than the first, are covered by a factor 1.001).
- trimesh and manifold3d agree on the volume to 1e-9 of it (both sum the same f64 products).

Usage: solids.py FOLDER...
"""

import math
import re

import manifold3d
import numpy as np
import trimesh

import judge as common

# What admesh prints for a mesh that it did not have to touch.
ADMESH_ZERO = [
    "Facets with 1 disconnected edge",
    "Facets with 2 disconnected edges",
    "Facets with 3 disconnected edges",
    "Total disconnected facets",
    "Degenerate facets",
    "Edges fixed",
    "Facets removed",
    "Facets added",
    "Facets reversed",
    "Backwards edges",
    "Normals fixed",
]
FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def read(path):
    """(vertices, triangles) of a binary STL, f32-equal vertices merged, nothing else done."""
    data = path.read_bytes()
    count = int.from_bytes(data[80:84], "little")
    if len(data) != 84 + 50 * count:
        raise ValueError(f"{len(data)} bytes for {count} facets, a binary STL would have {84 + 50 * count}")
    corners = np.frombuffer(data, FACET, count, 84)["corners"].reshape(-1, 3) + np.float32(0)  # -0 becomes 0
    vertices, index = np.unique(corners, axis=0, return_inverse=True)
    return vertices, index.reshape(-1, 3)


def half_ulp(mesh):
    """Half a unit in the last f32 place of the mesh's largest coordinate."""
    return float(np.spacing(np.float32(np.abs(mesh.vertices).max()))) / 2


def rounding_bound(mesh):
    """The most that rounding its vertices to f32 can have changed the mesh's volume (see the head)."""
    return float(mesh.area) * math.sqrt(3) * half_ulp(mesh) * 1.001


def trimesh_accepts(vertices, triangles, name, checks):
    """What trimesh finds; returns its mesh."""
    mesh = trimesh.Trimesh(vertices.astype(np.float64), triangles, process=False, validate=False)
    corners = np.sort(mesh.faces, axis=1)
    checks.that((np.diff(corners, axis=1) > 0).all(), f"{name}: trimesh finds a facet with two equal corners")
    checks.that((mesh.area_faces > 0).all(), f"{name}: trimesh finds a facet without area")
    checks.that(mesh.is_watertight, f"{name}: trimesh finds it open")
    checks.that(mesh.is_winding_consistent, f"{name}: trimesh finds facets turned against each other")
    checks.that(mesh.volume > 0, f"{name}: trimesh finds it inside out (volume {mesh.volume})")
    checks.that(mesh.body_count == 1, f"{name}: trimesh finds {mesh.body_count} bodies")
    return mesh


def manifold_accepts(vertices, triangles, mesh, name, checks):
    """What manifold3d finds."""
    vertices, triangles = np.ascontiguousarray(vertices, np.float32), np.ascontiguousarray(triangles, np.uint32)
    solid = manifold3d.Manifold(manifold3d.Mesh(vertices, triangles))
    checks.that(solid.status() == manifold3d.Error.NoError, f"{name}: manifold3d says {solid.status()}")
    checks.within(solid.volume(), mesh.volume, 1e-9 * abs(mesh.volume), f"{name}: volume by manifold3d and trimesh")


def admesh_accepts(path, name, checks):
    """What admesh finds."""
    status, out, err = common.run("admesh", path)
    checks.that(status == 0 and not err, f"{name}: admesh ends with {status} {err.strip()}")
    checks.that("All facets connected.  No nearby" in out, f"{name}: admesh finds facets not connected")
    for row in ADMESH_ZERO:
        found = re.search(rf"^{row}\s*:\s*(\d+)", out, re.MULTILINE)
        checks.that(found and int(found[1]) == 0, f"{name}: admesh, {row}: {found[1] if found else 'not said'}")
    checks.that("Reversing" not in out, f"{name}: admesh finds it inside out")


def accept(path, checks, size=None):
    """All three readers on one STL, and its extents where `size` gives them; returns trimesh's mesh or None."""
    name = f"{path.parent.name}/{path.name}"
    try:
        vertices, triangles = read(path)
    except (OSError, ValueError) as error:
        checks.that(False, f"{name}: {error}")
        return None
    mesh = trimesh_accepts(vertices, triangles, name, checks)
    manifold_accepts(vertices, triangles, mesh, name, checks)
    admesh_accepts(path, name, checks)
    for axis, extent in zip("xyz", size or []):
        low, high = mesh.bounds[:, "xyz".index(axis)]
        checks.that(low == 0, f"{name}: least {axis} is {low}, not 0")
        room = math.inf if extent is None else float(np.spacing(np.float32(extent))) / 2 + 1e-9
        checks.within(float(high), extent, room, f"{name}: greatest {axis}")
    return mesh


def judge(folder, checks):
    """Every STL in a made folder; returns (files, files accepted, board's volume error over its bound)."""
    report = common.Report(folder)
    checks.that((folder / "board.stl").is_file(), f"{folder.name}: no board.stl")
    size = [report.number(f"board.{side}") for side in ("length", "width", "thickness")]
    accepted, share = 0, None
    paths = sorted(folder.glob("*.stl"))
    for path in paths:
        before = len(checks.failures)
        board = path.name == "board.stl"
        mesh = accept(path, checks, size if board else None)
        if board and mesh is not None:
            share = volume(mesh, report, f"{folder.name}/{path.name}", checks)
        accepted += len(checks.failures) == before
    return len(paths), accepted, share


def volume(mesh, report, name, checks):
    """The mesh's volume against the report's exact one; returns the error over its bound."""
    exact, chord = report.number("solid.volume"), report.number("solid.chord bound")
    if not checks.that(exact is not None and chord is not None, f"{name}: the report has no volume or no chord bound"):
        return None
    bound = chord + rounding_bound(mesh)
    checks.within(float(mesh.volume), exact, bound, f"{name}: volume")
    return abs(float(mesh.volume) - exact) / bound


if __name__ == "__main__":
    common.main("solids", judge)
