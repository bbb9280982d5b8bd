# SPDX-License-Identifier: BSD-3-Clause
"""A tube of film round two blocks, one on the other; the upper one is pushed along by s.

Half of the tube (mirrored in the plane of motion): triangles of the no-compression film of ``membrane``, stretched
along the hoop only at rest. Corners are rounded. Nodes above the slip plane touch the upper block, nodes below it the
lower one; the elements between the two rows next to the plane span the step. Contact is one-sided, by a penalty that
gives some 0.05 mm at a corner. Friction on the goods is Coulomb's with a stiff elastic start: a node hangs on an anchor
that its block carries along and that follows when the pull exceeds ``mu_c`` times the pressing force. One increment of
s is the minimum of one convex energy at given pressing forces, which are then found again until they stay.
"""

import numpy as np
from membrane import NU, Sheet
from scipy.sparse import coo_matrix, identity
from scipy.sparse.linalg import spsolve

CONTACT = 5e6  # N/m per m of film height at a node


def graded(length, fine, growth, coarse):
    """Steps from ``fine`` by ``growth`` to ``coarse`` that add up to ``length``; places without the first."""
    steps = [fine]
    while sum(steps) < length:
        steps.append(min(steps[-1] * growth, coarse))
    return np.cumsum(np.array(steps) * length / sum(steps))


