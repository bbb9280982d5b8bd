# SPDX-License-Identifier: BSD-3-Clause
"""A calibration against a sampler of somebody else's (emcee): the same readings, errors and ranges, written down anew.

    python tests/consistency/calibration_sampler.py [--steps 400]

Prints mean and standard deviation of each input, as a standard normal number of its range, from both.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import emcee
import numpy as np
from calibration_study import ERRORS, HALF, IS_SHARE, MODEL_ERROR, OF_WRAP, lines, noisy, scenario
from scipy.stats import t as student

import hoopfield as hf

ROOT = Path(__file__).resolve().parents[2]
NU = 4.0
CASES = {
    "force scale, neck-in and tent factor": (
        ("delivery.tension.force_scale", "delivery.neck_in", "stations.tent_factor"),
        ("pull_force", "film_mass", "laid_width"),
    ),
    "thickness, load stiffness and tent factor": (
        ("film.thickness", "load.stiffness_along_width", "stations.tent_factor"),
        ("pull_force", "span_force", "film_mass", "closing_along_width"),
    ),
}


def value_of(z: float, low: float, middle: float, high: float, least: float, most: float) -> float:
    """The value of an input at a standard normal number: two halves, normal in the logarithm (or the logit where the
    key has two bounds), whose 5 % and 95 % are the ends of its range."""
    if np.isfinite(most):
        to, back = lambda x: np.log((x - least) / (most - x)), lambda y: least + (most - least) / (1 + np.exp(-y))
    else:
        to, back = np.log, np.exp
    end = to(low) if z < 0 else to(high)
    return back(to(middle) + abs(z) / HALF * (end - to(middle)))


class Density:
    """log of prior times likelihood, up to a constant, of inputs and shared errors."""

    def __init__(self, given: hf.Scenario, keys: tuple[str, ...], readings: list[dict], before: dict, turns: int):
        self.given = given.replace({"pattern.turns": turns} | {f"uncertainty.{key}": "exact" for key in keys})
        self.keys, self.before, self.readings = keys, before, readings
        self.bounds = {p.key: (p.lower, p.upper) for key in keys for p in hf._core.find_parameters(key) if p.key == key}
        self.shared = sorted({name for row in readings for name in self.names(row)})

    @staticmethod
    def names(row: dict) -> list[tuple]:
        kind = row["quantity"]
        shared = [("instrument", kind)]
        return shared + ([("model", kind), ("load", row["load_id"])] if kind in OF_WRAP else [])

    @staticmethod
    def deviation(name: tuple, scatter: float) -> float:
        if name[0] == "load":
            return scatter
        return MODEL_ERROR / HALF if name[0] == "model" else ERRORS[name[1]][1] / HALF

    def predicted(self, z: np.ndarray) -> np.ndarray:
        changes = {}
        for key, number in zip(self.keys, z, strict=True):
            least, most = self.bounds[key]
            b = self.before[key]
            value = value_of(number, b["p05"], b["value"], b["p95"], least or 0.0, np.inf if most is None else most)
            changes[key] = f"{float(value)!r} {UNITS.get(key, '')}" if key in UNITS else float(value)
        return hf.predicted_readings(self.given.replace(changes), self.readings)

    def __call__(self, x: np.ndarray) -> float:
        n, k = len(self.keys), len(self.shared)
        z, u, scatter = x[:n], x[n : n + k], np.exp(x[n + k])
        if np.any(np.abs(z) > 5) or not 1e-3 < scatter < 0.5:
            return -np.inf
        # half-normal prior of the scatter, 5 %, and the logarithm as its coordinate
        log_p = -0.5 * np.sum(z**2) - 0.5 * np.sum(u**2) - 0.5 * (scatter / 0.05) ** 2 + x[n + k]
        try:
            values = self.predicted(z)
        except hf.Error:
            return -np.inf
        for row, value in zip(self.readings, values, strict=True):
            kind = row["quantity"]
            common = sum(u[self.shared.index(name)] * self.deviation(name, scatter) for name in self.names(row))
            read = float(row["value"])
            left = (np.log(read / value) if kind in IS_SHARE else read - value) - common
            log_p += student.logpdf(left / (ERRORS[kind][0] / HALF * np.sqrt((NU + 1) / (NU + 3))), NU)
        return log_p


UNITS = {"film.thickness": "m", "load.stiffness_along_width": "Pa"}


def compare(name: str, steps: int) -> None:
    keys, kinds = CASES[name]
    given, rng = scenario(), np.random.default_rng(5)
    rows = lines(kinds, 3)
    turns = int(hf.predict(given, band_samples=0).pattern.turns)
    readings = noisy(rows, hf.predicted_readings(given, rows), rng, 0.0)
    counted = [{"quantity": "turns", "value": turns, "unit": ""}]
    found = hf.calibrate(given, readings + counted, free=list(keys), band_samples=0)
    unknowns = {unknown["key"]: unknown for unknown in found.unknowns}
    density = Density(given, keys, readings, {key: unknowns[key]["before"] for key in keys}, turns)
    size = len(keys) + len(density.shared) + 1
    start = rng.normal(0.0, 0.3, (2 * size + 4, size))
    start[:, -1] = np.log(0.03) + 0.3 * start[:, -1]
    sampler = emcee.EnsembleSampler(len(start), size, density)
    sampler.run_mcmc(start, steps)
    chain = sampler.get_chain(discard=steps // 3, flat=True)
    print(
        f"{name}: {size} numbers, {len(chain)} samples, load scatter {found.load_scatter:.3f} "
        f"against {np.sqrt(np.mean(np.exp(2 * chain[:, -1]))):.3f}"
    )
    for i, key in enumerate(keys):
        unknown = unknowns[key]
        mean = unknown["pull"] * np.sqrt(1 - unknown["width_share"] ** 2)
        print(
            f"  {key}: {mean:+.3f} +- {unknown['width_share']:.3f}, sampled {chain[:, i].mean():+.3f} +- "
            f"{chain[:, i].std():.3f}"
        )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--steps", type=int, default=400)
    options = parser.parse_args()
    for case in CASES:
        compare(case, options.steps)
