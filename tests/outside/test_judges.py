"""Every judge must pass what is right and fail what is wrong: each is shown a good board or case made here, and then
the same with one fault. Run by tests/run with `python -m unittest`."""

import contextlib
import io
import json
import math
import tempfile
import unittest
from pathlib import Path
from unittest import mock

import manifold3d
import numpy as np
import trimesh
from scipy.stats import norm

import chance
import drawings
import faces_agree
import figures
import judge as common
import layups
import occt_cuts
import occt_recess
import photographs
import programs
import slices
import solids

BOARD = [288.925, 203.2, 34.925]
SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="320mm" height="240mm" viewBox="0 0 320 240">
<rect width="320" height="240" fill="white"/>
<g transform="translate(10 15)">{outline}<rect x="-5" y="-5" width="300" height="220" fill="none" stroke="red"/></g>
</svg>"""
OUTLINE = '<rect id="finished-outline" width="288.925" height="203.2" fill="none" stroke="black"/>'
PROGRAM = """(handhold left, datum: centre of the edge)
G17 {unit} G90 G94
S16000 M3
G0 Z{safe}
G0 X{left} Y0
G1 X{right} Z-{half} F300
G1 X{left} Z-{depth}
G1 X{right} F900
G0 Z{safe}
M5
M2
"""
INCHES = {"unit": "G20", "safe": "1.00000", "left": "-1.87501", "right": "1.87502", "half": "0.12500"}
INCHES["depth"] = "0.25003"
METRIC = {"unit": "G21", "safe": "25.4000", "left": "-47.6251", "right": "47.6252", "half": "3.1750", "depth": "6.3503"}


def failures(judging, *arguments):
    """What a judge finds wrong."""
    checks = common.Checks("test", quiet=True)
    judging(*arguments, checks)
    return checks.failures


def write_stl(mesh, path):
    """Binary STL by trimesh."""
    trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).export(path)


def numbers_of(program):
    """The report's figures for one of the programs above, in millimetres."""
    scale = programs.MILLIMETRES[program["unit"]]
    figure = {key: float(program[key]) * scale for key in ("left", "right", "depth", "safe")}
    return {
        "least x": figure["left"],
        "most x": figure["right"],
        "least y": 0.0,
        "most y": 0.0,
        "depth": figure["depth"],
        "safe height": figure["safe"],
    }


class Folder(unittest.TestCase):
    """A made folder with a plain box for a board."""

    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)
        self.box = trimesh.creation.box(BOARD)
        self.box.apply_translation(np.array(BOARD) / 2)
        self.numbers = dict(zip(["board.length", "board.width", "board.thickness"], BOARD))
        self.numbers |= {"solid.volume": math.prod(BOARD), "solid.chord bound": 0.0}
        self.numbers |= {"drawing.width": 320.0, "drawing.height": 240.0}
        self.cuts = []
        self.report()

    def report(self):
        """Writes report.json as it stands now."""
        numbers = [{"key": key, "value": value, "unit": "mm"} for key, value in self.numbers.items()]
        report = {"format": 1, "numbers": numbers, "cuts": self.cuts}
        (self.folder / "report.json").write_text(json.dumps(report))


