# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps by the built command: the file opens in xarray, samples are those of SciPy, killed sweeps resume to the same
data.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_sweep.py
"""

import json
import os
import resource
import signal
import subprocess
import sys

import numpy as np
import pytest

from running import HUNG, finish, wait_until
from sweep_command import (
    COMMAND,
    ROOT,
    SCENARIO,
    assert_identical,
    contents,
    needs_command,
    run,
    sample,
    saves,
    start,
    write_sweep,
)

MIDDLE = "containment.after_storage.middle.hoop_tension"

pytestmark = needs_command


def test_grid_opens_in_xarray_and_matches_predict(tmp_path):
    xarray = pytest.importorskip("xarray")
    sweep = write_sweep(
        tmp_path,
        """
scenario = "scenario.toml"
outputs = ["summary", "hoop_tension", "layer_tension"]
[vary]
"delivery.tension.force" = { from = "60 N", to = "80 N", steps = 3 }
"delivery.tension.control" = ["constant", "follow"]
""",
    )
    done = run("sweep", sweep, "-o", tmp_path / "s.h5", "--jobs", 2, "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["done"] == 6
    for engine in (None, "h5netcdf", "netcdf4"):
        with xarray.open_dataset(tmp_path / "s.h5", **({"engine": engine} if engine else {})) as data:
            assert dict(data.sizes)["case"] == 6
            assert set(data.coords) >= {
                "case",
                "delivery.tension.force",
                "delivery.tension.control",
                "face",
                "height",
                "time",
            }
            assert list(data["delivery.tension.force"].values) == [60, 60, 70, 70, 80, 80]
            assert list(data["delivery.tension.control"].values) == ["constant", "follow"] * 3
            assert data["hoop_tension"].dims == ("case", "time", "face", "height")
            assert data["layer_tension"].dims == ("case", "film_layer", "face", "height")
            assert data[MIDDLE].attrs["units"] == "N/m"
            assert data["status"].attrs["flag_meanings"] == "done failed pending"
            assert (data["status"] == 0).all() and (data["message"] == "").all()
            loaded = data.load()
    with xarray.open_dataset(tmp_path / "s.h5", group="inputs") as inputs:
        assert "scenario_text" in inputs

    (tmp_path / "one.toml").write_text(SCENARIO.replace('force = "70 N"', 'force = "80 N"\ncontrol = "follow"'))
    one = json.loads(run("predict", tmp_path / "one.toml", "-o", tmp_path / "one.h5", "--json").stdout)
    station = one["containment"]["after_storage"]["middle"]
    assert loaded[MIDDLE].values[5] == station["hoop_tension_N_per_m"]
    assert loaded["film.mass"].values[5] == one["film"]["mass_kg"]
    with xarray.open_dataset(tmp_path / "one.h5") as whole:
        assert np.array_equal(loaded["hoop_tension"].values[5], whole["hoop_tension"].values)
        assert np.array_equal(loaded["time"].values, whole["time"].values)
        assert np.array_equal(loaded["height"].values, whole["height"].values)


def test_result_does_not_depend_on_the_number_of_threads(tmp_path):
    sweep = sample(tmp_path, 40, ["summary", "hoop_tension_buildup"])
    for jobs in (1, 2, 5):
        done = run("sweep", sweep, "-o", tmp_path / f"{jobs}.h5", "--jobs", jobs)
        assert done.returncode == 0, done.stderr
    assert_identical(tmp_path / "1.h5", tmp_path / "2.h5")
    assert_identical(tmp_path / "1.h5", tmp_path / "5.h5")


def unit_points(tmp_path, sampling, samples, dimensions, extra=""):
    """The sample of a sweep over inputs from 0 to 1; whether a case can be computed does not matter here."""
    keys = [
        "load.shear_stiffness",
        "friction.between_tiers",
        "friction.tier_on_pallet",
        "friction.film_on_load",
        "load.creep_per_decade",
    ][:dimensions]
    lines = [
        f'"{key}" = {{ from = "0 N", to = "1 N" }}'
        if key == "load.shear_stiffness"
        else f'"{key}" = {{ from = 0, to = 1 }}'
        for key in keys
    ]
    sweep = write_sweep(
        tmp_path,
        f'scenario = "scenario.toml"\nsampling = "{sampling}"\nsamples = {samples}\n{extra}\n'
        'outputs = ["film.mass"]\n[vary]\n' + "\n".join(lines),
    )
    done = run("sweep", sweep, "-o", tmp_path / "points.h5", "--overwrite")
    assert done.returncode == 0, done.stderr
    return np.column_stack([contents(tmp_path / "points.h5")[key][0] for key in keys])


def test_sobol_points_are_those_of_scipy(tmp_path):
    qmc = pytest.importorskip("scipy.stats.qmc")
    points = unit_points(tmp_path, "sobol", 64, 5)
    assert np.array_equal(points, qmc.Sobol(5, scramble=False).random(64))


def test_latin_hypercube_has_the_properties_of_scipys(tmp_path):
    """SciPy's points come from another generator: the strata are the same, the discrepancy is of the same kind."""
    qmc = pytest.importorskip("scipy.stats.qmc")
    points = unit_points(tmp_path, "latin-hypercube", 64, 3, "seed = 11")
    for column in points.T:
        assert sorted(np.ceil(column * 64).astype(int)) == list(range(1, 65))
    theirs = [qmc.discrepancy(qmc.LatinHypercube(3, seed=seed).random(64)) for seed in range(200)]
    assert min(theirs) * 0.8 < qmc.discrepancy(points) < max(theirs) * 1.2
    again = unit_points(tmp_path, "latin-hypercube", 64, 3, "seed = 11")
    other = unit_points(tmp_path, "latin-hypercube", 64, 3, "seed = 12")
    assert np.array_equal(points, again) and not np.array_equal(points, other)


