# SPDX-License-Identifier: BSD-3-Clause
"""Puts the reference package on the path and declares the marks."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))


def pytest_configure(config):
    config.addinivalue_line("markers", "slow: integrates a whole reference case again")