class Solids(Folder):
    def found(self, mesh):
        with np.errstate(all="ignore"):  # trimesh divides by the volume of broken meshes
            write_stl(mesh, self.folder / "board.stl")
            return " ".join(failures(solids.judge, self.folder))

    def changed(self, faces):
        return self.found(trimesh.Trimesh(self.box.vertices, faces, process=False))

    def test_good(self):
        self.assertEqual(self.found(self.box), "")

    def test_open(self):
        found = self.changed(self.box.faces[:-1])
        for reader in ("trimesh finds it open", "manifold3d says", "admesh finds facets not connected"):
            self.assertIn(reader, found)

    def test_one_facet_turned(self):
        found = self.changed(np.vstack([self.box.faces[:-1], self.box.faces[-1:, ::-1]]))
        for reader in ("turned against each other", "manifold3d says", "admesh, Facets reversed"):
            self.assertIn(reader, found)

    def test_inside_out(self):
        found = self.changed(self.box.faces[:, ::-1])
        self.assertIn("trimesh finds it inside out", found)
        self.assertIn("admesh finds it inside out", found)

    def test_facet_without_area(self):
        self.assertIn("two equal corners", self.changed(np.vstack([self.box.faces, [[0, 0, 1]]])))

    def test_two_bodies(self):
        other = self.box.copy()
        other.apply_scale(0.1)
        other.apply_translation([50, 50, 50])
        self.assertIn("2 bodies", self.found(trimesh.util.concatenate([self.box, other])))

    def test_wrong_size_and_volume(self):
        self.box.apply_scale([1, 1, 1.0001])
        found = self.found(self.box)
        self.assertIn("greatest z", found)
        self.assertIn("board.stl: volume", found)
        self.assertNotIn("greatest x", found)

    def test_off_the_corner(self):
        self.box.apply_translation([0.001, 0, 0])
        self.assertIn("least x", self.found(self.box))

    def test_volume_beyond_the_chord_bound(self):
        self.numbers["solid.volume"] += 100
        self.report()
        self.assertIn("board.stl: volume", self.found(self.box))
        self.numbers["solid.chord bound"] = 100.0
        self.report()
        self.assertEqual(self.found(self.box), "")

    def test_cut_short_or_missing(self):
        self.found(self.box)
        path = self.folder / "board.stl"
        path.write_bytes(path.read_bytes()[:-1])
        self.assertIn("a binary STL would have", " ".join(failures(solids.judge, self.folder)))
        path.unlink()
        self.assertIn("no board.stl", " ".join(failures(solids.judge, self.folder)))


class Programs(Folder):
    def found(self, program, text=None, numbers=None):
        text = PROGRAM.format(**program) if text is None else text
        path = self.folder / "handhold-left.ngc"
        path.write_text(text)
        return " ".join(failures(programs.judge_program, path, numbers or numbers_of(program), "left"))

    def changed(self, old, new, program=METRIC):
        text = PROGRAM.format(**program)
        self.assertIn(old, text)
        return self.found(program, text.replace(old, new, 1))

    def test_good(self):
        self.assertEqual(self.found(METRIC), "")
        self.assertEqual(self.found(INCHES), "")

    def test_each_figure_beyond_the_last_decimal(self):
        for program, much in ((METRIC, 0.0001), (INCHES, 0.0002)):
            for key in ("least x", "most x", "least y", "most y", "depth"):
                numbers = numbers_of(program)
                numbers[key] += much
                self.assertIn(key, self.found(program, numbers=numbers))
                numbers[key] -= much * 0.6
                self.assertEqual(self.found(program, numbers=numbers), "")
                del numbers[key]
                self.assertIn("no number to compare", self.found(program, numbers=numbers))

    def test_refused_by_the_interpreter(self):
        self.assertIn("rs274 refuses it", self.changed(" F300", ""))
        self.assertIn("rs274 refuses it", self.changed("M2\n", ""))
        self.assertIn("rs274 refuses it", self.changed("Y0", "Y"))

    def test_words(self):
        self.assertIn("may not", self.changed("G17", "G17 G64"))
        self.assertIn("may not", self.changed("M5", "M9 M5"))
        self.assertIn("may not", self.changed("M3", "M3 T1"))
        self.assertIn("a line of", self.changed("datum", "datum" * 10))
        self.assertIn("units ['G21', 'G20']", self.changed("M5", "G20 M5"))
        self.assertIn("decimals", self.changed("47.6252", "47.62521"))

    def test_rapids(self):
        self.assertIn("rapid below", self.changed("G0 Z25.4000\n", "G0 Z20\n"))
        self.assertIn("rapid below", self.changed("G1 X47.6252 F900\nG0 Z", "G0 X47.6252\nG1 F900 Z"))
        self.assertIn("below the safe height", self.changed("G0 Z25.4000\nM5", "M5"))

    def test_spindle(self):
        self.assertIn("spindle off", self.changed("S16000 M3\n", ""))
        self.assertIn("spindle off", self.changed("S16000", "S0"))
        self.assertIn("spindle off", self.changed("G1 X47.6252 F900", "M5 G1 X47.6252 F900"))

    def test_the_list_of_programs(self):
        self.found(METRIC)
        self.assertIn("the report lists []", " ".join(failures(programs.judge, self.folder)))
        self.cuts = [{"cut": "left handhold", "key": "handhold.1", "program": "handhold-left.ngc"}]
        self.numbers |= {f"handhold.1.program.{key}": value for key, value in numbers_of(METRIC).items()}
        self.report()
        self.assertEqual(failures(programs.judge, self.folder), [])
        self.cuts.append({"cut": "right handhold", "key": "handhold.2", "program": "handhold-right.ngc"})
        self.report()
        self.assertIn("no handhold-right.ngc", " ".join(failures(programs.judge, self.folder)))


