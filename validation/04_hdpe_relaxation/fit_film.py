#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Fits the Prony set of film.toml to the odd points of data.csv and prints the film file.

    python3 fit_film.py > film.toml

Six times, one a decade from 0.1 s to 1e4 s, and a rest; see prony_moduli in common.py.
"""

import pathlib
import sys

FOLDER = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(FOLDER.parent))
import common  # noqa: E402

TIMES = [10.0**k for k in range(-1, 5)]


def fitted_film():
    data = common.read_columns(FOLDER / "data.csv")
    points = list(zip(data["time_s"], data["modulus_MPa"]))[0::2]
    return common.prony_film_text(
        "HDPE of the relaxation data, small strain",
        950,
        common.prony_moduli(points, TIMES),
        TIMES,
        "Written by fit_film.py: Prony set fitted to the odd points of data.csv. For this case only.",
        "odd points of data.csv",
    )


if __name__ == "__main__":
    print(fitted_film(), end="")
