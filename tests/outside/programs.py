"""LinuxCNC's stand-alone interpreter (`rs274`, Debian's linuxcnc-uspace) judges every program.

It must accept the program as it stands, stopping at the first error. Its canonical lines come out in the program's own
unit but with four decimals only, too few for five in inches. So positions are read from a second run of the same
program with a `(debug,...)` comment behind each line, which prints where the interpreter stands (parameters 5420 to
5422, program units) with nine decimals; both runs must make the same moves.

- Extent in X and Y and depth of all feed moves: as the report says, within half of the last printed decimal (0.0001 mm
  or 0.00001 in = 0.000254 mm), plus 1e-6 mm for the nine decimals and f64 sums.
- Rapids run at or above the report's safe height, or straight up. The program ends at or above it.
- Feed moves only with the spindle on (clockwise), at a speed and a feed above 0. Straight moves, and arcs about Z whose
  middle is where I and J say from where the interpreter stands; an arc's bulge counts in the extent, within three
  roundings (start, I or J, end).
- Lines of 70 characters at most; words only from G0 G1 G2 G3 G17 G20 G21 G90 G94 M2 M3 M5 F I J S X Y Z N; one of G20 and G21,
  once, before any axis word; no more decimals than four in millimetres, five in inches; M2 at the end.

Usage: programs.py FOLDER...
"""

import math
import re
import tempfile
from pathlib import Path

import judge as common

WORD = re.compile(r"([A-Z])\s*([+-]?(?:\d+\.?\d*|\.\d+))\s*")
CODES = {"G0", "G1", "G2", "G3", "G17", "G20", "G21", "G90", "G94", "M2", "M3", "M5"}
OTHER = set("FIJSXYZN")
LONGEST = 70
MILLIMETRES = {"G20": 25.4, "G21": 1.0}
DECIMALS = {"G20": 5, "G21": 4}
CANON = re.compile(r"^\s*\d+\s+N\S*\s+(\w+)\((.*)\)\s*$")
WHERE = "(debug,at %.9f#5420 %.9f#5421 %.9f#5422)"
SLACK = 1e-6


def words_of(line):
    """The words of a line without its comments, or None where something else stands in it."""
    bare = re.sub(r"\([^()]*\)", "", line).strip()
    words, place = [], 0
    while place < len(bare):
        found = WORD.match(bare, place)
        if not found:
            return None
        words.append((found[1], found[2]))
        place = found.end()
    return words


def code(letter, number):
    """G01 and G1 alike as G1."""
    return letter + (str(int(number)) if number.isdigit() else number)


def judge_text(text, name, checks):
    """The words themselves; returns the program's unit (G20 or G21) or None."""
    lines = text.splitlines()
    longest = max(map(len, lines), default=0)
    checks.that(longest <= LONGEST, f"{name}: a line of {longest} characters")
    checks.that(text.isascii(), f"{name}: characters outside ASCII")
    units, decimals, moved_before = [], 0, False
    strange, last = [], None
    for line in lines:
        words = words_of(line)
        if words is None:
            strange.append(line)
            continue
        for letter, number in words:
            if letter in "GM":
                last = code(letter, number)
                strange += [] if last in CODES else [last]
                units += [last] if last in MILLIMETRES else []
            elif letter not in OTHER:
                strange.append(letter + number)
            if letter in "XYZ":
                moved_before |= not units
                decimals = max(decimals, len(number.partition(".")[2]))
    checks.that(not strange, f"{name}: stands in it but may not: {strange[:3]}")
    checks.that(len(units) == 1 and not moved_before, f"{name}: units {units}, wanted one, before any axis word")
    checks.that(last == "M2", f"{name}: the last code is {last}, not M2")
    if len(units) != 1:
        return None
    checks.that(decimals <= DECIMALS[units[0]], f"{name}: {decimals} decimals under {units[0]}")
    return units[0]