class Drawings(Folder):
    def found(self, svg):
        (self.folder / "drawing.svg").write_text(svg)
        return " ".join(failures(drawings.judge, self.folder))

    def test_good(self):
        self.assertEqual(self.found(SVG.format(outline=OUTLINE)), "")
        path = '<path id="finished-outline" d="M0,0 L288.925,0 L288.925,203.2 L0,203.2 z" fill="none"/>'
        self.assertEqual(self.found(SVG.format(outline=path)), "")

    def test_page(self):
        self.assertIn("the page's width", self.found(SVG.format(outline=OUTLINE).replace("320mm", "320.3mm")))
        self.assertIn("the page's height", self.found(SVG.format(outline=OUTLINE).replace("240mm", "240")))

    def test_outline(self):
        found = self.found(SVG.format(outline=OUTLINE.replace("203.2", "203.5")))
        self.assertIn("pixels of the board's width", found)
        self.assertIn("the board's width as written", found)
        scaled = SVG.format(outline=OUTLINE).replace("translate(10 15)", "scale(0.98)")
        self.assertIn("pixels of the board's length", self.found(scaled))
        self.assertIn("no element has the id", self.found(SVG.format(outline="")))

    def test_not_a_drawing(self):
        self.assertIn("librsvg refuses it", self.found("<svg"))


def recess_case(radius, corner, depth, travel, tolerance=0.02):
    """One case by the closed forms, and a box less the recess by manifold3d."""
    section, ends = closed_forms(radius, corner, depth)
    box = [travel + 4 * radius, 4 * radius, depth + 12]
    case = {"name": "case", "radius": radius, "corner_radius": corner, "depth": depth, "travel": travel, "box": box}
    case |= {"widening": 0.0, "rim": None}
    case |= {"section": section, "ends": ends, "volume_removed": section * travel + ends}
    area = occt_recess.swept(case)[0]
    case |= {"chord_tolerance": tolerance, "curved_area": occt_recess.curved_area_of(area)}
    case["chord_bound"] = occt_recess.chord_bound(case, case["curved_area"])
    return case


def closed_forms(radius, corner, depth):
    """Section and ends."""
    flat, pi = radius - corner, math.pi
    if depth >= corner:
        section = 2 * (flat * corner + pi * corner**2 / 4 + radius * (depth - corner))
        ends = flat**2 * corner + flat * pi * corner**2 / 2 + 2 * corner**3 / 3 + radius**2 * (depth - corner)
        return section, pi * ends
    rest = corner - depth
    segment = (corner**2 * math.acos(rest / corner) - rest * math.sqrt(corner**2 - rest**2)) / 2
    ends = flat**2 * depth + 2 * flat * segment + corner**2 * depth - (corner**3 - rest**3) / 3
    return 2 * (flat * depth + segment), pi * ends


