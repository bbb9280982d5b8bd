# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps: the same as single predictions, as the file and the command; failures recorded; interruptible."""

import importlib.util
import os
import signal
import subprocess
import sys
import textwrap
import warnings

import numpy as np
import pytest

xarray = pytest.importorskip("xarray")
import hoopfield as hf  # noqa: E402
from running import finish, wait_until  # noqa: E402

FORCE, STRETCH, SPEED = "delivery.tension.force", "delivery.prestretch", "rotation.speed"
MIDDLE = "containment.after_storage.middle.hoop_tension"


@pytest.fixture(scope="module")
def quick(scenario):
    return scenario.replace({"numerics.slices": 6, "numerics.tolerance": 1e-2})


@pytest.fixture(scope="module")
def grid(quick):
    return hf.sweep(
        quick, {FORCE: [50.0, "60 N", "0.07 kN"], STRETCH: {"from": "200 %", "to": "250 %", "steps": 2}}, jobs=2
    )


def test_cases_are_single_predictions(quick, grid):
    assert grid.sizes["case"] == 6 and not grid["status"].any()
    np.testing.assert_array_equal(grid[FORCE], [50, 50, 60, 60, 70, 70])
    np.testing.assert_array_equal(grid[STRETCH], [2.0, 2.5] * 3)
    for case in (0, 3, 5):
        one = grid.isel(case=case)
        r = hf.predict(quick.replace({FORCE: float(one[FORCE]), STRETCH: hf.with_unit(100 * float(one[STRETCH]), "%")}))
        assert float(one[MIDDLE]) == r.containment.after_storage.middle.hoop_tension
        assert float(one["film.mass"]) == r.film.mass
        assert float(one["film.stretch_on_load"]) == r.film_path.stretch_on_load
    assert grid[FORCE].attrs["units"] == "N" and grid[MIDDLE].attrs["units"] == "N/m"


def test_the_number_of_threads_changes_nothing(quick, grid):
    vary = {FORCE: [50.0, 60.0, 70.0], STRETCH: ["200 %", "250 %"]}
    for jobs in (1, 3):
        again = hf.sweep(quick, vary, jobs=jobs)
        for name in grid.data_vars:
            np.testing.assert_array_equal(again[name].values, grid[name].values, err_msg=str(name))


def test_memory_and_file_hold_the_same(quick, tmp_path):
    vary = {FORCE: [50.0, 70.0], "load.kind": ["cased", "rigid"]}
    outputs = ["summary", "hoop_tension"]
    near = hf.sweep(quick, vary, outputs=outputs)
    with hf.sweep(quick, vary, outputs=outputs, file=tmp_path / "s.h5") as far:
        assert set(far.variables) == set(near.variables)
        for name in far.variables:
            assert far[name].dims == near[name].dims, name
            np.testing.assert_array_equal(far[name].values, near[name].values, err_msg=str(name))
            for key in ("units", "long_name"):
                if name not in ("time", "height", "face"):
                    assert far[name].attrs.get(key) == near[name].attrs.get(key), (name, key)
        assert far.attrs["sweep_hash"] == near.attrs["sweep_hash"] and far.attrs["sampling"] == "grid"
    with pytest.raises(hf.IoError):
        hf.sweep(quick, vary, outputs=outputs, file=tmp_path / "s.h5")


