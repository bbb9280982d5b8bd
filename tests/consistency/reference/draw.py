# SPDX-License-Identifier: BSD-3-Clause
"""Film path of the reference: constant-force draw between rollers, dwell, release, creep in the span.

The draw is integrated over ``L = ln l`` from the inlet jump to ``ln r`` (t, x, T and the branch strains follow), and
the nominal stress P1 is found so that ``x = gap`` there. Along the gap ``P(l, e, T) = P1``; differentiated, with
``s_T = ds/dT = -b_G s_net - b_E m sum E e`` and ``rho cp dT = m sum E e f dt + theta s_net dL``:

``(H + m sum E - P1 l) dL/dt + s_T dT/dt = m sum E_k f_k``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from .case import Case
from .film import WidthMode, creep, hold, snap_back
from .take_up import mean_span


@dataclass
class Drawn:
    """End of the gap."""

    nominal: float  # P1, Pa
    strain: np.ndarray
    temperature: float  # K
    time: float  # s in the gap
    position: np.ndarray  # m, profile
    stretch: np.ndarray
    profile_temperature: np.ndarray


class _Stuck(Exception):
    pass


def _gap_length(film, mode, ratio, speed, ambient, nominal, rtol, profile=False):
    """Integrates the draw at a nominal stress to l = ratio; x there (m), or the whole solution."""
    heat = film.rho * film.cp
    l0, e0 = snap_back(film, 1.0, np.zeros(len(film.E)), nominal, mode, ambient)
    if l0 >= ratio:
        return 0.0

    def rhs(L, y):
        l, e, T = np.exp(L), y[3:], y[2]
        f = film.flow(l, e, mode, T)
        E, network = film.modulus(T), film.network(l, mode, T)
        elastic, dissipation = mode.m * E @ e, mode.m * E @ (e * f)
        stiffness = film.network_log_slope(l, mode, T) + mode.m * E.sum() - nominal * l
        if stiffness <= 0:
            raise RuntimeError("the draw is not stable")
        s_T = -film.b_G * network - film.b_E * elastic
        drive = mode.m * E @ f
        if heat > 0:
            stiffness += s_T * film.theta * network / heat
            drive -= s_T * dissipation / heat
        L_rate = drive / stiffness
        if L_rate <= 0:
            raise _Stuck  # the network alone carries P1: never reaches the ratio
        T_rate = (dissipation + film.theta * network * L_rate) / heat if heat > 0 else 0.0
        return np.concatenate(([1.0, speed * l, T_rate], L_rate - f)) / L_rate

    start = np.concatenate(([0.0, 0.0, ambient], e0))
    atol = np.concatenate(([1e-12, 1e-12, 1e-8], np.full(len(e0), 1e-13)))
    result = solve_ivp(rhs, (np.log(l0), np.log(ratio)), start, method="Radau", rtol=rtol, atol=atol)
    if not result.success:
        raise RuntimeError(result.message)
    return result if profile else result.y[1, -1]


def draw(film, n_d, ratio, gap, speed, ambient, rtol=1e-10) -> Drawn:
    """Film of the roll (stretch 1, no stress) drawn to ``ratio`` over ``gap`` with roller 1 at ``speed`` (m/s)."""
    mode = WidthMode.power(n_d)

    def miss(log_nominal, tolerance):
        try:
            length = _gap_length(film, mode, ratio, speed, ambient, np.exp(log_nominal), tolerance)
        except _Stuck:
            length = 1e30
        return np.log(max(length, 1e-30) / gap)

    # steady flow at the mean log rate is a guess; x falls as P1 grows
    rate = speed * (ratio - 1) / gap
    flowing = mode.m / mode.c * film.Y @ np.arcsinh(mode.c * rate / film.r) * film.chi(ratio, mode)
    guess = np.log((film.network(ratio, mode, ambient) + flowing) / ratio)
    low = high = guess
    while miss(low, 1e-5) < 0:
        low -= 0.05
    while miss(high, 1e-5) > 0:
        high += 0.05
        if high > guess + 3:
            raise RuntimeError("no bracket for the pre-stretch stress")
    low, high = (low, low + 0.05) if low < guess else (high - 0.05, high)
    root = brentq(miss, low - 1e-3, high + 1e-3, args=(rtol,), xtol=1e-13, rtol=1e-13)
    y = _gap_length(film, mode, ratio, speed, ambient, np.exp(root), rtol, profile=True)
    return Drawn(float(np.exp(root)), y.y[3:, -1], float(y.y[2, -1]), float(y.y[0, -1]), y.y[1], np.exp(y.t), y.y[2])


@dataclass
class FilmOnLoad:
    """Film as it reaches the load, and what happened before."""

    drawn: Drawn
    speed_1: float
    dwell: float
    residence: float
    dwelt_strain: np.ndarray  # end of roller 2
    width_factor: float  # W: width / roll width = W l^-1/2
    unloaded_stretch: float  # just after the elastic jump to F
    stretch: float
    strain: np.ndarray
    laid_width: float
    stiffness_over_force: float  # d ln N / d ln l, dashpots frozen

    @property
    def mode(self) -> WidthMode:
        return WidthMode.released(self.width_factor)


def released_width_factor(film, ratio, n_d, strain) -> float:
    width = ratio**-n_d * np.exp(-(0.5 - n_d) * (film.E @ strain) / film.E.sum())
    return float(width * np.sqrt(ratio))


def film_path(case: Case, rtol=1e-10) -> FilmOnLoad:
    """Fixed point of roller speed and stretch on the load: ``v1 = omega perimeter / (2 pi l_load)``."""
    film, T = case.film, case.ambient
    span = mean_span(case.length, case.load_width, case.distance)
    nominal = case.force / case.section
    stretch = case.ratio
    for _ in range(30):
        speed = case.omega * case.perimeter / (2 * np.pi * stretch)
        drawn = draw(film, case.n_d, case.ratio, case.gap, speed, T, rtol)
        dwell = case.arc / (case.ratio * speed)
        dwelt = hold(film, case.ratio, drawn.strain, dwell, WidthMode.power(case.n_d), T)
        factor = released_width_factor(film, case.ratio, case.n_d, dwelt)
        mode = WidthMode.released(factor)
        unloaded, _ = snap_back(film, case.ratio, dwelt, nominal, mode, T)
        residence = (case.internal_path + span) / (speed * stretch)
        new, strain = creep(film, case.ratio, dwelt, nominal, residence, mode, T)
        change, stretch = abs(new / stretch - 1), new
        if change < 1e-10:
            break
    else:
        raise RuntimeError("roller speed and stretch on the load do not settle")
    slope = film.network_log_slope(stretch, mode, T) + film.modulus(T).sum()
    return FilmOnLoad(
        drawn,
        speed,
        dwell,
        residence,
        dwelt,
        factor,
        unloaded,
        stretch,
        strain,
        case.width * factor / np.sqrt(stretch),
        slope / (nominal * stretch) - 1,
    )
