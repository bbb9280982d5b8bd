# SPDX-License-Identifier: BSD-3-Clause
"""Film that slips round the corners of the load after it is laid: constrained minimisation with SciPy.

Film sticks to film, so at a corner all layers slide over the load together by one unstretched length ``d_c``. Element i
goes on round a corner into element i + 1. With ``A_c``, ``B_c`` the tensions before and behind corner c summed over its
layers, ``|ln(B_c/A_c)| <= mu pi/2`` (Euler-Eytelwein), which is ``|B_c - A_c| <= tanh(mu pi/4) (A_c + B_c)``.
At given closings of the load and given friction forces ``f_c = tanh(mu pi/4) (A_c + B_c)`` the slips minimise

    sum_i Phi_i(m_i) + sum_c f_c |d_c|,    dPhi_i/dm = -N_i,    m_i = m_i0 + d_(behind i) - d_(before i),

written with ``d = p - q``, ``p, q >= 0``; closings, friction forces and the film that has come in (viscous strains
mixed
by unstretched length) follow by repetition. Time is cut finely and film evens out at the end of each piece.
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import minimize

POINTS, WEIGHTS = np.polynomial.legendre.leggauss(8)


def limit(stack):
    return stack.case.film_on_load * np.pi / 2


def corner_sums(tension):
    """(A_c, B_c) of the corners passed so far, in the order they are first passed."""
    n = len(tension) - 1
    corners = range(min(n, 4))
    return (
        np.array([tension[c:n:4].sum() for c in corners]),
        np.array([tension[c + 1 : n + 1 : 4].sum() for c in corners]),
    )


def beyond(stack, tension):
    if len(tension) < 2:
        return 0.0
    a, b = corner_sums(tension)
    return float((np.abs(np.log(b / a)) - limit(stack)).max())


def mass_change(slip, n):
    """Unstretched length each of n elements gains."""
    through = slip[np.arange(n - 1) % 4]  # into element i + 1 out of element i
    change = np.zeros(n)
    change[1:] += through
    change[:-1] -= through
    return change


def mixed(v, mass, slip):
    """Viscous strains of what stayed and what came, weighted by unstretched length, all taken before the slip."""
    n = len(mass)
    through = slip[np.arange(n - 1) % 4]
    out = v * mass[:, None]
    forwards, backwards = np.maximum(through, 0)[:, None], np.maximum(-through, 0)[:, None]
    out[1:] += forwards * v[:-1] - backwards * v[1:]
    out[:-1] += backwards * v[1:] - forwards * v[:-1]
    return out / (mass + mass_change(slip, n))[:, None]


def best_slip(stack, start_mass, v, path, T, friction, guess):
    """The minimum at fixed closings (path = length of each element's face, with thermal strain) and friction forces."""
    n, corners = len(start_mass), len(friction)

    def tension(mass):
        return stack.taut(np.log(path / mass), v, T)[1] * stack.to_tension

    def objective(pq):
        slip = np.zeros(4)
        slip[:corners] = pq[:corners] - pq[corners:]
        change = mass_change(slip, n)
        value = 0.0
        for point, weight in zip(POINTS, WEIGHTS):
            value -= 0.5 * weight * (change * tension(start_mass + 0.5 * (1 + point) * change)).sum()
        a, b = corner_sums(tension(start_mass + change))
        return value + friction @ (pq[:corners] + pq[corners:]), np.concatenate((a - b + friction, b - a + friction))

    scale = 1e4  # lengths of the order of a tenth of a millimetre
    start = np.concatenate((np.maximum(guess, 0), np.maximum(-guess, 0)))
    found = minimize(
        lambda x: (lambda f, g: (f * scale, g))(*objective(x / scale)),
        start * scale,
        jac=True,
        method="L-BFGS-B",
        bounds=[(0, None)] * len(start),
        options={"ftol": 1e-15, "gtol": 1e-9 * friction.max(), "maxiter": 2000, "maxcor": 20},
    )
    return (found.x[:corners] - found.x[corners:]) / scale


def even_out(stack, T, tolerance=1e-7):
    """Lets film slip until no corner is beyond its limit, in equilibrium with the load."""
    if np.isinf(stack.case.film_on_load):
        return
    u, _, tension = stack.equilibrium(stack.v, stack.eta, T)
    if beyond(stack, tension) <= tolerance:
        return
    start_mass, start_v = 1 / stack.reference, stack.v
    slip = np.zeros(4)
    corners = min(len(tension) - 1, 4)
    for _ in range(200):
        path = (stack.length - u)[stack.axis] * stack.thermal(T)
        a, b = corner_sums(tension)
        friction = np.tanh(limit(stack) / 2) * (a + b)
        new = np.zeros(4)
        new[:corners] = best_slip(stack, start_mass, stack.v, path, T, friction, slip[:corners])
        moved = np.abs(new - slip).max()
        slip = new
        stack.reference = 1 / (start_mass + mass_change(slip, len(start_mass)))
        stack.v = mixed(start_v, start_mass, slip)
        u, _, tension = stack.equilibrium(stack.v, stack.eta, T)
        if moved < 1e-9 and beyond(stack, tension) < 10 * tolerance:
            stack.slipped += np.abs(slip)
            return
    raise RuntimeError(f"corner slip does not settle: {moved} m, {beyond(stack, tension)} beyond the limit")


def advance_with_slip(stack, start, end, temperature, per_decade=8, first=0.2):
    """Like ``Stack.advance``, evening out at instants that are dense just after ``start``."""
    if np.isinf(stack.case.film_on_load):
        stack.advance(start, end, temperature)
        return
    duration = end - start
    if start > 0:  # storage: times count from the end of wrapping
        pieces = max(2, int(np.ceil(per_decade * np.log10(end / start))))
        cuts = np.geomspace(start, end, pieces + 1)
    else:
        pieces = max(4, int(np.ceil(per_decade * np.log10(max(duration / first, 1.0)))))
        cuts = start + np.concatenate(([0.0], np.geomspace(min(first, duration / 4), duration, pieces)))
    cuts[-1] = end
    for a, b in zip(cuts[:-1], cuts[1:]):
        stack.advance(a, b, temperature)
        even_out(stack, temperature(b))
