# SPDX-License-Identifier: BSD-3-Clause
"""Do the intervals of a calibration hold the truth as often as they say?

Truths are drawn from the ranges of a scenario, loads are read with noise, and every interval of 90 % is asked whether
it holds the input it is about. The film of the truth may also follow a law that is not the scenario's, which is then
fitted to laboratory curves of that film, or forces are read with a balance that is 3 % off beyond what is declared.

    python tests/consistency/calibration_study.py [--seeds 200] [--truth own|foreign|balance]
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np

import hoopfield as hf

ROOT = Path(__file__).resolve().parents[2]
HALF = 1.6448536269514722  # half of the central 90 %, in standard deviations
ERRORS = {  # share or SI, own and of the instrument, as declared in models/reading_quantity.cpp
    "pull_force": (0.08, 0.04),
    "band_tension": (0.05, 0.03),
    "span_force": (0.05, 0.03),
    "film_mass": (0.02, 0.01),
    "stretch_on_load": (0.05, 0.03),
    "laid_width": (0.015, 0.005),
    "closing_along_length": (0.003, 0.002),
    "closing_along_width": (0.003, 0.002),
}
IS_SHARE = {"pull_force", "band_tension", "span_force", "film_mass", "laid_width"}
UNITS = {"stretch_on_load": "%", "pull_force": "N", "band_tension": "N", "span_force": "N", "film_mass": "kg"}
OF_WRAP = {"pull_force", "band_tension"}
MODEL_ERROR = 0.03


FOREIGN = """name = "power-law film, illustrative"
law = "power-network"
density = "920 kg/m^3"
neck_in = 0.2
reference_temperature = "23 degC"
[network]
modulus = "0.8 MPa"
stretch_limit = 28.0
[hardening]
viscous_share = 0.1
[[branch]]
modulus = "60 MPa"
reference_rate = "0.5 1/s"
flow_stress = "4 MPa"
rate_exponent = 8
activation_energy = "110 kJ/mol"
[[branch]]
modulus = "110 MPa"
reference_rate = "1e-5 1/s"
flow_stress = "3 MPa"
rate_exponent = 12
activation_energy = "150 kJ/mol"
[break]
stretch = "450 %"
weibull_modulus = 12
reference_area = "50 cm^2"
[provenance]
source = "illustrative"
illustrative = true
"""


def foreign_films() -> tuple[hf.Film, hf.Film]:
    """A film of another law, and the film that a fit makes of its curves."""
    true = hf.Film.from_text(FOREIGN)
    curves = [true.tensile(1.0, 2.8), true.tensile(0.01, 2.8), true.relax(2.5, 3600.0), true.recover(2.5)]
    return true, hf.fit_film(curves, starts=2).film


def scenario(**more: str) -> hf.Scenario:
    """The load of example 8 with a tent factor of its own, so that every unknown is a key."""
    given = hf.read(ROOT / "examples/08_thin_against_thick/present.toml")
    return given.replace({"stations.tent_factor": 1.8, "uncertainty.stations.tent_factor": '[1.4, 2.4]'} | more)


def lines(kinds: tuple[str, ...], loads: int) -> list[dict[str, str]]:
    """What is read on each load, without values."""
    rows = []
    for load in range(1, loads + 1):
        for kind in kinds:
            heights = ["1.25 m", "0.75 m", "0.25 m"] if kind == "pull_force" else ["0.75 m"]
            if kind in ("span_force", "stretch_on_load", "laid_width", "film_mass"):
                heights = [""]
            rows += [
                {"quantity": kind, "height": height, "value": 1, "unit": UNITS.get(kind, "m"), "load_id": str(load)}
                for height in heights
            ]
    return rows


def noisy(rows: list[dict], exact: np.ndarray, rng: np.random.Generator, balance: float) -> list[dict]:
    """Values with their own errors, those of the instrument and of the model, and scatter from load to load."""
    scatter = abs(rng.normal(0.0, 0.05))
    shared: dict[tuple, float] = {}

    def once(name: tuple, deviation: float) -> float:
        return shared.setdefault(name, rng.normal(0.0, deviation))

    out = []
    for row, value in zip(rows, exact, strict=True):
        kind = row["quantity"]
        own, common = ERRORS[kind]
        error = rng.normal(0.0, own / HALF) + once(("instrument", kind), common / HALF)
        if kind in OF_WRAP:
            error += once(("model", kind), MODEL_ERROR / HALF) + once(("load", row["load_id"]), scatter)
        if kind == "pull_force":
            error += np.log1p(balance)
        read = value * np.exp(error) if kind in IS_SHARE else max(value + error, 0.0)
        out.append(row | {"value": f"{100 * read if kind == 'stretch_on_load' else read:.6g}"})
    return out


def spelled(value: float, unit: str) -> str | float:
    """A number as a scenario takes it: pure numbers bare, strains as length over length."""
    return f"{value!r} {unit}"


def truths(given: hf.Scenario, count: int) -> tuple[list[str], np.ndarray]:
    """Keys and values of inputs drawn from their ranges, shape (count, keys)."""
    draws = hf.predict(given, band_samples=count).draws
    keys = [str(k) for k in draws["key"].values]
    return keys, draws["inputs"].values


def run(kinds: tuple[str, ...], seeds: int, truth: str, loads: int = 3, first: int = 0) -> dict[str, float]:
    """Share of the 90 % intervals that hold their truths, pooled and per input, and what became of the widths."""
    given = scenario()
    true_film = None
    if truth == "foreign":
        true_film, fitted = foreign_films()
        given = given.replace(film=fitted)
    keys, values = truths(given, 1 << max(4, (first + seeds - 1).bit_length()))
    units = {row["key"]: row["unit"] or "m/m" for row in given.inputs()}
    rows = lines(kinds, loads)
    held: dict[str, list[bool]] = {}
    widths: dict[str, list[float]] = {}
    for seed in range(first, first + seeds):
        rng = np.random.default_rng(seed)
        changes = {k: float(v) for k, v in zip(keys, values[seed], strict=True) if k != "film.file" and np.isfinite(v)}
        exact_tent = {"uncertainty.stations.tent_factor": "exact"}
        true = given.replace(exact_tent | {key: spelled(value, units[key]) for key, value in changes.items()})
        if true_film is not None:
            true = true.replace(film=true_film)
        turns = int(hf.predict(true, band_samples=0).pattern.turns)
        exact = hf.predicted_readings(true, rows)
        readings = noisy(rows, exact, rng, 0.03 if truth == "balance" else 0.0)
        readings.append({"quantity": "turns", "value": turns, "unit": ""})
        found = hf.calibrate(given, readings, band_samples=0)
        for unknown in found.unknowns:
            if unknown["key"] not in changes:
                continue
            after = unknown["after"]
            held.setdefault(unknown["key"], []).append(after["p05"] <= changes[unknown["key"]] <= after["p95"])
            widths.setdefault(unknown["key"], []).append(unknown["width_share"])
    summary = {key: float(np.mean(list_)) for key, list_ in held.items()}
    summary["pooled"] = float(np.mean([x for list_ in held.values() for x in list_]))
    return {"held": summary, "width": {key: float(np.median(list_)) for key, list_ in widths.items()}}


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=200)
    parser.add_argument("--truth", choices=("own", "foreign", "balance"), default="own")
    parser.add_argument("--pulls-alone", action="store_true")
    options = parser.parse_args()
    kinds = (
        ("pull_force",)
        if options.pulls_alone
        else (
            "pull_force",
            "span_force",
            "film_mass",
            "stretch_on_load",
            "laid_width",
            "closing_along_length",
            "closing_along_width",
        )
    )
    print(json.dumps(run(kinds, options.seeds, options.truth), indent=2))
