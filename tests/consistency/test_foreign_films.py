# SPDX-License-Identifier: BSD-3-Clause
"""Films of other laws: their limits in closed form, and whether a fit's intervals hold their numbers."""

import foreign_coverage as coverage
import foreign_films as foreign
import numpy as np
import pytest

hf = pytest.importorskip("hoopfield")


def one_memory(network=lambda x: (0.0, 0.0), gain=lambda x: np.array([100.0]) / x, flow=None, path=None):
    film = foreign.Film("one", 1, network, gain, flow or (lambda q, _x, _s: 0 * q), 0.0, 0.0)
    if path:
        film.path = path
    return film


def test_a_spring_follows_the_logarithm_and_comes_back():
    strip = foreign.Strip(one_memory()).move(1.5, 0.1)
    assert strip.rows[-1][2] == pytest.approx(100 * np.log(1.5) / 1.5, rel=1e-6)
    assert strip.move(1.0, 0.1).rows[-1][2] == pytest.approx(0.0, abs=1e-5)


def test_a_linear_memory_relaxes_exponentially():
    strip = foreign.Strip(one_memory(flow=lambda q, _x, _s: q / 5.0)).move(1.02, 100.0)
    start = strip.rows[-1][2]
    assert strip.hold(10.0).rows[-1][2] == pytest.approx(start * np.exp(-2.0), rel=1e-5)


def test_a_power_law_dashpot_flows_at_its_strength():
    film = one_memory(flow=lambda q, _x, _s: 100.0 * 1e-2 * np.sign(q) * (np.abs(q) / 7.0) ** 12)
    rate, stretch = 0.02 * 2.0, 2.0  # logarithmic rate 0.02 at stretch 2
    stress = foreign.Strip(film).move(stretch, rate).rows[-1][2] * stretch
    assert stress == pytest.approx(7.0 * 2.0 ** (1 / 12), rel=0.01)


def test_intrinsic_time_makes_stress_a_matter_of_path_alone():
    film = one_memory(path=lambda q, x: q / 0.05 / x)
    slow, fast = (foreign.Strip(film).move(2.0, rate).rows[-1][2] for rate in (1e-3, 10.0))
    assert slow == pytest.approx(fast, rel=1e-5)
    assert slow * 2.0 == pytest.approx(100 * 0.05, rel=1e-4)  # gain over fading


@pytest.mark.parametrize("name", foreign.FILMS)
def test_free_film_carries_no_force(name):
    strip = foreign.Strip(foreign.FILMS[name]()).move(3.0, 0.5).hold(10.0).release(0.5)
    rows = len(strip.rows)
    strip.free(3600.0)
    greatest = max(row[2] for row in strip.rows)
    assert max(abs(row[2]) for row in strip.rows[rows:]) < 2e-4 * greatest


@pytest.mark.parametrize("which", coverage.SETS)
def test_intervals_hold_the_numbers_of_films_of_other_laws(which):
    """A small version of foreign_coverage.py: films the errors were not chosen on among them."""
    inside = total = 0
    for name, noise in (("chain", 0.005), ("sliders", 0.03), ("drop", 0.01)):
        _task, numbers, _branches, _took = coverage.one((name, which, noise, 3))
        assert len(numbers) == 15
        inside += sum(low <= true <= high for true, _value, low, high, _determined in numbers.values())
        total += len(numbers)
        for key in ("stress_at_200", "work_to_draw"):  # an interval that says nothing would hold, too
            true, _value, low, high, _determined = numbers[key]
            assert high - low < 0.2 * true
    assert inside >= 0.9 * total


def test_a_law_that_cannot_follow_says_so(tmp_path):
    film = foreign.intrinsic_film()
    fit = coverage.fitted(film, "six", 0.005, 0, tmp_path)
    told = [w for w in fit.warnings if w.startswith("the law cannot follow")]
    assert len(told) == 1
    assert "unload.csv, unloading" in told[0]
    assert "cannot follow" in fit.film.text.replace("\n# ", " ")
    fit = coverage.fitted(foreign.slider_film(), "six", 0.005, 0, tmp_path)
    assert not [w for w in fit.warnings if "cannot follow" in w]