def test_the_command_sweeps_alike(command, quick, tmp_path, film_path):
    text = quick.replace({"film.file": str(film_path)}).to_text()
    (tmp_path / "sc.toml").write_text(text, encoding="utf-8")
    (tmp_path / "sweep.toml").write_text(
        'scenario = "sc.toml"\nsampling = "sobol"\nsamples = 8\n[vary]\n"delivery.tension.force" = '
        '{ from = "50 N", to = "80 N" }\n"delivery.prestretch" = { from = "200 %", to = "260 %" }\n',
        encoding="utf-8",
    )
    done = subprocess.run(
        [command, "sweep", tmp_path / "sweep.toml", "-o", tmp_path / "s.h5"],
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert done.returncode == 0, done.stderr
    mine = hf.sweep(
        hf.read(tmp_path / "sc.toml"),
        {FORCE: {"from": "50 N", "to": "80 N"}, STRETCH: {"from": "200 %", "to": "260 %"}},
        sampling="sobol",
        samples=8,
    )
    with xarray.open_dataset(tmp_path / "s.h5") as file:
        for name in (FORCE, STRETCH, MIDDLE, "film.mass"):
            np.testing.assert_array_equal(file[name].values, mine[name].values, err_msg=name)


def test_sobol_points_are_those_of_scipy(quick):
    qmc = pytest.importorskip("scipy.stats.qmc")
    ds = hf.sweep(
        quick,
        {FORCE: {"from": 50.0, "to": 80.0}, STRETCH: {"from": "200 %", "to": "260 %"}},
        sampling="sobol",
        samples=8,
        outputs="film.mass",
    )
    unit = qmc.Sobol(2, scramble=False).random(8)
    np.testing.assert_allclose(ds[FORCE], 50 + 30 * unit[:, 0], rtol=1e-14)
    np.testing.assert_allclose(ds[STRETCH], 2 + 0.6 * unit[:, 1], rtol=1e-14)


def test_latin_hypercube_fills_every_stratum(quick):
    ds = hf.sweep(
        quick, {FORCE: {"from": 50.0, "to": 80.0}}, sampling="latin-hypercube", samples=10, seed=4, outputs="film.mass"
    )
    assert sorted(np.floor((ds[FORCE].values - 50.0) / 3.0)) == list(range(10))


def test_tables_and_dataframes(quick):
    pandas = pytest.importorskip("pandas")
    columns = {FORCE: [50.0, 60.0, 70.0], SPEED: ["8 rpm", "12 rpm", "10 rpm"]}
    by_frame = hf.sweep(quick, pandas.DataFrame(columns), outputs="film.mass")
    by_table = hf.sweep(quick, columns, sampling="table", outputs="film.mass")
    assert by_frame.sizes["case"] == 3
    np.testing.assert_array_equal(by_frame["film.mass"], by_table["film.mass"])


def test_a_failed_case_is_a_message(quick):
    ds = hf.sweep(quick, {FORCE: [60.0, 500.0, 70.0]})
    np.testing.assert_array_equal(ds["status"], [0, 1, 0])
    assert str(ds["message"].values[1]) and not str(ds["message"].values[0])
    assert np.isnan(ds[MIDDLE].values[1]) and np.isfinite(ds[MIDDLE].values[[0, 2]]).all()


def test_fields_have_their_dimensions(quick):
    ds = hf.sweep(quick, {FORCE: [50.0, 70.0]}, outputs="hoop_tension")
    assert ds["hoop_tension"].dims == ("case", "time", "face", "height")
    np.testing.assert_array_equal(ds["hoop_tension"].values[1], hf.predict(quick.replace({FORCE: 70.0})).hoop_tension)


def test_unstack_gives_a_grid(grid):
    cube = hf.unstack(grid)
    assert dict(cube.sizes)[FORCE] == 3 and dict(cube.sizes)[STRETCH] == 2
    for case in range(6):
        one = grid.isel(case=case)
        assert float(cube[MIDDLE].sel({FORCE: float(one[FORCE]), STRETCH: float(one[STRETCH])})) == float(one[MIDDLE])


@pytest.mark.parametrize(
    "vary, why",
    [
        ({"delivery.tension.forse": [1.0]}, "delivery.tension.force"),
        ({FORCE: 70.0}, "list"),
        ({FORCE: "70 N"}, "list"),
        ({FORCE: np.ones((2, 2))}, "one dimension"),
        ({FORCE: {"from": 1.0}}, "from"),
        ({FORCE: {"from": 1, "to": 2, "by": 3}}, "from"),
        ({FORCE: ["70 kg"]}, "force"),
        ({FORCE: []}, FORCE),
        ([FORCE], "DataFrame"),
    ],
)
def test_what_cannot_be_meant_is_refused(quick, vary, why):
    with pytest.raises(hf.InputError, match=why):
        hf.sweep(quick, vary)


def test_unknown_outputs_and_samplings(quick):
    with pytest.raises(hf.InputError, match="film.mass"):
        hf.sweep(quick, {FORCE: [70.0]}, outputs="film.mas")
    with pytest.raises(hf.InputError, match="latin-hypercube"):
        hf.sweep(quick, {FORCE: [70.0]}, sampling="random")


def test_progress_and_stopping(quick):
    told = []
    forces = list(np.linspace(50.0, 80.0, 400))

    def watch(share, text):
        told.append((share, text))
        return len(told) < 3

    ds = hf.sweep(quick, {FORCE: forces}, progress=watch)
    assert 3 <= len(told) and "of 400 cases" in told[0][1]
    status = ds["status"].values
    if told[2][0] < 1.0:  # a quick machine may be done before
        assert (status == 2).any() and np.isnan(ds[MIDDLE].values[status == 2]).all()
    assert np.isfinite(ds[MIDDLE].values[status == 0]).all()


def test_ctrl_c_then_resume(scenario_path, tmp_path):
    """The signal comes once the first block of cases is in the journal. Should all be done before it is heard, the
    same again
    with four times the cases."""
    out = tmp_path / "s.h5"
    for cases in (1000, 4000, 16000):
        common = textwrap.dedent(f"""
            import hoopfield as hf, numpy as np
            sc = hf.read({str(scenario_path)!r}).replace({{"numerics.slices": 3, "numerics.tolerance": 1e-2}})
            vary = {{"storage.duration": hf.with_unit(np.linspace(1e5, 6e5, {cases}), "s")}}
            out = {str(out)!r}
        """)
        script = common + textwrap.dedent("""
            try:
                hf.sweep(sc, vary, file=out, overwrite=True)
                print("done", flush=True)
            except KeyboardInterrupt:
                print("stopped", flush=True)
        """)
        process = subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True)
        journal = tmp_path / "s.h5.journal"
        wait_until(lambda: journal.exists() and "\nend " in journal.read_text(), process, "the first save")
        os.kill(process.pid, signal.SIGINT)
        if finish(process)[0].strip() == "stopped":
            break
    assert not out.exists() and journal.exists()
    names = {}
    exec(common, names)
    with hf.sweep(names["sc"], names["vary"], file=names["out"], resume=True) as resumed:
        whole = hf.sweep(names["sc"], names["vary"])
        for name in whole.data_vars:
            np.testing.assert_array_equal(resumed[name].values, whole[name].values, err_msg=str(name))


