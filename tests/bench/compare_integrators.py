# SPDX-License-Identifier: BSD-3-Clause
"""Production integrator against SciPy's Radau, CVODE's BDF and rosenbrock4 in one run, at equal measured error.

    python tests/bench/compare_integrators.py BUILD_DIR [OUT.json] [--check]

BUILD_DIR is configured with -DHOOPFIELD_BUILD_BENCH=ON. The stack: ten turns of the illustrative film on a load that
gives (1.2 m x 1.0 m, 200 and 150 kPa), stored for seven days. Each method runs at the loosest tolerance whose greatest
error of hoop tension, over all times and faces and against the same reference, meets the target. CVODE and Radau have
the analytic Jacobian, dense. Times are processor times. The production time includes laying the film, the others
start from the film laid.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import tempfile
import time
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # processor time counts every thread

import numpy as np
from scipy.integrate import solve_ivp


class Stack:
    """dv/dt of the viscous strains v = ln l - e (branch, element); closings from the equilibrium at every instant."""

    def __init__(self, case):
        get = lambda name: np.array(case[name], dtype=float)
        self.case = case
        self.weight, self.face = get("weight"), np.array(case["face"])
        self.along = np.isin(self.face, (1, 3)).astype(int) ^ 1  # 0: left and right, along the length
        self.side = np.array([case["length"], case["width"]])
        self.stiffness = np.array([case["stiffness_length"], case["stiffness_width"]])
        self.reference = get("reference_stretch") / get("reference_path")
        self.E, self.r, self.Y = (
            np.array([b[k] for b in case["branches"]])[:, None] for k in ("modulus", "rate", "flow_stress")
        )
        self.u = get("closing")
        self.start = np.log(get("stretch")) - get("strain")

    def stress(self, v):
        c = self.case
        path = (self.side - self.u)[self.along]
        l = self.reference * path
        q, jm = c["shape"], c["stretch_limit"]
        excess = l * l + 2 * q / l - 3
        gent = c["network"] * jm / (jm - excess)
        drive = l * l - q / l
        s = gent * drive + (self.E * (np.log(l) - v)).sum(0)
        ds = gent * (2 * l * l + q / l) + gent / (jm - excess) * (2 * l * l - 2 * q / l) * drive + self.E.sum()
        return l, -1 / path, s / l, (ds - s) / l

    def equilibrium(self, v):
        for _ in range(50):
            l, by_u, P, tangent = self.stress(v)
            pull = np.bincount(self.along, self.weight * P, 2)
            self.K = self.stiffness - np.bincount(self.along, self.weight * tangent * by_u, 2)
            change = -(self.stiffness * self.u - pull) / self.K
            self.u = self.u + change
            if np.all(np.abs(change) < 1e-15 * self.side):
                break
        return self.stress(v)

    def flow(self, l, v):
        c = self.case
        chi = 1 + c["viscous_share"] * (l * l + 2 * c["shape"] / l - 3)
        gain = self.E / (self.Y * chi)
        return gain, gain * (np.log(l) - v), c["viscous_share"] * (2 * l * l - 2 * c["shape"] / l) / chi

    def rates(self, t, y):
        v = y.reshape(self.start.shape)
        l = self.equilibrium(v)[0]
        return (self.r * np.sinh(self.flow(l, v)[1])).ravel()

    def jacobian(self, t, y):
        v = y.reshape(self.start.shape)
        l, by_u, _, _ = self.equilibrium(v)
        gain, yy, log_slope = self.flow(l, v)
        cosh = self.r * np.cosh(yy)
        by_strain = cosh * gain
        row = ((by_strain - cosh * yy * log_slope) * by_u).ravel()
        column = (-self.weight * self.E / l / self.K[self.along]).ravel()
        same = np.tile(self.along, len(self.E))
        J = np.outer(row, column) * (same[:, None] == same[None, :])
        J[np.diag_indices_from(J)] -= by_strain.ravel()
        return J

    def tension(self, v):
        _, _, P, _ = self.equilibrium(v)
        return np.bincount(self.face, self.weight * P, 4)

    def solve(self, tolerance):
        begin = time.process_time()
        times = self.case["times"]
        done = solve_ivp(
            self.rates,
            (0, times[-1]),
            self.start.ravel(),
            "Radau",
            times,
            jac=self.jacobian,
            rtol=1e-2 * tolerance,
            atol=1e-2 * tolerance,
        )
        assert done.success, done.message
        tension = np.array([self.tension(y.reshape(self.start.shape)) for y in done.y.T])
        reference = np.array(self.case["tension"])
        return np.abs(tension - reference).max() / reference.max(), time.process_time() - begin


def scan_radau(case, targets):
    rows = []
    runs = []
    for tolerance in 10.0 ** np.arange(-1, -6.1, -1):
        error, seconds = Stack(case).solve(tolerance)
        runs.append({"tolerance": tolerance, "error": float(error), "seconds": seconds})
    for target in targets:
        good = [run for run in runs if run["error"] <= target]
        rows.append({"target": target, **min(good, key=lambda run: run["seconds"])} if good else None)
    return rows


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("build", type=Path, metavar="BUILD_DIR")
    parser.add_argument("out", type=Path, metavar="OUT.json", nargs="?")
    parser.add_argument(
        "--check", action="store_true", help="fail where a method misses its target (errors, not times)"
    )
    arguments = parser.parse_args()
    program = arguments.build / "tests/bench/compare_integrators"
    if not program.exists():
        parser.error(f"{program} is missing: configure BUILD_DIR with -DHOOPFIELD_BUILD_BENCH=ON and build it")
    with tempfile.TemporaryDirectory() as folder:
        case_file = Path(folder) / "case.json"
        done = subprocess.run([program, case_file], check=True, capture_output=True)
        result, case = json.loads(done.stdout), json.loads(case_file.read_text())
    targets = [row["target"] for row in result["production"]]
    result["radau"] = scan_radau(case, targets)
    print(
        f"{result['elements']} film elements, {result['compiler']}, {result['simd']}; reference: {result['reference']}"
    )
    if "production_against_reference" in result:
        print(f"production at tolerance 1e-8 against the reference: {result['production_against_reference']:.1e}")
    print(f"{'target':>8} {'method':<24} {'error':>9} {'ms':>10} {'times production':>17}")
    groups = [("production", "cvode", "radau", result), ("production", "rosenbrock4", result["element"])]
    for *methods, source in groups:
        print("stack" if source is result else "one element on its stretch path")
        for i, target in enumerate(targets):
            base = source["production"][i]
            for method in methods:
                row = (source.get(method) or [None] * len(targets))[i]
                if row and base:
                    print(
                        f"{target:8.0e} {method:<24} {row['error']:9.1e} {1e3 * row['seconds']:10.4f} "
                        f"{row['seconds'] / base['seconds']:17.1f}"
                    )
                else:
                    print(f"{target:8.0e} {method:<24} not reached or not built")
    if arguments.check:
        missed = [m for *methods, source in groups for m in methods if m in source and None in source[m]]
        against = result.get("production_against_reference", 0.0)  # CVODE's answer is there with SUNDIALS only
        if missed or against > 1e-7:
            raise SystemExit(
                f"MISSED: targets by {missed}; production against the reference {against:.1e}, 1e-7 allowed"
            )
    if arguments.out:
        arguments.out.write_text(json.dumps(result, indent=1) + "\n")


if __name__ == "__main__":
    main()
