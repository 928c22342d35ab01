"""Every 3MF, judged twice: by lib3mf (the 3MF Consortium's own library) in strict mode, which must open it without a
warning, and by code of our own, because lib3mf reads over some mistakes.

Our own code checks, against the Core specification and ECMA-376 part 2:

- the zip: no part twice, stored or deflated, checksums right, nothing encrypted, the fixed time (1980-01-01);
- the parts: exactly the three; each has a content type, the model's and the relationships' the right ones; the package's
  relationship names a model that is there;
- the model: unit millimetre; ids unique, each resource named only after it stands there; base materials first; every
  object's material there; triangles with three different vertices that exist; one assembly that is all there is to build;
- the solids: names one of a kind, one for each strip and blank; each body closed, turned outward, of positive volume;
  together the board's extent and its volume within the chord bound; no two overlap (their volumes add up to it).

Usage: threemf.py FOLDER...
"""

import re
import zipfile
from xml.etree import ElementTree

import lib3mf
import numpy as np

import judge as common

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
CONTENT = "{http://schemas.openxmlformats.org/package/2006/content-types}"
RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}"
TYPES = {
    "rels": "application/vnd.openxmlformats-package.relationships+xml",
    "model": "application/vnd.ms-package.3dmanufacturing-3dmodel+xml",
}
MODEL_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
PARTS = ["3D/3dmodel.model", "[Content_Types].xml", "_rels/.rels"]
NAME = re.compile(r"strip (.+), blank (\S+)")


def lib3mf_accepts(path, name, checks):
    """What the reference library finds; returns how many mesh objects it read."""
    model = lib3mf.Wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    try:
        reader.ReadFromFile(str(path))
    except lib3mf.ELib3MFException as error:
        checks.that(False, f"{name}: lib3mf refuses it: {error}")
        return None
    warnings = [reader.GetWarning(i) for i in range(reader.GetWarningCount())]
    checks.that(not warnings, f"{name}: lib3mf warns: {warnings}")
    checks.that(model.GetUnit() == lib3mf.ModelUnit.MilliMeter, f"{name}: lib3mf reads the unit {model.GetUnit()}")
    objects = model.GetMeshObjects()
    count, open_ones = 0, []
    while objects.MoveNext():
        found = objects.GetCurrentMeshObject()
        count += 1
        if not found.IsManifoldAndOriented() or not found.IsValid():
            open_ones.append(found.GetName())
    checks.that(not open_ones, f"{name}: lib3mf finds not closed and oriented: {open_ones[:3]}")
    return count


def zip_is_sound(path, name, checks):
    """The zip and its parts; returns the model's XML or None."""
    try:
        with zipfile.ZipFile(path) as package:
            infos, broken = package.infolist(), package.testzip()
            texts = {info.filename: package.read(info) for info in infos}
    except (OSError, zipfile.BadZipFile, RuntimeError) as error:
        checks.that(False, f"{name}: no zip: {error}")
        return None
    checks.that(broken is None, f"{name}: {broken} has a wrong checksum")
    names = sorted(info.filename for info in infos)
    checks.that(names == PARTS, f"{name}: parts {names}")
    checks.that(all(info.compress_type in (0, 8) for info in infos), f"{name}: a part neither stored nor deflated")
    checks.that(not any(info.flag_bits & 0x2041 for info in infos), f"{name}: an encrypted part")
    checks.that(all(info.date_time == (1980, 1, 1, 0, 0, 0) for info in infos), f"{name}: a time that is not fixed")
    try:
        roots = {part: ElementTree.fromstring(text) for part, text in texts.items()}
    except ElementTree.ParseError as error:
        checks.that(False, f"{name}: no XML: {error}")
        return None
    content_types(roots.get("[Content_Types].xml"), names, name, checks)
    relations(roots.get("_rels/.rels"), names, name, checks)
    return roots.get("3D/3dmodel.model")


def content_types(root, names, name, checks):
    """Every part but the list of types itself has the content type of its kind."""
    if not checks.that(root is not None and root.tag == f"{CONTENT}Types", f"{name}: no list of content types"):
        return
    default = {each.get("Extension"): each.get("ContentType") for each in root.iter(f"{CONTENT}Default")}
    override = {each.get("PartName"): each.get("ContentType") for each in root.iter(f"{CONTENT}Override")}
    for part in names:
        if part != "[Content_Types].xml":
            kind = part.rsplit(".", 1)[-1]
            found = override.get(f"/{part}", default.get(kind))
            checks.that(found is not None and found == TYPES.get(kind), f"{name}: {part} has the content type {found}")


def relations(root, names, name, checks):
    """One relationship of the package, to the model that is there."""
    if not checks.that(root is not None and root.tag == f"{RELATION}Relationships", f"{name}: no relationships"):
        return
    found = [(each.get("Type"), each.get("Target")) for each in root]
    checks.that(found == [(MODEL_RELATION, "/3D/3dmodel.model")], f"{name}: relationships {found}")
    checks.that(all((target or "")[1:] in names for _, target in found), f"{name}: a relationship leads nowhere")
    checks.that(all(re.fullmatch(r"[A-Za-z_][\w.-]*", each.get("Id") or "") for each in root), f"{name}: no id")


