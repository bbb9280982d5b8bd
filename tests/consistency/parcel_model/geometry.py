# SPDX-License-Identifier: BSD-3-Clause
"""The line from the outlet to a turning rectangle with rounded corners, from above.

The load turns counter-clockwise about the axis; seen from the load the outlet circles clockwise. Film lies tangent
on a corner's arc until it is flush with the next face, so faces are laid in the order front, right, back, left.
"""

import numpy as np

FACES = ("front", "right", "back", "left")
SIGNS = np.array([[1, 1], [1, -1], [-1, -1], [-1, 1]])  # corner that film leaves before each of FACES
NORMALS = np.array([0.0, -np.pi / 2, -np.pi, -3 * np.pi / 2])  # direction each of FACES looks in


class Geometry:
    """Path lengths by the angle ``theta`` the load has turned (0: front looks at the axis of the outlet)."""

    def __init__(self, case):
        self.radius = case.corner_radius
        half = np.array([case.length, case.width]) / 2 - self.radius
        self.centres = SIGNS * half + [case.axis_offset, 0]
        self.outlet = np.array([case.distance, case.offset])
        self.flats = np.array([case.width, case.length, case.width, case.length]) - 2 * self.radius
        self.faces = self.flats + np.pi / 2 * self.radius  # face and the arc it begins with
        self.perimeter = self.faces.sum()

    def tangent(self, theta, corner):
        """(free span, direction of the corner's normal where film touches) for contact on ``corner`` (0 to 3)."""
        turn = np.array([[np.cos(theta), np.sin(theta)], [-np.sin(theta), np.cos(theta)]])
        away = turn @ self.outlet - self.centres[corner]
        far = np.hypot(*away)
        return np.sqrt(far**2 - self.radius**2), np.arctan2(away[1], away[0]) + np.arccos(self.radius / far)

    def wrapped(self, theta, event):
        """(arc angle wrapped since face ``event - 1`` was laid, free span); face ``event`` comes next.

        The angle falls from the normal of the face before to that of the face to come: 0 to pi/2.
        """
        span, normal = self.tangent(theta, event % 4)
        before = NORMALS[event % 4] + np.pi / 2
        angle = before - normal
        return (angle + np.pi) % (2 * np.pi) - np.pi, span

    def event_angle(self, event):
        """``theta`` at which face ``event`` (counted from 0) comes flush: the outlet lies in the face's plane.

        The outlet, ``rho`` from the axis, meets the plane ``n.x = h`` at ``rho cos(angle to n) = h``.
        """
        rho, start = np.hypot(*self.outlet), np.arctan2(self.outlet[1], self.outlet[0])
        index, normal = event % 4, NORMALS[event % 4]
        reach = (self.centres[index] @ [np.cos(normal), np.sin(normal)]) + self.radius
        return start - normal + np.arccos(reach / rho) + 2 * np.pi * (event // 4)

    def first_event(self):
        """The first event at an angle above 0."""
        event = -8
        while self.event_angle(event) <= 0:
            event += 1
        return event

    def mean_span(self):
        """Mean of the free span over the angle of one turn (Gauss points between events)."""
        nodes, weights = np.polynomial.legendre.leggauss(40)
        total = 0.0
        for event in range(4):
            low, high = self.event_angle(event - 1), self.event_angle(event)
            angles = (low + high) / 2 + (high - low) / 2 * nodes
            total += sum(w * self.wrapped(a, event)[1] for a, w in zip(angles, weights)) * (high - low) / 2
        return total / (2 * np.pi)
