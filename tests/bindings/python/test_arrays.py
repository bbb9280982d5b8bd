# SPDX-License-Identifier: BSD-3-Clause
"""Arrays in: wrong ones refused by name, any stride read right. Arrays out: read-only views that outlive their
owner."""

import gc

import numpy as np
import pytest

import hoopfield as hf


@pytest.fixture(scope="module")
def film(film_path):
    return hf.Film.read(film_path)


@pytest.mark.parametrize(
    "bad, why",
    [
        (np.ones((2, 3)), "one dimension"),
        (np.float64(1.0), "one dimension"),
        ([], "empty"),
        ([0.0, np.nan, 1.0], "value 1"),
        ([0.0, np.inf, 1.0], "value 1"),
        (["0", "1"], "dtype"),
        ("0 s", "text"),
        (np.array([0.0, 1j]), "dtype"),
        (np.array([True, False]), "dtype"),
        (np.array([0, "a"], dtype=object), "dtype"),
        ([[0.0], [1.0, 2.0]], "array"),
        (np.array(["2020-01-01"], dtype="datetime64[D]"), "dtype"),
        (None, "dtype"),
        ({}, "dtype"),
    ],
)
def test_wrong_arrays(film, bad, why):
    with pytest.raises(hf.InputError, match=why) as caught:
        film.follow(bad, [0.0, 1.0, 1.0])
    assert caught.value.key == "time"


def test_wrong_sizes(film):
    with pytest.raises(hf.InputError, match="2 values; expected 3"):
        film.follow([0.0, 1.0, 2.0], [0.0, 1.0])
    with pytest.raises(hf.InputError, match="temperature"):
        film.follow([0.0, 1.0], [0.0, 1.0], [296.0])
    plan_of = hf.plan_wrap(hf.read(film_scenario()))
    with pytest.raises(hf.InputError, match="face_force"):
        hf.buildup(plan_of, [70.0, 70.0])


def film_scenario():
    import pathlib

    return pathlib.Path(__file__).resolve().parents[3] / "examples" / "01_first_prediction" / "scenario.toml"


def test_paths_the_film_cannot_go(film):
    with pytest.raises(hf.InputError, match="backwards"):
        film.follow([0.0, 2.0, 1.0], [0.0, 1.0, 1.0])
    with pytest.raises(hf.OutOfRange, match="reach"):
        film.follow([0.0, 1.0], [0.0, 50.0])
    with pytest.raises(hf.OutOfRange):
        film.follow([0.0, 1.0], [0.0, -1.0])


def test_strides_byte_orders_and_integers_read_alike(film):
    time, stretch = np.linspace(0.0, 3.0, 16), np.linspace(0.0, 2.0, 16)
    plain = film.follow(time, stretch)
    twice = np.repeat(np.column_stack([time, stretch]), 2, axis=0)
    np.testing.assert_array_equal(film.follow(twice[::2, 0], twice[::2, 1]), plain)
    np.testing.assert_array_equal(film.follow(time[::-1][::-1], stretch.astype(">f8")), plain)
    np.testing.assert_array_equal(film.follow(list(time), tuple(stretch)), plain)
    whole = np.arange(3)
    np.testing.assert_array_equal(film.follow(whole, whole), film.follow(whole.astype(float), whole.astype(float)))


def test_arrays_out_are_read_only_and_stay(small):
    field = hf.predict(small).hoop_tension
    copy = field.copy()
    gc.collect()
    hf.predict(small.replace({"delivery.tension.force": "90 N"}))
    np.testing.assert_array_equal(field, copy)
    with pytest.raises(ValueError):
        field[0, 0, 0] = 1.0
    assert field.ndim == 3 and field.flags.c_contiguous


def test_parts_outlive_their_result(small):
    top = hf.predict(small).containment.end.top
    gc.collect()
    assert top.hoop_tension > 0.0 and top.front.hoop_tension > 0.0


def test_take_up_refuses_wrong_angles():
    with pytest.raises(hf.InputError, match="angle"):
        hf.take_up(1.2, 1.0, 1.5, angle=np.zeros((2, 2)))
    with pytest.raises(hf.OutOfRange):
        hf.take_up(1.2, 1.0, 0.5)


def test_shapes_that_do_not_broadcast(film):
    with pytest.raises(hf.InputError, match="broadcast"):
        hf.film_path(
            film, width=0.5, thickness=23e-6, prestretch=[1.0, 2.0], force=[50.0, 60.0, 70.0], take_up_speed=1.0
        )
