# SPDX-License-Identifier: BSD-3-Clause
# %% [markdown]
# # Two films on the same load
# Cells of a notebook as a script: `python compare_two_films.py [folder for the pictures]`, or open it cell by cell.
# %%
import pathlib
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

import hoopfield as hf  # noqa: E402

HERE = pathlib.Path(__file__).resolve().parent
OUT = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ".")

# %% [markdown]
# ## The films by themselves
# Virtual tests: pulled to 250 %, then held for a day.
# %%
films = {"general, 23 um": hf.Film.library("general-film"), "thin and stiff, 15 um": hf.Film.library("thin-stiff-film")}
for name, film in films.items():
    held = film.relax("250 %", "1 d")
    print(f"{name:>22}: {held.end_stress / 1e6:5.2f} MPa at 250 %, {held.kept:.0%} of it left after a day")

# %% [markdown]
# ## On the load
# The same load and settings; the thin film is wound at the force that its section carries at the same stress.
# %%
present = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml")
candidate = present.replace(
    {"film.thickness": "15 um", "delivery.tension.force": 70.0 * 15 / 23}, film=films["thin and stiff, 15 um"]
)
both = hf.compare(dict(zip(films, (present, candidate))), band_samples=128)
print(both)

# %% [markdown]
# ## More, less, or not to be told apart
# Both wraps were drawn at the same points of what is uncertain, so what they share drops out of the difference.
# %%
side = both["thin and stiff, 15 um"]
low, median, high = side.band
loads = "more than a thousand" if side.loads_to_tell is None else f"{side.loads_to_tell:.0f}"
print(f"containment: {side.words.replace('_', ' ')}, {low - 1:+.0%} to {high - 1:+.0%} nine times in ten")
print(f"a trial would take {loads} loads of each; film {side.against('film.mass_kg')['words']}")

# %% [markdown]
# ## Pictures
# %%
figure, axes = plt.subplots(1, 3, figsize=(17, 5), layout="constrained")
hf.plot.film_curves(films, both.results, axes[0], to="280 %")
for ax, name, result in zip(axes[1:], both.names, both.results):
    result.plot.containment(ax)
    ax.set_title(f"{name}: " + ax.get_title(loc="left"), loc="left", fontsize="medium")
limit = max(ax.get_xlim()[1] for ax in axes[1:])
for ax in axes[1:]:
    ax.set_xlim(0.0, limit)
figure.savefig(OUT / "compare_two_films.png", dpi=100)
