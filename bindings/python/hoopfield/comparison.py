# SPDX-License-Identifier: BSD-3-Clause
"""Several scenarios side by side."""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from .errors import InputError
from .result import Result, predict
from .scenario import Scenario

if TYPE_CHECKING:
    import xarray

__all__ = ["Comparison", "compare"]

# Place in the summary, name for people, unit.
_QUANTITIES: list[tuple[tuple[str, ...], str, str]] = [
    *((("containment", moment, station, "hoop_tension_N_per_m"), f"Hoop tension {station}, {text}", "N/m")
      for moment, text in (("end", "end"), ("after_storage", "after storage")) for station in ("top", "middle", "bottom")),
    *((("containment", "after_storage", station, "pull_force_N"), f"Pull force {station}, after storage", "N")
      for station in ("top", "middle", "bottom")),
    (("film", "mass_kg"), "Film per load", "kg"), (("film", "length_on_roll_m"), "Film on the roll per load", "m"),
    (("film", "stretch_on_load_percent"), "Stretch on the load", "%"),
    (("film", "prestretch_force_N"), "Pre-stretch force", "N"), (("film", "laid_width_mm"), "Laid width", "mm"),
    (("pattern", "turns"), "Turns", ""), (("pattern", "cycle_time_s"), "Cycle time", "s"),
    (("load", "corner_force_N_per_m"), "Corner force", "N/m"), (("cost", "film_per_load"), "Film cost per load", "currency"),
]


class Comparison:
    """Results side by side; the first is the reference. ``results`` holds them, ``to_dict`` the numbers."""

    def __init__(self, names: list[str], results: list[Result]) -> None:
        self.names = names
        self.results = results

    def rows(self) -> list[tuple[str, str, list[float]]]:
        """(quantity, unit, one value per scenario), quantities all scenarios have."""
        summaries = [result.summary for result in self.results]
        rows = []
        for place, name, unit in _QUANTITIES:
            values: list[Any] = []
            for summary in summaries:
                value: Any = summary
                for key in place:
                    value = value.get(key) if isinstance(value, Mapping) else None
                values.append(value)
            if all(value is not None for value in values):
                rows.append((name, unit, [float(value) for value in values]))
        return rows

    def to_dict(self) -> dict[str, dict[str, float]]:
        """{quantity with unit: {name: value}}"""
        return {f"{name}, {unit}" if unit else name: dict(zip(self.names, values)) for name, unit, values in self.rows()}

    def to_xarray(self) -> xarray.Dataset:
        """The fields of all results with a dimension ``scenario``. Raises InputError when their grids differ."""
        import xarray
        sets = [result.to_xarray() for result in self.results]
        same = all(set(s.sizes) == set(sets[0].sizes) and s.sizes["height"] == sets[0].sizes["height"] for s in sets)
        if not same or any(not (s["height"] == sets[0]["height"]).all() for s in sets):
            raise InputError("to_xarray: the scenarios differ in load.height or numerics.slices; compare them one by one")
        names = xarray.Variable("scenario", self.names)
        return xarray.concat(sets, names, join="outer", combine_attrs="drop_conflicts")

    def _repr_html_(self) -> str:
        from ._cards import comparison_card
        return comparison_card(self)

    def __repr__(self) -> str:
        width = max(len(name) + len(unit) + 2 for name, unit, _ in self.rows())
        head = f"{'':{width}}" + "".join(f"{name[:18]:>20}" for name in self.names)
        lines = [f"{name + (f', {unit}' if unit else ''):{width}}" + "".join(f"{value:>20.4g}" for value in values)
                 for name, unit, values in self.rows()]
        return "\n".join([head, *lines])


def compare(scenarios: Sequence[Scenario] | Mapping[str, Scenario]) -> Comparison:
    """Predicts scenarios and sets them side by side; the first is the reference. A mapping gives them names."""
    if isinstance(scenarios, Mapping) and not isinstance(scenarios, Scenario):
        names, list_ = [str(name) for name in scenarios], list(scenarios.values())
    else:
        list_ = list(scenarios) if not isinstance(scenarios, Scenario) else [scenarios]
        names = [s.title or f"scenario {i + 1}" for i, s in enumerate(list_)]
        if len(set(names)) < len(names):
            names = [f"{name} [{i + 1}]" for i, name in enumerate(names)]
    if not list_:
        raise InputError("compare: needs at least one scenario")
    return Comparison(names, [predict(scenario) for scenario in list_])
