# SPDX-License-Identifier: BSD-3-Clause
"""Output that cannot be written: a message, exit code 4, and nothing half-written.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_write_failures.py
"""
import os
import pathlib
import resource
import shutil
import subprocess
import time

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCENARIO = ROOT / "examples" / "01_first_prediction" / "scenario.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def start(*arguments, **options):
    return subprocess.Popen([COMMAND, *map(str, arguments)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                            **options)


def limit_file_size(size):
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


@pytest.mark.parametrize("size", [0, 1, 4096, 20000])
@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_a_write_that_fails_half_way_leaves_nothing(tmp_path, size, option, name):
    child = start("predict", SCENARIO, option, tmp_path / name, preexec_fn=limit_file_size(size))
    _, errors = child.communicate(timeout=300)
    assert child.returncode == 4 and "File too large" in errors, errors
    left = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert not left


@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_an_old_result_survives_a_write_that_fails(tmp_path, option, name):
    done = start("predict", SCENARIO, option, tmp_path / name)
    done.communicate(timeout=300)
    assert done.returncode == 0
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    child = start("predict", SCENARIO, option, tmp_path / name, "--overwrite", preexec_fn=limit_file_size(2000))
    child.communicate(timeout=300)
    assert child.returncode == 4
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("option, name", [("-o", "r.h5"), ("--csv", "tables")])
def test_a_folder_that_disappears_meanwhile(tmp_path, long_scenario, option, name):
    folder = tmp_path / "results"
    folder.mkdir()
    slow = tmp_path / "slow.toml"  # long enough to lose its folder meanwhile
    slow.write_text(long_scenario, encoding="utf-8")
    child = start("predict", slow, option, folder / "deeper" / name if option == "--csv" else folder / name)
    time.sleep(0.3)
    shutil.rmtree(folder)
    _, errors = child.communicate(timeout=300)
    assert child.returncode == 4, errors
    assert str(folder) in errors
    assert not folder.exists()


def test_standard_output_that_is_full():
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run([COMMAND, "explain"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60)
    assert done.returncode == 4 and "standard output" in done.stderr
