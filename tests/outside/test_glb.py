"""The judge of GLB files must pass a good one and fail each fault: a plain box with its faces on one page, made here."""

import io
import json
import struct
import unittest

import numpy as np
from PIL import Image

import glb
from test_judges import BOARD, Folder, failures

LENGTH, WIDTH, THICKNESS = BOARD
# The page is a power of two wide and high: two faces, and all edges on the last of its quarters.
HIGH, WIDE = 64, 128


def wood(seed):
    """A picture of anything that looks the same nowhere."""
    random = np.random.default_rng(seed)
    coarse = Image.fromarray(random.integers(60, 200, (8, 12, 3), dtype=np.uint8))
    return np.asarray(coarse.resize((WIDE, HIGH), Image.Resampling.BICUBIC))


def png(pixels):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG")
    return out.getvalue()


# Board corner (X, Y, Z as shares) anti-clockwise seen from outside, glTF normal, and the quarter of the page.
SIDES = [
    ([(0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)], (0, 1, 0), 0),
    ([(0, 1, 0), (1, 1, 0), (1, 0, 0), (0, 0, 0)], (0, -1, 0), 1),
    ([(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)], (0, 0, 1), 2),
    ([(1, 1, 0), (0, 1, 0), (0, 1, 1), (1, 1, 1)], (0, 0, -1), 2),
    ([(0, 1, 0), (0, 0, 0), (0, 0, 1), (0, 1, 1)], (-1, 0, 0), 2),
    ([(1, 0, 0), (1, 1, 0), (1, 1, 1), (1, 0, 1)], (1, 0, 0), 2),
]


class GlbFile(Folder):
    def setUp(self):
        super().setUp()
        self.page = np.concatenate([wood(1), wood(2), wood(3), wood(3)])
        for name, seed in (("upper", 1), ("lower", 2)):
            (self.folder / f"face-{name}.png").write_bytes(png(wood(seed)))
        positions, normals, places, indices = [], [], [], []
        for corners, normal, quarter in SIDES:
            first = len(positions)
            for (x, y, z), (u, v) in zip(corners, [(0, 1), (1, 1), (1, 0), (0, 0)]):
                positions.append((x * LENGTH / 1000, z * THICKNESS / 1000, -y * WIDTH / 1000))
                normals.append(normal)
                places.append((u, (quarter + v) / 4))
            indices += [first, first + 1, first + 2, first, first + 2, first + 3]
        self.arrays = [np.array(each, "<f4") for each in (positions, normals, places)]
        self.indices = np.array(indices, "<u2")
        self.change = lambda described: None

    def found(self, broken=None):
        views, binary = [], b""
        parts = [each.tobytes() for each in self.arrays] + [self.indices.tobytes(), png(self.page)]
        for data, target in zip(parts, [34962, 34962, 34962, 34963, None]):
            binary += bytes(-len(binary) % 4)
            view = {"buffer": 0, "byteOffset": len(binary), "byteLength": len(data)}
            views.append(view | ({"target": target} if target else {}))
            binary += data
        position = self.arrays[0] + np.float32(0)
        accessors = [
            {"bufferView": i, "componentType": 5126, "count": len(self.arrays[i]), "type": kind}
            for i, kind in enumerate(["VEC3", "VEC3", "VEC2"])
        ] + [{"bufferView": 3, "componentType": 5123, "count": len(self.indices), "type": "SCALAR"}]
        accessors[0] |= {"min": position.min(axis=0).tolist(), "max": position.max(axis=0).tolist()}
        described = {
            "asset": {"version": "2.0"},
            "scene": 0,
            "scenes": [{"nodes": [0]}],
            "nodes": [{"mesh": 0}],
            "meshes": [{"primitives": [{"attributes": {"POSITION": 0, "NORMAL": 1, "TEXCOORD_0": 2}, "indices": 3, "material": 0}]}],
            "materials": [{"pbrMetallicRoughness": {"baseColorTexture": {"index": 0}}}],
            "textures": [{"source": 0}],
            "images": [{"bufferView": 4, "mimeType": "image/png"}],
            "accessors": accessors,
            "bufferViews": views,
            "buffers": [{"byteLength": len(binary)}],
        }
        self.change(described)
        text = json.dumps(described).encode()
        text += b" " * (-len(text) % 4)
        binary += bytes(-len(binary) % 4)
        total = 12 + 8 + len(text) + 8 + len(binary)
        data = struct.pack("<4sII", b"glTF", 2, total) + struct.pack("<I4s", len(text), b"JSON") + text
        data += struct.pack("<I4s", len(binary), b"BIN\0") + binary
        (self.folder / "board.glb").write_bytes(data if broken is None else broken(data))
        return " ".join(failures(glb.judge, self.folder))

    def test_good(self):
        self.assertEqual(self.found(), "")

    def test_no_glb(self):
        self.assertIn("not there", " ".join(failures(glb.judge, self.folder)))
        self.assertIn("no GLB 2", self.found(lambda data: data[:-4]))

    def test_the_validator_is_heard(self):
        def longer(described):
            described["accessors"][0]["count"] += 9

        self.change = longer
        with self.assertRaises(ValueError):
            self.found()
        self.change = lambda described: described["materials"].append({})
        self.assertIn("UNUSED_OBJECT", self.found())
        self.change = lambda described: described["accessors"][0].update(max=[9, 9, 9])
        self.assertIn("ACCESSOR_MAX_MISMATCH", self.found())

    def test_open(self):
        self.indices = self.indices[:-3]
        self.assertIn("not closed", self.found())

    def test_a_triangle_turned(self):
        self.indices[[0, 1]] = self.indices[[1, 0]]
        found = self.found()
        self.assertIn("not closed", found)
        self.assertIn("on their inner side", found)

    def test_millimetres(self):
        self.arrays[0] *= 1000
        self.assertIn("extent 3", self.found())

    def test_volume(self):
        self.numbers["solid.volume"] += 1000
        self.report()
        self.assertIn("board.glb: volume", self.found())

    def test_a_long_normal(self):
        self.arrays[1][0] *= 1.1
        self.assertIn("a normal of length", self.found())

    def test_other_wood(self):
        self.page = np.concatenate([wood(4), wood(2), wood(3), wood(3)])
        self.assertIn("the upper face shows other wood", self.found())
        self.page = np.concatenate([wood(1), wood(2)[::-1], wood(3), wood(3)])
        self.assertIn("the lower face shows other wood", self.found())

    def test_beside_the_page(self):
        self.arrays[2][0, 0] = 1.5
        self.assertIn("beside its page", self.found())

    def test_handholds_without_an_inside(self):
        self.cuts = [{}]
        self.report()
        self.assertIn("no inside of a recess", self.found())

    def test_moved_by_its_node(self):
        self.change = lambda described: described["nodes"][0].update(scale=[2, 2, 2])
        self.assertIn("not one mesh in its place", self.found())


if __name__ == "__main__":
    unittest.main()
