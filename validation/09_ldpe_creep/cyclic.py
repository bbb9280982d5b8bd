# SPDX-License-Identifier: BSD-3-Clause
"""The cyclic test: film sent along the measured strain by the Python package, and harmonics of what comes back."""

import cmath
import math
import pathlib

import numpy as np

import common

PERIOD = 20.0  # s, 0.05 Hz
CYCLES_BEFORE = 5  # the measured first cycle, repeated, so that the answer is steady when it is read


def measured():
    """Times (s), strain and stress (MPa), two cycles."""
    data = common.read_columns(pathlib.Path(__file__).resolve().parent / "cyclic.csv")
    return tuple(np.array(data[name]) for name in ("time_s", "strain", "stress_MPa"))


def harmonics(time, values):
    """First and third harmonic as complex amplitudes, by least squares with a constant."""
    w = 2.0 * math.pi / PERIOD * np.asarray(time)
    waves = np.column_stack([np.cos(w), np.sin(w), np.cos(3 * w), np.sin(3 * w), np.ones_like(w)])
    a = np.linalg.lstsq(waves, np.asarray(values), rcond=None)[0]
    return complex(a[0], -a[1]), complex(a[2], -a[3])


class Answer:
    """Complex modulus of a stress (MPa) that goes with the measured strain, and its third harmonic."""

    def __init__(self, time, strain, stress):
        first, third = harmonics(time, stress)
        modulus = first / harmonics(time, strain)[0]
        self.size, self.storage, self.loss = abs(modulus), modulus.real, modulus.imag
        self.phase = math.degrees(cmath.phase(modulus))
        self.third = 100.0 * abs(third) / abs(first)  # percent of the first


def measured_answer():
    return Answer(*measured())


def predicted_answer(film):
    """What the film law answers to the measured strain, width free, after steady cycles."""
    time, strain, _ = measured()
    cycle = time < PERIOD
    times = np.concatenate([time[cycle] + PERIOD * k for k in range(CYCLES_BEFORE)] + [time + PERIOD * CYCLES_BEFORE])
    strains = np.concatenate([strain[cycle]] * CYCLES_BEFORE + [strain])
    return Answer(time, strain, 1e-6 * film.follow(times, strains)[-len(time) :])
