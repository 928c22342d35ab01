"""librsvg (`rsvg-convert`, Debian's librsvg2-bin) judges the physical size of every 1:1 drawing.

- The page: drawing.svg rendered at 254 dots per inch has ten pixels to the millimetre, so it must measure the report's
  `drawing.width` by `drawing.height` times ten, give or take one pixel.
- The board in it: the element `finished-outline` alone, filled, every other element left out (its ancestors and so all
  transforms stay), rendered the same way. The extent of what is inked must be `board.length` by `board.width` times
  ten, give or take one pixel: half a pixel of covering at each of two sides.
- The board as written: the outline is a rect, or a polygon or path with straight sides and absolute coordinates, at
  most moved on the page; its coordinates times the page's scale must give the same to 0.001 mm.

Usage: drawings.py FOLDER...
"""

import copy
import re
import tempfile
import xml.etree.ElementTree as tree
from pathlib import Path

import numpy as np
from PIL import Image

import judge as common

Image.MAX_IMAGE_PIXELS = None
SVG = "{http://www.w3.org/2000/svg}"
OUTLINE = "finished-outline"
DOTS = 10  # per millimetre
NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "px": 25.4 / 96, "": 25.4 / 96}


def render(path):
    """The drawing's pixels by librsvg as an array (height, width, RGBA), or what it complained of."""
    with tempfile.TemporaryDirectory() as folder:
        picture = Path(folder) / "page.png"
        dpi = str(DOTS * 25.4)
        status, _, err = common.run("rsvg-convert", "--dpi-x", dpi, "--dpi-y", dpi, "-f", "png", "-o", picture, path)
        if status or not picture.is_file():
            return None, err.strip() or f"status {status}"
        with Image.open(picture) as image:
            return np.asarray(image.convert("RGBA")), ""


def chain_to(root, name):
    """The elements from the root down to the one with this id, or None."""
    if root.get("id") == name:
        return [root]
    for child in root:
        if below := chain_to(child, name):
            return [root, *below]
    return None


def only_outline(chain):
    """The drawing with nothing in it but the outline, filled in black."""
    plain = [tree.Element(element.tag, element.attrib) for element in chain]
    for outer, inner in zip(plain, plain[1:]):
        outer.append(inner)
    for element in plain:
        for key in ("class", "style", "clip-path", "mask", "filter", "opacity"):
            element.attrib.pop(key, None)
    plain[-1].attrib |= {"fill": "black", "fill-opacity": "1", "stroke": "none"}
    return plain[0]


def inked(pixels):
    """Width and height of what is at least half covered."""
    covered = pixels[:, :, 3] >= 128
    extents = []
    for axis in (0, 1):
        places = np.flatnonzero(covered.any(axis=axis))
        extents.append(int(places[-1] - places[0] + 1) if places.size else 0)
    return extents


def scale_of(root):
    """Millimetres per user unit in x and y, from the page's size and its viewBox."""
    sizes = []
    for key in ("width", "height"):
        number, unit = re.fullmatch(r"\s*([\d.]+)\s*([a-z]*)\s*", root.get(key)).groups()
        sizes.append(float(number) * MILLIMETRES[unit])
    box = root.get("viewBox")
    if box is None:
        return [25.4 / 96] * 2
    _, _, width, height = map(float, box.replace(",", " ").split())
    return [sizes[0] / width, sizes[1] / height]


def written(outline):
    """Width and height of a rect, or of a polygon or path with straight sides and absolute x y pairs; else None."""
    if outline.tag == SVG + "rect":
        return [float(outline.get("width")), float(outline.get("height"))]
    data = outline.get("d" if outline.tag == SVG + "path" else "points", "")
    numbers = [float(number) for number in NUMBER.findall(data)]
    if not numbers or set(NUMBER.sub("", data)) - set("MLZz, \n"):
        return None
    return [max(numbers[0::2]) - min(numbers[0::2]), max(numbers[1::2]) - min(numbers[1::2])]


def judge(folder, checks):
    """drawing.svg of a made folder; returns the page by librsvg and by the report, mm."""
    report, path = common.Report(folder), folder / "drawing.svg"
    name = f"{folder.name}/drawing.svg"
    page = [report.number("drawing.width"), report.number("drawing.height")]
    board = [report.number("board.length"), report.number("board.width")]
    pixels, complaint = render(path)
    if not checks.that(pixels is not None, f"{name}: librsvg refuses it: {complaint}"):
        return None, page
    size = [pixels.shape[1], pixels.shape[0]]
    for side, found, wanted in zip(("width", "height"), size, page):
        checks.within(found, wanted and wanted * DOTS, 1, f"{name}: pixels of the page's {side}")
    checks.that(bool((pixels[:, :, 3] > 0).any()), f"{name}: the page is blank")
    judge_outline(path, board, name, checks)
    return [number / DOTS for number in size], page


def judge_outline(path, board, name, checks):
    """The finished outline, rendered and as written."""
    root = tree.parse(path).getroot()
    chain = chain_to(root, OUTLINE)
    if not checks.that(chain is not None, f"{name}: no element has the id {OUTLINE}"):
        return
    with tempfile.TemporaryDirectory() as folder:
        alone = Path(folder) / "outline.svg"
        tree.ElementTree(only_outline(copy.deepcopy(chain))).write(alone)
        pixels, complaint = render(alone)
    if checks.that(pixels is not None, f"{name}: librsvg refuses the outline alone: {complaint}"):
        for side, found, wanted in zip(("length", "width"), inked(pixels), board):
            checks.within(found, wanted and wanted * DOTS, 1, f"{name}: pixels of the board's {side}")
    straight = written(chain[-1])
    placed = all("transform" not in element.attrib or moves_only(element) for element in chain)
    if checks.that(straight and placed, f"{name}: the outline isn't straight-sided, or is turned or scaled"):
        for side, number, scale, wanted in zip(("length", "width"), straight, scale_of(root), board):
            checks.within(number * scale, wanted, 0.001, f"{name}: the board's {side} as written")


def moves_only(element):
    """Whether the element's transform is a plain translation."""
    return re.fullmatch(r"\s*translate\([^()]*\)\s*", element.get("transform")) is not None


if __name__ == "__main__":
    common.main("drawings", judge)
