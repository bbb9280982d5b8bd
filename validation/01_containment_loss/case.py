# SPDX-License-Identifier: BSD-3-Clause
"""Thirty days on a rigid load at 23 and 38 degC, against the published mean loss of two 20.3 um films."""

import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
SCENARIO = (FOLDER / "scenario.toml").read_text(encoding="utf-8")
FILM = common.FILMS / "general-film.toml"
LOW_FORCE = 62.0  # N, film pulled back a little on the load: the state the film was shaped for
DAY = 86400.0


def predict(command, force, duration, warm=False):
    """Mean hoop tension at mid height at the end of wrapping and after `duration` s, and the stretch on the load."""
    knots = '[["0 s", "23 degC"]]'
    if warm:
        knots = '[["0 s", "23 degC"], ["10 min", "38 degC"]]'
    text = SCENARIO.replace("@FORCE@", f"{force:.6g} N").replace("@DURATION@", f"{duration:.9g} s")
    text = text.replace("@TEMPERATURE@", knots)
    result = common.predict_text(command, text, [FILM])
    both = [result["containment"][time]["middle"]["hoop_tension_N_per_m"] for time in ("end", "after_storage")]
    return both[0], both[1], result["film"]["stretch_on_load_percent"]


def neutral_force(command, prestretch):
    """Force at which stretch on the load equals the pre-stretch ("neutral"), by bisection."""
    low, high = LOW_FORCE, 250.0
    for _ in range(14):
        middle = 0.5 * (low + high)
        try:
            stretch = predict(command, middle, 1.0)[2]
        except common.CommandFailed:  # the film cannot carry so much
            stretch = float("inf")
        low, high = (middle, high) if stretch < prestretch else (low, middle)
    return low


def losses(command, force, warm=False):
    """Loss (%) after thirty days from the end of wrapping, from 1 min and 1 h; share of the first lost in 2 h."""
    start, last, _ = predict(command, force, 30 * DAY, warm)
    early = {name: predict(command, force, t)[1] for name, t in (("min", 60.0), ("hour", 3600.0), ("2h", 7200.0))}
    firsts = {"end": start, "min": early["min"], "hour": early["hour"]}
    loss = {name: 100.0 * (1.0 - last / first) for name, first in firsts.items()}
    return loss, (start - early["2h"]) / (start - last)


def run(command):
    cold, early_share = losses(command, LOW_FORCE)
    warm, _ = losses(command, LOW_FORCE, warm=True)
    force = neutral_force(command, 250.0)
    neutral, neutral_early = losses(command, force)
    neutral_warm, _ = losses(command, force, warm=True)
    return [
        LIMITS.row("calibrated", "loss in 30 d at 23 degC, from the end of wrapping (shaped)", 26.0, cold["end"], "%"),
        common.information("same, from 1 min", 26.0, cold["min"], "%"),
        common.information("same, from 1 h", 26.0, cold["hour"], "%"),
        LIMITS.row("early", "share of that loss within 2 h", None, early_share, ""),
        LIMITS.row("warm", "loss in 30 d at 38 degC, from the end of wrapping at 23 degC", 41.0, warm["end"], "%"),
        LIMITS.condition(
            "order",
            "loss at 38 degC against 23 degC",
            "more",
            f"{warm['end'] - cold['end']:+.1f} points",
            warm["end"] > cold["end"],
        ),
        common.information("force for neutral stretch (250 % on the load)", None, force, "N"),
        LIMITS.row("neutral", "neutral stretch: loss at 23 degC, from the end of wrapping", 26.0, neutral["end"], "%"),
        common.information("same, from 1 min", 26.0, neutral["min"], "%"),
        common.information("same, from 1 h", 26.0, neutral["hour"], "%"),
        LIMITS.row("early", "neutral stretch: share of the loss within 2 h", None, neutral_early, ""),
        LIMITS.row(
            "neutral_warm", "neutral stretch: loss at 38 degC, from the end of wrapping", 41.0, neutral_warm["end"], "%"
        ),
    ]