def test_problem_for_salib():
    problem = hf.sweep_problem({FORCE: ("50 N", 80.0), STRETCH: ("200 %", "250 %")})
    assert problem == {
        "num_vars": 2,
        "names": [FORCE, STRETCH],
        "bounds": [[50.0, 80.0], [200.0, 250.0]],
        "units": ["N", "%"],
    }
    with pytest.raises(hf.InputError, match=FORCE):
        hf.sweep_problem({"delivery.tension.forc": (1.0, 2.0)})
    with pytest.raises(hf.InputError, match="low"):
        hf.sweep_problem({FORCE: (2.0, 1.0)})


def test_map_of_a_sweep(grid, quick):
    plt = pytest.importorskip("matplotlib.pyplot")
    ax = hf.plot.sweep_map(grid, FORCE, STRETCH, target=float(grid[MIDDLE].mean()))
    table = np.asarray(ax.collections[0].get_array()).reshape(2, 3)
    np.testing.assert_array_equal(table, grid[MIDDLE].values.reshape(3, 2).T)
    assert "Hoop tension, middle, after storage, N/m" in ax.get_title(loc="left")
    assert ax.get_xlabel() == "Span force, N" and ax.get_ylabel() == "Pre-stretch, %"
    low = hf.plot.sweep_map(grid, FORCE, STRETCH, target=1.0)
    assert "not crossed" in low.get_title(loc="left")
    with pytest.raises(hf.InputError, match="no case"):
        hf.plot.sweep_map(grid, FORCE, STRETCH, where={FORCE: 1.0})
    with pytest.raises(hf.InputError, match="film.mas"):
        hf.plot.sweep_map(grid, FORCE, STRETCH, "film.mas")
    plt.close("all")


