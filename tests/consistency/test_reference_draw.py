# SPDX-License-Identifier: BSD-3-Clause
"""Self-test of the reference film path and take-up geometry."""

import numpy as np
import pytest

from reference import draw as D
from reference import film as F
from reference import stack as S
from reference import take_up


def test_newtonian_thread():
    """A linear dashpot without network draws as ``v1 r^(x/d)``; force = viscosity x section x v1 ln r / d."""
    E, r, Y = 1e12, 1e4, 1e10  # |y| stays small: stress = Y rate / r
    newtonian = F.single_branch(E, r, Y)
    drawn = D.draw(newtonian, 0.5, 3.0, 0.05, 0.3, 296.15, rtol=1e-9)
    assert drawn.nominal == pytest.approx(Y / r * 0.3 * np.log(3.0) / 0.05, rel=1e-4)
    assert drawn.stretch == pytest.approx(3.0 ** (drawn.position / 0.05), rel=1e-4)


@pytest.mark.parametrize("n", [0.5, 0.0])
def test_heat_is_the_work_not_stored(n):
    """Energy from just after the inlet jump: P1 (r - l_in) = rise of the branches' elastic energy + heat."""
    film = F.Film(
        E=np.array([53.2e6, 156.3e6]),
        r=np.array([0.8, 1.3e-14]),
        Y=np.array([0.532e6, 0.259e6]),
        Q=np.zeros(2),
        G=0.783e6,
        Jm=28.6,
        h=0.13,
        rho=920.0,
        cp=2200.0,
    )
    drawn, mode = D.draw(film, n, 3.0, 0.05, 0.3, 296.15, rtol=1e-9), F.WidthMode.power(n)
    inlet = drawn.stretch[0]
    rise = mode.m * 0.5 * film.E @ (drawn.strain**2 - np.log(inlet) ** 2)
    heat = film.rho * film.cp * (drawn.temperature - 296.15)
    assert drawn.nominal * (3.0 - inlet) == pytest.approx(rise + heat, rel=1e-6)


def test_take_up_events_and_span():
    """Angles and spans of the 1.2 m x 1.0 m plan (from the geometry of the plan, computed separately)."""
    events = take_up.face_events(1.2, 1.0, 1.5)
    assert np.degrees([a for a, _ in events]) == pytest.approx([66.4218, 160.5288, 246.4218, 340.5288], abs=1e-4)
    for phi, span in ((0, 1.029563), (45, 1.627227), (75, 0.972233), (150, 1.915423), (165, 0.856215)):
        assert take_up.free_span(1.2, 1.0, 1.5, np.radians(phi)) == pytest.approx(span, abs=1e-6)
    angle = events[0][0]
    before, after = (take_up.free_span(1.2, 1.0, 1.5, angle + d) for d in (-1e-9, 1e-9))
    assert (before, after) == pytest.approx((1.874773, 0.874773), abs=1e-6)


def test_creep_ladder():
    g, tau = S.creep_ladder(0.05, 1.0)
    t = np.array([0.01, 1.0, 30.0, 3600.0, 86400.0, 6e5])
    assert (g * -np.expm1(-t[:, None] / tau)).sum(1) == pytest.approx(0.05 * np.log10(1 + t), rel=1e-4)
