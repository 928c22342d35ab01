"""Every GLB, judged twice: by Khronos's glTF validator (npm gltf-validator), which must find no error, warning,
information or hint but those of EXPLAINED, and by code of our own for what it doesn't look at.

Our own code reads the two chunks and the embedded PNGs by itself and checks:

- one scene, one node without a transform, one mesh; triangles alone;
- vertices in one place taken as one, the surface is closed: every directed side once, its reverse once; positive volume,
  that of report.json within the chord bound and what storing f32 metres can do (see solids.py);
- its extent in metres, Y up, the front toward +Z;
- every normal has length 1 and looks to the same side as its triangle;
- pictures: every place on a page lies on it; what the upper and the lower face show there is what face-upper.png and
  face-lower.png show at that place (both drawn from one wood, so the middle difference is small); the inside of the
  recesses shows wood too: no colour outside the range of the faces' and edges', and not one flat colour;
- colours at vertices, where there are no pictures: opaque, and not one flat colour.

Usage: glb.py FOLDER...
"""

import io
import json
import math
from pathlib import Path

import numpy as np
from PIL import Image

import judge as common
import solids

HERE = Path(__file__).resolve().parent
# Code of the validator: why it may stand. Nothing is explained away so far.
EXPLAINED = {}
WEIGHTS = ["error", "warning", "information", "hint"]
NUMBERS = {5121: "<u1", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
PARTS = {"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4}
# The middle difference of two pictures of one wood, drawn on grids that don't coincide, in steps of 255.
ALIKE = 8


def validated(path, name, checks):
    """What Khronos's validator says; returns how many issues it has."""
    status, out, complaint = common.run("node", HERE / "validate.cjs", path)
    if not checks.that(status == 0, f"{name}: the validator ends with {status}: {complaint.strip()[-200:]}"):
        return None
    report = json.loads(out)[0]
    issues = report["issues"]
    left = [m for m in issues["messages"] if m["code"] not in EXPLAINED]
    said = [f"{WEIGHTS[m['severity']]} {m['code']} at {m.get('pointer')}: {m['message']}" for m in left]
    checks.that(not said, f"{name}: the validator says {said[:3]} and {max(len(said) - 3, 0)} more")
    checks.that(not issues["truncated"], f"{name}: the validator gave up counting")
    return len(issues["messages"])


class Glb:
    """The two chunks of a GLB."""

    def __init__(self, path):
        data = path.read_bytes()
        magic, version, length = data[:4], *np.frombuffer(data, "<u4", 2, 4)
        if magic != b"glTF" or version != 2 or length != len(data):
            raise ValueError(f"no GLB 2: {magic}, version {version}, {length} bytes of {len(data)}")
        at, chunks = 12, []
        while at < length:
            size, kind = int(np.frombuffer(data, "<u4", 1, at)[0]), data[at + 4 : at + 8]
            if size % 4 or at + 8 + size > length:
                raise ValueError(f"a chunk of {size} bytes at {at}")
            chunks.append((kind, data[at + 8 : at + 8 + size]))
            at += 8 + size
        if [kind for kind, _ in chunks] != [b"JSON", b"BIN\0"]:
            raise ValueError(f"chunks {[kind for kind, _ in chunks]}")
        self.json, self.binary = json.loads(chunks[0][1]), chunks[1][1]

    def view(self, index):
        """The bytes of a buffer view."""
        view = self.json["bufferViews"][index]
        begin = view.get("byteOffset", 0)
        return self.binary[begin : begin + view["byteLength"]]

    def numbers(self, index):
        """The rows of an accessor."""
        accessor = self.json["accessors"][index]
        count, parts = accessor["count"], PARTS[accessor["type"]]
        rows = np.frombuffer(self.view(accessor["bufferView"]), NUMBERS[accessor["componentType"]], count * parts)
        return rows.reshape(count, parts)

    def picture(self, material):
        """The base colour picture of a material, or None."""
        texture = self.json["materials"][material]["pbrMetallicRoughness"].get("baseColorTexture")
        if texture is None:
            return None
        image = self.json["images"][self.json["textures"][texture["index"]]["source"]]
        return np.asarray(Image.open(io.BytesIO(self.view(image["bufferView"]))).convert("RGB"))


def judge(folder, checks):
    """The GLB of a made folder; returns (issues of the validator, volume error over its bound)."""
    report, path = common.Report(folder), folder / "board.glb"
    name = f"{folder.name}/board.glb"
    if not checks.that(path.is_file(), f"{name}: not there"):
        return None, None
    issues = validated(path, name, checks)
    try:
        file = Glb(path)
    except (ValueError, KeyError, IndexError) as error:
        checks.that(False, f"{name}: {error}")
        return issues, None
    board = file.json
    plain = len(board["scenes"]) == len(board["nodes"]) == len(board["meshes"]) == 1
    plain = plain and not {"matrix", "rotation", "scale", "translation"} & set(board["nodes"][0])
    checks.that(plain, f"{name}: not one mesh in its place")
    primitives = board["meshes"][0]["primitives"]
    checks.that(all(each.get("mode", 4) == 4 for each in primitives), f"{name}: not triangles alone")
    parts = [Part(file, each) for each in primitives]
    share = solid(parts, report, name, checks)
    normals(parts, name, checks)
    dressed(parts, folder, report, name, checks)
    return issues, share


class Part:
    """One primitive: corners (n, 3, 3), normals, and places on a picture or colours."""

    def __init__(self, file, primitive):
        attributes = primitive["attributes"]
        triangles = file.numbers(primitive["indices"]).reshape(-1, 3)
        self.corners = file.numbers(attributes["POSITION"])[triangles]
        self.normals = file.numbers(attributes["NORMAL"])[triangles].astype(np.float64)
        self.picture = file.picture(primitive["material"])
        self.places = self.colours = None
        if "TEXCOORD_0" in attributes:
            self.places = file.numbers(attributes["TEXCOORD_0"])[triangles].astype(np.float64)
        if "COLOR_0" in attributes:
            self.colours = file.numbers(attributes["COLOR_0"])


def solid(parts, report, name, checks):
    """Closed, of the right size and volume; returns the volume's error over its bound."""
    corners = np.concatenate([part.corners for part in parts]) + np.float32(0)
    vertices, index = np.unique(corners.reshape(-1, 3), axis=0, return_inverse=True)
    triangles = index.reshape(-1, 3).astype(np.int64)
    sides = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    forth, back = sides[:, 0] * len(vertices) + sides[:, 1], sides[:, 1] * len(vertices) + sides[:, 0]
    once = len(np.unique(forth)) == len(forth) and (sides[:, 0] != sides[:, 1]).all()
    checks.that(once and (np.sort(forth) == np.sort(back)).all(), f"{name}: the surface is not closed")
    length, width, thickness = (report.number(f"board.{side}") for side in ("length", "width", "thickness"))
    low, high = vertices.min(axis=0), vertices.max(axis=0)
    for axis, (found, wanted) in enumerate(zip([*low, *high], [0, 0, -width, length, thickness, 0])):
        checks.within(float(found), wanted / 1000, float(np.spacing(np.float32(1))) / 2, f"{name}: extent {axis}")
    points = vertices.astype(np.float64) * 1000
    a, b, c = np.moveaxis((points - points.mean(axis=0))[triangles], 1, 0)
    twice = np.cross(b - a, c - a)
    held, area = float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6), float(np.linalg.norm(twice, axis=1).sum() / 2)
    exact, chord = report.number("solid.volume"), report.number("solid.chord bound")
    if not checks.that(exact is not None and chord is not None, f"{name}: the report has no volume or no chord bound"):
        return None
    half = float(np.spacing(np.float32(np.abs(vertices).max()))) / 2 * 1000
    bound = chord + area * math.sqrt(3) * half * 1.001
    checks.within(held, exact, bound, f"{name}: volume")
    return abs(held - exact) / bound


def normals(parts, name, checks):
    """Unit normals on the outer side of their triangles."""
    for part in parts:
        a, b, c = np.moveaxis(part.corners.astype(np.float64), 1, 0)
        facing = np.cross(b - a, c - a)
        lengths = np.linalg.norm(part.normals, axis=2)
        checks.that((abs(lengths - 1) < 1e-5).all(), f"{name}: a normal of length {lengths.min()} … {lengths.max()}")
        size = np.linalg.norm(facing, axis=1)
        inward = (np.einsum("ij,ikj->ik", facing, part.normals) < 0).any(axis=1) & (size > 1e-9)
        checks.that(not inward.any(), f"{name}: {inward.sum()} triangles with a normal on their inner side")


def sampled(part, picked, share):
    """The picture's colours at a point of each picked triangle (barycentric shares)."""
    places = np.einsum("ij,ijk->ik", share, part.places[picked])
    high, wide = part.picture.shape[:2]
    column = np.minimum((places[:, 0] * wide).astype(int), wide - 1)
    row = np.minimum((places[:, 1] * high).astype(int), high - 1)
    return part.picture[row, column].astype(int), np.einsum("ij,ijk->ik", share, part.corners[picked]) * 1000.0


def points(part, picked, random, count):
    """Random triangles by area, and a random point in each."""
    a, b, c = np.moveaxis(part.corners[picked].astype(np.float64), 1, 0)
    area = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    chosen = random.choice(picked, count, p=area / area.sum())
    share = random.dirichlet([1, 1, 1], count)
    return chosen, share


def dressed(parts, folder, report, name, checks):
    """The wood on it."""
    random = np.random.default_rng(1)
    if all(part.colours is not None for part in parts):
        colours = np.concatenate([part.colours for part in parts])
        checks.that((colours[:, 3] == 65535).all(), f"{name}: a colour that can be seen through")
        checks.that((colours[:, :3].std(axis=0) > 300).all(), f"{name}: one flat colour")
        return
    if not checks.that(all(p.places is not None and p.picture is not None for p in parts), f"{name}: no wood on it"):
        return
    size = [report.number(f"board.{side}") for side in ("length", "thickness", "width")]
    inside, outside, seen = [], [], 0
    for part in parts:
        checks.that((part.places >= 0).all() and (part.places <= 1).all(), f"{name}: a place beside its page")
        y = part.corners[:, :, 1] * 1000.0
        for face, at in (("upper", size[1]), ("lower", 0.0)):
            picked = np.flatnonzero((abs(y - at) < 1e-4).all(axis=1))
            if len(picked):
                found, where = sampled(part, *points(part, picked, random, 4000))
                outside.append(found)
                seen += 1
                as_face(found, where, face, size, folder, name, checks)
        middle = part.corners.mean(axis=1) * 1000.0 * [1, 1, -1]
        deep = ((middle > 0.05) & (middle < np.array(size) - 0.05)).all(axis=1)
        for picked, found in ((np.flatnonzero(deep), inside), (np.flatnonzero(~deep), outside)):
            if len(picked):
                found.append(sampled(part, *points(part, picked, random, 4000))[0])
    checks.that(seen >= 2, f"{name}: the two faces are not there")
    if report.data["cuts"] and checks.that(inside, f"{name}: no inside of a recess"):
        inside, outside = np.concatenate(inside), np.concatenate(outside)
        low, high = outside.min(axis=0) - 12, outside.max(axis=0) + 12
        checks.that(((inside >= low) & (inside <= high)).all(), f"{name}: a recess in colours that its wood has not")
        checks.that((inside.std(axis=0) > 1).all(), f"{name}: a recess in one flat colour")


def as_face(found, where, face, size, folder, name, checks):
    """What the solid shows on a face against that face's own picture."""
    picture = np.asarray(Image.open(folder / f"face-{face}.png").convert("RGB")).astype(int)
    high, wide = picture.shape[:2]
    column = np.clip((where[:, 0] / size[0] * wide).astype(int), 0, wide - 1)
    down = where[:, 2] + size[2]  # the back lies at −width
    down = down if face == "upper" else size[2] - down
    row = np.clip((down / size[2] * high).astype(int), 0, high - 1)
    off = float(np.median(abs(found - picture[row, column]).max(axis=1)))
    checks.that(off <= ALIKE, f"{name}: the {face} face shows other wood than its picture: {off} of 255 apart")
    other = float(np.median(abs(found - picture[high - 1 - row, column]).max(axis=1)))
    checks.that(off < other, f"{name}: the {face} face fits its picture no better than the picture mirrored")


if __name__ == "__main__":
    common.main("glb", judge)
