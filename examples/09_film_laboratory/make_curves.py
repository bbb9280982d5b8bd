# SPDX-License-Identifier: BSD-3-Clause
"""Writes the curves of this folder: virtual tests of the illustrative general film, with the noise of a load cell.

Not measured. Usage: python make_curves.py HOOPFIELD FOLDER
"""

import json
import pathlib
import random
import subprocess
import sys

FILM = pathlib.Path(__file__).parents[2] / "models/parameters/films/general-film.toml"
TESTS = {
    "tensile_slow": (["--rate", "0.017 1/s"], "speed: 50 mm/min"),
    "tensile_fast": (["--rate", "0.167 1/s"], "speed: 500 mm/min"),
    "hold": (
        ["--kind", "relaxation", "--rate", "0.167 1/s", "--stretch", "250 %", "--hold", "24 h"],
        "speed: 500 mm/min",
    ),
    "unloading": (
        ["--kind", "cycle", "--cycles", "1", "--rate", "0.167 1/s", "--stretch", "250 %"],
        "speed: 500 mm/min",
    ),
    "hold_warm": (
        [
            "--kind",
            "relaxation",
            "--rate",
            "0.167 1/s",
            "--stretch",
            "250 %",
            "--hold",
            "1 h",
            "--temperature",
            "40 degC",
        ],
        "speed: 500 mm/min",
    ),
}
WIDTH, THICKNESS, GRIPS = 25.0, 0.023, 50.0  # mm


def main(command: str, folder: str) -> None:
    rng = random.Random(7)
    for name, (options, speed) in TESTS.items():
        answer = json.loads(
            subprocess.run(
                [command, "film", "test", str(FILM), "--json", *options], check=True, capture_output=True, text=True
            ).stdout
        )
        curve = answer["curve"]
        lines = [
            "# illustrative: computed from an illustrative film, with 0.5 % noise; not measured",
            f"# kind: {answer['kind']}",
            f"# width: {WIDTH:g} mm",
            f"# thickness: {THICKNESS * 1e3:g} um",
            f"# grip distance: {GRIPS:g} mm",
            "# machine compliance: 0 um/N",
            f"# {speed}",
            f"# temperature: {answer['temperature_C']:g} degC",
            "time_s,displacement_mm,force_N",
        ]
        for time, stretch, stress in zip(curve["time_s"], curve["stretch_percent"], curve["stress_MPa"]):
            force = stress * WIDTH * THICKNESS * (1 + 0.005 * rng.gauss(0, 1))
            lines.append(f"{time:.4f},{stretch / 100 * GRIPS:.4f},{force:.4f}")
        (pathlib.Path(folder) / f"{name}.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
