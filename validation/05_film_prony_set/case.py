# SPDX-License-Identifier: BSD-3-Clause
"""A published Prony set through the linear film law, against its closed form and the master curve it was fitted to."""

import math
import pathlib
import tempfile

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
INSTANT_MODULUS = 1739.03  # MPa, from the source
WINDOW = (0.5, 2e6)  # relaxation times carried by branches, s
NEVER = 1e15  # relaxation time of what does not relax within the window, s


def closed_form(shares, times, at):
    """All 31 terms; the rest of E0 never relaxes."""
    return INSTANT_MODULUS * (1.0 - sum(s * -math.expm1(-at / tau) for s, tau in zip(shares, times)))


def film_text(shares, times):
    """Seven branches in the window and an eighth for everything slower; faster terms are gone by exp(-11)."""
    branches = [(s, tau) for s, tau in zip(shares, times) if WINDOW[0] < tau < WINDOW[1]]
    elastic = 1.0 - sum(s for s, tau in zip(shares, times) if tau < WINDOW[1])
    lines = ['name = "published film Prony set"', 'law = "maxwell"', 'density = "1000 kg/m^3"', "neck_in = 0.5"]
    for share, tau in [*branches, (elastic, NEVER)]:
        lines += ["[[branch]]", f'modulus = "{INSTANT_MODULUS * share:.9g} MPa"', f'relaxation_time = "{tau:g} s"']
    return "\n".join(lines + ["[provenance]", 'source = "NREL/pyvisco, see card.md"', "illustrative = false", ""])


def run(command):
    prony = common.read_columns(FOLDER / "prony.csv")
    curve = common.read_columns(FOLDER / "master_curve.csv")
    shares, times = prony["relative_modulus"], prony["relaxation_time_s"]
    with tempfile.TemporaryDirectory() as folder:
        film = pathlib.Path(folder) / "film.toml"
        film.write_text(film_text(shares, times), encoding="utf-8")
        modulus = common.relaxation_modulus(command, film)
        rows = [
            LIMITS.row("closed_form", f"E({at:g} s)", closed_form(shares, times, at), modulus(at), "MPa")
            for at in (1.1662258, 59.0, 1090.5266)
        ]
        errors = [modulus(t) / e - 1.0 for t, e in zip(curve["time_s"], curve["modulus_MPa"])]
    bias, rms = 100.0 * sum(errors) / len(errors), 100.0 * common.root_mean_square(errors)
    rows.append(LIMITS.row("curve_bias", f"bias against {len(errors)} points of the master curve", 0.0, bias, "%"))
    rows.append(LIMITS.row("curve_rms", "rms relative error against them", None, rms, "%"))
    return rows
