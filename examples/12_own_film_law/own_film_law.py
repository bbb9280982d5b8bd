# SPDX-License-Identifier: BSD-3-Clause
"""A film law of one's own, tried on a load: python own_film_law.py [folder for the picture]

Any law that can be evaluated in Python gets there in two ways, without touching C++:
* elastic: its curve as a table (law "elastic-curve");
* relaxing: its relaxation as a series of Maxwell branches (law "maxwell"), found by non-negative least squares.
The law here is invented (illustrative): stress grows as a power of stretch, and dies away as a stretched exponential.
"""

import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
from scipy.optimize import nnls

import hoopfield as hf

HERE = pathlib.Path(__file__).resolve().parent
OUT = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ".")

HEAD = """name = "{name}, illustrative"
law = "{law}"
density = "920 kg/m^3"
neck_in = 0.2
reference_temperature = "23 degC"
[provenance]
source = "illustrative"
illustrative = true
"""


def nominal_stress(stretch: np.ndarray) -> np.ndarray:
    """Own law at once: MPa over length ratio."""
    return 7.5 * (1.0 - np.exp(-(stretch - 1.0) / 0.05)) + 0.9 * (stretch - 1.0) ** 1.6


def kept(time: np.ndarray) -> np.ndarray:
    """Own law over time: share of the relaxing stress left after `time`, s."""
    return np.exp(-((time / 3.0e5) ** 0.22))


def as_table() -> hf.Film:
    stretch = 1.0 + np.linspace(0.0, 4.0, 161)
    rows = (
        ", ".join(f'"{100 * (s - 1):.6g} %"' for s in stretch),
        ", ".join(f'"{p:.9g} MPa"' for p in nominal_stress(stretch)),
    )
    return hf.Film.from_text(
        HEAD.format(name="own law, elastic", law="elastic-curve")
        + "[curve]\nstretch = [{}]\nstress = [{}]\n".format(*rows)
    )


def as_branches(modulus: float, network: float) -> hf.Film:
    """Maxwell branches of `modulus` MPa together that relax as kept() from 1 ms to a year, beside a network."""
    time = np.geomspace(1e-3, 3e7, 200)
    tau = np.geomspace(1e-3, 3e8, 8)
    share, misfit = nnls(np.exp(-time[:, None] / tau), kept(time))
    print(f"{np.count_nonzero(share)} branches follow the relaxation within {misfit / np.sqrt(time.size):.3f} rms")
    branches = "".join(
        f'[[branch]]\nmodulus = "{modulus * s:.9g} MPa"\nrelaxation_time = "{t:.9g} s"\n'
        for s, t in zip(share, tau)
        if s > 0
    )
    return hf.Film.from_text(
        HEAD.format(name="own law, relaxing", law="maxwell")
        + f'[network]\nmodulus = "{network} MPa"\nstretch_limit = 40.0\n'
        + branches
    )


scenario = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml")
films = {
    "general film of the library": scenario.film,
    "own law, elastic": as_table(),
    "own law, relaxing": as_branches(40.0, 1.2),
}
figure, ax = plt.subplots(figsize=(8, 5), layout="constrained")
for style, (name, film) in zip(("-", "--", ":"), films.items()):
    result = hf.predict(scenario.replace({}, film=film))
    end, after = result.containment.end.middle.hoop_tension, result.containment.after_storage.middle.hoop_tension
    print(
        f"{name:>28}: {result.film_path.stretch_on_load:4.0%} on the load, middle {end:4.0f} N/m, "
        f"after storage {after:4.0f} N/m"
    )
    tension = result.to_xarray()["hoop_tension"].mean("face").sel(height=0.75, method="nearest")
    ax.semilogx(tension["time"][1:] / 3600, tension[1:], style, label=name)
ax.set_xlabel("Time since the end of wrapping, h")
ax.set_ylabel("Hoop tension at the middle, N/m")
ax.set_title("Three film laws on the same load", loc="left")
ax.set_ylim(bottom=0)
ax.legend()
figure.savefig(OUT / "own_film_law.png", dpi=100)
