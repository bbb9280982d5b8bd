# SPDX-License-Identifier: BSD-3-Clause
"""Film from the roll to the exit of roller 2, and the stretch on the load at constant force.

Force is constant along the gap: ``P(l, e) = P1``, ``dx/dt = v1 l``; from ``s(l, e, T) = P1 l``
``[H + m sum E - P1 l] d(ln l) = m sum E_k f_k dt + (softening) dT`` with ``f_k = (r_k/c) sinh(E_k c e_k/(Y_k chi))``,
``rho cp dT = m sum E_k e_k f_k dt + theta s_net d(ln l)``. P1 is the force at which l = r at the gap's end.
"""

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from .film import FreeFilm, gap_network


class Gap:
    """The draw between the rollers at one film speed ``v1`` of roller 1."""

    def __init__(self, material, ratio, length, neck_in, temperature):
        self.material, self.ratio, self.length = material, ratio, length
        self.n, self.temperature = neck_in, temperature
        self.last = np.log(10e6)  # ln Pa, where the next search starts
        self.m = 2 / 3 * (2 - neck_in)
        self.c = np.sqrt(2 / 3) * np.sqrt(1 + neck_in**2 + (1 - neck_in) ** 2)

    def elastic_start(self, pressure):
        """``x`` just behind roller 1, where film jumps elastically to the gap's force."""
        network, moduli, _, _ = self.material.at(self.temperature)
        off = lambda x: network * gap_network(self.material.limit, self.n, x)[0] + self.m * moduli.sum() * x
        return brentq(lambda x: off(x) - pressure * np.exp(x), 0, np.log(self.ratio), xtol=1e-15)

    def slopes(self, x, state, pressure, speed):
        """d(e_k, T, place)/d(ln l)."""
        e, temperature = state[:-2], state[-2]
        law = self.material
        network, moduli, rates, flow_stresses = law.at(temperature)
        net, net_slope, above = gap_network(law.limit, self.n, x)
        net, net_slope = network * net, network * net_slope
        chi = 1 + law.hardening * above
        flow = rates / self.c * np.sinh(moduli * self.c * e / (flow_stresses * chi))
        branch = self.m * moduli * e
        heat = law.density * law.heat_capacity
        soft = law.modulus_softening * branch.sum() + law.network_softening * net
        stiff = net_slope + self.m * moduli.sum() - pressure * np.exp(x) - soft * law.entropic_share * net / heat
        rate = (self.m * moduli @ flow + soft * (branch @ flow) / heat) / stiff
        if not stiff > 0:
            raise ArithmeticError("the draw is unstable: stress rises more slowly than force")
        warming = ((branch @ flow) / rate + law.entropic_share * net) / heat
        return np.concatenate([1 - flow / rate, [warming, speed * np.exp(x) / rate]])

    def integrate(self, pressure, speed):
        """(elastic strains, temperature, length needed) for the draw to the ratio at this force."""
        start = self.elastic_start(pressure)
        state = np.concatenate([np.full(len(self.material.moduli), start), [self.temperature, 0.0]])
        way = solve_ivp(
            self.slopes,
            (start, np.log(self.ratio)),
            state,
            "LSODA",
            args=(pressure, speed),
            rtol=1e-10,
            atol=1e-13,
        )
        if not way.success:
            raise ArithmeticError(way.message)
        return way.y[:-2, -1], way.y[-2, -1], way.y[-1, -1]

    def draw(self, speed):
        """(P1, elastic strains, temperature) at the end of the gap."""
        off = lambda log: np.log(self.integrate(np.exp(log), speed)[2] / self.length)
        low = high = self.last
        while off(low) < 0:
            low -= 0.02
        while off(high) > 0:
            high += 0.02
        self.last = brentq(off, low, high, xtol=1e-11, rtol=1e-14) if high > low else low
        pressure = np.exp(self.last)
        e, temperature, _ = self.integrate(pressure, speed)
        return pressure, e, temperature

    def dwell(self, e, time):
        """Elastic strains after ``time`` on roller 2: ``tanh(y/2) = tanh(y0/2) exp(-E r t/(Y chi))``."""
        _, moduli, rates, flow_stresses = self.material.at(self.temperature)
        chi = 1 + self.material.hardening * gap_network(self.material.limit, self.n, np.log(self.ratio))[2]
        scale = moduli * self.c / (flow_stresses * chi)
        left = np.tanh(scale * e / 2) * np.exp(-moduli * rates * time / (flow_stresses * chi))
        return 2 * np.arctanh(left) / scale

    def exit_width(self, e):
        """``w_2 = r^-n_d exp(-(1/2 - n_d) sum E_k e_k/sum E_k)``."""
        moduli = self.material.at(self.temperature)[1]
        return self.ratio**-self.n * np.exp(-(0.5 - self.n) * (moduli @ e) / moduli.sum())