def interpret(path):
    """Runs rs274 on a file: (accepted, its canonical calls as (name, arguments), what it complained of)."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder) / "tool.tbl"
        table.write_text("T1 P1 D0.75 ;a bit, in inches\n")
        # It keeps its tools in a file at home and empties it when it starts: each run gets a home of its own.
        status, out, err = common.run("rs274", "-g", "-n", "2", "-t", table, path, home=folder)
    calls = [(found[1], found[2]) for line in out.splitlines() if (found := CANON.match(line))]
    complaint = " ".join(err.replace("executing", "").split())
    accepted = status == 0 and not complaint and ("PROGRAM_END", "") in calls
    return accepted, calls, complaint


def positions(text):
    """The program with a line behind each of its lines that prints where the interpreter stands."""
    return "".join(f"{line}\n{WHERE}\n" for line in text.splitlines())


def arcs_of(text):
    """Whether it turns clockwise, and I and J, of every arc of a program in its order."""
    for line in text.splitlines():
        words = dict(words_of(line) or [])
        if words.get("G") in ("2", "3", "02", "03"):
            yield words["G"].endswith("2"), float(words.get("I", 0)), float(words.get("J", 0))


def moves_of(calls, text):
    """Follows the canonical calls of the second run: one dict per move, in program units."""
    arcs = arcs_of(text)
    state = {"spindle": False, "speed": 0.0, "feed": 0.0}
    here, moves = (0.0, 0.0, 0.0), []
    for name, arguments in calls:
        if name == "SET_SPINDLE_SPEED":
            state["speed"] = float(arguments.split(",")[1])
        elif name == "SET_FEED_RATE":
            state["feed"] = float(arguments)
        elif name == "START_SPINDLE_CLOCKWISE":
            state["spindle"] = True
        elif name == "STOP_SPINDLE_TURNING":
            state["spindle"] = False
        elif name in ("STRAIGHT_TRAVERSE", "STRAIGHT_FEED", "ARC_FEED"):
            arc = next(arcs) if name == "ARC_FEED" else None
            moves.append({"rapid": name == "STRAIGHT_TRAVERSE", "start": here, "end": None, "arc": arc, **state})
        elif name == "MESSAGE" and arguments.startswith('"at '):
            here = tuple(float(number) for number in arguments.strip('"').split()[1:])
            for move in moves:
                move["end"] = move["end"] or here
    return moves


def scaled(moves, scale):
    """The same moves in millimetres."""
    for move in moves:
        for end in ("start", "end"):
            move[end] = tuple(scale * number for number in move[end])
        if move["arc"]:
            clockwise, i, j = move["arc"]
            move["arc"] = (clockwise, scale * i, scale * j)
    return moves


def judge_moves(moves, safe, bound, name, checks):
    """Rapids at or above the safe height or straight up, feeds with the spindle on, the end at the safe height."""
    low, still = [], []
    for move in moves:
        (x0, y0, z0), (x1, y1, z1) = move["start"], move["end"]
        if move["rapid"]:
            straight_up = (x0, y0) == (x1, y1) and z1 > z0
            low += [] if min(z0, z1) >= safe - bound or straight_up else [move]
        else:
            turning = move["spindle"] and move["speed"] > 0 and move["feed"] > 0
            still += [] if turning else [move]
    checks.that(not low, f"{name}: rapid below the safe height: {low[:1]}")
    checks.that(not still, f"{name}: cuts with the spindle off, or without speed or feed: {still[:1]}")
    checks.that(moves[-1]["end"][2] >= safe - bound, f"{name}: ends at Z {moves[-1]['end'][2]}, below the safe height")


def bulges(move):
    """Where an arc is farthest out along an axis, on its way."""
    (x0, y0, z), (x1, y1, _), (clockwise, i, j) = move["start"], move["end"], move["arc"]
    x, y, radius = x0 + i, y0 + j, math.hypot(i, j)
    begin, end = math.atan2(-j, -i), math.atan2(y1 - y, x1 - x)
    if clockwise:
        begin, end = end, begin
    turn = (end - begin) % (2 * math.pi)
    quarters = [k * math.pi / 2 for k in range(4)]
    there = [angle for angle in quarters if (angle - begin) % (2 * math.pi) <= turn]
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle), z) for angle in there]


def extents(moves):
    """Least and most X and Y of the feed moves, and their depth."""
    points = [point for move in moves if not move["rapid"] for point in (move["start"], move["end"])]
    points += [point for move in moves if move["arc"] for point in bulges(move)]
    xs, ys, zs = zip(*points)
    return {"least x": min(xs), "most x": max(xs), "least y": min(ys), "most y": max(ys), "depth": -min(zs)}


def judge_program(path, numbers, name, checks):
    """One program; `numbers` are the report's figures of it. Returns (accepted, worst difference, bound)."""
    text = path.read_text(encoding="utf-8", errors="replace")
    unit = judge_text(text, name, checks)
    accepted, plain, complaint = interpret(path)
    checks.that(accepted, f"{name}: rs274 refuses it: {complaint or 'it has no program end'}")
    if not (accepted and unit):
        return accepted, None, None
    with tempfile.TemporaryDirectory() as folder:
        followed = Path(folder) / path.name
        followed.write_text(positions(text))
        _, calls, complaint = interpret(followed)
    same = [call for call in calls if call[0] != "MESSAGE"] == [call for call in plain if call[0] != "MESSAGE"]
    checks.that(same and not complaint, f"{name}: rs274 makes other moves when asked where it stands {complaint}")
    kinds = {call for call, _ in plain if call.endswith("_FEED")} - {"STRAIGHT_FEED", "ARC_FEED"}
    checks.that(not kinds, f"{name}: moves other than straight ones and arcs: {kinds}")
    moves = scaled(moves_of(calls, text), MILLIMETRES[unit])
    if not checks.that(any(not move["rapid"] for move in moves), f"{name}: it never cuts"):
        return accepted, None, None
    bound = MILLIMETRES[unit] * 0.5 * 10.0 ** -DECIMALS[unit] + SLACK
    if any(move["arc"] for move in moves):
        bound *= 3
    safe = numbers.get("safe height")
    if checks.that(safe is not None and safe > 0, f"{name}: the report gives no safe height above 0 ({safe})"):
        judge_moves(moves, safe, bound, name, checks)
    worst = 0.0
    for key, found in extents(moves).items():
        checks.within(found, numbers.get(key), bound, f"{name}: {key}")
        worst = max(worst, abs(found - numbers[key])) if key in numbers else float("inf")
    return accepted, worst, bound


