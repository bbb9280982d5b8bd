# SPDX-License-Identifier: BSD-3-Clause
"""Force in the span over a turn, and the force each face keeps, from the tables of `hoopfield predict --csv`.

    hoopfield predict scenario.toml --csv tables
    python ripple.py tables ripple.png

Needs matplotlib; the hoopfield package is not used.
"""

import csv
import math
import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

COLOURS = {"front": "#0072B2", "left": "#D55E00", "back": "#56B4E9", "right": "#E69F00"}
MARKERS = {"front": "o", "left": "s", "back": "^", "right": "D"}


def table(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def main(folder, picture):
    span = table(pathlib.Path(folder) / "span.csv")
    faces = table(pathlib.Path(folder) / "faces.csv")
    angle = [math.degrees(float(row["angle_rad"])) for row in span]
    force = [float(row["force_N"]) for row in span]

    figure, (left, right) = plt.subplots(1, 2, figsize=(11, 4.4), layout="constrained", sharey=True)
    left.plot(angle, force, color="#0072B2", linewidth=2)
    left.set(xlabel="Rotation, degrees", ylabel="Force, N", xlim=(0, 360), xticks=range(0, 361, 45))
    left.set_title("Force in the span over one settled turn, N", loc="left", fontsize="medium")

    for face, colour in COLOURS.items():
        rows = [row for row in faces if row["face"] == face]
        right.plot(
            [float(row["face_turn"]) for row in rows],
            [float(row["face_force_N"]) for row in rows],
            MARKERS[face],
            color=colour,
            markersize=5,
            label=face,
        )
    right.set(xlabel="Turns since the start")
    right.set_title("Force each face keeps when it is laid, N", loc="left", fontsize="medium")
    right.legend(frameon=False, ncols=4, loc="upper center", bbox_to_anchor=(0.5, -0.14), fontsize="small")
    for axes in (left, right):
        axes.grid(True, color="0.9")
        axes.set_axisbelow(True)
        axes.spines[["top", "right"]].set_visible(False)
    figure.savefig(picture, dpi=110)

    print(f"Span force over a turn: {min(force):.1f} to {max(force):.1f} N")
    for face in COLOURS:
        kept = [float(row["face_force_N"]) for row in faces if row["face"] == face][
            1:
        ]  # the first turn starts from rest
        print(f"{face:>5}: {sum(kept) / len(kept):.1f} N kept on average")


if __name__ == "__main__":
    main(*sys.argv[1:3])