def creep_to_load(film, viscous, pressure, speed, length):
    """(x, residence) of film that travels ``length`` at constant ``P`` while roller 1 runs at ``speed``."""

    def slopes(_, state):
        x = film.stretch_at(pressure, state[:-1, None], np.array([0.8]))
        return np.append(film.flow(x, state[:-1, None])[:, 0], speed * np.exp(x[0]))

    arrived = lambda _, state: state[-1] - length
    arrived.terminal = True
    way = solve_ivp(slopes, (0, 1e4), np.append(viscous, 0.0), "LSODA", events=arrived, rtol=1e-10, atol=1e-13)
    state, time = way.y_events[0][0], way.t_events[0][0]
    return film.stretch_at(pressure, state[:-1, None], np.array([0.8]))[0], time


class FilmPath:
    """Roller speed, state of film at the exit of roller 2, and stretch on the load at the force of the start.

    ``v1 = omega perimeter/(2 pi l_load)`` is a fixed point with draw, dwell (arc/v2) and creep over ``travel`` (the
    path inside the carriage and the mean free span), all at the working speed of rotation; the residence is the time
    ``t`` with ``int_0^t v1 l dt = travel``. With a fixed length per turn v1 is what is fed, and ``force`` is the one
    at which film arrives at the stretch that lays this length (0 if film would have to shrink below its rest).
    Every parcel enters the span in this state, whatever the feed of that moment: the gap is solved at the mean speed.
    """

    def __init__(self, material, case, mean_take_up, travel):
        self.gap = Gap(material, 1 + case.prestretch, case.roller_gap, material.neck_in, case.temperature)
        self.material, self.case, self.take_up, self.travel = material, case, mean_take_up, travel
        self.section = case.film_width * case.film_thickness
        self.force = case.force
        if case.control == "fixed_length":
            self.stretch_on_load = 1 / case.length_per_turn
            self.leave_rollers(mean_take_up * case.length_per_turn)
            self.force = self.laying_force(self.stretch_on_load)
            return
        off = lambda log: np.log(self.stretch_for(np.exp(log))) - log
        low = high = np.log(self.stretch_for(self.gap.ratio))
        while off(low) < 0:
            low -= 0.01
        while off(high) > 0:
            high += 0.01
        self.stretch_on_load = self.stretch_for(np.exp(brentq(off, low, high, xtol=1e-11)))

    def leave_rollers(self, speed):
        """Film at the exit of roller 2 for a speed of roller 1."""
        self.speed = speed
        self.draw_pressure, drawn, self.draw_temperature = self.gap.draw(speed)
        self.dwell_time = self.case.roller_arc / (self.gap.ratio * speed)
        e = self.gap.dwell(drawn, self.dwell_time)
        self.viscous = np.log(self.gap.ratio) - e
        self.film = FreeFilm(self.material, self.case.temperature, self.gap.ratio, self.gap.exit_width(e))

    def arrives(self, force):
        """ln stretch at the load at constant force; keeps the residence."""
        x, self.residence = creep_to_load(self.film, self.viscous, force / self.section, self.speed, self.travel)
        return x

    def stretch_for(self, stretch):
        """Stretch on the load when roller 1 runs at the speed that belongs to ``stretch``."""
        self.leave_rollers(self.take_up / stretch)
        return np.exp(self.arrives(self.force))

    def laying_force(self, stretch):
        off = lambda force: self.arrives(force) - np.log(stretch)
        if off(0.0) >= 0:
            return 0.0
        high = self.case.force / 4
        while off(high) < 0:
            high *= 1.1
        return brentq(off, 0.0, high, rtol=1e-10)
