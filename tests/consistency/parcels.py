# SPDX-License-Identifier: BSD-3-Clause
"""The winding against film of many parcels: ``python tests/consistency/parcels.py --table`` prints both.

Written from the equations alone. Readings that had to be chosen (see also ``parcel_model``):

- every parcel leaves roller 2 in the state of the draw at the mean speed of roller 1, also in a ramp;
- with ``follow`` and ``constant`` the draw is at the speed that lays film at the set force, as in physics; the
  program reports and draws at the mean of what is fed;
- the residence that sets ``l_load`` is the travel time ``int v1 l dt = path``, not path over the take-up speed;
- a face is the flat and the arc it begins with; at its event it takes its share of the span's length, slack included;
- only the corners of the last four faces slip, all turns alike; the scenario gives film on film the friction of film
  on the load, else turns at one height would be stuck from the second on;
- ``laid`` is the span's force at a face's event; afterwards the face relaxes and slips at a fixed length;
- the load does not give.
"""

import argparse
import tempfile
from pathlib import Path

import numpy as np
from parcel_model.case import STUCK, Case
from parcel_model.film import Material
from parcel_model.geometry import FACES
from parcel_model.winding import Winding

FILM = Path(__file__).parents[2] / "models" / "parameters" / "films" / "general-film.toml"
DRAWING = Case(friction=0.6, turns=4)  # 2.2 at the rollers, 2.35 on the load
NEUTRAL = DRAWING.but(prestretch=2.5, force=70.0)  # hardly creeps
FIXED = DRAWING.but(control="fixed_length")
CASES = {
    "follow, film that draws on": DRAWING,
    "follow, neutral film": NEUTRAL,
    "follow, drawn film at 70 N": DRAWING.but(force=70.0),
    "follow, drawn film at 40 N": DRAWING.but(force=40.0),
    "constant, film that draws on": DRAWING.but(control="constant"),
    "constant, neutral film": NEUTRAL.but(control="constant"),
    "constant, drawn film at 40 N": DRAWING.but(control="constant", force=40.0),
    "fixed length 0.9 of neutral": FIXED.but(length_per_turn=0.9 / 2.353),
    "fixed length 1.0 of neutral": FIXED.but(length_per_turn=1.0 / 2.353),
    "fixed length 1.1 of neutral": FIXED.but(length_per_turn=1.1 / 2.353),
    "fixed length, neutral film, 0.97": NEUTRAL.but(control="fixed_length", length_per_turn=0.97 / 3.2376),
    "fixed length, oblong, slack": FIXED.but(friction=STUCK, length_per_turn=1.15 / 2.353, length=1.4, width=0.6),
    "follow, oblong": DRAWING.but(length=1.2, width=0.8),
    "follow, neutral film, oblong": NEUTRAL.but(length=1.2, width=0.8),
    "follow, off centre": DRAWING.but(axis_offset=0.1),
    "follow, neutral film, off centre": NEUTRAL.but(axis_offset=0.1),
    "follow, outlet aside": DRAWING.but(offset=0.2),
    "follow, corner radius 50 mm": DRAWING.but(corner_radius=0.05),
    "follow, ramp of a turn": DRAWING.but(ramp_turns=1.0),
    "follow, neutral film, ramp": NEUTRAL.but(ramp_turns=1.0),
    "follow, friction stuck": DRAWING.but(friction=STUCK),
    "follow, friction 0.2": DRAWING.but(friction=0.2),
    "follow, friction 0.05": DRAWING.but(friction=0.05),
    "follow, neutral film, friction 0.05": NEUTRAL.but(friction=0.05),
    "follow, neutral film, friction 0": NEUTRAL.but(friction=0.0),
}


def of_parcels(case, step, film=FILM):
    """The parcel model's numbers by name: N, N/m, stretch as ratio, m/s, s."""
    winding = Winding(case, Material.read(film), step)
    history = winding.run()
    turn, force = np.array(history.turn), np.array(history.force)
    settled = turn >= case.turns - 1 - 1e-9
    turn, force = turn[settled], force[settled]
    numbers = {
        "span least": force.min(),
        "span mean": np.trapezoid(force, turn) / (turn[-1] - turn[0]),
        "span greatest": force.max(),
        "roller 1 speed": winding.path.speed,
        "residence": winding.path.residence,
        "stretch on load": winding.row.lengths[:-1].sum() / np.diff(winding.row.cuts).sum(),
        "stretch of last turn": winding.row.lengths[-5:-1].sum() / np.diff(winding.row.cuts[-5:]).sum(),
    }
    numbers |= {f"laid {face}": value for face, value in zip(history.face[-4:], history.laid[-4:])}
    return numbers | {f"hoop {face}": value for face, value in winding.hoop_tension().items()}


def of_program(case, tolerance=1e-5, film=FILM):
    """The same numbers from the program."""
    import hoopfield as hf

    with tempfile.TemporaryDirectory() as folder:
        scenario = Path(folder) / "parcels.toml"
        scenario.write_text(case.scenario(film, tolerance))
        result = hf.predict(hf.read(scenario))
    span, path = result.span, result.film_path
    numbers = {
        "span least": span.force_min,
        "span mean": span.force_mean,
        "span greatest": span.force_max,
        "roller 1 speed": path.roller_speed_1,
        "residence": path.residence_time,
        "stretch on load": 1 + path.stretch_on_load,
    }
    numbers |= {f"laid {face}": value for face, value in zip(span.face[-4:], span.face_force[-4:])}
    hoop = dict(zip(result.faces, result.hoop_tension[0, :, np.abs(result.height - 0.2).argmin()]))
    return numbers | {f"hoop {face}": hoop[face] for face in FACES}


def differences(case, step):
    """(quantity, parcels, program, program over parcels less 1) of one case."""
    parcels, program = of_parcels(case, step), of_program(case)
    ratio = lambda name: program[name] / parcels[name] - 1 if parcels[name] else np.nan
    return [(name, parcels[name], program[name], ratio(name)) for name in parcels if name in program]


def main():
    reader = argparse.ArgumentParser(description="Film as a row of parcels beside the program")
    reader.add_argument("--table", action="store_true", help="print case, quantity, parcels, program, difference")
    reader.add_argument("--step", type=float, default=0.02, help="s; half of it quarters the error")
    reader.add_argument("--only", default="", help="cases whose name holds this text")
    chosen = reader.parse_args()
    if not chosen.table:
        reader.print_help()
    for name, case in CASES.items() if chosen.table else ():
        if chosen.only in name:
            try:
                for quantity, parcels, program, off in differences(case, chosen.step):
                    print(f"{name} | {quantity} | {parcels:.6g} | {program:.6g} | {100 * off:+.3f} %", flush=True)
            except (ArithmeticError, RuntimeError, ValueError) as problem:
                print(f"{name} | not solved: {problem}", flush=True)


if __name__ == "__main__":
    main()
