# SPDX-License-Identifier: BSD-3-Clause
"""How much faster one build of hoopfield is than another, stage by stage.

    python tests/bench/compare_builds.py BEFORE_BUILD AFTER_BUILD [--rounds N] [--filter REGEX]

Both builds need the benchmarks (`-DHOOPFIELD_BUILD_BENCH=ON`). Their `bench_stages` run in turns, so that whatever
else the machine does falls on both. Printed as JSON: for every stage that both have the ratio of the least times,
before over after, with compiler, version and instruction set of each. Times
themselves are left out: they belong to one machine.
"""

from __future__ import annotations

import argparse
import json
import subprocess
from pathlib import Path


def run(build: Path, only: str) -> tuple[dict[str, str], dict[str, float]]:
    program = build / "tests/bench/bench_stages"
    done = subprocess.run(
        [str(program), "--benchmark_format=json", f"--benchmark_filter={only}", "--benchmark_min_time=0.2"],
        check=True,
        capture_output=True,
        text=True,
    )
    record = json.loads(done.stdout)
    context = {key: record["context"][key] for key in ("hoopfield_version", "compiler", "simd")}
    return context, {one["name"]: one["cpu_time"] for one in record["benchmarks"]}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("before", type=Path)
    parser.add_argument("after", type=Path)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--filter", default=".", help="stages, a regular expression")
    options = parser.parse_args()
    contexts: list[dict[str, str]] = [{}, {}]
    least: list[dict[str, float]] = [{}, {}]
    for _ in range(options.rounds):
        for side, build in enumerate((options.before, options.after)):
            contexts[side], times = run(build, options.filter)
            for name, time in times.items():
                least[side][name] = min(time, least[side].get(name, time))
    ratios = {name: round(time / least[1][name], 2) for name, time in least[0].items() if name in least[1]}
    print(json.dumps({"before": contexts[0], "after": contexts[1], "before_over_after": ratios}, indent=2))


if __name__ == "__main__":
    main()
