"""OR-Tools' CP-SAT, with its circuit constraint, judges the search for a lay-up.

FOLDER/layups.json holds cases: what every strip, turned each of four ways, costs left of every other, what was asked,
and the lay-up that was found. Each lay-up is added up again; the optimum of each case that CP-SAT solves, on one
thread, must be the same; where it isn't done in its time, ours must lie between its bound and its best. Beyond 16
strips in free order ours isn't proven: its own bound must not lie above CP-SAT's best, nor its lay-up below CP-SAT's
bound. Planted cases
have a lay-up that costs nothing; long ones are solved by a dynamic programme in numpy.

Of the kept list's 20 instances of 16 strips in free order CP-SAT solves the first FEW; with --all, every one.

Usage: layups.py [--all] FOLDER...
"""

import json
import math
import statistics
import sys
import time
from pathlib import Path

import numpy as np
from ortools.sat.python import cp_model

import judge as common

FEW = 4
LIMIT = 240.0  # s, for one case
LIMIT_BEYOND = 20.0  # s, for one that ours doesn't prove either: CP-SAT's bound and best are enough


def added_up(case):
    """What the lay-up costs by the case's own table; None where it isn't a lay-up of what was asked."""
    laid = case["ours"]["laid"]
    strips = [strip for strip, _ in laid]
    ordered = case["free"] or strips == sorted(strips)
    if len(laid) != case["count"] or len(set(strips)) != len(strips) or not ordered:
        return None
    if "joints" in case:
        return sum(case["joints"][k][a][b] for (k, a), (_, b) in zip(laid, laid[1:]))
    return sum(case["costs"][4 * k + a][4 * l + b] for (k, a), (l, b) in zip(laid, laid[1:]))


def by_programme(joints):
    """The least cost of turning strips in a fixed order, and how many ways cost it."""
    least, ways = np.zeros(4, dtype=np.int64), [1, 1, 1, 1]
    for joint in joints:
        sums = least[:, None] + np.array(joint, dtype=np.int64)
        least = sums.min(axis=0)
        ways = [sum(ways[a] for a in range(4) if sums[a, b] == least[b]) for b in range(4)]
    best = least.min()
    return int(best), sum(ways[b] for b in range(4) if least[b] == best)


def model_of(case):
    """A circuit through a depot and, of each strip laid, one of four nodes; the others stand aside in loops."""
    model, strips = cp_model.CpModel(), case["strips"]
    lies = [[model.new_bool_var("") for _ in range(4)] for _ in range(strips)]
    arcs, terms = [], []
    for strip, turns in enumerate(lies):
        if case["count"] == strips:
            model.add_exactly_one(turns)
        else:
            model.add_at_most_one(turns)
        for turn, here in enumerate(turns):
            node = 1 + 4 * strip + turn
            arcs += [(node, node, ~here), (0, node, model.new_bool_var("")), (node, 0, model.new_bool_var(""))]
    if case["count"] < strips:
        model.add(sum(here for turns in lies for here in turns) == case["count"])
    for left, row in enumerate(case["costs"]):
        for right, cost in enumerate(row):
            if left // 4 == right // 4 or (not case["free"] and left // 4 > right // 4):
                continue
            if not case["free"] and case["count"] == strips and right // 4 != left // 4 + 1:
                continue
            beside = model.new_bool_var("")
            arcs.append((1 + left, 1 + right, beside))
            terms.append(cost * beside)
    model.add_circuit(arcs)
    model.minimize(sum(terms))
    return model


def by_cp_sat(case):
    """CP-SAT's (proven least cost or None, its bound, its best or None, seconds)."""
    model, solver = model_of(case), cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = LIMIT if case["strips"] <= 16 else LIMIT_BEYOND
    began = time.perf_counter()
    status = solver.solve(model)
    seconds = time.perf_counter() - began
    best = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return best if status == cp_model.OPTIMAL else None, math.ceil(solver.best_objective_bound - 1e-6), best, seconds


def is_slow(case):
    """Whether CP-SAT takes long over it."""
    return case["free"] and case["strips"] == 16


def judge(folder, checks, everything=False):
    """layups.json of a folder; returns how many times as long CP-SAT took at 16 strips in free order, and our times."""
    cases = json.loads((folder / "layups.json").read_text(encoding="utf-8"))
    ratios, ours, slow = [], [], 0
    for case in cases:
        name = f"{case['name']}, {case['count']} of {case['strips']} strips, {'free' if case['free'] else 'fixed'}"
        found = case["ours"]
        checks.that(added_up(case) == found["cost"], f"{name}: adds up to {added_up(case)}, not {found['cost']}")
        checks.that(found["proven"] or found["bound"] <= found["cost"], f"{name}: bound above the lay-up found")
        if case["zero"]:
            checks.that(found["cost"] == 0 == found["bound"], f"{name}: costs {found['cost']}, bound {found['bound']}")
        if "joints" in case:
            wanted = by_programme(case["joints"])
            checks.that((found["cost"], found["equally_good"]) == wanted, f"{name}: {found['cost']}, not {wanted}")
            continue
        if case["strips"] <= 16:
            checks.that(found["proven"], f"{name}: not proven")
        if case["strips"] == 16 and case["free"]:
            ours.append(found["seconds"])
        if case["zero"] or (is_slow(case) and case["name"].startswith("kept") and (slow := slow + 1) > FEW and not everything):
            continue
        optimum, bound, best, seconds = by_cp_sat(case)
        if case["strips"] > 16:
            print(f"{name}: {found['bound']} to {found['cost']}; CP-SAT in {seconds:.0f} s says {bound} to {best}", file=sys.stderr)
            checks.that(bound <= found["cost"], f"{name}: {found['cost']}, CP-SAT's bound is {bound}")
            checks.that(best is None or found["bound"] <= best, f"{name}: bound {found['bound']}, CP-SAT finds {best}")
            continue
        if optimum is None:
            # Not proven by CP-SAT in its time: it must not contradict ours, from below nor from above.
            print(f"{name}: {found['cost']}; CP-SAT, not done in {LIMIT:.0f} s, says {bound} to {best}", file=sys.stderr)
            checks.that(bound <= found["cost"], f"{name}: {found['cost']}, CP-SAT's bound is {bound}")
            checks.that(best is None or found["cost"] <= best, f"{name}: {found['cost']}, CP-SAT finds {best}")
        else:
            checks.that(optimum == found["cost"], f"{name}: {found['cost']}, CP-SAT finds {optimum}")
        if is_slow(case):
            ratios.append(seconds / found["seconds"])
    return ratios, ours


def main():
    """Runs the judge on the folders of the command line."""
    checks, folders = common.Checks("layups"), [a for a in sys.argv[1:] if a != "--all"]
    for folder in folders:
        ratios, _ = judge(Path(folder), checks, "--all" in sys.argv)
        if ratios:
            middle = statistics.median(ratios)
            print(f"16 strips in free order: CP-SAT takes {middle:.0f} times as long, median of {len(ratios)}")
    print(checks.summary())
    sys.exit(1 if checks.failures else 0)


if __name__ == "__main__":
    main()