def recess_mesh(case, steps=16, around=96):
    """Box less the hull of two revolved outlines, by manifold3d; `steps` chords to the corner, `around` to a turn."""
    radius, corner, depth, travel = (case[key] for key in ("radius", "corner_radius", "depth", "travel"))
    turned = math.acos(max(0.0, 1 - depth / corner)) if corner else 0.0
    angles = np.linspace(0, turned, steps + 1) if corner else [0.0]
    outline = [(radius - corner + corner * math.sin(t), corner - corner * math.cos(t)) for t in angles]
    outline = [(0.0, 0.0), *outline, (outline[-1][0], depth + 1), (0.0, depth + 1)]
    end = manifold3d.Manifold.revolve(manifold3d.CrossSection([outline]), around)
    a, b, c = case["box"]
    ends = [end.translate([a / 2 + side * travel / 2, b / 2, c - depth]) for side in (-1, 1)]
    left = manifold3d.Manifold.cube(case["box"]) - manifold3d.Manifold.batch_hull(ends)
    case["mesh_volume_removed"] = a * b * c - left.volume()
    raw = left.to_mesh()
    return trimesh.Trimesh(raw.vert_properties, raw.tri_verts, process=False)


class Recess(Folder):
    def found(self, case, mesh):
        write_stl(mesh, self.folder / "case.stl")
        checks = common.Checks("test", quiet=True)
        *_, curved = occt_recess.judge_exact(case, "case", checks)
        occt_recess.judge_mesh(self.folder, case, curved, "case", checks)
        return " ".join(checks.failures)

    def test_worked_numbers(self):
        for depth, volume in ((6.0, 8476.454644), (3.0, 3941.657862)):
            case = recess_case(10.0, 4.0, depth, 60.0)
            self.assertAlmostEqual(case["volume_removed"], volume, delta=1e-6)

    def test_good(self):
        for shape in ((10.0, 4.0, 6.0, 60.0), (10.0, 4.0, 3.0, 60.0), (10.0, 0.0, 6.0, 60.0), (10.0, 10.0, 10.0, 60.0)):
            case = recess_case(*shape)
            self.assertEqual(self.found(case, recess_mesh(case)), "", shape)

    def test_closed_forms_off(self):
        for key, what in (
            ("volume_removed", "box less what is left"),
            ("volume_removed", "the tool's sweep"),
            ("section", "section"),
            ("ends", "two ends"),
            ("curved_area", "curved area"),
            ("chord_bound", "chord bound"),
        ):
            case = recess_case(10.0, 4.0, 3.0, 60.0)
            mesh = recess_mesh(case)
            case[key] *= 1 + 3e-9
            self.assertIn(what, self.found(case, mesh))

    def test_mesh_too_coarse(self):
        case = recess_case(10.0, 4.0, 6.0, 60.0)
        found = self.found(case, recess_mesh(case, steps=3, around=16))
        self.assertIn("volume that the mesh removes", found)
        self.assertIn("a facet", found)

    def test_mesh_not_on_the_surface(self):
        case = recess_case(10.0, 4.0, 6.0, 60.0)
        mesh = recess_mesh({**case, "radius": 10.01})
        recess_mesh(case)
        found = self.found(case, mesh)
        self.assertIn("a vertex", found)
        self.assertIn("volume of its STL", found)

    def test_mesh_removes_too_much(self):
        case = recess_case(10.0, 4.0, 6.0, 60.0)
        mesh = recess_mesh(case)
        case["mesh_volume_removed"] = case["volume_removed"] * (1 + 1e-6)
        self.assertIn("removes more", self.found(case, mesh))

    def test_too_few_cases(self):
        (self.folder / "cases.json").write_text("[]")
        found = " ".join(failures(occt_recess.judge, self.folder))
        self.assertIn("only 0 cases", found)
        self.assertIn("no case with d < r", found)


