# SPDX-License-Identifier: BSD-3-Clause
"""Winding: parcels enter at roller 2, share the span's force, are laid on faces, relax there and slip at corners."""

from dataclasses import dataclass, field, replace

import numpy as np

from .geometry import FACES, Geometry
from .path import FilmPath
from .strands import Feed, Nodes, Row, Solver

FREE_FACES = 4  # faces that newer film has not covered yet
SIDE = 1e-9  # m on the roll between a cut and the parcels at its two sides
KEPT = 12  # parcels kept of a covered face


@dataclass
class History:
    """What happened: span samples (turns, force, length fed), faces as laid and as kept, and the film at the end."""

    turn: list = field(default_factory=list)
    force: list = field(default_factory=list)
    fed: list = field(default_factory=list)
    face: list = field(default_factory=list)
    face_turn: list = field(default_factory=list)
    laid: list = field(default_factory=list)  # N, the span's force as the face comes flush
    next_event: list = field(default_factory=list)  # N, the same face when the next one comes flush
    covered: list = field(default_factory=list)  # N, the same face when the fourth next one comes flush
    roll_length: list = field(default_factory=list)  # m on the roll that lies on the face when it is covered


class Rotation:
    """Angle by time: the speed rises evenly in time from rest over ``ramp_turns`` turns, then it is constant."""

    def __init__(self, speed, ramp_turns):
        self.full, self.ramp = speed, 2 * np.pi * ramp_turns
        self.rise = 2 * self.ramp / speed  # s

    def time(self, angle):
        if angle < self.ramp:
            return self.rise * np.sqrt(angle / self.ramp)
        return self.rise + (angle - self.ramp) / self.full

    def angle(self, time):
        if time < self.rise:
            return self.ramp * (time / self.rise) ** 2
        return self.ramp + (time - self.rise) * self.full

    def speed(self, time):
        return self.full * min(1.0, time / self.rise) if self.rise > 0 else self.full


