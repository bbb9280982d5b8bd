# SPDX-License-Identifier: BSD-3-Clause
"""Film law: a network in parallel with relaxing branches, in the gap (width exponent n) and free (n = 1/2).

Units are SI throughout. Reference: film on the roll. Stretch ``l`` is a ratio, ``x = ln l``; stress ``s = P l`` is
true stress, ``P`` force over the section on the roll. Elastic log strains ``e`` have shape (branches, ...).
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

import numpy as np

GAS_CONSTANT = 8.314462618  # J/(mol K)
ZERO_CELSIUS = 273.15  # K
UNITS = {"Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "kg/m^3": 1.0, "1/s": 1.0, "J/mol": 1.0, "kJ/mol": 1e3, "J/kg/K": 1.0}
UNITS |= {"1/K": 1.0, "degC": 1.0}


def number(text):
    """``"53.2 MPa"`` in SI; a bare number is itself."""
    if isinstance(text, (int, float)):
        return float(text)
    value, unit = text.split()
    return float(value) * UNITS[unit]


@dataclass(frozen=True)
class Material:
    """Numbers of a film file at one temperature ``T`` (K).

    ``r(T) = r exp(-(Q/R)(1/T - 1/Tref))``, ``Y(T) = Y T/Tref``, ``E(T) = E exp(-b_E (T - Tref))``,
    ``G(T) = G exp(-b_G (T - Tref))``.
    """

    network: float
    limit: float
    hardening: float
    moduli: np.ndarray
    rates: np.ndarray
    flow_stresses: np.ndarray
    activation: np.ndarray
    density: float
    heat_capacity: float
    modulus_softening: float
    network_softening: float
    entropic_share: float
    reference_temperature: float
    neck_in: float

    @staticmethod
    def read(path):
        raw = tomllib.loads(Path(path).read_text())
        if raw["law"] != "eyring-network":
            raise ValueError(f"{path}: law {raw['law']!r}; the parcel model knows 'eyring-network'")
        branch = lambda key, default=None: np.array([number(b.get(key, default)) for b in raw.get("branch", [])])
        thermal = raw.get("thermal", {})
        return Material(
            network=number(raw["network"]["modulus"]),
            limit=float(raw["network"]["stretch_limit"]),
            hardening=float(raw.get("hardening", {}).get("viscous_share", 0)),
            moduli=branch("modulus"),
            rates=branch("reference_rate"),
            flow_stresses=branch("flow_stress"),
            activation=branch("activation_energy", 0),
            density=number(raw["density"]),
            heat_capacity=number(thermal.get("heat_capacity", np.inf)),
            modulus_softening=number(thermal.get("modulus_softening", 0)),
            network_softening=number(thermal.get("network_softening", 0)),
            entropic_share=float(thermal.get("entropic_share", 1)),
            reference_temperature=number(raw["reference_temperature"]) + ZERO_CELSIUS,
            neck_in=float(raw["neck_in"]),
        )

    def at(self, temperature):
        """(G, E, r, Y) at a temperature in K."""
        above = temperature - self.reference_temperature
        inverse = 1 / temperature - 1 / self.reference_temperature
        return (
            self.network * np.exp(-self.network_softening * above),
            self.moduli * np.exp(-self.modulus_softening * above),
            self.rates * np.exp(-self.activation / GAS_CONSTANT * inverse),
            self.flow_stresses * temperature / self.reference_temperature,
        )


def gap_network(limit, n, x):
    """Network stress over ``G``, its slope by ``x`` and ``I1 - 3`` for the lateral stretch ``l^-n``.

    ``I1 = l^2 + l^-2n + l^(2n-2)``, ``s = Jm/(Jm - (I1-3)) (l^2 - l^(2n-2))``.
    """
    along, across, thick = np.exp(2 * x), np.exp(-2 * n * x), np.exp((2 * n - 2) * x)
    above = along + across + thick - 3
    rises = 2 * along - 2 * n * across + (2 * n - 2) * thick
    lock = limit / (limit - above)
    slope = lock * (2 * along - (2 * n - 2) * thick) + lock / (limit - above) * rises * (along - thick)
    return lock * (along - thick), slope, above


class FreeFilm:
    """Film behind roller 2 at one temperature: width goes with ``l^-1/2`` from what it has there.

    ``w = w_2 (l/r)^-1/2``; ``s = mu [(l^2 - (l w)^-2) - (w^2 - (l w)^-2)/2] + sum_k E_k e_k``,
    ``mu = G Jm/(Jm - (I1-3))``, ``I1 = l^2 + w^2 + (l w)^-2``; ``de_k/dt = d(ln l)/dt - r_k sinh(E_k e_k/(Y_k chi))``,
    ``chi = 1 + h (I1-3)``. With ``K = w_2^2 r``: ``w^2 = K/l``, ``(l w)^-2 = 1/(K l)``.
    """

    def __init__(self, material, temperature, exit_stretch, exit_width):
        self.network, self.moduli, self.rates, self.flow_stresses = material.at(temperature)
        self.limit, self.hardening = material.limit, material.hardening
        self.width_square = exit_width**2 * exit_stretch
        self.transverse = self.width_square + 1 / self.width_square
        self.modulus_sum = self.moduli.sum()
        self.sharpness = self.moduli / self.flow_stresses

    def width(self, x):
        """Width over the width on the roll."""
        return np.sqrt(self.width_square) * np.exp(-x / 2)

    def stress(self, x, flowed):
        """True stress and its elastic slope by ``x``; ``flowed`` = sum_k E_k (x - e_k), the film's flow so far."""
        along, aside = np.exp(2 * x), self.transverse * np.exp(-x)
        above = along + aside - 3
        bracket = along - aside / 2
        mu = self.network * self.limit / (self.limit - above)
        slope = mu * (2 * along + aside / 2) + 2 * mu / (self.limit - above) * bracket**2
        return mu * bracket + self.modulus_sum * x - flowed, slope + self.modulus_sum

    def flow(self, x, viscous):
        """``r_k sinh(E_k e_k/(Y_k chi))`` for viscous strains ``x - e_k`` of shape (branches, pieces)."""
        return self.rates[:, None] * np.sinh(self.sharpness[:, None] * (x - viscous) / self.chi(x))

    def step(self, x0, viscous0, x1, time):
        """(stress, its slope by ``x1``, viscous strains) after ``time`` in which ln l goes evenly from x0 to x1.

        With ``chi`` held at the geometric mean of both ends, ``y = E e/(Y chi)`` obeys ``dy/dt = A - B sinh y``,
        ``A = E a/(Y chi)``, ``B = E r/(Y chi)``, a Riccati equation for ``g = exp(-|A|/A y)``:
        ``g_1 = [g (S - |A| q) + B q]/[S + |A| q + g B q]``, ``S = sqrt(A^2 + B^2)``, ``q = tanh(S t/2)``.
        """
        if time == 0:
            viscous = viscous0
            stress, slope = self.stress(x1, self.moduli @ viscous)
            return stress, slope, viscous
        chi = np.sqrt(self.chi(x0) * self.chi(x1))
        scale = self.sharpness[:, None] / chi
        pull, flow = scale * (x1 - x0) / time, scale * self.rates[:, None]
        sign = np.where(pull < 0, -1.0, 1.0)
        pull = np.abs(pull)
        total = np.hypot(pull, flow)
        left = 2 / (np.exp(np.minimum(total * time, 700)) + 1)  # 1 - q
        q = np.tanh(total * time / 2)
        g = np.exp(np.clip(-sign * scale * (x0 - viscous0), -600, 600))
        less = flow**2 / (total + pull) + pull * left  # S - |A| q
        top, bottom = g * less + flow * q, total + pull * q + g * flow * q
        y = -sign * (np.log(top) - np.log(bottom))
        q_rise = left * (2 - left) * time / 2 * pull / total
        top_rise = g * (left - flow**2 / (total * (total + pull)) - pull * q_rise) + flow * q_rise
        bottom_rise = pull / total + q + pull * q_rise + g * flow * q_rise
        elastic_rise = (bottom_rise / bottom - top_rise / top) / time  # de_1/dx_1 at even chi
        viscous = x1 - y / scale
        stress, slope = self.stress(x1, self.moduli @ viscous)
        return stress, slope - self.modulus_sum + self.moduli @ elastic_rise, viscous

    def chi(self, x):
        return 1 + self.hardening * (np.exp(2 * x) + self.transverse * np.exp(-x) - 3)

    def creep(self, pressure, x0, viscous0, time):
        """(x, viscous strains) of film after ``time`` at the force ``P = pressure``."""
        x = x0
        for _ in range(100):
            stress, slope, viscous = self.step(x0, viscous0, x, time)
            held = pressure * np.exp(x)
            change = (held - stress) / (slope - held)
            x = x + change
            if np.abs(change).max() < 1e-13:
                return x, viscous
        raise ArithmeticError("film law: creep not found")

    def stretch_at(self, pressure, viscous, x):
        """``x`` at which film of the given flow carries ``P = pressure``; ``x`` comes in as a guess."""
        flowed = self.moduli @ viscous
        for _ in range(50):
            stress, slope = self.stress(x, flowed)
            held = pressure * np.exp(x)
            change = (held - stress) / (slope - held)
            x = x + change
            if np.abs(change).max() < 1e-13:
                return x
        raise ArithmeticError("film law: no stretch found for this force")
