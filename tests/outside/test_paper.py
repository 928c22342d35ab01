"""The judge of the sheets must pass a right page, printed here by librsvg, and fail one with a fault."""

import json
import tempfile
import unittest
from pathlib import Path

import judge as common
import paper

PAGE = """<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297">
<g stroke="black" stroke-width="0.25">
<path d="M20.125 20v5M{end} 20v5M20 22.5H{far}"/><path d="M20.125 40v5M121.475 40v5M20 42.5H121.6"/>
</g><text x="20" y="80" font-size="5" font-family="sans-serif">{text}</text></svg>"""


class Paper(unittest.TestCase):
    def found(self, long=100.0, text="11 3/8 in full", page="210mm 297mm", pages=1, number="board.length: 11 3/8 in full"):
        with tempfile.TemporaryDirectory() as temporary:
            folder = Path(temporary)
            svg = PAGE.format(end=20 + long - 0.125, far=20 + long, text=text)
            (folder / "page.svg").write_text(svg)
            common.run("rsvg-convert", "-f", "pdf", "-o", folder / "sheets.pdf", folder / "page.svg")
            (folder / "page.svg").write_text(PAGE.format(end=20, far=20, text=number))
            common.run("rsvg-convert", "-f", "pdf", "-o", folder / "numbers.pdf", folder / "page.svg")
            section = '<div style="break-after: page">x</div>' * (pages - 1) + "<div>x</div>"
            style = f"<style>@page {{ size: {page}; margin: 0 }}</style>"
            (folder / "sheets.html").write_text(f"<!doctype html>{style}{section}")
            numbers = [{"key": "board.length", "value": 289.0, "shown": "11 3/8 in full"}]
            (folder / "report.json").write_text(json.dumps({"format": 1, "numbers": numbers}))
            checks = common.Checks("paper", quiet=True)
            paper.judge(folder, checks)
            return " ".join(checks.failures)

    def test_good(self):
        self.assertEqual(self.found(), "")

    def test_bar_too_short(self):
        self.assertIn("bar of 100.0 mm", self.found(long=99.7))

    def test_figure_missing_or_torn(self):
        self.assertIn("isn't found", self.found(number="board.length: 11 3 8 in full"))

    def test_figure_not_on_the_sheets(self):
        for text in ("11 1/8 in full", "111 3/8 in full", "nothing"):
            self.assertIn("isn't on the sheets", self.found(text=text))
        self.assertFalse(paper.whole("3/8 in").search("11 3/8 in"))

    def test_keys_on_the_sheets(self):
        self.assertIn("stands on the sheets", self.found(text="board.length: 11 3/8 in full"))

    def test_a_glue_up_on_two_pages(self):
        for title in ("Panel P: first glue-up, continued", "Second glue-up: the board, continued"):
            self.assertIn("on more than one page", self.found(text=f"11 3/8 in full {title}"))
        self.assertEqual(self.found(text="11 3/8 in full, of the second glue-up. The saw, continued"), "")

    def test_browser_prints_another_paper_or_more_pages(self):
        self.assertIn("Chromium prints 2 pages", self.found(pages=2))
        self.assertIn("sheets.html: mm of page 1", self.found(page="216mm 279mm"))

    def template(self, long=100.0, block=38.0, drawn=True):
        with tempfile.TemporaryDirectory() as temporary:
            folder = Path(temporary)
            svg = PAGE.format(end=20 + long - 0.125, far=20 + long, text="x")
            right, left = 20 + block - 0.125, 20.125
            svg = svg.replace("</svg>", f'<path fill="none" stroke="black" stroke-width="0.25" d="M{left} 90H{right}V120H{left}Z"/></svg>')
            (folder / "page.svg").write_text(svg)
            common.run("rsvg-convert", "-f", "pdf", "-o", folder / "template-stop-p.pdf", folder / "page.svg")
            if drawn:
                (folder / "template-stop-p.svg").write_text(svg)
            numbers = [{"key": "panel.P.stop", "value": 38.1, "shown": "1 1/2 in"}]
            (folder / "report.json").write_text(json.dumps({"format": 1, "numbers": numbers}))
            checks = common.Checks("paper", quiet=True)
            paper.judge_templates(folder, checks)
            return " ".join(checks.failures)

    def test_templates(self):
        self.assertEqual(self.template(), "")
        self.assertIn("bar of 100.0 mm", self.template(long=99.7))
        self.assertIn("the block for panel.P.stop", self.template(block=38.5))
        self.assertIn("the block for panel.P.stop", self.template(block=37.0))
        self.assertIn("no drawing", self.template(drawn=False))

    def test_no_pdf(self):
        with tempfile.TemporaryDirectory() as temporary:
            folder = Path(temporary)
            (folder / "report.json").write_text(json.dumps({"format": 1, "numbers": []}))
            (folder / "sheets.pdf").write_text("no")
            checks = common.Checks("paper", quiet=True)
            paper.judge(folder, checks)
            self.assertTrue(checks.failures)


if __name__ == "__main__":
    unittest.main()