def test_table_of_cases(tmp_path):
    (tmp_path / "cases.csv").write_text(
        "# measured lines\n\ndelivery.tension.force, storage.temperature, load.kind\n"
        '60 N, 5 degC, cased\n"16 lbf", "[[""0 h"", ""23 degC""], [""1 min"", ""40 degC""]]", bagged\n'
    )
    sweep = write_sweep(tmp_path, 'scenario = "scenario.toml"\nsampling = "table"\ntable = "cases.csv"\n')
    done = run("sweep", sweep, "-o", tmp_path / "t.h5", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["done"] == 2
    data = contents(tmp_path / "t.h5")
    assert np.allclose(data["delivery.tension.force"][0], [60, 16 * 4.4482216152605], rtol=1e-14)
    assert list(data["load.kind"][0]) == [b"cased", b"bagged"]


def test_failed_cases_are_messages_not_the_end(tmp_path):
    sweep = sample(tmp_path, 32)
    done = run("sweep", sweep, "-o", tmp_path / "s.h5")
    assert done.returncode == 0, done.stderr
    data = contents(tmp_path / "s.h5")
    status, message, values = data["status"][0], data["message"][0], data[MIDDLE][0]
    assert 0 < (status == 1).sum() < 32
    assert np.array_equal(status == 1, np.isnan(values))
    assert all((len(m) > 0) == (s == 1) for m, s in zip(message, status))
    assert f"{(status == 1).sum()} failed" in done.stdout
    assert "first case" in done.stdout


def test_an_unknown_instruction_set_is_one_mistake(tmp_path):
    done = run("sweep", sample(tmp_path, 32), "-o", tmp_path / "s.h5", env={**os.environ, "HOOPFIELD_SIMD": "sse"})
    assert done.returncode == 2 and "HOOPFIELD_SIMD: 'sse'" in done.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["scenario.toml", "sweep.toml"]


def test_more_threads_than_the_system_grants(tmp_path):
    """Two hundred threads, and memory for the stacks of some forty: those that start do all the cases. The sanitizers
    reserve
    terabytes themselves, so there the limit cannot be set; their builds leave the tests of the command out."""
    sweep = sample(tmp_path, 400)
    limit = 400_000 * 1024
    few = run(
        "sweep",
        sweep,
        "-o",
        tmp_path / "few.h5",
        "--jobs",
        200,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (limit, limit)),
    )
    assert few.returncode == 0, few.stderr
    whole = run("sweep", sweep, "-o", tmp_path / "whole.h5", "--jobs", 2)
    assert whole.returncode == 0, whole.stderr
    assert_identical(tmp_path / "few.h5", tmp_path / "whole.h5")


