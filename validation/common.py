# SPDX-License-Identifier: BSD-3-Clause
"""What every validation case uses: running the command, limits, rows. Python 3.11, standard library only."""

import bisect
import csv
import importlib.util
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


def find_package(command):
    """The Python package of the same version as the command, or None. A case sends film along paths through it that
    the command's film test does not have."""
    try:
        import hoopfield
    except ImportError:
        return None
    return hoopfield if run_command(command, "--version").split()[-1] == hoopfield.__version__ else None


def predict_text(command, scenario_text, films=(), *options):
    """Predicts a scenario given as text, with options of the command; film files named in `films` are put beside it.
    Returns the JSON object."""
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        for film in films:
            (folder / pathlib.Path(film).name).write_bytes(pathlib.Path(film).read_bytes())
        (folder / "scenario.toml").write_text(scenario_text, encoding="utf-8")
        return run_json(command, "predict", folder / "scenario.toml", *options)


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


def prony_moduli(points, times):
    """Fits E(t) = E_inf + sum_k E_k exp(-t/tau_k) to points (t, E) by non-negative least squares on relative residuals.

    times: the tau_k, fixed. Cyclic coordinate descent on the normal equations. Returns [E_inf, E_1, ...].
    """
    columns = [[1.0 / e for _, e in points]] + [[math.exp(-t / tau) / e for t, e in points] for tau in times]
    normal = [[math.fsum(a * b for a, b in zip(row, column)) for column in columns] for row in columns]
    rest = [math.fsum(column) for column in columns]  # right-hand side less normal matrix times moduli
    moduli = [0.0] * len(columns)
    for _ in range(100000):
        largest = 0.0
        for k, row in enumerate(normal):
            step = max(rest[k] / row[k], -moduli[k])
            moduli[k] += step
            rest = [r - step * a for r, a in zip(rest, row)]
            largest = max(largest, abs(step))
        if largest < 1e-9:
            break
    return moduli


def prony_film_text(name, density, moduli, times, note, fitted_to):
    """Film file of the law "maxwell" for such a set (MPa, s); the network carries E_inf.

    At small strain the tensile modulus of the network is 3 G, so G = E_inf/3.
    """
    lines = [
        f"# {note}",
        f'name = "{name}"',
        'law = "maxwell"',
        f'density = "{density:g} kg/m^3"   # assumed; plays no part here',
        "neck_in = 0.5",
        'reference_temperature = "23 degC"   # not stated in the source; plays no part here',
        "[network]",
        f'modulus = "{moduli[0] / 3.0:.6g} MPa"',
        "stretch_limit = 1000.0",
    ]
    for tau, modulus in zip(times, moduli[1:]):
        lines += ["[[branch]]", f'modulus = "{modulus:.6g} MPa"', f'relaxation_time = "{tau:.6g} s"']
    lines += [
        "[provenance]",
        'source = "Prony fit to published relaxation data, see card.md"',
        "illustrative = false",
        f'fitted_to = "{fitted_to}"',
    ]
    return "\n".join(lines) + "\n"


def script(path):
    """A script beside a case, as a module."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def read_columns(path):
    """Columns of a CSV file as lists of floats; lines that start with # are comments."""
    with open(path, encoding="utf-8", newline="") as handle:
        rows = list(csv.reader(line for line in handle if not line.startswith("#")))
    header, body = rows[0], rows[1:]
    return {name: [float(row[i]) for row in body] for i, name in enumerate(header)}


def interpolated(x, y, at):
    """Straight lines through points with rising x, the first and last line going on."""
    i = min(max(bisect.bisect_left(x, at), 1), len(x) - 1)
    return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1])


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
        """Compares two numbers under limit `key`: `absolute`, `relative`, `at_most`, `at_least` or `between`."""
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
        elif "between" in entry:
            low, high = entry["between"]
            error, text, met = None, f"{low:g} to {high:g} {unit}".rstrip(), low <= ours <= high
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
