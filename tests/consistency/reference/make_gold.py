# SPDX-License-Identifier: BSD-3-Clause
"""Solves the cases beside this file and stores the results: ``python -m reference.make_gold [name ...]``.

Run from ``tests/consistency``. ``path-*.toml`` cases store the film path only, ``reference-*.toml`` the whole case.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from .case import read_case
from .draw import film_path
from .pull_test import strand_forces
from .stack import path_record, solve_case

CASES = Path(__file__).parent / "cases"


def path_key(case):
    """What the film path depends on; cases that differ in the load's give or in storage share it."""
    return (
        case.film.name,
        case.width,
        case.thickness,
        case.ratio,
        case.gap,
        case.arc,
        case.internal_path,
        case.distance,
        case.n_d,
        case.force,
        case.omega,
        case.length,
        case.load_width,
        case.ambient,
    )


def main(names):
    wanted = names or sorted(p.stem for p in CASES.glob("*.toml"))
    paths = {}
    for name in wanted:
        case = read_case(CASES / f"{name}.toml")
        key = path_key(case)
        if key not in paths:
            paths[key] = film_path(case)
        record = {"film_path": path_record(case, paths[key])}
        if name.startswith("reference-"):
            pull = lambda stack, T: {"strand_force_N": strand_forces(stack, T)}
            record |= solve_case(case, paths[key], observe=pull)
        (CASES / f"{name}.gold.json").write_text(json.dumps(record, indent=1) + "\n")
        print(name, f"stretch on load {paths[key].stretch:.8f}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