class Tube(Sheet):
    """Film of hoop tension N, N/m; blocks b along the motion and w across; film above and below the plane, m.

    ``ratio`` = EA/N with EA the film's stiffness to its own natural length: it is stretched by N/EA, and its tangent
    d ln N / d ln l is ``ratio + 1``. ``held``: edges that go with their block, "above" or "below"; the others are free.
    """

    def __init__(
        self,
        b=1.2,
        w=1.0,
        above=0.8,
        below=0.8,
        tension=600.0,
        ratio=11.0,
        friction=0.3,
        radius=0.02,
        held=(),
        mesh=0.01,
        coarse=0.12,
    ):
        self.size, self.radius, self.friction = np.array([b, w]) / 2, radius, friction
        ring = self.ring(mesh, coarse)
        rows = lambda reach: mesh / 2 + np.append(0.0, graded(reach - mesh / 2, mesh, 1.35, coarse))
        z = np.concatenate([-rows(below)[::-1], rows(above)])
        nx, nz = len(ring), len(z)
        node = np.arange(nx * nz).reshape(nx, nz)
        corners = np.stack([c.ravel() for c in (node[:-1, :-1], node[1:, :-1], node[1:, 1:], node[:-1, 1:])], axis=1)
        flip = (np.add.outer(np.arange(nx - 1), np.arange(nz - 1)) % 2).ravel().astype(bool)[:, None]
        first = np.where(flip, corners[:, [0, 1, 3]], corners[:, [0, 1, 2]])
        second = np.where(flip, corners[:, [1, 2, 3]], corners[:, [0, 2, 3]])
        self.triangle = np.concatenate([first, second])
        along = np.append(0.0, np.cumsum(np.hypot(*np.diff(ring, axis=0).T)))
        e0 = 1.0 / ratio
        natural = np.stack([np.repeat(along, nz) / (1 + e0), np.tile(z, nx) / (1 - NU * e0)], axis=1)[self.triangle]
        edges = np.stack([natural[:, 1] - natural[:, 0], natural[:, 2] - natural[:, 0]], axis=2)
        self.area = 0.5 * np.linalg.det(edges) * tension * (1 - NU * e0) / e0  # N m: modulus and thickness with it
        inverse = np.linalg.inv(edges)
        self.gradient = np.concatenate([-inverse.sum(axis=1, keepdims=True), inverse], axis=1)
        self.position = np.column_stack([np.repeat(ring, nz, axis=0), np.tile(z, nx)])
        self.upper = self.position[:, 2] > 0
        self.stiffness = CONTACT * np.tile(np.gradient(z), nx)
        free = np.ones((nx * nz, 3), bool)
        free[node[[0, -1]].ravel(), 1] = False  # mid-face, in the mirror
        for edge in held:
            free[node[:, 0 if edge == "below" else -1]] = False
        self.free, self.inside = free.ravel(), free.all(axis=1)
        self.pose(0.0, 0.0)
        edge = np.diff(ring, axis=0) / np.hypot(*np.diff(ring, axis=0).T)[:, None]
        turned = np.append(
            np.append(0.0, np.hypot(*np.diff(edge, axis=0).T)), 0.0
        )  # 2 sin(half the angle) at each place
        self.pressed = tension * np.outer(turned, np.gradient(z)).ravel()
        self.position -= self.gap(self.position)[1] * (self.pressed / self.stiffness)[:, None]
        self.anchor = self.position.copy()
        if np.any(self.area <= 0):
            raise ValueError("the mesh is folded")

    def ring(self, mesh, coarse):
        """Places of the half tube at rest from mid-front round both corners to mid-rear."""
        flat = self.size - self.radius
        face = np.append(0.0, graded(flat[1], mesh, 1.6, coarse))  # from a corner
        side = np.append(0.0, graded(flat[0], mesh, 1.35, coarse))
        turn = np.linspace(0, np.pi / 2, max(2, round(3 * self.radius / 0.02)) + 1)
        put = lambda x, y: np.column_stack(np.broadcast_arrays(x, y))
        quarter = np.concatenate(
            [
                put(self.size[0], (flat[1] - face)[::-1]),
                (flat + self.radius * put(np.cos(turn), np.sin(turn)))[1:],
                put(flat[0] - side, self.size[1])[1:],
            ]
        )
        return np.concatenate([quarter, (quarter * [-1, 1])[-2::-1]])

    def pose(self, shift, angle):
        """Where the upper block is: pushed, and turned about its lower front edge so that the rear lifts."""
        c, s = np.cos(angle), np.sin(angle)
        turn = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])  # rear (x < 0) goes up
        edge = np.array([self.size[0], 0.0, 0.0])
        self.turn, self.move = turn, edge - turn @ edge + np.array([shift, 0.0, 0.0])

    def place(self, position):
        """Position in the frame of the block a node touches."""
        return np.where(self.upper[:, None], (position - self.move) @ self.turn, position)

    def from_frame(self, way):
        """Vectors of the blocks' frames as they stand in space."""
        return np.where(self.upper[:, None], way @ self.turn.T, way)

    def gap(self, position):
        """Signed distance to the block and its outward normal in the block's frame."""
        own = self.place(position)[:, :2]
        beyond = np.abs(own) - (self.size - self.radius)
        outside = np.maximum(beyond, 0.0)
        distance = np.hypot(*outside.T)
        inner = np.where(distance > 0, 0.0, np.max(beyond, axis=1))
        flat = np.eye(2)[np.argmax(beyond, axis=1)]
        normal = np.where(distance[:, None] > 0, outside / np.maximum(distance, 1e-12)[:, None], flat) * np.where(
            own < 0, -1, 1
        )
        return distance + inner - self.radius, np.column_stack([normal, np.zeros(len(own))])

    def drag(self, position):
        """Way along the block's surface from the anchor, m, and the greatest friction force, N."""
        way = self.place(position) - self.anchor
        way -= np.sum(way * self.normal, axis=1)[:, None] * self.normal
        return way, self.friction * self.pressed

    def whole_energy(self, position):
        gap = self.gap(position)[0]
        way, most = self.drag(position)
        length = np.sqrt(np.sum(way**2, axis=1))
        held = self.stiffness * length <= most
        rub = np.where(held, self.stiffness * length**2 / 2, most * length - most**2 / (2 * self.stiffness))
        return self.energy(position) + np.sum(self.stiffness * np.minimum(gap, 0) ** 2) / 2 + np.sum(rub)

    def contact_terms(self, position):
        """Forces on the nodes (as gradient) and 3 x 3 stiffness of contact and friction."""
        gap, normal = self.gap(position)
        into = np.minimum(gap, 0.0)
        force = (self.stiffness * into)[:, None] * normal
        outer = lambda v: v[:, :, None] * v[:, None, :]
        block = np.where(gap < 0, self.stiffness, 0.0)[:, None, None] * outer(normal)
        way, most = self.drag(position)
        length = np.maximum(np.sqrt(np.sum(way**2, axis=1)), 1e-15)
        held = self.stiffness * length <= most
        pull = np.where(held, self.stiffness, most / length)
        surface = np.eye(3) - outer(self.normal)
        slide = np.where(held, 0.0, pull)[:, None, None] * outer(way / length[:, None])
        block += pull[:, None, None] * surface - slide
        block[self.upper] = self.turn @ block[self.upper] @ self.turn.T
        return self.from_frame(force + pull[:, None] * way), block

    def newton(self, position, tolerance, most=60):
        energy, damping = self.whole_energy(position), 1e-9
        count = len(position)
        index = 3 * np.arange(count)[:, None, None]
        rows = np.broadcast_to(index + np.arange(3)[:, None], (count, 3, 3)).ravel()
        columns = np.broadcast_to(index + np.arange(3)[None, :], (count, 3, 3)).ravel()
        for _ in range(most):
            residual, matrix = self.derivatives(position)
            force, block = self.contact_terms(position)
            miss = (residual + force).ravel()[self.free]
            if np.abs(miss).max() < tolerance:
                return position
            whole = (matrix + coo_matrix((block.ravel(), (rows, columns)), shape=matrix.shape)).tocsr()
            inner = whole[self.free][:, self.free]
            step = np.zeros(position.size)
            while True:
                shifted = inner + damping * CONTACT * identity(inner.shape[0])
                step[self.free] = -spsolve(shifted.tocsc(), miss)
                part = 1.0
                while part > 0.2:
                    trial = position + part * step.reshape(position.shape)
                    new = self.whole_energy(trial)
                    if new < energy + 1e-4 * part * (miss @ step[self.free]) + 1e-13 * abs(energy):
                        break
                    part /= 2
                if part > 0.2 or damping > 1e3:
                    break
                damping = max(8 * damping, 1e-7)
            position, energy, damping = trial, new, max(damping / 8, 1e-9)
        self.unsettled = np.abs(miss).max()
        return position

    def push(self, shift, angle=0.0, tolerance=0.01, rounds=12):
        """The upper block at ``shift``; (force along, force across the plane) of the whole tube, N."""
        upper = self.place(self.position)[self.upper]
        self.pose(shift, angle)
        position, self.unsettled = self.position.copy(), 0.0
        position[self.upper] = upper @ self.turn.T + self.move
        self.normal = self.gap(position)[1]
        for self.rounds in range(1, rounds + 1):
            position = self.newton(position, tolerance)
            gap, self.normal = self.gap(position)
            pressed = self.stiffness * np.maximum(-gap, 0.0)
            change = np.abs(pressed - self.pressed).sum() / pressed.sum()
            self.pressed = pressed if self.rounds < 4 else (pressed + self.pressed) / 2
            if change < 2e-3:
                break
        self.position = position
        way, most = self.drag(position)
        length = np.maximum(np.sqrt(np.sum(way**2, axis=1)), 1e-15)
        self.anchor = self.anchor + way * np.maximum(1 - most / (self.stiffness * length), 0.0)[:, None]
        self.anchor += np.sum((self.place(position) - self.anchor) * self.normal, axis=1)[:, None] * self.normal
        force = 2 * self.derivatives(position)[0][self.upper].sum(axis=0)
        return force[0], force[2]

    def lift(self, height):
        """Couple about the lower front edge, N m, that lifts the rear edge of the upper block by ``height``."""
        self.push(0.0, height / (2 * self.size[0]))
        force = 2 * self.derivatives(self.position)[0][self.upper]
        arm = self.position[self.upper] - np.array([self.size[0], 0.0, 0.0])
        return np.sum(arm[:, 2] * force[:, 0] - arm[:, 0] * force[:, 2])
