# SPDX-License-Identifier: BSD-3-Clause
"""One film, calibrated to four published losses, at two forces and two temperatures; and what sort of film it is."""

import pathlib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
FILM = common.FILMS / "four-losses-film.toml"
PUBLISHED = {"23 degC": 26.0, "38 degC": 41.0}  # percent
# Comparison numbers of the command, with their limits: is it still a film of the trade?
NUMBERS = {
    "modulus": ("secant_modulus_MPa", "secant modulus", "MPa"),
    "knee": ("knee_stress_MPa", "knee stress", "MPa"),
    "stress": ("stress_at_250_MPa", "stress at 250 %", "MPa"),
    "set": ("permanent_set_percent", "permanent set a day after 250 %", "%"),
}


def loss_rows(command, thirty_days, force, state):
    rows = []
    for temperature, published in PUBLISHED.items():
        found = thirty_days.losses(command, FILM, force, warm=temperature == "38 degC")
        title = f"{state}: loss in 30 d at {temperature}, from the end of wrapping (fitted)"
        rows.append(LIMITS.row("loss", title, published, found.from_end, "%"))
        rows.append(common.information("same, from 1 min", published, found.from_minute, "%"))
        if temperature == "23 degC":
            rows.append(LIMITS.row("early", f"{state}: share of the loss within 2 h", None, found.early_share, ""))
            stretch = found.stretch_on_load
    return rows, stretch


def number_rows(command):
    numbers = [
        common.run_json(command, "film", "test", film, "--stretch", "250 %", "--numbers")["film_numbers"]
        for film in (FILM, common.FILMS / "general-film.toml")
    ]
    rows = []
    for key, (name, title, unit) in NUMBERS.items():
        ours, general = (n[name] for n in numbers)
        rows.append(LIMITS.row(key, f"{title} (general film: {general:.3g} {unit})", None, ours, unit))
    return rows


def run(command):
    thirty_days = common.script(common.ROOT / "01_containment_loss" / "losses.py")
    low, stretch = loss_rows(command, thirty_days, thirty_days.LOW_FORCE, "below pre-stretch")
    force = thirty_days.neutral_force(command, FILM)
    neutral, _ = loss_rows(command, thirty_days, force, "neutral stretch")
    return [
        common.information("stretch on the load at 62 N", None, stretch, "%"),
        *low,
        common.information("force for neutral stretch (250 % on the load)", None, force, "N"),
        *neutral,
        *number_rows(command),
    ]
