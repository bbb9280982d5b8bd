# SPDX-License-Identifier: BSD-3-Clause
"""Writes the curves of this folder: one virtual tensile test of the illustrative general film, in the shapes in which
laboratories hand curves over. Not measured, and no instrument's format.

Usage: python make_curves.py HOOPFIELD FOLDER
"""

import json
import math
import pathlib
import random
import subprocess
import sys

FILM = pathlib.Path(__file__).parents[2] / "models/parameters/films/general-film.toml"
WIDTH, THICKNESS, GRIPS = 25.0, 0.023, 50.0  # mm
RATE, ROWS, END = 0.167, 1000, 2.4  # 1/s, and strain of the last row
SLACK, ROUNDING = 0.4, 0.02  # mm: travel before the strip is straight, and how gently it becomes so
NOISE = 0.005

REMARKS = [
    "# illustrative: computed from an illustrative film, with 0.5 % noise; not measured",
    "# kind: tensile",
    "# width: 25 mm",
    "# thickness: 23 um",
    "# grip distance: 50 mm",
    "# temperature: 23 degC",
    "# machine compliance: 0 um/N",
]


def virtual_test(command: str) -> tuple[list[float], list[float]]:
    """Strain and force (N) of the film."""
    options = ["--rate", f"{RATE} 1/s", "--stretch", f"{100 * END:g} %", "--json"]
    done = subprocess.run([command, "film", "test", str(FILM), *options], check=True, capture_output=True, text=True)
    curve = json.loads(done.stdout)["curve"]
    return [s / 100 for s in curve["stretch_percent"]], [s * WIDTH * THICKNESS for s in curve["stress_MPa"]]


def force_at(strain: float, strains: list[float], forces: list[float]) -> float:
    i = 1
    while i + 1 < len(strains) and strains[i] < strain:
        i += 1
    share = (strain - strains[i - 1]) / (strains[i] - strains[i - 1])
    return forces[i - 1] + share * (forces[i] - forces[i - 1])


def rows(curve, seed: int, slack: float = 0.0) -> list[tuple[float, float, float]]:
    """Time (s), travel of the grips (mm) and force (N) at even times."""
    noise = random.Random(seed)
    table = []
    for i in range(ROWS):
        travel = END * GRIPS * i / (ROWS - 1)
        straight = travel - slack
        if slack > 0 and straight < 30 * ROUNDING:
            straight = ROUNDING * math.log1p(math.exp(straight / ROUNDING))
        force = force_at(straight / GRIPS, *curve) * (1 + NOISE * noise.gauss(0, 1)) + 0.002 * noise.gauss(0, 1)
        table.append((travel / GRIPS / RATE, travel, force))
    return table


def write(path: pathlib.Path, lines: list[str], encoding: str = "utf-8") -> None:
    path.write_bytes(("\n".join(lines) + "\n").encode(encoding))


def main(command: str, folder: str) -> None:
    out = pathlib.Path(folder)
    curve = virtual_test(command)
    # Semicolons, decimal commas, free lines above, a row of units, ISO-8859-1.
    lines = ["Zugversuch, Probe 1", "Prüfer: A", "", *REMARKS, "Prüfzeit;Traversenweg;Zugkraft", "s;mm;N"]
    lines += [f"{t:.3f};{x:.3f};{f:.4f}".replace(".", ",") for t, x, f in rows(curve, 1)]
    write(out / "german.csv", lines, "iso-8859-1")
    # The strip hangs slack between the clamps.
    lines = [*REMARKS, "Time (s),Extension (mm),Load (N)"]
    lines += [f"{t:.3f},{x:.3f},{f:.4f}" for t, x, f in rows(curve, 2, SLACK)]
    write(out / "slack.csv", lines)
    # One sample of the force is wrong.
    table = rows(curve, 3)
    table[400] = (*table[400][:2], 0.3)
    lines = [*REMARKS, "Temps [s]\tDéformation [%]\tForce [N]"]
    lines += [f"{t:.3f}\t{100 * x / GRIPS:.4f}\t{f:.4f}" for t, x, f in table]
    write(out / "spike.csv", lines)
    # The machine counts pull as negative.
    lines = [*REMARKS, "Tiempo / s;Alargamiento / mm;Fuerza / N"]
    lines += [f"{t:.3f};{x:.3f};{-f:.4f}" for t, x, f in rows(curve, 4)]
    write(out / "negative.csv", lines)
    # Two columns of numbers and nothing else.
    write(out / "bare.txt", [f"{x:.3f},{f:.4f}" for _, x, f in rows(curve, 5)])


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