def cut_case():
    """A box with one blind hole from below, its figures by hand; and its meshes, a prism of 24 sides for the hole."""
    radius, depth, (a, b, t) = 6.0, 8.0, (100.0, 60.0, 30.0)
    hole = math.pi * radius**2 * depth
    volume = a * b * t - hole
    middle = (a * b * t * t / 2 - hole * depth / 2) / volume
    x, y = 30.0, 25.0
    cut = {"kind": "filled", "path": [[x, y]], "path_radius": 0.0, "radius": radius, "corner_radius": 0.0, "rim": None}
    cut |= {"depth": depth, "face": "lower", "through": False, "volume": hole}
    area = 2 * (a * b + b * t + t * a) + 2 * math.pi * radius * depth
    centre = [(a * b * t * a / 2 - hole * x) / volume, (a * b * t * b / 2 - hole * y) / volume, middle]
    case = {"name": "case", "box": [a, b, t], "corner": 0.0, "upper": None, "lower": None, "sweeps": [cut]}
    case |= {"volume": volume, "removed": hole, "area": area, "centre": centre, "meshes": []}
    for tolerance, sides in ((0.2, 24), (0.05, 48), (0.0125, 96)):
        prism = sides / 2 * math.sin(2 * math.pi / sides) * radius**2 * depth
        bound = tolerance * 2 * math.pi * radius * depth * (1 + tolerance / radius)
        mesh = {"tolerance": tolerance, "volume": a * b * t - prism, "bound": bound, "closed": True}
        case["meshes"].append(mesh | {"by_boolean": mesh["volume"]})
    box = manifold3d.Manifold.cube([a, b, t])
    tool = manifold3d.Manifold.cylinder(depth, radius, radius, 24).translate([x, y, 0])
    return case, {"uncut": as_written(box), "cutters": [as_written(tool)], "board": as_written(box - tool)}


def as_written(solid):
    """A manifold as cut-cases writes it."""
    mesh = solid.to_mesh64()
    return {"vertices": mesh.vert_properties[:, :3].tolist(), "triangles": mesh.tri_verts.tolist()}


class Cuts(Folder):
    def found(self, case, meshes):
        (self.folder / "case.json").write_text(json.dumps(meshes), encoding="utf-8")
        checks = common.Checks("test", quiet=True)
        occt_cuts.judge_exact(case, checks)
        occt_cuts.judge_meshes(case, checks)
        occt_cuts.judge_solids(self.folder, case, checks)
        return " ".join(checks.failures)

    def test_good(self):
        self.assertEqual(self.found(*cut_case()), "")

    def test_exact_figures_off(self):
        for key, what in (("volume", "volume"), ("area", "surface")):
            case, meshes = cut_case()
            case[key] *= 1 + 1e-7
            self.assertIn(what, self.found(case, meshes))
        case, meshes = cut_case()
        case["centre"][2] += 1e-5
        self.assertIn("centre", self.found(case, meshes))
        case, meshes = cut_case()
        case["sweeps"][0]["volume"] *= 1 + 1e-7
        self.assertIn("closed form of cut 0", self.found(case, meshes))

    def test_meshes_off(self):
        for key, value, what in (("closed", False, "open"), ("bound", 1.0, "bound"), ("by_boolean", 0.0, "two ways")):
            case, meshes = cut_case()
            case["meshes"][0][key] = value
            self.assertIn(what, self.found(case, meshes))
        case, meshes = cut_case()
        case["meshes"][2]["volume"] = case["meshes"][0]["volume"]
        self.assertIn("falls as", self.found(case, meshes))

    def test_another_tessellation(self):
        case, meshes = cut_case()
        meshes["cutters"] = [as_written(manifold3d.Manifold.cylinder(8, 6, 6, 25).translate([30, 25, 0]))]
        self.assertIn("manifold3d", self.found(case, meshes))

    def test_slices(self):
        """By hand: half a flat-bottomed run whose line is on the edge; a disc beside it that they cross."""
        case, _ = cut_case()
        cut, radius, depth = case["sweeps"][0], 6.0, 8.0
        cut["path"] = [[20.0, 0.0], [70.0, 0.0]]
        by_hand = (50.0 * radius + math.pi * radius**2 / 2) * depth
        self.assertTrue(occt_cuts.crosses(case))
        self.assertAlmostEqual(slices.removed(case, 1e-9), by_hand, places=9)
        case["sweeps"] = [cut | {"path": [[x, 30.0]]} for x in (40.0, 46.0)]
        lens = 2 * radius**2 * math.acos(0.5) - 3.0 * math.sqrt(4 * radius**2 - 36.0)
        self.assertAlmostEqual(slices.removed(case, 1e-9), (2 * math.pi * radius**2 - lens) * depth, places=8)
        case["sweeps"] = [cut | {"path": [[20.0, 20.0]]}]
        self.assertFalse(occt_cuts.crosses(case))

    def test_a_cut_that_crosses_a_side_is_judged_by_slices(self):
        case, _ = cut_case()
        radius, depth = 6.0, 8.0
        case["sweeps"][0]["path"] = [[20.0, 0.0], [70.0, 0.0]]
        by_hand = (50.0 * radius + math.pi * radius**2 / 2) * depth
        for wrong, said in ((1.0, False), (1.0 + 1e-7, True)):
            case |= {"removed": by_hand * wrong, "volume": math.prod(case["box"]) - by_hand * wrong}
            checks = common.Checks("test", quiet=True)
            occt_cuts.judge_exact(case, checks)
            self.assertEqual("by slices" in " ".join(checks.failures), said)

    def test_four_triangles_to_an_edge_and_crossings(self):
        case, meshes = cut_case()
        first, second = manifold3d.Manifold.cube([2, 2, 2]), manifold3d.Manifold.cube([2, 2, 2]).translate([2, 2, 0])
        both = [as_written(first), as_written(second)]
        corners = [tuple(v) for mesh in both for v in mesh["vertices"]]
        known = {v: i for i, v in enumerate(dict.fromkeys(corners))}
        triangles = [[known[tuple(mesh["vertices"][i])] for i in t] for mesh in both for t in mesh["triangles"]]
        meshes["board"] = {"vertices": [list(v) for v in known], "triangles": triangles}
        self.assertIn("an edge with 4", self.found(case, meshes))
        case, meshes = cut_case()
        through = as_written(manifold3d.Manifold.cube([2, 2, 90]).translate([31, 26, -10]))
        more = len(meshes["board"]["vertices"])
        meshes["board"]["vertices"] += through["vertices"]
        meshes["board"]["triangles"] += [[i + more for i in t] for t in through["triangles"]]
        self.assertIn("cross", self.found(case, meshes))



