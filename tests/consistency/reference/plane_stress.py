# SPDX-License-Identifier: BSD-3-Clause
"""Plane-stress tensor model of film leaving the draw, to judge the approximation made for width-free increments.

Principal axes: 1 along the machine, 2 across, 3 through the thickness (stress 0), fixed throughout, so logarithmic
strains add exactly. Branch k: elastic Hencky strain ``b_k`` (deviatoric), stress ``(2/3) E_k b_k``, J2 flow
``db_k/dt = dL/dt - (3/2) (f/sig) s_k``, ``sig = E_k sqrt((2/3) b_k:b_k)``, ``f = r sinh(sig/(Y chi))``. Network: Gent.
Incompressible. In the draw the width is ``l^-n`` (sideways stress follows); afterwards it is free (stress across 0).

The approximation: keep e_k, take m = c = 1 and n = 1/2 on increments, width at release
``w_2 = r^-n exp(-(1/2 - n) sum E e / sum E)``. Run as ``python -m reference.plane_stress`` to print the comparison.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, fsolve

from .case import read_case
from .draw import released_width_factor
from .film import Film, WidthMode, creep, hold, snap_back


def deviators(e, n):
    """Elastic strain tensors (branch, axis) of film drawn in power mode n with scalar strains e."""
    return np.asarray(e)[:, None] * np.array([1.0, -n, n - 1.0])


def network_stress(film: Film, L, T):
    """Network Cauchy stress along axes 1 and 2 (axis 3 free), for log stretches L (3,)."""
    square = np.exp(2 * L)
    mu = film.network_modulus(T) * film.Jm / (film.Jm - (square.sum() - 3))
    return mu * (square[:2] - square[2])


def stress(film: Film, L, b, T):
    """Cauchy stress along axes 1 and 2."""
    return network_stress(film, L, T) + (2 / 3) * film.modulus(T) @ (b[:, :2] - b[:, 2:])


def flow(film: Film, L, b, T):
    """Flow rate tensors (branch, axis), 1/s."""
    size = np.sqrt((2 / 3) * (b**2).sum(1))
    chi = 1 + film.h * (np.exp(2 * L).sum() - 3)
    rate = film.rate(T) * np.sinh(film.modulus(T) * size / (film.flow_stress(T) * chi))
    return (rate / np.where(size > 0, size, 1.0))[:, None] * b


def release(film: Film, L, b, T, stretch=None, nominal=None):
    """Elastic jump to zero stress across and a given stretch or nominal stress; returns L, b, nominal stress."""

    def moved(a, c):
        d = np.array([a, c, -a - c])
        return L + d, b + d

    def across(a, c):
        return stress(film, *moved(a, c), T)[1]

    def width(a):
        return brentq(lambda c: across(a, c), -1.0, 1.0, xtol=1e-15, rtol=1e-14)

    def force(a):
        at = moved(a, width(a))
        return stress(film, *at, T)[0] / np.exp(at[0][0])

    a = np.log(stretch) - L[0] if stretch is not None else brentq(lambda a: force(a) - nominal, -0.6, 0.2, xtol=1e-15)
    at = moved(a, width(a))
    return *at, stress(film, *at, T)[0] / np.exp(at[0][0])


def follow(film: Film, L, b, T, duration, nominal=None, rtol=1e-9):
    """Free width for ``duration`` at fixed stretch, or at fixed nominal stress (creep); returns L, b.

    State: viscous log strains ``v = L - b`` (branch, axes 1 and 2); lengths follow from the stresses at each instant.
    """
    guess = L[:2].copy()

    def lengths(v):
        nonlocal guess
        v3 = np.column_stack((v, -v.sum(1)))

        def misses(x):
            at = np.array([x[0], x[1], -x[0] - x[1]])
            s = stress(film, at, at - v3, T)
            return [s[1] / 1e6, x[0] - L[0] if nominal is None else (s[0] - nominal * np.exp(x[0])) / 1e6]

        found, _, ok, message = fsolve(misses, guess, xtol=1e-13, full_output=True)
        if ok != 1 and np.abs(misses(found)).max() > 1e-7:
            raise RuntimeError(message)
        guess = found
        at = np.array([found[0], found[1], -found.sum()])
        return at, at - v3

    def rhs(_, y):
        at, strain = lengths(y.reshape(-1, 2))
        return flow(film, at, strain, T)[:, :2].ravel()

    result = solve_ivp(rhs, (0.0, duration), (L - b)[:, :2].ravel(), method="Radau", rtol=rtol, atol=1e-12)
    return lengths(result.y[:, -1].reshape(-1, 2))


def compare_release(film: Film, ratio, n_d, dwelt, nominal, residence, T, day=86400.0):
    """Approximation against tensor model from the end of roller 2 on; relative errors as a dictionary."""
    L = np.log(ratio) * np.array([1.0, -n_d, n_d - 1.0])
    b = deviators(dwelt, n_d)
    width_factor = released_width_factor(film, ratio, n_d, dwelt)
    mode = WidthMode.released(width_factor)
    out = {}

    # elastic unloading at equal stretch: from the drawn length down to the span force of the tensor model
    L_span, b_span, _ = release(film, L, b, T, nominal=nominal)
    l_span = float(np.exp(L_span[0]))
    for label, l in (("at_drawn_length", ratio), ("half_way", (ratio + l_span) / 2), ("at_span_force", l_span)):
        exact = release(film, L, b, T, stretch=l)[2]
        near = film.nominal(l, dwelt + np.log(l / ratio), mode, T)
        out[f"force_error_{label}"] = float(near / exact - 1)
    unloaded, _ = snap_back(film, ratio, dwelt, nominal, mode, T)
    out["unloaded_stretch_error"] = float(unloaded / l_span - 1)
    out["width_error_at_span_force"] = float(width_factor / np.sqrt(unloaded) / np.exp(L_span[1]) - 1)
    small = 1e-5
    stiffness = lambda l: (
        (release(film, L, b, T, stretch=l * (1 + small))[2] - release(film, L, b, T, stretch=l * (1 - small))[2])
        / (2 * small)
    )
    near = lambda l: (
        (
            film.nominal(l * (1 + small), dwelt + np.log(l * (1 + small) / ratio), mode, T)
            - film.nominal(l * (1 - small), dwelt + np.log(l * (1 - small) / ratio), mode, T)
        )
        / (2 * small)
    )
    out["stiffness_error_at_span_force"] = float(near(unloaded) / stiffness(l_span) - 1)

    # the same exponent throughout: what is avoided
    one_n = WidthMode.power(n_d)
    l_n, e_n = snap_back(film, ratio, dwelt, nominal, one_n, T)
    rise = [film.nominal(l_n * np.exp(x), e_n + x, one_n, T) for x in (-small, small)]
    out["stiffness_error_with_one_exponent"] = float((rise[1] - rise[0]) / (2 * small) / stiffness(l_span) - 1)

    # creep in the span, then a day at fixed stretch
    l_load, e_load = creep(film, ratio, dwelt, nominal, residence, mode, T)
    L_load, b_load = follow(film, L_span, b_span, T, residence, nominal)
    out["stretch_on_load_error"] = float(l_load / np.exp(L_load[0]) - 1)
    e_day = hold(film, l_load, e_load, day, mode, T)
    L_day, b_day = follow(film, L_load, b_load, T, day)
    exact = stress(film, L_day, b_day, T)[0] / np.exp(L_day[0])
    out["force_error_after_a_day"] = float(film.nominal(l_load, e_day, mode, T) / exact - 1)
    out["retention_after_a_day"] = float(exact / nominal)
    return out


def main():
    cases = Path(__file__).parent / "cases"
    for name in ("reference-stack", "path-mild", "path-hard"):
        case = read_case(cases / f"{name}.toml")
        gold = json.loads((cases / f"{name}.gold.json").read_text())["film_path"]
        result = compare_release(
            case.film,
            case.ratio,
            case.n_d,
            np.array(gold["dwelt_strain"]),
            case.force / case.section,
            gold["residence_s"],
            case.ambient,
        )
        print(f"{name}: stretched to {case.ratio}, width exponent {case.n_d}, released to {case.force} N")
        for key, value in result.items():
            print(f"  {key:40s} {value:+.5f}")


if __name__ == "__main__":
    main()
