# SPDX-License-Identifier: BSD-3-Clause
"""Films and their virtual tests."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from . import _core
from ._lab import lab_curves
from .errors import InputError, IoError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike

__all__ = ["Film", "FilmCurve", "FilmFit", "film_from_datasheet", "fit_film"]

FilmCurve = _core.FilmCurve


def _si(value: float | str | None, unit: str, name: str) -> Any:
    """A number as it is, a text by its unit."""
    if not isinstance(value, str):
        return value
    try:
        return _core.parse_quantity(value, unit)
    except InputError as error:
        raise type(error)(f"{name}: {error}", key=name) from None


class Film:
    """A film: its numbers, and the tests a laboratory would make of it. Read with ``Film.read`` or ``Film.library``."""

    __slots__ = ("_core",)

    def __init__(self, core: _core.Film) -> None:
        if not isinstance(core, _core.Film):
            raise TypeError("make a Film with Film.read, Film.from_text or Film.library")
        self._core = core

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Film:
        """Reads a film file. Raises IoError, InputError or OutOfRange with the place."""
        return cls(_core.read_film(os.fspath(path)))

    @classmethod
    def from_text(cls, text: str, name: str = "film") -> Film:
        """Reads the text of a film file; ``name`` is shown in messages."""
        return cls(_core.film_from_text(text, name))

    @classmethod
    def library(cls, name: str) -> Film:
        """A film that comes with hoopfield; ``Film.library_names()`` lists them."""
        return cls(_core.library_film(name))

    @staticmethod
    def library_names() -> list[str]:
        """Names of the illustrative films that come with hoopfield, for ``Film.library``."""
        return _core.library_films()

    def tensile(
        self,
        rate: float | str = 1.0,
        to: float | str = 2.5,
        *,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
        draw_heat: bool = False,
    ) -> FilmCurve:
        """Pulls a strip to a strain at a constant speed of the grips.

        rate: grip speed over starting length, 1/s. to: strain (2.5 or "250 %"). width_exponent: width ~ stretch^-n,
        0.5 free, 0 held. temperature: K or a text; the film's reference when left out. draw_heat: the work done on the
        film heats it, and no heat is lost. Raises SolverError when the network of the film ends before ``to``. The same
        numbers as ``hoopfield film test``.
        """
        return self._core.test(
            "tensile",
            _si(rate, "1/s", "rate"),
            _si(to, "", "to"),
            width_exponent,
            _si(temperature, "K", "temperature"),
            1.0,
            draw_heat=draw_heat,
        )

    def relax(
        self,
        stretch: float | str = 2.5,
        time: float | str = 3600.0,
        *,
        rate: float | str = 1.0,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
        draw_heat: bool = False,
    ) -> FilmCurve:
        """Pulls a strip to a strain, then holds it for ``time`` (s): stress relaxation. Else as ``tensile``."""
        return self._core.test(
            "relaxation",
            _si(rate, "1/s", "rate"),
            _si(stretch, "", "stretch"),
            width_exponent,
            _si(temperature, "K", "temperature"),
            _si(time, "s", "time"),
            draw_heat=draw_heat,
        )

    def recover(
        self,
        stretch: float | str = 2.5,
        wait: float | str = 86400.0,
        *,
        hold: float | str = 60.0,
        rate: float | str = 1.0,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
        draw_heat: bool = False,
    ) -> FilmCurve:
        """Pulls a strip to a strain, holds it for ``hold``, lets it back and leaves it free for ``wait`` (s).

        ``permanent_set``, ``permanent_share`` and ``elastic_recovery`` of the curve say what stays. Else as
        ``tensile``.
        """
        return self._core.test(
            "recovery",
            _si(rate, "1/s", "rate"),
            _si(stretch, "", "stretch"),
            width_exponent,
            _si(temperature, "K", "temperature"),
            1.0,
            release_hold=_si(hold, "s", "hold"),
            wait=_si(wait, "s", "wait"),
            draw_heat=draw_heat,
        )

    def cycle(
        self,
        stretch: float | str = 2.5,
        cycles: int = 3,
        *,
        rate: float | str = 1.0,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
        draw_heat: bool = False,
    ) -> FilmCurve:
        """Pulls a strip to a strain and lets it back until the force is gone, ``cycles`` times. Else as ``tensile``."""
        return self._core.test(
            "cycle",
            _si(rate, "1/s", "rate"),
            _si(stretch, "", "stretch"),
            width_exponent,
            _si(temperature, "K", "temperature"),
            1.0,
            cycles=cycles,
            draw_heat=draw_heat,
        )

    def creep(
        self,
        stress: float | str,
        time: float | str = 3600.0,
        *,
        rate: float | str = 1.0,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
        draw_heat: bool = False,
    ) -> FilmCurve:
        """Pulls a strip until force over section on the roll is ``stress`` (Pa), which then acts for ``time`` (s)."""
        return self._core.test(
            "creep",
            _si(rate, "1/s", "rate"),
            1.0,
            width_exponent,
            _si(temperature, "K", "temperature"),
            _si(time, "s", "time"),
            stress=_si(stress, "Pa", "stress"),
            draw_heat=draw_heat,
        )

    def numbers(
        self,
        stretch: float | str = 2.5,
        *,
        rate: float | str = 1.0,
        width_exponent: float = 0.5,
        temperature: float | str | None = None,
    ) -> dict[str, float | None]:
        """The comparison numbers of the film, SI: secant_modulus, knee_stress, stress_at_100, ..., permanent_set.

        stretch: strain on the load. None where the film cannot be stretched so far. ``hf.explain("film_numbers")``
        gives
        the formula of each.
        """
        return _core.film_numbers(
            self._core,
            _si(rate, "1/s", "rate"),
            _si(stretch, "", "stretch"),
            width_exponent,
            _si(temperature, "K", "temperature"),
        )

    def write(self, path: str | os.PathLike[str], *, overwrite: bool = False) -> None:
        """Writes the film file. Raises IoError when it exists and ``overwrite`` is not set."""
        try:
            with open(path, "w" if overwrite else "x", encoding="utf-8") as file:
                file.write(self.text)
        except OSError as error:
            raise IoError(f"{os.fspath(path)}: cannot be written: {error.strerror}") from None

    def follow(
        self, time: ArrayLike, stretch: ArrayLike, temperature: ArrayLike | None = None, *, width_exponent: float = 0.5
    ) -> np.ndarray:
        """Stress (force over section on the roll, Pa) along any path: cycles, recovery, ramps.

        time: s, not falling; stretch: strain at these times, reached at constant log rate in between; temperature: K.
        All of one length. The first point is reached by an elastic jump from strain 0. Negative stress means slack
        film.
        """
        return self._core.follow(time, stretch, temperature, width_exponent)

    @property
    def name(self) -> str:
        """What the film file calls the film."""
        return self._core.name

    @property
    def law(self) -> str:
        """Film law: "eyring-network", "power-network", "maxwell" or "elastic-curve"."""
        return self._core.law

    @property
    def density(self) -> float:
        """kg/m^3"""
        return self._core.density

    @property
    def neck_in(self) -> float:
        """Width exponent in the gap of the pre-stretch."""
        return self._core.neck_in

    @property
    def reference_temperature(self) -> float:
        """K"""
        return self._core.reference_temperature

    @property
    def source(self) -> str:
        """Where the numbers of the film come from."""
        return self._core.source

    @property
    def illustrative(self) -> bool:
        """True when the numbers describe no real film."""
        return self._core.illustrative

    @property
    def text(self) -> str:
        """The film file."""
        return self._core.text

    def stretch_limit(self, width_exponent: float = 0.5) -> float:
        """Greatest strain of the network."""
        return self._core.stretch_limit(width_exponent)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Film) and self.text == other.text

    def __hash__(self) -> int:
        return hash(self.text)

    def __reduce__(self) -> tuple:
        return Film, (self._core,)

    def __repr__(self) -> str:
        mark = ", illustrative" if self.illustrative else ""
        return f"<hoopfield.Film {self.name!r}: law {self.law}, {self.density:g} kg/m^3{mark}>"


class FilmFit:
    """A film identified from curves or from a data sheet, and how well it is known.

    ``film``; ``parameters`` (dicts with key, value, low, high, determined, ...); ``correlation``; ``curves`` (dicts
    with arrays time, stretch, stress, fitted); ``held_out`` (the same of curves the fit did not see); ``numbers`` (name
    to value and standard error); ``intervals`` (name to low and high, 95 %); ``choices`` (branches, BIC, rms);
    ``misfit`` beyond the scatter of the points and ``law_error`` that the intervals allow for, both relative;
    ``unknown`` and ``warnings`` (sentences). SI, stretch as strain.
    """

    def __init__(self, core: _core.FilmFit) -> None:
        self.film = Film(core.film)
        self.parameters = core.parameters
        self.correlation = core.correlation
        self.curves = core.curves
        self.held_out = core.held_out
        self.numbers = core.numbers
        self.intervals = core.intervals
        self.choices = core.choices
        self.unknown = list(core.unknown)
        self.warnings = list(core.warnings)
        self.misfit = core.misfit
        self.law_error = core.law_error

    def plot(self, axes: Any = None) -> Any:
        """Measured and fitted curves over their residuals; needs matplotlib. Returns the two axes."""
        from . import plot

        return plot.film_fit(self, axes)

    def __repr__(self) -> str:
        open_ = sum(not p["determined"] for p in self.parameters)
        counts = f"{len(self.curves)} curves, {open_} of {len(self.parameters)} numbers open"
        return f"<hoopfield.FilmFit {self.film.name!r}: {counts}>"


def fit_film(
    curves: Any,
    *,
    columns: str | Sequence[str] | None = None,
    kind: str | None = None,
    width: float | str | None = None,
    thickness: float | str | None = None,
    grip_distance: float | str | None = None,
    speed: float | str | None = None,
    rate: float | str | None = None,
    temperature: float | str | None = None,
    width_exponent: float | None = None,
    machine_compliance: float | str | None = None,
    branches: int | None = None,
    name: str = "fitted film",
    density: float | str | None = None,
    neck_in: float | None = None,
    starts: int = 3,
    model_error: float | str = 0.02,
    hold_out: Any = None,
    progress: Callable[[float, str], object] | None = None,
) -> FilmFit:
    """Film law from laboratory curves, as ``hoopfield film fit``.

    curves: one curve, or a list in which kinds may be mixed. A curve is

    - a path of a table (CSV);
    - a mapping of columns, each of shape (rows,), named as in a file: ``{"stretch_percent": ..., "force_N": ...,
      "time_s": ...}``. Entries without a length are conditions of this test: ``"width": "25 mm"``, ``"kind":
      "relaxation"``; ``"name"`` names the curve;
    - a table with named columns (a pandas DataFrame; its ``attrs`` may hold conditions);
    - an array of shape (rows, columns) whose columns ``columns`` names ("-" passes one over), or one with named fields;
    - a FilmCurve, as ``Film.tensile`` and its like return it.

    columns: names for arrays and for files without names, "displacement_mm,force_N" or a list. The conditions are used
    where a curve does not say its own: kind ("tensile", "relaxation", "recovery", "cycle", "creep"); width, thickness
    and grip_distance of the strip (m or a text such as "25 mm"); speed of the grips (m/s) or rate (1/s), needed where
    there is no time; temperature (K); width_exponent (width ~ stretch^-n: 0.5 free, 0 held); machine_compliance (m/N,
    taken off the travel of the grips). NaN is a missing number.

    branches: number of relaxing branches, 1 to 8; chosen by an information criterion when left out. hold_out: curves
    the fit does not see; ``held_out`` of the result sets the prediction beside them. density: kg/m^3 or a text.
    model_error: relative error of any film law's stress that the intervals allow for (own assumption). Raises
    InputError, with file and line where there are any, for a curve that cannot be read or is too short, IoError for a
    file that cannot be opened, TypeError for what is no curve.
    """
    conditions = {
        "kind": kind,
        "width": width,
        "thickness": thickness,
        "grip_distance": grip_distance,
        "speed": speed,
        "rate": rate,
        "temperature": temperature,
        "width_exponent": width_exponent,
        "machine_compliance": machine_compliance,
    }
    return FilmFit(
        _core.fit_film(
            lab_curves(curves, columns, conditions),
            branches,
            name,
            _si(density, "kg/m^3", "density"),
            neck_in,
            starts,
            _si(model_error, "", "model_error"),
            [] if hold_out is None else lab_curves(hold_out, columns, conditions),
            progress,
        )
    )


def film_from_datasheet(path: str | os.PathLike[str]) -> FilmFit:
    """Film law from the few numbers of a data sheet (TOML), with wide uncertainty; as ``hoopfield film
    from-datasheet``."""
    return FilmFit(_core.film_from_datasheet(os.fspath(path)))
