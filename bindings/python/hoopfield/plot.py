# SPDX-License-Identifier: BSD-3-Clause
"""Pictures of results, films and sweeps with matplotlib.

Every function draws on ``ax`` (a new figure when left out) and returns it. Titles state the quantity and its unit; the
colours are told apart with any colour vision (Okabe and Ito's set for lines, cividis for maps).
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from . import _core
from .errors import InputError
from .film import Film
from .scenario import declaration
from .stages import take_up

if TYPE_CHECKING:
    import xarray
    from matplotlib.axes import Axes

    from .film import FilmFit
    from .result import Result

__all__ = [
    "ResultPlots",
    "buildup",
    "containment",
    "face_map",
    "film_curves",
    "film_fit",
    "over_time",
    "span_force",
    "sweep_map",
]

BLUE, VERMILION, GREEN, PURPLE, ORANGE, SKY = "#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9"
LINES = (BLUE, VERMILION, GREEN, PURPLE, ORANGE, SKY)
STATION_STYLE = {"top": (BLUE, "-"), "middle": (GREEN, "--"), "bottom": (VERMILION, "-.")}
MAP = "cividis"
GREY = "#6b6b6b"


def _axes(ax: Axes | None, width: float = 6.4, height: float = 4.4) -> Axes:
    if ax is not None:
        return ax
    try:
        import matplotlib.pyplot as plt
    except ImportError:
        raise ImportError("plots need matplotlib: pip install 'hoopfield[plot]'") from None
    return plt.subplots(figsize=(width, height), layout="constrained")[1]


def _finish(ax: Axes, title: str, x: str, y: str, grid: Literal["both", "x", "y"] | None = "both") -> Axes:
    ax.set_title(title, fontsize="medium", loc="left")
    ax.set_xlabel(x)
    ax.set_ylabel(y)
    ax.spines[["top", "right"]].set_visible(False)
    if grid:
        ax.grid(True, axis=grid, color="0.9", linewidth=0.8)
        ax.set_axisbelow(True)
    return ax


def _mark_stations(ax: Axes, result: Result) -> None:
    for name in result.stations:
        height = result.containment.end[name].height
        ax.axhline(height, color=GREY, linewidth=0.8, linestyle=":", zorder=1)
        ax.annotate(
            name,
            (1.0, height),
            xycoords=("axes fraction", "data"),
            xytext=(4, 0),
            textcoords="offset points",
            va="center",
            fontsize="small",
            color=GREY,
        )


def containment(result: Result, ax: Axes | None = None) -> Axes:
    """Hoop tension over the height at the end of wrapping and after storage: mean of the faces, and their spread."""
    ax = _axes(ax, 5.6, 4.8)
    for index, label, colour, style in ((0, "end of wrapping", BLUE, "-"), (-1, "after storage", VERMILION, "--")):
        faces = result.hoop_tension[index]
        ax.fill_betweenx(result.height, faces.min(axis=0), faces.max(axis=0), color=colour, alpha=0.15, linewidth=0)
        ax.plot(faces.mean(axis=0), result.height, style, color=colour, linewidth=2, label=f"{label}, mean of faces")
    ax.fill_betweenx([], [], [], color=GREY, alpha=0.25, linewidth=0, label="least to greatest face")
    _mark_stations(ax, result)
    ax.set_xlim(left=0.0)
    ax.set_ylim(0.0, float(result.scenario["load.height"]))
    ax.legend(frameon=False, fontsize="small", loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2)
    return _finish(ax, "Hoop tension over the height of the load, N/m", "Hoop tension, N/m", "Height, m")


def buildup(result: Result, ax: Axes | None = None) -> Axes:
    """Hoop tension over the height as each turn is finished (mean of the faces): what later turns take from earlier
    ones."""
    ax = _axes(ax, 6.2, 4.8)
    import matplotlib as mpl

    fields = result.hoop_tension_buildup.mean(axis=1)
    colours = mpl.colormaps[MAP]
    last = max(len(result.turn) - 1, 1)
    for i, row in enumerate(fields):
        ax.plot(row, result.height, color=colours(0.92 * i / last), linewidth=2.4 if i == last else 1.2, zorder=2 + i)
    _mark_stations(ax, result)
    norm = mpl.colors.Normalize(1, max(float(result.turn[-1]), 2.0))
    bar = ax.figure.colorbar(mpl.cm.ScalarMappable(norm, colours), ax=ax, pad=0.12)
    bar.set_label("Finished turns")
    bar.outline.set_visible(False)
    ax.set_xlim(left=0.0)
    ax.set_ylim(0.0, float(result.scenario["load.height"]))
    return _finish(ax, "Hoop tension turn by turn, N/m (mean of faces)", "Hoop tension, N/m", "Height, m")


def _time_index(result: Result, when: str | float) -> tuple[int, str]:
    if when == "end":
        return 0, "at the end of wrapping"
    if when == "after_storage":
        return len(result.time) - 1, "after storage"
    if isinstance(when, str):
        raise InputError(f'when: {when!r} is neither "end", "after_storage" nor a time in s', key="when")
    index = int(np.argmin(np.abs(result.time - when)))
    return index, f"{_duration(float(result.time[index]))} after wrapping"


def _duration(seconds: float) -> str:
    for size, unit in ((86400.0, "d"), (3600.0, "h"), (60.0, "min")):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}"
    return f"{seconds:.3g} s"


def face_map(result: Result, when: str | float = "end", ax: Axes | None = None) -> Axes:
    """Hoop tension on the four faces of the load, unrolled. ``when``: "end", "after_storage" or a time in s."""
    ax = _axes(ax, 7.6, 4.2)
    index, words = _time_index(result, when)
    length, width = float(result.scenario["load.length"]), float(result.scenario["load.width"])
    edges = np.concatenate([[0.0], np.cumsum([width, length, width, length])])  # front and back span the width
    height = float(result.scenario["load.height"])
    levels = np.linspace(0.0, height, len(result.height) + 1)
    mesh = ax.pcolormesh(edges, levels, result.hoop_tension[index].T, cmap=MAP, vmin=0.0)
    for edge in edges[1:-1]:
        ax.axvline(edge, color="white", linewidth=2)
    for name, left, right in zip(result.faces, edges[:-1], edges[1:]):
        ax.annotate(
            name,
            ((left + right) / 2, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(0, 3),
            textcoords="offset points",
            ha="center",
            va="bottom",
            color=GREY,
        )
    bar = ax.figure.colorbar(mesh, ax=ax)
    bar.set_label("Hoop tension, N/m")
    bar.outline.set_visible(False)
    _finish(ax, f"Hoop tension on the unrolled load, N/m, {words}", "Along the faces, m", "Height, m", grid=None)
    ax.title.set_position((0.0, 1.0))
    ax.set_title(ax.get_title(loc="left"), fontsize="medium", loc="left", pad=20)
    return ax


def span_force(result: Result, ax: Axes | None = None) -> Axes:
    """Film force in the span over one settled turn, with the moments at which faces are laid."""
    ax = _axes(ax)
    span, scenario = result.span, result.scenario
    geometry = take_up(
        scenario["load.length"],
        scenario["load.width"],
        scenario["delivery.distance"],
        offset=scenario["delivery.offset"],
        axis_offset=scenario["load.axis_offset"],
        corner_radius=scenario["load.corner_radius"],
        angle=[0.0],
    )
    for angle, face in zip(np.degrees(geometry.event_angle), geometry.event_face):
        ax.axvline(angle, color=GREY, linewidth=0.8, linestyle=":")
        near_end = angle > 340.0
        ax.annotate(
            f"{face} laid",
            (angle, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(-3 if near_end else 3, -3),
            textcoords="offset points",
            va="top",
            ha="right" if near_end else "left",
            fontsize="small",
            color=GREY,
            rotation=90,
        )
    ax.plot(np.degrees(span.angle), span.force, color=BLUE, linewidth=2, label="force in the span")
    ax.axhline(
        span.force_set, color=VERMILION, linewidth=1.4, linestyle="--", label=f"set force {span.force_set:.3g} N"
    )
    low, high = min(span.force_min, span.force_set), max(span.force_max, span.force_set)
    margin = max(0.08 * (high - low), 0.02 * high)
    ax.set_ylim(max(low - margin, 0.0), high + 4.0 * margin)  # room for the names of the faces
    ax.set_xlim(0.0, 360.0)
    ax.set_xticks(range(0, 361, 45))
    ax.legend(frameon=False, fontsize="small", loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2)
    return _finish(ax, "Force in the span over one settled turn, N", "Rotation, degrees", "Force, N", grid="y")


def _band_mean(field: np.ndarray, load_height: float, centre: float, band: float) -> np.ndarray:
    """Mean over a band of height, slices weighted by how much of them lies in it; last axis is height."""
    edges = np.linspace(0.0, load_height, field.shape[-1] + 1)
    low, high = max(centre - band / 2, 0.0), min(centre + band / 2, load_height)
    weight = np.clip(np.minimum(edges[1:], high) - np.maximum(edges[:-1], low), 0.0, None)
    return field @ weight / weight.sum()


def _through(band: np.ndarray, first: float, last: float) -> np.ndarray:
    """A series of slices that begins and ends at the numbers of its station, which reads film by its edges."""
    if not (band[0] > 0 and band[-1] > 0):
        return band
    return band * np.linspace(first / band[0], last / band[-1], len(band))


def over_time(result: Result, ax: Axes | None = None) -> Axes:
    """Hoop tension at the stations over the time since wrapping; the temperature when it changes."""
    ax = _axes(ax, 6.8, 4.4)
    time, height = result.time, float(result.scenario["load.height"])
    first = time[1] / 3.0 if len(time) > 1 and time[1] > 0.0 else 1.0
    shown = np.where(time > 0.0, time, first)  # time 0 stands at the left edge of the logarithmic axis
    mean = result.hoop_tension.mean(axis=1)
    for name in result.stations:
        colour, style = STATION_STYLE[name]
        station = result.containment.end[name]
        band = _through(
            _band_mean(mean, height, station.height, float(result.scenario["stations.band_height"])),
            station.hoop_tension,
            result.containment.after_storage[name].hoop_tension,
        )
        ax.plot(shown, band, style, color=colour, linewidth=2, label=name)
    ax.set_xscale("log")
    ax.set_xlim(first, max(float(time[-1]), first * 10.0))
    marks = [
        (1.0, "1 s"),
        (10.0, "10 s"),
        (60.0, "1 min"),
        (600.0, "10 min"),
        (3600.0, "1 h"),
        (36000.0, "10 h"),
        (86400.0, "1 d"),
        (604800.0, "7 d"),
        (2592000.0, "30 d"),
    ]
    marks = [(first, "0")] + [mark for mark in marks if first * 1.5 < mark[0] <= time[-1] * 1.001]
    marks = [mark for i, mark in enumerate(marks) if i == 0 or mark[0] / marks[i - 1][0] > 3.0]
    ax.set_xticks([m[0] for m in marks], [m[1] for m in marks], fontsize="small")
    ax.minorticks_off()
    ax.set_ylim(bottom=0.0)
    _finish(
        ax,
        "Hoop tension at the stations over time, N/m (mean of faces)",
        "Time since the end of wrapping",
        "Hoop tension, N/m",
    )
    if np.ptp(result.temperature) > 0.1:
        warm = ax.twinx()
        warm.plot(shown, result.temperature - 273.15, color=GREY, linewidth=1, alpha=0.8, label="temperature (right)")
        warm.set_ylabel("Temperature, °C", color=GREY)
        warm.tick_params(axis="y", colors=GREY)
        warm.spines["top"].set_visible(False)
        low, high = result.temperature.min() - 273.15, result.temperature.max() - 273.15
        warm.set_ylim(low - 0.3 * (high - low), high + 2.0 * (high - low))
        handles = [*ax.get_legend_handles_labels()[0], *warm.get_legend_handles_labels()[0]]
    else:
        handles = ax.get_legend_handles_labels()[0]
    ax.legend(
        handles=handles, frameon=False, fontsize="small", loc="upper center", bbox_to_anchor=(0.5, -0.16), ncols=4
    )
    return ax


def film_curves(
    films: Mapping[str, Film] | Sequence[Film] | Film,
    results: Sequence[Result] | Result = (),
    ax: Axes | None = None,
    *,
    rate: float | str = 1.0,
    to: float | str = 3.0,
) -> Axes:
    """Tensile curves of films, with the working points of results: in the gap of the pre-stretch, and on the load.

    Curves end early where the network of the film ends. The film on the load has been let off from the gap, so its
    point
    lies below the curve.
    """
    ax = _axes(ax, 6.8, 4.6)
    if isinstance(films, Film):
        films = [films]
    named = films if isinstance(films, Mapping) else {film.name: film for film in films}
    results = [results] if not isinstance(results, Sequence) else results
    end = _core.parse_quantity(to, "") if isinstance(to, str) else float(to)
    colour_of = {}
    for i, (name, film) in enumerate(named.items()):
        colour_of[film.text] = LINES[i % len(LINES)]
        curve = film.tensile(rate, min(end, 0.98 * film.stretch_limit()))
        ax.plot(
            curve.stretch * 100,
            curve.stress / 1e6,
            color=LINES[i % len(LINES)],
            linewidth=2,
            label=name,
            linestyle=("-", "--", "-.", ":")[i % 4],
        )
    for result in results:
        colour = colour_of.get(result.scenario.film.text, "black")
        section = float(result.scenario["film.width"]) * float(result.scenario["film.thickness"])
        path = result.film_path
        ax.plot(
            float(result.scenario["delivery.prestretch"]) * 100,
            path.prestretch_force / section / 1e6,
            "s",
            color=colour,
            markersize=8,
            markeredgecolor="white",
            zorder=5,
        )
        ax.plot(
            path.stretch_on_load * 100,
            result.span.force_set / section / 1e6,
            "o",
            color=colour,
            markersize=9,
            markeredgecolor="white",
            zorder=5,
        )
    if results:
        ax.plot([], [], "s", color=GREY, label="in the gap of the pre-stretch")
        ax.plot([], [], "o", color=GREY, label="in the span, as laid")
    ax.set_xlim(left=0.0)
    ax.set_ylim(bottom=0.0)
    ax.legend(frameon=False, fontsize="small", loc="upper left")
    speed = rate if isinstance(rate, str) else f"{rate:g} 1/s"
    return _finish(
        ax,
        f"Nominal stress (force over section on the roll), MPa, pulled at {speed}",
        "Stretch, %",
        "Nominal stress, MPa",
    )


def film_fit(fit: FilmFit, axes: Sequence[Axes] | None = None) -> Sequence[Axes]:
    """Measured points and fitted lines of a film fit, and the residuals below, over the readings of each curve in
    order."""
    if axes is None:
        import matplotlib.pyplot as plt

        _, axes = plt.subplots(2, 1, figsize=(6.8, 6.4), height_ratios=(2, 1), layout="constrained")
    upper, lower = axes
    for i, curve in enumerate(fit.curves):
        colour = LINES[i % len(LINES)]
        order = np.arange(len(curve["stress"])) / max(1, len(curve["stress"]) - 1)
        upper.plot(curve["stretch"] * 100, curve["stress"] / 1e6, ".", color=colour, markersize=4)
        upper.plot(
            curve["stretch"] * 100,
            curve["fitted"] / 1e6,
            color=colour,
            linewidth=1.5,
            label=f"{os.path.basename(curve['name'])} ({curve['kind']})",
        )
        lower.plot(
            order * 100,
            (curve["fitted"] - curve["stress"]) / np.mean(np.abs(curve["stress"])) * 100,
            color=colour,
            linewidth=1,
            marker=".",
            markersize=3,
        )
    lower.axhline(0.0, color=GREY, linewidth=0.8)
    upper.legend(frameon=False, fontsize="small")
    _finish(upper, f"{fit.film.name}: points measured, lines fitted", "Stretch, %", "Nominal stress, MPa")
    _finish(
        lower,
        "Fitted less measured, % of the mean stress of the curve",
        "Along the curve, % of its readings",
        "Residual, %",
    )
    return axes


def _shown(key: str, values: np.ndarray) -> tuple[np.ndarray, str]:
    """Swept values in the unit people write, with a label."""
    declared = declaration(key)
    name = key.rsplit(".", 1)[-1].replace("_", " ")
    name = {
        "delivery.tension.force": "span force",
        "rotation.speed": "rotation speed",
        "delivery.prestretch": "pre-stretch",
    }.get(key, name)
    label = name[0].upper() + name[1:]
    if declared is None or not declared.customary_unit:
        return values, label
    unit = declared.customary_unit
    return np.array([_core.to_unit(float(v), unit) for v in values]), f"{label}, {unit}"


def sweep_map(
    data: xarray.Dataset,
    x: str,
    y: str,
    quantity: str = "containment.after_storage.middle.hoop_tension",
    *,
    where: Mapping[str, float] | None = None,
    target: float | None = None,
    ax: Axes | None = None,
    vmin: float | None = None,
    vmax: float | None = None,
    colorbar: bool = True,
) -> Axes:
    """Map of a sweep: ``quantity`` over two swept inputs, with the contour of a ``target`` (in the quantity's unit).

    data: what ``hoopfield.sweep`` returns, or a sweep file opened with xarray. where: values of further swept inputs
    that
    the map stands for. Complete grids are drawn as cells, others from the points; failed cases stay blank.
    """
    for name in (x, y, quantity, *(where or {})):
        if name not in data.variables:
            raise InputError(
                f"sweep_map: the sweep has no {name!r}; it has {', '.join(map(str, data.variables))}", key=name
            )
    keep = np.ones(data.sizes["case"], dtype=bool)
    for key, value in (where or {}).items():
        keep &= np.isclose(data[key].values, value)
    if not keep.any():
        raise InputError("sweep_map: no case has the values asked for by `where`", key="where")
    ax = _axes(ax, 6.2, 4.8)
    (xs, x_label), (ys, y_label) = (_shown(key, data[key].values[keep]) for key in (x, y))
    z = data[quantity].values[keep]
    unit = data[quantity].attrs.get("units", "")
    words = _words(quantity)
    grid_x, grid_y = np.unique(xs), np.unique(ys)
    target_drawn = False
    if len(xs) == len(grid_x) * len(grid_y) and min(len(grid_x), len(grid_y)) > 1:
        table = np.full((len(grid_y), len(grid_x)), np.nan)
        table[np.searchsorted(grid_y, ys), np.searchsorted(grid_x, xs)] = z
        drawn: Any = ax.pcolormesh(grid_x, grid_y, table, cmap=MAP, shading="nearest", vmin=vmin, vmax=vmax)
        if target is not None and np.nanmin(table) < target < np.nanmax(table):
            for colour, width in (("white", 3.0), ("black", 1.4)):
                ax.contour(grid_x, grid_y, table, [target], colors=colour, linewidths=width)
            target_drawn = True
    else:
        good = np.isfinite(z)
        drawn = ax.scatter(
            xs[good], ys[good], c=z[good], cmap=MAP, s=36, edgecolors="white", linewidths=0.5, vmin=vmin, vmax=vmax
        )
        if target is not None and good.sum() > 3 and z[good].min() < target < z[good].max():
            ax.tricontour(xs[good], ys[good], z[good], [target], colors="black", linewidths=1.5)
            target_drawn = True
    if colorbar:
        bar = ax.figure.colorbar(drawn, ax=ax)
        bar.set_label(f"{words}, {unit}" if unit != "1" else words)
        bar.outline.set_visible(False)
    title = f"{words}, {unit}" if unit != "1" else words
    if where:
        title += "\n" + ", ".join("{1} {0:.4g} {2}".format(*_where_words(key, value)) for key, value in where.items())
    if target is not None:
        title += f"\nline: target {target:g} {unit}" if target_drawn else f"\ntarget {target:g} {unit} not crossed here"
    return _finish(ax, title, x_label, y_label, grid=None)


def _where_words(key: str, value: float) -> tuple[float, str, str]:
    shown, label = _shown(key, np.array([value]))
    name, _, unit = label.partition(", ")
    return float(shown[0]), name.lower(), unit


def _words(quantity: str) -> str:
    """ "containment.after_storage.middle.hoop_tension" -> "Hoop tension, middle, after storage"."""
    parts = quantity.split(".")
    name = parts[-1].replace("_", " ")
    if parts[0] == "containment" and len(parts) > 2:
        moment = {"end": "end of wrapping", "weakest": "weakest in storage", "after_storage": "after storage"}.get(
            parts[1], parts[1]
        )
        between = [p.replace("_", " ") for p in parts[2:-1] if p != "faces"]
        return ", ".join([name.capitalize(), *between, moment])
    return f"{name.capitalize()} ({parts[0].replace('_', ' ')})" if len(parts) > 1 else name.capitalize()


class ResultPlots:
    """Pictures of one result; each takes ``ax=`` and returns it."""

    def __init__(self, result: Result) -> None:
        self._result = result

    def containment(self, ax: Axes | None = None) -> Axes:
        """Hoop tension over the height at the end of wrapping and after storage."""
        return containment(self._result, ax)

    def buildup(self, ax: Axes | None = None) -> Axes:
        """Hoop tension over the height as each turn is finished."""
        return buildup(self._result, ax)

    def face_map(self, when: str | float = "end", ax: Axes | None = None) -> Axes:
        """Hoop tension on the unrolled load."""
        return face_map(self._result, when, ax)

    def span_force(self, ax: Axes | None = None) -> Axes:
        """Force in the span over one settled turn."""
        return span_force(self._result, ax)

    def over_time(self, ax: Axes | None = None) -> Axes:
        """Hoop tension at the stations over time."""
        return over_time(self._result, ax)

    def film_curve(self, ax: Axes | None = None, *, rate: float | str = 1.0, to: float | str = 3.0) -> Axes:
        """Tensile curve of the film with the working points of this result."""
        return film_curves(self._result.scenario.film, self._result, ax, rate=rate, to=to)
