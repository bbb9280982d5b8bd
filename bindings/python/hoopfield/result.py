# SPDX-License-Identifier: BSD-3-Clause
"""Predictions and what they return."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from . import _core
from .errors import InputError
from .scenario import Scenario, need_scenario

if TYPE_CHECKING:
    import numpy as np
    import xarray

    from .plot import ResultPlots

__all__ = ["Bands", "Containment", "Result", "predict", "rank_unknowns"]

Progress = Callable[[float, str], object]


@dataclass(frozen=True)
class Containment:
    """Containment at the stations: ``end`` of wrapping, ``weakest`` (each station when its hoop tension is least
    between the two) and ``after_storage``, each with top, middle and bottom."""

    end: _core.ContainmentResult
    weakest: _core.ContainmentResult
    after_storage: _core.ContainmentResult

    def __getitem__(self, moment: str) -> _core.ContainmentResult:
        if moment not in ("end", "weakest", "after_storage"):
            raise KeyError(moment)
        return getattr(self, moment)


class Bands:
    """Bands of every number over draws of everything uncertain: ``bands[name]`` has ``low``, ``median``, ``high``, SI.

    ``samples``, ``failed``, ``failed_because``, ``redrawn``, ``unknowns`` (what was drawn), ``message`` (why there is
    no band). The equations themselves are not in a band.
    """

    def __init__(self, core: _core.BandResult) -> None:
        self._core = core
        self.samples: int = core.samples
        self.failed: int = core.failed
        self.failed_because: dict[str, int] = core.failed_because
        self.redrawn: int = core.redrawn
        self.message: str = core.message
        self.unknowns: list[_core.DrawnInput] = core.unknowns

    def __getitem__(self, name: str) -> _core.Band:
        band = self._core.get(name)
        if band is None:
            raise KeyError(name)
        return band

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and self._core.get(name) is not None

    def keys(self) -> list[str]:
        return [name for name in self._core.names if name in self]

    def __iter__(self) -> Iterator[str]:
        return iter(self.keys())

    def __len__(self) -> int:
        return len(self.keys())

    def __repr__(self) -> str:
        reason = ", " + self.message if self.message else ""
        return f"<hoopfield.Bands {self.samples} draws, {len(self.unknowns)} unknowns{reason}>"


def inch_pound(units: str) -> bool:
    """True for "inch-pound", False for "metric"; InputError otherwise."""
    if units not in ("metric", "inch-pound"):
        raise InputError(f"units: {units!r} is not known; expected 'metric' or 'inch-pound'")
    return units == "inch-pound"


class ReportPage:
    """What ``report`` writes, shown."""

    report: Callable[..., None]

    def show(self, *, units: str = "metric", open: bool = True) -> Path:
        """Shows the page that ``report`` writes.

        Returns the path of the page, an HTML file that works offline; it stays until the system clears its temporary
        files. units: "metric" or "inch-pound", shown first. open: False only writes it. In a notebook it is displayed
        below the cell, elsewhere in the web browser; where neither can be had, a warning names the file. Raises
        InputError for other units and IoError when the page cannot be written; then no file is left.
        """
        from ._show import show  # needs what a program that shows nothing should not load

        return show(lambda path: self.report(path, units=units), open)


class Result(ReportPage):
    """One prediction. Arrays are read-only NumPy arrays in SI units; stretch is strain.

    ``containment.after_storage.bottom.hoop_tension`` (N/m) and its neighbours, ``film_path``, ``span``, ``pattern``,
    ``load``, ``film``, ``targets``, ``warnings``; fields ``hoop_tension`` (time, face, height), ``film_layers`` (face,
    height), ``hoop_tension_buildup`` (turn, face, height), ``layer_tension`` (film_layer, face, height),
    ``closing_along_length``, ``closing_along_width`` (time, height); coordinates ``time`` (s, 0 = end of wrapping),
    ``height`` (m), ``turn``, ``faces``. ``summary`` is the JSON object of the command.
    """

    faces = ("front", "left", "back", "right")
    stations = ("top", "middle", "bottom")

    def __init__(self, scenario: Scenario, core: _core.Result) -> None:
        self.scenario = scenario
        self._core = core

    # Coordinates
    @property
    def time(self) -> np.ndarray:
        """s, 0 = end of wrapping; the last one is the end of storage"""
        return self._core.time

    @property
    def height(self) -> np.ndarray:
        """m above the pallet deck, centres of the slices"""
        return self._core.height

    @property
    def turn(self) -> np.ndarray:
        """finished turns"""
        return self._core.turn

    @property
    def temperature(self) -> np.ndarray:
        """K at each time"""
        return self._core.temperature

    # Fields
    @property
    def hoop_tension(self) -> np.ndarray:
        """(time, face, height), N/m: film force per height of load, all layers"""
        return self._core.hoop_tension

    @property
    def film_layers(self) -> np.ndarray:
        """(face, height)"""
        return self._core.film_layers

    @property
    def hoop_tension_buildup(self) -> np.ndarray:
        """(turn, face, height), N/m: when each turn is finished"""
        return self._core.hoop_tension_buildup

    @property
    def layer_tension(self) -> np.ndarray:
        """(film_layer, face, height), N/m at time 0; NaN where there is no such layer"""
        return self._core.layer_tension

    @property
    def closing_along_length(self) -> np.ndarray:
        """(time, height), m"""
        return self._core.closing_along_length

    @property
    def closing_along_width(self) -> np.ndarray:
        """(time, height), m"""
        return self._core.closing_along_width

    # Parts
    @property
    def containment(self) -> Containment:
        """Hoop tension and pull force at the stations: ``end``, ``weakest``, ``after_storage``."""
        return Containment(self._core.end, self._core.weakest, self._core.after_storage)

    @property
    def film_path(self) -> _core.FilmPathResult:
        """Film from the roll to the load: stretch, forces and widths."""
        return self._core.film_path

    @property
    def span(self) -> _core.SpanResult:
        """Force of the film between machine and load over one settled turn."""
        return self._core.span

    @property
    def pattern(self) -> _core.PatternResult:
        """Turns, overlap, carriage speeds and cycle time."""
        return self._core.pattern

    @property
    def load(self) -> _core.LoadResult:
        """The load under its film: how far it closes, forces on corners."""
        return self._core.load

    @property
    def film(self) -> _core.FilmUse:
        """Film used: mass, length and stretch on the load."""
        return self._core.film

    @property
    def sensitivity(self) -> _core.Sensitivity | None:
        """d ln(containment) / d ln(force); None until ``with_sensitivity``"""
        return self._core.sensitivity

    @property
    def assumed(self) -> list[_core.UnknownInput]:
        """The largest unknowns, largest effect first; empty until ``with_ranking``"""
        return self._core.assumed

    @property
    def band(self) -> Bands | None:
        """Bands by name, ``r.band["containment.after_storage.middle.hoop_tension"]``; None without draws."""
        core = self._core.band
        return None if core is None else Bands(core)

    @property
    def probability(self) -> float | None:
        """The least probability with which a target is reached; None without targets or draws."""
        shares = [t.probability for t in self.targets if t.probability is not None]
        return min(shares) if shares else None

    @property
    def draws(self) -> xarray.Dataset:
        """Every draw, SI: ``inputs`` (draw, key), ``numbers`` (draw, number), ``status`` (draw)."""
        import xarray

        core = self._core.band
        if core is None:
            raise InputError("this result has no draws; predict it with band_samples above 0")
        return xarray.Dataset(
            {
                "inputs": (("draw", "key"), core.inputs),
                "numbers": (("draw", "number"), core.numbers),
                "status": ("draw", core.status),
            },
            coords={"key": [u.key for u in core.unknowns], "number": core.names},
        )

    def rank(self, known_for: int = 5, progress: Progress | None = None) -> list[_core.UnknownInput]:
        """All unknowns, largest first, with the band if each of the ``known_for`` largest were known."""
        return _core.with_ranking(self.scenario._core, self._core, progress, known_for).assumed

    def indices(self, band_samples: int | None = None, progress: Progress | None = None) -> list[_core.UnknownIndex]:
        """First-order and total Sobol' indices of the unknowns, by draws x (unknowns + 2) predictions."""
        return _core.indices(self.scenario._core, self._core, band_samples, progress)

    @property
    def targets(self) -> list[_core.TargetResult]:
        """Each target of the scenario, what is predicted and whether it is met."""
        return self._core.targets

    @property
    def warnings(self) -> list[_core.Warning]:
        """Notes and cautions about this prediction."""
        return self._core.warnings

    @property
    def sentence(self) -> str:
        """What ``hoopfield predict`` and the report say first: the verdict on the targets with its band, else what the
        three stations hold now and after storage. In metric units."""
        return _core.first_sentence(self.scenario._core, self._core)

    @property
    def force_balance_error(self) -> float:
        """Greatest relative residual of closing force against film force"""
        return self._core.force_balance_error

    @property
    def version(self) -> str:
        """Version of hoopfield that made the prediction."""
        return self._core.version

    @property
    def summary(self) -> dict[str, Any]:
        """The JSON object ``hoopfield predict --json`` prints for this result, without run_info."""
        return json.loads(self.to_json())

    def to_json(self) -> str:
        """The summary as ``hoopfield predict --json`` prints it."""
        return _core.summary_json(self.scenario._core, self._core)

    def with_sensitivity(self, progress: Progress | None = None) -> Result:
        """A copy with d ln(containment) / d ln(force), by two more predictions."""
        return Result(self.scenario, _core.with_sensitivity(self.scenario._core, self._core, progress))

    def with_ranking(self, progress: Progress | None = None) -> Result:
        """A copy with the assumed inputs ranked by their effect, by two more predictions for each of them."""
        return Result(self.scenario, _core.with_ranking(self.scenario._core, self._core, progress, 0))

    def to_xarray(self, group: str | None = None) -> xarray.Dataset:
        """Labelled arrays with units: the fields, or one ``group`` of "stations", "span", "film_path".

        The same names, dimensions, units and numbers as in the result file.
        """
        from ._labelled import dataset

        return dataset(self, group)

    def save(self, path: str | os.PathLike[str], *, overwrite: bool = False) -> None:
        """Writes the result file (HDF5, opens in xarray as it is), whole or not at all. Raises IoError."""
        _core.write_hdf5(os.fspath(path), self.scenario._core, self._core, overwrite)

    def save_csv(self, folder: str | os.PathLike[str], *, overwrite: bool = False) -> None:
        """Writes the result as plain tables into a folder. Raises IoError."""
        _core.write_csv(os.fspath(folder), self.scenario._core, self._core, overwrite)

    def report(self, path: str | os.PathLike[str], *, units: str = "metric", overwrite: bool = False) -> None:
        """Writes the report: one HTML page that opens offline. Raises IoError.

        units: "metric" or "inch-pound", shown first. For the largest unknowns predict with ``complete=True``. A build
        without the page writes plain tables that say why.
        """
        name = self.scenario.title or "Prediction"
        side = (name, self.scenario._core, self._core, "", False)
        _core.write_report(os.fspath(path), [side], "", inch_pound(units), overwrite)

    @property
    def plot(self) -> ResultPlots:
        """Pictures: ``r.plot.containment()``, ``buildup``, ``face_map``, ``span_force``, ``over_time``."""
        from .plot import ResultPlots

        return ResultPlots(self)

    def __reduce__(self) -> tuple:
        return Result, (self.scenario, self._core)

    def __repr__(self) -> str:
        end, stored = self.containment.end, self.containment.after_storage
        pairs = ", ".join(
            f"{name} {end[name].hoop_tension:.4g} -> {stored[name].hoop_tension:.4g}" for name in self.stations
        )
        return f"<hoopfield.Result hoop tension N/m, end -> after storage: {pairs}; {len(self.warnings)} warnings>"

    def _repr_html_(self) -> str:
        from ._cards import result_card

        return result_card(self)


def predict(
    scenario: Scenario,
    progress: Progress | None = None,
    *,
    complete: bool = False,
    band_samples: int | None = None,
) -> Result:
    """Predicts one wrap: how the containment builds up, how it is spread, and what storage leaves of it.

    band_samples: draws behind the bands, 0 (no bands, a hundred times faster) or a power of two from 16 to 65536; None
    takes numerics.band_samples of the scenario (128).

    progress: called with (fraction done, stage) now and then; returning False stops with Interrupted. complete: adds
    sensitivity and ranked unknowns (some thirty further predictions), as the command does. Other Python threads run
    meanwhile; Ctrl-C raises KeyboardInterrupt. Raises SolverError where the physics has no solution, InputError for
    inputs that contradict each other.
    """
    need_scenario("predict", scenario)
    return Result(scenario, _core.predict(scenario._core, progress, complete, band_samples))


def rank_unknowns(result: Result | Scenario, progress: Progress | None = None) -> list[_core.UnknownInput]:
    """The assumed inputs ranked by what their stated ranges do to containment, with how to measure each."""
    if isinstance(result, Scenario):
        result = predict(result, band_samples=0)
    return result.with_ranking(progress).assumed
