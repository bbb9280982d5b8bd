# SPDX-License-Identifier: BSD-3-Clause
"""From readings on loads to a model of this line, and which reading to take next."""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core
from .errors import InputError, IoError
from .result import Progress
from .scenario import Scenario, need_scenario

if TYPE_CHECKING:
    import pandas

__all__ = ["Calibration", "Trial", "calibrate", "next_readings", "predicted_readings", "trial"]

COLUMNS = (
    "quantity",
    "height",
    "face",
    "value",
    "unit",
    "load_id",
    "error",
    "time",
    "temperature",
    "instrument",
    "note",
)
Readings = str | os.PathLike[str] | Sequence[Any]


class Calibration:
    """A scenario with what readings taught, and how they did.

    ``scenario`` predicts with the fitted inputs, their ranges and correlations. ``unknowns``, ``confounded``,
    ``readings``, ``next`` and ``flags`` have the names of ``hoopfield calibrate --json``; numbers are SI.
    """

    def __init__(self, scenario: Scenario, text: str, words: str) -> None:
        self.scenario = scenario
        self.answer: dict[str, Any] = json.loads(text)
        self.words = words

    @property
    def unknowns(self) -> list[dict[str, Any]]:
        """Each uncertain input before and after, and whether the readings determined it."""
        return self.answer["calibration"]["unknowns"]

    @property
    def confounded(self) -> list[dict[str, Any]]:
        """Pairs of inputs that the readings tell apart badly."""
        return self.answer["calibration"]["confounded"]

    @property
    def readings(self) -> list[dict[str, Any]]:
        """Each reading beside its prediction before and after."""
        return self.answer["calibration"]["readings"]

    @property
    def next(self) -> list[dict[str, Any]]:
        """What one more reading would leave of the band, best first."""
        return self.answer["calibration"]["next"]

    @property
    def flags(self) -> list[dict[str, Any]]:
        """What does not fit: a reading, the film, an input, the count of turns."""
        return self.answer["calibration"]["flags"]

    @property
    def load_scatter(self) -> float:
        """Standard deviation of hoop tension from load to load, as a share."""
        return self.answer["calibration"]["load_scatter"]

    def to_dataframe(self) -> pandas.DataFrame:
        """One row per unknown: key, before and after (low, value, high), share of the width left, verdict."""
        import pandas as pd

        rows = []
        for unknown in self.unknowns:
            row = {"key": unknown["key"]}
            for side in ("before", "after"):
                row |= {f"{side}_{end}": unknown[side][end] for end in ("p05", "value", "p95")}
            rows.append(row | {"width_share": unknown["width_share"], "verdict": unknown["verdict"]})
        return pd.DataFrame(rows).set_index("key")

    def __repr__(self) -> str:
        known = sum(unknown["verdict"] == "determined" for unknown in self.unknowns)
        return f"<hoopfield.Calibration of {len(self.readings)} readings, {known} inputs determined>"


def _as_text(table: Iterable[Mapping[str, Any]]) -> str:
    """Rows of a table as the CSV text that a readings file holds."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    for row in table:
        unknown = set(row) - set(COLUMNS)
        if unknown:
            raise InputError(f"readings: {sorted(unknown)[0]!r} is no column; expected {', '.join(COLUMNS)}")
        writer.writerow({key: "" if value is None else value for key, value in row.items()})
    return out.getvalue()


def _texts(readings: Readings) -> list[tuple[str, str]]:
    """Name and text of each file, or of the rows given."""
    if isinstance(readings, (str, os.PathLike)):
        readings = [readings]
    texts, rows = [], []
    for item in readings:
        if isinstance(item, Mapping):
            rows.append(item)
            continue
        name = os.fspath(item)
        try:
            with open(name, encoding="utf-8") as file:
                texts.append((name, file.read()))
        except OSError as error:
            raise IoError(f"{name}: cannot be opened: {error.strerror}") from None
    return texts + ([("readings", _as_text(rows))] if rows else [])


def calibrate(
    scenario: Scenario,
    readings: Readings,
    *,
    free: Sequence[str] | None = None,
    hold: Sequence[str] = (),
    band_samples: int = 128,
    progress: Progress | None = None,
) -> Calibration:
    """Corrects a scenario from readings taken on wrapped loads.

    ``readings`` is a path, a list of paths, or a list of rows (mappings with the columns of a readings file: quantity,
    height, face, value, unit, load_id, error, time, temperature, instrument, note; heights and times as texts with
    their unit). ``free`` moves these keys alone, ``hold`` keeps keys at their values ("film.file" holds the numbers of
    the film). Raises InputError for a reading that is not on the load, a key that is not uncertain, and a scenario that
    was calibrated already.
    """
    need_scenario("calibrate", scenario)
    core, text, words = _core.calibrate(
        scenario._core, _texts(readings), list(free or ()), list(hold), band_samples, progress
    )
    return Calibration(Scenario(core), text, words)


def predicted_readings(scenario: Scenario, readings: Readings) -> np.ndarray:
    """What each of some readings would show on this load, SI, shape (readings,); their values are not used."""
    need_scenario("predicted_readings", scenario)
    return np.array(_core.predicted_readings(scenario._core, _texts(readings)))


def next_readings(scenario: Scenario, *, progress: Progress | None = None) -> list[dict[str, Any]]:
    """Which single reading would narrow the band of the target most: share of its width left, minutes of work, how to
    read it, and what can hurt who does."""
    need_scenario("next_readings", scenario)
    return json.loads(_core.next_readings(scenario._core, progress))["next"]


class Trial:
    """Which readings on how many loads tell two scenarios apart; ``readings`` least work first, numbers SI.

    Each has ``loads_needed`` of each side, to be right nine times in ten at one false alarm in twenty, the ``power``
    with the loads asked for, and ``chosen`` where it stands on the form.
    """

    def __init__(self, text: str) -> None:
        self.answer: dict[str, Any] = json.loads(text)["trial"]

    @property
    def readings(self) -> list[dict[str, Any]]:
        """Each reading with its prediction on both sides."""
        return self.answer["readings"]

    @property
    def minutes_per_load(self) -> float:
        """Work of the chosen readings on one load."""
        return self.answer["minutes_per_load"]

    def __repr__(self) -> str:
        chosen = sum(reading["chosen"] for reading in self.readings)
        return f"<hoopfield.Trial of {self.answer['loads']} loads a side, {chosen} readings chosen>"


def trial(
    present: Scenario, candidate: Scenario, loads: int = 3, *, minutes: float = 0.0, load_scatter: float = 0.05
) -> Trial:
    """Which readings on how many loads tell two scenarios apart.

    ``loads`` of each side are wrapped and read for at most ``minutes`` each (0: no limit); ``load_scatter`` is the
    standard deviation of hoop tension from load to load, a share (0.05: own assumption until it is known, see
    ``Calibration.load_scatter``). Raises OutOfRange for a number of loads that is not 1 to 1000.
    """
    need_scenario("trial", present)
    need_scenario("trial", candidate)
    return Trial(_core.trial(present._core, candidate._core, int(loads), float(minutes), float(load_scatter)))
