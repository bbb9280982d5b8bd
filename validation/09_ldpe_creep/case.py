# SPDX-License-Identifier: BSD-3-Clause
"""LDPE: relaxation fitted, creep and a cyclic test predicted, by the linear law and by Eyring branches."""

import math
import pathlib
import sys

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
NEEDS_PACKAGE = True
FIRST_CREEP = 5.0  # s; the load is still rising before
KIND = {"linear": "linear", "eyring_small": "Eyring, relaxation at 0.1 %", "eyring_strained": "Eyring, at 0.8 %"}
STRAIN = {"linear": "0.1 %", "eyring_small": "0.1 %", "eyring_strained": "0.8 %"}  # of the relaxation


def film_of(name):
    return FOLDER / f"{name}.toml"


def held(curve):
    """Times of the hold and index of its first point: loading takes microseconds at the rate used here."""
    start = next(i for i, t in enumerate(curve["time_s"]) if t > 1e-3)
    return curve["time_s"][start:], start


def errors(times, values, reference):
    """Relative errors of a curve, interpolated in the logarithm of time, at the points (t, value) of the reference."""
    logs = [math.log(t) for t in times]
    return [common.interpolated(logs, values, math.log(t)) / value - 1.0 for t, value in reference]


def relaxation_errors(command, name):
    """Of true stress over log strain, against relaxation.csv."""
    data = common.read_columns(FOLDER / "relaxation.csv")
    hold = f"{data['time_s'][-1] * 1.01:.6g} s"
    film, strain = film_of(name), STRAIN[name]
    curve = common.film_test(command, film, "relaxation", stretch=strain, rate="10000 1/s", hold=hold)["curve"]
    times, start = held(curve)
    stretch = 1.0 + 0.01 * curve["stretch_percent"][-1]
    moduli = [s * stretch / math.log(stretch) for s in curve["stress_MPa"][start:]]
    return errors(times, moduli, zip(data["time_s"], data["modulus_MPa"]))


def creep_errors(command, name, stress):
    """Of strain over stress (MPa), against creep.csv from 5 s on."""
    data = common.read_columns(FOLDER / "creep.csv")
    points = [p for p in zip(data["time_s"], data["compliance_1_GPa"]) if p[0] >= FIRST_CREEP]
    hold = f"{points[-1][0] * 1.01:.6g} s"
    curve = common.film_test(
        command, film_of(name), "creep", stress=f"{stress:g} MPa", rate="10000 1/s", hold=hold
    )["curve"]  # fmt: skip
    times, start = held(curve)
    return errors(times, [10.0 * s / stress for s in curve["stretch_percent"][start:]], points)  # % per MPa to 1/GPa


def percent_rms(values):
    return 100.0 * common.root_mean_square(values)


def step_rows(command):
    """Fit of the relaxation and prediction of the creep, all through the command."""
    text = film_of("linear").read_text(encoding="utf-8")
    same = text == common.script(FOLDER / "fit_linear.py").fitted_film()
    rows = [
        LIMITS.condition(
            "refit", "linear.toml is what fit_linear.py writes", "same", "same" if same else "differs", same
        )
    ]
    for name, kind in KIND.items():
        fitted = percent_rms(relaxation_errors(command, name))
        rows.append(LIMITS.row("relaxation", f"{kind}: relaxation, rms (fitted)", None, fitted, "%"))
    linear = creep_errors(command, "linear", 0.1)
    rows.append(LIMITS.row("creep", "linear: creep 5 to 311 s, rms (predicted)", None, percent_rms(linear), "%"))
    rows.append(LIMITS.row("creep_bias", "same, bias", 0.0, 100.0 * sum(linear) / len(linear), "%"))
    for name in ("eyring_small", "eyring_strained"):
        for stress in (0.1, 1.0, 1.5):
            value = percent_rms(creep_errors(command, name, stress))
            title = f"{KIND[name]}: creep if its stress was {stress:g} MPa, rms (predicted)"
            rows.append(common.information(title, None, value, "%"))
    return rows


def cyclic_rows(package):
    """Answers to the measured strain at 0.05 Hz."""
    sys.path.insert(0, str(FOLDER))
    import cyclic

    measured = cyclic.measured_answer()
    rows = [
        common.information(
            "measured: amplitude of strain", None, 100.0 * abs(cyclic.harmonics(*cyclic.measured()[:2])[0]), "%"
        ),
        common.information("measured: phase", None, measured.phase, "deg"),
        common.information("measured: storage modulus", None, measured.storage, "MPa"),
    ]
    for name, kind in KIND.items():
        ours = cyclic.predicted_answer(package.Film.read(film_of(name)))
        how = "predicted" if name == "linear" else "fitted"
        loss_how = "strain of the relaxation chosen for it" if name == "eyring_strained" else "predicted"
        rows.append(LIMITS.row("size", f"{kind}: size of the cyclic modulus ({how})", measured.size, ours.size, "MPa"))
        rows.append(LIMITS.row(f"loss_{name}", f"{kind}: loss modulus ({loss_how})", measured.loss, ours.loss, "MPa"))
        rows.append(common.information(f"{kind}: phase", measured.phase, ours.phase, "deg"))
        title = f"{kind}: third harmonic of the stress over its first"
        rows.append(common.information(title, measured.third, ours.third, "%"))
    return rows


def run(command):
    return step_rows(command) + cyclic_rows(common.find_package(command))
