# SPDX-License-Identifier: BSD-3-Clause
"""Results as xarray datasets: the names, dimensions and units of the result file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core
from .errors import InputError
from .opening import need_xarray

if TYPE_CHECKING:
    import xarray

    from .result import Result

_NAMED = {
    "face": "face of the load seen from above, counter-clockwise; front spans the width",
    "film_layer": "film layer, 1 lies on the load",
}


def dataset(result: Result, group: str | None = None) -> xarray.Dataset:
    groups = (None, "stations", "span", "film_path")
    if group not in groups:
        names = ", ".join(repr(name) for name in groups if name)
        raise InputError(f"to_xarray: no group {group!r}; expected {names}, or none for the fields")
    xarray = need_xarray("to_xarray")
    variables: dict[str, Any] = {}
    coordinates: dict[str, Any] = {}
    # Every output stands where the result file has it; one along an axis of its own is that axis.
    for place, name, dims, values, unit, label in _core.labelled(result._core):
        if name and place == (group or ""):
            to = coordinates if dims == [name] else variables
            to[name] = (dims, values, {"units": unit, "long_name": label})
    if group is None:
        coordinates["face"] = ("face", list(result.faces), {"long_name": _NAMED["face"]})
        if "layer_tension" in variables:
            layers = np.arange(1, result.layer_tension.shape[0] + 1, dtype=np.int32)
            coordinates["film_layer"] = ("film_layer", layers, {"long_name": _NAMED["film_layer"]})
    elif group == "stations":
        coordinates |= {
            "moment": ["end", "weakest", "after_storage"],
            "station": list(result.stations),
            "face": list(result.faces),
        }
    elif group == "span" and result.span.face:
        faces = result.span.face
        variables["face_order"] = ((), ",".join(faces), {"long_name": "names of the faces in the order they are laid"})
        coordinates["laid_face"] = np.arange(1, len(faces) + 1, dtype=np.int32)
        coordinates["laid_face_name"] = ("laid_face", faces, {"long_name": "name of the face laid"})
    return xarray.Dataset(variables, coordinates, _about(result) if group is None else None)


def _about(result: Result) -> dict[str, str]:
    return {
        "title": result.scenario.title or "Containment prediction",
        "source": f"hoopfield {result.version}",
        "inputs_hash": result.scenario.inputs_hash,
        "comment": _core.short_caution() + " Missing values are NaN.",
    }
