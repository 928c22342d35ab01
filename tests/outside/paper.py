"""poppler (Debian's poppler-utils) and Chromium judge the sheets: sheets.pdf and sheets.html of every made folder.

- Every number of the report stands in numbers.pdf as shown: pdftotext's text, white space taken as one space, must hold
  `KEY: SHOWN`. A stacked fraction must come back as `3/8`.
- What the work is done by (ON_THE_SHEETS) stands in sheets.pdf itself as shown, and no key of the report does.
- Each glue-up is on one page.
- pdffonts: every font embedded, as a subset, with a map to Unicode.
- A page rendered by pdftoppm at 508 dots an inch (20 to the millimetre) and measured: the check bar of 100 mm is
  100 mm long within 0.2 mm, the one of 4 in 101.6 mm, from outer edge to outer edge of their end strokes.
- Every template that is a PDF has both bars on every sheet, and on its drawing as librsvg prints it; the set-up block
  for the saw's stop is as long as the report says, or shorter by what brings it down to a mark.
- The paper is A4 or US Letter, on every page the same, and no page is blank.
- Chromium prints the HTML page to as many pages, of the same size.

Usage: paper.py FOLDER...
"""

import re
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

import judge as common

PAPERS = {"A4": (210.0, 297.0), "US Letter": (215.9, 279.4)}
DOTS = 20  # per millimetre
POINT = 25.4 / 72

# Keys of the report whose figures must stand on the sheets themselves; counts are left out, as a bare `5` is found anywhere.
ON_THE_SHEETS = re.compile(
    r"board\.(length|width|thickness|glued length|least length|length to spare)"
    r"|finishing\.(upper|lower|left|right|front|back)"
    r"|panel\..+\.(thickness|width|stop|trued first|trued last|planed lower|planed upper|length a pass|may be planed)"
    r"|(panel\..+|board)\.thickness\.step\.\d+\.leaves"
    r"|(panel\..+|board)\.glue\.(area|largest joint|spread|clamp spacing|force|clamped)"
    r"|(panel\..+|board)\.glue\.go\.\d+\.takes"
    r"|glue\.(rest|slip trims|proud flattens)"
    r"|handhold\.\d+\.(depth|width|length)"
    r"|sanding\.(all|left for it|80\.removes|120\.removes)"
    r"|finish\.oil (least|most)"
    r"|solid\.(mass|volume|area)"
    r"|season\.\d+\.(temperature|humidity|moisture)"
    r"|movement\.(made|(length|width) (grows|to driest|to dampest)|mismatch\.[1-5]\.(wants|shared))"
    r"|weight\.(driest|dampest)"
    r"|lumber\.(used|kept|in the board|(wood|lost)\..+)"
    r"|off-cut\.[1-9]\.(width|thickness|length)"
    r"|time\..+"
    r"|money\..+"
)
# What shows as nothing isn't listed: no waste of a kind, a rate that isn't given, neighbours that move alike.
LEFT_OUT_AT_NOTHING = re.compile(r"lumber\.lost\..+|money\..+|movement\.mismatch\.(\d)\.(wants|shared)")


def told(text):
    """Text with all white space as one space."""
    return re.sub(r"\s+", " ", text)


def sizes(pdf):
    """The size of every page, mm, by pdfinfo; None where it is no PDF."""
    status, out, _ = common.run("pdfinfo", "-f", 1, "-l", 9999, pdf)
    if status:
        return None
    found = re.findall(r"^Page\s+\d+ size:\s+([\d.]+) x ([\d.]+) pts", out, re.MULTILINE)
    return [(float(w) * POINT, float(h) * POINT) for w, h in found]


def judge_fonts(pdf, name, checks):
    """Every font that the PDF uses."""
    status, out, err = common.run("pdffonts", pdf)
    rows = [line.split() for line in out.splitlines()[2:]]
    if checks.that(status == 0 and rows, f"{name}: pdffonts finds no font: {err.strip()}"):
        for row in rows:
            embedded, subset, to_unicode = row[-5:-2]
            checks.that((embedded, subset, to_unicode) == ("yes", "yes", "yes"), f"{name}: font {row[0]}: {row[-5:-2]}")


