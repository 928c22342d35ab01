"""The judge of 3MF files must pass a good one and fail each fault: a board of one strip and two blanks, made here."""

import unittest
import zipfile

import numpy as np
import trimesh

import threemf
from test_judges import BOARD, Folder, failures

TIME = (1980, 1, 1, 0, 0, 0)
TYPES = '<?xml version="1.0" encoding="UTF-8"?>\n<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
TYPES += "".join(f'<Default Extension="{kind}" ContentType="{what}"/>' for kind, what in threemf.TYPES.items())
TYPES += "</Types>"
RELS = '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
RELS += f'<Relationship Target="/3D/3dmodel.model" Id="model" Type="{threemf.MODEL_RELATION}"/></Relationships>'
HEAD = f'<model unit="millimeter" xml:lang="en-US" xmlns="{threemf.CORE[1:-1]}"><resources>'
BASES = '<basematerials id="1"><base name="ash" displaycolor="#D0B080"/><base name="oak" displaycolor="#907050"/>'
BASES += "</basematerials>"
ASSEMBLY = '<object id="4" type="model"><components><component objectid="2"/><component objectid="3"/></components></object>'
TAIL = '</resources><build><item objectid="4"/></build></model>'


def piece(number, name, low, high):
    """One box as an object."""
    mesh = trimesh.creation.box(np.array(high) - low)
    vertices = mesh.vertices + (np.array(high) + low) / 2
    text = f'<object id="{number}" type="model" name="{name}" pid="1" pindex="{number - 2}"><mesh><vertices>'
    text += "".join(f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in vertices.tolist())
    text += "</vertices><triangles>"
    text += "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist())
    return text + "</triangles></mesh></object>"


class ThreeMf(Folder):
    def setUp(self):
        super().setUp()
        self.numbers["board.strips"] = 1
        self.report()
        length, width, thickness = BOARD
        self.objects = [
            piece(2, "strip 1, blank A", [0, 0, 0], [length, width / 2, thickness]),
            piece(3, "strip 1, blank B", [0, width / 2, 0], [length, width, thickness]),
        ]
        self.model = HEAD + BASES + "".join(self.objects) + ASSEMBLY + TAIL

    def found(self, model=None, types=TYPES, rels=RELS, time=TIME, extra=None):
        with zipfile.ZipFile(self.folder / "board.3mf", "w", zipfile.ZIP_DEFLATED) as package:
            for name, text in [("[Content_Types].xml", types), ("_rels/.rels", rels), ("3D/3dmodel.model", model or self.model)]:
                package.writestr(zipfile.ZipInfo(name, time), text, zipfile.ZIP_DEFLATED)
            if extra:
                package.writestr(zipfile.ZipInfo(extra, time), "x")
        return " ".join(failures(threemf.judge, self.folder))

    def changed(self, old, new, count=1):
        self.assertIn(old, self.model)
        return self.found(self.model.replace(old, new, count))

    def test_good(self):
        self.assertEqual(self.found(), "")

    def test_the_package(self):
        self.assertIn("no zip", self.cut_short())
        self.assertIn("not fixed", self.found(time=(2024, 5, 1, 0, 0, 0)))
        self.assertIn("parts [", self.found(extra="Metadata/notes.txt"))
        self.assertIn("content type", self.found(types=TYPES.replace("3dmanufacturing-3dmodel", "3dmanufacturing")))
        self.assertIn("relationships [", self.found(rels=RELS.replace("2013/01/3dmodel", "2013/01/thing")))

    def cut_short(self):
        self.found()
        path = self.folder / "board.3mf"
        path.write_bytes(path.read_bytes()[:-40])
        return " ".join(failures(threemf.judge, self.folder))

    def test_unit_and_ids(self):
        self.assertIn("unit is", self.changed("millimeter", "inch"))
        self.assertIn("lib3mf", self.changed('<object id="3"', '<object id="2"'))
        self.assertIn("ids are not", self.changed('<object id="3"', '<object id="2"'))

    def test_materials(self):
        moved = HEAD + "".join(self.objects) + BASES + ASSEMBLY + TAIL
        self.assertIn("base materials are not first", self.found(moved))
        self.assertIn("no material that is there", self.changed('pindex="1"', 'pindex="7"'))
        self.assertIn("not #RRGGBB", self.changed("#D0B080", "#D0B0"))

    def test_the_assembly(self):
        self.assertIn("alone to build", self.changed('<component objectid="3"/>', ""))
        self.assertIn("alone to build", self.changed('<item objectid="4"/>', '<item objectid="2"/>'))

    def test_an_extension_without_its_prefix(self):
        self.assertIn("lib3mf refuses", self.changed("<model ", '<model requiredextensions="m" '))

    def test_names(self):
        self.assertIn("two objects of one name", self.changed("blank B", "blank A"))
        self.assertIn("not named by strip and blank", self.changed("strip 1, blank B", "thing"))
        self.numbers["board.strips"] = 2
        self.report()
        self.assertIn("the board has 2", self.found())

    def test_the_solids(self):
        first = self.objects[0]
        triangle = first[first.rindex("<triangle ") : first.index("</triangles>")]
        found = self.changed(triangle, "")
        self.assertIn("is not closed", found)
        self.assertIn("lib3mf finds not closed", found)
        self.assertIn("extent 2", self.changed(f'z="{BOARD[2]!r}"', 'z="35.5"', 99))
        self.numbers["solid.volume"] += 100
        self.report()
        self.assertIn("the pieces' volume", self.found())

    def test_missing(self):
        self.assertIn("not there", " ".join(failures(threemf.judge, self.folder)))


if __name__ == "__main__":
    unittest.main()
