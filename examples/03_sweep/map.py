# SPDX-License-Identifier: BSD-3-Clause
"""Containment after storage at mid-height over force and pre-stretch, at the middle speed of sweep.h5."""

import sys

import numpy as np
import xarray as xr

data = xr.open_dataset(sys.argv[1] if len(sys.argv) > 1 else "sweep.h5")
axes = ["delivery.tension.force", "delivery.prestretch", "rotation.speed"]
grid = data.set_index(case=axes).unstack("case")["containment.after_storage.middle.hoop_tension"]
speed = grid["rotation.speed"].values[grid.sizes["rotation.speed"] // 2]

print(f"Hoop tension after storage at mid-height, N/m; {speed * 30 / np.pi:.0f} rpm")
print("force, N  " + "".join(f"{100 * p:8.0f} %" for p in grid["delivery.prestretch"].values))
for force in grid["delivery.tension.force"].values:
    row = grid.sel({axes[0]: force, axes[2]: speed})
    print(f"{force:8.0f}  " + "".join(f"{value:10.0f}" for value in row.values))
