# SPDX-License-Identifier: BSD-3-Clause
"""The Python package, as installed. Run with: pytest tests/bindings/python

Needs hoopfield importable, pytest, and for all tests: xarray h5netcdf h5py matplotlib scipy pandas SALib
pybind11-stubgen.
HOOPFIELD_COMMAND names the built command; without it the one that was installed beside Python is used.
"""

import os
import pathlib
import shutil
import sys

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[3]
os.environ.setdefault("MPLBACKEND", "Agg")
sys.path.append(str(ROOT / "tests" / "bindings"))  # running.py, wherever pytest was called

try:
    import hoopfield as hf
except ModuleNotFoundError as missing:
    if missing.name != "hoopfield":
        raise
    # tests/run.sh installs the package first; HOOPFIELD_COMMAND alone serves the other tests.
    collect_ignore_glob = ["test_*.py"]

    def pytest_report_header(config):
        return "hoopfield cannot be imported: the tests of the Python package are NOT run"


@pytest.fixture(scope="session")
def root():
    return ROOT


@pytest.fixture(scope="session")
def scenario_path():
    return ROOT / "examples" / "01_first_prediction" / "scenario.toml"


@pytest.fixture(scope="session")
def film_path():
    return ROOT / "models" / "parameters" / "films" / "general-film.toml"


@pytest.fixture(scope="session")
def scenario(scenario_path):
    return hf.read(scenario_path)


@pytest.fixture(scope="session")
def small(scenario):
    """A quick variant: same physics, fewer slices."""
    return scenario.replace({"numerics.slices": 12})


@pytest.fixture(scope="session")
def result(small):
    return hf.predict(small, band_samples=0)


@pytest.fixture(scope="session")
def command():
    """The hoopfield command of this build."""
    beside = shutil.which("hoopfield", path=str(pathlib.Path(sys.executable).parent))
    found = os.environ.get("HOOPFIELD_COMMAND") or beside
    if not found:
        pytest.skip("no hoopfield command: neither HOOPFIELD_COMMAND nor one beside this Python")
    return found
