# SPDX-License-Identifier: BSD-3-Clause
"""The film laboratory from Python: the same numbers as the command, and errors of the kind promised."""

import json
import pathlib
import pickle
import subprocess

import numpy as np
import pytest

import hoopfield as hf


@pytest.fixture(scope="module")
def film():
    return hf.Film.library("general-film")


@pytest.fixture(scope="module")
def fit(root):
    curves = root / "examples" / "09_film_laboratory" / "curves"
    return hf.fit_film(
        [curves / "tensile_fast.csv", curves / "hold.csv", curves / "unloading.csv"], branches=3, name="fit"
    )


def test_recovery_cycle_and_creep(film):
    recovery = film.recover("250 %", "24 h", hold=60.0)
    assert recovery.elastic_recovery == pytest.approx(1 - recovery.permanent_share)
    assert recovery.permanent_set < recovery.release_stretch < 2.5
    assert recovery.stress[-1] == 0.0
    cycle = film.cycle(2.5, 2)
    assert 0 < cycle.work_lost_last < cycle.work_lost_first < 1
    creep = film.creep("6 MPa", 600.0)
    assert creep.creep_strain > 0 and creep.stress[-1] == pytest.approx(6e6)


def test_heat_of_drawing_feeds_back(film):
    for test in (
        lambda **how: film.tensile(1.0, 2.5, **how),
        lambda **how: film.relax(2.5, 60.0, **how),
        lambda **how: film.recover(2.5, 60.0, **how),
        lambda **how: film.cycle(2.5, 1, **how),
        lambda **how: film.creep(9e6, 1.0, **how),
    ):
        plain, heated = test(), test(draw_heat=True)
        assert (plain.temperature == film.reference_temperature).all()
        assert heated.temperature.max() > film.reference_temperature + 2
        if heated.end_stress and heated.stress[-1] != 9e6:
            assert heated.end_stress < plain.end_stress  # warm film is softer


def test_tests_are_those_of_the_command(film, film_path, command):
    done = subprocess.run(
        [command, "film", "test", film_path, "--kind", "recovery", "--stretch", "250 %", "--json"],
        check=True,
        capture_output=True,
        text=True,
    )
    curve = json.loads(done.stdout)["curve"]
    np.testing.assert_allclose(film.recover(2.5).stretch * 100, curve["stretch_percent"], rtol=1e-12, atol=1e-9)


def test_numbers_have_a_glossary(film):
    numbers = film.numbers("250 %")
    for name, value in numbers.items():
        page = str(hf.explain("film_numbers." + name))
        assert "formula" in page, name
        assert value is None or value > 0, name
    assert numbers["stress_at_250"] == pytest.approx(film.tensile(1.0, 2.5).end_stress, rel=1e-3)
    assert numbers["kept_30_d"] < numbers["kept_24_h"] < numbers["kept_1_h"] < numbers["kept_1_min"] < 1


def test_one_default_of_stretch_and_rate(film, film_path, fit, command):
    """Command, Python and fit test a film alike where nobody says how, and the page says how."""
    done = subprocess.run([command, "film", "test", film_path, "--numbers", "--json"], capture_output=True, text=True)
    answer = json.loads(done.stdout)
    numbers = film.numbers()
    assert answer["film_numbers"]["stress_at_250_MPa"] * 1e6 == pytest.approx(numbers["stress_at_250"], rel=1e-9)
    assert answer["film_numbers"]["permanent_set_percent"] / 100 == pytest.approx(numbers["permanent_set"], rel=1e-9)
    assert answer["curve"]["stretch_percent"][-1] == pytest.approx(250)
    for curve in (film.tensile(), film.relax(), film.recover(), film.cycle()):
        assert curve.rate == 1.0 and curve.stretch.max() == pytest.approx(2.5)
    for name, value in fit.film.numbers().items():
        assert fit.numbers[name][0] == (value if value is None else pytest.approx(value, rel=1e-6)), name
    page = subprocess.run([command, "film", "test", film_path, "--numbers"], capture_output=True, text=True).stdout
    assert "Comparison numbers at 250 % on the load, drawn at 1 1/s and 23 degC" in " ".join(page.split())


def test_fit(fit, tmp_path):
    assert fit.film.name == "fit" and fit.film.illustrative
    assert fit.correlation.shape == (len(fit.parameters),) * 2
    np.testing.assert_allclose(np.diag(fit.correlation), 1.0)
    for curve in fit.curves:
        residual = (curve["fitted"] - curve["stress"]) / np.mean(np.abs(curve["stress"]))
        assert np.sqrt(np.mean(residual**2)) == pytest.approx(curve["rms"], rel=1e-6) and curve["rms"] < 0.01
    value, error = fit.numbers["kept_24_h"]
    assert 0.5 < value < 0.8 and 0 < error < 0.04
    low, high = fit.intervals["kept_24_h"]
    assert low < value < high and high - low == pytest.approx(2 * 1.96 * error)
    assert any("temperature" in sentence for sentence in fit.unknown)
    path = tmp_path / "film.toml"
    fit.film.write(path)
    assert hf.Film.read(path) == fit.film
    with pytest.raises(hf.IoError):
        fit.film.write(path)
    assert pickle.loads(pickle.dumps(fit.film)) == fit.film


def test_fit_holds_curves_out(root):
    curves = sorted((root / "examples" / "09_film_laboratory" / "curves").glob("*.csv"))
    fit = hf.fit_film(curves[:2], hold_out=curves[2:4], branches=2, model_error="1 %")
    assert [len(c["fitted"]) == len(c["stress"]) for c in fit.held_out] == [True, True]
    assert {pathlib.Path(c["name"]).name for c in fit.held_out} == {c.name for c in curves[2:4]}
    plain = hf.fit_film(curves[:2], branches=2, model_error=0.01)
    assert plain.held_out == [] and plain.film == fit.film and plain.law_error >= 0.01
    with pytest.raises(hf.InputError, match="model.error"):
        hf.fit_film(curves[:1], model_error=0.9)


def test_fit_plot(fit):
    pytest.importorskip("matplotlib")
    upper, lower = fit.plot()
    assert "MPa" in upper.get_ylabel() and "%" in lower.get_ylabel()
    assert len(upper.get_legend().get_texts()) == len(fit.curves)


def test_data_sheet(root):
    fit = hf.film_from_datasheet(root / "examples" / "10_film_from_datasheet" / "sheet.toml")
    assert sum(not p["determined"] for p in fit.parameters) > 8
    assert fit.film.tensile(0.167, 3.0).end_stress == pytest.approx(13.2e6, rel=0.05)


def test_mistakes(tmp_path, film):
    bad = tmp_path / "bad.csv"
    bad.write_text("stretch_percent,stress_MPa,time_s\n0,0,0\n1,2,x\n")
    with pytest.raises(hf.InputError, match=r"bad.csv:3:5") as caught:
        hf.fit_film(bad)
    assert caught.value.line == 3 and isinstance(caught.value, ValueError)
    with pytest.raises(hf.IoError):
        hf.fit_film(tmp_path / "none.csv")
    with pytest.raises(hf.OutOfRange):
        film.recover(-1.0)
    with pytest.raises(hf.InputError, match="wait"):
        film.recover(2.0, "3 kg")


def test_progress_can_stop_a_fit(root):
    curves = root / "examples" / "09_film_laboratory" / "curves"
    with pytest.raises(hf.Interrupted):
        hf.fit_film(sorted(curves.glob("*.csv")), progress=lambda fraction, stage: False)
