# SPDX-License-Identifier: BSD-3-Clause
"""Forces in a row of film pieces that cross corners: lengths, friction at the corners and the closing of the load.

The film is a material line ``X`` (length on the roll, oldest first) on which the viscous strains ``v_k = x - e_k`` are
known; they alone remember. Segments (faces, and the span last) are stretches of that line between boundaries; each
has one force ``T`` and a length it must fill: ``int exp(x(T, v)) dX = length``. Trapezium rule between parcels.
"""

from dataclasses import dataclass, replace

import numpy as np


@dataclass
class Row:
    """Parcels of the whole film and where the corners cut them.

    ``place`` (n) m on the roll, ``viscous`` (branches, n), ``guess`` (n) last known ln stretch; ``cuts`` (segments)
    the material place of each segment's older end; ``lengths`` (segments) m, the last is the span's.
    """

    place: np.ndarray
    viscous: np.ndarray
    guess: np.ndarray
    cuts: np.ndarray
    lengths: np.ndarray
    fed: float
    force: np.ndarray
    ends: np.ndarray  # (2, segments) ln stretch at the first and last node of each segment, a guess
    sliding: np.ndarray  # per inner cut: 0 held, +1 towards older film, -1 towards newer film
    slack: np.ndarray  # per segment


class Nodes:
    """Quadrature nodes of all segments for given cuts; a cut is a node of both its segments."""

    def __init__(self, row, cuts, fed, viscous, exit_viscous):
        place = np.append(row.place, fed)
        viscous = np.column_stack([viscous, exit_viscous])
        ends = np.append(cuts, fed)
        after = np.searchsorted(place, ends)  # first parcel at or behind each end
        after[0], after[-1] = max(after[0], 1), len(place) - 1
        share = (ends - place[after - 1]) / (place[after] - place[after - 1])
        at_end = viscous[:, after - 1] * (1 - share) + viscous[:, after] * share
        sizes = np.diff(after) + 2
        self.segment = np.repeat(np.arange(len(cuts)), sizes)
        self.last = np.cumsum(sizes) - 1
        self.starts = self.last - sizes + 1
        inside = np.ones(len(self.segment), bool)
        inside[self.starts] = inside[self.last] = False
        self.inside = np.flatnonzero(inside)
        self.parcels = np.arange(after[0], after[-1])  # those at ``inside``, in this order
        pos = np.empty(len(self.segment))
        self.viscous = np.empty((len(viscous), len(pos)))
        pos[self.inside], self.viscous[:, self.inside] = place[self.parcels], viscous[:, self.parcels]
        for nodes, which in ((self.starts, slice(None, -1)), (self.last, slice(1, None))):
            pos[nodes], self.viscous[:, nodes] = ends[which], at_end[:, which]
        self.place = pos
        half = np.diff(pos) / 2  # nought between the two nodes of a cut
        self.weight = np.zeros(len(pos))
        self.weight[:-1] += half
        self.weight[1:] += half

    def sums(self, values):
        return np.add.reduceat(self.weight * values, self.starts)

    def spread(self, guess, ends):
        """Node values from those of the parcels and of the (first, last) nodes of the segments."""
        x = np.empty(len(self.segment))
        x[self.inside], x[self.starts], x[self.last] = guess[self.parcels], ends[0], ends[1]
        return x


@dataclass
class Feed:
    """Film fed by the end of a step: ``fed + by_force (T - force)``, or what keeps the span at ``force``."""

    fed: float
    by_force: float = 0.0  # m/N
    force: float = 0.0  # N
    at_force: bool = False


