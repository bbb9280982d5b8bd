# SPDX-License-Identifier: BSD-3-Clause
"""Errors are those of Python, with the place and the key."""

import pickle

import numpy as np
import pytest

import hoopfield as hf


def test_misspelt_key_names_the_nearest(scenario):
    with pytest.raises(ValueError, match="delivery.tension.force") as caught:
        scenario.replace({"delivery.tension.forse": "70 N"})
    assert isinstance(caught.value, hf.InputError) and caught.value.key == "delivery.tension.forse"
    with pytest.raises(hf.InputError, match="pattern.pitch"):
        scenario["pattern.pich"]
    with pytest.raises(hf.InputError, match="creep_per_decade"):
        hf.explain("load.creep_per_decad")


def test_place_in_a_file(tmp_path, scenario_path, film_path):
    text = (
        scenario_path.read_text(encoding="utf-8")
        .replace("../../models/parameters/films/general-film.toml", str(film_path))
        .replace('"70 N"', '"70 kg"')
    )
    path = tmp_path / "bad.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(hf.InputError, match="bad.toml") as caught:
        hf.read(path)
    error = caught.value
    line = text.splitlines()[error.line - 1]
    assert error.key == "delivery.tension.force" and "70 kg" in line and line[error.column - 1 :].startswith('"70 kg"')
    assert error.file == str(path)


def test_bounds_are_their_own_error(scenario):
    for bad in ("-5 N", -5.0):
        with pytest.raises(hf.OutOfRange):
            scenario.replace({"delivery.tension.force": bad})
    assert issubclass(hf.OutOfRange, hf.InputError) and issubclass(hf.InputError, ValueError)


def test_missing_file_is_an_os_error(tmp_path):
    with pytest.raises(OSError) as caught:
        hf.read(tmp_path / "nothing.toml")
    assert isinstance(caught.value, hf.IoError) and "nothing.toml" in str(caught.value)


def test_nothing_is_overwritten_unasked(tmp_path, result):
    path = tmp_path / "r.h5"
    result.save(path)
    before = path.read_bytes()
    with pytest.raises(hf.IoError, match="r.h5"):
        result.save(path)
    assert path.read_bytes() == before
    result.save(path, overwrite=True)
    with pytest.raises(OSError):
        result.save(tmp_path / "no folder" / "r.h5")


def test_no_solution_is_a_runtime_error(small):
    with pytest.raises(RuntimeError) as caught:
        hf.predict(small.replace({"delivery.tension.force": "500 N"}))
    error = caught.value
    assert isinstance(error, hf.SolverError) and isinstance(error.hint, str) and isinstance(error.turn, int)
    assert isinstance(error.time, float) and isinstance(error.height, float)


@pytest.mark.parametrize(
    "error",
    [
        hf.InputError("m", "f.toml", 3, 4, "k"),
        hf.OutOfRange("m", key="k"),
        hf.SolverError("m", 1.0, 2, 0.5, "try"),
        hf.IoError("m", "f"),
        hf.Interrupted("m"),
    ],
)
def test_errors_pickle(error):
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error) and str(again) == str(error) and vars(again) == vars(error)


@pytest.mark.parametrize("bad", [None, object(), 1 + 2j, b"70 N", {"a": 1}])
def test_values_of_no_meaning(scenario, bad):
    with pytest.raises(hf.InputError, match="delivery.tension.force"):
        scenario.replace({"delivery.tension.force": bad})


@pytest.mark.parametrize("bad", [[1.0, 2.0], np.ones(3), np.ones((2, 2))])
def test_lists_where_one_value_is_due(scenario, bad):
    with pytest.raises(hf.InputError, match="load.length"):
        scenario.replace({"load.length": bad})


def test_wrong_types_are_refused(scenario):
    with pytest.raises(TypeError, match="hoopfield.read"):
        hf.predict("scenario.toml")
    with pytest.raises(TypeError):
        hf.predict(scenario, progress=3)
    with pytest.raises(TypeError):
        hf.Scenario("scenario.toml")
    with pytest.raises(hf.InputError, match="stations"):
        hf.predict(scenario.replace({"numerics.slices": 4})).to_xarray("station")


@pytest.mark.parametrize("text", ["a." * 20000 + "b = 1\n", "x = " + "[" * 20000, "x = " + "{a=" * 20000])
def test_a_text_that_nests_without_end_is_an_error_not_the_end(tmp_path, text):
    path = tmp_path / "deep.toml"
    path.write_text(text)
    with pytest.raises(hf.InputError, match="at most 32 levels") as error:
        hf.read(path)
    assert error.value.line == 1
    with pytest.raises(hf.InputError, match="at most 32 levels"):
        hf.Film.from_text(text)


def test_errors_speak_of_arguments_not_of_options(tmp_path, scenario, root):
    result = hf.predict(scenario)
    result.save(tmp_path / "r.h5")
    curve = root / "examples" / "09_film_laboratory" / "curves" / "tensile_fast.csv"
    for call, words in (
        (lambda: result.save(tmp_path / "r.h5"), "pass overwrite=True to replace it"),
        (lambda: hf.fit_film(curve, branches=9), "branches: out of bounds"),
        (lambda: hf.fit_film(curve, model_error=0.9), "model_error: out of bounds"),
    ):
        with pytest.raises(hf.Error) as wrong:
            call()
        assert words in str(wrong.value) and "--" not in str(wrong.value), str(wrong.value)


def test_a_sweep_that_meets_a_file_names_arguments(tmp_path, scenario):
    pytest.importorskip("xarray")
    vary = {"pattern.pitch": ["200 mm"]}
    hf.sweep(scenario, vary, outputs="film.mass", file=tmp_path / "s.h5").close()
    for options in ({}, {"resume": True}):
        with pytest.raises(hf.IoError) as wrong:
            hf.sweep(scenario, {"pattern.pitch": ["210 mm"]}, outputs="film.mass", file=tmp_path / "s.h5", **options)
        assert "overwrite=True" in str(wrong.value) and "--" not in str(wrong.value), str(wrong.value)
