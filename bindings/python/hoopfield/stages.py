# SPDX-License-Identifier: BSD-3-Clause
"""The stages of a prediction by themselves: film path, take-up geometry, build-up, storage."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core
from .errors import InputError
from .film import Film, _si
from .scenario import Scenario, Value, with_unit

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

__all__ = ["Buildup", "FilmPath", "Plan", "TakeUp", "buildup", "film_path", "plan_wrap", "storage", "take_up"]

Buildup = _core.Buildup

FILM_PATH_NUMBERS = (
    "prestretch_force",
    "prestretch_power",
    "draw_temperature_rise",
    "film_temperature",
    "roller_speed_1",
    "roller_speed_2",
    "dwell_time",
    "residence_time",
    "stretch_in_gap",
    "stretch_on_load",
    "laid_width",
    "laid_thickness",
    "stiffness_over_force",
    "gap_sharpness",
)


@dataclass(frozen=True)
class FilmPath:
    """What the film goes through between roll and load, over any shape of inputs.

    Each number is an array of the broadcast shape of the inputs (units as in Result.film_path: N, W, K, m/s, s, m;
    stretch as strain), NaN where the film cannot carry the force; ``message`` then says why.
    """

    prestretch_force: np.ndarray
    prestretch_power: np.ndarray
    draw_temperature_rise: np.ndarray
    film_temperature: np.ndarray
    roller_speed_1: np.ndarray
    roller_speed_2: np.ndarray
    dwell_time: np.ndarray
    residence_time: np.ndarray
    stretch_in_gap: np.ndarray
    stretch_on_load: np.ndarray
    laid_width: np.ndarray
    laid_thickness: np.ndarray
    stiffness_over_force: np.ndarray
    gap_sharpness: np.ndarray
    message: np.ndarray = field(repr=False)


def _grid(name: str, value: Any, unit: str) -> np.ndarray:
    array = np.asarray(_si(value, unit, name))
    if array.dtype.kind not in "fiu":
        raise InputError(f"{name}: has dtype {array.dtype}; expected real numbers", key=name)
    return array.astype(float)


def film_path(
    film: Film,
    *,
    width: ArrayLike | str,
    thickness: ArrayLike | str,
    prestretch: ArrayLike | str,
    force: ArrayLike | str,
    take_up_speed: ArrayLike | str,
    roller_gap: ArrayLike | str = 0.05,
    roller_arc: ArrayLike | str = 0.1,
    internal_path: ArrayLike | str = 0.5,
    mean_span: ArrayLike | str = 1.0,
    neck_in: float | None = None,
    width_on_load: float | str | None = None,
    temperature: ArrayLike | str | None = None,
) -> FilmPath:
    """Draw between the rollers, dwell, release and creep in the span, for inputs that broadcast against each other.

    width, thickness: on the roll, m. prestretch: strain. force: in the span, N. take_up_speed: mean speed of film on to
    the load, m/s (perimeter times turns per second). temperature: K of film and surroundings; the film's reference when
    left out. Scalars may be texts with a unit. Raises InputError or OutOfRange for inputs no machine has; a film that
    cannot carry its force gives NaN and a message instead, so that one bad point does not end a map.
    """
    given = {
        "width": (width, "m"),
        "thickness": (thickness, "m"),
        "prestretch": (prestretch, ""),
        "force": (force, "N"),
        "take_up_speed": (take_up_speed, "m/s"),
        "roller_gap": (roller_gap, "m"),
        "roller_arc": (roller_arc, "m"),
        "internal_path": (internal_path, "m"),
        "mean_span": (mean_span, "m"),
        "temperature": (film.reference_temperature if temperature is None else temperature, "K"),
    }
    arrays = {name: _grid(name, value, unit) for name, (value, unit) in given.items()}
    try:
        shape = np.broadcast_shapes(*(a.shape for a in arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {a.shape}" for name, a in arrays.items() if a.ndim)
        raise InputError(f"film_path: these shapes do not broadcast: {shapes}") from None
    columns = {name: np.broadcast_to(a, shape).ravel() for name, a in arrays.items()}
    numbers = {name: np.full(shape, np.nan) for name in FILM_PATH_NUMBERS}
    message = np.full(shape, "", dtype=object)
    fixed = {"neck_in": neck_in, "width_on_load": _si(width_on_load, "m", "width_on_load")}
    for i in range(int(np.prod(shape))):
        try:
            one = _core.film_path(film._core, **{name: float(c[i]) for name, c in columns.items()}, **fixed)
        except RuntimeError as error:
            message.flat[i] = str(error)
            continue
        for name, array in numbers.items():
            array.flat[i] = getattr(one, name)
    return FilmPath(**numbers, message=message)


@dataclass(frozen=True)
class TakeUp:
    """Take-up geometry over the rotation of a rectangular load.

    Arrays over ``angle`` (rad since the outlet stood on the +x axis; the load turns counter-clockwise seen from above):
    lever_arm (m: take-up speed over angular speed), span (m, outlet to load), wrap_rate (rad of film direction per rad;
    times the corner radius: film laid on it), normal_angle (rad), corner (0: +x+y, 1: -x+y, 2: -x-y, 3: +x-y).
    Of a turn: event_angle (rad), event_face, span_before, span_after (m) for the four faces in the order they are laid.
    perimeter and mean_span in m.
    """

    angle: np.ndarray
    lever_arm: np.ndarray
    span: np.ndarray
    wrap_rate: np.ndarray
    normal_angle: np.ndarray
    corner: np.ndarray
    event_angle: np.ndarray
    event_face: tuple[str, ...]
    span_before: np.ndarray
    span_after: np.ndarray
    perimeter: float
    mean_span: float


def take_up(
    length: float | str,
    width: float | str,
    distance: float | str,
    *,
    offset: float | str = 0.0,
    axis_offset: float | str = 0.0,
    corner_radius: float | str = 0.005,
    angle: ArrayLike | None = None,
) -> TakeUp:
    """How fast a turning load of ``length`` times ``width`` takes film up, and when its faces are laid.

    distance: outlet to rotation axis, m. offset: sideways offset of the outlet, m. axis_offset: centre of the load from
    the axis, m. angle: rad, one dimension; 721 points over a turn when left out. Raises OutOfRange when the outlet
    would
    touch the load.
    """
    si = {
        name: _si(value, "m", name)
        for name, value in {
            "length": length,
            "width": width,
            "distance": distance,
            "offset": offset,
            "axis_offset": axis_offset,
            "corner_radius": corner_radius,
        }.items()
    }
    core = _core.TakeUp(**si)
    angles = np.linspace(0.0, 2.0 * np.pi, 721) if angle is None else angle
    arrays = core.at(angles)
    events = core.events()
    return TakeUp(
        angle=np.array(angles, dtype=float),
        **arrays,
        event_angle=np.array([e[0] for e in events]),
        event_face=tuple(e[1] for e in events),
        span_before=np.array([e[2] for e in events]),
        span_after=np.array([e[3] for e in events]),
        perimeter=core.perimeter,
        mean_span=core.mean_span,
    )


class Plan:
    """Everything known before film touches the load, as arrays over the patches (one per face laid, in order).

    face, turn (since the start), time (s, 0 = end of wrapping), edge_begin and edge_end (m: lower film edge at the two
    corners), width (m), force (N over the whole film width), stretch (strain).
    """

    __slots__ = ("_core", "scenario")

    def __init__(self, scenario: Scenario) -> None:
        self.scenario = scenario
        self._core = _core.Plan(scenario._core)

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        return getattr(self._core, name)

    def __dir__(self) -> list[str]:
        return [name for name in dir(self._core) if not name.startswith("_")] + ["scenario"]

    def __len__(self) -> int:
        return len(self.face)

    def __reduce__(self) -> tuple:
        return Plan, (self.scenario,)

    def __repr__(self) -> str:
        return f"<hoopfield.Plan of {len(self)} patches in {self.rotation_time:.3g} s>"


def plan_wrap(scenario: Scenario) -> Plan:
    """Film path, take-up, winding and pattern of a scenario, up to the film each face receives."""
    return Plan(scenario)


def buildup(
    plan: Plan | Scenario,
    face_force: ArrayLike | None = None,
    *,
    time: ArrayLike | None = None,
    progress: Callable[[float, str], object] | None = None,
) -> Buildup:
    """Winds the patches of a plan on the load turn by turn, then stores it.

    face_force: N, one per patch; the film of a patch is brought to it by an elastic jump (what-if of another winding).
    time: s, rising from 0, at which hoop_tension and closings are kept; those of a prediction when left out.
    """
    plan = plan if isinstance(plan, Plan) else Plan(plan)
    return _core.buildup(plan._core, face_force, time, progress)


def _with_si(value: Any, unit: str) -> Any:
    """A number with its SI unit; a text as it is."""
    return value if isinstance(value, str) else with_unit(value, unit)


def _temperature(given: Any) -> Any:
    """One temperature, or pairs of time and temperature."""
    if isinstance(given, str) or not np.ndim(given):
        return _with_si(given, "K")
    return [[_with_si(part, unit) for part, unit in zip(pair, ("s", "K"), strict=False)] for pair in given]


def storage(
    plan: Plan | Scenario,
    duration: float | str,
    temperature: Value | ArrayLike | None = None,
    *,
    time: ArrayLike | None = None,
    face_force: ArrayLike | None = None,
    progress: Callable[[float, str], object] | None = None,
) -> Buildup:
    """The same wrap under another storage: duration in s, temperature as pairs (s, K), one number or a text.

    The temperature at time 0 is also that of wrapping, as in a scenario.
    """
    scenario = plan.scenario if isinstance(plan, Plan) else plan
    changes: Mapping[str, Any] = {"storage.duration": _with_si(duration, "s")}
    if temperature is not None:
        changes = {**changes, "storage.temperature": _temperature(temperature)}
    return buildup(Plan(scenario.replace(changes)), face_force, time=time, progress=progress)
