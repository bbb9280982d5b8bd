# SPDX-License-Identifier: BSD-3-Clause
"""Laboratory curves from whatever a notebook holds: files, mappings, tables, arrays, virtual tests."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import Any

from . import _core
from .errors import InputError

__all__ = ["CONDITIONS", "conditions_of", "lab_curves"]

CONDITIONS = {
    "width": "m",
    "thickness": "m",
    "grip_distance": "m",
    "speed": "m/s",
    "rate": "1/s",
    "temperature": "K",
    "width_exponent": "",
    "machine_compliance": "m/N",
}
"""Conditions that are numbers, and the SI unit of a bare one."""

_EXPECTED = (
    "expected a path, a mapping of columns, a table with named columns (DataFrame), an array of shape "
    "(rows, columns) with columns=..., or a FilmCurve"
)
_Pairs = list[tuple[str, str]]


def _condition(key: str, value: Any) -> tuple[str, str]:
    """A condition as a file would write it: texts as they are, numbers in SI."""
    if isinstance(value, bool):
        return key, "true" if value else "false"
    if isinstance(value, str):
        return key, value
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise InputError(f"{key}: is {type(value).__name__}; expected a number in SI or a text", key=key) from None
    return key, f"{number!r} {CONDITIONS.get(key, '')}".strip()


def conditions_of(given: Mapping[str, Any]) -> _Pairs:
    """Those that are not None."""
    return [_condition(key, value) for key, value in given.items() if value is not None]


def _column_names(columns: str | Sequence[str] | None) -> list[str]:
    if columns is None:
        return []
    names = columns.replace(";", ",").split(",") if isinstance(columns, str) else list(columns)
    if not all(isinstance(name, str) for name in names):
        raise TypeError("columns: expected a text such as 'displacement_mm,force_N', or a list of names")
    return [name.strip() for name in names]


def _numbers(values: Any) -> Any:
    """A column of a table as floats, its missing values as NaN."""
    to_numpy = getattr(values, "to_numpy", None)
    if to_numpy is not None:
        try:
            return to_numpy(dtype=float, na_value=float("nan"))
        except (TypeError, ValueError):
            pass  # told by its dtype when it is a column of the curve
    return values


def _from_columns(label: str, columns: Mapping[str, Any], conditions: _Pairs) -> _core.LabCurve:
    if not columns:
        raise InputError(f"{label}: holds no columns; {_EXPECTED}")
    return _core.curve_from_arrays(label, list(columns), [_numbers(v) for v in columns.values()], conditions)


def _from_mapping(label: str, mapping: Mapping[Any, Any], conditions: _Pairs) -> _core.LabCurve:
    """Entries with a length are columns, the others conditions; those of the curve itself go first."""
    columns: dict[str, Any] = {}
    own: dict[str, Any] = {}
    for key, value in mapping.items():
        if not isinstance(key, str):
            raise TypeError(f"{label}: key {key!r} is no text; {_EXPECTED}")
        if hasattr(value, "__len__") and not isinstance(value, (str, bytes)):
            columns[key] = value
        else:
            own[key] = value
    label = str(own.pop("name", label))
    return _from_columns(label, columns, conditions_of(own) + conditions)


def _from_frame(label: str, frame: Any, conditions: _Pairs) -> _core.LabCurve:
    """Columns by their names; conditions from ``frame.attrs`` where it holds any."""
    attributes = getattr(frame, "attrs", None) or {}
    known = {*CONDITIONS, "kind", "illustrative"}
    own = {key: value for key, value in attributes.items() if key in known}
    columns = {str(name): frame[name] for name in frame.columns}
    return _from_columns(str(attributes.get("name", label)), columns, conditions_of(own) + conditions)


def _from_array(label: str, array: Any, names: list[str], conditions: _Pairs) -> _core.LabCurve:
    fields = getattr(array.dtype, "names", None)
    if fields:
        return _from_columns(label, {name: array[name] for name in fields}, conditions)
    if array.ndim != 2:
        raise InputError(f"{label}: has shape {tuple(array.shape)}; expected (rows, columns)")
    if not names:
        raise InputError(f"{label}: an array has no names; expected columns='stretch_percent,force_N' or the like")
    if len(names) != array.shape[1]:
        raise InputError(f"{label}: has {array.shape[1]} columns where columns= names {len(names)}")
    values = [array[:, i] for i, name in enumerate(names) if name != "-"]
    return _core.curve_from_arrays(label, [name for name in names if name != "-"], values, conditions)


def _one(label: str, item: Any, names: list[str], conditions: _Pairs) -> _core.LabCurve:
    if isinstance(item, (str, os.PathLike)):
        return _core.curve_from_file(os.fspath(item), ",".join(names), conditions)
    if isinstance(item, _core.FilmCurve):
        return _core.curve_of_test(item, f"{label}, virtual {item.kind} test")
    if isinstance(item, Mapping):
        return _from_mapping(label, item, conditions)
    if hasattr(item, "columns") and hasattr(item, "__getitem__"):
        return _from_frame(label, item, conditions)
    if hasattr(item, "dtype") and hasattr(item, "ndim"):
        return _from_array(label, item, names, conditions)
    raise TypeError(f"{label}: is {type(item).__name__}; {_EXPECTED}")


def lab_curves(curves: Any, columns: str | Sequence[str] | None, conditions: Mapping[str, Any]) -> list[_core.LabCurve]:
    """One curve, or a list of curves of any kinds mixed."""
    names, pairs = _column_names(columns), conditions_of(conditions)
    items = list(curves) if isinstance(curves, (list, tuple)) or hasattr(curves, "__next__") else [curves]
    return [_one(f"curve {i}", item, names, pairs) for i, item in enumerate(items, 1)]
