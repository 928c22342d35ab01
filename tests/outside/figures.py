"""Prints every measured figure, one row each; `bash tests/figures [AREA] [--json] [--strict]` calls it.

Rows come from the Rust program `measure [AREA]`, which prints a JSON list, and, for the area chain, from the outside
judges of this folder, which judge the samples as `quarterturn make` writes them and the cases of `recess-cases`; so do
those of the area picture that photographs.py judges. A row has the keys of KEYS and no others; `holds` is a bool. What
can't be measured here has the value null, says why in its source, and does not hold. QUARTERTURN_REFERENCE is handed on
to `measure`. With QUARTERTURN_EVERY_LAYUP set, CP-SAT solves all kept lay-ups.

Exit status: 0 printed; 1 with --strict, where a row does not hold or there is none; 2 for an unknown area.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

AREAS = ["chain", "picture", "layup", "solid", "cuts", "paper", "page"]
KEYS = ["area", "name", "value", "unit", "peer", "goal", "holds", "source"]
ROOT = Path(__file__).resolve().parents[2]
PROGRAMS = ROOT / "target" / "release"
REPEATS = 5
# All 20 kept instances of 16 strips are given to CP-SAT, not the first few: some ten minutes.
EVERY_LAYUP = bool(os.environ.get("QUARTERTURN_EVERY_LAYUP"))


def row(name, value, unit, goal, holds, source, peer=None):
    """One row of the area chain."""
    return dict(zip(KEYS, ["chain", name, value, unit, peer, goal, bool(holds), source]))


def not_measured(name, reason, area="chain"):
    """A row for what can't be measured on this machine."""
    return dict(zip(KEYS, [area, name, None, "", None, "measured", False, f"not measured here: {reason}"]))


def measured(name, measure):
    """The rows of one measuring function, or a row that says why there are none."""
    return measured_in("chain", name, measure)


def measured_in(area, name, measure):
    """The same for another area than the chain."""
    try:
        return measure()
    except Exception as error:  # whatever went wrong, the row must say so
        return [not_measured(name, f"{type(error).__name__}: {error}", area)]


def start(*command):
    """Runs a program that must succeed and returns what it printed."""
    done = subprocess.run([str(part) for part in command], cwd=ROOT, capture_output=True, text=True, timeout=1800)
    if done.returncode:
        complaint = (done.stderr or done.stdout).strip().splitlines()
        raise RuntimeError(f"{Path(command[0]).name} ends with {done.returncode}: {complaint[-1] if complaint else ''}")
    return done.stdout


def from_measure(area):
    """The rows of the Rust measuring program, each with exactly the wanted keys."""
    rows = json.loads(start(PROGRAMS / "measure", *([area] if area else [])))
    for each in rows:
        if sorted(each) != sorted(KEYS) or each["area"] not in ([area] if area else AREAS):
            raise ValueError(f"not a row of {area or 'any area'}: {each}")
        if not isinstance(each["holds"], bool) or (each["value"] is None and each["holds"]):
            raise ValueError(f"holds without having been measured: {each}")
    return rows


def make_samples(folder):
    """Makes every sample REPEATS times; returns the made folders and the slowest sample with its median time."""
    plans = sorted((ROOT / "samples").glob("*.toml"))
    if not plans:
        raise FileNotFoundError("no plan in samples/")
    times = {}
    for plan in plans:
        for repeat in range(REPEATS):
            out = folder / (plan.stem if repeat == 0 else f"again/{plan.stem}-{repeat}")
            out.parent.mkdir(parents=True, exist_ok=True)
            began = time.perf_counter()
            start(PROGRAMS / "quarterturn", "make", plan, "--out", out)
            times.setdefault(plan.stem, []).append(time.perf_counter() - began)
    medians = {name: statistics.median(all_times) for name, all_times in times.items()}
    slowest = max(medians, key=medians.get)
    return [folder / plan.stem for plan in plans], slowest, medians[slowest]


