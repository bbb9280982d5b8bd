# SPDX-License-Identifier: BSD-3-Clause
"""Stretch film wound under tension around a rectangular load.

>>> import hoopfield as hf
>>> sc = hf.read("scenario.toml")
>>> r = hf.predict(sc.replace({"delivery.tension.force": "70 N"}))
>>> r.containment.after_storage.bottom.hoop_tension  # N/m

Numbers are SI; stretch is strain (2.5 = film 3.5 times as long); texts carry their unit ("70 N", "250 %").
A prediction is not a certificate.
"""

from __future__ import annotations

import importlib as _importlib
from typing import TYPE_CHECKING

from ._core import Parameter, __version__, nearest_keys, parse_quantity, to_unit
from .errors import Error, InputError, Interrupted, IoError, OutOfRange, SolverError, UnknownKey
from .explaining import Explanation, explain
from .film import Film, FilmFit, film_from_datasheet, fit_film
from .result import Result, predict, rank_unknowns
from .scenario import Scenario, read, with_unit
from .stages import Buildup, FilmPath, Plan, TakeUp, buildup, film_path, plan_wrap, storage, take_up

if TYPE_CHECKING:
    from . import plot
    from .calibrating import Calibration, Trial, calibrate, next_readings, predicted_readings, trial
    from .comparison import ComparedSide, Comparison, compare
    from .opening import open
    from .sweeping import in_customary_units, merge, sweep, sweep_problem, unstack
    from .transiting import Transit, ride, transit

# Loaded when first asked for: a script that predicts once should start at once.
_LATER = {
    "Calibration": "calibrating",
    "Trial": "calibrating",
    "trial": "calibrating",
    "calibrate": "calibrating",
    "next_readings": "calibrating",
    "predicted_readings": "calibrating",
    "compare": "comparison",
    "ComparedSide": "comparison",
    "Comparison": "comparison",
    "open": "opening",
    "in_customary_units": "sweeping",
    "merge": "sweeping",
    "sweep": "sweeping",
    "sweep_problem": "sweeping",
    "unstack": "sweeping",
    "Transit": "transiting",
    "ride": "transiting",
    "transit": "transiting",
    "plot": None,
}

__all__ = [
    "Buildup",
    "Calibration",
    "Comparison",
    "Error",
    "Explanation",
    "Film",
    "FilmFit",
    "FilmPath",
    "InputError",
    "Interrupted",
    "IoError",
    "OutOfRange",
    "Parameter",
    "Plan",
    "Result",
    "Scenario",
    "SolverError",
    "TakeUp",
    "Transit",
    "Trial",
    "UnknownKey",
    "__version__",
    "buildup",
    "calibrate",
    "compare",
    "explain",
    "film_from_datasheet",
    "film_path",
    "fit_film",
    "in_customary_units",
    "merge",
    "nearest_keys",
    "next_readings",
    "open",
    "parse_quantity",
    "plan_wrap",
    "plot",
    "predict",
    "predicted_readings",
    "rank_unknowns",
    "read",
    "ride",
    "storage",
    "sweep",
    "sweep_problem",
    "take_up",
    "to_unit",
    "transit",
    "trial",
    "unstack",
    "with_unit",
]


def __getattr__(name: str) -> object:
    if name not in _LATER:
        raise AttributeError(f"module 'hoopfield' has no attribute {name!r}")
    module = _importlib.import_module("." + (_LATER[name] or name), __name__)
    value = module if _LATER[name] is None else getattr(module, name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
