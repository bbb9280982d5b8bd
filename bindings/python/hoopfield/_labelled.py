# SPDX-License-Identifier: BSD-3-Clause
"""Results as xarray datasets: the names, dimensions and units of the result file."""
from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .errors import InputError

if TYPE_CHECKING:
    import xarray

    from .result import Result

_FIELDS = {
    "hoop_tension": (("time", "face", "height"), "N/m", "hoop tension: film force per height of load, all layers"),
    "film_layers": (("face", "height"), "1", "film layers"),
    "hoop_tension_buildup": (("turn", "face", "height"), "N/m", "hoop tension when each turn is finished"),
    "layer_tension": (("film_layer", "face", "height"), "N/m", "tension of each film layer at the end of wrapping"),
    "closing_along_length": (("time", "height"), "m", "closing of the load along its length"),
    "closing_along_width": (("time", "height"), "m", "closing of the load along its width"),
    "temperature": (("time",), "K", "temperature of film and surroundings"),
}
_COORDINATES = {
    "time": ("s", "time since the end of wrapping"),
    "turn": ("1", "finished turns"),
    "height": ("m", "height above the pallet deck, centre of the slice"),
}
_FACE = "face of the load seen from above, counter-clockwise; front spans the width"

# name in the file: (attribute of a station, unit, long name)
_STATION = {
    "station_height": ("height", "m", "height above the pallet deck"),
    "hoop_tension": ("hoop_tension", "N/m", "mean of the faces"),
    "band_tension": ("band_tension", "N", "hoop tension times band height"),
    "pull_force": ("pull_force", "N", "pull test, least over the faces"),
    "strand_force": ("strand_force", "N", "same face, without tent factor"),
    "tent_factor": ("tent_factor", "1", "pull force over strand force"),
    "pull_force_film_stretch_share": ("pull_force_film_stretch_share", "1",
                                      "share of the pull force due to stretching the film further"),
    "film_layers": ("film_layers", "1", "mean of the faces"),
    "film_layers_min": ("film_layers_min", "1", "least over the start of climb"),
    "film_layers_max": ("film_layers_max", "1", "greatest over the start of climb"),
}
_STATION_FACE = {
    "face_hoop_tension": ("hoop_tension", "N/m", "mean over the band"),
    "face_film_layers": ("film_layers", "1", "mean over the band"),
    "face_strand_force": ("strand_force", "N", "without tent factor"),
    "face_pull_force": ("pull_force", "N", "with tent factor"),
}


def _attributes(unit: str, long_name: str) -> dict[str, str]:
    return {"units": unit, "long_name": long_name}


def dataset(result: Result, group: str | None = None) -> xarray.Dataset:
    makers = {None: _root, "stations": _stations, "span": _span, "film_path": _film_path}
    if group not in makers:
        names = ", ".join(repr(name) for name in makers if name)
        raise InputError(f"to_xarray: no group {group!r}; expected {names}, or none for the fields")
    try:
        import xarray
    except ImportError:
        raise ImportError("to_xarray needs xarray: pip install 'hoopfield[xarray]'") from None
    return makers[group](xarray, result)


def _root(xr: Any, result: Result) -> xarray.Dataset:
    coordinates: dict[str, Any] = {name: (name, getattr(result, name), _attributes(*about))
                                   for name, about in _COORDINATES.items()}
    coordinates["face"] = ("face", list(result.faces), {"long_name": _FACE})
    variables = {}
    for name, (dims, unit, long_name) in _FIELDS.items():
        values = getattr(result, name)
        if values.size:
            variables[name] = (dims, values, _attributes(unit, long_name))
    if "layer_tension" in variables:
        layers = np.arange(1, result.layer_tension.shape[0] + 1, dtype=np.int32)
        coordinates["film_layer"] = ("film_layer", layers, {"long_name": "film layer, 1 lies on the load"})
    return xr.Dataset(variables, coordinates,
                      {"title": result.scenario.title or "Containment prediction",
                       "source": f"hoopfield {result.version}", "inputs_hash": result.scenario.inputs_hash,
                       "comment": "A prediction is not a certificate. Missing values are NaN."})


