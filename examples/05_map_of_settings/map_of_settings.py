# SPDX-License-Identifier: BSD-3-Clause
"""A map of force, pre-stretch and rotation speed to containment, with the line where a target is met.

python map_of_settings.py [folder for the picture] [values per axis]
"""

import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402
import numpy as np  # noqa: E402

import hoopfield as hf  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent
TARGET = 550.0  # N/m after storage in the middle; a wish for this picture, not a requirement


def main(folder=".", count="9"):
    n = int(count)
    # The six lines: everything below them is the picture.
    sc = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml")
    ds = hf.sweep(
        sc,
        {
            "delivery.tension.force": np.linspace(40.0, 100.0, n),
            "delivery.prestretch": hf.with_unit(np.linspace(150, 280, n), "%"),
            "rotation.speed": ["6 rpm", "12 rpm", "24 rpm"],
        },
        outputs=["containment", "film"],
    )
    print(f"{ds.sizes['case']} cases, {int((ds['status'] == 1).sum())} failed")
    meets = ds.where(ds["containment.after_storage.middle.hoop_tension"] >= TARGET, drop=True)

    if meets.sizes["case"]:
        least = meets.isel(case=int(np.argmin(meets["film.mass"].values)))
        print(
            f"least film that meets {TARGET:.0f} N/m: {float(least['film.mass']) * 1e3:.0f} g at "
            f"{float(least['delivery.tension.force']):.0f} N, pre-stretch {float(least['delivery.prestretch']):.0%}, "
            f"{hf.to_unit(float(least['rotation.speed']), 'rpm'):.0f} rpm"
        )

    figure, axes = plt.subplots(1, 3, figsize=(15, 4.8), layout="constrained", sharey=True)
    z = ds["containment.after_storage.middle.hoop_tension"]
    for ax, speed in zip(axes, np.unique(ds["rotation.speed"])):
        hf.plot.sweep_map(
            ds,
            "delivery.tension.force",
            "delivery.prestretch",
            where={"rotation.speed": speed},
            target=TARGET,
            ax=ax,
            vmin=float(z.min()),
            vmax=float(z.max()),
            colorbar=ax is axes[-1],
        )
        ax.label_outer()
    figure.savefig(pathlib.Path(folder) / "map_of_settings.png", dpi=100)


if __name__ == "__main__":
    main(*sys.argv[1:])
