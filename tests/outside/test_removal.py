"""removal.py must fail what is wrong: each fault is put into a program that the interpreter takes. Run by tests/run with
`python -m unittest`."""

import contextlib
import io
import json
import math
import tempfile
import unittest
from pathlib import Path

import judge as common
import numpy as np

import removal

GOOD = """G21
G17 G90 G94
G0 Z12
S16000 M3
G0 X30 Y20
G1 Z0 F500
G1 X70 Y20 Z-2
G1 X30 Y20
G1 X70 Y20 Z-4
G1 X30 Y20
G0 Z12
M5
M2
"""
MOVES = [
    ["rapid", 30, 20, 12, 0],
    ["line", 30, 20, 0, 0],
    ["line", 70, 20, -2, 0],
    ["line", 30, 20, -2, 0],
    ["line", 70, 20, -4, 0],
    ["line", 30, 20, -4, 0],
    ["rapid", 30, 20, 12, 0],
]
CUT = {"part": 0, "radius": 5.0, "corner": 2.0, "depth": 4.0, "path": {"kind": "filled", "corners": [[30, 20], [70, 20]]}}
CASE = {
    "program": "a.ngc", "arcs": True, "inch": False, "stock": [100, 50, 30], "safe": 12, "bits": ["bit"], "cuts": [CUT],
    "moves": MOVES, "panel": False, "clamps": [], "nut": None, "spindle": None,
}


