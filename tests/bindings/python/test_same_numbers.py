# SPDX-License-Identifier: BSD-3-Clause
"""Command and package give the same numbers, to the last bit and byte."""

import csv
import json
import subprocess

import numpy as np
import pytest

import hoopfield as hf


def run(command, *arguments):
    done = subprocess.run([command, *map(str, arguments)], capture_output=True, text=True, timeout=900)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def by_command(command, scenario_path, tmp_path_factory):
    folder = tmp_path_factory.mktemp("command")
    text = run(command, "predict", scenario_path, "--json", "-o", folder / "r.h5", "--csv", folder / "tables")
    return folder, json.loads(text)


def test_summary_is_that_of_the_command(by_command, scenario):
    _, by_cli = by_command
    by_cli.pop("run_info")
    by_python = hf.predict(scenario, complete=True).summary
    # The file is named as it was typed on either side.
    for summary in (by_cli, by_python):
        for value in summary["inputs"].values():
            value.pop("file")
    assert by_python == by_cli


def test_result_file_holds_the_arrays(by_command, scenario):
    xarray = pytest.importorskip("xarray")
    folder, _ = by_command
    r = hf.predict(scenario)
    with xarray.open_dataset(folder / "r.h5") as file:
        for name in (
            "hoop_tension",
            "film_layers",
            "hoop_tension_buildup",
            "layer_tension",
            "closing_along_length",
            "closing_along_width",
            "temperature",
            "time",
            "height",
            "turn",
        ):
            np.testing.assert_array_equal(file[name].values, getattr(r, name), err_msg=name)


@pytest.mark.parametrize("group", [None, "stations", "span", "film_path"])
def test_datasets_match_the_saved_file(tmp_path, result, group):
    xarray = pytest.importorskip("xarray")
    path = tmp_path / "r.h5"
    result.save(path)
    mine = result.to_xarray(group)
    with xarray.open_dataset(path, group=group) as file:
        assert set(file.data_vars) == set(mine.data_vars)
        for name in file.data_vars:
            assert file[name].dims == mine[name].dims, name
            np.testing.assert_array_equal(file[name].values, mine[name].values, err_msg=name)
            assert file[name].attrs.get("units", "1") == mine[name].attrs.get("units", "1"), name
            assert file[name].attrs["long_name"] == mine[name].attrs["long_name"], name
        for name in file.sizes:
            np.testing.assert_array_equal(file[name].values, mine[name].values, err_msg=name)


def test_tables_are_those_of_the_command(by_command, scenario, tmp_path):
    folder, _ = by_command
    hf.predict(scenario).save_csv(tmp_path / "tables")
    written = sorted(path.name for path in (tmp_path / "tables").iterdir())
    assert written == sorted(path.name for path in (folder / "tables").iterdir())
    for name in written:
        if name != "inputs.csv":  # names files as typed
            assert (tmp_path / "tables" / name).read_bytes() == (folder / "tables" / name).read_bytes(), name


@pytest.mark.parametrize("kind", ["tensile", "relaxation"])
def test_film_test_is_that_of_the_command(command, film_path, tmp_path, kind):
    path = tmp_path / "curve.csv"
    run(command, "film", "test", film_path, "--kind", kind, "--stretch", "250 %", "--hold", "1 h", "--csv", path)
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    film = hf.Film.read(film_path)
    curve = film.tensile(to=2.5) if kind == "tensile" else film.relax("250 %", "1 h")
    assert len(rows) == len(curve.stress)
    np.testing.assert_allclose(curve.stress / 1e6, [float(r["stress_MPa"]) for r in rows], rtol=1e-14)
    np.testing.assert_allclose(curve.stretch * 100, [float(r["stretch_percent"]) for r in rows], rtol=1e-13, atol=1e-12)
    np.testing.assert_allclose(curve.time, [float(r["time_s"]) for r in rows], rtol=1e-14)


def test_explanations_are_those_of_the_command(command):
    for key in ("", "load", "load.stiffness_along_length", "containment.end.top.film_layers"):
        assert str(hf.explain(key)) == run(command, "explain", *([key] if key else []))


def test_version_is_that_of_the_command(command):
    assert run(command, "--version").split()[-1] == hf.__version__
