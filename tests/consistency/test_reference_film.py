# SPDX-License-Identifier: BSD-3-Clause
"""Self-test of the reference film law: check values of an illustrative film (set R1) computed before this code existed.

Stresses in MPa. The values come from closed forms and from a separate, earlier Radau solution; they pin the
reference, which in turn is compared with the compiled solver. Row numbers are those of the table they were kept in.
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from reference import film as F

DAY = 86400.0
FREE, HELD = F.FREE, F.WidthMode.power(0.0)


@pytest.fixture(scope="module")
def ramped():
    """R1 after 1 -> 3.5 at 1/s, width free and width held."""
    return {mode: F.tensile(F.R1, 1.0, 3.5, 1.0, mode=mode) for mode in (FREE, HELD)}


def held_stress(mode, e, time):
    return F.R1.true_stress(3.5, F.hold(F.R1, 3.5, e, time, mode) if time else e, mode)


def test_single_branch_relaxation():  # rows 1, 2, 4
    film = F.single_branch(150.0, 1e-7, 1.0)
    e0 = np.array([8.0 / 150.0])
    for time, stress in ((60, 7.149238), (3600, 3.599819), (86400, 0.561157)):
        e = F.hold(film, 1.0, e0, time)
        assert 150 * e[0] == pytest.approx(stress, abs=2e-6)
        halves = F.hold(film, 1.0, F.hold(film, 1.0, e0, time / 2), time / 2)
        assert halves == pytest.approx(e, abs=1e-11)
    c = 2 * 1.0 / (150 * 1e-7) * np.exp(-8.0)
    assert c == pytest.approx(44.728350, abs=1e-6)
    guiu_pratt = lambda t: 8.0 - np.log1p(t / c)
    assert guiu_pratt(3600) == pytest.approx(3.599570, abs=1e-6)
    assert guiu_pratt(86400) == pytest.approx(0.433347, abs=1e-6)
    assert abs(guiu_pratt(86400) - 150 * F.hold(film, 1.0, e0, 86400)[0]) > 0.1


def test_single_branch_at_constant_log_rate():  # row 3
    film = F.single_branch(150.0, 1e-7, 1.0)
    e = F.stretch_history(film, [0.0], lambda t: np.exp(0.1 * t), lambda t: 0.1, 1.0)
    assert 150 * e[0] == pytest.approx(14.031304, abs=2e-6)
    assert np.arcsinh(0.1 / 1e-7) == pytest.approx(14.508658, abs=2e-6)
    steady = F.stretch_history(film, [0.0], lambda t: np.exp(0.1 * t), lambda t: 0.1, 10.0)
    assert 150 * steady[0] == pytest.approx(14.508658, abs=2e-6)


def test_flow_stress_slope_per_decade():  # row 5
    flow = []
    for rate in (1e-2, 1e-1):
        e = F.stretch_history(F.R1, [0.0, 0.0], lambda t: np.exp(rate * t), lambda t: rate, 3.0 / rate)
        flow.append(F.R1.E @ e)
    assert flow[1] - flow[0] == pytest.approx(np.log(10) * 0.60, abs=1e-5)


def test_rigid_plastic_plus_network():  # rows 6, 7, 8
    network = F.Film(E=np.ones(1), r=np.ones(1), Y=np.ones(1), Q=np.zeros(1), G=1.2)  # Jm huge: Gaussian
    stretches = np.array([2, 2.5, 3, 3.5, 4])
    flow = lambda mode: 8.0 * mode.m / mode.c
    nominal = lambda l, mode: (flow(mode) + network.network(l, mode, network.Tref)) / l
    assert nominal(stretches, FREE) == pytest.approx([6.1, 6.008, 6.133333, 6.387755, 6.725], abs=1e-6)
    assert nominal(stretches, HELD) == pytest.approx([6.868802, 6.618242, 6.634757, 6.811327, 7.090651], abs=1e-6)
    transverse = 8.0 * (2 / 3) / HELD.c + 1.2 * (1 - 3.5**-2)  # (2/3)(1-2n)/c of the flow stress, plus network
    assert transverse == pytest.approx(5.720843, abs=1e-6)
    l = np.linspace(1.5, 4, 26)
    assert np.polyfit(l**2 - 1 / l, nominal(l, FREE) * l, 1) == pytest.approx([1.2, 8.0], abs=1e-9)
    for mode, minimum in ((FREE, 2.416400), (HELD, 2.699309)):
        found = minimize_scalar(nominal, bounds=(1.5, 4), args=(mode,), method="bounded", options={"xatol": 1e-10})
        assert found.x == pytest.approx(minimum, abs=1e-5)


def test_gent_network():  # row 14
    for l, free, held in ((3.5, 15.736655, 16.169492), (4.0, 22.354839, 22.897959)):
        assert F.R1.network(l, FREE, 296.15) == pytest.approx(free, abs=1e-6)
        assert F.R1.network(l, HELD, 296.15) == pytest.approx(held, abs=1e-6)
    for mode in (FREE, HELD, F.WidthMode.power(0.2), F.WidthMode.released(1.3)):
        low, high = (F.R1.network(3.0 * np.exp(x), mode, 296.15) for x in (-1e-6, 1e-6))
        assert F.R1.network_log_slope(3.0, mode, 296.15) == pytest.approx((high - low) / 2e-6, rel=1e-7)


@pytest.mark.parametrize(
    "time, free", [(0, 28.52820), (60, 23.50867), (3600, 21.05265), (DAY, 19.31909), (30 * DAY, 18.43256)]
)
def test_hold_free_width(ramped, time, free):  # rows 15, 16
    assert held_stress(FREE, ramped[FREE], time) == pytest.approx(free, abs=1e-4)


@pytest.mark.parametrize(
    "time, along, across", [(0, 31.03915, 8.65517), (60, 25.14386, 5.70752), (DAY, 20.30613, 3.28866)]
)
def test_hold_width_held(ramped, time, along, across):  # row 17
    e = F.hold(F.R1, 3.5, ramped[HELD], time, HELD) if time else ramped[HELD]
    assert F.R1.true_stress(3.5, e, HELD) == pytest.approx(along, abs=1e-4)
    network = F.R1.network(3.5, HELD, 296.15) * (1 - 3.5**-2) / HELD.drive(3.5)
    assert network + (2 / 3) * F.R1.E @ e == pytest.approx(across, abs=1e-4)


def test_slow_ramp_forgets_its_rate():  # row 18
    for mode, start, day in ((FREE, 25.76510, 19.31908), (HELD, 27.84860, 20.30612)):
        e = F.tensile(F.R1, 1.0, 3.5, 0.01, mode=mode)
        assert F.R1.true_stress(3.5, e, mode) == pytest.approx(start, abs=1e-4)
        assert held_stress(mode, e, DAY) == pytest.approx(day, abs=1e-4)


@pytest.mark.parametrize(
    "time, stretch, recovery", [(0, 3.018528, 19.2589), (60, 3.100400, 15.9840), (DAY, 3.169737, 13.2105)]
)
def test_snap_back(ramped, time, stretch, recovery):  # row 19
    e = F.hold(F.R1, 3.5, ramped[FREE], time) if time else ramped[FREE]
    l, _ = F.snap_back(F.R1, 3.5, e)
    assert l == pytest.approx(stretch, abs=1e-5)
    assert 100 * (3.5 - l) / 2.5 == pytest.approx(recovery, abs=1e-3)


def test_force_of_a_film(ramped):  # row 20
    section = 0.5 * 20e-6 * 1e6  # N per MPa
    assert F.R1.nominal(3.5, ramped[FREE]) * section == pytest.approx(81.509, abs=1e-3)
    assert F.R1.nominal(3.5, ramped[HELD], HELD) * section == pytest.approx(88.683, abs=1e-3)


@pytest.mark.parametrize("activation, loss", [(108784.0, 0.23336), (192464.0, 0.25167)])
def test_warm_hold(ramped, activation, loss):  # row 21
    minute = F.hold(F.R1, 3.5, ramped[FREE], 60)
    warm = F.with_activation(F.R1, activation)
    e = F.hold(warm, 3.5, minute, 30 * DAY, T=296.15 + 15)
    assert 1 - F.R1.true_stress(3.5, e) / F.R1.true_stress(3.5, minute) == pytest.approx(loss, abs=1e-4)


def test_creep_holds_its_stress_and_recovery_goes_back(ramped):
    l, e = F.creep(F.R1, 3.5, ramped[FREE], 6.0, 100.0)
    assert F.R1.nominal(l, e) == pytest.approx(6.0, abs=1e-8)
    snapped, _ = F.snap_back(F.R1, 3.5, ramped[FREE])
    recovered, strains = F.creep(F.R1, 3.5, ramped[FREE], 0.0, DAY)
    assert recovered < snapped
    assert F.R1.nominal(recovered, strains) == pytest.approx(0.0, abs=1e-8)