def write_cases(folder):
    """Lets our own program write the cases that the judges need; no rows of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    start(PROGRAMS / "recess-cases", folder)
    return []


def recess_rows(folder):
    """Exact solids and their meshes against OCCT."""
    import judge as common
    import occt_recess

    checks = common.Checks("occt_recess", quiet=True)
    worst = occt_recess.judge(folder, checks)
    count, source = worst["cases"], "OCCT (cadquery-ocp-novtk), default integration; occt_recess.py"
    allowed = occt_recess.BOUND
    return [
        row("recess cases against OCCT", count, "cases", ">= 20", count >= 20, source),
        row(
            "recess volume, worst relative error",
            worst["relative"],
            "of the removed volume",
            "<= 1e-9",
            worst["relative"] <= allowed,
            f"{source}; peer: OCCT's tool volume against its box less what is left",
            worst["peer"],
        ),
        row(
            "recess mesh, worst volume error over chord bound", worst["share"], "1", "<= 1", worst["share"] <= 1, source
        ),
        row(
            "recess STL files accepted by three readers",
            worst["accepted"],
            "files",
            f"all {count}",
            worst["accepted"] == count,
            "trimesh, manifold3d, admesh; solids.py",
        ),
        failures_row("checks failed, recess", checks),
    ]


def failures_row(name, checks):
    """How many of a judge's checks failed; the goal is none."""
    source = checks.failures[0] if checks.failures else f"{checks.passed} checks by {checks.name}.py"
    return row(name, len(checks.failures), "checks", "0", not checks.failures and checks.passed, source)


def chance_rows(folder):
    """The chance of falling short against scipy."""
    import chance
    import judge as common

    worst, peer = chance.judge(folder, common.Checks("chance", quiet=True))
    source = "scipy.stats.norm; chance.py; peer: scipy against erfc of Python's math"
    return [row("chance of falling short, worst error", worst, "1", "<= 1e-12", worst <= chance.BOUND, source, peer)]


def solid_rows(folders):
    """The samples' STL files."""
    import judge as common
    import solids

    checks, files, accepted, shares = common.Checks("solids", quiet=True), 0, 0, []
    for folder in folders:
        found, took, share = solids.judge(folder, checks)
        files, accepted, shares = files + found, accepted + took, [*shares, float("nan") if share is None else share]
    worst = None if any(share != share for share in shares) else max(shares)
    source = "trimesh, manifold3d, admesh; solids.py"
    return [
        row("STL files accepted by three readers", accepted, "files", f"all {files}", 0 < files == accepted, source),
        row(
            "board mesh, worst volume error over its bound",
            worst,
            "1",
            "<= 1",
            worst is not None and worst <= 1,
            "trimesh, against solid.volume; solids.py",
        ),
        failures_row("checks failed, STL", checks),
    ]


def program_rows(folders):
    """The samples' programs."""
    import judge as common
    import programs

    checks, files, accepted, worst, share = common.Checks("programs", quiet=True), 0, 0, 0.0, 0.0
    for folder in folders:
        found, took, off, of_bound = programs.judge(folder, checks)
        files, accepted = files + found, accepted + took
        worst, share = max(worst, off), max(share, of_bound)
    source = "rs274 (linuxcnc-uspace); programs.py"
    known = files > 0 and worst < float("inf")
    return [
        row("programs accepted by rs274", accepted, "programs", f"all {files}", 0 < files == accepted, source),
        row(
            "program extent and depth, worst difference",
            worst if known else None,
            "mm",
            "half the last decimal: 0.00005, under G20 0.000127",
            known and share <= 1,
            source,
        ),
        failures_row("checks failed, programs", checks),
    ]


def drawing_rows(folders):
    """The samples' drawings: the page whose size is most off."""
    import drawings
    import judge as common

    checks, pairs = common.Checks("drawings", quiet=True), []
    for folder in folders:
        seen, page = drawings.judge(folder, checks)
        pairs += [] if seen is None else list(zip(page, seen))
    if not pairs:
        raise RuntimeError(checks.failures[0])
    ours, peer = max(pairs, key=lambda pair: abs(pair[0] - pair[1]))
    source = "rsvg-convert (librsvg2-bin) at ten pixels to the mm; drawings.py; the side that is most off"
    close = abs(ours - peer) <= 1 / drawings.DOTS + 1e-9
    return [
        row("drawing's page, size by librsvg", ours, "mm", "within 0.1 of the peer", close, source, peer),
        failures_row("checks failed, drawings", checks),
    ]


