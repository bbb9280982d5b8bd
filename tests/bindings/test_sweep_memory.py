# SPDX-License-Identifier: BSD-3-Clause
"""A small run of tests/bench/sweep_memory.py: what a million cases would take.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_sweep_memory.py
"""

import re
import subprocess
import sys

import pytest

from running import HUNG
from sweep_command import COMMAND, ROOT, needs_command

pytestmark = needs_command


@pytest.mark.slow
def test_a_million_cases_in_little_memory():
    """Cases that fail at once, each with a message of its own: nothing of them may stay. Few megabytes are measured and
    multiplied by twenty, so the answer is rough; the bench without --failing computes its cases."""
    script = ROOT / "tests" / "bench" / "sweep_memory.py"
    done = subprocess.run(
        [sys.executable, script, COMMAND, "--failing", "--cases", "10000", "30000", "50000"],
        capture_output=True,
        text=True,
        timeout=HUNG,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    told = re.search(r"(\d+) bytes a case: 1000000 cases take (\d+) MB", done.stdout)
    assert told and 0 < int(told[1]) < 260 and int(told[2]) < 300
