# SPDX-License-Identifier: BSD-3-Clause
"""The wrapped load in transit: slow pushes, pulses, a requirement's levels, what would mend it."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from . import _core
from .opening import need_xarray
from .result import Progress, Result, predict
from .scenario import Scenario, need_scenario

if TYPE_CHECKING:
    import xarray
    from numpy.typing import ArrayLike

__all__ = ["Transit", "ride", "transit"]

STANDARD_GRAVITY = 9.80665  # m/s^2


class Transit:
    """What a wrapped load is predicted to withstand. A prediction, never a certificate.

    ``answer`` has the names of ``hoopfield transit --json``; ``histories[direction]`` the base acceleration of the
    pulse, displacement and rotation of each tier, slip and film force of the interface under it, over time, SI.
    """

    def __init__(self, text: str, histories: dict[str, dict[str, np.ndarray]], words: str) -> None:
        self.answer: dict[str, Any] = json.loads(text)
        self.histories = histories
        self.words = words

    def __getitem__(self, moment: str) -> dict[str, Any]:
        """``t["weakest"]["along_width"]["held_gn"]``"""
        return self.answer["transit"][moment]

    @property
    def bands(self) -> dict[str, dict[str, float]]:
        """Nine draws in ten lie from ``p05`` to ``p95``: ``t.bands["transit.weakest.along_width.held_gn"]``."""
        drawn = self.answer["band"]
        return {} if drawn is None else drawn["values"]

    @property
    def remedies(self) -> list[dict[str, Any]]:
        """The load changed in one way at a time."""
        return self.answer["transit"]["remedies"]

    def to_xarray(self) -> xarray.Dataset:
        """Time histories over direction, transit_time, and tier or interface (which has the number of its tier), as in
        the group "transit" of ``hoopfield transit -o``. A load that falls has no numbers from then on.
        """
        xr = need_xarray("to_xarray")
        sides = []
        for name, side in self.histories.items():
            numbers = np.arange(1, side["displacement"].shape[1] + 1)
            axes = {"base_acceleration": ("transit_time",)} | {
                key: ("transit_time", place)
                for place, keys in {"tier": ("displacement", "rotation"), "interface": ("slip", "film_force")}.items()
                for key in keys
            }
            values = {key: (over, side[key]) for key, over in axes.items()}
            places = {"transit_time": side["time"], "tier": numbers, "interface": numbers}
            sides.append(xr.Dataset(values, places).expand_dims(direction=[name]))
        return xr.concat(sides, "direction", join="outer")

    def __repr__(self) -> str:
        weakest = self["weakest"]
        held = min(weakest[name]["held_gn"] for name in self.histories)
        return f"<hoopfield.Transit holds {held:.2f} gn with the allowed slip>"


def transit(
    scenario: Scenario,
    requirement: str | os.PathLike[str] | None = None,
    tilt: bool = False,
    *,
    band_samples: int = 32,
    result: Result | None = None,
    progress: Progress | None = None,
) -> Transit:
    """Whether the wrapped load stays together on its way.

    ``requirement`` is a set that is built in or a file, seen from the working folder, in place of
    ``transit.requirement``; ``band_samples`` draws over what is uncertain, pulses among it (some seconds), 0 for none;
    ``result`` a prediction of the same scenario, made here when left out.
    """
    need_scenario("transit", scenario)
    if requirement is not None:
        name = _core.requirement_from_here(os.fspath(requirement))
        scenario = scenario.replace({"transit.requirement": name})
    if result is None:
        result = predict(scenario, progress, band_samples=0)
    return Transit(*_core.transit(scenario._core, result._core, tilt, band_samples, progress))


def ride(
    tiers: Sequence[Mapping[str, float]],
    time: ArrayLike,
    acceleration: ArrayLike,
    *,
    side: float,
    normal: ArrayLike | None = None,
    duration: float | None = None,
    interval: float = 1e-3,
    step: float | None = None,
    **keys: float,
) -> dict[str, Any]:
    """A stack of one's own under any course of acceleration, SI.

    ``tiers`` from below: ``height``, ``mass``, ``friction`` (of the interface under it) and, where there is film,
    ``hoop_tension`` (N/m) and ``film_stiffness`` (EA, N/m per strain). ``acceleration`` along the motion, m/s^2, at
    ``time``, s; linear between, none before and after. ``normal`` to the deck, 9.80665 m/s^2 unless given. ``keys``:
    sliding_share, sway_stiffness, tier_stiffness, damping, bearing_share, columns, case_friction, film_friction,
    film_bottom, film_top, pallet_lock, top_fold_hold.
    """
    times = [float(t) for t in np.atleast_1d(time)]
    along = [float(a) for a in np.atleast_1d(acceleration)]
    gravity = [STANDARD_GRAVITY] * len(times) if normal is None else [float(g) for g in np.atleast_1d(normal)]
    last = times[-1] + 1.1 if duration is None else float(duration)
    return _core.ride([dict(t) for t in tiers], times, along, gravity, last, interval, step, {"side": side, **keys})
