# SPDX-License-Identifier: BSD-3-Clause
"""Several ways to wrap a load side by side."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Union

from . import _core
from .errors import InputError
from .film import Film
from .result import Progress, ReportPage, Result, inch_pound
from .scenario import Scenario

if TYPE_CHECKING:
    import xarray

__all__ = ["ComparedSide", "Comparison", "compare"]

Side = Union[Scenario, Film, str, "os.PathLike[str]"]


class ComparedSide:
    """One side of a comparison: ``comparison["name"]`` or ``comparison[1]``.

    ``name``, ``result`` (None for measured and failed sides), ``numbers`` ({name with unit: number}), ``sentence``.
    Against the present wrap, over draws at the same points (None without them, and for the present wrap itself):
    ``words`` ("more", "less" or "not_distinguishable"), ``band`` (5 %, 50 % and 95 % of the ratio),
    ``probability_more`` and ``loads_to_tell`` (loads of each side to be read once; None beyond a thousand), all of
    ``measure``, the containment the comparison is judged by. ``against(name)`` gives the same of any number.
    ``savings``: {"rolls_per_year": {"value", "p05", "p95"}, ...}.
    """

    def __init__(self, told: dict[str, Any], result: Result | None, measure: str | None) -> None:
        self.name: str = told["name"]
        self.result = result
        self.measure = measure
        self.sentence: str = told["sentence"]
        self.numbers: dict[str, float] = told["numbers"]
        self.savings: dict[str, dict[str, float | None]] = told["savings"]
        self._against: dict[str, dict[str, Any]] = told["against_present"]

    def against(self, name: str) -> dict[str, Any]:
        """``difference``, ``ratio`` and, with draws, ``band``, ``probability_more``, ``words``, ... of a number.

        Raises InputError for a number that one of the two sides does not have.
        """
        if name not in self._against:
            raise InputError(f"against: {name!r} is not known of both sides; there are {', '.join(self._against)}")
        return self._against[name]

    def _judged(self, part: str) -> Any:
        return self._against.get(self.measure or "", {}).get(part)

    @property
    def words(self) -> str | None:
        return self._judged("words")

    @property
    def probability_more(self) -> float | None:
        return self._judged("probability_more")

    @property
    def loads_to_tell(self) -> float | None:
        return self._judged("loads_to_tell")

    @property
    def band(self) -> tuple[float, float, float] | None:
        found = self._judged("band")
        return None if found is None else (found["p05"], found["p50"], found["p95"])

    def __repr__(self) -> str:
        return f"ComparedSide({self.name!r}: {self.words or 'no draws'})"


class Comparison(ReportPage):
    """Sides predicted and set side by side; the first is the present one.

    ``names``, ``results`` (None for measured and failed sides), ``sentences`` (one for each candidate), ``summary``:
    the
    JSON object of ``hoopfield compare --json``. ``to_table`` gives the numbers, ``explain`` what makes a difference,
    ``to_xarray`` the fields, ``comparison["name"]`` one side (ComparedSide) with its verdict and band.
    """

    def __init__(
        self, results: list[Result | None], json_text: str, csv_text: str, text: str, sentences: list[str]
    ) -> None:
        self.results = results
        self.sentences = sentences
        self.text = text
        self._json, self._csv = json_text, csv_text
        self.summary: dict[str, Any] = json.loads(json_text)
        self.names: list[str] = [side["name"] for side in self.summary["sides"]]

    def __getitem__(self, side: int | str) -> ComparedSide:
        place = self._place(side)
        return ComparedSide(self.summary["sides"][place], self.results[place], self.summary["measures"]["containment"])

    def __len__(self) -> int:
        return len(self.names)

    def to_json(self) -> str:
        """The comparison as ``hoopfield compare --json`` prints it."""
        return self._json

    def to_csv(self) -> str:
        """One row per side, one column per number."""
        return self._csv

    def numbers(self, side: int | str) -> dict[str, float]:
        """{name with unit: number} of one side, by place or name; what is not known is left out."""
        numbers: dict[str, float] = self.summary["sides"][self._place(side)]["numbers"]
        return numbers

    def rows(self) -> list[tuple[str, str, list[float]]]:
        """(quantity, unit, one value per side), quantities at least one side has; NaN where a side has none."""
        sides = [side["numbers"] for side in self.summary["sides"]]
        rows = []
        for quantity in self.summary["quantities"]:
            name, unit = quantity["name"], quantity["unit"]
            if any(name in side for side in sides):
                long_name = quantity["long_name"]
                values = [side[name] if side.get(name) is not None else math.nan for side in sides]
                rows.append((long_name[:1].upper() + long_name[1:], "" if unit == "1" else unit, values))
        return rows

    def to_dict(self) -> dict[str, dict[str, float]]:
        """{quantity with unit: {name: value}}"""
        return {
            f"{name}, {unit}" if unit else name: dict(zip(self.names, values)) for name, unit, values in self.rows()
        }

    def to_table(self) -> xarray.Dataset:
        """The numbers with a dimension ``side``, units as attributes; ``to_table().to_dataframe()`` for pandas."""
        import xarray

        table = xarray.Dataset(coords={"side": self.names})
        for quantity in self.summary["quantities"]:
            values = [side["numbers"].get(quantity["name"]) for side in self.summary["sides"]]
            if any(value is not None for value in values):
                table[quantity["name"]] = (
                    "side",
                    [math.nan if v is None else v for v in values],
                    {"units": quantity["unit"], "long_name": quantity["long_name"]},
                )
        table["dominated"] = ("side", [bool(side["dominated_by"]) for side in self.summary["sides"]])
        return table

    def explain(self, candidate: int | str = 1) -> xarray.Dataset:
        """Candidate less present, one factor at a time: variables (order, factor), orders "forward" and "reverse".

        Along ``factor`` each order adds up to the attribute ``total``. Raises InputError for a side without one: the
        present one, measured or failed ones, one that does not differ.
        """
        import numpy as np
        import xarray

        place = self._place(candidate)
        found = next((d for d in self.summary["differences"] if d["candidate"] == place), None)
        if found is None:
            raise InputError(f"explain: there is no difference to explain for {self.names[place]!r}")
        factors = [share["factor"] for share in found["factors"]]
        table = xarray.Dataset(coords={"order": ["forward", "reverse"], "factor": factors})
        for name, total in found["total"].items():
            shares = np.array(
                [
                    [math.nan if share[order] is None else share[order][name] for share in found["factors"]]
                    for order in ("forward", "reverse")
                ]
            )
            table[name] = (("order", "factor"), shares, {"total": total})
        return table

    def to_xarray(self) -> xarray.Dataset:
        """The fields of all predictions with a dimension ``side``. Raises InputError when their grids differ."""
        import xarray

        pairs = [(name, result.to_xarray()) for name, result in zip(self.names, self.results) if result is not None]
        sets = [dataset for _, dataset in pairs]
        same = all(set(s.sizes) == set(sets[0].sizes) and s.sizes["height"] == sets[0].sizes["height"] for s in sets)
        if not same or any(not (s["height"] == sets[0]["height"]).all() for s in sets):
            raise InputError(
                "to_xarray: the scenarios differ in load.height or numerics.slices; compare them one by one"
            )
        names = xarray.Variable("side", [name for name, _ in pairs])
        return xarray.concat(sets, names, join="outer", combine_attrs="drop_conflicts")

    def report(self, path: str | os.PathLike[str], *, units: str = "metric", overwrite: bool = False) -> None:
        """Writes the report of all sides: one HTML page that opens offline. Raises IoError.

        units: "metric" or "inch-pound", shown first. For the largest unknowns compare with ``unknowns=True``.
        """
        sides = []
        for told, result in zip(self.summary["sides"], self.results):
            pair = (None, None) if result is None else (result.scenario._core, result._core)
            sides.append((told["name"], *pair, told["message"], told["kind"] == "measured"))
        _core.write_report(os.fspath(path), sides, self._json, inch_pound(units), overwrite)

    def _place(self, side: int | str) -> int:
        if isinstance(side, str):
            if side not in self.names:
                raise InputError(f"there is no side {side!r}; there are {', '.join(self.names)}")
            return self.names.index(side)
        return range(len(self.names))[side]

    def __reduce__(self) -> tuple[Any, ...]:
        return Comparison, (self.results, self._json, self._csv, self.text, self.sentences)

    def _repr_html_(self) -> str:
        from ._cards import comparison_card

        return comparison_card(self)

    def __repr__(self) -> str:
        width = max(len(name) + len(unit) + 2 for name, unit, _ in self.rows())
        head = f"{'':{width}}" + "".join(f"{name[:18]:>20}" for name in self.names)
        lines = [
            f"{name + (f', {unit}' if unit else ''):{width}}"
            + "".join(f"{'-' if math.isnan(value) else format(value, '.4g'):>20}" for value in values)
            for name, unit, values in self.rows()
        ]
        return "\n".join([head, *lines])


def _side(side: Side, name: str, within: Scenario | None) -> _core.CompareSide:
    if isinstance(side, Film):
        if within is None:
            raise InputError("compare: a film alone needs a scenario to be wound in; give within=scenario")
        return _core.scenario_side(within.replace(film=side)._core, name or side.name)
    if isinstance(side, Scenario):
        return _core.scenario_side(side._core, name or side.title)
    if isinstance(side, (str, os.PathLike)):
        return _core.read_side(os.fspath(side), name)
    raise TypeError(f"compare needs scenarios, films or paths, not {type(side).__name__}")


def compare(
    sides: Sequence[Side] | Mapping[str, Side],
    *,
    same: str = "nothing",
    best_prestretch: bool = False,
    break_share: float = 0.8,
    within: Scenario | None = None,
    sensitivity: bool = True,
    factors: bool = True,
    unknowns: bool | str = False,
    band_samples: int = 1024,
    words_at: float = 0.9,
    progress: Progress | None = None,
) -> Comparison:
    """Predicts 2 to 24 sides and compares them; the first is the present one. A mapping gives them names.

    A side is a Scenario, the path of a scenario file or of one with ``kind = "measured"``, or a Film, wound ``within``
    a scenario. same: what candidates take from the present wrap, "nothing", "settings", "span-force" or "film-mass" (by
    the pitch, to the nearest whole turn). best_prestretch: every film where it contains best, up to break_share of its
    break stretch. sensitivity, factors, unknowns: d ln(containment)/d ln(force), one factor at a time in both orders,
    ranked unknowns ("present": of the first side only, enough for many films within one scenario). band_samples: draws
    of every side over what is uncertain, all at the same points, so that what they share drops out of a difference; 0
    (no bands, a hundred times faster) or a power of two from 16 to 65536. words_at: share of the draws from which on a
    candidate is said to contain "more" or "less". A candidate that cannot be computed is recorded, not raised. Raises
    InputError and SolverError.
    """
    if unknowns not in (True, False, "present"):
        raise InputError(f"compare: unknowns={unknowns!r} is not known; expected True, False or \"present\"")
    if isinstance(sides, Mapping) and not isinstance(sides, Scenario):
        pairs = [(str(name), side) for name, side in sides.items()]
    else:
        pairs = [("", side) for side in ([sides] if isinstance(sides, (Scenario, Film, str)) else sides)]
    core = _core.compare(
        [_side(side, name, within) for name, side in pairs],
        same,
        best_prestretch,
        break_share,
        sensitivity,
        factors,
        unknowns != "present" and bool(unknowns),
        unknowns == "present",
        band_samples,
        words_at,
        progress,
    )
    results = [None if pair is None else Result(Scenario(pair[0]), pair[1]) for pair in core.predictions()]
    return Comparison(results, core.to_json(), core.to_csv(), core.text(False), core.sentences())
