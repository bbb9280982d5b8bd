#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Fits the Prony set of linear.toml to all points of relaxation.csv and prints the film file.

    python3 fit_linear.py > linear.toml

Seven times, two a decade from 0.316 s to 316 s, and a rest; see prony_moduli in common.py.
"""

import pathlib
import sys

FOLDER = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(FOLDER.parent))
import common  # noqa: E402

TIMES = [10.0 ** (0.5 * k) for k in range(-1, 6)]


def fitted_film():
    data = common.read_columns(FOLDER / "relaxation.csv")
    return common.prony_film_text(
        "LDPE of the relaxation data, linear",
        920,
        common.prony_moduli(list(zip(data["time_s"], data["modulus_MPa"])), TIMES),
        TIMES,
        "Written by fit_linear.py: Prony set fitted to relaxation.csv. For this case only.",
        "relaxation.csv",
    )


if __name__ == "__main__":
    print(fitted_film(), end="")