class Chance(Folder):
    KEYS = ["slack", "count", "set", "repeat", "repeats", "kerf_sigma", "kerfs", "q_sigma", "length_sigma"]
    ROWS = [
        ([1.2, 14, 0.05, 0.1, 13, 0.02, 13, 0.5, 0.4], norm.cdf(-1.2 / math.sqrt(0.49 + 0.13 + 0.0676 + 0.25 + 0.16))),
        ([-0.7, 10, 0, 0, 0, 0, 0, 0.3, 0.4], norm.cdf(1.4)),
        ([0.5, 10, 0, 0, 9, 0, 9, 0, 0], 0.0),
        ([-0.5, 10, 0, 0, 9, 0, 9, 0, 0], 1.0),
        ([0, 10, 0, 0.1, 9, 0, 9, 0, 0], 0.5),
    ]

    def found(self, rows):
        cases = [dict(zip(self.KEYS, given)) | {"chance": float(chance)} for given, chance in rows]
        (self.folder / "chance.json").write_text(json.dumps(cases))
        return failures(chance.judge, self.folder)

    def test_good(self):
        self.assertEqual(self.found(self.ROWS), [])

    def test_each_row_off(self):
        for place, (given, right) in enumerate(self.ROWS):
            rows = [*self.ROWS]
            rows[place] = (given, right + 3e-12)
            self.assertEqual(len(self.found(rows)), 1)

    def test_a_share_off(self):
        for off, faults in ((3e-4, 0), (3e-3, 1)):
            cases = [dict(zip(self.KEYS, given)) | {"chance": float(right)} for given, right in self.ROWS]
            case = next(c for c in cases if 0.05 < c["chance"] < 0.95)
            case |= {"runs": 1_000_000, "share": case["chance"] + off}
            (self.folder / "chance.json").write_text(json.dumps(cases))
            self.assertEqual(len(failures(chance.judge, self.folder)), faults)

    def test_too_few(self):
        self.assertIn("only 1 cases", " ".join(self.found(self.ROWS[:1])))


