# SPDX-License-Identifier: BSD-3-Clause
"""Tiers on each other: an elastic bed that cannot pull."""

import numpy as np


def contact(load, width, stiffness, turn):
    """Width that carries, m: all of it up to ``|phi| = 2P/(kw b^2)``, ``sqrt(2P/(kw |phi|))`` beyond."""
    return np.minimum(width, np.sqrt(2 * load / (stiffness * np.maximum(np.abs(turn), 1e-30))))


def moment(load, width, stiffness, turn):
    """``kw b^3 phi/12`` in full contact, ``P (b/2 - c/3)`` on the contact width c beyond."""
    carried = contact(load, width, stiffness, turn)
    full = stiffness * width**3 * turn / 12
    return np.where(carried < width, np.sign(turn) * load * (width / 2 - carried / 3), full)


def energy(load, width, stiffness, turn):
    """Integral of the moment over the turn at a constant load, J."""
    turn = np.abs(turn)
    limit = 2 * load / (stiffness * width**2)
    closed = np.minimum(turn, limit)
    beyond = load * (width / 2 * (turn - limit) - 2 / 3 * np.sqrt(2 * load / stiffness) * (turn**0.5 - limit**0.5))
    return stiffness * width**3 * closed**2 / 24 + np.where(turn > limit, beyond, 0.0)


def lifted_edge(load, width, stiffness, turn, film, columns=1):
    """V_r, N, at which the film's pull on the lifted edge and the contact width under it agree. ``columns`` share the
    load.

    The uplift ``u = |phi| (b_e - c)`` falls as V_r grows, so there is one root, found by Newton's method from V_r = 0.
    """
    turn = np.abs(turn)
    pull = np.zeros_like(load)
    if film is None or not np.any(2 * load / columns < stiffness * width**2 * turn):
        return pull
    for _ in range(30):
        lift = turn * (width - contact((load + pull) / columns, width, stiffness, turn))
        force = film.on_lifted_edge(lift)
        step = 1e-7 * (1 + load)
        there = film.on_lifted_edge(turn * (width - contact((load + pull + step) / columns, width, stiffness, turn)))
        change = (force - pull) / (1 - (there - force) / step)
        pull = np.maximum(pull + change, 0.0)
        if np.all(np.abs(change) <= 1e-11 * (1 + load)):
            return pull
    raise ArithmeticError("film on a lifted edge: no agreement with the bed")
