# SPDX-License-Identifier: BSD-3-Clause
"""Declares the marks."""


def pytest_configure(config):
    config.addinivalue_line("markers", "slow: minutes of killing and resuming")
