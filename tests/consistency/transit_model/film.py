# SPDX-License-Identifier: BSD-3-Clause
"""Film at the slip planes of a stack: stiffness, hold, tension-only panels, clamp and what it does to a lifted edge."""

from dataclasses import dataclass, field

import numpy as np

REGULARISING = 0.02  # r, m
STEP_FACTOR = 1.3  # c_k
HOLD_FACTOR = 1.5  # c_F


def first_stiffness(shear, b, above=np.inf, below=np.inf):
    """k0, N/m: ``(4/pi) S {c_k ln cot(pi r/(2b)) - ln coth(sqrt3 pi D/b) for each free edge at D}``; inf = not free."""
    image = lambda distance: -np.log(np.tanh(np.sqrt(3) * np.pi * distance / b))
    step = STEP_FACTOR * -np.log(np.tan(np.pi * REGULARISING / (2 * b)))
    return 4 / np.pi * shear * (step - image(above) - image(below))


def hyperbola(elastic, limit):
    """``x/(1 + x/limit)``, x = the force at the first stiffness."""
    return elastic / (1 + elastic / limit)


@dataclass(frozen=True)
class Film:
    """What the film does at each interface, arrays over the interfaces from below.

    ``stiffness`` k0 N/m, ``limit`` F_inf N, ``hold`` V N, ``tension`` N N/m, ``lift`` EA N/m; ``b`` m;
    ``per_height`` of film on the goods that friction can hold, N/m.
    """

    stiffness: np.ndarray
    limit: np.ndarray
    hold: np.ndarray
    tension: np.ndarray
    lift: np.ndarray
    b: float
    per_height: np.ndarray = field(default_factory=lambda: np.array([np.inf]))

    @classmethod
    def around(cls, heights, b, tension, ratio, friction, on_pallet, lock=0.0, fold=0.0):
        """Film of hoop tension N per tier with ``ratio`` = EA/N; ``lock`` V_lock, ``fold`` V_top, N.

        A lock holds the lower edge and a fold the upper one: they are then not free and have no image.
        """
        heights, tension = np.asarray(heights, float), np.broadcast_to(np.asarray(tension, float), (len(heights),))
        per_height = 4 * np.sqrt(2) * friction * tension
        from_above = np.cumsum((per_height * heights)[::-1])[::-1] + fold
        under = np.concatenate([[0.0], np.cumsum(per_height * heights)[:-1]])
        hold = np.minimum(from_above, under + per_height[0] * on_pallet + lock)
        above = np.cumsum(heights[::-1])[::-1]
        below = np.concatenate([[0.0], np.cumsum(heights)[:-1]]) + on_pallet
        stiff = ratio * tension
        stiffness = first_stiffness(
            stiff / np.sqrt(3), b, np.inf if fold else above, np.inf if lock else np.maximum(below, 1e-9)
        )
        limit = HOLD_FACTOR * np.sqrt(2 * b * tension * hold)
        return cls(np.maximum(stiffness, 0.0), limit, hold, tension, stiff, b, per_height)

    def curve(self, slip):
        return hyperbola(self.stiffness * slip, self.limit)

    def panel(self, slip, most):
        """Force of the panels of one sense at ``slip`` after the greatest slip ``most`` (both in that sense)."""
        greatest = np.maximum(slip, most)
        force = self.curve(greatest)
        none_below = 0.33 * (greatest - force / self.stiffness)
        reach = np.maximum(greatest - none_below, 1e-30)
        return np.where(greatest > 0, force * np.maximum(slip - none_below, 0.0) / reach, 0.0)

    def force(self, slip, most, least):
        """F of both senses; ``most`` >= 0 >= ``least`` are the extreme slips so far."""
        return self.panel(slip, most) - self.panel(-slip, -least)

    def clamp(self, force):
        """V_f, N."""
        return np.minimum(force**2 / (2 * self.b * self.tension), self.hold)

    def on_lifted_edge(self, lift):
        """V_r, N, at uplift u of the rear edge: friction along a slid length of corner, and what film beyond it takes up
        to its edge or the other end of its panels."""
        most = 1.25 * self.hold / 2
        slid = 4 / 3 * self.lift * lift / np.maximum(most, 1e-30)  # share of the height that friction needs for V
        reach = np.minimum(1.0, 2 * np.sqrt(2) / np.pi * self.b * self.per_height / np.maximum(self.hold, 1e-30))
        part = np.clip(slid / reach, 1e-300, 1.0)
        with_film = reach * 2 / np.pi * (np.arcsin(part) + part * np.arccosh(1 / part))
        share = np.where(slid < reach, with_film, np.minimum(slid, 1.0))
        return np.where(lift > 0, most * share, 0.0)