def test_no_thread_at_all_is_said(tmp_path):
    sweep = sample(tmp_path, 4)
    for limit in range(60_000_000, 400_000_000, 5_000_000):
        done = run(
            "sweep",
            sweep,
            "-o",
            tmp_path / "s.h5",
            "--jobs",
            1,
            "--overwrite",
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (limit, limit)),
        )
        if done.returncode == 0:
            break
        # Below a certain memory the program cannot even be loaded (127); from there on there is a message, never an
        # abort.
        assert done.returncode in (3, 4, 127), (limit, done.returncode, done.stderr)
        assert done.stderr
    assert done.returncode == 0


def test_interrupt_keeps_what_is_finished_and_says_how_to_go_on(tmp_path):
    sweep = sample(tmp_path, 65536)
    target = tmp_path / "s.h5"
    process = start(sweep, target)
    wait_until(lambda: saves(target) > 0, process, "the first save")
    process.send_signal(signal.SIGINT)
    _, stderr = finish(process)
    assert process.returncode == 130, stderr
    assert "--resume" in stderr and "s.h5.part" in stderr
    assert not target.exists()
    kept = (contents(tmp_path / "s.h5.part")["status"][0] != 2).sum()
    assert 0 < kept < 65536
    assert f"{kept} of 65536" in stderr


def test_full_disk_is_an_error_and_can_be_resumed(tmp_path):
    sweep = sample(tmp_path, 300, ["summary", "layer_tension"])
    limit = 400_000

    def small_files():
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    failed = run("sweep", sweep, "-o", tmp_path / "s.h5", preexec_fn=small_files)
    assert failed.returncode == 4, (failed.returncode, failed.stderr)
    assert "cannot write" in failed.stderr
    assert not (tmp_path / "s.h5").exists()
    done = run("sweep", sweep, "-o", tmp_path / "s.h5", "--resume")
    assert done.returncode == 0, done.stderr
    whole = run("sweep", sweep, "-o", tmp_path / "whole.h5")
    assert whole.returncode == 0, whole.stderr
    assert_identical(tmp_path / "s.h5", tmp_path / "whole.h5")


# Small cases of one film path, most of which fail, so that three saves take a fraction of a second.
SMALL_CASES = """
scenario = "scenario.toml"
outputs = {outputs}
[vary]
"numerics.slices" = [1]
"storage.duration" = {{ from = "1 s", to = "60 s", steps = 256 }}
"load.length" = ["1.1 m", "4 m", "5 m"]
"""


def disturbed(folder, **values):
    """The environment in which a sweep counts what it does to its files, and dies where it is told
    (tests/support/kill_at.c)."""
    library = os.environ.get("HOOPFIELD_KILL_AT")
    if not library:
        pytest.skip("HOOPFIELD_KILL_AT does not name the library that kills (tests/CMakeLists.txt builds it)")
    return {**os.environ, "LD_PRELOAD": library, "KILL_IN": str(folder), **values}


