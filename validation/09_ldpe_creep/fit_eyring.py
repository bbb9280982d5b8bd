#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Fits Eyring branches to relaxation.csv at an assumed strain and to one number of cyclic.csv; writes two film files.

    PYTHONPATH=build/ci/bindings/python python3 fit_eyring.py            # eyring_small.toml and eyring_strained.toml
    PYTHONPATH=build/ci/bindings/python python3 fit_eyring.py --table    # prints other strains, writes nothing

Needs the Python package of this project, NumPy and SciPy. Eight branches E_k, r_k, Y_k with one critical strain
e = Y_k/E_k for all and r_k = e/tau_k, tau_k two a decade: at strains far below e the branch is a Maxwell branch of time
tau_k. For a given e the moduli (and the network) are fitted to the relaxation modulus at the assumed strain; e itself
is the one that gives the size |E*| of the cyclic modulus. Its phase is left to be predicted.
"""

import argparse
import pathlib
import sys

import numpy as np
from scipy.optimize import brentq, least_squares

import hoopfield as hf

FOLDER = pathlib.Path(__file__).resolve().parent
sys.path[:0] = [str(FOLDER.parent), str(FOLDER)]
import common  # noqa: E402
import cyclic  # noqa: E402

STRAINS = {"eyring_small.toml": 0.001, "eyring_strained.toml": 0.008}
BRANCHES, POINTS = 8, 40


def relaxation_points():
    """Times even in the logarithm and the measured modulus there, MPa."""
    data = common.read_columns(FOLDER / "relaxation.csv")
    times = np.geomspace(data["time_s"][0], data["time_s"][-1], POINTS)
    return times, np.exp(np.interp(np.log(times), np.log(data["time_s"]), np.log(data["modulus_MPa"])))


def film_text(moduli, critical, times, strain):
    lines = [
        f"# Written by fit_eyring.py: relaxation.csv taken as measured at {100 * strain:g} % strain,",
        "# critical strain from the size of the cyclic modulus. For this case only.",
        f'name = "LDPE, Eyring branches, relaxation at {100 * strain:g} % strain"',
        'law = "eyring-network"',
        'density = "920 kg/m^3"   # assumed; plays no part here',
        "neck_in = 0.5",
        'reference_temperature = "23 degC"   # not stated in the source; plays no part here',
        "[network]",
        f'modulus = "{moduli[0] / 3.0:.6g} MPa"',
        "stretch_limit = 1000.0",
    ]
    for modulus, time in zip(moduli[1:], times):
        lines += ["[[branch]]", f'modulus = "{modulus:.6g} MPa"', f'reference_rate = "{critical / time:.6g} 1/s"']
        lines += [f'flow_stress = "{modulus * critical:.6g} MPa"']
    lines += [
        "[provenance]",
        'source = "fit to published data, see card.md"',
        "illustrative = false",
        f'fitted_to = "relaxation.csv at an assumed strain of {100 * strain:g} %, size of the cyclic modulus"',
    ]
    return "\n".join(lines) + "\n"


def fit_moduli(strain, critical):
    """Text of the film whose moduli meet the relaxation for this critical strain, and the rms relative error."""
    times, measured = relaxation_points()
    # sinh flow at the assumed strain shortens a branch's time by about sinh(x)/x: the times are set longer by that.
    x = strain / critical
    taus = 10.0 ** (0.5 * np.arange(-1, BRANCHES - 1)) * np.sinh(x) / x
    path = np.concatenate([[0.0], times])

    def text(logs):
        return film_text(np.exp(logs), critical, taus, strain)

    def errors(logs):
        stress = hf.Film.from_text(text(logs)).follow(path, np.full(path.size, strain))[1:]
        return 1e-6 * stress * (1.0 + strain) / np.log1p(strain) / measured - 1.0

    start = np.log(np.concatenate([[135.0], np.full(BRANCHES, 20.0)]))
    found = least_squares(errors, start, bounds=(np.log(0.05), np.log(1000.0)), max_nfev=100, diff_step=1e-4)
    return text(found.x), float(np.sqrt(np.mean(found.fun**2)))


def fit(strain):
    """Text of the film, rms of the relaxation and critical strain; ValueError when no critical strain meets |E*|."""
    wanted = cyclic.measured_answer().size

    def excess(log_critical):
        return cyclic.predicted_answer(hf.Film.from_text(fit_moduli(strain, np.exp(log_critical))[0])).size - wanted

    critical = np.exp(brentq(excess, np.log(0.0012), np.log(0.006), xtol=1e-4))
    return *fit_moduli(strain, critical), critical


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--table", action="store_true", help="print a row for each of several strains")
    if not parser.parse_args().table:
        for name, strain in STRAINS.items():
            (FOLDER / name).write_text(fit(strain)[0], encoding="utf-8")
        return
    for strain in (0.001, 0.003, 0.005, 0.006, 0.007, 0.008, 0.009, 0.01, 0.012):
        try:
            text, rms, critical = fit(strain)
        except ValueError:
            print(f"{100 * strain:g} %: no critical strain gives the measured size")
            continue
        a = cyclic.predicted_answer(hf.Film.from_text(text))
        print(
            f"{100 * strain:g} %: critical {100 * critical:.3f} %, rms {100 * rms:.2f} %, |E*| {a.size:.1f}, ", end=""
        )
        print(f"storage {a.storage:.1f}, loss {a.loss:.1f} MPa, third harmonic {a.third:.2f} %")


if __name__ == "__main__":
    main()
