# SPDX-License-Identifier: BSD-3-Clause
"""Output that cannot be written: a message, exit code 4, and nothing half-written.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_write_failures.py
"""

import os
import pathlib
import resource
import shutil
import subprocess

import pytest

from running import HUNG, cost_of, finish, wait_for_work

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCENARIO = ROOT / "examples" / "01_first_prediction" / "scenario.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
no_bands = ("--band-samples", "0")  # what fails here is the writing, not what is written

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def start(*arguments, **options):
    return subprocess.Popen(
        [COMMAND, *map(str, arguments)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **options
    )


def limit_file_size(size):
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@pytest.mark.parametrize("size", [0, 1, 4096, 20000])
@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_a_write_that_fails_half_way_leaves_nothing(tmp_path, size, option, name):
    child = start("predict", SCENARIO, *no_bands, option, tmp_path / name, preexec_fn=limit_file_size(size))
    _, errors = finish(child)
    assert child.returncode == 4 and "File too large" in errors, errors
    left = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert not left


@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_an_old_result_survives_a_write_that_fails(tmp_path, option, name):
    done = start("predict", SCENARIO, *no_bands, option, tmp_path / name)
    finish(done)
    assert done.returncode == 0
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    child = start(
        "predict", SCENARIO, *no_bands, option, tmp_path / name, "--overwrite", preexec_fn=limit_file_size(2000)
    )
    finish(child)
    assert child.returncode == 4
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.fixture(scope="module")
def plain_work():
    """Processor time of the plain scenario, s."""
    done, used = cost_of([COMMAND, "predict", SCENARIO])
    assert done.returncode == 0, done.stderr
    return used


@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_a_folder_that_disappears_meanwhile(tmp_path, long_scenario, plain_work, option, name):
    folder = tmp_path / "results"
    folder.mkdir()
    slow = tmp_path / "slow.toml"  # long enough to lose its folder meanwhile
    slow.write_text(long_scenario, encoding="utf-8")
    child = start("predict", slow, option, folder / "deeper" / name if option == "--csv" else folder / name)
    # The names are checked before the work; the work of this scenario is many times that of the plain one.
    wait_for_work(child, 1.0, plain_work)
    shutil.rmtree(folder)
    _, errors = finish(child)
    assert child.returncode == 4, errors
    assert str(folder) in errors
    assert not folder.exists()


def test_standard_output_that_is_full():
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run([COMMAND, "explain"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=HUNG)
    assert done.returncode == 4 and "standard output" in done.stderr