def chain_rows():
    """All rows of the area chain that the outside judges measure."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = measured("recess and chance cases", lambda: write_cases(folder / "cases"))
        rows += measured("recess against OCCT", lambda: recess_rows(folder / "cases"))
        rows += measured("chance against scipy", lambda: chance_rows(folder / "cases"))
        try:
            folders, slowest, seconds = make_samples(folder)
        except Exception as error:  # the row says what went wrong
            return [*rows, not_measured("the samples, as made", f"{type(error).__name__}: {error}")]
        for measure in (solid_rows, program_rows, drawing_rows):
            rows += measured(measure.__name__.replace("_", " "), lambda: measure(folders))
        source = f"quarterturn make samples/{slowest}.toml, the slowest sample; median of {REPEATS}, with its start"
        return [*rows, row("make, largest sample", seconds, "s", "< 1", seconds < 1, source)]


def layup_rows():
    """The search for a lay-up against CP-SAT."""
    import judge as common
    import layups

    with tempfile.TemporaryDirectory() as name:
        start(PROGRAMS / "layup-cases", name)
        checks = common.Checks("layups", quiet=True)
        ratios, ours = layups.judge(Path(name), checks, EVERY_LAYUP)
    middle, most = statistics.median(ratios), max(ours)
    which = f"median of {len(ratios)}: the kept list's " + ("20" if EVERY_LAYUP else f"first {layups.FEW} of 20")
    source = "OR-Tools CP-SAT, one thread, circuit constraint; layups.py; ours: the least of three runs"
    rows = [
        row(f"16 strips, CP-SAT's time over ours, {which}", middle, "times", ">= 50", middle >= 50, source),
        row("16 strips in free order, the slowest of all kept", most, "s", "<= 0.3", most <= 0.3, "layup-cases"),
        failures_row("checks failed, lay-ups", checks),
    ]
    return [{**each, "area": "layup"} for each in rows]


def solid_speed_rows():
    """The rows of the area solid that have peers."""
    import solid_speed

    def in_solid(*figures):
        return {**row(*figures), "area": "solid"}

    with tempfile.TemporaryDirectory(dir=ROOT / "target") as name:
        return solid_speed.rows(start, PROGRAMS / "solid-times", Path(name), in_solid)


def removal_rows():
    """The rows of the area cuts."""
    import removal_speed

    def in_cuts(*figures):
        return {**row(*figures), "area": "cuts"}

    with tempfile.TemporaryDirectory(dir=ROOT / "target") as name:
        return removal_speed.rows(start, PROGRAMS / "removal-times", Path(name), in_cuts)


def photograph_rows():
    """Photographs made flat and corners found, against OpenCV and scikit-image."""
    import judge as common
    import photographs

    checks, program = common.Checks("photographs", quiet=True), PROGRAMS / "photo-cases"
    worst = photographs.judge(program, checks)
    source = "rendered photographs with known corners; photographs.py"

    def picture_row(name, value, unit, goal, holds, source=source, peer=None):
        return row(name, value, unit, goal, holds, source, peer) | {"area": "picture"}

    clean = worst["clean"] or [None, None]
    ours, peer = photographs.speed(program)
    return [
        picture_row(
            "photograph made flat, least PSNR",
            clean[0],
            "dB",
            ">= 30",
            clean[0] is not None and clean[0] >= 30,
            f"{source}; peer: OpenCV's warpPerspective",
            clean[1],
        ),
        picture_row(
            "photograph made flat, least lead over OpenCV",
            worst["lead"],
            "dB",
            ">= -0.1",
            worst["lead"] is not None and worst["lead"] >= -0.1,
            f"{source}; {worst['pictures']} photographs, blurred and noisy ones too",
        ),
        picture_row(
            "corners found, worst", worst["corner"], "pixels", "<= 2", worst["corner"] <= 2, f"{source}, blur and noise"
        ),
        picture_row(
            "12 million pixels made flat, speed over OpenCV's",
            peer / ours,
            "times",
            ">= 0.9",
            peer / ours >= 0.9,
            f"{ours * 1000:.0f} ms and {peer * 1000:.0f} ms, bilinear, one thread, one run; photographs.py",
        ),
        failures_row("checks failed, photographs", checks) | {"area": "picture"},
    ]


def samples_agree_rows():
    """Whether the photographed and the traced sample show the same board."""
    import faces_agree
    import judge as common

    checks = common.Checks("faces_agree", quiet=True)
    with tempfile.TemporaryDirectory() as name:
        folders = [Path(name) / sample for sample in ("photographed-walnut", "traced-walnut")]
        for folder in folders:
            start(PROGRAMS / "quarterturn", "make", ROOT / "samples" / f"{folder.name}.toml", "--out", folder)
        mean, other = faces_agree.judge(*folders, checks)
    source = "worst face of samples/photographed-walnut and traced-walnut; faces_agree.py says why these bounds"
    named = "photographed and traced sample"
    rows = [
        row(f"{named}, mean difference after a blur of 2 mm", mean, "CIEDE2000", "<= 3", mean <= 3, source),
        row(f"{named}, light in one and dark in the other", other, "of the face", "<= 0.01", other <= 0.01, source),
    ]
    return [{**each, "area": "picture"} for each in rows]


def page_rows():
    """What page.mjs measures in Chromium."""
    figures = json.loads(start("node", ROOT / "tests/outside/page.mjs", PROGRAMS / "quarterturn", "--figures"))
    source = "page.mjs: headless Chromium, laptop's window, a board of 16 strips"
    goal = lambda each: f"<= {each['most']:g}"
    return [
        row(each["name"], each["value"], each["unit"], goal(each), each["value"] <= each["most"], source) | {"area": "page"}
        for each in figures
    ]


def remap_row(rows):
    """The photographed face that `measure` drew, against OpenCV's remap of as many pixels on as many threads."""
    import cv2
    import numpy as np

    ours = next(each["value"] for each in rows if each["name"] == "photographed face, 300 dpi")
    across, down = 4800, 3600
    chance = np.random.default_rng(1)
    picture = chance.integers(0, 256, (1200, 1600, 3), dtype=np.uint8)
    x, y = np.meshgrid(np.linspace(3, 1590, across, dtype=np.float32), np.linspace(3, 1190, down, dtype=np.float32))
    x += np.float32(0.3) * np.sin(y / 50)
    cv2.setNumThreads(2)
    times = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        cv2.remap(picture, x, y, cv2.INTER_LINEAR)
        times.append(time.perf_counter() - began)
    ratio = ours / statistics.median(times)
    source = f"{ours * 1000:.0f} ms and {statistics.median(times) * 1000:.0f} ms, two threads, 17.28 million pixels, bilinear"
    return {**row("photographed face, 300 dpi, over OpenCV's remap", ratio, "times", "<= 3", ratio <= 3, source), "area": "picture"}


