# SPDX-License-Identifier: BSD-3-Clause
"""Scenarios: everything one prediction needs."""

from __future__ import annotations

import math
import os
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Union

from . import _core
from .errors import InputError, UnknownKey
from .film import Film

__all__ = ["Scenario", "Value", "read", "with_unit"]

Value = Union[str, float, int, bool, os.PathLike, "list[Any]", "tuple[Any, ...]"]

# Units of bare numbers in the inputs that are lists of pairs.
_PAIR_UNITS = {"storage.temperature": ("s", "K"), "delivery.tension.dial_table": ("", "N")}
_PAIR_CUSTOMARY = {"s": ("h", "s"), "K": ("degC", "K")}


def read(path: str | os.PathLike[str]) -> Scenario:
    """Reads a scenario file (TOML) and the film file it names.

    Raises IoError when the scenario file cannot be read; InputError or OutOfRange, with file, line, column and key, for
    everything wrong inside.
    """
    return Scenario(_core.read_scenario(os.fspath(path)))


def need_scenario(what: str, given: Any) -> None:
    """Raises TypeError, with what makes a Scenario, for anything else."""
    if isinstance(given, Scenario):
        return
    is_path = isinstance(given, (str, os.PathLike))
    hint = f"read it first: hoopfield.read({os.fspath(given)!r})" if is_path else "hoopfield.read(path) makes one"
    raise TypeError(f"{what} needs a Scenario, not {type(given).__name__}; {hint}")


def declaration(key: str) -> _core.Parameter | None:
    """What declares a key; None for one that nobody declared."""
    return next((p for p in _core.find_parameters(key) if p.key == key), None)


@cache
def _bare_units(key: str) -> tuple[str, str] | None:
    """(customary, SI) unit of a key whose bare number could be meant in either; None where both are one."""
    declared = declaration(key)
    if declared is None or not declared.customary_unit:
        return None
    customary, si = declared.customary_unit, declared.unit
    return None if _core.to_unit(1.0, customary) == 1.0 else (customary, si)


def _refuse_bare(key: str, number: float, units: tuple[str, str] | None) -> None:
    """Raises InputError for a number that would be another value in the unit people use."""
    if units is None or not math.isfinite(number) or (number == 0.0 and units[1] != "K"):
        return
    customary, si = units
    in_si = with_unit(number, si) if si else with_unit(_core.to_unit(number, customary), customary)
    raise InputError(
        f'{key}: {with_unit(number, "")} has no unit; write "{with_unit(number, customary)}" or "{in_si}", '
        f'for many values hoopfield.with_unit(values, "{customary}")',
        key=key,
    )


def with_unit(values: Any, unit: str) -> Any:
    """Numbers with the unit they are in, as a scenario takes them: ``with_unit(12, "rpm")`` is "12 rpm".

    A list, array or column gives a list of texts, which hold every digit. A bare number is refused where the unit
    people use is not SI, so that 12 is never taken for 12 rad/s.
    """
    if isinstance(values, (str, bytes)):
        raise InputError(f"with_unit: {values!r} is a text; expected numbers")
    if getattr(values, "ndim", None) != 0 and hasattr(values, "__len__"):
        return [with_unit(value, unit) for value in values]
    number = float(values)
    written = repr(int(number)) if number.is_integer() and abs(number) < 2**53 else repr(number)
    return f"{written} {unit}".strip()


def _pairs_text(key: str, value: list[Any] | tuple[Any, ...]) -> str:
    """A list of pairs as TOML."""
    units = _PAIR_UNITS.get(key)
    if units is None:
        raise InputError(f"{key}: is a list; expected one value", key=key)
    rows = []
    for item in value:
        if isinstance(item, str) or not hasattr(item, "__len__") or len(item) != 2:
            raise InputError(f"{key}: {item!r} is not a pair", key=key)
        for part, unit in zip(item, units):
            if not isinstance(part, str):
                _refuse_bare(key, float(part), _PAIR_CUSTOMARY.get(unit))
        cells = [
            f'"{part}"' if isinstance(part, str) else f'"{float(part)!r} {unit}"' if unit else f"{float(part)!r}"
            for part, unit in zip(item, units)
        ]
        rows.append(f"[{', '.join(cells)}]")
    return f"[{', '.join(rows)}]"


def _plain(key: str, value: Any) -> str | float:
    """One value as the core takes it: a text as a user writes it, or a number whose unit is in no doubt."""
    if isinstance(value, (bool,)) or type(value).__name__ in ("bool_", "bool"):
        return "true" if value else "false"
    if isinstance(value, str):
        return value
    if isinstance(value, os.PathLike):
        return os.fspath(value)  # type: ignore[return-value]
    if getattr(value, "ndim", 0) or isinstance(value, (list, tuple)):
        return _pairs_text(key, value.tolist() if hasattr(value, "tolist") else value)
    try:
        number = float(value)
    except (TypeError, ValueError):
        kind = type(value).__name__
        raise InputError(
            f"{key}: is a {kind}; expected a text with unit, a number, a truth value or a list of pairs", key=key
        ) from None
    _refuse_bare(key, number, _bare_units(key))
    return number


