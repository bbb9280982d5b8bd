# SPDX-License-Identifier: BSD-3-Clause
"""Each stage by itself, against the whole and against what is known in closed form."""

import numpy as np
import pytest

import hoopfield as hf


@pytest.fixture(scope="module")
def plan(small):
    return hf.plan_wrap(small)


def test_take_up_length_per_turn_is_the_perimeter():
    # Cauchy: the integral of the support function over a turn is the perimeter, whatever the distance.
    for distance in (0.9, 1.5, 4.0):
        t = hf.take_up("1.2 m", 1.0, distance, offset=0.1, axis_offset=0.05, angle=np.linspace(0, 2 * np.pi, 20001))
        length = np.trapezoid(t.lever_arm, t.angle) if hasattr(np, "trapezoid") else np.trapz(t.lever_arm, t.angle)
        assert length == pytest.approx(t.perimeter, rel=1e-6)
    assert t.perimeter == pytest.approx(4.4 - (8 - 2 * np.pi) * 0.005, rel=1e-12)
    assert sorted(t.event_face) == ["back", "front", "left", "right"]
    assert (t.span_before > t.span_after).all()


def test_film_path_is_that_of_the_prediction(small, result):
    speed = small["rotation.speed"] * hf.take_up(1.2, 1.0, 1.5).perimeter / (2 * np.pi)
    alone = hf.film_path(
        small.film,
        width="500 mm",
        thickness="23 um",
        prestretch="250 %",
        force="70 N",
        take_up_speed=speed,
        mean_span=hf.take_up(1.2, 1.0, 1.5).mean_span,
        temperature="23 degC",
    )
    for name in ("stretch_on_load", "prestretch_force", "laid_width", "film_temperature", "roller_speed_1"):
        assert float(getattr(alone, name)) == pytest.approx(getattr(result.film_path, name), rel=1e-9), name


def test_film_path_maps_and_says_where_it_fails(small):
    force = np.array([50.0, 70.0, 500.0])
    p = hf.film_path(
        small.film, width=0.5, thickness=23e-6, prestretch=np.array([[1.5], [2.5]]), force=force, take_up_speed=0.88
    )
    assert p.stretch_on_load.shape == (2, 3)
    assert np.isfinite(p.stretch_on_load[:, :2]).all() and np.isnan(p.stretch_on_load[:, 2]).all()
    assert all(p.message[:, 2]) and not any(p.message[:, :2].ravel())
    assert (np.diff(p.stretch_on_load[:, :2], axis=1) > 0).all() and (
        np.diff(p.stretch_on_load[:, :2], axis=0) > 0
    ).all()


def test_build_up_is_that_of_the_prediction(plan, result):
    built = hf.buildup(plan)
    for name in ("hoop_tension", "film_layers", "hoop_tension_buildup", "layer_tension", "closing_along_length"):
        np.testing.assert_array_equal(getattr(built, name), getattr(result, name), err_msg=name)


def test_slip_round_the_corners_after_lay_down(plan, small):
    assert (hf.buildup(plan).slip_tension == 0.0).all()
    soft = small.replace({"load.stiffness_along_width": "25 kPa", "friction.film_on_load": 0.05})
    slip = hf.buildup(hf.plan_wrap(soft)).slip_tension
    assert slip.shape == hf.buildup(plan).film_layers.shape
    front_and_back, left_and_right = slip[[0, 2]].mean(), slip[[1, 3]].mean()
    assert front_and_back > 1.0 > -1.0 > left_and_right  # film comes from the stiff sides to the soft ones


def test_patches_are_those_of_the_result(plan, result):
    np.testing.assert_array_equal(plan.force, result.span.face_force)
    assert list(plan.face) == result.span.face and len(plan) == len(plan.turn)
    assert (np.diff(plan.time) > 0).all() and plan.time[-1] <= 0.0


def test_build_up_with_other_face_forces(plan, result):
    same = hf.buildup(plan, plan.force)
    np.testing.assert_array_equal(same.hoop_tension, result.hoop_tension)
    more = hf.buildup(plan, 1.1 * plan.force)
    ratio = more.hoop_tension[0].sum() / result.hoop_tension[0].sum()
    assert 1.05 < ratio < 1.15
    only_front = np.where(np.array(plan.face) == "front", 1.1, 1.0) * plan.force
    front = hf.buildup(plan, only_front).hoop_tension[0] / result.hoop_tension[0]
    assert front[0].mean() > 1.05 and front[1].mean() < 1.01
    with pytest.raises(hf.OutOfRange, match="face_force"):
        hf.buildup(plan, 0.0 * plan.force)


def test_storage_at_times_of_ones_own(plan, small, result):
    duration = small["storage.duration"]
    stored = hf.storage(plan, duration, time=[0.0, 3600.0, duration])
    np.testing.assert_array_equal(stored.hoop_tension[0], result.hoop_tension[0])
    np.testing.assert_allclose(stored.hoop_tension[-1], result.hoop_tension[-1], rtol=2e-3)
    cool = hf.storage(plan, "30 d", "23 degC", time=[0.0, 86400.0])
    assert cool.hoop_tension.shape[0] == 3  # the end of storage is kept as well
    assert (np.diff(cool.hoop_tension.mean(axis=(1, 2))) < 0).all()
    with pytest.raises(hf.InputError, match="rise"):
        hf.buildup(plan, time=[0.0, 2.0, 1.0])
    with pytest.raises(hf.OutOfRange, match="duration"):
        hf.buildup(plan, time=[0.0, 1e9])


def test_film_relaxes_as_it_follows(film_path):
    film = hf.Film.read(film_path)
    held = film.relax(2.0, 3600.0)
    end = np.argmax(held.stretch)
    followed = film.follow(held.time, held.stretch)
    np.testing.assert_allclose(followed[end:], held.stress[end:], rtol=2e-3)
    assert held.kept == pytest.approx(held.stress[-1] / held.end_stress)


def test_cycle_loses_energy(film_path):
    film = hf.Film.read(film_path)
    time = np.linspace(0.0, 4.0, 401)
    stretch = 1.0 - np.abs(time / 2.0 - 1.0)
    stress = film.follow(time, stretch)
    work = np.sum(0.5 * (stress[1:] + stress[:-1]) * np.diff(stretch))
    assert work > 0.0