def rows_of(areas):
    """The rows of these areas, in their order; programs that can't be built measure nothing, old ones least of all."""
    try:
        start("cargo", "build", "--release", "--workspace", "--quiet")
    except Exception as error:  # the rows say what went wrong
        return [not_measured("all figures", f"{type(error).__name__}: {error}", area) for area in areas]
    rows = chain_rows() if "chain" in areas else []
    if "layup" in areas:
        rows += [{**each, "area": "layup"} for each in measured("lay-ups against CP-SAT", layup_rows)]
    if "solid" in areas:
        try:
            rows += solid_speed_rows()
        except Exception as error:  # the row says what went wrong
            rows.append(not_measured("the solid beside its peers", f"{type(error).__name__}: {error}", "solid"))
    if "cuts" in areas:
        rows += measured_in("cuts", "moving a bit beside numpy", removal_rows)
    if "page" in areas:
        rows += measured_in("page", "the page in Chromium", page_rows)
    if "picture" in areas:
        rows += measured_in("picture", "photographs against OpenCV", photograph_rows)
        rows += measured_in("picture", "photographed and traced sample", samples_agree_rows)
    for area in areas:
        try:
            own = from_measure(area)
            rows += own
            if area == "picture":
                rows += measured_in("picture", "OpenCV's remap", lambda: [remap_row(own)])
        except Exception as error:  # the row says what went wrong
            rows.append(not_measured("what measure has", f"{type(error).__name__}: {error}", area))
    return sorted(rows, key=lambda each: AREAS.index(each["area"]))


def shown(value):
    """A cell of the table."""
    if value is None:
        return "-"
    if isinstance(value, bool):
        return "yes" if value else "NO"
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def print_table(rows):
    """The aligned table."""
    lines = [KEYS] + [[shown(each[key]) for key in KEYS] for each in rows]
    widths = [max(len(line[column]) for line in lines) for column in range(len(KEYS))]
    for line in lines:
        print("  ".join(cell.ljust(width) for cell, width in zip(line, widths)).rstrip())


def finite(value):
    """JSON has no infinity: such a value is as good as none."""
    return None if isinstance(value, float) and not abs(value) < float("inf") else value


def main(arguments):
    """Reads the command line and prints; returns the exit status."""
    options = {argument for argument in arguments if argument.startswith("-")}
    areas = [argument for argument in arguments if not argument.startswith("-")]
    if options - {"--json", "--strict"} or len(areas) > 1 or set(areas) - set(AREAS):
        print(f"usage: bash tests/figures [{'|'.join(AREAS)}] [--json] [--strict]", file=sys.stderr)
        return 2
    rows = [{key: finite(value) for key, value in each.items()} for each in rows_of(areas or AREAS)]
    if "--json" in options:
        print(json.dumps(rows, indent=1, ensure_ascii=False, allow_nan=False))
    else:
        print_table(rows)
    failed = not rows or any(not each["holds"] for each in rows)
    return 1 if failed and "--strict" in options else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
