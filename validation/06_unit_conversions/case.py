# SPDX-License-Identifier: BSD-3-Clause
"""Units of the trade through the command's reader, and film mass from density, width, thickness and length."""

import math
import pathlib
import tempfile

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
INCH, POUND, GRAVITY = 0.0254, 0.45359237, 9.80665  # m, kg, m/s^2: exact by definition
PSI = POUND * GRAVITY / INCH**2
REFERENCE = {  # key: (written, SI value, SI unit)
    "film.width": ("20 in", 20 * INCH, "m"),
    "film.thickness": ("80 ga", 80e-5 * INCH, "m"),
    "delivery.distance": ("5 ft", 60 * INCH, "m"),
    "delivery.tension.force": ("12 lbf", 12 * POUND * GRAVITY, "N"),
    "rotation.speed": ("12 rpm", 12 * 2 * math.pi / 60, "rad/s"),
    "load.mass": ("1500 lb", 1500 * POUND, "kg"),
    "load.stiffness_along_length": ("30 psi", 30 * PSI, "Pa"),
    "storage.duration": ("2 d", 172800.0, "s"),
}


def predict(command):
    film = (common.FILMS / "general-film.toml").read_text(encoding="utf-8").replace('"920 kg/m^3"', '"0.92 g/cm^3"')
    if '"0.92 g/cm^3"' not in film:
        raise common.CommandFailed("the film file's density line is not the one this case rewrites")
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        (path / "units-film.toml").write_text(film, encoding="utf-8")
        (path / "scenario.toml").write_text((FOLDER / "scenario.toml").read_text(encoding="utf-8"), encoding="utf-8")
        return common.run_json(command, "predict", path / "scenario.toml")


def run(command):
    result = predict(command)
    rows = [
        LIMITS.row("definition", f"{key} = {text}", value, result["inputs"][key]["value"], unit)
        for key, (text, value, unit) in REFERENCE.items()
    ]
    film = result["film"]
    thickness, width, density = 80e-5 * INCH, 20 * INCH, 920.0
    covered = film["length_on_roll_m"] * width / film["mass_kg"]
    return rows + [
        LIMITS.row("yield", "yield of 80 ga film at 0.92 g/cm^3", 1.0 / (density * thickness), covered, "m^2/kg"),
        LIMITS.row(
            "definition",
            "CO2e over film mass, 1.54 t per short ton",
            1.54 / (2000 * POUND / 1000),
            result["cost"]["co2e_low_kg"] / film["mass_kg"],
            "kg/kg",
        ),
    ]
