# SPDX-License-Identifier: BSD-3-Clause
"""Pull test on film as a sheet: a membrane that wrinkles instead of carrying compression.

Independent of the solver: plane triangles of linear-elastic film (Poisson's ratio 1/2) with finite displacements.
With the
principal stretches l1 >= l2 of a triangle against its natural state and e = l - 1, the energy per natural area is

    E/(2 (1 - nu^2)) (e1^2 + e2^2 + 2 nu e1 e2)   where both tensions pull (e2 > -nu e1),
    E/2 e1^2                                      where the film is wrinkled (e1 > 0),
    0                                             where it is slack.

It is convex in the deformation gradient, so there is one minimum; a damped Newton method finds it. The film is
stretched
along the face only (uniaxial pretension): its natural state is 1/(1 + e0) as long and 1 + nu e0 as high, e0 = 1/(K -
1),
K = EA/N = d ln N / d ln l. It is held at the corners, free above and below. A round plate pulls the film out by d at
mid-face; film on the plate lies on it and slides freely. A slit is a vertical cut.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_matrix, identity
from scipy.sparse.linalg import spsolve

NU = 0.5


def lines(low, high, fine_low, fine_high, fine, coarse):
    """Mesh lines: spacing ``fine`` between the fine limits, ``coarse`` outside."""
    parts = [
        np.linspace(a, b, max(1, round((b - a) / h)) + 1)
        for a, b, h in ((low, fine_low, coarse), (fine_low, fine_high, fine), (fine_high, high, coarse))
        if b > a
    ]
    return np.unique(np.round(np.concatenate(parts), 9))


class Sheet:
    """Film over a face; x along the face from mid-face, z upwards from the plate's centre. Lengths in m."""

    def __init__(self, K, face, radius, above, below, mesh, coarse=None, slit_at=None, slit_height=0.15):
        coarse = coarse or mesh
        reach = 2.4 * radius
        half = slit_at is None  # symmetric about mid-face
        xs = lines(
            0.0 if half else -face / 2,
            face / 2,
            0.0 if half else -min(reach, face / 2),
            min(reach, face / 2),
            mesh,
            coarse,
        )
        zs = lines(-below, above, -min(reach, below), min(reach, above), mesh, coarse)
        self.K, self.face, self.radius, self.half = K, face, radius, half
        nx, nz = len(xs), len(zs)
        x, z = np.meshgrid(xs, zs, indexing="ij")
        x, z = x.ravel(), z.ravel()
        node = np.arange(nx * nz).reshape(nx, nz)
        corners = [node[:-1, :-1], node[1:, :-1], node[1:, 1:], node[:-1, 1:]]
        corners = np.stack([c.ravel() for c in corners], axis=1)
        flip = (np.add.outer(np.arange(nx - 1), np.arange(nz - 1)) % 2).ravel().astype(bool)
        first = np.where(flip[:, None], corners[:, [0, 1, 3]], corners[:, [0, 1, 2]])
        second = np.where(flip[:, None], corners[:, [1, 2, 3]], corners[:, [0, 2, 3]])
        self.triangle = np.concatenate([first, second])
        if slit_at is not None:
            x, z = self.cut(x, z, slit_at, slit_height)
        self.x, self.z = x, z
        e0 = 1.0 / (K - 1.0)
        natural = np.stack([x / (1.0 + e0), z * (1.0 + NU * e0)], axis=1)[self.triangle]
        edges = np.stack([natural[:, 1] - natural[:, 0], natural[:, 2] - natural[:, 0]], axis=2)
        self.area = 0.5 * np.linalg.det(edges)
        inverse = np.linalg.inv(edges)  # rows: gradients of the two barycentric coordinates
        self.gradient = np.concatenate([-inverse.sum(axis=1, keepdims=True), inverse], axis=1)  # (triangle, node, 2)
        self.tension = e0 * (1.0 + NU * e0)  # per height at rest, with E = 1
        free = np.ones((len(x), 3), bool)  # x, z, outwards
        free[np.isclose(np.abs(x), face / 2)] = False
        self.on_plate = np.hypot(x, z) <= radius * (1 + 1e-9)
        free[self.on_plate, 2] = False
        if half:
            free[np.isclose(x, 0.0), 0] = False
        self.free = free.ravel()

    def cut(self, x, z, at, height):
        """Doubles the nodes of the slit (its tips stay whole) for the triangles beyond it."""
        column = x[np.argmin(np.abs(x - at))]
        open_nodes = np.flatnonzero(np.isclose(x, column) & (np.abs(z) < 0.5 * height - 1e-9))
        twin = np.arange(len(x))
        twin[open_nodes] = len(x) + np.arange(len(open_nodes))
        beyond = x[self.triangle].mean(axis=1) > column
        self.triangle[beyond] = twin[self.triangle[beyond]]
        return np.append(x, x[open_nodes]), np.append(z, z[open_nodes])

    def deformed(self, position):
        F = np.einsum("tai,tag->tig", position[self.triangle], self.gradient)
        C = np.einsum("tig,tih->tgh", F, F)
        value, vector = np.linalg.eigh(C)
        stretch = np.sqrt(np.maximum(value[:, ::-1], 1e-12))  # l1 >= l2
        return F, stretch, vector[:, :, ::-1]

    @staticmethod
    def energy_of(stretch):
        e1, e2 = stretch[:, 0] - 1.0, stretch[:, 1] - 1.0
        taut, wrinkled = e2 > -NU * e1, e1 > 0
        both = 0.5 / (1 - NU**2) * (e1**2 + e2**2 + 2 * NU * e1 * e2)
        return np.where(taut & wrinkled, both, np.where(wrinkled, 0.5 * e1**2, 0.0)), e1, e2, taut & wrinkled, wrinkled

    def energy(self, position):
        return self.area @ self.energy_of(self.deformed(position)[1])[0]

    def derivatives(self, position):
        F, stretch, N = self.deformed(position)
        _, e1, e2, taut, wrinkled = self.energy_of(stretch)
        c = 1.0 / (1 - NU**2)
        W1 = np.where(taut, c * (e1 + NU * e2), np.where(wrinkled, e1, 0.0))
        W2 = np.where(taut, c * (e2 + NU * e1), 0.0)
        W11, W22 = np.where(taut, c, np.where(wrinkled, 1.0, 0.0)), np.where(taut, c, 0.0)
        W12 = np.where(taut, c * NU, 0.0)
        l1, l2 = stretch[:, 0], stretch[:, 1]
        u = np.einsum("tig,tgj->tij", F, N) / stretch[:, None, :]
        normal = np.cross(u[:, :, 0], u[:, :, 1])
        frame = np.concatenate([u, normal[:, :, None]], axis=2)  # (triangle, i, direction)
        g = np.einsum("tag,tgj->taj", self.gradient, N)  # gradients along the principal directions
        force = (
            W1[:, None, None] * u[:, None, :, 0] * g[:, :, None, 0]
            + W2[:, None, None] * u[:, None, :, 1] * g[:, :, None, 1]
        )
        residual = np.zeros_like(position)
        np.add.at(residual, self.triangle, self.area[:, None, None] * force)
        # Second derivative in the principal frame: flip, twist and out-of-plane stiffness.
        gap = np.maximum(l1 - l2, 1e-9)
        flip = np.where(l1 - l2 > 1e-9, (W1 - W2) / gap, W11 - W12)
        twist = (W1 + W2) / (l1 + l2)
        same, cross = 0.5 * (flip + twist), 0.5 * (flip - twist)
        H = np.zeros((len(l1), 3, 3, 3, 3))  # (triangle; node a, dir i; node b, dir j) in the frame
        a, b = g[:, :, 0], g[:, :, 1]
        aa, bb = np.einsum("ta,tb->tab", a, a), np.einsum("ta,tb->tab", b, b)
        ab = np.einsum("ta,tb->tab", a, b)
        s = lambda v: v[:, None, None]
        H[:, :, 0, :, 0] = s(W11) * aa + s(same) * bb
        H[:, :, 1, :, 1] = s(W22) * bb + s(same) * aa
        H[:, :, 0, :, 1] = s(W12) * ab + s(cross) * ab.transpose(0, 2, 1)
        H[:, :, 1, :, 0] = s(W12) * ab.transpose(0, 2, 1) + s(cross) * ab
        H[:, :, 2, :, 2] = s(W1 / l1) * aa + s(W2 / l2) * bb
        H = np.einsum("tip,tapbq,tjq->taibj", frame, H, frame, optimize=True) * self.area[:, None, None, None, None]
        dof = (3 * self.triangle[:, :, None] + np.arange(3)).reshape(len(l1), 9)
        rows, columns = np.repeat(dof, 9, axis=1).ravel(), np.tile(dof, (1, 9)).ravel()
        matrix = coo_matrix((H.reshape(-1), (rows, columns)), shape=(position.size, position.size)).tocsr()
        return residual, matrix

    def pull(self, distance, tolerance=2e-4, most=200):
        """Force on the plate over N, in m (N = tension per height at rest)."""
        reach = np.maximum(1e-9, self.face / 2 - self.radius)
        tent = np.clip(1.0 - (np.hypot(self.x, self.z) - self.radius) / reach, 0.0, 1.0)
        out = np.where(self.on_plate, distance, distance * tent)
        out[np.isclose(np.abs(self.x), self.face / 2)] = 0.0
        position = np.stack([self.x, self.z, out], axis=1)
        free, damping = self.free, 1e-3
        energy = self.energy(position)
        for _ in range(most):
            residual, matrix = self.derivatives(position)
            force = residual[self.on_plate, 2].sum()
            miss = residual.ravel()[free]
            if np.linalg.norm(miss) < tolerance * abs(force):
                return (2.0 if self.half else 1.0) * force / self.tension
            inner = matrix[free][:, free]
            scale = inner.diagonal().max()
            step = np.zeros(position.size)
            while True:
                step[free] = -spsolve((inner + damping * scale * identity(inner.shape[0])).tocsc(), miss)
                trial = position + step.reshape(position.shape)
                new = self.energy(trial)
                if new < energy + 1e-4 * (miss @ step[free]):
                    break
                damping *= 8.0
            position, energy, damping = trial, new, max(damping / 8.0, 1e-9)
        raise RuntimeError("the sheet does not settle")

    def strands(self, distance, points=200):
        """The strand sum of the same film, over N: every strand of the plate's height by itself."""
        angle, weight = np.polynomial.legendre.leggauss(points)
        z = self.radius * np.sin(angle * np.pi / 2)
        c = np.sqrt(self.radius**2 - z**2)
        slope = np.hypot(self.face / 2 - c, distance)
        stretch = (2 * slope + 2 * c) / self.face
        e0 = 1.0 / (self.K - 1.0)
        tension = ((1.0 + e0) * stretch - 1.0) / e0
        return np.sum(weight * np.pi / 2 * self.radius * np.cos(angle * np.pi / 2) * tension * 2 * distance / slope)

    def tent_factor(self, distance):
        return self.pull(distance) / self.strands(distance)