class Scenario(Mapping[str, Any]):
    """A complete, validated set of inputs; a mapping from key to SI value that is never changed in place.

    ``sc["delivery.prestretch"]`` gives 2.5 (strain), ``sc["delivery.tension.control"]`` a text, an input without a
    value None. ``sc.replace({...})`` makes a changed copy. Equality compares values, origins and the film's text.
    """

    __slots__ = ("_core",)

    def __init__(self, core: _core.Scenario) -> None:
        if not isinstance(core, _core.Scenario):
            raise TypeError("make a Scenario with hoopfield.read, Scenario.from_text or Scenario.replace")
        self._core = core

    @classmethod
    def from_text(
        cls,
        text: str,
        *,
        base_dir: str | os.PathLike[str] = ".",
        film: Film | str | None = None,
        name: str = "scenario",
    ) -> Scenario:
        """Reads a TOML text. Film paths start from ``base_dir``, unless ``film`` gives the film or its text."""
        if film is not None:
            return cls(_core.scenario_with_film(text, name, film.text if isinstance(film, Film) else film))
        return cls(_core.scenario_from_text(text, name, os.fspath(base_dir)))

    def replace(self, changes: Mapping[str, Value] | None = None, /, *, film: Film | None = None) -> Scenario:
        """A copy with some inputs set, all validated together.

        Texts carry units ("70 N", "12 rpm", "250 %", "stuck"). Bare numbers are SI, and refused for inputs that people
        write in another unit (see ``with_unit``). Inputs that exclude each other
        replace each other (pitch, overlap, carriage speed; force, dial). ``film`` swaps the film for one in hand.
        Raises InputError with the nearest key for a misspelt one, OutOfRange for values no film, load or machine has.
        """
        core = self._core
        if changes:
            core = core.replace([(str(key), _plain(str(key), value)) for key, value in changes.items()])
        if film is not None:
            core = core.with_film(film._core)
        return Scenario(core)

    def to_text(self) -> str:
        """TOML of every input that was written or set; what is assumed is left out and comes back on reading."""
        return self._core.to_text()

    def origin(self, key: str) -> str:
        """ "given", "measured", "fitted" or "assumed"; "" for an input without a value."""
        self._core.get(key)
        return next((row["origin"] for row in self._core.resolved() if row["key"] == key), "")

    def inputs(self) -> list[dict[str, Any]]:
        """Every input that has a value: key, value (SI), text, unit, origin, file, line."""
        return self._core.resolved()

    @property
    def title(self) -> str:
        """What the scenario calls itself; "" when it does not."""
        return self._core.title

    @property
    def report(self) -> dict[str, str]:
        """What the head of a report says: site, author, customer and date ("2026-11-27"); "" where nothing is given."""
        return {key.partition(".")[2]: self[key] for key in self if key.startswith("report.")}

    @property
    def path(self) -> Path | None:
        """File it was read from; None when made in memory."""
        return Path(self._core.path) if self._core.path else None

    @property
    def film(self) -> Film:
        """The film it is wound with."""
        return Film(self._core.film)

    @property
    def inputs_hash(self) -> str:
        """Equal inputs, equal hash, wherever the files lie."""
        return self._core.inputs_hash()

    def __getitem__(self, key: str) -> Any:
        """SI value, text or None. Raises UnknownKey, which is a KeyError, so ``get`` gives its default."""
        try:
            return self._core.get(key)
        except InputError as error:
            raise UnknownKey(str(error), key=key) from None

    def __iter__(self) -> Iterator[str]:
        return iter(_core.scenario_keys())

    def __len__(self) -> int:
        return len(_core.scenario_keys())

    def __contains__(self, key: object) -> bool:
        return key in _core.scenario_keys()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Scenario) and self._core.same(other._core)

    def __hash__(self) -> int:
        return hash(self.inputs_hash)

    def __copy__(self) -> Scenario:
        return Scenario(self._core)

    def __deepcopy__(self, memo: dict[int, Any]) -> Scenario:
        return Scenario(self._core)

    def __reduce__(self) -> tuple:
        return Scenario, (self._core,)

    def __repr__(self) -> str:
        length, width, height = (self[f"load.{side}"] for side in ("length", "width", "height"))
        return (
            f"<hoopfield.Scenario {self.title or 'untitled'!r}: {length:g} x {width:g} x {height:g} m, "
            f"{self['delivery.tension.force']:.4g} N, pre-stretch {self['delivery.prestretch'] * 100:.4g} %, "
            f"film {self.film.name!r}>"
        )

    def _repr_html_(self) -> str:
        from ._cards import scenario_card

        return scenario_card(self)
