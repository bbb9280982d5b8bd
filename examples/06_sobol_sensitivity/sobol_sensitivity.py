# SPDX-License-Identifier: BSD-3-Clause
"""Which inputs the containment depends on: Sobol indices with SALib over the ranges of what is not known well.

    python sobol_sensitivity.py [folder for the picture] [base samples, a power of two]

Needs SALib (pip install SALib).
"""

import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402
import numpy as np  # noqa: E402
from SALib.analyze import sobol as analyze  # noqa: E402
from SALib.sample import sobol as sample  # noqa: E402

import hoopfield as hf  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent
RANGES = {
    "delivery.tension.force": ("60 N", "80 N"),
    "delivery.prestretch": ("235 %", "265 %"),
    "film.thickness": ("21.85 um", "24.15 um"),
    "load.stiffness_along_length": ("100 kPa", "400 kPa"),
    "load.stiffness_along_width": ("75 kPa", "300 kPa"),
    "load.creep_per_decade": ("2 %", "10 %"),
}
QUANTITY = "containment.after_storage.middle.hoop_tension"


def main(folder=".", base="128"):
    scenario = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml").replace({"numerics.slices": 15})
    problem = hf.sweep_problem(RANGES)
    points = sample.sample(problem, int(base), calc_second_order=False, seed=1)
    table = {
        name: hf.with_unit(column, unit)
        for name, unit, column in zip(problem["names"], problem["units"], points.T, strict=True)
    }
    data = hf.sweep(scenario, table, sampling="table", outputs=QUANTITY)
    values = data[QUANTITY].values
    if not np.isfinite(values).all():
        raise SystemExit(f"{int((data['status'] != 0).sum())} cases failed: {set(data['message'].values) - {''}}")
    indices = analyze.analyze(problem, values, calc_second_order=False, seed=1)

    order = np.argsort(indices["ST"])
    for i in order[::-1]:
        print(
            f"{problem['names'][i]:>28}: first order {indices['S1'][i]:5.2f} +- {indices['S1_conf'][i]:.2f}, "
            f"total {indices['ST'][i]:5.2f} +- {indices['ST_conf'][i]:.2f}"
        )
    print(
        f"hoop tension in the middle after storage: {values.mean():.0f} N/m, standard deviation {values.std():.0f} N/m"
    )

    figure, ax = plt.subplots(figsize=(8, 4.4), layout="constrained")
    place = np.arange(len(order))
    ax.barh(
        place + 0.2, indices["S1"][order], 0.38, xerr=indices["S1_conf"][order], color="#0072B2", label="first order"
    )
    ax.barh(place - 0.2, indices["ST"][order], 0.38, xerr=indices["ST_conf"][order], color="#E69F00", label="total")
    ax.set_yticks(place, [problem["names"][i] for i in order])
    ax.set_xlabel("Share of the variance (bars: 95 % of bootstrap)")
    ax.set_title("Sobol indices of the hoop tension in the middle after storage, 1", loc="left", fontsize="medium")
    ax.legend(frameon=False, loc="lower right")
    ax.spines[["top", "right"]].set_visible(False)
    figure.savefig(pathlib.Path(folder) / "sobol_sensitivity.png", dpi=100)


if __name__ == "__main__":
    main(*sys.argv[1:])
