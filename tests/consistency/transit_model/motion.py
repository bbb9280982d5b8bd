# SPDX-License-Identifier: BSD-3-Clause
"""The motion of a stack from event to event: Dormand-Prince 8(5,3) between them, roots of dense output at them.

An interface sticks (``slip' = 0``) until ``|T| = mu_s P'``, then carries ``T = +-mu_k P'`` until its slip velocity
reverses. How slip follows from the force of a sliding interface is a reading of "in series" (``Motion.slider``):

``tier``   ``T = k (d - s) + c (d' - s')``: spring and dashpot are the tier's, the slider comes after both;
``whole``  ``T = k (d - s) + c d'``, also while sliding: slip jumps by ``(mu_s - mu_k) P'/k`` as sliding begins;
``spring`` ``T = k (d - s)`` while sliding: the dashpot acts in stick only.

What film answers is another (``Motion.film``): the ``slip`` s of the interface, or the whole ``offset`` d of its tiers,
so that film takes its share before anything slips. The latter with ``tier`` only.

Columns of a tier that slide past each other stick until ``|f| = mu_case 2 N h`` and then slide at that force until the
tier turns back. Their events stand behind those of the interfaces: number T + i is that of tier i.
"""

from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import DOP853
from scipy.optimize import brentq

from .pulses import GN


@dataclass
class History:
    time: list = field(default_factory=list)
    state: list = field(default_factory=list)
    events: list = field(default_factory=list)  # (time, interface, sense after it)

    def part(self, name, count):
        """(times, tiers) of ``x``, ``turn``, ``speed``, ``spin``, ``slip`` or ``slid`` (of columns)."""
        place = ["x", "turn", "speed", "spin", "slip", "slid"].index(name)
        return np.array(self.state)[:, place * count : (place + 1) * count]


