# SPDX-License-Identifier: BSD-3-Clause
"""Hoop tension against the number of turns, on a rigid load and, as a control that must fail, on a soft one."""

import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
SCENARIO = (FOLDER / "scenario.toml").read_text(encoding="utf-8")
FILM = common.FILMS / "general-film.toml"
RIGID = 'kind = "rigid"'
SOFT = 'stiffness_along_length = "60 kPa"\nstiffness_along_width = "60 kPa"'


def tension(command, turns, load):
    text = SCENARIO.replace("@TURNS@", str(turns)).replace("@LOAD@", load)
    return common.predict_text(command, text, [FILM])["containment"]["end"]["middle"]["hoop_tension_N_per_m"]


def run(command):
    turns = list(range(1, 11))
    rigid = [tension(command, n, RIGID) for n in turns]
    soft = [tension(command, n, SOFT) for n in (1, 10)]
    line = sum(n * s for n, s in zip(turns, rigid)) / sum(n * n for n in turns)
    worst = max(abs(s - line * n) for n, s in zip(turns, rigid)) / rigid[-1]
    ten_of_rigid, ten_of_soft = rigid[-1] / (10.0 * rigid[0]), soft[1] / (10.0 * soft[0])
    return [
        common.information("hoop tension of one turn", None, rigid[0], "N/m"),
        LIMITS.row("proportional", "rigid load: ten turns over ten times one turn", 1.0, ten_of_rigid, ""),
        LIMITS.row("straight", "rigid load: worst distance from a line through zero", None, 100.0 * worst, "%"),
        LIMITS.row("control", "soft load (60 kPa): ten turns over ten times one turn", None, ten_of_soft, ""),
        common.not_comparable(
            "linear in the degree of pre-stretch",
            "in the model the span force is set whatever the "
            "pre-stretch; the source's machine settings were not readable",
        ),
    ]