class Shared(Folder):
    def test_nothing_to_judge_fails(self):
        checks = common.Checks("test", quiet=True)
        self.assertEqual(checks.summary(), "test: 0 passed, 1 failed")

    def test_missing_numbers_and_nan_fail(self):
        checks = common.Checks("test", quiet=True)
        for found in (None, float("nan"), 1.1):
            checks.within(found, 1.0, 0.05, "number")
        self.assertEqual(len(checks.failures), 3)

    def test_other_report_format(self):
        (self.folder / "report.json").write_text('{"format": 2, "numbers": []}')
        with self.assertRaises(ValueError):
            common.Report(self.folder)

    def test_figures_refuse_an_unknown_area(self):
        with contextlib.redirect_stderr(io.StringIO()):
            self.assertEqual(figures.main(["no-such-area"]), 2)

    def test_figures_not_measured_do_not_hold(self):
        rows = figures.measured("a figure", lambda: 1 / 0)
        self.assertEqual([sorted(each) for each in rows], [sorted(figures.KEYS)])
        self.assertIs(rows[0]["holds"], False)
        self.assertIsNone(rows[0]["value"])


class Layups(unittest.TestCase):
    """Four strips whose best lay-up is known: 0, 1, 2, 3 as cut, every glue line of it at 1."""

    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = Path(temporary.name)
        near = [[1 if right == left + 4 and left % 4 == 0 else 9 for right in range(16)] for left in range(16)]
        ours = {"cost": 3, "bound": 3, "proven": True, "equally_good": 1, "seconds": 0.001}
        ours["laid"] = [[strip, 0] for strip in range(4)]
        self.case = {"name": "four", "strips": 4, "count": 4, "free": True, "zero": False, "costs": near, "ours": ours}

    def found(self, **changed):
        case = json.loads(json.dumps(self.case))
        case["ours"] |= {key: value for key, value in changed.items() if key in case["ours"]}
        case |= {key: value for key, value in changed.items() if key not in case["ours"]}
        (self.folder / "layups.json").write_text(json.dumps([case]))
        return " ".join(failures(layups.judge, self.folder))

    def test_good(self):
        self.assertEqual(self.found(), "")
        self.assertEqual(self.found(free=False), "")
        self.assertEqual(self.found(count=2, cost=1, bound=1, laid=[[1, 0], [2, 0]]), "")

    def test_not_the_best(self):
        worse = [[1, 0], [2, 0], [3, 0], [0, 0]]
        self.assertIn("CP-SAT finds 3", self.found(cost=11, bound=11, laid=worse))
        turned = [[0, 0], [1, 0], [2, 0], [3, 1]]
        self.assertIn("CP-SAT finds 3", self.found(free=False, cost=11, bound=11, laid=turned))

    def test_what_cp_sat_is_not_done_with(self):
        for answer, said in [((None, 3, 3, 1.0), ""), ((None, 0, None, 1.0), ""), ((None, 4, 9, 1.0), "bound is 4")]:
            with mock.patch.object(layups, "by_cp_sat", return_value=answer):
                self.assertIn(said, self.found()) if said else self.assertEqual(self.found(), "")
        with mock.patch.object(layups, "by_cp_sat", return_value=(None, 0, 2, 1.0)):
            self.assertIn("CP-SAT finds 2", self.found())

    def test_beyond_the_proof(self):
        strips = 17
        laid = [[strip, 0] for strip in range(strips)]
        costs = [[1] * (4 * strips) for _ in range(4 * strips)]
        case = {"strips": strips, "count": strips, "costs": costs, "laid": laid, "cost": 16, "proven": False}
        for answer, bound, said in [
            ((None, 9, 18, 1.0), 12, ""),
            ((None, 0, None, 1.0), 16, ""),
            ((None, 9, 11, 1.0), 12, "bound 12, CP-SAT finds 11"),
            ((None, 17, 18, 1.0), 12, "CP-SAT's bound is 17"),
        ]:
            with mock.patch.object(layups, "by_cp_sat", return_value=answer):
                found = self.found(**case, bound=bound)
            self.assertIn(said, found) if said else self.assertEqual(found, "")

    def test_not_what_it_says(self):
        self.assertIn("adds up to 3, not 2", self.found(cost=2, bound=2))
        self.assertIn("adds up to None", self.found(laid=[[0, 0], [1, 0], [2, 0], [2, 0]]))
        self.assertIn("adds up to None", self.found(laid=[[0, 0], [1, 0], [2, 0]]))
        self.assertIn("adds up to None", self.found(free=False, laid=[[1, 0], [0, 0], [2, 0], [3, 0]]))
        self.assertIn("not proven", self.found(proven=False))
        self.assertIn("costs 3", self.found(zero=True))

    def test_long(self):
        joints = [[[0 if (a, b) == (1, 1) else 5 for b in range(4)] for a in range(4)] for _ in range(3)]
        good = {"joints": joints, "free": False, "zero": True, "cost": 0, "bound": 0}
        self.assertEqual(self.found(**good, laid=[[strip, 1] for strip in range(4)]), "")
        self.assertIn("adds up to 5", self.found(**good, laid=[[0, 1], [1, 1], [2, 1], [3, 0]]))
        self.assertIn("not (0, 1)", self.found(**good | {"equally_good": 2}, laid=[[strip, 1] for strip in range(4)]))


