# SPDX-License-Identifier: BSD-3-Clause
"""Inertial accelerations of the load, m/s2, as functions of time with the times at which they have a kink; and the
acceleration normal to the deck, gravity unless the road shakes it."""

from dataclasses import dataclass, field, replace
from typing import Callable

import numpy as np

GN = 9.80665  # m/s2


@dataclass(frozen=True)
class Pulse:
    value: Callable[[float], float]
    kinks: tuple = field(default=())
    normal: Callable[[float], float] = lambda t: GN

    def __call__(self, time):
        return self.value(time)


def trapezoid(height, rise, hold, fall):
    """``height`` reached after ``rise``, kept for ``hold``, gone after ``fall``, s."""
    times = np.cumsum([0.0, rise, hold, fall])
    return Pulse(lambda t: float(np.interp(t, times, [0.0, height, height, 0.0])), tuple(times))


def half_sine(height, duration):
    return Pulse(lambda t: height * np.sin(np.pi * t / duration) if 0 <= t <= duration else 0.0, (0.0, duration))


def rectangle(height, duration):
    return Pulse(lambda t: height if 0 <= t < duration else 0.0, (0.0, duration))


def sudden(height):
    return Pulse(lambda t: height)


def ramp(slope):
    return Pulse(lambda t: slope * t)


def shaken(pulse, share, frequency, lasting):
    """The same while the deck shakes: ``g_n = g (1 + share sin(2 pi f t))`` for ``lasting``, s, whole periods."""
    wave = lambda t: 1 + share * np.sin(2 * np.pi * frequency * t) if 0 <= t <= lasting else 1.0
    return replace(pulse, kinks=(*pulse.kinks, lasting), normal=lambda t: GN * wave(t))
