# SPDX-License-Identifier: BSD-3-Clause
"""Five films that follow no law of this project, and the laboratory tests made on them.

They exist to ask a fit what its intervals are worth when the film is not of the fitted kind. Each is a network that
carries stress at rest and a set of memories q_i,

    sigma(stretch) = network(stretch) + sum_i q_i,
    dq_i/dt = a_i(stretch) d(stretch)/dt - b_i(q_i, stretch) |d(stretch)/dt| - f_i(q_i, stretch),

with true stress sigma in MPa, nominal stress sigma/stretch, uniaxial, at constant volume:

- ``chain``: eight-chain network (Arruda and Boyce's, with Cohen's approximation of the inverse Langevin function), one
  elastic spring in series with a power-law dashpot whose strength grows with stretch, fifteen linear memories a decade
  apart or less.
- ``intrinsic``: endochronic: memories fade with the path of stretch (b_i, Valanis' intrinsic time) and, as a stretched
  exponential written as a spectrum of forty times, with time; the network is neo-Hookean with a stiffening term.
- ``memory``: quasi-linear viscoelasticity: one saturating elastic curve, relaxed by a stretched exponential at the same
  rate at every stretch; free film goes all the way back.
- ``drop``: three springs in series with power-law dashpots of exponents 6, 10 and 24 whose strength falls past yield
  before it grows with stretch, and the network of ``sliders``.
- ``sliders``: twenty springs in series with power-law dashpots of strengths spread over a decade and a half, and an
  Ogden network.

The errors that a fit adds for going beyond its curves (sim/film_lab/fit_evidence.hpp) were chosen on CHOSEN_ON; the
films of HELD_BACK were made afterwards and had no say in them. Numbers of the laws are our own, shaped to stretch film
(illustrative). Integrated by SciPy's LSODA.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import interp1d
from scipy.optimize import nnls

GAS = 8.31446261815324  # J/mol/K
ROOM = 296.15  # K


@dataclasses.dataclass
class Film:
    """network(stretch) -> (stress, slope) in MPa; gain(stretch) -> a_i; flow(q, stretch, shift) -> f_i, 1/s MPa;
    path(q, stretch) -> b_i, MPa."""

    name: str
    memories: int
    network: Callable
    gain: Callable
    flow: Callable
    activation: float  # J/mol: the clock of all memories
    softening: float  # 1/K: of every stress
    path: Callable = lambda q, stretch: np.zeros_like(q)

    def shift(self, temperature: float) -> float:
        return float(np.exp(-self.activation / GAS * (1 / temperature - 1 / ROOM)))

    def soft(self, temperature: float) -> float:
        return float(np.exp(-self.softening * (temperature - ROOM)))

    def stress(self, stretch: float, q: np.ndarray) -> float:
        return self.network(stretch)[0] + float(np.sum(q))


def stretched_exponential(time: float, exponent: float) -> tuple[np.ndarray, np.ndarray]:
    """exp(-(t/time)^exponent) as a spectrum: forty times (s) and their shares, which add up to one."""
    times, at = np.logspace(-4, 9, 40), np.logspace(-4, 8, 200)
    share, _ = nnls(np.exp(-at[:, None] / times[None, :]), np.exp(-((at / time) ** exponent)))
    return times, share / np.sum(share)


def chain_film() -> Film:
    locked = 30.0  # stretch limit squared of the chain model, links in a chain
    times = np.logspace(-2, 6.5, 15)
    weight = np.exp(-(((np.log10(times) - 2.0) / 3.5) ** 2))
    linear = np.append(40.0 * weight / np.sum(weight), 110.0)

    def network(stretch):
        def at(x):
            mean = np.sqrt((x * x + 2 / x) / 3)
            y = mean / np.sqrt(locked)
            inverse = y * (3 - y * y) / (1 - y * y)
            return 1.1 * np.sqrt(locked) / (3 * mean) * inverse * (x * x - 1 / x)

        return at(stretch), (at(stretch + 1e-6) - at(stretch - 1e-6)) / 2e-6

    def gain(stretch):
        return linear / stretch

    def flow(q, stretch, shift):
        out = np.empty_like(q)
        out[:-1] = q[:-1] / times
        strength = 4.0 * (1 + 0.16 * (stretch * stretch - 1 / stretch))
        out[-1] = linear[-1] * 1e-2 * np.sign(q[-1]) * (abs(q[-1]) / strength) ** 14.0
        return shift * out

    return Film("chain", 16, network, gain, flow, 110e3, 0.008)


def intrinsic_film() -> Film:
    times, weight = stretched_exponential(3e5, 0.13)
    stiffness = 150.0 * weight

    def network(stretch):
        return (
            0.55 * (stretch**2 - 1 / stretch) + 0.015 * (stretch**4 - 1 / stretch**2),
            0.55 * (2 * stretch + 1 / stretch**2) + 0.015 * (4 * stretch**3 + 2 / stretch**3),
        )

    def gain(stretch):
        return stiffness / stretch

    def flow(q, _stretch, shift):
        return shift * q / times

    def path(q, stretch):
        return q / (0.055 * (1 + 0.45 * (stretch - 1) ** 1.3)) / stretch

    return Film("intrinsic", 40, network, gain, flow, 95e3, 0.010, path)


def slider_film() -> Film:
    count = 20
    strength = np.logspace(-1.1, 0.4, count)
    strength *= 8.0 / np.sum(strength)
    stiffness = np.full(count, 150.0 / count)

    def network(stretch):
        return (
            0.35 * (stretch**2.6 - stretch**-1.3),
            0.35 * (2.6 * stretch**1.6 + 1.3 * stretch**-2.3),
        )

    def gain(stretch):
        return stiffness / stretch

    def flow(q, stretch, shift):
        y = strength * (1 + 0.10 * (stretch * stretch - 1))
        return shift * stiffness * 1e-2 * np.sign(q) * (np.abs(q) / y) ** 16.0

    return Film("sliders", count, network, gain, flow, 120e3, 0.009)


def memory_film() -> Film:
    times, weight = stretched_exponential(3e3, 0.16)

    def network(stretch):
        return (
            0.75 * (stretch**2 - 1 / stretch) + 0.02 * (stretch**4 - 1 / stretch**2),
            0.75 * (2 * stretch + 1 / stretch**2) + 0.02 * (4 * stretch**3 + 2 / stretch**3),
        )

    def gain(stretch):
        slope = 150.0 / (1 + (np.log(stretch) / 0.07) ** 2) + 9.0 * stretch**1.2
        return weight * slope / stretch

    def flow(q, _stretch, shift):
        return shift * q / times

    return Film("memory", 40, network, gain, flow, 95e3, 0.010)


def drop_film() -> Film:
    stiffness = np.array([60.0, 50.0, 70.0])
    exponent = np.array([6.0, 10.0, 24.0])
    strength = np.array([1.5, 1.8, 2.6])

    def flow(q, stretch, shift):
        x = np.log(stretch)
        y = strength * (0.75 + 0.25 * np.exp(-x / 0.12) + 0.09 * (stretch * stretch - 1 / stretch))
        return shift * stiffness * 1e-2 * np.sign(q) * (np.abs(q) / y) ** exponent

    return Film("drop", 3, slider_film().network, lambda stretch: stiffness / stretch, flow, 130e3, 0.007)


CHOSEN_ON = {"chain": chain_film, "intrinsic": intrinsic_film, "sliders": slider_film}
HELD_BACK = {"memory": memory_film, "drop": drop_film}
FILMS = CHOSEN_ON | HELD_BACK


class Strip:
    """A strip of a film led along stretches, let go or loaded; remembers what a laboratory reads."""

    def __init__(self, film: Film, temperature: float = ROOM):
        self.film = film
        self.shift, self.soft = film.shift(temperature), film.soft(temperature)
        self.time, self.stretch = 0.0, 1.0
        self.q = np.zeros(film.memories)
        self.rows: list[tuple[float, float, float]] = [(0.0, 1.0, 0.0)]

    def nominal(self, stretch, q) -> float:
        return self.soft * self.film.stress(stretch, q) / stretch

    def _rate(self, q, stretch, speed):
        film = self.film
        return film.gain(stretch) * speed - film.path(q, stretch) * abs(speed) - film.flow(q, stretch, self.shift)

    def _solve(self, right, y0, times, event=None):
        solved = solve_ivp(
            right, (0.0, times[-1]), y0, method="LSODA", t_eval=times, rtol=1e-7, atol=1e-8, events=event
        )
        if not solved.success:
            raise RuntimeError(solved.message)
        return solved

    def _note(self, solved, stretches):
        for t, stretch, q in zip(solved.t, stretches, solved.y[: self.film.memories].T):
            self.rows.append((self.time + t, stretch, self.nominal(stretch, q)))
        self.time += solved.t[-1]
        self.q = solved.y[: self.film.memories, -1]

    def move(self, to: float, rate: float, points: int = 400) -> "Strip":
        """To a stretch at a constant speed of the grips; rate: per starting length, 1/s."""
        start, speed = self.stretch, np.sign(to - self.stretch) * rate
        times = abs(to - start) / rate * np.arange(1, points + 1) / points

        def right(t, q):
            return self._rate(q, start + speed * t, speed)

        self._note(self._solve(right, self.q, times), start + speed * times)
        self.stretch = to
        return self

    def hold(self, duration: float, per_decade: int = 30) -> "Strip":
        times = np.append(np.arange(np.log10(0.02), np.log10(duration), 1.0 / per_decade), np.log10(duration))
        times = 10.0**times

        def right(_t, q):
            return self._rate(q, self.stretch, 0.0)

        self._note(self._solve(right, self.q, times), np.full(len(times), self.stretch))
        return self

    def release(self, rate: float, points: int = 400) -> "Strip":
        """Back at a constant speed until the force is gone."""
        start = self.stretch

        def right(t, q):
            return self._rate(q, start - rate * t, -rate)

        def gone(t, q):
            return self.film.stress(start - rate * t, q)

        gone.terminal = True
        end = solve_ivp(right, (0.0, (start - 1.0) / rate), self.q, method="LSODA", rtol=1e-8, atol=1e-9, events=gone)
        if not len(end.t_events[0]):
            raise RuntimeError("the force is never gone")
        times = end.t_events[0][0] * np.arange(1, points + 1) / points
        self._note(self._solve(right, self.q, times), start - rate * times)
        self.stretch = start - rate * times[-1]
        return self

    def free(self, duration: float, per_decade: int = 30) -> "Strip":
        """No force: the stretch follows from network + sum q = 0."""
        times = 10.0 ** np.append(np.arange(np.log10(0.05), np.log10(duration), 1.0 / per_decade), np.log10(duration))

        def right(_t, y):
            q, stretch = y[:-1], y[-1]
            gain, flow = self.film.gain(stretch), self.film.flow(q, stretch, self.shift)
            path = self.film.path(q, stretch)
            drive = np.sum(flow)  # its sign is that of the speed
            speed = drive / (self.film.network(stretch)[1] + np.sum(gain) - np.sign(drive) * np.sum(path))
            return np.append(gain * speed - path * abs(speed) - flow, speed)

        solved = self._solve(right, np.append(self.q, self.stretch), times)
        self._note(solved, solved.y[-1])
        self.stretch = float(solved.y[-1, -1])
        return self

    def curve(self) -> np.ndarray:
        """Rows of time (s), stretch ratio, nominal stress (MPa)."""
        return np.array(self.rows)


def truth(film: Film, rate: float = 1.0, strain: float = 2.5) -> dict[str, float]:
    """The numbers films are compared by, as their declarations define them, from tests of the film itself. SI."""
    pull = Strip(film).move(4.0, rate, 3000).curve()
    stress = interp1d(pull[:, 1], pull[:, 2] * 1e6)
    secant = float(stress(1.01)) / 0.01
    above = pull[:, 2] * 1e6 - secant * (pull[:, 1] - 1.0 - 0.02)
    first = int(np.argmax(above[pull[:, 1] > 1.001] <= 0)) + int(np.sum(pull[:, 1] <= 1.001))
    share = above[first - 1] / (above[first - 1] - above[first])
    numbers = {
        "secant_modulus": secant,
        "knee_stress": 1e6 * float(pull[first - 1, 2] + share * (pull[first, 2] - pull[first - 1, 2])),
    }
    for percent in (100, 200, 250, 300):
        numbers[f"stress_at_{percent}"] = float(stress(min(1.0 + percent / 100, pull[-1, 1])))

    def g(x):
        return x * x - 1 / x

    numbers["hardening_slope"] = (4 * numbers["stress_at_300"] - 3 * numbers["stress_at_200"]) / (g(4.0) - g(3.0))
    until = pull[pull[:, 1] <= 1.0 + strain + 1e-9]
    numbers["work_to_draw"] = 1e6 * float(np.trapezoid(until[:, 2], until[:, 1]))
    held = Strip(film).move(1.0 + strain, rate)
    before, began = held.rows[-1][2], held.time
    after = held.hold(2592000.0, 60).curve()
    after = after[after[:, 0] > began]
    kept = interp1d(np.log(after[:, 0] - began), after[:, 2] / before)
    for name, seconds in (("1_min", 60.0), ("1_h", 3600.0), ("24_h", 86400.0), ("30_d", 2592000.0 * (1 - 1e-9))):
        numbers[f"kept_{name}"] = float(kept(np.log(seconds)))
    minute = Strip(film).move(1.0 + strain, rate).hold(60.0)
    top = minute.rows[-1][2]
    back = minute.move(1.0 + strain - 0.01, rate, 20).rows[-1][2]
    numbers["unloading_stiffness"] = 1e6 * (top - back) / 0.01
    numbers["held_stiffness_over_force"] = (top - back) / 0.01 * (1.0 + strain) / top
    let_go = Strip(film).move(1.0 + strain, rate).hold(60.0).release(rate).free(86400.0)
    numbers["permanent_set"] = let_go.stretch - 1.0
    return numbers


def curve_set(film: Film, which: str) -> dict[str, tuple[str, float, np.ndarray]]:
    """Curves of a laboratory: name -> (kind, temperature, rows). ``few``: two tensile rates and a short hold; ``six``:
    three rates, a hold of an hour, one unloading and a warm tensile curve; ``held_out``: what a fit has not seen."""
    room, warm = ROOM, 313.15
    if which == "few":
        return {
            "slow": ("tensile", room, Strip(film).move(4.0, 0.02).curve()),
            "fast": ("tensile", room, Strip(film).move(4.0, 1.0).curve()),
            "hold": ("relaxation", room, Strip(film).move(3.5, 0.5).hold(600.0).curve()),
        }
    if which == "six":
        return {
            "slow": ("tensile", room, Strip(film).move(4.0, 0.01).curve()),
            "middle": ("tensile", room, Strip(film).move(4.0, 0.1).curve()),
            "fast": ("tensile", room, Strip(film).move(4.0, 1.0).curve()),
            "hold": ("relaxation", room, Strip(film).move(3.5, 0.5).hold(3600.0).curve()),
            "unload": ("cycle", room, Strip(film).move(3.5, 0.2).release(0.2).curve()),
            "warm": ("tensile", warm, Strip(film, warm).move(4.0, 0.1).curve()),
        }
    return {
        "rate": ("tensile", room, Strip(film).move(4.0, 5.0).curve()),
        "day": ("relaxation", room, Strip(film).move(3.5, 0.5).hold(86400.0).curve()),
        "warm_hold": ("relaxation", warm, Strip(film, warm).move(3.5, 0.5).hold(3600.0).curve()),
    }


def csv_text(kind: str, temperature: float, rows: np.ndarray, noise: float, random: np.random.Generator) -> str:
    """The curve as a file; the stress of every reading off by a normal share ``noise``."""
    noisy = rows[:, 2] * (1.0 + noise * random.standard_normal(len(rows)))
    lines = [f"# kind: {kind}", f"# temperature: {temperature - 273.15:.6g} degC", "time_s,stretch_ratio,stress_MPa"]
    lines += [f"{t:.9g},{x:.9g},{s:.9g}" for (t, x, _), s in zip(rows, noisy)]
    return "\n".join(lines) + "\n"