def test_a_process_forked_during_a_sweep_ends_and_the_sweep_goes_on(small, tmp_path):
    """In a process of its own: the child that is forked must not come back to the tests."""
    (tmp_path / "s.toml").write_text(small.to_text())
    code = """
import os, sys
import hoopfield as hf
children = []
def fork(share, text):
    if not children:
        children.append(os.fork())
film = hf.Film.from_text(open(sys.argv[2]).read())
scenario = hf.Scenario.from_text(open(sys.argv[1]).read(), film=film)
data = hf.sweep(scenario, {"delivery.tension.force": [50.0 + i for i in range(64)]}, file=sys.argv[3], progress=fork)
_, status = os.waitpid(children[0], 0)
print(os.waitstatus_to_exitcode(status), int((data.status == 0).sum()))
"""
    (tmp_path / "film.toml").write_text(small.film.text)
    done = subprocess.run(
        [sys.executable, "-c", code, tmp_path / "s.toml", tmp_path / "film.toml", tmp_path / "x.h5"],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["1", "64"] and "cannot go on" in done.stderr


def test_a_sweep_of_a_path_says_what_to_do(scenario_path):
    with pytest.raises(TypeError, match="read it first: hoopfield.read"):
        hf.sweep(scenario_path, {"pattern.pitch": ["200 mm"]})
    with pytest.raises(TypeError, match="needs a Scenario, not dict"):
        hf.sweep({}, {"pattern.pitch": ["200 mm"]})


def test_sobol_counts_that_are_no_power_of_two_are_said(scenario):
    vary = {"delivery.tension.force": {"from": "60 N", "to": "80 N"}}
    with pytest.warns(UserWarning, match="16 or 32 would"):
        hf.sweep(scenario, vary, sampling="sobol", samples=17, outputs="film.mass")
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        hf.sweep(scenario, vary, sampling="sobol", samples=16, outputs="film.mass")


def test_a_reader_is_looked_for_before_anything_is_computed(scenario, tmp_path, monkeypatch):
    find = importlib.util.find_spec
    missing = {"h5py", "netCDF4"}
    monkeypatch.setattr(importlib.util, "find_spec", lambda name, *a: None if name in missing else find(name, *a))
    with pytest.raises(ImportError, match=r"hoopfield\[xarray\]"):
        hf.sweep(scenario, {"pattern.pitch": ["200 mm", "250 mm"]}, file=tmp_path / "s.h5")
    assert list(tmp_path.iterdir()) == []


def test_files_open(scenario, tmp_path):
    with hf.sweep(
        scenario, {"pattern.pitch": ["200 mm", "250 mm"]}, file=tmp_path / "s.h5", outputs="film.mass"
    ) as data:
        swept = data["film.mass"].values
    with hf.open(tmp_path / "s.h5") as data:
        np.testing.assert_array_equal(data["film.mass"].values, swept)
    result = hf.predict(scenario)
    result.save(tmp_path / "r.h5")
    with hf.open(tmp_path / "r.h5", "stations") as data:
        assert data.sizes["station"] == 3
    for wrong, error in ((tmp_path, hf.IoError), (tmp_path / "none.h5", hf.IoError)):
        with pytest.raises(error):
            hf.open(wrong)
    with pytest.raises(hf.InputError, match="no group"):
        hf.open(tmp_path / "r.h5", "fields")
    (tmp_path / "text.h5").write_text("not HDF5")
    with pytest.raises(hf.IoError, match="cannot be read"):
        hf.open(tmp_path / "text.h5")
    import h5py

    with h5py.File(tmp_path / "other.h5", "w") as other:
        other["x"] = [1.0]
    with pytest.raises(hf.IoError, match="not written by hoopfield"):
        hf.open(tmp_path / "other.h5")


def test_swept_inputs_in_customary_units(scenario):
    vary = {
        "rotation.speed": ["10 rpm", "12 rpm"],
        "delivery.prestretch": ["200 %", "250 %"],
        "delivery.tension.control": ["constant"],
    }
    data = hf.sweep(scenario, vary, outputs="film.mass")
    shown = hf.in_customary_units(data)
    np.testing.assert_allclose(shown["rotation.speed"].values, [10, 10, 12, 12])
    np.testing.assert_allclose(shown["delivery.prestretch"].values, [200, 250, 200, 250])
    assert shown["rotation.speed"].attrs["units"] == "rpm" and shown["delivery.prestretch"].attrs["units"] == "%"
    assert data["rotation.speed"].attrs["units"] == "rad/s"  # the data given stay
    np.testing.assert_array_equal(shown["film.mass"].values, data["film.mass"].values)
    xarray.testing.assert_identical(hf.in_customary_units(shown), shown)  # once is enough
    grid = hf.in_customary_units(hf.unstack(data))
    np.testing.assert_allclose(grid["rotation.speed"].values, [10, 12])


def test_shards_merge(quick, tmp_path):
    vary = {FORCE: [50.0, 60.0, 500.0, 70.0, 80.0], STRETCH: ["200 %", "250 %"]}
    whole = hf.sweep(quick, vary)
    files = [tmp_path / f"{number}.h5" for number in (1, 2, 3)]
    for number, file in enumerate(files, 1):
        with hf.sweep(quick, vary, shard=f"{number}/3", file=file) as shard:
            near = hf.sweep(quick, vary, shard=f"{number}/3")
            assert {k: v for k, v in shard.attrs.items() if k != "Conventions"} == near.attrs
            np.testing.assert_array_equal(shard["case"].values, near["case"].values)
    with hf.merge(files[::-1], tmp_path / "all.h5") as merged:
        for name in whole.variables:
            np.testing.assert_array_equal(merged[name].values, whole[name].values, err_msg=str(name))
        assert merged.attrs["sweep_hash"] == whole.attrs["sweep_hash"] and "shard" not in merged.attrs
    with pytest.raises(hf.InputError, match="shards 1, 2 of 3 are missing"):
        hf.merge(files[2:], tmp_path / "new.h5")
    with pytest.raises(hf.InputError, match="a list"):
        hf.merge(files[0], tmp_path / "new.h5")
    with pytest.raises(hf.IoError):
        hf.merge(files, tmp_path / "all.h5")
    with pytest.raises(hf.InputError, match="3/16"):
        hf.sweep(quick, vary, shard="third")


def test_values_out_of_bounds_by_choice(quick):
    vary = {STRETCH: ["250 %", "900 %"], FORCE: [60.0, -5.0]}
    with pytest.raises(hf.OutOfRange, match=STRETCH):
        hf.sweep(quick, vary)
    data = hf.sweep(quick, vary, out_of_bounds="failed")
    np.testing.assert_array_equal(data["status"], [0, 1, 1, 1])
    assert "900 %" in str(data["message"].values[2]) and FORCE in str(data["message"].values[1])
    with pytest.raises(hf.InputError, match='expected "refused" or "failed"'):
        hf.sweep(quick, vary, out_of_bounds="ignored")


def test_bare_numbers_are_taken_where_they_can_be_one_thing_only(quick):
    with pytest.raises(hf.InputError, match=r'rotation.speed: 8 has no unit; write "8 rpm" or "8 rad/s"'):
        hf.sweep(quick, {SPEED: [8, 12]})
    with pytest.raises(hf.InputError, match=r'write "2.5 %" or "250 %"'):
        hf.sweep(quick, {STRETCH: {"from": 2.5, "to": "300 %", "steps": 2}})
    with pytest.raises(hf.InputError, match=r'write "8 rpm" or "8 rad/s"'):
        hf.sweep_problem({SPEED: (8, 12)})
    swept = hf.sweep(quick, {SPEED: hf.with_unit(np.array([8.0, 12.0]), "rpm"), FORCE: [60.0]}, outputs="film.mass")
    shown = hf.in_customary_units(swept)
    again = quick.replace({SPEED: hf.with_unit(shown[SPEED].values[1], shown[SPEED].attrs["units"])})
    assert again[SPEED] == swept[SPEED].values[1]
