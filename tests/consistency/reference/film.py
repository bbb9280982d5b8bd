# SPDX-License-Identifier: BSD-3-Clause
"""Film law of the independent reference: Gent network and Eyring branches as plain differential equations.

True stress ``s = s_net(l) + m sum_k E_k e_k``, nominal ``P = s / l``;
``de_k/dt = d(ln l)/dt - (r_k / c) sinh(E_k c e_k / (Y_k chi))``, ``chi = 1 + h (I1 - 3)``.
Lengths are relative to the film on the roll, stresses in Pa, times in s, temperatures in K. Nothing here is shared with
the compiled solver: no closed-form step, only ``scipy.integrate.solve_ivp`` and root finders.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from .units import quantity

GAS_CONSTANT = 8.31446261815324  # J/(mol K), exact in the SI since 2019


@dataclass(frozen=True)
class WidthMode:
    """How the width follows the stretch: power mode ``w = l^-n`` or free mode ``w = W l^-1/2`` after a draw."""

    n: float = 0.5
    q: float = 1.0
    free: bool = True

    @staticmethod
    def power(n: float) -> "WidthMode":
        return WidthMode(n=n, q=1.0, free=False)

    @staticmethod
    def released(width_factor: float) -> "WidthMode":
        return WidthMode(n=0.5, q=(width_factor**2 + width_factor**-2) / 2, free=True)

    @property
    def m(self) -> float:
        return 1.0 if self.free else (2 / 3) * (2 - self.n)

    @property
    def c(self) -> float:
        return 1.0 if self.free else np.sqrt((2 / 3) * (1 + self.n**2 + (1 - self.n) ** 2))

    def invariant(self, l):
        if self.free:
            return l**2 + 2 * self.q / l
        return l**2 + l ** (-2 * self.n) + l ** (2 * self.n - 2)

    def invariant_log_slope(self, l):
        if self.free:
            return 2 * l**2 - 2 * self.q / l
        n = self.n
        return 2 * l**2 - 2 * n * l ** (-2 * n) + (2 * n - 2) * l ** (2 * n - 2)

    def drive(self, l):
        if self.free:
            return l**2 - self.q / l
        return l**2 - l ** (2 * self.n - 2)

    def drive_log_slope(self, l):
        if self.free:
            return 2 * l**2 + self.q / l
        return 2 * l**2 - (2 * self.n - 2) * l ** (2 * self.n - 2)


FREE = WidthMode()


@dataclass(frozen=True)
class Film:
    """Numbers of a film file, SI. Branch arrays have one entry per branch."""

    E: np.ndarray
    r: np.ndarray
    Y: np.ndarray
    Q: np.ndarray
    G: float = 0.0
    Jm: float = 1e30
    h: float = 0.0
    Tref: float = 296.15
    b_E: float = 0.0
    b_G: float = 0.0
    alpha: float = 0.0
    rho: float = 920.0
    cp: float = 0.0
    theta: float = 1.0
    n_d: float = 0.0
    name: str = field(default="", compare=False)

    # -- temperature -------------------------------------------------------------------------------------------------
    def modulus(self, T):
        return self.E * np.exp(-self.b_E * (T - self.Tref))

    def network_modulus(self, T):
        return self.G * np.exp(-self.b_G * (T - self.Tref))

    def rate(self, T):
        return self.r * np.exp(-(self.Q / GAS_CONSTANT) * (1 / T - 1 / self.Tref))

    def flow_stress(self, T):
        return self.Y * T / self.Tref

    # -- stress ------------------------------------------------------------------------------------------------------
    def chi(self, l, mode):
        return 1 + self.h * (mode.invariant(l) - 3)

    def network(self, l, mode, T):
        """True network stress."""
        return self.network_modulus(T) * self.Jm / (self.Jm - (mode.invariant(l) - 3)) * mode.drive(l)

    def network_log_slope(self, l, mode, T):
        room = self.Jm - (mode.invariant(l) - 3)
        mu = self.network_modulus(T) * self.Jm / room
        return mu * (mode.drive_log_slope(l) + mode.drive(l) * mode.invariant_log_slope(l) / room)

    def true_stress(self, l, e, mode=FREE, T=None):
        """Machine-direction Cauchy stress; ``e`` has the branches on its last axis, ``l`` the leading shape."""
        T = self.Tref if T is None else T
        return self.network(l, mode, T) + mode.m * np.asarray(e) @ self.modulus(T)

    def nominal(self, l, e, mode=FREE, T=None):
        return self.true_stress(l, e, mode, T) / l

    def flow(self, l, e, mode, T):
        """Plastic log rate f_k of each branch, 1/s."""
        chi = np.asarray(self.chi(l, mode))[..., None]
        return self.rate(T) / mode.c * np.sinh(self.modulus(T) * mode.c * e / (self.flow_stress(T) * chi))


def read_film(path) -> Film:
    """Film file (TOML) as described in the interface: law "eyring-network"."""
    data = tomllib.loads(Path(path).read_text())
    branch, thermal = data["branch"], data.get("thermal", {})
    column = lambda key: np.array([quantity(b[key]) for b in branch])
    return Film(
        E=column("modulus"),
        r=column("reference_rate"),
        Y=column("flow_stress"),
        Q=column("activation_energy"),
        G=quantity(data["network"]["modulus"]),
        Jm=float(data["network"]["stretch_limit"]),
        h=float(data.get("hardening", {}).get("viscous_share", 0.0)),
        Tref=quantity(data["reference_temperature"]),
        b_E=quantity(thermal.get("modulus_softening", 0.0)),
        b_G=quantity(thermal.get("network_softening", 0.0)),
        alpha=quantity(thermal.get("expansion", 0.0)),
        rho=quantity(data["density"]),
        cp=quantity(thermal.get("heat_capacity", 0.0)),
        theta=float(thermal.get("entropic_share", 1.0)),
        n_d=float(data["neck_in"]),
        name=data.get("name", ""),
    )


# Film of the check rows in MPa and s (illustrative, not a measured film); Q is filled in where a row needs it.
R1 = Film(E=np.array([120.0, 40.0]), r=np.array([1e-7, 1e-13]), Y=np.array([0.35, 0.25]), Q=np.zeros(2), G=1.1, Jm=60.0)


def single_branch(E, r, Y, **more) -> Film:
    return Film(E=np.array([E]), r=np.array([r]), Y=np.array([Y]), Q=np.zeros(1), **more)


def with_activation(film: Film, Q) -> Film:
    return replace(film, Q=np.full(len(film.E), float(Q)))


# -- histories -------------------------------------------------------------------------------------------------------
def _solve(rhs, span, y0, rtol, atol, **more):
    result = solve_ivp(rhs, span, y0, method="Radau", rtol=rtol, atol=atol, **more)
    if not result.success:
        raise RuntimeError(result.message)
    return result


def stretch_history(film, e, stretch, log_rate, duration, mode=FREE, T=None, rtol=1e-10, atol=1e-13):
    """Branch strains after following ``stretch(t)`` (with ``log_rate(t)`` its log derivative) for ``duration``."""
    T = film.Tref if T is None else T
    rhs = lambda t, y: log_rate(t) - film.flow(stretch(t), y, mode, T)
    return _solve(rhs, (0.0, duration), np.array(e, float), rtol, atol).y[:, -1]


def tensile(film, l0, l1, nominal_rate, e=None, mode=FREE, T=None, **tol):
    """Ramp at a constant nominal rate ``dl/dt`` (1/s) from l0 to l1; returns the branch strains."""
    e = np.zeros(len(film.E)) if e is None else e
    rate = abs(nominal_rate) * np.sign(l1 - l0)
    stretch = lambda t: l0 + rate * t
    return stretch_history(film, e, stretch, lambda t: rate / stretch(t), (l1 - l0) / rate, mode, T, **tol)


def hold(film, l, e, duration, mode=FREE, T=None, **tol):
    """Relaxation at fixed stretch; returns the branch strains."""
    return stretch_history(film, e, lambda t: l, lambda t: 0.0, duration, mode, T, **tol)


def snap_back(film, l, e, nominal=0.0, mode=FREE, T=None):
    """Elastic jump (dashpots frozen) to a nominal stress; returns stretch and strains."""
    e = np.asarray(e, float)
    miss = lambda x: film.nominal(l * np.exp(x), e + x, mode, T) - nominal
    low, high = -0.01, 0.01
    while miss(low) > 0:
        low *= 1.5
    while miss(high) < 0:
        high *= 1.5
        if l * np.exp(high) > 1e3:
            raise RuntimeError("the film cannot carry this stress")
    x = brentq(miss, low, high, xtol=1e-15, rtol=1e-14)
    return l * np.exp(x), e + x


def log_stretch_at(film, v, nominal, mode, T, guess):
    """ln l at which film with viscous strains ``v = ln l - e`` carries ``nominal`` (Newton from a guess)."""
    E, x = film.modulus(T), guess
    for _ in range(50):
        l = np.exp(x)
        miss = film.network(l, mode, T) + mode.m * E @ (x - v) - nominal * l
        dx = miss / (film.network_log_slope(l, mode, T) + mode.m * E.sum() - nominal * l)
        x -= dx
        if abs(dx) < 1e-15:
            return x
    if abs(dx) < 1e-12:
        return x
    raise RuntimeError("no stretch carries this stress")


def creep(film, l, e, nominal, duration, mode=FREE, T=None, rtol=1e-10, atol=1e-13):
    """Elastic jump to ``nominal``, then creep at it (nominal = 0: free recovery); returns stretch and strains.

    State: viscous strains; the stretch is solved from ``P = nominal`` at every instant, so the stress cannot drift.
    """
    T = film.Tref if T is None else T
    l, e = snap_back(film, l, e, nominal, mode, T)

    def rhs(_, v):
        x = log_stretch_at(film, v, nominal, mode, T, np.log(l))
        return film.flow(np.exp(x), x - v, mode, T)

    v = _solve(rhs, (0.0, duration), np.log(l) - e, rtol, atol).y[:, -1]
    x = log_stretch_at(film, v, nominal, mode, T, np.log(l))
    return float(np.exp(x)), x - v
