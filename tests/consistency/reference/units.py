# SPDX-License-Identifier: BSD-3-Clause
"""Quantity strings such as ``"23 um"`` to SI numbers, only as far as the reference cases need them."""

import math
import re

_FACTORS = {
    "m": 1.0,
    "cm": 1e-2,
    "mm": 1e-3,
    "um": 1e-6,
    "cm^2": 1e-4,
    "N": 1.0,
    "kg": 1.0,
    "s": 1.0,
    "min": 60.0,
    "h": 3600.0,
    "d": 86400.0,
    "rpm": 2 * math.pi / 60,
    "%": 1e-2,
    "K": 1.0,
    "Pa": 1.0,
    "kPa": 1e3,
    "MPa": 1e6,
    "kg/m^3": 1.0,
    "1/s": 1.0,
    "1/K": 1.0,
    "J/mol": 1.0,
    "kJ/mol": 1e3,
    "J/kg/K": 1.0,
    "/kg": 1.0,
}


def quantity(value):
    """Number as it is, or a string "number unit" in SI (degC becomes K)."""
    if not isinstance(value, str):
        return float(value)
    match = re.fullmatch(r"\s*([-+0-9.eE]+)\s*(\S+)\s*", value)
    if not match:
        raise ValueError(f"not a quantity: {value!r}")
    number, unit = float(match[1]), match[2]
    return number + 273.15 if unit == "degC" else number * _FACTORS[unit]
