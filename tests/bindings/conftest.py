# SPDX-License-Identifier: BSD-3-Clause
"""Declares the marks; the first example as a text that may be written anywhere."""

import pathlib

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[2]


def pytest_configure(config):
    config.addinivalue_line("markers", "slow: minutes of killing and resuming")


@pytest.fixture(scope="session")
def first_scenario():
    """The first example with the place of its film written out."""
    text = (ROOT / "examples" / "01_first_prediction" / "scenario.toml").read_text(encoding="utf-8")
    film = next(line for line in text.splitlines() if line.strip().startswith("file"))
    return text.replace(film, f'file = "{ROOT / "models" / "parameters" / "films" / "general-film.toml"}"')


@pytest.fixture(scope="session")
def long_scenario(first_scenario):
    """The same with so many steps, and as many draws as a prediction has, that there is time to disturb it."""
    return first_scenario.split("[numerics]")[0] + "\n[numerics]\nslices = 60\ntolerance = 1e-5\n"