def _stations(xr: Any, result: Result) -> xarray.Dataset:
    moments = [result.containment.end, result.containment.after_storage]
    variables: dict[str, Any] = {name: (("moment", "station"),
                        [[getattr(moment[s], attribute) for s in result.stations] for moment in moments],
                        _attributes(unit, long_name)) for name, (attribute, unit, long_name) in _STATION.items()}
    variables |= {name: (("moment", "station", "face"),
                         [[[getattr(moment[s][f], attribute) for f in result.faces] for s in result.stations]
                          for moment in moments],
                         _attributes(unit, long_name)) for name, (attribute, unit, long_name) in _STATION_FACE.items()}
    return xr.Dataset(variables, {"moment": ["end", "after_storage"], "station": list(result.stations),
                                  "face": list(result.faces)})


def _span(xr: Any, result: Result) -> xarray.Dataset:
    span = result.span
    variables: dict[str, Any] = {
        "force": ("angle", span.force, _attributes("N", "film force in the span")),
        "take_up_speed": ("angle", span.take_up_speed, _attributes("m/s", "speed at which the load takes film up")),
        "face_turn": ("laid_face", span.face_turn,
                      _attributes("1", "turns since the start when the face is laid")),
        "face_force": ("laid_face", span.face_force,
                       _attributes("N", "force the face keeps, over the whole film width")),
    }
    variables["face_order"] = ((), ",".join(span.face), {"long_name": "names of the faces in the order they are laid"})
    variables |= {name: ((), getattr(span, name), _attributes(unit, long_name)) for name, unit, long_name in (
        ("force_set", "N", "force asked of the delivery"), ("force_mean", "N", "mean over the turn"),
        ("force_min", "N", "least over the turn"), ("force_max", "N", "greatest over the turn"),
        ("laid_fraction", "1", "mean force kept at the end of wrapping over the set force"))}
    return xr.Dataset(variables, {
        "angle": ("angle", span.angle, _attributes("rad", "rotation over one settled turn")),
        "laid_face": np.arange(1, len(span.face_force) + 1, dtype=np.int32),
        "laid_face_name": ("laid_face", span.face, {"long_name": "name of the face laid"})})


def _film_path(xr: Any, result: Result) -> xarray.Dataset:
    path = result.film_path
    variables: dict[str, Any] = {
        "gap_stretch": ("gap_position", path.gap_stretch, _attributes("1", "strain of the film in the gap")),
        "gap_temperature": ("gap_position", path.gap_temperature, _attributes("K", "temperature of the film")),
        "stretch_in_gap": ((), path.stretch_in_gap, _attributes("1", "strain at the end of the gap")),
        "stretch_on_load": ((), path.stretch_on_load,
                            _attributes("1", "strain of the film as it lies on the load")),
    }
    variables |= {name: ((), getattr(path, name), _attributes(unit, long_name)) for name, unit, long_name in (
        ("prestretch_force", "N", "film force in the gap"),
        ("prestretch_power", "W", "mechanical power put into the film in the gap"),
        ("draw_temperature_rise", "K", "at the end of the gap, adiabatic"),
        ("film_temperature", "K", "at the end of the gap"),
        ("roller_speed_1", "m/s", "film speed on the first roller"),
        ("roller_speed_2", "m/s", "film speed on the second roller"),
        ("dwell_time", "s", "time on the second roller"),
        ("residence_time", "s", "time from the second roller to the load"),
        ("laid_width", "m", "width on the load"), ("laid_thickness", "m", "thickness on the load"),
        ("stiffness_over_force", "1", "d ln force / d ln stretch of the laid film"),
        ("gap_sharpness", "1", "least length of the draw over the roll thickness"))}
    return xr.Dataset(variables, {"gap_position": (
        "gap_position", path.gap_position, _attributes("m", "position in the gap between the rollers"))})