class Motion:
    """State: x, th, x', th', s of each tier or interface, the slip of its columns and, last, the work put in less the
    work taken by forces."""

    def __init__(self, stack, pulse, tolerance=1e-9, slider="tier", film="slip"):
        self.stack, self.pulse, self.tolerance, self.slider, self.film = stack, pulse, tolerance, slider, film
        count = stack.count
        self.sense = np.zeros(2 * count)  # of interfaces, then of columns: 0 sticks, +1 or -1 slides
        self.most, self.least = np.zeros(count), np.zeros(count)
        self.history = History()

    def forces(self, time, state):
        """Rates of the state; stick: mu_s P' - |T|; slide: slip velocity in its sense; forces that stick holds. The last
        two for interfaces, then for columns."""
        stack = self.stack
        x, turn, speed, spin, slip, slid = state[:-1].reshape(6, -1)
        sense, apart = self.sense.reshape(2, -1)
        drive = self.pulse(time), self.pulse.normal(time)
        d, phi = stack.relative(x, turn)
        d_rate, phi_rate = stack.relative(speed, spin)
        film, clamp = stack.film_force(self.moved(d, slip), self.most, self.least)
        pressed, pull, width = stack.pressed(clamp, d, phi, drive[1])
        held = stack.k * (d - slip) + stack.c * d_rate
        sliding, parting = sense != 0, apart != 0
        shear = np.where(sliding, sense * stack.mu_k * pressed, held)
        rubbed = stack.between(turn, slid)
        between = (stack.columns - 1) * stack.arm * np.where(parting, apart * stack.case_limit, rubbed)
        couple = stack.couple(pressed, pull, width, phi, phi_rate)
        ax, turning = stack.accelerations(drive, x, turn, d, shear, film, couple, between)
        if self.slider == "tier":
            slip_rate = np.where(sliding, (held - shear) / stack.c, 0.0)
        else:
            moved = (d, phi, d_rate, phi_rate, stack.relative(ax, turning)[0], clamp, pressed, slip)
            slip_rate = np.where(sliding, self.rate_without_lag(*moved), 0.0) if sliding.any() else 0.0 * slip
        power = drive[0] * (stack.m @ speed) - (shear + film) @ d_rate - couple @ phi_rate - between @ spin
        rates = np.concatenate([speed, spin, ax, turning, slip_rate, np.where(parting, stack.arm * spin, 0.0), [power]])
        margin = np.where(sliding, sense * slip_rate * stack.c, stack.mu_s * pressed - np.abs(held))
        case_margin = np.where(
            parting, apart * spin * stack.arm * stack.case_stiffness, stack.case_limit - np.abs(rubbed)
        )
        return rates, np.concatenate([margin, case_margin]), np.concatenate([held, rubbed])

    def moved(self, d, slip):
        """What film follows."""
        return d if self.film == "offset" else slip

    def rate_without_lag(self, d, phi, d_rate, phi_rate, d_bend, clamp, pressed, slip):
        """s' from the rate of ``k (d - s) + c d' = +-mu_k P'`` in steady gravity; that of P' by differences along the
        motion."""
        stack, tiny, sense = self.stack, 1e-7, self.sense[: self.stack.count]
        turned = (stack.pressed(clamp, d + tiny * d_rate, phi + tiny * phi_rate, GN)[0] - pressed) / tiny
        slid = stack.film_force(slip + tiny * sense, self.most, self.least)[1]
        clamped = (stack.pressed(slid, d, phi, GN)[0] - pressed) / tiny
        dashpot = stack.c * d_bend if self.slider == "whole" else 0.0
        return (stack.k * d_rate + dashpot - sense * stack.mu_k * turned) / (stack.k + stack.mu_k * clamped)

    def slip_at_once(self, interface, state):
        """Without a lag the slip at which the force is ``mu_k P'`` is there as sliding begins."""
        stack = self.stack
        x, turn, speed, spin, slip, _ = state[:-1].reshape(6, -1)  # slip is a view of the state
        d, phi = stack.relative(x, turn)
        carried = stack.k * d + (stack.c * stack.relative(speed, spin)[0] if self.slider == "whole" else 0.0)
        for _ in range(60):
            clamp = stack.film_force(slip, self.most, self.least)[1]
            force = self.sense[interface] * stack.mu_k * stack.pressed(clamp, d, phi, GN)[0]
            slip[interface] = ((carried - force) / stack.k)[interface]

    def run(self, end, stop=None):
        """History from rest to ``end`` or until ``stop(time, state)``."""
        count = self.stack.count
        time, state = 0.0, np.zeros(6 * count + 1)
        self.keep(time, state)
        stops = sorted({kink for kink in self.pulse.kinks if 0 < kink < end} | {end})
        for upto in stops:
            while time < upto:
                time, state = self.until_event(time, state, upto)
                if stop is not None and stop(time, state):
                    return self.history
        return self.history

    def until_event(self, time, state, upto):
        """(time, state) at the next event or at ``upto``."""
        self.settle(time, state)
        rates = lambda t, y: self.forces(t, y)[0]
        solver = DOP853(rates, time, state, upto, rtol=self.tolerance, atol=1e-3 * self.tolerance)
        before = self.forces(time, state)[1]
        while solver.status == "running":
            problem = solver.step()
            if solver.status == "failed":
                raise ArithmeticError(f"no step at {solver.t} s: {problem}")
            between = solver.dense_output()
            found = self.first_event(between, solver.t_old, solver.t, before)
            if found is not None:
                time, interface = found
                state = between(time)
                self.keep(time, state)
                self.switch(interface, time, state)
                return time, state
            self.keep(solver.t, solver.y)
            before = self.forces(solver.t, solver.y)[1]
        return solver.t, solver.y

    def first_event(self, between, start, end, before):
        """(time, interface) where a margin first turns negative within a step."""
        time = start
        for later in np.linspace(start, end, 4)[1:]:
            margin = self.forces(later, between(later))[1]
            crossed = np.flatnonzero((margin < 0) & (before >= 0))
            if len(crossed):
                root = lambda i: brentq(lambda t: self.forces(t, between(t))[1][i], time, later, xtol=1e-15, rtol=1e-14)
                return min((root(i), i) for i in crossed)
            time, before = later, margin
        return None

    def switch(self, interface, time, state):
        """Sticking interface slides in the sense of its force; sliding one sticks."""
        held = self.forces(time, state)[2]
        self.sense[interface] = 0.0 if self.sense[interface] else np.sign(held[interface])
        if self.slider != "tier" and interface < self.stack.count and self.sense[interface]:
            self.slip_at_once(interface, state)
            self.keep(time, state)
        self.history.events.append((time, int(interface), self.sense[interface]))

    def settle(self, time, state):
        """Interfaces that a jump of a(t) or another event has pushed over change at once."""
        for _ in range(8 * self.stack.count):
            margin = self.forces(time, state)[1]
            scale = 1e-9 * np.tile(self.stack.weight, 2)
            over = np.flatnonzero(margin < -scale)
            if not len(over):
                return
            self.switch(over[0], time, state)
        raise ArithmeticError(f"stick and slip without end at {time} s")

    def keep(self, time, state):
        x, turn, _, _, slip, _ = state[:-1].reshape(6, -1)
        moved = self.moved(self.stack.relative(x, turn)[0], slip)
        self.most, self.least = np.maximum(self.most, moved), np.minimum(self.least, moved)
        self.history.time.append(time)
        self.history.state.append(state.copy())
