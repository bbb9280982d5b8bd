#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Do the bands hold the truth as often as they say?

Truths are drawn by a sampler of this file (NumPy's generator, SciPy's normal distribution) that knows only the ranges a
prediction prints: it shares no code and no points with the draws. Half of the unknowns are then "measured": the truth
stays, the scenario gets a reading with an error of 5 %, drawn anew for every truth, and states that error. A band
holds a truth when the number predicted at the truth lies inside. Figures stand in DEVELOPERS.md.

  python tests/consistency/band_coverage.py --seeds 40 --truths 25 --samples 128
  python tests/consistency/band_coverage.py --seeds 1 --truths 2000 --samples 1024 --one-band
"""

from __future__ import annotations

import argparse
import concurrent.futures
import pathlib

import numpy as np
from scipy.stats import norm

import hoopfield as hf

NUMBERS = ("containment.after_storage.middle.hoop_tension", "film.mass", "film.stretch_on_load")
EXAMPLE = pathlib.Path(__file__).resolve().parents[2] / "examples" / "01_first_prediction" / "scenario.toml"
Z95 = norm.ppf(0.95)
READING_ERROR = 0.05


def transform(scale: str, low: float | None, high: float | None):
    if scale == "log":
        return np.log, np.exp
    if scale == "logit":
        return (lambda x: np.log((x - low) / (high - x))), (lambda y: low + (high - low) / (1 + np.exp(-y)))
    clip = (-np.inf if low is None else low, np.inf if high is None else high)
    return (lambda x: x), (lambda y: np.clip(y, *clip))


def bounds(key: str) -> tuple[float | None, float | None]:
    """Physical bounds as the documentation prints them."""
    if key == "stations.tent_factor":  # a share of its formula, which has none
        return (None, None)
    declared = next(p for p in hf.explain(key).parameters if p.key == key)
    return declared.lower, declared.upper


def value_at(unknown, z: float) -> float:
    scale = unknown.scale_below if z < 0 else unknown.scale_above
    to, back = transform(scale, *bounds(unknown.key))
    end = unknown.low if z < 0 else unknown.high
    return float(back(to(unknown.value) + abs(z) / Z95 * (to(end) - to(unknown.value))))


def numbers_of(result) -> list[float]:
    station = result.containment.after_storage.middle
    return [station.hoop_tension, result.film.mass, result.film_path.stretch_on_load]


def quick(path: pathlib.Path = EXAMPLE):
    s = hf.read(path)
    return s.replace({"numerics.slices": 12, "storage.duration": "2 d", "storage.temperature": "30 degC"})


def unknowns_of(scenario):
    band = hf.predict(scenario, band_samples=16).band
    return [u for u in band.unknowns if not u.formula_share]


def truth_of(unknowns, random) -> dict[str, float]:
    return {u.key: value_at(u, random.standard_normal()) for u in unknowns}


def written(values: dict[str, float]) -> dict[str, object]:
    """SI numbers as a scenario takes them, with their units."""
    texts: dict[str, object] = {}
    for key, value in values.items():
        declared = hf.explain(key).parameters[0]
        if declared.unit:
            texts[key] = hf.with_unit(value, declared.unit)
        else:
            texts[key] = f"{100 * value!r} %" if declared.customary_unit == "%" else value
    return texts


def measured(scenario, unknowns, truth, random):
    """Every second unknown read with an error; positive ones only, as the error is a share."""
    changes: dict[str, object] = {}
    for u in unknowns[::2]:
        if not truth[u.key] > 0 or u.key == "wrapping.temperature":
            continue
        changes[u.key] = truth[u.key] * float(1 + READING_ERROR / Z95 * random.standard_normal())
        percent = u.key in ("delivery.prestretch_slip", "load.creep_per_decade")  # keys that take points
        points = f"{100 * READING_ERROR * changes[u.key]!r} points"
        changes[f"uncertainty.{u.key}"] = points if percent else f"{100 * READING_ERROR:g} %"
    values = written({k: v for k, v in changes.items() if not k.startswith("uncertainty.")})
    spreads = {k: v for k, v in changes.items() if k.startswith("uncertainty.")}
    return scenario.replace(values).replace(spreads)


def held(band, number: str, value: float) -> bool:
    return band[number].low <= value <= band[number].high


def one_seed(job) -> np.ndarray:
    seed, truths, samples, one_band = job
    random = np.random.default_rng(seed)
    scenario = quick()
    unknowns = unknowns_of(scenario)
    band = None
    if one_band:
        band = hf.predict(scenario.replace({"numerics.seed": seed}), band_samples=samples).band
    hits, tried, refused = np.zeros(len(NUMBERS)), 0, 0
    while tried < truths:
        truth = truth_of(unknowns, random)
        try:
            answer = numbers_of(hf.predict(scenario.replace(written(truth)), band_samples=0))
            if not one_band:
                seen = measured(scenario, unknowns, truth, random).replace(
                    {"numerics.seed": int(random.integers(1 << 30))}
                )
                band = hf.predict(seen, band_samples=samples).band
        except (hf.InputError, hf.SolverError) as error:  # a truth or a reading no wrap can have
            refused += 1
            if refused > 10 + truths:
                raise RuntimeError(f"seed {seed}: {refused} truths or readings were refused") from error
            continue
        hits += [held(band, name, value) for name, value in zip(NUMBERS, answer)]
        tried += 1
    return hits / tried


def coverage(seeds: int, truths: int, samples: int, one_band: bool, workers: int = 2) -> np.ndarray:
    """(seed, number): share of truths held."""
    jobs = [(seed, truths, samples, one_band) for seed in range(1, seeds + 1)]
    if workers == 1:
        return np.array([one_seed(job) for job in jobs])
    with concurrent.futures.ProcessPoolExecutor(workers) as pool:
        return np.array(list(pool.map(one_seed, jobs)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=40)
    parser.add_argument("--truths", type=int, default=25)
    parser.add_argument("--samples", type=int, default=128)
    parser.add_argument("--one-band", action="store_true", help="one band for all truths, nothing measured")
    args = parser.parse_args()
    shares = coverage(args.seeds, args.truths, args.samples, args.one_band)
    n = args.seeds * args.truths
    for name, share in zip(NUMBERS, shares.mean(axis=0)):
        print(f"{name}: {100 * share:.1f} % of {n} truths held (+- {100 * np.sqrt(0.09 / n):.1f})")


if __name__ == "__main__":
    main()