def resources(root, name, checks):
    """Ids, order and references; returns the mesh objects in order and the colours."""
    checks.that(root.tag == f"{CORE}model", f"{name}: the model is a {root.tag}")
    checks.that(root.get("unit") == "millimeter", f"{name}: the unit is {root.get('unit')}")
    checks.that(root.get("requiredextensions") is None, f"{name}: it asks for {root.get('requiredextensions')}")
    every = list(root.find(f"{CORE}resources"))
    ids = [int(each.get("id", 0)) for each in every]
    checks.that(ids == list(range(1, len(ids) + 1)), f"{name}: ids are not 1, 2, 3 …: {ids[:5]}")
    first = every[0] if every else None
    bases = [] if first is None or first.tag != f"{CORE}basematerials" else list(first)
    checks.that(bases, f"{name}: base materials are not first")
    colours = [each.get("displaycolor") or "" for each in bases]
    checks.that(all(re.fullmatch(r"#[0-9A-F]{6}", c) for c in colours), f"{name}: a colour is not #RRGGBB")
    checks.that(all(each.get("name") for each in bases), f"{name}: a material without a name")
    meshes, assemblies, known = [], [], {ids[0]} if ids else set()
    for each, number in zip(every[1:], ids[1:]):
        checks.that(each.tag == f"{CORE}object", f"{name}: a {each.tag} among the objects")
        if each.find(f"{CORE}mesh") is not None:
            material = each.get("pid") == str(ids[0]) and 0 <= int(each.get("pindex") or -1) < len(bases)
            checks.that(material, f"{name}: object {number} has no material that is there")
            meshes.append(each)
        else:
            parts = [int(part.get("objectid")) for part in each.iter(f"{CORE}component")]
            checks.that(set(parts) <= known, f"{name}: object {number} names what stands after it")
            assemblies.append((number, sorted(parts)))
        known.add(number)
    wanted = [int(each.get("id")) for each in meshes]
    items = [int(each.get("objectid")) for each in root.find(f"{CORE}build")]
    checks.that(
        len(assemblies) == 1 and assemblies[0][1] == wanted and items == [assemblies[0][0]],
        f"{name}: not one assembly of all objects, alone to build: {items}",
    )
    return meshes, colours


def mesh_of(element):
    """(vertices, triangles) of an object."""
    vertices = [[float(v.get(axis)) for axis in "xyz"] for v in element.iter(f"{CORE}vertex")]
    triangles = [[int(t.get(corner)) for corner in ("v1", "v2", "v3")] for t in element.iter(f"{CORE}triangle")]
    return np.array(vertices).reshape(-1, 3), np.array(triangles, dtype=np.int64).reshape(-1, 3)


def closed(vertices, triangles):
    """Whether every directed edge occurs once and its reverse once, over vertices that are there and different."""
    if len(triangles) == 0 or triangles.min() < 0 or triangles.max() >= len(vertices):
        return False
    edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    keys, back = edges[:, 0] * len(vertices) + edges[:, 1], edges[:, 1] * len(vertices) + edges[:, 0]
    alone = len(np.unique(keys)) == len(keys) and (edges[:, 0] != edges[:, 1]).all()
    return bool(alone and (np.sort(keys) == np.sort(back)).all() and len(np.unique(vertices, axis=0)) == len(vertices))


def volume(vertices, triangles):
    """The volume, mm³, about the body's middle."""
    a, b, c = np.moveaxis((vertices - vertices.mean(axis=0))[triangles], 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)


def judge(folder, checks):
    """The 3MF of a made folder; returns (its pieces, volume error over its bound)."""
    report, path = common.Report(folder), folder / "board.3mf"
    name = f"{folder.name}/board.3mf"
    if not checks.that(path.is_file(), f"{name}: not there"):
        return 0, None
    read = lib3mf_accepts(path, name, checks)
    root = zip_is_sound(path, name, checks)
    if root is None:
        return 0, None
    objects, colours = resources(root, name, checks)
    checks.that(read == len(objects), f"{name}: lib3mf reads {read} bodies of {len(objects)}")
    return len(objects), solids(objects, report, name, checks)


def solids(objects, report, name, checks):
    """The bodies themselves; returns the volume's error over its bound."""
    names = [each.get("name") or "" for each in objects]
    matches = [NAME.fullmatch(each) for each in names]
    checks.that(all(matches), f"{name}: objects not named by strip and blank: {names[:2]}")
    checks.that(len(set(names)) == len(names), f"{name}: two objects of one name")
    strips = {match[1] for match in matches if match}
    wanted = report.number("board.strips")
    checks.that(len(strips) == wanted, f"{name}: pieces of {len(strips)} strips, the board has {wanted}")
    total, low, high = 0.0, [], []
    for each, called in zip(objects, names):
        vertices, triangles = mesh_of(each)
        if not checks.that(closed(vertices, triangles), f"{name}: {called} is not closed"):
            return None
        held = volume(vertices, triangles)
        checks.that(held > 0, f"{name}: {called} is inside out ({held})")
        total += held
        low.append(vertices.min(axis=0))
        high.append(vertices.max(axis=0))
    size = [report.number(f"board.{side}") for side in ("length", "width", "thickness")]
    for axis in range(3):
        checks.that(min(each[axis] for each in low) == 0, f"{name}: does not begin at 0")
        checks.within(float(max(each[axis] for each in high)), size[axis], 1e-9, f"{name}: extent {axis}")
    exact, chord = report.number("solid.volume"), report.number("solid.chord bound")
    if not checks.that(exact is not None and chord is not None, f"{name}: the report has no volume or no chord bound"):
        return None
    bound = chord + 1e-9 * exact
    checks.within(total, exact, bound, f"{name}: the pieces' volume")
    return abs(total - exact) / bound


if __name__ == "__main__":
    common.main("threemf", judge)