class Photographs(unittest.TestCase):
    """A flat picture and corners that are right, and the same spoilt."""

    @classmethod
    def setUpClass(cls):
        cls.corners = photographs.ENDS["square on"]
        cls.case = {"picture": "square on, clean.png", "corners": cls.corners}
        cls.picture = photographs.photograph(photographs.seen(cls.corners), 0, 0, 1)
        cls.flat = photographs.by_opencv(cls.picture, cls.corners, *photographs.FLAT)

    def flat_found(self, flat):
        return " ".join(failures(lambda checks: photographs.judge_flat(self.case, flat, self.picture, checks)))

    def corners_found(self, corners, why=None):
        found = {"corners": corners, "why": why}
        return " ".join(failures(lambda checks: photographs.judge_corners(self.case, found, checks)))

    def test_good(self):
        self.assertEqual(self.flat_found(self.flat), "")
        self.assertEqual(self.corners_found(self.corners), "")

    def test_a_pixel_off(self):
        self.assertIn("by OpenCV", self.flat_found(np.roll(self.flat, 1, axis=1)))

    def test_mirrored(self):
        self.assertIn("at least 30", self.flat_found(self.flat[:, ::-1]))

    def test_another_size(self):
        self.assertIn("pixels instead of", self.flat_found(self.flat[1:]))

    def test_corners_off_or_not_found(self):
        off = np.array(self.corners) + [[0, 0], [0, 0], [1.5, 1.5], [0, 0]]
        self.assertIn("off by 2.12", self.corners_found(off.tolist()))
        self.assertIn("no corners found: nothing", self.corners_found(None, "nothing"))


class FacesAgree(unittest.TestCase):
    """Two faces that should be of one board."""

    def found(self, change):
        from PIL import Image

        chance = np.random.default_rng(5)
        board = np.full((300, 400, 3), (78, 52, 38), dtype=float)
        board[:70] = (196, 166, 124)
        board += chance.normal(0, 6, board.shape)
        with tempfile.TemporaryDirectory() as name:
            folders = [Path(name) / "a", Path(name) / "b"]
            for folder, pixels in zip(folders, (board, change(board + chance.normal(0, 6, board.shape)))):
                folder.mkdir()
                for side in ("upper", "lower"):
                    picture = Image.fromarray(np.clip(pixels, 0, 255).astype(np.uint8))
                    picture.save(folder / f"face-{side}.png", dpi=(96, 96))
            return " ".join(failures(lambda checks: faces_agree.judge(*folders, checks)))

    def test_the_same(self):
        self.assertEqual(self.found(lambda pixels: pixels), "")

    def test_mirrored_or_moved_or_of_another_colour(self):
        self.assertIn("light in one", self.found(lambda pixels: pixels[::-1]))
        self.assertIn("light in one", self.found(lambda pixels: np.roll(pixels, 8, axis=0)))
        self.assertIn("apart in the mean", self.found(lambda pixels: pixels * 1.25))
        self.assertIn("apart in the mean", self.found(lambda pixels: pixels[1:]))


if __name__ == "__main__":
    unittest.main()
