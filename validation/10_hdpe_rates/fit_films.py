#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Fits the two films of this case and writes them: one_rate.toml and rates.toml.

    PYTHONPATH=build/ci/bindings/python python3 fit_films.py

Needs the Python package of this project, NumPy and SciPy. Each film is a network and two Eyring branches: one that
carries the dependence on rate, and one that is nearly plastic (its flow stress at 1e-4 1/s is a hundred times its Y,
which is an assumption and keeps six numbers to fit). one_rate.toml: loading at 1e-4 1/s and relaxation at 4.9 %
strain, loaded at the same rate. rates.toml: loading at three rates up to a true strain of 0.105, nothing else.
Residuals count in reading errors of 0.15 MPa; the best of eight starts is kept.
"""

import pathlib
import sys

import numpy as np
from scipy.optimize import least_squares

import hoopfield as hf

FOLDER = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(FOLDER.parent))
import common  # noqa: E402

RATE, READING_ERROR, PLASTIC = 1e-4, 0.15, 100.0
# Modulus, flow stress at 1e-4 1/s and Y of the first branch; modulus and flow stress of the second; network. MPa
START = np.array([900.0, 15.0, 1.2, 120.0, 6.5, 2.0])
LOW, HIGH = np.array([200.0, 3.0, 0.2, 20.0, 1.0, 0.05]), np.array([3000.0, 25.0, 3.0, 600.0, 15.0, 6.0])


def film_text(numbers, name, fitted_to):
    modulus, flow, scale, second_modulus, second_flow, network = numbers
    branches = [(modulus, flow, scale), (second_modulus, second_flow, second_flow / PLASTIC)]
    lines = [
        "# Written by fit_films.py. For this case only.",
        f'name = "{name}"',
        'law = "eyring-network"',
        'density = "950 kg/m^3"   # assumed; plays no part here',
        "neck_in = 0.5",
        'reference_temperature = "23 degC"   # the source says room temperature',
        "[network]",
        f'modulus = "{network:.6g} MPa"',
        "stretch_limit = 1000.0",
    ]
    for e, flow_stress, y in branches:
        lines += ["[[branch]]", f'modulus = "{e:.6g} MPa"']
        lines += [f'reference_rate = "{2.0 * RATE * np.exp(-flow_stress / y):.6g} 1/s"', f'flow_stress = "{y:.6g} MPa"']
    lines += ["[provenance]", 'source = "fit to numbers read off published figures, see card.md"']
    lines += ["illustrative = false", f'fitted_to = "{fitted_to}"']
    return "\n".join(lines) + "\n"


def true_stress(film, times, log_strains):
    """MPa along a path of true strain."""
    stretch = np.expm1(log_strains)
    return 1e-6 * film.follow(times, stretch) * np.exp(log_strains)


def loading(film, rate, strains):
    """True stress at rising true strains, grips at `rate`."""
    path = np.unique(np.concatenate([np.linspace(0.0, max(strains), 60), strains]))
    return np.interp(strains, path, true_stress(film, np.expm1(path) / rate, path))


def relaxation(film, strain, times):
    up = np.linspace(0.0, strain, 40)
    loaded = np.expm1(up) / RATE
    path = np.concatenate([up, np.full(len(times), strain)])
    return true_stress(film, np.concatenate([loaded, loaded[-1] + times]), path)[len(up) :]


def read():
    """Loading curves by rate up to 0.105, and the relaxation at 4.9 %."""
    data = common.read_columns(FOLDER / "loading.csv")
    rates, strain, stress = (np.array(data[n]) for n in ("rate_1_s", "true_strain", "true_stress_MPa"))
    curves = {r: (strain[rates == r], stress[rates == r]) for r in (1e-3, 1e-4, 1e-5)}
    held = common.read_columns(FOLDER / "relaxation.csv")
    chosen = np.array(held["strain_percent"]) == 4.9
    return curves, np.array(held["time_s"])[chosen], np.array(held["true_stress_MPa"])[chosen]


def one_rate_errors(film):
    curves, times, stress = read()
    strains, measured = curves[RATE]
    return np.concatenate([loading(film, RATE, strains) - measured, relaxation(film, 0.049, times) - stress])


def rates_errors(film):
    errors = []
    for rate, (strains, measured) in read()[0].items():
        early = strains < 0.105
        errors.append(loading(film, rate, strains[early]) - measured[early])
    return np.concatenate(errors)


def fit(errors_of, name, fitted_to):
    def errors(logs):
        return errors_of(hf.Film.from_text(film_text(np.exp(logs), name, fitted_to))) / READING_ERROR

    best = None
    for seed in range(8):
        start = np.log(START) + np.random.default_rng(seed).normal(0.0, 0.3, START.size)
        start = np.clip(start, np.log(LOW) + 0.01, np.log(HIGH) - 0.01)
        found = least_squares(errors, start, bounds=(np.log(LOW), np.log(HIGH)), diff_step=1e-4, max_nfev=200)
        best = found if best is None or found.cost < best.cost else best
    print(f"{name}: rms {READING_ERROR * np.sqrt(np.mean(best.fun**2)):.3f} MPa, {np.exp(best.x)}", file=sys.stderr)
    return film_text(np.exp(best.x), name, fitted_to)


def main():
    name, what = "HDPE, from one rate", "loading at 1e-4 1/s and relaxation at 4.9 % strain"
    (FOLDER / "one_rate.toml").write_text(fit(one_rate_errors, name, what), encoding="utf-8")
    name, what = "HDPE, from three rates", "loading at three rates up to a true strain of 0.105"
    (FOLDER / "rates.toml").write_text(fit(rates_errors, name, what), encoding="utf-8")


if __name__ == "__main__":
    main()