class Winding:
    """One wrap in implicit steps of second order: forces, slips and feed are those of the step's end.

    State: viscous strains of all parcels, the control's lag and the length fed. A new parcel enters every step.
    """

    def __init__(self, case, material, step=0.01, stretch_on_load=None):
        self.case, self.step = case, step
        self.geometry = Geometry(case)
        self.rotation = Rotation(case.rotation, case.ramp_turns)
        travel = case.internal_path + self.geometry.mean_span()
        self.path = FilmPath(material, case, case.rotation * self.geometry.perimeter / (2 * np.pi), travel)
        self.section, self.film = self.path.section, self.path.film
        self.stretch_on_load = stretch_on_load or self.path.stretch_on_load
        self.solver = Solver(self.film, self.section, self.path.viscous)
        self.history = History()
        self.event = self.first = self.geometry.first_event()
        self.lag = 0.0
        self.time = 0.0
        self.row = self.first_row(self.path.force)

    # The start
    def first_row(self, force):
        """A span of film that has crept at ``force``, fed at the mean speed; its end is fixed to the load."""
        length = self.span_length(0.0)
        step, x = self.step / 4, self.film.stretch_at(force / self.section, self.path.viscous[:, None], np.array([0.8]))
        viscous, states, covered = self.path.viscous[:, None], [], 0.0
        while covered < length:
            states.append((viscous.copy(), x[0]))
            x, viscous = self.film.creep(force / self.section, x, viscous, step)
            covered += self.path.speed * step * np.exp(x[0])
        states = states[::-4]
        place = np.arange(len(states)) * self.step * self.path.speed
        viscous, guess = np.hstack([s[0] for s in states]), np.array([s[1] for s in states])
        row = Row(
            place[:-1], viscous[:, :-1], guess[:-1], np.zeros(1), np.array([length]), place[-1], np.array([force]),
            np.array([[guess[0]], [guess[-1]]]), np.zeros(0, int), np.zeros(1, bool),
        )  # fmt: skip
        return self.with_parcel(self.solver.solve(row, 0.0, Feed(place[-1], 0.0, force, True), length, np.zeros(0)))

    # What drives it
    def span_length(self, angle):
        """Film from roller 2 to the corner's arc: inside the carriage, free, and on the arc so far."""
        wrapped, span = self.geometry.wrapped(angle, self.event)
        return self.case.internal_path + span + self.geometry.radius * wrapped

    def friction(self, angle, corners):
        """``mu beta`` of the inner cuts, oldest first: held where covered, else pi/2, else what is wrapped so far."""
        mu = self.case.friction
        grip = np.full(corners, np.inf)
        if np.isinf(mu) or corners == 0:
            return grip
        grip[-min(corners, FREE_FACES) :] = mu * np.pi / 2
        grip[-1] = mu * max(self.geometry.wrapped(angle, self.event)[0], 0.0)
        return grip

    def take_up(self, angle, speed):
        """``omega p``: p is the distance of the film's line from the axis."""
        geometry = self.geometry
        normal = geometry.tangent(angle, self.event % 4)[1]
        place = geometry.centres[self.event % 4]
        return speed * (place @ [np.cos(normal), np.sin(normal)] + geometry.radius)

    def feed_base(self, time, lag):
        """Roll length per time that is fed while the force is as set."""
        mean = self.rotation.speed(time) * self.geometry.perimeter / (2 * np.pi)
        if self.case.control == "fixed_length":
            return mean * self.case.length_per_turn
        return (mean + lag) / self.stretch_on_load

    def ripple(self, time):
        speed = self.rotation.speed(time)
        return self.take_up(self.rotation.angle(time), speed) - speed * self.geometry.perimeter / (2 * np.pi)

    def heard(self, time, end):
        """The ripple of the take-up through the lag at ``end``: ``lag dz/dt = ripple - z`` (Simpson's rule)."""
        if self.case.lag <= 0:
            return self.ripple(end)
        fade = lambda t: np.exp(-(end - t) / self.case.lag)
        middle = (time + end) / 2
        parts = fade(time) * self.ripple(time) + 4 * fade(middle) * self.ripple(middle) + self.ripple(end)
        return self.lag * fade(time) + (end - time) / (6 * self.case.lag) * parts

    def feed(self, time, end):
        """What is fed by ``end``: trapezium rule of feed (1 + gain (T/force - 1)), never below nothing."""
        case, row, step = self.case, self.row, end - time
        if case.control == "constant":
            return Feed(row.fed, 0.0, case.force, True)
        before = self.feed_base(time, self.lag)
        self.lag = self.heard(time, end) if case.control == "follow" else 0.0
        after = self.feed_base(end, self.lag)
        if case.control == "fixed_length":
            return Feed(row.fed + step / 2 * (before + after))
        before *= max(0.0, 1 + case.gain * (row.force[-1] / case.force - 1))
        return Feed(row.fed + step / 2 * (before + after), step / 2 * after * case.gain / case.force, case.force)

    # Steps
    def advance(self, time, end):
        """One step; the parcel that entered meanwhile is added at its end."""
        angle = self.rotation.angle(end)
        friction = self.friction(angle, len(self.row.cuts) - 1)
        feed = self.feed(time, end)
        self.row = self.with_parcel(self.solver.solve(self.row, end - time, feed, self.span_length(angle), friction))

    def with_parcel(self, row):
        """A parcel at the exit of roller 2 joins the row."""
        if row.fed - row.place[-1] < 1e-9:
            return row
        return replace(
            row,
            place=np.append(row.place, row.fed),
            viscous=np.column_stack([row.viscous, self.path.viscous]),
            guess=np.append(row.guess, row.ends[1, -1]),
            fed=row.fed * (1 + 1e-15) + 1e-12,
        )

    def run(self):
        """Winds all turns and returns the history; the row at the end stays in ``row``."""
        last = 2 * np.pi * self.case.turns
        while True:
            angle = self.geometry.event_angle(self.event)
            self.leg(min(angle, last))
            if angle > last:
                return self.history
            self.lay()

    def leg(self, angle):
        """Steps from now to an angle with even steps, shorter ones just after the event."""
        end = self.rotation.time(angle)
        count = max(1, int(np.ceil((end - self.time) / self.step)))
        even = np.arange(1, count + 1) / count
        times = self.time + (end - self.time) * np.concatenate([even[0] * np.array([0.125, 0.25, 0.5]), even])
        for time in times:
            self.advance(self.time, time)
            self.time = time
            self.sample()

    def sample(self):
        history = self.history
        history.turn.append(self.rotation.angle(self.time) / (2 * np.pi))
        history.force.append(self.row.force[-1])
        history.fed.append(self.row.fed)

    def lay(self):
        """The span is flush with a face: the face takes its share of the span's length, at the span's force."""
        row, history = self.row, self.history
        face = self.geometry.faces[self.event % 4]
        nodes = Nodes(row, row.cuts, row.fed, row.viscous, self.path.viscous)
        stretch = np.exp(nodes.spread(row.guess, row.ends))[nodes.starts[-1] :]
        place, total = nodes.place[nodes.starts[-1] :], nodes.sums(np.exp(nodes.spread(row.guess, row.ends)))[-1]
        run = np.concatenate([[0], np.cumsum(np.diff(place) * (stretch[1:] + stretch[:-1]) / 2)])
        share = face / row.lengths[-1] * total
        cut = self.cut_at(place, stretch, run, share)
        history.face.append(FACES[self.event % 4])
        history.face_turn.append(self.rotation.angle(self.time) / (2 * np.pi))
        history.laid.append(row.force[-1])
        if len(row.cuts) > 1:
            history.next_event.append(row.force[-2])
        if len(row.cuts) > FREE_FACES:
            history.covered.append(row.force[-1 - FREE_FACES])
            history.roll_length.append(row.cuts[-FREE_FACES] - row.cuts[-1 - FREE_FACES])
        at = np.interp(cut, place, np.log(stretch))
        self.row = replace(
            self.with_parcels_at(row, cut, at),
            cuts=np.append(row.cuts, cut),
            lengths=np.concatenate([row.lengths[:-1], [face], row.lengths[-1:] - face]),
            force=np.append(row.force, row.force[-1]),
            ends=np.column_stack([row.ends[:, :-1], [row.ends[0, -1], at], [at, row.ends[1, -1]]]),
            sliding=np.append(row.sliding, 0),
            slack=np.append(row.slack, row.slack[-1]),
        )
        self.event += 1
        self.thin()

    def with_parcels_at(self, row, cut, x):
        """Two parcels at a new cut, one for each side: they part from now on."""
        places = [cut - SIDE, cut + SIDE]
        at = np.searchsorted(row.place, cut)
        viscous = [np.interp(places, row.place, v) for v in row.viscous]
        return replace(
            row,
            place=np.insert(row.place, at, places),
            viscous=np.insert(row.viscous, [at, at], viscous, axis=1),
            guess=np.insert(row.guess, at, [x, x]),
        )

    def thin(self):
        """Keeps every ``KEPT``-th parcel of the face that is covered now; its length goes with the quadrature."""
        if len(self.row.cuts) <= FREE_FACES + 1:
            return
        row, j = self.row, len(self.row.cuts) - 2 - FREE_FACES
        first, last = np.searchsorted(row.place, row.cuts[j : j + 2])
        drop = np.arange(first + 1, last - 1)
        drop = drop[(drop - first) % max(1, (last - first) // KEPT) != 0]
        keep = np.setdiff1d(np.arange(len(row.place)), drop)
        thinner = replace(row, place=row.place[keep], viscous=row.viscous[:, keep], guess=row.guess[keep])
        nodes = Nodes(thinner, row.cuts, row.fed, thinner.viscous, self.path.viscous)
        thinner.lengths[j] = nodes.sums(np.exp(nodes.spread(thinner.guess, row.ends)))[j]
        self.row = thinner

    @staticmethod
    def cut_at(place, stretch, run, share):
        """Where the running length reaches ``share``; stretch is linear between parcels."""
        j = min(np.searchsorted(run, share) - 1, len(place) - 2)
        width, rise = place[j + 1] - place[j], stretch[j + 1] - stretch[j]
        rest = (share - run[j]) / width
        part = 2 * rest / (stretch[j] + np.sqrt(stretch[j] ** 2 + 2 * rise * rest))
        return place[j] + part * width

    # Results
    def hoop_tension(self):
        """Tension per height of each of FACES now (N/m): sum over the layers of force over width, mean by length."""
        row = self.row
        nodes = Nodes(row, row.cuts, row.fed, row.viscous, self.path.viscous)
        x = nodes.spread(row.guess, row.ends)
        slim = nodes.sums(np.exp(x) / self.film.width(x)) / nodes.sums(np.exp(x)) / self.case.film_width
        order = [FACES.index(face) for face in self.history.face]
        return dict(zip(FACES, np.bincount(order, (row.force * slim)[:-1], len(FACES))))

    def stretch_by_face(self):
        """Mean stretch of the film on each face laid, oldest first: length over length on the roll."""
        return self.row.lengths[:-1] / np.diff(self.row.cuts)
