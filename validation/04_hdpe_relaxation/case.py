# SPDX-License-Identifier: BSD-3-Clause
"""Measured HDPE relaxation through the linear film law with a Prony set fitted to every other point."""

import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)


def run(command):
    data = common.read_columns(FOLDER / "data.csv")
    points = list(zip(data["time_s"], data["modulus_MPa"]))
    committed = (FOLDER / "film.toml").read_text(encoding="utf-8")
    modulus = common.relaxation_modulus(command, FOLDER / "film.toml")
    errors = [modulus(t) / e - 1.0 for t, e in points]
    same = committed == common.script(FOLDER / "fit_film.py").fitted_film()
    rms = [100.0 * common.root_mean_square(errors[start::2]) for start in (0, 1)]
    return [
        LIMITS.condition("refit", "film.toml is what fit_film.py writes", "same", "same" if same else "differs", same),
        LIMITS.row("rms_fitted", "rms relative error, 36 fitted points", None, rms[0], "%"),
        LIMITS.row("rms_held_back", "rms relative error, 35 points held back", None, rms[1], "%"),
        LIMITS.row("bias", "bias, all points", 0.0, 100.0 * sum(errors) / len(errors), "%"),
        LIMITS.row("worst", "worst point", None, 100.0 * max(abs(e) for e in errors), "%"),
    ]