def together(all_numbers):
    """The figures of several cuts that one program makes, as one: it reaches from the least of all to the most."""
    choose = {"least x": min, "least y": min, "most x": max, "most y": max, "depth": max, "safe height": min}
    given = {key: [numbers[key] for numbers in all_numbers if key in numbers] for key in choose}
    return {key: choose[key](values) for key, values in given.items() if len(values) == len(all_numbers)}


def judge(folder, checks):
    """Every program of a made folder; returns (programs, accepted, worst difference in mm, worst over its bound)."""
    report = common.Report(folder)
    listed, accepted, worst, share = {}, 0, 0.0, 0.0
    for cut in report.data["cuts"]:
        start = f"{cut['key']}.program."
        numbers = {key[len(start) :]: entry["value"] for key, entry in report.numbers.items() if key.startswith(start)}
        if cut["program"] is None:
            checks.that(not numbers, f"{folder.name}: no program for the {cut['cut']}, but figures of one")
        else:
            listed.setdefault(cut["program"], []).append(numbers)
    for name, cuts in listed.items():
        if checks.that((folder / name).is_file(), f"{folder.name}: no {name}"):
            took, off, bound = judge_program(folder / name, together(cuts), f"{folder.name}/{name}", checks)
            accepted += took
            worst = float("inf") if off is None else max(worst, off)
            share = float("inf") if off is None else max(share, off / bound)
    found = sorted(path.name for path in folder.glob("*.ngc"))
    checks.that(found == sorted(listed), f"{folder.name}: programs {found}, the report lists {sorted(listed)}")
    return len(listed), accepted, worst, share


if __name__ == "__main__":
    common.main("programs", judge)
