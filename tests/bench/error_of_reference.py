# SPDX-License-Identifier: BSD-3-Clause
"""Numerical error of the first example's hoop tensions: of the steps and of the slices, apart.

    python tests/bench/error_of_reference.py

Needs the Python package, installed. Steps: the tolerance is lowered to a thousandth; the finest answers extrapolated
(Richardson) stand for the exact one. Slices: doubled twice; second order in the slice height, by extrapolation
likewise.
Printed: greatest error of a station's hoop tension, at the end of wrapping and after storage, relative.
"""

import json
from pathlib import Path

import hoopfield as hf
import numpy as np

EXAMPLE = Path(__file__).parents[2] / "examples/01_first_prediction/scenario.toml"


def tensions(scenario, **numerics):
    result = hf.predict(scenario.replace({f"numerics.{key}": value for key, value in numerics.items()}))
    containment = json.loads(result.to_json())["containment"]
    return np.array(
        [
            containment[moment][station]["hoop_tension_N_per_m"]
            for moment in ("end", "after_storage")
            for station in ("top", "middle", "bottom")
        ]
    )


def extrapolated(coarse, fine, ratio):
    """Limit of answers whose error falls by `ratio` from coarse to fine."""
    return fine + (fine - coarse) / (ratio - 1.0)


def greatest(values, exact):
    return float(np.max(np.abs(values / exact - 1.0)))


def main():
    scenario = hf.read(EXAMPLE)
    by_tolerance = {t: tensions(scenario, tolerance=t) for t in (1e-2, 1e-3, 1e-4, 1e-5, 1e-6)}
    exact = extrapolated(by_tolerance[1e-5], by_tolerance[1e-6], 10.0)
    steps = {f"tolerance {t:g}": greatest(v, exact) for t, v in by_tolerance.items()}
    by_slices = {n: tensions(scenario, slices=n) for n in (15, 30, 60, 120, 240, 480)}
    exact = extrapolated(by_slices[240], by_slices[480], 4.0)
    slices = {f"{n} slices": greatest(v, exact) for n, v in by_slices.items()}
    print(json.dumps({"steps": steps, "slices": slices}, indent=2))


if __name__ == "__main__":
    main()
