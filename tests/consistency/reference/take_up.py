# SPDX-License-Identifier: BSD-3-Clause
"""Take-up geometry of a centred rectangle and a point outlet (formulas of convex geometry, Cauchy 1841, from memory).

In the frame of the load the outlet stands at ``(D cos phi, -D sin phi)`` after the load has turned by ``phi``.
"""

import numpy as np
from scipy.integrate import quad


def face_events(length, width, distance):
    """(angle rad, face) of the four events of a turn: the outlet reaches the plane of the face."""
    front = np.arccos(length / 2 / distance)  # the plane x = length/2
    right = np.pi - np.arcsin(width / 2 / distance)  # the plane y = -width/2
    return [(front, "front"), (right, "right"), (front + np.pi, "back"), (right + np.pi, "left")]


def free_span(length, width, distance, phi):
    """Distance from the outlet to the contact corner, m."""
    (front, _), (right, _), (back, _), (left, _) = face_events(length, width, distance)
    phi = np.mod(phi, 2 * np.pi)
    if phi < front or phi >= left:
        corner = (1, 1)
    elif phi < right:
        corner = (1, -1)
    elif phi < back:
        corner = (-1, -1)
    else:
        corner = (-1, 1)
    outlet = distance * np.array([np.cos(phi), -np.sin(phi)])
    return float(np.hypot(*(outlet - np.array(corner) * (length / 2, width / 2))))


def mean_span(length, width, distance):
    """Mean free span over one turn at constant speed, m."""
    cuts = [0.0] + [angle for angle, _ in face_events(length, width, distance)] + [2 * np.pi]
    pieces = [
        quad(lambda x: free_span(length, width, distance, x), a, b, epsabs=1e-12, epsrel=1e-12)[0]
        for a, b in zip(cuts[:-1], cuts[1:])
    ]
    return sum(pieces) / (2 * np.pi)