def text_of(pdf, name, checks):
    """What pdftotext reads, or None."""
    status, out, err = common.run("pdftotext", "-raw", "-enc", "UTF-8", pdf, "-")
    return told(out) if checks.that(status == 0, f"{name}: pdftotext refuses it: {err.strip()}") else None


def judge_figures(pdf, report, name, checks):
    """Every number as shown."""
    text = text_of(pdf, name, checks)
    if text is None:
        return
    for key, number in report.numbers.items():
        wanted = told(f"{key}: {number['shown']}")
        checks.that(wanted in text, f"{name}: {wanted!r} isn't found")


def whole(shown):
    """A figure that is not the tail or the head of a longer one; beside a bare fraction stands no whole number."""
    alone = r"(?<!\d )" if re.match(r"\d+/", shown) else ""
    return re.compile(r"(?<![\d/.-])" + alone + re.escape(shown) + r"(?![\d/])")


def left_out(key, numbers):
    """Whether a figure shows nothing but noughts where such aren't listed; of a glue line, what its neighbours want."""
    found = LEFT_OUT_AT_NOTHING.fullmatch(key)
    if not found:
        return False
    decides = key.replace(".shared", ".wants") if found.group(1) else key
    return not re.search(r"[1-9]", numbers[decides]["shown"])


def judge_sheets(pdf, report, name, checks):
    """What the work is done by stands on the sheets as shown, and keys of the report don't."""
    text = text_of(pdf, name, checks)
    if text is None:
        return
    for key, number in report.numbers.items():
        shown = told(number["shown"])
        if " " in shown and ON_THE_SHEETS.fullmatch(key) and not left_out(key, report.numbers):
            checks.that(whole(shown).search(text), f"{name}: {key}, {shown!r}, isn't on the sheets")
        if "." in key:
            checks.that(f"{key}: " not in text, f"{name}: the key {key!r} stands on the sheets")
    over = re.findall(r"[^.]{0,30}glue-up[^.]{0,12}, continued", text)
    checks.that(not over, f"{name}: a glue-up is on more than one page: {over}")


