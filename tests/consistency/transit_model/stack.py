# SPDX-License-Identifier: BSD-3-Clause
"""A stack of tiers on a pallet that is blocked to the truck: numbers, forces and accelerations."""

from dataclasses import dataclass, replace

import numpy as np

from . import bed
from .film import Film
from .pulses import GN


@dataclass(frozen=True)
class Stack:
    """Tiers from below, SI; ``b`` is the side along the motion, ``static`` and ``kinetic`` friction per interface.

    ``turning`` False keeps the tiers upright; c_R is then of no account. c_R is 2 zeta/w1 times the stiffness
    of a bed as wide as ``rocking`` says: "bearing" eta b or "side" b.

    ``columns`` of goods stand side by side in every tier, each on a bed of its own that is ``b/n`` wide and carries a
    share of the load; they slide past each other vertically, elastic (as stiff as a tier is) up to ``mu_case 2 N h``.
    """

    heights: tuple
    masses: tuple
    b: float
    static: tuple
    kinetic: tuple
    shear: float  # k_shear, N/m
    vertical: float = 4e6  # k_vert, N/m
    damping: float = 0.1  # zeta
    bearing: float = 0.92  # eta
    film: Film | None = None
    gravity: float = GN
    turning: bool = True
    rocking: str = "bearing"
    columns: int = 1
    case_friction: float = 0.45

    def but(self, **changes):
        return replace(self, **changes)

    def __post_init__(self):
        put = lambda name, value: object.__setattr__(self, name, value)
        count = len(self.heights)
        put("count", count)
        put("h", np.array(self.heights, float))
        put("m", np.array(self.masses, float))
        put("above", np.cumsum(self.m[::-1])[::-1])  # M_i
        put("weight", self.above * self.gravity)  # P_i at rest
        put("mu_s", np.array(self.static, float))
        put("mu_k", np.array(self.kinetic, float))
        on_pallet = np.where(np.arange(count) == 0, 2.0, 1.0)
        put("k", self.shear * on_pallet)
        put("kw", self.vertical / self.b * on_pallet)
        slowest = 2 * np.sqrt(self.shear / self.m.mean()) * np.sin(np.pi / (2 * (2 * count + 1)))
        put("lag", 2 * self.damping / slowest)  # c/k, s
        put("c", self.k * self.lag)
        put("arm", self.b / self.columns)
        put("inertia", self.m * (self.h**2 + self.arm**2) / 12)
        across = self.arm * (self.bearing if self.rocking == "bearing" else 1.0)
        put("c_rock", self.lag * self.columns * self.kw * across**3 / 12)
        apart = self.columns > 1 and self.film is not None
        put("case_limit", 2 * self.case_friction * self.film.tension * self.h if apart else np.zeros(count))
        put("case_stiffness", np.where(self.case_limit > 0, self.vertical, 0.0))

    def relative(self, x, turn):
        """d_i (or its rate) and phi_i (or its rate)."""
        half = self.h * turn / 2
        d = x - half
        d[1:] -= x[:-1] + half[:-1]
        phi = turn.copy()
        phi[1:] -= turn[:-1]
        return d, phi

    def film_force(self, slip, most, least):
        """F_i and V_f."""
        if self.film is None:
            return np.zeros(self.count), np.zeros(self.count)
        force = self.film.force(slip, most, least)
        return force, self.film.clamp(force)

    def pressed(self, clamp, d, phi, gravity):
        """P'_i, V_r and the width b_e of the bed of a column."""
        width = np.maximum(self.bearing * self.arm - np.abs(d), 1e-6)
        load = self.above * gravity + clamp
        pull = np.zeros(self.count)
        if self.turning:
            pull = bed.lifted_edge(load, width, self.kw, phi, self.film, self.columns)
        return load + pull, pull, width

    def accelerations(self, drive, x, turn, d, shear, film, couple, between):
        """x'' and th'' from shear forces T, film forces F, rocking couples Mr and couples between columns; ``drive`` =
        accelerations along the deck and normal to it."""
        acceleration, gravity = drive
        weight = self.above * gravity
        mean = turn / 2
        mean[1:] += turn[:-1] / 2
        along = shear + film - weight * mean
        ax = acceleration + (np.append(along[1:], 0.0) - along) / self.m
        if not self.turning:
            return ax, np.zeros(self.count)
        next_of = lambda values: np.append(values[1:], 0.0)
        leaning = turn * self.h * gravity * (self.above - self.m / 2)
        leaning += (weight * d + next_of(weight * d)) / 2
        turning = self.h * (along + next_of(along)) / 2 - couple + next_of(couple) - between + leaning
        return ax, turning / self.inertia

    def couple(self, pressed, pull, width, phi, phi_rate):
        """Mr: beds, film on the lifted edge, damping where tiers touch."""
        if not self.turning:
            return np.zeros(self.count)
        share = pressed / self.columns
        touching = bed.contact(share, width, self.kw, phi) / width
        damped = self.c_rock * phi_rate * touching**3
        beds = self.columns * bed.moment(share, width, self.kw, phi)
        return beds + np.sign(phi) * pull * self.b / 2 + damped

    def between(self, turn, slid):
        """Force between neighbouring columns of a tier, N, that have slid past each other by ``slid``, m."""
        return self.case_stiffness * (self.arm * turn - slid)

    def potential(self, x, turn):
        """Gravity in the leaned state, J."""
        d, _ = self.relative(x, turn)
        mean = turn / 2
        mean[1:] += turn[:-1] / 2
        heights = self.h * turn**2 / 2
        own = np.concatenate([[0.0], np.cumsum(heights)[:-1]]) + heights / 2
        return -self.gravity * self.m @ own - self.weight @ (d * mean)
