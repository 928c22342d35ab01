"""scipy's normal distribution judges the chance of falling short.

sigma^2 = (count set)^2 + repeats repeat^2 + (kerfs kerf_sigma)^2 + q_sigma^2 + length_sigma^2 and
chance = Phi(-slack / sigma), 0 or 1 by the sign of the slack where sigma is 0; to 1e-12 absolute, over the parameters
in FOLDER/chance.json. Where a row has the share of so many seeded runs of the saw, that must lie within four standard
errors of scipy's chance, which leaves one in 16 000 to luck; the seeds are fixed.

Usage: chance.py FOLDER
"""

import json
import math

from scipy.stats import norm

import judge as common

BOUND = 1e-12
LEAST_CASES = 5


def sigma_of(case):
    """The spread of what is left over, in mm."""
    parts = [
        case["count"] * case["set"],
        math.sqrt(case["repeats"]) * case["repeat"],
        case["kerfs"] * case["kerf_sigma"],
        case["q_sigma"],
        case["length_sigma"],
    ]
    return math.hypot(*parts)


def chance_of(case):
    """The chance by scipy."""
    sigma = sigma_of(case)
    if sigma == 0:
        return 1.0 if case["slack"] < 0 else 0.0
    return float(norm.cdf(-case["slack"] / sigma))


def judge(folder, checks):
    """chance.json of a folder; returns (worst difference, scipy's own worst difference from erfc)."""
    cases = json.loads((folder / "chance.json").read_text(encoding="utf-8"))
    checks.that(len(cases) >= LEAST_CASES, f"only {len(cases)} cases, at least {LEAST_CASES} wanted")
    worst, peer = 0.0, 0.0
    for number, case in enumerate(cases, 1):
        wanted = chance_of(case)
        checks.within(case["chance"], wanted, BOUND, f"chance {number}, slack {case['slack']}")
        if "share" in case:
            error = math.sqrt(wanted * (1 - wanted) / case["runs"])
            checks.within(case["share"], wanted, 4 * error, f"share {number} of {case['runs']} runs")
        worst = max(worst, abs(case["chance"] - wanted))
        if sigma := sigma_of(case):
            peer = max(peer, abs(math.erfc(case["slack"] / sigma / math.sqrt(2)) / 2 - wanted))
    return worst, peer


if __name__ == "__main__":
    common.main("chance", judge)
