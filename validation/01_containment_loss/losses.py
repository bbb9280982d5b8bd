# SPDX-License-Identifier: BSD-3-Clause
"""Thirty days on a rigid load at 23 and 38 degC: the state and the losses of one film, for every case that asks."""

import pathlib
from dataclasses import dataclass

import common

SCENARIO = (pathlib.Path(__file__).resolve().parent / "scenario.toml").read_text(encoding="utf-8")
LOW_FORCE = 62.0  # N, film pulled back a little on the load: the state the general film was shaped for
PRESTRETCH = 250.0  # percent, as in scenario.toml
DAY = 86400.0


@dataclass
class Losses:
    """Loss (%) of mean hoop tension at mid height in thirty days from three first readings."""

    from_end: float
    from_minute: float
    from_hour: float
    early_share: float  # of the first, lost in 2 h
    stretch_on_load: float  # percent


def predict(command, film, force, duration, warm=False):
    """Mean hoop tension at mid height at the end of wrapping and after `duration` s, and the stretch on the load."""
    knots = '[["0 s", "23 degC"]]'
    if warm:
        knots = '[["0 s", "23 degC"], ["10 min", "38 degC"]]'
    text = SCENARIO.replace("@FORCE@", f"{force:.6g} N").replace("@DURATION@", f"{duration:.9g} s")
    text = text.replace("@TEMPERATURE@", knots).replace("@FILM@", film.name)
    result = common.predict_text(command, text, [film], "--band-samples", "0")
    both = [result["containment"][time]["middle"]["hoop_tension_N_per_m"] for time in ("end", "after_storage")]
    return both[0], both[1], result["film"]["stretch_on_load_percent"]


def neutral_force(command, film):
    """Force at which stretch on the load equals the pre-stretch ("neutral"), by bisection."""
    low, high = LOW_FORCE, 250.0
    for _ in range(14):
        middle = 0.5 * (low + high)
        try:
            stretch = predict(command, film, middle, 1.0)[2]
        except common.CommandFailed:  # the film cannot carry so much
            stretch = float("inf")
        low, high = (middle, high) if stretch < PRESTRETCH else (low, middle)
    return low


def losses(command, film, force, warm=False):
    start, last, stretch = predict(command, film, force, 30 * DAY, warm)
    minute, hour, two_hours = (predict(command, film, force, t)[1] for t in (60.0, 3600.0, 7200.0))
    lost = [100.0 * (1.0 - last / first) for first in (start, minute, hour)]
    return Losses(*lost, (start - two_hours) / (start - last), stretch)