class Removal(unittest.TestCase):
    def found(self, text=GOOD, **changes):
        """What the judge says of one program."""
        checks = common.Checks("removal", quiet=True)
        with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
            (Path(folder) / "a.ngc").write_text(text)
            (Path(folder) / "cases.json").write_text(json.dumps([{**CASE, **changes}]))
            removal.judge(Path(folder), checks, least=0)
        return " ".join(checks.failures)

    def test_good(self):
        self.assertEqual(self.found(), "")

    def test_spoiled_programs(self):
        for old, new, says in [
            ("Z-4\n", "Z-4.02\n", "gouged"),
            ("Z-4\n", "Z-3.98\n", "left by"),
            ("X30 Y20\nG1 X70 Y20 Z-4\nG1 X30 Y20\nG0", "X30 Y20\nG0", "cutting moves"),
            ("Y20", "Y20.12", "gouged"),
            ("X70", "X69.88", "left by"),
            ("G21", "G20", "where moves end"),
            ("G0 X30", "G0 Z6\nG0 X30", "rapid below"),
            ("S16000 M3\n", "", "spindle off"),
            (" F500", "", "refuses it"),
        ]:
            with self.subTest(new):
                self.assertIn(says, self.found(GOOD.replace(old, new)))

    def test_another_cut_than_the_plans(self):
        longer = {"kind": "filled", "corners": [[30, 20], [70.12, 20]]}
        bent = {"kind": "arch", "centre": [50, 320], "radius": 300.6659, "from": -1.63735, "turn": 0.13311}
        for change in ({"depth": 4.02}, {"depth": 3.98}, {"path": longer}, {"path": bent}):
            self.assertNotEqual(self.found(cuts=[{**CUT, **change}]), "", change)

    def test_another_place_than_ours(self):
        moved = [move[:1] + [move[1] + 0.003] + move[2:] for move in MOVES]
        self.assertIn("where moves end", self.found(moves=moved))

    def test_clamps(self):
        """The cut's box is 25 to 75 by 15 to 25; a nut of 20 mm standing 10 mm up reaches from 20 to 80 by 10 to 30.
        Rapids run at 12 from the corner."""
        for clamp, met in [
            ([[76, 0], [90, 50], 20], False),
            ([[74.9, 0], [90, 50], 20], True),
            ([[74.9, 0], [90, 50], -4.1], False),
            ([[0, 0], [90, 14.9], 11], False),
            ([[0, 25.1], [90, 50], 20], False),
            ([[45, 18], [55, 22], 12.1], True),
        ]:
            with self.subTest(clamp):
                self.assertEqual("runs into a clamp" in self.found(clamps=[clamp]), met)
        out = [{**CUT, "out": 10}]
        for clamp, met in [([[76, 0], [90, 50], 7], True), ([[76, 0], [90, 50], 5.9], False), ([[81, 0], [90, 50], 7], False)]:
            with self.subTest(nut=clamp):
                self.assertEqual("'nut'" in self.found(clamps=[clamp], nut=20.0, cuts=out), met)
                self.assertEqual(self.found(clamps=[clamp], cuts=out), "")
        self.assertIn("nut below the surface", self.found(nut=20.0, cuts=[{**CUT, "out": 3.9}]))
        self.assertEqual(self.found(nut=20.0, cuts=[{**CUT, "out": 4.1}]), "")
        self.assertEqual(self.found(nut=9.0, cuts=[{**CUT, "out": 1}]), "")
        # A spindle of 40 mm, 5 mm above the nut: from 10 to 90 by 0 to 40.
        for clamp, met in [([[86, 0], [95, 50], 12], True), ([[86, 0], [95, 50], 10.9], False), ([[91, 0], [95, 50], 12], False)]:
            with self.subTest(spindle=clamp):
                self.assertEqual("'spindle'" in self.found(clamps=[clamp], spindle=[40.0, 5.0], cuts=out), met)
        self.assertIn("spindle below the surface", self.found(spindle=[40.0, 2.0], cuts=[{**CUT, "out": 1.9}]))
        self.assertEqual(self.found(spindle=[40.0, 2.1], cuts=[{**CUT, "out": 2}]), "")

    def test_the_closed_forms_by_hand(self):
        """The worked figures of the recess: R 10, r 4, d 6 and 3, t 60."""
        for depth, area, ends in ((6, 113.132741, 1688.490171), (3, 53.216874, 748.645434)):
            found = removal.sections({"radius": 10, "corner": 4, "depth": depth})
            np.testing.assert_allclose(found, (area, ends), atol=1e-6)
        ring = {"kind": "round", "low": [0, 0], "high": [300, 200], "radius": 30}
        cut = {"part": 0, "radius": 4.0, "corner": 4.0, "depth": 4.0, "path": ring}
        inside = {**cut, "path": {**ring, "low": [10, 10], "high": [310, 210]}}
        # A half-round groove of 4 mm round 948.495559 mm: 23 838.2934 mm³ (Pappus).
        self.assertAlmostEqual(removal.closed_form([inside], [400, 300, 30]), 23838.2934, places=3)
        self.assertIsNone(removal.closed_form([cut], [300, 200, 30]))

    def test_a_wrong_volume(self):
        wide = {"start": (30, 20, -4), "end": (70, 20, -4), "arc": None}
        checks = common.Checks("removal", quiet=True)
        box = (np.array([20.0, 10.0]), np.array([80.0, 30.0]), [(5.0, 2.0, None)])
        self.assertTrue(removal.judge_volume(CASE, [wide], box, checks, "a"))
        self.assertEqual(checks.failures, [])
        removal.judge_volume(CASE, [wide], (*box[:2], [(5.02, 2.0, None)]), checks, "a")
        self.assertIn("volume removed", " ".join(checks.failures))

    def test_arcs(self):
        p = np.array([[0.0, 11.0], [-9.0, 0.0], [0.0, -10.0]])
        rho, share = removal.to_arc(p, (0, 0), 10.0, 0.0, math.pi)
        np.testing.assert_allclose(rho, [1.0, 1.0, math.sqrt(200.0)], atol=1e-12)
        np.testing.assert_allclose(share[:2], [0.5, 1.0])
        rho, _ = removal.to_arc(p, (0, 0), 10.0, 0.0, -math.pi)
        np.testing.assert_allclose(rho, [math.hypot(10, 11), 1.0, 0.0], atol=1e-12)


if __name__ == "__main__":
    unittest.main()
