#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Fits the Prony set of film.toml to the odd points of data.csv and prints the film file.

    python3 fit_film.py > film.toml

Model: E(t) = E_inf + sum_k E_k exp(-t/tau_k), tau_k fixed at one a decade from 0.1 s to 1e4 s, E_inf and E_k >= 0
found by cyclic coordinate descent on the relative residuals. The network carries E_inf: at small strain its tensile
modulus is 3 G, so G = E_inf/3.
"""

import csv
import math
import pathlib

FOLDER = pathlib.Path(__file__).resolve().parent
TIMES = [10.0**k for k in range(-1, 5)]


def read_data():
    with open(FOLDER / "data.csv", encoding="utf-8") as handle:
        rows = list(csv.DictReader(line for line in handle if not line.startswith("#")))
    return [(float(row["time_s"]), float(row["modulus_MPa"])) for row in rows]


def fit(points, sweeps=20000):
    """Non-negative least squares on relative residuals. Returns [E_inf, E_1, ...] in MPa."""
    columns = [[1.0 / e for _, e in points]] + [[math.exp(-t / tau) / e for t, e in points] for tau in TIMES]
    moduli = [0.0] * len(columns)
    residual = [1.0] * len(points)
    squares = [sum(a * a for a in column) for column in columns]
    for _ in range(sweeps):
        largest = 0.0
        for k, column in enumerate(columns):
            step = max(sum(a * r for a, r in zip(column, residual)) / squares[k], -moduli[k])
            moduli[k] += step
            residual = [r - step * a for r, a in zip(residual, column)]
            largest = max(largest, abs(step))
        if largest < 1e-9:
            break
    return moduli


def film_text(moduli):
    lines = [
        "# Written by fit_film.py: Prony set fitted to the odd points of data.csv. For this case only.",
        'name = "HDPE of the relaxation data, small strain"',
        'law = "maxwell"',
        'density = "950 kg/m^3"   # assumed; plays no part here',
        "neck_in = 0.5",
        'reference_temperature = "23 degC"   # not stated in the source; plays no part here',
        "[network]",
        f'modulus = "{moduli[0] / 3.0:.6g} MPa"',
        "stretch_limit = 1000.0",
    ]
    for tau, modulus in zip(TIMES, moduli[1:]):
        lines += ["[[branch]]", f'modulus = "{modulus:.6g} MPa"', f'relaxation_time = "{tau:g} s"']
    lines += [
        "[provenance]",
        'source = "Prony fit to published relaxation data, see card.md"',
        "illustrative = false",
        'fitted_to = "odd points of data.csv"',
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(film_text(fit(read_data()[0::2])), end="")
