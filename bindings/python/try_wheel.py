# SPDX-License-Identifier: BSD-3-Clause
"""Tries an installed wheel: python -I try_wheel.py SCENARIO.toml. The package and its command predict, write HDF5 files
that h5py reads, and load no HDF5 library of the system."""

import os
import pathlib
import subprocess
import sys
import sysconfig
import tempfile
from importlib import metadata

import hoopfield as hf


def loaded_libraries() -> set[str]:
    """Files that this process has mapped."""
    lines = pathlib.Path("/proc/self/maps").read_text().splitlines()
    return {line.split(maxsplit=5)[5] for line in lines if line.count("/") > 0}


def compiled_files() -> list[pathlib.Path]:
    """The module and the command, which is moved into a folder of its own where the wheel is given its tag."""
    files = [pathlib.Path(str(file.locate())) for file in metadata.files("hoopfield") or []]
    return [file for file in files if file.is_file() and file.read_bytes()[:4] == b"\x7fELF"]


def needed_by(file: pathlib.Path) -> str:
    """What the loader finds for a compiled file, one library a line."""
    return subprocess.run(["ldd", file], capture_output=True, text=True, check=True).stdout


def check_licences() -> None:
    names = {pathlib.Path(str(file)).name for file in metadata.files("hoopfield") or [] if "licenses" in str(file)}
    missing = {"LICENSE", "THIRD_PARTY_NOTICES.md", "HDF5-COPYING.txt"} - names
    assert not missing, f"licences are missing: {missing}"


def main(scenario: str) -> None:
    folder = pathlib.Path(tempfile.mkdtemp())
    result = hf.predict(hf.read(scenario))
    result.save(folder / "package.h5")
    foreign = {path for path in loaded_libraries() if "hdf5" in os.path.basename(path)}
    assert not foreign, f"HDF5 of the system is loaded: {foreign}"
    compiled = compiled_files()
    assert len(compiled) >= 2, compiled
    for file in compiled:
        assert "hdf5" not in needed_by(file), needed_by(file)
    command = pathlib.Path(sysconfig.get_path("scripts")) / "hoopfield"
    subprocess.run(
        [command, "predict", scenario, "--band-samples", "0", "-o", folder / "command.h5"],
        check=True,
        stdout=subprocess.DEVNULL,
    )
    import h5py  # after the package: each brings an HDF5 of its own

    held = {}
    for name in ("package", "command"):
        with h5py.File(folder / f"{name}.h5") as file:
            held[name] = file["hoop_tension"][...]
    assert (held["package"] == held["command"]).all() and held["package"].max() > 0
    check_licences()
    print(f"hoopfield {hf.__version__}: predicts and writes HDF5 files, with no HDF5 library of the system")


main(sys.argv[1])