def crash_and_resume(tmp_path, kills, kills_of_a_file, outputs):
    """Kills a sweep while it does something to its files: the writes, half done, and the moves that lead from nothing
    to the
    finished file are counted in a sweep that is left alone, and the kills fall on numbers spread over all of them.
    After some
    kills the sweep is let end. Returns how many kills left finished cases behind, and at how many different numbers."""
    whole = tmp_path / "whole.h5"
    sweep = write_sweep(tmp_path, SMALL_CASES.format(outputs=json.dumps(outputs)))
    count = tmp_path / "count"
    done = run("sweep", sweep, "-o", whole, "--jobs", 2, env=disturbed(tmp_path, KILL_COUNT=str(count)))
    assert done.returncode == 0, done.stderr
    calls = int(count.read_text())
    assert calls > 4 * kills, "too few calls to choose from"
    # Every kill has its own stretch of the whole; in an order that has early, late and middle ones in each file.
    moments = [1 + (calls * ((7 * i) % kills)) // kills for i in range(kills)]
    assert len(set(moments)) == kills
    with_cases, at, met, rounds = 0, 0, set(), 0
    while at < kills:
        target = tmp_path / f"round{rounds}.h5"
        rounds += 1
        for _ in range(min(kills_of_a_file, kills - at)):
            process = start(sweep, target, "--resume", env=disturbed(tmp_path, KILL_AT=str(moments[at])))
            at += 1
            _, stderr = finish(process)
            if process.returncode >= 0:  # a resumed sweep has less to do than the number
                assert process.returncode == 0, stderr
                break
            assert process.returncode == -signal.SIGKILL, stderr
            met.add(moments[at - 1])
            with_cases += saves(target) > 0
        last = run("sweep", sweep, "-o", target, "--resume")
        assert last.returncode == 0, last.stderr
        assert_identical(target, whole)
        assert not list(tmp_path.glob(f"{target.name}.*"))
        target.unlink()
    return with_cases, len(met)


@pytest.mark.slow
@pytest.mark.parametrize("outputs", [["summary"], ["summary", "hoop_tension", "layer_tension"]])
def test_fifty_kills(tmp_path, outputs):
    with_cases, met = crash_and_resume(tmp_path, 54, 9, outputs)
    assert met >= 50
    assert with_cases >= 10  # resumed from something, not always from nothing


@pytest.mark.slow
def test_many_cases_in_constant_memory(tmp_path):
    """Cases whose load is out of reach, so that each fails at once: the sweep is measured, not the prediction. What
    memory
    grows by from one number of cases to eight times as many is the place and the message of each case, not its data."""
    peaks = []
    for steps in (4, 32):
        sweep = write_sweep(
            tmp_path,
            f"""
scenario = "scenario.toml"
[vary]
"load.length" = {{ from = "8 m", to = "9 m", steps = 250 }}
"delivery.tension.force" = {{ from = "60 N", to = "80 N", steps = {steps} }}
""",
        )
        code = (
            "import resource,subprocess,sys; r=subprocess.run(sys.argv[1:]).returncode; "
            "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss); sys.exit(r)"
        )
        done = subprocess.run(
            [sys.executable, "-c", code, COMMAND, "sweep", str(sweep), "-o", str(tmp_path / f"{steps}.h5")],
            capture_output=True,
            text=True,
            timeout=HUNG,
        )
        assert done.returncode == 0, done.stderr
        peaks.append(int(done.stdout.split()[-1]) * 1024)
    assert (peaks[1] - peaks[0]) / (250 * (32 - 4)) < 2048  # bytes a case
    assert peaks[1] < 150e6


def test_example_runs_as_its_readme_says(tmp_path):
    xarray = pytest.importorskip("xarray")
    folder = ROOT / "examples" / "03_sweep"
    done = run("sweep", folder / "sweep.toml", "-o", tmp_path / "sweep.h5")
    assert done.returncode == 0, done.stderr
    assert "60 cases, 60 done, 0 failed" in done.stdout
    page = subprocess.run(
        [sys.executable, folder / "map.py", tmp_path / "sweep.h5"], capture_output=True, text=True, timeout=HUNG
    )
    assert page.returncode == 0, page.stderr
    rows = [[float(word) for word in line.split()] for line in page.stdout.splitlines()[2:]]
    with xarray.open_dataset(tmp_path / "sweep.h5") as data:
        values = data[MIDDLE].values.reshape(5, 4, 3)  # the last axis of the file varies fastest
        assert np.isfinite(values).all()
        assert np.allclose(np.array(rows)[:, 1:], values[:, :, 1], atol=0.5 + 1e-9)
        assert [row[0] for row in rows] == [50, 60, 70, 80, 90]
        best = data.isel(case=data[MIDDLE].argmax("case").item())  # the snippet of the README
        assert best[MIDDLE].item() == values.max()
