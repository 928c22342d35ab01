"""What all outside judges share: counting checks, reading the report, starting a program.

A judge is a module with `judge(folder, checks)`, which may return figures, and a `main` that runs it on folders named
on the command line and ends with the line `NAME: P passed, F failed`. A judge that checked nothing has failed.
"""

import json
import os
import subprocess
import sys
from pathlib import Path


class Checks:
    """Counts checks and says each one that fails."""

    def __init__(self, name, quiet=False):
        self.name, self.quiet = name, quiet
        self.passed, self.failures = 0, []

    def that(self, holds, what):
        """Counts one check; `what` says what was found, with its numbers."""
        if holds:
            self.passed += 1
        else:
            self.failures.append(what)
            if not self.quiet:
                print(f"FAILED {self.name}: {what}", flush=True)
        return bool(holds)

    def within(self, found, wanted, bound, what):
        """Counts one comparison of two numbers; a missing number or NaN fails."""
        if found is None or wanted is None:
            return self.that(False, f"{what}: no number to compare ({found} against {wanted})")
        off = abs(found - wanted)
        return self.that(off <= bound, f"{what}: {found!r} against {wanted!r}, off by {off:.3g}, bound {bound:.3g}")

    def add(self, other):
        """Counts what another has counted, and says what it found."""
        self.passed += other.passed
        for what in other.failures:
            self.that(False, what)

    def summary(self):
        """The line that tests/run adds up."""
        if self.passed == 0 and not self.failures:
            self.that(False, "nothing to judge")
        return f"{self.name}: {self.passed} passed, {len(self.failures)} failed"


class Report:
    """The report.json of one made board."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.data = json.loads((self.folder / "report.json").read_text(encoding="utf-8"))
        if self.data["format"] != 1:
            raise ValueError(f"{folder}: report format {self.data['format']}, these judges read 1")
        self.numbers = {}
        for number in self.data["numbers"]:
            if number["key"] in self.numbers:
                raise ValueError(f"{folder}: {number['key']} stands twice in the report")
            self.numbers[number["key"]] = number

    def number(self, key):
        """The value under `key`, or None where the report has none."""
        entry = self.numbers.get(key)
        return None if entry is None else entry["value"]


def run(*command, home=None):
    """Runs a program to its end and returns (exit status, what it printed, what it complained of).

    `home` is where it keeps files of its own, else where it would keep them anyway.
    """
    command = [str(part) for part in command]
    env = os.environ | ({"HOME": str(home)} if home else {})
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", timeout=300, env=env)
    return done.returncode, done.stdout, done.stderr


def main(name, judge):
    """Runs a judge on the folders of the command line."""
    checks = Checks(name)
    for folder in sys.argv[1:]:
        judge(Path(folder), checks)
    print(checks.summary())
    sys.exit(1 if checks.failures else 0)
