# SPDX-License-Identifier: BSD-3-Clause
"""Pull test by strands: a round plate of radius R at mid-face pulls the film off a face by d at a constant rate.

``F_s = int_{-R}^{R} sum_i N_i [d/sqrt((a-c)^2+d^2) + d/sqrt((b-a-c)^2+d^2)] dz``, ``c = sqrt(R^2-z^2)``, path of a
strand ``sqrt((a-c)^2+d^2) + 2c + sqrt((b-a-c)^2+d^2)`` against b at rest; N_i through the film law while d grows at the
pull rate, every film element and strand integrated by itself. The load does not move during the pull.
"""

from __future__ import annotations

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import block_diag

from .stack import FACES


def strand_forces(stack, T, radius=0.075, distance=0.1, rate=0.1, nodes=12, rtol=1e-7):
    """Strand force per face (N) of a stack in its present state; radius, distance in m, rate in m/s."""
    u, _, _ = stack.equilibrium(stack.v, stack.eta, T)
    room = stack.length - u
    x0 = np.log(stack.reference * room[stack.axis] * stack.thermal(T))  # geometric, also of slack film
    b = stack.length[stack.axis]
    a = b / 2
    shape = stack.v.shape
    sparsity = block_diag([np.ones((shape[1], shape[1]))] * shape[0])
    total = np.zeros(len(x0))
    angle, weight = np.polynomial.legendre.leggauss(nodes)
    for theta, w in zip(angle * np.pi / 2, weight * np.pi / 2):
        if theta < 0:
            continue  # symmetric: counted twice below
        c = radius * np.cos(theta)

        def log_path(d):
            return np.log((np.hypot(a - c, d) + 2 * c + np.hypot(b - a - c, d)) / b)

        def rhs(t, y):
            v = y.reshape(shape)
            x, _, _ = stack.taut(x0 + log_path(rate * t), v, T)
            return stack.film.flow(np.exp(x), x[:, None] - v, stack.mode, T).ravel()

        end = solve_ivp(
            rhs, (0.0, distance / rate), stack.v.ravel(), method="Radau", rtol=rtol, atol=1e-10, jac_sparsity=sparsity
        )
        if not end.success:
            raise RuntimeError(end.message)
        _, P, _ = stack.taut(x0 + log_path(distance), end.y[:, -1].reshape(shape), T)
        outward = distance / np.hypot(a - c, distance) + distance / np.hypot(b - a - c, distance)
        total += (1 if theta == 0 else 2) * w * radius * np.cos(theta) * P * stack.to_tension * outward
    return {face: float(sum(n for n, f in zip(total, stack.face) if f == face)) for face in FACES}
