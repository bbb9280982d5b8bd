# SPDX-License-Identifier: BSD-3-Clause
"""The stack in motion against a second program, written from the equations alone (tests/consistency/transit_model).

That one looks for the events of stick and slip and integrates between them with SciPy; this one steps with return
mapping. ``tests/consistency/transit_reference.py --write`` makes the record. Where the equations leave a choice the
record holds several readings; this program's are a dashpot in series with the slip ("tier"), the bearing width in the
damping of rocking ("bearing"), and film that follows the whole offset of the tiers ("offset").
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import hoopfield as hf
import numpy as np
import pytest

RECORD = Path(__file__).parents[2] / "consistency/data/transit_reference.json"
CASES = json.loads(RECORD.read_text())


GN = 9.80665  # m/s^2


def course(pulse: dict[str, Any]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Times, accelerations along the deck and normal to it."""
    if pulse["kind"] == "half_sine":
        time = np.linspace(0.0, pulse["duration"], 2001)
        along = pulse["height"] * np.sin(np.pi * time / pulse["duration"])
    else:
        kinks = np.cumsum([0.0, pulse["rise"], pulse["hold"], pulse["fall"]])
        time = np.unique(np.concatenate([kinks, np.linspace(0.0, kinks[-1], 2001)]))
        along = pulse["height"] * np.interp(time, kinks, [0.0, 1.0, 1.0, 0.0])
    shaken = pulse.get("shaken", {"share": 0.0, "frequency": 1.0})
    return time, along, GN * (1 + shaken["share"] * np.sin(2 * np.pi * shaken["frequency"] * time))


def ridden(inputs: dict[str, Any], step: float) -> dict[str, Any]:
    wrap = inputs.get("wrap")
    film = {}
    if wrap:
        tension = wrap["hoop_tension_N_per_m"]
        film = {"hoop_tension": tension, "film_stiffness": tension * wrap["EA_over_N"]}
    columns = zip(inputs["heights_m"], inputs["masses_kg"], inputs["static_friction"])
    tiers = [{"height": h, "mass": m, "friction": mu, **film} for h, m, mu in columns]
    keys = {
        "sliding_share": inputs["kinetic_friction"][0] / inputs["static_friction"][0],
        "sway_stiffness": inputs["k_shear_N_per_m"],
        "tier_stiffness": inputs["k_vert_N_per_m"],
        "damping": inputs["zeta"],
        "bearing_share": inputs["eta"],
        "film_top": sum(inputs["heights_m"]),
        "columns": inputs["columns"],
        "case_friction": inputs["case_friction"],
    }
    if wrap:
        keys |= {
            "film_friction": wrap["film_on_goods"],
            "film_bottom": -wrap["film_on_pallet_m"],
            "pallet_lock": wrap["lock_N"],
            "top_fold_hold": wrap["held_fold_N"],
        }
    time, acceleration, normal = course(inputs["acceleration_m_per_s2"])
    return hf.ride(
        tiers,
        time,
        acceleration,
        normal=normal,
        side=inputs["side_along_motion_m"],
        duration=inputs["end_s"],
        interval=step,
        step=step,
        **keys,
    )


@pytest.mark.parametrize("name", CASES)
def test_motion_is_that_of_the_event_driven_program(name):
    case = CASES[name]
    ride = ridden(case["inputs"], 2.5e-5)
    known = case["readings"]["tier, bearing, offset"]["answers"]
    slip = np.abs(ride["slip"]).max(axis=0)
    peak = np.abs(ride["displacement"]).max(axis=0)
    greatest = max(known["slip_greatest"])
    np.testing.assert_allclose(slip, known["slip_greatest"], rtol=0.01, atol=1e-3 * greatest)
    np.testing.assert_allclose(peak, known["peak"], rtol=0.01)
    np.testing.assert_allclose(ride["displacement"][-1], known["permanent"], rtol=0.01, atol=2e-3 * greatest)
