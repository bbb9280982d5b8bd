# SPDX-License-Identifier: BSD-3-Clause
"""Many predictions in parallel."""

from __future__ import annotations

import os
import warnings
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core
from ._blocks import check_executor, compute_on
from .errors import InputError
from .opening import check_reader, need_xarray
from .scenario import Scenario, _plain, declaration, need_scenario

if TYPE_CHECKING:
    import xarray

__all__ = ["in_customary_units", "merge", "sweep", "sweep_problem", "unstack"]

_Varied = tuple[str, list[Any], Any, Any, int]


def _varied(key: str, given: Any) -> _Varied:
    """One input as (key, values, from, to, steps)."""
    if isinstance(given, Mapping):
        unknown = set(given) - {"from", "to", "steps"}
        if unknown or not {"from", "to"} <= set(given):
            raise InputError(f"{key}: expected {{'from': ..., 'to': ..., 'steps': ...}}, or a list of values", key=key)
        return key, [], _plain(key, given["from"]), _plain(key, given["to"]), int(given.get("steps", 0))
    if isinstance(given, str) or not hasattr(given, "__len__"):
        raise InputError(f"{key}: expected a list of values, or {{'from': ..., 'to': ...}}", key=key)
    shape = np.shape(given)
    if len(shape) != 1:
        raise InputError(f"{key}: has shape {shape}; expected one dimension", key=key)
    return key, [_plain(key, value) for value in given], None, None, 0


def _dataset(xr: Any, plan: _core.SweepPlan, result: _core.SweepResult, scenario: Scenario) -> xarray.Dataset:
    numbers = plan.first_case + np.arange(plan.case_count, dtype=np.int32)
    coordinates: dict[str, Any] = {"case": ("case", numbers, {"units": "1", "long_name": "case of the sweep, from 0"})}
    for axis in plan.axes:
        attributes = (
            {"units": axis.unit or "1", "long_name": "varied input"}
            if isinstance(axis.values, np.ndarray)
            else {"long_name": "varied input, as written"}
        )
        coordinates[axis.key] = ("case", axis.values, attributes)
    for c in result.coordinates:
        dimension = {"time": "time_index", "height": "slice"}[c.name] if c.per_case else c.name
        dims = ("case", dimension) if c.per_case else (dimension,)
        coordinates[c.name] = (dims, c.values, {"units": c.unit})
    variables: dict[str, Any] = {
        o.name: (("case", *o.dims), o.values, {"units": o.unit, "long_name": o.long_name}) for o in result.outputs
    }
    if any("face" in o.dims for o in result.outputs):
        coordinates["face"] = ("face", ["front", "left", "back", "right"])
    variables["status"] = (
        "case",
        result.status,
        {
            "long_name": "how the case ended",
            "flag_values": np.array([0, 1, 2], dtype=np.int8),
            "flag_meanings": "done failed pending",
        },
    )
    variables["message"] = (
        "case",
        np.array(result.message, dtype=object),
        {"long_name": "why the case failed; empty otherwise"},
    )
    return xr.Dataset(
        variables,
        coordinates,
        {
            "title": scenario.title or "Sweep of containment predictions",
            "source": f"hoopfield {_core.__version__}",
            "comment": _core.short_caution() + " Values of failed and pending cases are NaN.",
            "sampling": plan.sampling,
            "sweep_hash": plan.hash,
            **plan.shard,
        },
    )


