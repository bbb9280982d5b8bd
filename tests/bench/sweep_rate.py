# SPDX-License-Identifier: BSD-3-Clause
"""Rate, two-core efficiency and memory of sweeps from Python, measured in one run.

    python tests/bench/sweep_rate.py [--cases N] [--memory-cases N] [--repeats N]

Needs the Python package, installed. Every repeat runs the same sweep of the first example on one thread and on all; the
efficiency is the ratio of the rates over the number of threads, its median and spread printed. Memory is the greatest
resident size of a process of its own that sweeps to a file, less that of the same process before the sweep.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import resource
import statistics
import tempfile
import time
from pathlib import Path

EXAMPLE = Path(__file__).parents[2] / "examples/01_first_prediction/scenario.toml"
VARY = {
    "delivery.tension.force": {"from": "50 N", "to": "90 N"},
    "load.stiffness_along_length": {"from": "100 kPa", "to": "300 kPa"},
    "load.creep_per_decade": {"from": 0.02, "to": 0.06},
}


def rate(hf, scenario, cases, jobs):
    start = time.perf_counter()
    data = hf.sweep(scenario, VARY, sampling="latin-hypercube", samples=cases, jobs=jobs)
    seconds = time.perf_counter() - start
    if int(data.status.sum()) != 0:
        raise SystemExit("a case of the sweep failed")
    return cases / seconds


def resident():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0  # MiB; kB on Linux


def memory_of(cases, answer):
    import hoopfield as hf

    scenario = hf.read(EXAMPLE)
    hf.predict(scenario)
    before = resident()
    with tempfile.TemporaryDirectory() as folder:
        hf.sweep(
            scenario, VARY, sampling="latin-hypercube", samples=cases, file=os.path.join(folder, "sweep.h5")
        ).close()
    answer.put((before, resident()))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=500)
    parser.add_argument("--memory-cases", type=int, nargs="*", default=[1000, 50000])
    parser.add_argument("--repeats", type=int, default=5)
    options = parser.parse_args()
    import hoopfield as hf

    scenario = hf.read(EXAMPLE)
    threads = os.cpu_count()
    one, many = [], []
    rate(hf, scenario, 20, threads)  # warm
    for _ in range(options.repeats):  # side by side, so that a busy machine hurts both
        one.append(rate(hf, scenario, options.cases, 1))
        many.append(rate(hf, scenario, options.cases, threads))
    efficiency = [m / (o * threads) for o, m in zip(one, many)]
    record = {
        "threads": threads,
        "cases_per_second_one_thread": statistics.median(one),
        "cases_per_second": statistics.median(many),
        "efficiency_median": statistics.median(efficiency),
        "efficiency_least": min(efficiency),
        "efficiency_greatest": max(efficiency),
    }
    spawn = multiprocessing.get_context("spawn")
    for cases in options.memory_cases:
        answer = spawn.Queue()
        process = spawn.Process(target=memory_of, args=(cases, answer))
        process.start()
        before, after = answer.get()
        process.join()
        record[f"memory_mib_{cases}_cases"] = {"before": before, "greatest": after}
    print(json.dumps(record, indent=2))


if __name__ == "__main__":
    main()
