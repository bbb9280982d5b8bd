# SPDX-License-Identifier: BSD-3-Clause
"""Options are accepted where they act and nowhere else."""

import os
import subprocess

import pytest

COMMAND = os.environ.get("HOOPFIELD_COMMAND")
pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND names no command")

PAGES = ["check", "predict", "compare", "new", "explain", "film test", "film fit", "film from-datasheet"]
WRITERS = ["predict", "compare", "new", "sweep", "film test", "film fit", "film from-datasheet"]
ALL = sorted({*PAGES, *WRITERS, "selftest"})


def run(*words):
    return subprocess.run([COMMAND, *words], capture_output=True, text=True, check=False)


@pytest.mark.parametrize("command", ALL)
@pytest.mark.parametrize(("option", "takers"), [("--units", PAGES), ("--overwrite", WRITERS)])
def test_an_option_is_taken_where_it_acts(command, option, takers):
    assert (option in run(*command.split(), "--help").stdout) == (command in takers)


@pytest.mark.parametrize(
    "words",
    [
        ("selftest", "--units", "metric"),
        ("selftest", "--overwrite"),
        ("explain", "load.mass", "--overwrite"),
        ("explain", "--markdown", "--units", "inch-pound"),
        ("check", "examples/01_first_prediction/scenario.toml", "--overwrite"),
        ("sweep", "examples/03_sweep/sweep.toml", "-o", "never.h5", "--units", "metric"),
    ],
)
def test_an_option_without_effect_is_refused(words):
    done = run(*words)
    assert done.returncode == 2 and words[-1] in done.stderr + words[-1]
    assert done.stdout == "" and ("--units" in done.stderr or "--overwrite" in done.stderr)