def sweep(
    scenario: Scenario,
    vary: Any,
    *,
    sampling: str | None = None,
    samples: int = 0,
    seed: int = 1,
    outputs: Sequence[str] | str = (),
    out_of_bounds: str = "refused",
    jobs: int = 0,
    executor: Any = None,
    shard: str | None = None,
    file: str | os.PathLike[str] | None = None,
    overwrite: bool = False,
    resume: bool = False,
    progress: Callable[[float, str], object] | None = None,
) -> xarray.Dataset:
    """Predicts many variants of a scenario on all processors; the result does not depend on their number.

    vary: {key: values}, values a list of texts with units (``with_unit`` makes them of numbers) or of numbers where
    the unit people write is SI, or {"from": ..., "to": ..., "steps": ...}; a DataFrame or structured table of equal
    columns is a table of cases. sampling: "grid" (every combination, the last key fastest), "latin-hypercube" or
    "sobol" (``samples`` points between from and to), "table" (one case per entry; what a DataFrame means when left
    out). outputs: names or beginnings of names of outputs ("containment.after_storage") and fields
    ("hoop_tension"); the whole summary when left out. "transit" or one of its numbers, m/s^2
    ("transit.weakest.along_width.held"), needs ``load.mass``. out_of_bounds: what becomes of a value past the physical
    bounds of its input: "refused" before anything runs, or "failed", when only the cases that have it fail. jobs:
    threads, 0 = one per processor. executor: what computes blocks of cases instead of threads here: a pool of
    ``concurrent.futures``, anything with its ``submit``, or a Dask ``Client``; ``jobs`` are then the threads of one
    block, one unless given. Workers need this version of hoopfield; film files that are varied must lie where they
    find them. A block whose worker is lost is tried three times again, then its cases are failed ones. shard:
    "3/16" computes the third of sixteen shares of the cases, for ``merge``. file: sweep file to write, with
    ``overwrite`` and ``resume``; the data are then opened from it and not held in memory. progress: called with
    (share done, text) about ten times a second; returning False ends the sweep with the other cases pending.

    Returns a Dataset over ``case``: swept inputs as coordinates, one variable per output (SI, with units),
    ``status`` (0 done, 1 failed, 2 pending) and ``message``. A failed case is NaN with a message, never the end of
    the sweep. ``unstack`` gives a grid one dimension per swept input. Raises InputError for keys, values and
    outputs that cannot be meant, TypeError for what is no Scenario, ImportError before anything is computed,
    IoError for the file, KeyboardInterrupt on Ctrl-C (what a file then holds can be resumed). Do not fork while a
    sweep runs: a process forked in ``progress`` ends as soon as ``progress`` returns there. Start processes before,
    or with the start method "spawn".
    """
    xarray = need_xarray("sweep")
    if file is not None:
        check_reader("a sweep to a file")
    need_scenario("sweep", scenario)
    if sampling == "sobol" and samples > 0 and samples & (samples - 1):
        power = 1 << (samples.bit_length() - 1)
        warnings.warn(
            f"sweep: {samples} Sobol' points do not fill the space evenly; {power} or {2 * power} would (powers of two)",
            stacklevel=2,
        )
    if executor is not None:
        check_executor(executor)
    is_table = hasattr(vary, "columns")
    if not is_table and not isinstance(vary, Mapping):
        raise InputError("sweep: vary must be {key: values} or a DataFrame")
    columns = {str(key): vary[key].to_numpy() for key in vary.columns} if is_table else vary
    if isinstance(outputs, str):
        outputs = [outputs]
    if out_of_bounds not in ("refused", "failed"):
        raise InputError(f'sweep: out_of_bounds is {out_of_bounds!r}; expected "refused" or "failed"')
    plan = _core.make_sweep_plan(
        scenario._core,
        sampling or ("table" if is_table else "grid"),
        [_varied(str(key), values) for key, values in columns.items()],
        samples,
        seed,
        list(outputs),
        out_of_bounds == "failed",
    )
    if shard is not None:
        plan = plan.take_shard(shard)
    path = "" if file is None else os.fspath(file)
    if executor is None:
        result = _core.run_sweep(plan, jobs, path, overwrite, resume, file is None, progress)
    else:
        result = compute_on(executor, plan, jobs, path, overwrite, resume, progress)
    if file is None:
        return _dataset(xarray, plan, result, scenario)
    return xarray.open_dataset(path if not result.stopped else path + ".part")


def merge(
    shards: Sequence[str | os.PathLike[str]], file: str | os.PathLike[str], *, overwrite: bool = False
) -> xarray.Dataset:
    """Puts the files of all shards of a sweep together, in any order, to the file one process would have written.

    The shards come from ``sweep(..., shard="3/16", file=...)`` or from the command. Returns the data, opened from
    ``file``. Raises InputError for shards of different sweeps and for shards that are missing, given twice or not
    finished, naming them; IoError for the files. Nothing is written then.
    """
    xarray = need_xarray("merge")
    check_reader("merge")
    if isinstance(shards, (str, os.PathLike)):
        raise InputError("merge: expected a list of the files of all shards, not one path")
    path = os.fspath(file)
    _core.merge_sweeps([os.fspath(shard) for shard in shards], path, overwrite)
    return xarray.open_dataset(path)


def unstack(data: xarray.Dataset) -> xarray.Dataset:
    """A complete grid with one dimension per swept input instead of ``case``. Dots in names stay."""
    keys = [str(name) for name, c in data.coords.items() if c.dims == ("case",) and name != "case"]
    sizes = [len(np.unique(data[key].values)) for key in keys]
    if int(np.prod(sizes)) != data.sizes["case"]:
        raise InputError("unstack: the cases are not a complete grid of the swept inputs")
    return data.set_index(case=keys).unstack("case")


def in_customary_units(data: xarray.Dataset) -> xarray.Dataset:
    """The data of a sweep with its swept inputs in the units people use: rpm, %, mm. Outputs stay SI.

    Works on what ``sweep``, ``unstack`` and ``open`` give; coordinates that are no numbers stay as they are.
    """
    changed = {}
    for name, coordinate in data.coords.items():
        declared = declaration(str(name))
        if (
            declared is None
            or coordinate.dtype.kind not in "fi"
            or coordinate.attrs.get("units") != (declared.unit or "1")
        ):
            continue
        unit = declared.customary_unit
        values = np.array([_core.to_unit(float(v), unit) for v in coordinate.values])
        changed[name] = (coordinate.dims, values, coordinate.attrs | {"units": unit or "1"})
    return data.assign_coords(changed)


def sweep_problem(vary: Mapping[str, tuple[float | str, float | str]]) -> dict[str, Any]:
    """The problem dictionary of SALib for inputs with (low, high): names, bounds and the units the bounds are in.

    Its samples go back with ``sweep(scenario, {name: with_unit(column, unit) for name, unit, column in
    zip(problem["names"], problem["units"], samples.T)}, sampling="table")``.
    """
    bounds, units = [], []
    for key, limits in vary.items():
        declared = declaration(key)
        if declared is None:
            raise InputError(f"{key}: unknown key; did you mean {', '.join(_core.nearest_keys(key, 2))}?", key=key)
        si, unit = declared.unit, declared.customary_unit
        ends = (_plain(key, limit) for limit in limits)
        low, high = (_core.to_unit(_core.parse_quantity(v, si) if isinstance(v, str) else v, unit) for v in ends)
        if not low < high:
            raise InputError(f"{key}: the low end must lie below the high end", key=key)
        bounds.append([low, high])
        units.append(unit)
    return {"num_vars": len(bounds), "names": list(vary), "bounds": bounds, "units": units}