def bars(pdf, page, checks, name, least=90.0):
    """The lengths, mm, of the longest level strokes on a page that have an upright stroke at either end."""
    with tempfile.TemporaryDirectory() as folder:
        stem = Path(folder) / "page"
        command = ("pdftoppm", "-r", DOTS * 25.4, "-f", page, "-l", page, "-gray", "-png", "-singlefile", pdf, stem)
        status, _, err = common.run(*command)
        if not checks.that(status == 0, f"{name}: pdftoppm: {err.strip()}"):
            return []
        with Image.open(stem.with_suffix(".png")) as image:
            dark = np.asarray(image.convert("L")) < 128
    found = set()
    tall = 5 * DOTS // 2  # an end stroke is at least 2.5 mm high
    # An end stroke: dark for so long down the page.
    down = np.cumsum(np.vstack([np.zeros((1, dark.shape[1]), int), dark]), axis=0)
    for y in range(tall, dark.shape[0] - tall, DOTS // 4):
        row = dark[y]
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(np.int8), [0]])))
        for start, end in zip(edges[0::2], edges[1::2]):
            if end - start < least * DOTS:
                continue
            upright = [(down[y + tall // 2, x] - down[y - tall // 2, x]) > 0.9 * tall // 2 for x in (start + 1, end - 2)]
            if all(upright):
                found.add((end - start) / DOTS)
    return sorted(found)


def judge_bars(pdf, pages, name, checks):
    """The two check bars, on the page that has them: the last."""
    lengths = bars(pdf, pages, checks, name)
    for wanted in (100.0, 101.6):
        near = min(lengths, key=lambda length: abs(length - wanted), default=None)
        checks.within(near, wanted, 0.2, f"{name}: mm of the bar of {wanted} mm on page {pages}")


def printed(html, folder):
    """The PDF that Chromium prints the page to, or None and what it complained of."""
    pdf = Path(folder) / "printed.pdf"
    flags = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-pdf-header-footer")
    _, _, err = common.run("chromium", *flags, f"--user-data-dir={folder}/profile", f"--print-to-pdf={pdf}", html.resolve().as_uri())
    return (pdf, "") if pdf.is_file() else (None, err.strip()[-400:])


def judge_html(html, pages, name, checks):
    """The same sheets from a browser."""
    with tempfile.TemporaryDirectory() as folder:
        pdf, complaint = printed(html, folder)
        if not checks.that(pdf is not None, f"{name}: Chromium prints nothing: {complaint}"):
            return
        own = sizes(pdf) or []
    checks.that(len(own) == len(pages), f"{name}: Chromium prints {len(own)} pages, the PDF has {len(pages)}")
    for i, (found, wanted) in enumerate(zip(own, pages), 1):
        for side in (0, 1):
            checks.within(found[side], wanted[side], 0.5, f"{name}: mm of page {i}")


def judge_templates(folder, checks):
    """Each template that is there on paper and as one drawing: both bars on every sheet and on the drawing."""
    for pdf in sorted(folder.glob("template-*.pdf")):
        name = f"{folder.name}/{pdf.name}"
        pages = sizes(pdf) or []
        checks.that(bool(pages), f"{name}: poppler finds no page")
        judge_fonts(pdf, name, checks)
        for page, size in enumerate(pages, 1):
            checks.that(min(abs(size[1] - paper[1]) for paper in PAPERS.values()) < 0.05, f"{name}: page {page}: {size}")
            judge_bars(pdf, page, name, checks)
        drawing = pdf.with_suffix(".svg")
        if not checks.that(drawing.is_file(), f"{name}: no drawing beside it"):
            continue
        with tempfile.TemporaryDirectory() as temporary:
            printed_at_once = Path(temporary) / "drawing.pdf"
            status, _, err = common.run("rsvg-convert", "-f", "pdf", "-o", printed_at_once, drawing)
            if checks.that(status == 0, f"{drawing.name}: librsvg: {err.strip()}"):
                judge_bars(printed_at_once, 1, f"{folder.name}/{drawing.name}", checks)
    judge_blocks(folder, checks)


def judge_blocks(folder, checks):
    """A set-up block is as long as the report's stop, brought down to its mark: never longer, by less than 1 mm shorter."""
    report = common.Report(folder)
    for key, number in report.numbers.items():
        found = re.fullmatch(r"panel\.([A-Za-z0-9]+)\.stop", key)
        pdf = folder / f"template-stop-{found.group(1).lower()}.pdf" if found else None
        if pdf is None or not pdf.is_file():
            continue
        name = f"{folder.name}/{pdf.name}"
        lengths = [long for long in bars(pdf, 1, checks, name, least=10.0) if long not in (100.0, 101.6)]
        near = min(lengths, key=lambda long: abs(long - number["value"]), default=None)
        short = None if near is None else number["value"] - near
        holds = short is not None and -0.2 <= short < 1.0
        checks.that(holds, f"{name}: the block for {key} is {near} mm long, the stop at {number['value']}")


def judge(folder, checks):
    """sheets.pdf and sheets.html of a made folder; returns the number of pages."""
    report, pdf = common.Report(folder), folder / "sheets.pdf"
    name = f"{folder.name}/sheets.pdf"
    pages = sizes(pdf)
    if not checks.that(bool(pages), f"{name}: poppler finds no page"):
        return None
    paper = min(PAPERS.values(), key=lambda size: abs(size[1] - pages[0][1]))
    for i, size in enumerate(pages, 1):
        for side in (0, 1):
            checks.within(size[side], paper[side], 0.05, f"{name}: mm of page {i}")
    judge_fonts(pdf, name, checks)
    judge_sheets(pdf, report, name, checks)
    figures, figures_name = folder / "numbers.pdf", f"{folder.name}/numbers.pdf"
    judge_fonts(figures, figures_name, checks)
    judge_figures(figures, report, figures_name, checks)
    judge_bars(pdf, len(pages), name, checks)
    judge_templates(folder, checks)
    judge_html(folder / "sheets.html", pages, f"{folder.name}/sheets.html", checks)
    return len(pages)


if __name__ == "__main__":
    common.main("paper", judge)
