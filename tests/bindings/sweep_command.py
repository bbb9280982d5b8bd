# SPDX-License-Identifier: BSD-3-Clause
"""Small sweeps by the built command, and what their files hold."""

import json
import os
import pathlib
import subprocess

import numpy as np
import pytest

from running import HUNG

ROOT = pathlib.Path(__file__).resolve().parents[2]
FILM = ROOT / "models" / "parameters" / "films" / "general-film.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
needs_command = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")

SCENARIO = f"""
[film]
file = "{FILM}"
width = "500 mm"
thickness = "23 um"
[delivery]
prestretch = "250 %"
[delivery.tension]
force = "70 N"
[pattern]
pitch = "300 mm"
bottom_turns = 1
top_turns = 1
[load]
length = "1.2 m"
width = "1 m"
height = "0.8 m"
[storage]
duration = "60 s"
[numerics]
slices = 4
"""
# The last length is more than the outlet leaves room for, so that some cases fail.
SAMPLE = """
scenario = "scenario.toml"
sampling = "sobol"
samples = {samples}
outputs = {outputs}
[vary]
"delivery.tension.force" = {{ from = "40 N", to = "90 N" }}
"delivery.prestretch" = {{ from = "200 %", to = "320 %" }}
"load.length" = ["1 m", "1.1 m", "1.2 m", "4 m"]
"""


def run(*arguments, **options):
    return subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=HUNG, **options)


def write_sweep(folder, text, name="sweep.toml"):
    (folder / "scenario.toml").write_text(SCENARIO)
    (folder / name).write_text(text)
    return folder / name


def sample(folder, samples, outputs=("summary",)):
    return write_sweep(folder, SAMPLE.format(samples=samples, outputs=json.dumps(list(outputs))))


def contents(path):
    """Every array of the file, by name."""
    h5py = pytest.importorskip("h5py")
    arrays = {}
    with h5py.File(path, "r") as file:

        def visit(name, item):
            if isinstance(item, h5py.Dataset):
                arrays[name] = (item[()], item.dtype)

        file.visititems(visit)
    return arrays


def assert_identical(first, second):
    a, b = contents(first), contents(second)
    assert list(a) == list(b)
    for name in a:
        (x, x_type), (y, y_type) = a[name], b[name]
        assert x_type == y_type, name
        if x_type.kind == "f":
            assert np.array_equal(x, y, equal_nan=True), name
        else:
            assert np.array_equal(x, y), name


def start(sweep, target, *extra, **options):
    return subprocess.Popen(
        [COMMAND, "sweep", str(sweep), "-o", str(target), "--jobs", "2", *extra],
        stderr=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        **options,
    )


def saves(target):
    """How many blocks of cases the journal of an unfinished sweep holds whole."""
    journal = target.with_name(target.name + ".journal")
    return journal.read_text().count("\nend ") if journal.exists() else 0
