# SPDX-License-Identifier: BSD-3-Clause
"""Whole small case in one system of differential equations: film elements of every turn and face on a load that gives.

Every fully covered height behaves alike, so one height is solved. State between face events: viscous strains
``v = ln l - e`` of all branches of all film elements laid so far (they do not jump when the load does), and first-order
lags ``eta`` of the two strand sums for the creep of the load. The closings follow from the state at every instant.

- element i on a face of length L: geometric stretch ``l_ref (L - u)/(L - u_ref)``, u the closing along the face;
  mechanical stretch = geometric x ``(1 + alpha_load dT)/(1 + alpha_film dT)``; stretch taken by the film = the greater
  of that and its own stress-free stretch (slack film), so ``N_i = P_i w0 t0 / w_load >= 0``;
- closings ``u = K^-1 [S + c_L int log10(1 + (t - t')/t_L) dS(t')]``, S = (S_l, S_w) sums of the two long strands;
- at its face event an element has N = F/w_load after the load has given (the newest face keeps the span force);
- film wider than the load is high folds in over the top: strands u above the edge run at ``l (1 - 8 u/perimeter)``,
  slack ones carry nothing, and the force of the whole width is F, so the supported film is stretched further at once.

Creep kernel: ``ln(1 + x) = int_0^inf (1 - exp(-x s)) exp(-s)/s ds`` by the trapezoidal rule in ln s.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from .case import Case
from .corner_slip import advance_with_slip, even_out
from .draw import FilmOnLoad, film_path
from .take_up import face_events

FACES = ("front", "left", "back", "right")
ALONG = {"left": 0, "right": 0, "front": 1, "back": 1}  # 0: strands along the length, 1: along the width


def creep_ladder(per_decade, start, step=0.45, least=1e-10, most=40.0):
    """Weights g and times tau (s) with ``sum g (1 - exp(-t/tau)) = per_decade log10(1 + t/start)``."""
    if per_decade == 0:
        return np.zeros(0), np.zeros(0)
    s = np.exp(np.arange(np.log(least), np.log(most) + step, step))
    return per_decade / np.log(10) * step * np.exp(-s), start / s


def supported_film(case: Case, path: FilmOnLoad):
    """Log stretch by which film beside the load exceeds ``path.stretch``, and its force per height (N/m)."""
    overhang = path.laid_width - case.load_height
    to_tension = case.section / path.laid_width
    if overhang <= 0:
        return 0.0, case.force / path.laid_width

    def nominal(x):
        return case.film.nominal(path.stretch * np.exp(x), path.strain + x, path.mode, case.ambient)

    def tension(x):
        return max(nominal(x), 0.0) * to_tension

    slack = brentq(nominal, -0.5, 0.0)

    def miss(x):
        taut = min(overhang, case.perimeter / 8 * -np.expm1(slack - x))
        above = quad(lambda u: tension(x + np.log1p(-8 * u / case.perimeter)), 0, taut, epsrel=1e-11)[0]
        return tension(x) * case.load_height + above - case.force

    x = brentq(miss, 0.0, 0.5, xtol=1e-14)
    return x, tension(x)


@dataclass
class Stack:
    case: Case
    path: FilmOnLoad
    rtol: float = 1e-9
    atol: float = 1e-12
    turn: list = field(default_factory=list)  # per element
    face: list = field(default_factory=list)

    def __post_init__(self):
        case = self.case
        self.film, self.mode = case.film, self.path.mode
        self.length = np.array([case.length, case.load_width])
        k_l, k_w = case.stiffness
        self.compliance = np.linalg.inv([[k_l, case.coupling], [case.coupling, k_w]])
        self.g, self.tau = creep_ladder(case.creep_per_decade, case.creep_start)
        self.to_tension = case.section / self.path.laid_width  # nominal stress -> force per height
        self.extra, self.kept = supported_film(case, self.path)
        self.axis = np.zeros(0, int)
        self.reference = np.zeros(0)  # l_ref / (L - u_ref)
        self.v = np.zeros((0, len(self.film.E)))
        self.eta = np.zeros((2, len(self.g)))
        self.u_guess = np.zeros(2)
        self.evaluations = 0
        self.slipped = np.zeros(4)  # m through each corner after lay-down

    # -- film at given geometric stretch ----------------------------------------------------------------------------
    def taut(self, x, v, T):
        """ln l of the film, nominal stress and its log slope; slack film sits at its own stress-free stretch."""
        E = self.film.modulus(T)
        total = E.sum()

        def answer(x):
            l = np.exp(x)
            s = self.film.network(l, self.mode, T) + total * x - v @ E
            return s / l, (self.film.network_log_slope(l, self.mode, T) + total - s) / l

        P, slope = answer(x)
        slack = P < 0
        if slack.any():
            free = x.copy()
            for _ in range(60):
                step = np.where(slack, P / slope, 0.0)
                free -= step
                P, slope = answer(free)
                if np.abs(step).max() < 1e-15:
                    break
            P, slope = np.where(slack, 0.0, P), np.where(slack, 0.0, slope)
            x = np.where(slack, free, x)
        return x, P, slope

    def thermal(self, T):
        rise = T - self.case.ambient
        return (1 + self.case.expansion * rise) / (1 + self.film.alpha * rise)

    def sums(self, tension):
        return np.bincount(self.axis, tension, 2)

    def equilibrium(self, v, eta, T, newest=None):
        """Closings (2,), ln l, tensions; ``newest`` = axis of an element that keeps F while the load gives."""
        memory = self.compliance @ (eta @ self.g)  # creep so far; only the elastic part of the load is instantaneous
        keep = np.zeros(2)
        if newest is not None:
            keep[newest] = self.kept
        u = self.u_guess.copy()
        heat = self.thermal(T)
        for _ in range(60):
            room = self.length - u
            x, P, slope = self.taut(np.log(self.reference * room[self.axis] * heat), v, T)
            tension = P * self.to_tension
            miss = u - memory - self.compliance @ (self.sums(tension) + keep)
            # du changes ln l by -du/(L - u)
            derivative = np.eye(2) + self.compliance * (self.sums(slope * self.to_tension) / room)
            step = np.linalg.solve(derivative, miss)
            u -= step
            if np.abs(step).max() < 1e-15:
                break
        else:
            if np.abs(step).max() > 1e-12:
                raise RuntimeError("closings do not settle")
        self.u_guess = u
        room = self.length - u
        x, P, _ = self.taut(np.log(self.reference * room[self.axis] * heat), v, T)
        return u, x, P * self.to_tension

    # -- time ----------------------------------------------------------------------------------------------------------
    def unpack(self, y):
        n = self.v.size
        return y[:n].reshape(self.v.shape), y[n:].reshape(self.eta.shape)

    def rhs(self, t, y, temperature):
        self.evaluations += 1
        v, eta = self.unpack(y)
        T = temperature(t)
        _, x, tension = self.equilibrium(v, eta, T)
        f = self.film.flow(np.exp(x), x[:, None] - v, self.mode, T)
        lag = (self.sums(tension)[:, None] - eta) / self.tau
        return np.concatenate((f.ravel(), lag.ravel()))

    def advance(self, start, end, temperature):
        """Integrates the whole state from start to end (s)."""
        y0 = np.concatenate((self.v.ravel(), self.eta.ravel()))
        scale = np.concatenate((np.full(self.v.size, self.atol), np.full(self.eta.size, self.atol * 1e5)))
        result = solve_ivp(
            self.rhs,
            (start, end),
            y0,
            method="Radau",
            rtol=self.rtol,
            atol=scale,
            args=(temperature,),
            first_step=min(1e-4, (end - start) / 10),
        )
        if not result.success:
            raise RuntimeError(result.message)
        self.v, self.eta = (a.copy() for a in self.unpack(result.y[:, -1]))

    def lay(self, turn, face):
        """Face event: a new element at F; everything older slackens as the load gives."""
        axis = ALONG[face]
        u, _, _ = self.equilibrium(self.v, self.eta, self.case.ambient, newest=axis)
        self.turn.append(turn)
        self.face.append(face)
        self.axis = np.append(self.axis, axis)
        stretch = self.path.stretch * np.exp(self.extra)
        self.reference = np.append(self.reference, stretch / (self.length[axis] - u[axis]))
        self.v = np.vstack((self.v, np.log(self.path.stretch) - self.path.strain))

    def report(self, time, T):
        u, _, tension = self.equilibrium(self.v, self.eta, T)
        per_face = {f: [float(n) for n, g in zip(tension, self.face) if g == f] for f in FACES}
        return {
            "time_s": float(time),
            "closing_along_length_m": float(u[0]),
            "closing_along_width_m": float(u[1]),
            "hoop_tension_N_per_m": {f: float(sum(n)) for f, n in per_face.items()},
            "layer_tension_N_per_m": per_face,
        }


def wrap(case: Case, path: FilmOnLoad, rtol=1e-9, atol=1e-12):
    """Wraps all turns; returns the stack at time 0 and the hoop tension after each turn (turn, face)."""
    stack, events = Stack(case, path, rtol, atol), []
    for turn in range(1, case.turns + 1):
        for angle, face in face_events(case.length, case.load_width, case.distance):
            events.append(((angle + 2 * np.pi * (turn - 1)) / case.omega, turn, face))
    end, now, buildup = 2 * np.pi * case.turns / case.omega, None, []
    ambient = lambda t: case.ambient
    marks = sorted(events + [(2 * np.pi * k / case.omega, k, None) for k in range(1, case.turns + 1)])
    for time, turn, face in marks:
        if now is not None:
            advance_with_slip(stack, now - end, time - end, ambient)
        now = time
        if face is not None:
            stack.lay(turn, face)
            even_out(stack, case.ambient)
        else:
            buildup.append(stack.report(time - end, case.ambient)["hoop_tension_N_per_m"])
    return stack, buildup


def storage(stack: Stack, times, observe=None):
    """Follows the storage temperature from time 0; reports at ``times`` (s, ascending, from 0).

    ``observe(stack, T)`` may return more entries for each report.
    """
    case = stack.case
    knots_t, knots_T = (np.array(a) for a in zip(*case.temperature))
    temperature = lambda t: float(np.interp(t, knots_t, knots_T))
    cuts = sorted({0.0, case.duration, *times, *[t for t in knots_t if 0 < t < case.duration]})
    reports = []
    for i, t in enumerate(cuts):
        if i > 0:
            advance_with_slip(stack, cuts[i - 1], t, temperature)
        if t in times:
            T = temperature(t)
            reports.append(stack.report(t, T) | (observe(stack, T) if observe else {}))
    return reports


def path_record(case: Case, path: FilmOnLoad):
    """Film path as plain numbers, SI."""
    return {
        "prestretch_nominal_stress_Pa": path.drawn.nominal,
        "prestretch_force_N": path.drawn.nominal * case.section,
        "film_temperature_K": path.drawn.temperature,
        "roller_speed_1_m_per_s": path.speed_1,
        "dwell_s": path.dwell,
        "residence_s": path.residence,
        "stretch_on_load": path.stretch,
        "gap_exit_strain": path.drawn.strain.tolist(),
        "dwelt_strain": path.dwelt_strain.tolist(),
        "laid_strain": path.strain.tolist(),
        "width_factor": path.width_factor,
        "laid_width_m": path.laid_width,
        "unloaded_stretch": path.unloaded_stretch,
        "stiffness_over_force": path.stiffness_over_force,
    }


def solve_case(case: Case, path=None, times=None, rtol=1e-8, atol=1e-11, observe=None):
    """Record of a whole case: film path, hoop tension after each turn, state at chosen times of storage."""
    path = path or film_path(case)
    stack, buildup = wrap(case, path, rtol, atol)
    knots = [t for t, _ in case.temperature if 0 < t < case.duration]
    times = times or sorted({0.0, 60.0, 3600.0, *knots, case.duration})
    return {
        "film_path": path_record(case, path),
        "hoop_tension_buildup_N_per_m": buildup,
        "storage": storage(stack, times, observe),
    }
