# SPDX-License-Identifier: BSD-3-Clause
"""Thirty days on a rigid load at 23 and 38 degC, against the published mean loss of two 20.3 um films."""

import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
FILM = common.FILMS / "general-film.toml"


def run(command):
    thirty_days = common.script(FOLDER / "losses.py")
    low = thirty_days.LOW_FORCE
    cold = thirty_days.losses(command, FILM, low)
    warm = thirty_days.losses(command, FILM, low, warm=True)
    force = thirty_days.neutral_force(command, FILM)
    neutral = thirty_days.losses(command, FILM, force)
    neutral_warm = thirty_days.losses(command, FILM, force, warm=True)
    more = warm.from_end - cold.from_end
    return [
        LIMITS.row(
            "calibrated", "loss in 30 d at 23 degC, from the end of wrapping (shaped)", 26.0, cold.from_end, "%"
        ),
        common.information("same, from 1 min", 26.0, cold.from_minute, "%"),
        common.information("same, from 1 h", 26.0, cold.from_hour, "%"),
        LIMITS.row("early", "share of that loss within 2 h", None, cold.early_share, ""),
        LIMITS.row("warm", "loss in 30 d at 38 degC, from the end of wrapping at 23 degC", 41.0, warm.from_end, "%"),
        LIMITS.condition("order", "loss at 38 degC against 23 degC", "more", f"{more:+.1f} points", more > 0.0),
        common.information("force for neutral stretch (250 % on the load)", None, force, "N"),
        LIMITS.row(
            "neutral", "neutral stretch: loss at 23 degC, from the end of wrapping", 26.0, neutral.from_end, "%"
        ),
        common.information("same, from 1 min", 26.0, neutral.from_minute, "%"),
        common.information("same, from 1 h", 26.0, neutral.from_hour, "%"),
        LIMITS.row("early", "neutral stretch: share of the loss within 2 h", None, neutral.early_share, ""),
        LIMITS.row(
            "neutral_warm",
            "neutral stretch: loss at 38 degC, from the end of wrapping",
            41.0,
            neutral_warm.from_end,
            "%",
        ),
    ]
