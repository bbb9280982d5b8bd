# SPDX-License-Identifier: BSD-3-Clause
"""A first prediction from Python: read, predict, look, change one thing, save.

python first_prediction.py [folder for the picture and the result file]
"""

import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

import hoopfield as hf  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent


def main(folder="."):
    out = pathlib.Path(folder)
    scenario = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml")
    result = hf.predict(scenario)

    for name in result.stations:
        end, stored = result.containment.end[name], result.containment.after_storage[name]
        print(
            f"{name:>6}: {end.hoop_tension:6.1f} N/m at the end, {stored.hoop_tension:6.1f} N/m after storage, "
            f"pull force {stored.pull_force:5.1f} N"
        )
    for warning in result.warnings:
        print(f"{warning.severity}: {warning.text}")

    # One thing changed: texts carry units, numbers are SI.
    firmer = hf.predict(scenario.replace({"delivery.tension.force": "80 N"}))
    gain = firmer.containment.after_storage.middle.hoop_tension / result.containment.after_storage.middle.hoop_tension
    print(f"80 N instead of 70 N: {gain - 1:+.0%} hoop tension in the middle after storage")

    figure, axes = plt.subplots(2, 2, figsize=(13, 9), layout="constrained")
    result.plot.containment(axes[0, 0])
    result.plot.buildup(axes[0, 1])
    result.plot.face_map("after_storage", axes[1, 0])
    result.plot.over_time(axes[1, 1])
    figure.savefig(out / "first_prediction.png", dpi=100)
    result.save(out / "first_prediction.h5", overwrite=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