class Solver:
    """Finds forces and slips of a row of parcels at the end of a step; see ``solve``."""

    def __init__(self, film, section, exit_viscous):
        self.film, self.section, self.exit_viscous = film, section, exit_viscous

    def solve(self, row, time, feed, span_length, friction):
        """``row`` a step of ``time`` later.

        Unknown are ``T`` of each segment, the place of each cut that slides and the length fed. A cut slides only
        while ``T_a = exp(mu beta) T_b`` and only towards ``a``; it is held while the ratio is less (``friction`` = mu
        beta per inner cut, inf = held for good): the minimum of ``sum phi_f + sum mu_c beta_c |delta_c|``. Film too
        long for its path is slack at T = 0.
        """
        lengths = np.append(row.lengths[:-1], span_length)
        even = friction <= 0
        sliding = np.where(even, 1, np.where(np.isinf(friction), 0, row.sliding))  # covered film is held from now on
        now = replace(row, sliding=sliding, slack=row.slack.copy(), lengths=lengths)
        for _ in range(60):
            held = now.sliding == 0
            now = replace(now, cuts=np.append(row.cuts[0], np.where(held, row.cuts[1:], now.cuts[1:])))
            now, filled = self.newton(row, now, time, feed, friction)
            if not self.changed(row, now, friction, even, filled):
                return now
        raise ArithmeticError("corner slip: no set of sliding corners found")

    def changed(self, row, now, friction, even, filled):
        """Moves corners and segments of ``now`` between held and sliding, taut and slack; True if one moved."""
        older, newer = np.maximum(now.force[:-1], 0), np.maximum(now.force[1:], 0)
        tiny = 1e-9 * max(np.abs(now.force).max(), 1e-3)
        ratio = np.exp(np.minimum(friction, 700))
        slip = (now.cuts[1:] - row.cuts[1:]) * now.sliding
        back = (now.sliding != 0) & (slip < -1e-13) & ~even
        free = np.isfinite(friction) & (now.sliding == 0)
        to_older, to_newer = free & (older > newer * ratio + tiny), free & (newer > older * ratio + tiny)
        if to_older.any() or to_newer.any() or back.any():
            now.sliding[back] = 0
            now.sliding[to_older], now.sliding[to_newer] = 1, -1
            return True
        taut, loose = now.slack & (filled < now.lengths * (1 - 1e-12)), ~now.slack & (now.force < -tiny)
        now.slack[taut], now.slack[loose] = False, True
        return taut.any() or loose.any()

    def newton(self, before, now, time, feed, friction):
        """(row, lengths filled) at the end of the step for given sets of sliding cuts and slack segments."""
        count, active = len(now.cuts), np.flatnonzero(now.sliding)
        tension, cuts, fed = now.force.copy(), now.cuts.copy(), feed.fed if not feed.at_force else now.fed
        guess, ends, viscous = now.guess.copy(), now.ends, before.viscous.copy()
        tension[now.slack] = 0
        if feed.at_force:
            tension[-1] = feed.force
        for _ in range(100):
            if not feed.at_force:
                fed = feed.fed + feed.by_force * (tension[-1] - feed.force)
            nodes = Nodes(before, cuts, fed, before.viscous, self.exit_viscous)
            x = nodes.spread(guess, ends)
            stress, slope, flowed = self.trial(before, nodes, tension, x, time)
            stretch = np.exp(x)
            held = tension[nodes.segment] / self.section * stretch
            stiff = slope - held
            off = (held - stress) / stiff
            matrix = np.zeros((count + len(active),) * 2)
            right = np.zeros(len(matrix))
            matrix[range(count), range(count)] = nodes.sums(stretch * stretch / stiff) / self.section
            right[:count] = now.lengths - nodes.sums(stretch * (1 + off))
            self.add_sliding(matrix, right, active, nodes, stretch, friction, now.sliding, tension)
            entering = (stretch[-1] + stretch[-2]) / 2
            matrix[count - 1, count - 1] += entering * feed.by_force
            for j in np.flatnonzero(now.slack):
                matrix[j, :], right[j] = 0, 0
                matrix[j, j] = 1
            if feed.at_force:  # unknown is the length fed, not the force
                matrix[:, count - 1] = 0
                matrix[count - 1, count - 1] = entering
            change = np.linalg.solve(matrix, right)
            raised, moved = change[:count].copy(), change[count:]
            cuts[1:][active] += moved
            if feed.at_force:
                fed, raised[-1], moved = fed + change[count - 1], 0, change[count - 1 :]
            x += off + stretch * raised[nodes.segment] / self.section / stiff
            tension += raised
            guess[nodes.parcels], ends = x[nodes.inside], np.array([x[nodes.starts], x[nodes.last]])
            if max(np.abs(raised).max() * 1e-3, np.abs(moved).max(initial=0), np.abs(off).max()) < 1e-11:
                viscous[:, nodes.parcels] = flowed[:, nodes.inside]
                state = replace(now, viscous=viscous, force=tension, cuts=cuts, fed=fed, guess=guess, ends=ends)
                return state, nodes.sums(np.exp(x))
        raise ArithmeticError("row of parcels: forces not found")

    def trial(self, before, nodes, tension, x, time):
        """Stress, slope and viscous strains of all nodes; film at the exit of roller 2 has no time to flow."""
        if time == 0:
            return self.film.step(x, nodes.viscous, x, 0)
        start = nodes.spread(before.guess, before.ends)
        cut = np.concatenate([nodes.starts, nodes.last])
        pressure = before.force[nodes.segment[cut]] / self.section
        start[cut] = self.film.stretch_at(pressure, nodes.viscous[:, cut], start[cut])
        stress, slope, viscous = self.film.step(start, nodes.viscous, x, time)
        fresh = slice(len(x) - 1, None)
        stress[fresh], slope[fresh], viscous[:, fresh] = self.film.step(x[fresh], nodes.viscous[:, fresh], x[fresh], 0)
        return stress, slope, viscous

    def add_sliding(self, matrix, right, active, nodes, stretch, friction, sliding, tension):
        """Unknown places of sliding cuts: film leaves one segment for the other; ``T_a - exp(mu beta) T_b = 0``."""
        count = len(tension)
        for a, c in enumerate(active):
            matrix[c, count + a] = stretch[nodes.last[c]]
            matrix[c + 1, count + a] = -stretch[nodes.starts[c + 1]]
            grip = np.exp(friction[c])
            high, low = (c, c + 1) if sliding[c] > 0 else (c + 1, c)
            matrix[count + a, high], matrix[count + a, low] = 1, -grip
            right[count + a] = grip * tension[low] - tension[high]
