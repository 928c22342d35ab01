"""The speed of moving a bit through the wood, beside a numpy height field that does the same moves: kept and frozen.

The peer takes each move as one vectorised distance on its own box of the grid, in f32 heights on the same cells; where
a move goes down evenly the bit is taken to be over each cell where it comes nearest. `removal-times` says ours.
"""

import json
import math
import time
from pathlib import Path

import numpy as np

import programs
import removal


def moves_of(path):
    """The moves of a program of ours, read word by word: straight ones and arcs, millimetres."""
    here, moves = [0.0, 0.0, 0.0], []
    for line in path.read_text(encoding="ascii").splitlines():
        words = dict(programs.words_of(line) or [])
        code = words.get("G")
        if code not in ("0", "1", "2", "3") or not set("XYZ") & set(words):
            continue
        end = [float(words.get(axis, here[k])) for k, axis in enumerate("XYZ")]
        arc = (code == "2", float(words["I"]), float(words["J"])) if code in "23" else None
        moves.append({"rapid": code == "0", "start": tuple(here), "end": tuple(end), "arc": arc})
        here = end
    return moves


def field(moves, bit, stock, cell):
    """Heights over the middles of all cells when the bit has made its moves."""
    radius, corner = bit
    xs, ys = ((np.arange(math.ceil(long / cell)) + 0.5) * cell for long in stock[:2])
    z = np.zeros((len(ys), len(xs)), dtype=np.float32)
    for move in moves:
        (x0, y0, z0), (x1, y1, z1) = move["start"], move["end"]
        if min(z0, z1) >= 0.0:
            continue
        corners = [(x0, y0), (x1, y1)] + ([b[:2] for b in programs.bulges(move)] if move["arc"] else [])
        low, high = np.min(corners, axis=0) - radius, np.max(corners, axis=0) + radius
        columns = slice(*np.searchsorted(xs, (low[0], high[0])))
        rows = slice(*np.searchsorted(ys, (low[1], high[1])))
        here = z[rows, columns]
        p = np.stack(np.meshgrid(xs[columns], ys[rows]), axis=-1).reshape(-1, 2)
        if move["arc"]:
            clockwise, i, j = move["arc"]
            begin, end = math.atan2(-j, -i), math.atan2(y1 - y0 - j, x1 - x0 - i)
            turn = -((begin - end) % (2 * math.pi)) if clockwise else (end - begin) % (2 * math.pi)
            rho, share = removal.to_arc(p, (x0 + i, y0 + j), math.hypot(i, j), begin, turn)
        else:
            rho, share = removal.to_line(p, (x0, y0), (x1, y1))
        deep = z0 + (z1 - z0) * share + removal.underside(rho, radius, corner)
        np.minimum(here, deep.reshape(here.shape).astype(np.float32), out=here)
    return z


def rows(start, program, folder, row):
    """The rows of the area cuts."""
    ours = json.loads(start(program, folder))
    moves, bit = moves_of(Path(folder) / "groove.ngc"), (ours["radius"], ours["corner"])
    times = []
    for _ in range(3):
        began = time.perf_counter()
        heights = field(moves, bit, ours["stock"], ours["cell"])
        times.append(time.perf_counter() - began)
    peer = sorted(times)[1]
    taken = -float(heights.sum(dtype=np.float64)) * ours["cell"] ** 2
    off = abs(taken - ours["removed"]) / taken
    ratio, scaling, held = peer / ours["one"], ours["one"] / ours["two"], ours["held"]
    what = f"a groove in 450 x 300 mm, {len(moves)} moves, cells of {ours['cell']} mm"
    both = f"both faces, a groove and the outline of 450 x 300 mm, {ours['programs']} programs, cells of {ours['cell']} mm"
    numpy = f"{what}: {ours['one']:.3f} s on one thread and {peer:.2f} s, numpy doing the same moves"
    return [
        row("moving a bit, one thread", ratio, "times numpy", ">= 20", ratio >= 20, numpy, "numpy"),
        row("moving a bit, two threads over one", scaling, "times", ">= 1.6", scaling >= 1.6, what),
        row("what both take, apart", off, "share", "<= 1e-4", off <= 1e-4, "volumes on the same cells", "numpy"),
        row("surfacing, groove and outline, made and written", ours["make all"], "s", "< 0.05", ours["make all"] < 0.05, both),
        row("surfacing, groove and outline, proved", ours["prove all"], "s", "< 2", ours["prove all"] < 2, f"{both}, two threads"),
        row("a program, made and written", ours["make"], "s", "< 0.05", ours["make"] < 0.05, what),
        row("a program, proved", ours["prove"], "s", "< 2", ours["prove"] < 2, f"{what}, two threads"),
        row(
            "memory of the proof",
            None if held is None else held / 2**20,
            "MiB",
            "< 200",
            held is not None and held < 200 * 2**20,
            f"{what}: the most that the process held",
        ),
    ]
