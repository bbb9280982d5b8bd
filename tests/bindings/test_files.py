# SPDX-License-Identifier: BSD-3-Clause
"""The built command on the first example: files and JSON tell the same numbers, and mistakes are answered.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_files.py
"""

import csv
import json
import math
import os
import pathlib
import resource
import signal
import subprocess
import time

import pytest

from running import HUNG, cost_of, finish, wait_for_work

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCENARIO = ROOT / "examples" / "01_first_prediction" / "scenario.toml"
FILM = ROOT / "models" / "parameters" / "films" / "general-film.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
FACES = ["front", "left", "back", "right"]
STATIONS = ["top", "middle", "bottom"]

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def run(*arguments, **options):
    return subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=HUNG, **options)


@pytest.fixture(scope="module")
def predicted(tmp_path_factory):
    folder = tmp_path_factory.mktemp("predicted")
    done = run("predict", SCENARIO, "-o", folder / "r.h5", "--csv", folder / "tables", "--json")
    assert done.returncode == 0, done.stderr
    return folder, json.loads(done.stdout, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))


def table(folder, name):
    with open(folder / "tables" / name, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_json_has_the_agreed_keys(predicted):
    _, summary = predicted
    for moment in ("end", "weakest", "after_storage"):
        for station in STATIONS:
            values = summary["containment"][moment][station]
            assert list(values["faces"]) == FACES
            for key in (
                "hoop_tension_N_per_m",
                "band_tension_N",
                "pull_force_N",
                "strand_force_N",
                "pull_force_film_stretch_share",
                "film_layers",
                "film_layers_min",
                "film_layers_max",
            ):
                assert math.isfinite(values[key]), key
    for group, keys in {
        "film": [
            "stretch_on_load_percent",
            "prestretch_force_N",
            "film_temperature_C",
            "length_on_roll_m",
            "mass_kg",
            "laid_width_mm",
        ],
        "span": ["force_set_N", "force_mean_N", "force_min_N", "force_max_N", "laid_fraction"],
        "pattern": [
            "turns",
            "pitch_mm",
            "overlap",
            "gap_mm",
            "rotation_time_s",
            "uncovered_top_mm",
            "uncovered_bottom_mm",
        ],
        "load": ["closing_along_length_mm", "closing_along_width_mm", "edge_line_force_N_per_m"],
        "sensitivity": ["end", "after_storage"],
    }.items():
        assert set(keys) <= set(summary[group]), group
    assert {"value", "unit", "origin", "file", "line"} == set(summary["inputs"]["film.width"])
    assert summary["inputs"]["film.width"]["origin"] == "given"
    assert summary["inputs"]["film.width"]["line"] > 0
    assert summary["run_info"]["duration_s"] > 0
    assert isinstance(summary["warnings"], list) and isinstance(summary["assumed"], list)


def test_assumed_inputs_are_ranked(predicted):
    _, summary = predicted
    effects = [item["effect"] for item in summary["assumed"] if not item["failed"]]
    assert effects, "the example leaves inputs assumed, so some must be ranked"
    assert effects == sorted(effects, reverse=True)
    assert all(item["how_to_measure"] for item in summary["assumed"])


@pytest.mark.parametrize("engine", ["h5netcdf", "netcdf4", None])
def test_result_file_opens_as_it_is(predicted, engine):
    xarray = pytest.importorskip("xarray", reason="xarray is not installed: the result file was NOT opened")
    if engine:
        pytest.importorskip({"netcdf4": "netCDF4"}.get(engine, engine), reason=f"{engine} is not installed")
    folder, summary = predicted
    options = {"engine": engine} if engine else {}
    with xarray.open_dataset(folder / "r.h5", **options) as data:
        assert data.hoop_tension.dims == ("time", "face", "height")
        assert data.hoop_tension_buildup.dims == ("turn", "face", "height")
        assert data.layer_tension.dims == ("film_layer", "face", "height")
        assert list(data.face.values) == FACES
        assert data.time.dtype == "float64" and data.time[0] == 0 and data.time.attrs["units"] == "s"
        assert data.attrs["Conventions"].startswith("CF-") and data.attrs["source"].startswith("hoopfield ")
        for name in data.data_vars:
            assert data[name].attrs["units"], name
        layers = data.layer_tension.sum("film_layer").values
        assert layers == pytest.approx(data.hoop_tension.isel(time=0).values, rel=1e-9, abs=1e-9)
        assert data.hoop_tension_buildup.isel(turn=-1).values == pytest.approx(
            data.hoop_tension.isel(time=0).values, rel=1e-6, abs=1e-6
        )
    with xarray.open_dataset(folder / "r.h5", group="stations", **options) as stations:
        for moment in ("end", "weakest", "after_storage"):
            for station in STATIONS:
                value = stations.hoop_tension.sel(moment=moment, station=station).item()
                assert value == summary["containment"][moment][station]["hoop_tension_N_per_m"]
    with xarray.open_dataset(folder / "r.h5", group="inputs", **options) as inputs:
        assert inputs.scenario_text.item() == SCENARIO.read_text(encoding="utf-8")
        assert inputs.value.sel(key="load.length").item() == summary["inputs"]["load.length"]["value"]
        assert inputs.attrs["inputs_hash"] == summary["inputs_hash"]
    with xarray.open_dataset(folder / "r.h5", group="summary", **options) as stored:
        inside = json.loads(stored.json.item())
        assert inside == {key: value for key, value in summary.items() if key != "run_info"}


def test_units_are_readable(predicted):
    xarray = pytest.importorskip("xarray", reason="xarray is not installed: units were NOT read")
    pint = pytest.importorskip("pint", reason="pint is not installed: units were NOT read")
    folder, _ = predicted
    registry = pint.UnitRegistry()
    for group in (None, "summary", "span", "stations", "film_path"):
        with xarray.open_dataset(folder / "r.h5", group=group) as data:
            for variable in data.variables.values():
                if variable.dtype.kind in "fi":
                    registry.parse_units(variable.attrs["units"])


def test_tables_and_json_agree(predicted):
    folder, summary = predicted
    rows = table(folder, "stations.csv")
    assert len(rows) == 3 * 3 * 4
    for row in rows:
        station = summary["containment"][row["moment"]][row["station"]]
        assert float(row["hoop_tension_N_per_m"]) == station["hoop_tension_N_per_m"]
        assert float(row["face_pull_force_N"]) == station["faces"][row["face"]]["pull_force_N"]
    # The band that holds least slides freely, so it holds no more than the least four slices together.
    held = {}
    for row in table(folder, "hoop_tension.csv"):
        if float(row["time_s"]) == 0:
            held.setdefault(row["face"], []).append((float(row["height_m"]), float(row["hoop_tension_N_per_m"])))
    band = summary["inputs"]["stations.band_height"]["value"]
    slices = [[tension for _, tension in sorted(face)] for face in held.values()]
    count = round(band / 1.5 * len(slices[0]))
    assert count == pytest.approx(band / 1.5 * len(slices[0]))
    means = [sum(face[i : i + count]) / count for face in slices for i in range(len(face) - count + 1)]
    least = summary["containment"]["end"]["least"]["hoop_tension_N_per_m"]
    assert min(means) * 0.98 <= least <= min(means) * (1 + 1e-9)
    for name in ("buildup.csv", "layers.csv", "film_path.csv", "inputs.csv"):
        assert table(folder, name), name
    assert {row["key"]: row["origin"] for row in table(folder, "inputs.csv")}["film.width"] == "given"


def test_same_inputs_same_bytes(predicted, tmp_path):
    folder, summary = predicted
    made = int((folder / "r.h5").stat().st_mtime)
    while int(time.time()) == made:  # a time stamp in the file would be of another second
        time.sleep(0.01)
    done = run("predict", SCENARIO, "-o", tmp_path / "again.h5", "--json")
    assert (tmp_path / "again.h5").read_bytes() == (folder / "r.h5").read_bytes()
    again = json.loads(done.stdout)
    del again["run_info"]
    assert again == {key: value for key, value in summary.items() if key != "run_info"}


@pytest.mark.parametrize("units", ["metric", "inch-pound"])
def test_page_fits_80_columns(units):
    done = run("predict", SCENARIO, "--units", units)
    assert done.returncode == 0, done.stderr
    assert "\x1b" not in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    order = [
        done.stdout.index(part)
        for part in (
            "Of the three stations",
            "At the end of wrapping",
            "of storage\n",
            "Where hoop tension is least",
            "Settings and film",
            "Largest unknowns",
            "\nWarnings\n",
            "\nCaution\n",
        )
    ]
    assert order == sorted(order)


def test_sentence_comes_from_the_numbers(predicted):
    _, summary = predicted
    after = summary["containment"]["after_storage"]
    weakest = min(STATIONS, key=lambda station: after[station]["hoop_tension_N_per_m"])
    page = " ".join(run("predict", SCENARIO).stdout.split())
    assert f"Of the three stations, the {weakest} one holds least" in page
    assert "N/m nine times in ten" in page


@pytest.mark.parametrize(
    "arguments", [[], ["new"], ["check"], ["predict"], ["film", "test"], ["explain"], ["selftest"]]
)
def test_help_fits_80_columns_and_shows_an_example(arguments):
    done = run(*arguments, "--help")
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80, done.stdout
    assert "Example:" in done.stdout


def test_selftest_passes():
    done = run("selftest")
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.count("ok      ") >= 15 and "FAILED" not in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


@pytest.mark.parametrize("kind", ["tensile", "relaxation"])
def test_film_test(kind, tmp_path):
    page = run("film", "test", FILM, "--kind", kind, "--csv", tmp_path / "c.csv")
    assert page.returncode == 0, page.stderr
    assert max(map(len, page.stdout.splitlines())) <= 80
    data = json.loads(run("film", "test", FILM, "--kind", kind, "--json").stdout)
    with open(tmp_path / "c.csv", encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert [float(row["stress_MPa"]) for row in rows] == data["curve"]["stress_MPa"]
    assert data["curve"]["time_s"] == sorted(data["curve"]["time_s"])
    if kind == "relaxation":
        assert 0 < data["numbers"]["stress_kept"] < 1


@pytest.mark.parametrize(
    "arguments, code, text",
    [
        (["predict"], 2, "required"),
        (["nonsense"], 2, ""),
        (["predict", "none.toml"], 4, "none.toml"),
        (["predict", SCENARIO, "--units", "furlong"], 2, "--units"),
        (["predict", SCENARIO, "-o", "/none/r.h5"], 4, "no folder"),
        (["predict", SCENARIO, "-o", "/dev/null", "--overwrite"], 4, "not an ordinary file"),
        (["predict", SCENARIO, "--require"], 2, "[target]"),
        (["film", "test", FILM, "--rate", "5 m"], 2, "--rate"),
        (["film", "test", FILM, "--stretch", "2000 %"], 3, "cannot be stretched"),
        (["film", "test", FILM, "--hold", "-1 s"], 2, "--hold"),
    ],
)
def test_mistakes_have_an_exit_code_and_a_message(arguments, code, text, tmp_path):
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == code, done.stderr
    assert text in done.stderr and done.stderr.startswith("hoopfield: ")
    assert done.stdout == ""
    assert not list(tmp_path.iterdir())


def test_a_file_is_replaced_only_when_asked(tmp_path):
    target = tmp_path / "r.h5"
    target.write_text("mine")
    done = run("predict", SCENARIO, "-o", target)
    assert done.returncode == 4 and "--overwrite" in done.stderr
    assert target.read_text() == "mine"
    assert run("predict", SCENARIO, "--band-samples", "0", "-o", target, "--overwrite").returncode == 0
    assert target.read_bytes().startswith(b"\x89HDF")
    assert [path.name for path in tmp_path.iterdir()] == ["r.h5"]


def test_a_full_disk_leaves_nothing(tmp_path):
    limit = lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (20000, 20000))
    done = run("predict", SCENARIO, "--band-samples", "0", "-o", tmp_path / "r.h5", preexec_fn=limit)
    assert done.returncode == 4 and "File too large" in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("target, code", [(1.0, 0), (1e5, 1)])
def test_require(tmp_path, first_scenario, target, code):
    text = first_scenario.split("[target]")[0]
    (tmp_path / "s.toml").write_text(text + f'\n[target]\nmiddle = "{target} N/m"\n', encoding="utf-8")
    done = run("predict", tmp_path / "s.toml", "--require", "--band-samples", "128")  # far from the target: few tell
    assert done.returncode == code, done.stderr
    assert ("met" if code == 0 else "MISSED") in done.stdout


@pytest.fixture(scope="module")
def long_work(tmp_path_factory, long_scenario):
    """A long scenario, and the processor time it takes here and now."""
    path = tmp_path_factory.mktemp("long") / "s.toml"
    path.write_text(long_scenario, encoding="utf-8")
    done, used = cost_of([COMMAND, "predict", path])
    assert done.returncode == 0, done.stderr
    return long_scenario, used


@pytest.mark.parametrize("share", [0.0, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4])
def test_stopping_leaves_no_file(tmp_path, long_work, share):
    """Ctrl-C at moments counted in work done: the command stops with most of the rest of the work not done."""
    text, whole = long_work
    (tmp_path / "s.toml").write_text(text, encoding="utf-8")
    before = os.times()
    child = subprocess.Popen(
        [COMMAND, "predict", tmp_path / "s.toml", "-o", tmp_path / "r.h5"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    wait_for_work(child, share, whole)
    child.send_signal(signal.SIGINT)
    _, errors = finish(child)
    after = os.times()
    assert child.returncode == 130, errors
    assert "stopped" in errors
    assert [path.name for path in tmp_path.iterdir()] == ["s.toml"]
    used = after.children_user + after.children_system - before.children_user - before.children_system
    assert used < (share + 0.4) * whole
