# SPDX-License-Identifier: BSD-3-Clause
# %% [markdown]
# # Twenty films in one scenario
# Cells of a notebook as a script: `python twenty_films.py [folder for films and page]`. The films are made up: those
# that
# come with hoopfield, with all stresses or only the network's changed.
# %%
import pathlib
import re
import sys

import hoopfield as hf

HERE = pathlib.Path(__file__).resolve().parent
OUT = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ".")


def varied(film: hf.Film, name: str, keys: str, factor: float) -> hf.Film:
    """The film with every number in MPa whose key is among `keys` times `factor`."""
    text = re.sub(
        rf'^({keys}) = "(\S+) MPa"', lambda m: f'{m[1]} = "{float(m[2]) * factor:.4g} MPa"', film.text, flags=re.M
    )
    text = re.sub("^#.*\n", "", text, flags=re.M)  # remarks on the film as it was
    return hf.Film.from_text(re.sub('^name = ".*"', f'name = "{name}, illustrative"', text, flags=re.M), name)


# %%
films = {}
for library_name in hf.Film.library_names():
    base = hf.Film.library(library_name)
    films[library_name] = base
    films[f"{library_name} +12 %"] = varied(base, f"{library_name}, stresses +12 %", "modulus|flow_stress", 1.12)
    films[f"{library_name} -12 %"] = varied(base, f"{library_name}, stresses -12 %", "modulus|flow_stress", 0.88)
films = dict(list(films.items())[:20])

# %% [markdown]
# The first film is the present one. What the films share, the load and the machine, is ranked once:
# `unknowns="present"`. Twenty sides take their time: 64 draws each show roughly how far apart they are.
# %%
scenario = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml").replace({"delivery.tension.force": "50 N"})
all_films = hf.compare(films, within=scenario, unknowns="present", band_samples=64)
names = {
    "containment.after_storage.least_station.hoop_tension_N_per_m": "weakest station after storage, N/m",
    "film.mass_kg": "film, kg",
    "film_numbers.unloading_stiffness_MPa": "unloading stiffness, MPa",
    "film_numbers.kept_24_h_percent": "kept after 24 h, %",
}
table = all_films.to_table()
best_first = table.sortby("containment.after_storage.least_station.hoop_tension_N_per_m", ascending=False)
print(best_first[list(names)].rename(names).to_dataframe().round(3).to_string())
all_films.report(OUT / "twenty_films.html", overwrite=True)

# %% [markdown]
# The same from the command line: write the films, then
# `hoopfield compare films/*.toml --in scenario.toml --report page.html`.
# %%
(OUT / "films").mkdir(exist_ok=True)
for place, (name, film) in enumerate(films.items()):
    film.write(OUT / "films" / f"{place:02} {name}.toml", overwrite=True)
