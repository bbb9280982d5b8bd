# SPDX-License-Identifier: BSD-3-Clause
"""Peak memory of `hoopfield sweep` over the number of cases, and what that makes of a million.

    python tests/bench/sweep_memory.py COMMAND [--cases 12500 25000 50000] [--jobs N] [--extrapolate N] [--failing]

COMMAND is the built hoopfield. Every number of cases is a process of its own, whose greatest resident size the
system tells at its end. The cases vary three inputs of the first example with one slice and a minute of storage, so
that a case is cheap; with --failing the load is out of reach and each case fails at once, with a message, which
takes more memory than a number. The line through the measured points gives bytes a case and, at --extrapolate
cases, the memory.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

EXAMPLE = Path(__file__).resolve().parents[2] / "examples/01_first_prediction/scenario.toml"
CHEAP = """
scenario = "{scenario}"
sampling = "latin-hypercube"
samples = {cases}
[vary]
"numerics.slices" = [1]
"delivery.tension.force" = {{ from = "50 N", to = "90 N" }}
"delivery.prestretch" = {{ from = "200 %", to = "250 %" }}
"load.length" = {{ from = "{low}", to = "{high}" }}
"storage.duration" = ["60 s"]
"storage.temperature" = ["23 degC"]
"""


def peak(command: str, cases: int, jobs: int, failing: bool) -> float:
    """Greatest resident size, bytes."""
    with tempfile.TemporaryDirectory() as folder:
        low, high = ("8 m", "9 m") if failing else ("1.1 m", "1.2 m")
        text = CHEAP.format(scenario=EXAMPLE, cases=cases, low=low, high=high)
        Path(folder, "sweep.toml").write_text(text, encoding="utf-8")
        line = [command, "sweep", "sweep.toml", "-o", "sweep.h5", "--jobs", str(jobs)]
        with open(os.devnull, "w", encoding="utf-8") as nothing:
            process = subprocess.Popen(line, cwd=folder, stdout=nothing)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode != 0:
            raise SystemExit(f"{' '.join(line)} ended with {process.returncode}")
    return used.ru_maxrss * 1024.0  # the system counts in kB


def line_through(points: list[tuple[int, float]]) -> tuple[float, float]:
    """Least squares: bytes without cases, bytes a case."""
    n = len(points)
    mean_x, mean_y = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    slope = sum((x - mean_x) * (y - mean_y) for x, y in points) / sum((x - mean_x) ** 2 for x, _ in points)
    return mean_y - slope * mean_x, slope


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("command")
    parser.add_argument("--cases", type=int, nargs="+", default=[12_500, 25_000, 50_000])
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--extrapolate", type=int, default=1_000_000)
    parser.add_argument("--failing", action="store_true")
    given = parser.parse_args()
    if len(set(given.cases)) < 2:
        parser.error("--cases: expected two different numbers or more")
    points = []
    for cases in given.cases:
        points.append((cases, peak(given.command, cases, given.jobs, given.failing)))
        print(f"{cases:>10} cases: {points[-1][1] / 1e6:7.1f} MB", flush=True)
    base, slope = line_through(points)
    whole = base + slope * given.extrapolate
    print(f"{base / 1e6:.1f} MB and {slope:.0f} bytes a case: {given.extrapolate} cases take {whole / 1e6:.0f} MB")
    sys.exit(0 if whole < 300e6 else 1)


if __name__ == "__main__":
    main()
