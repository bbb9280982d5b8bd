# SPDX-License-Identifier: BSD-3-Clause
"""Result and sweep files as datasets."""

from __future__ import annotations

import importlib.util
import os
from typing import TYPE_CHECKING, Any

from .errors import InputError, IoError

if TYPE_CHECKING:
    import xarray

__all__ = ["check_reader", "need_xarray", "open"]

_GROUPS = ("stations", "span", "film_path", "transit")


def need_xarray(what: str) -> Any:
    """The module; raises ImportError with what installs it."""
    try:
        import xarray
    except ImportError:
        raise ImportError(f"{what} needs xarray: pip install 'hoopfield[xarray]'") from None
    return xarray


def check_reader(what: str) -> None:
    """Raises ImportError unless there is what xarray reads HDF5 with: before anything is computed."""
    has_h5 = all(importlib.util.find_spec(name) is not None for name in ("h5netcdf", "h5py"))
    if not has_h5 and importlib.util.find_spec("netCDF4") is None:
        raise ImportError(f"{what} needs h5netcdf with h5py, or netCDF4: pip install 'hoopfield[xarray]'")


def open(path: str | os.PathLike[str], group: str | None = None) -> xarray.Dataset:
    """The file of a prediction, a sweep or a load in transit as a dataset, read as far as it is used; close it, or use
    ``with``.

    group: "stations", "span", "film_path" or "transit" of a prediction, "transit" (courses over time, too) of
    ``hoopfield transit -o``; the fields over the load, or the cases of a sweep, when left out. A sweep that was stopped
    can be read from its ``.part`` file. Raises IoError for a file that cannot be read or that hoopfield did not write,
    InputError for a group no file has.
    """
    xarray = need_xarray("open")
    check_reader("open")
    name = os.fspath(path)
    if group is not None and group not in _GROUPS:
        raise InputError(f"open: no group {group!r}; expected {', '.join(map(repr, _GROUPS))}, or none")
    if not os.path.isfile(name):
        raise IoError(f"{name}: is not a file", file=name)
    try:
        with xarray.open_dataset(name) as root:
            source = str(root.attrs.get("source", ""))
        if not source.startswith("hoopfield "):
            raise IoError(f"{name}: was not written by hoopfield", file=name)
        return xarray.open_dataset(name, group=group)
    except IoError:
        raise
    except (OSError, ValueError, KeyError) as error:
        raise IoError(f"{name}: cannot be read as a result or sweep file: {error}", file=name) from None
