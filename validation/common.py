# SPDX-License-Identifier: BSD-3-Clause
"""What every validation case uses: running the command, limits, rows. Python 3.11, standard library only."""

import csv
import json
import math
import pathlib
import subprocess
import tempfile
import tomllib
from dataclasses import dataclass

ROOT = pathlib.Path(__file__).resolve().parent
FILMS = ROOT.parent / "models" / "parameters" / "films"

MET, MISSED, KNOWN_MISS, NOT_COMPARABLE, INFORMATION = "met", "MISSED", "missed, known", "not comparable", "no limit"


class NotComparable(Exception):
    """Raised by a case when the comparison cannot be made; the text says why. Never counts as passed."""


class CommandFailed(Exception):
    """The command ended with an error where the case needs an answer."""


@dataclass
class Row:
    """One compared quantity; `error` in the sense of its limit: absolute, relative, or None for a condition."""

    quantity: str
    reference: object
    ours: object
    unit: str
    error: float | None
    limit: str
    verdict: str
    note: str = ""
    bound: float = 0.0  # the limit as a number, in the sense of `error`


def finished(command, *arguments):
    """Runs the command to its end, whatever the exit code."""
    words = [str(command), *map(str, arguments)]
    return subprocess.run(words, capture_output=True, text=True, timeout=600, check=False)


def run_command(command, *arguments):
    """Runs the command and returns its standard output; CommandFailed on any exit but 0."""
    done = finished(command, *arguments)
    if done.returncode != 0:
        raise CommandFailed(f"{' '.join(map(str, arguments))}: exit {done.returncode}: {done.stderr.strip()[:400]}")
    return done.stdout


def run_json(command, *arguments):
    return json.loads(run_command(command, *arguments, "--json"))


def predict_text(command, scenario_text, films=()):
    """Predicts a scenario given as text; film files named in `films` are put beside it. Returns the JSON object."""
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        for film in films:
            (folder / pathlib.Path(film).name).write_bytes(pathlib.Path(film).read_bytes())
        (folder / "scenario.toml").write_text(scenario_text, encoding="utf-8")
        return run_json(command, "predict", folder / "scenario.toml")


def film_test(command, film, kind, **options):
    """Virtual film test, options as on the command line, e.g. stretch="250 %". Returns the JSON object."""
    flags = [part for name, value in options.items() for part in ("--" + name.replace("_", "-"), value)]
    return run_json(command, "film", "test", film, "--kind", kind, *flags)


def relaxation_modulus(command, film):
    """Function of time (s): modulus at 0.1 % stretch, true stress over log strain, MPa. A run per time."""

    def at(time):
        curve = film_test(command, film, "relaxation", stretch="0.1 %", rate="10000 1/s", hold=f"{time:.9g} s")["curve"]
        stretch = 1.0 + 0.01 * curve["stretch_percent"][-1]
        return curve["stress_MPa"][-1] * stretch / math.log(stretch)

    return at


def read_columns(path):
    """Columns of a CSV file as lists of floats; lines that start with # are comments."""
    with open(path, encoding="utf-8", newline="") as handle:
        rows = list(csv.reader(line for line in handle if not line.startswith("#")))
    header, body = rows[0], rows[1:]
    return {name: [float(row[i]) for row in body] for i, name in enumerate(header)}


def slope(x, y):
    """Least-squares slope of y against x."""
    mean_x, mean_y = sum(x) / len(x), sum(y) / len(y)
    return sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y)) / sum((a - mean_x) ** 2 for a in x)


def root_mean_square(values):
    return math.sqrt(sum(v * v for v in values) / len(values))


class Limits:
    """The limits of one case, from its limits.toml: every row names its key, every key must be used."""

    def __init__(self, folder):
        with open(folder / "limits.toml", "rb") as handle:
            self.table = tomllib.load(handle)["limit"]
        self.unused = set(self.table)

    def row(self, key, quantity, reference, ours, unit, note=""):
        """Compares two numbers under limit `key`: `absolute`, `relative`, `at_most` or `at_least`."""
        entry = self._take(key)
        bound = 0.0
        if "absolute" in entry:
            error, bound = ours - reference, entry["absolute"]
            text = f"±{bound:g} {'points' if unit == '%' else unit}".rstrip()
            met = abs(error) <= bound
        elif "relative" in entry:
            error, bound = ours / reference - 1.0, entry["relative"]
            text, met = f"±{100 * bound:g} %", abs(error) <= bound
        elif "at_most" in entry:
            error, text = None, f"≤ {entry['at_most']:g} {unit}".rstrip()
            met = ours <= entry["at_most"]
        else:
            error, text = None, f"≥ {entry['at_least']:g} {unit}".rstrip()
            met = ours >= entry["at_least"]
        return Row(quantity, reference, ours, unit, error, text, *self._verdict(entry, met, note), bound)

    def condition(self, key, quantity, reference, ours, met, note=""):
        """A plain yes-or-no condition, such as an order of two numbers."""
        entry = self._take(key)
        return Row(quantity, reference, ours, "", None, entry["condition"], *self._verdict(entry, met, note))

    def not_comparable(self, keys, quantity, reason):
        """A comparison that cannot be made now; its limits stay on file."""
        self.unused.difference_update(keys)
        return not_comparable(quantity, reason)

    def _take(self, key):
        self.unused.discard(key)
        return self.table[key]

    @staticmethod
    def _verdict(entry, met, note):
        """Verdict and note. A declared miss must still be a miss: an unexpected agreement is reported, not hidden."""
        if "known_miss" not in entry:
            return (MET if met else MISSED), note
        if met:
            return MISSED, "declared as a known miss but met: update limits.toml and the card"
        return KNOWN_MISS, note or entry["known_miss"]


def information(quantity, reference, ours, unit, note=""):
    """A printed number without a limit; counted neither as met nor as missed."""
    return Row(quantity, reference, ours, unit, None, "none", INFORMATION, note)


def not_comparable(quantity, reason):
    return Row(quantity, None, None, "", None, "", NOT_COMPARABLE, reason)
