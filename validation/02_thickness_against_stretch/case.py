# SPDX-License-Identifier: BSD-3-Clause
"""Thickness on the load against stretch for film of free width; retained tension against pre-stretch."""

import math
import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
SCENARIO = (FOLDER / "scenario.toml").read_text(encoding="utf-8")
FILM = common.FILMS / "general-film.toml"
ROLL_WIDTH = 500.0  # mm


def laid(command, prestretch, neck_in):
    """Stretch (length over length on the roll) and thickness (share of the roll's) of the film on the load."""
    text = SCENARIO.replace("@PRESTRETCH@", f"{prestretch} %").replace("@NECK_IN@", str(neck_in))
    film = common.predict_text(command, text, [FILM])["film"]
    stretch = 1.0 + film["stretch_on_load_percent"] / 100.0
    return stretch, ROLL_WIDTH / (stretch * film["laid_width_mm"])


def power_law(points):
    """Exponent of thickness against stretch and the largest relative deviation from the fitted line."""
    x, y = [math.log(s) for s, _ in points], [math.log(t) for _, t in points]
    exponent = common.slope(x, y)
    shift = sum(y) / len(y) - exponent * sum(x) / len(x)
    return exponent, max(abs(math.expm1(b - shift - exponent * a)) for a, b in zip(x, y))


def retained(command, stretch):
    """Nominal stress one day after a strip was pulled to a stretch and held, MPa."""
    test = common.film_test(command, FILM, "relaxation", stretch=f"{stretch} %", rate="1 1/s", hold="1 d")
    return test["curve"]["stress_MPa"][-1]


def run(command):
    steps = (50, 100, 150, 200, 250, 300, 350, 400)
    exponent, deviation = power_law([laid(command, p, 0.5) for p in steps])
    held_exponent, _ = power_law([laid(command, p, 0.2) for p in steps])
    kept = [retained(command, p) for p in (100, 200, 300, 400)]
    return [
        LIMITS.row("exponent", "exponent of thickness against stretch, free width, 50 to 400 %", -0.5, exponent, ""),
        LIMITS.row("scatter", "largest deviation from the power law", None, 100.0 * deviation, "%"),
        common.information("exponent with width half held in the gap (0.2)", None, held_exponent, ""),
        LIMITS.condition(
            "order",
            "stress kept after a day at 100, 200, 300, 400 %",
            "rising",
            ", ".join(f"{k:.3g}" for k in kept) + " MPa",
            all(a < b for a, b in zip(kept, kept[1:])),
        ),
    ]
