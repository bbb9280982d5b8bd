# SPDX-License-Identifier: BSD-3-Clause
"""No input is dead: moving it moves an output, or the check of the scenario says that it changes nothing, and why."""

import json
from pathlib import Path

import hoopfield as hf
import pytest

ROOT = Path(__file__).resolve().parents[3]
EXAMPLE = ROOT / "examples/15_in_transit/scenario.toml"
BASE = {
    "numerics.band_samples": 0,
    "film.price": "2 /kg",
    "cost.loads_per_year": 10000,
    "cost.roll_mass": "16 kg",
    "cost.roll_change_time": "5 min",
    "cost.labour_rate": "40 /h",
}
# What says who, what and when, what the file is, and what turns: cautions and the drawing speak of it, no number does.
WORDS = {"scenario.title", "scenario.notes", "scenario.schema", "report.site", "report.author", "report.customer"}
WORDS |= {"report.date", "rotation.kind"}
# Tables with tests of their own, and readings of the machine's dial, which need a table of it.
TABLES = {"load.tier", "uncertainty", "calibration", "delivery.tension.dial_table", "delivery.tension.dial"}
# Where seven percent more is no value, or the input needs others to act: what is set before, then the change.
CHANGES = {
    "film.file": ({}, ROOT / "models/parameters/films/thin-stiff-film.toml"),
    "film.thickness_tolerance": ({"numerics.band_samples": 16}, "6 %"),
    "delivery.prestretch": ({}, "260 %"),
    "delivery.prestretch_slip": ({}, "1 %"),
    "delivery.neck_in": ({}, 0.06),
    "delivery.width_on_load": ({}, "450 mm"),
    "delivery.tension.control": ({}, "follow"),
    "delivery.tension.lag": ({"delivery.tension.control": "follow"}, "0.3 s"),
    "delivery.tension.gain": ({"delivery.tension.control": "follow"}, 0.9),
    "delivery.tension.length_per_turn": (
        {"delivery.tension.control": "fixed_length", "delivery.tension.length_per_turn": 0.26},
        0.265,
    ),
    "pattern.overlap": ({}, "60 %"),
    "pattern.turns": ({}, 14),
    "pattern.roping_width": ({}, "100 mm"),
    "carriage.speed_up": ({}, "3 m/min"),
    "carriage.speed_down": ({}, "3 m/min"),
    "load.kind": ({}, "bagged"),
    "load.creep_per_decade": ({}, "6 %"),
    "load.settling": ({}, "1 %"),
    "load.edge_pressure_limit": ({}, "1 kPa"),
    "friction.film_on_film": ({}, 0.4),
    "transit.requirement": ({}, "road-us-49-cfr-393"),
    "transit.direction": ({}, "along_width"),
    "transit.deck_friction": ({}, 0.3),
    "storage.temperature": ({}, "40 degC"),
    "stations.corner_distance": ({}, "120 mm"),
    "stations.slit": ({}, "beside"),
    "stations.tent_factor": ({}, 1.5),
    "target.quantity": ({"target.top": "400 N/m", "target.quantity": "hoop_tension"}, "pull_force"),
    "target.probability": (
        {"target.top": "700 N/m", "target.quantity": "hoop_tension", "numerics.band_samples": 16},
        "50 %",
    ),
    "target.at": ({"target.top": "400 N/m", "target.quantity": "hoop_tension"}, "end"),
    "target.top": ({"target.quantity": "hoop_tension", "target.top": "400 N/m"}, "500 N/m"),
    "target.middle": ({"target.quantity": "hoop_tension", "target.middle": "400 N/m"}, "500 N/m"),
    "target.bottom": ({"target.quantity": "hoop_tension", "target.bottom": "400 N/m"}, "500 N/m"),
    "cost.roll_length": ({}, "1500 m"),
    "cost.co2e_factor": ({}, 2.0),
    "cost.energy_factor": ({}, "80 MJ/kg"),
    "cost.currency": ({}, "EUR"),
    "numerics.band_samples": ({"numerics.band_samples": 16}, 32),
    "numerics.tolerance": ({}, 1e-4),
    "numerics.seed": ({"numerics.band_samples": 16}, 2),
}


def keys():
    return [key for key in hf.read(EXAMPLE) if key not in WORDS | TABLES]


@pytest.fixture(scope="module")
def base():
    return hf.read(EXAMPLE).replace(BASE)


def outputs(scenario):
    """All that a prediction and the answer on transit say, but what repeats the inputs."""
    result = hf.predict(scenario)
    predicted, answer = json.loads(result.to_json()), dict(hf.transit(scenario, band_samples=0).answer)
    for name in ("run_info", "inputs", "inputs_hash", "assumed"):
        predicted.pop(name, None)
        answer.pop(name, None)
    predicted["warnings"] = [w for w in predicted.get("warnings", []) if w["code"] != "inert-input"]
    return json.dumps([predicted, answer, str(result.sentence)], default=str, sort_keys=True)


@pytest.fixture(scope="module")
def unmoved(base):
    """Outputs of the scenario with what each input needs set; few inputs need something."""
    known = {}

    def of(before):
        name = json.dumps(before)
        if name not in known:
            known[name] = outputs(base.replace(before) if before else base)
        return known[name]

    return of


def seven_percent_more(scenario, key):
    value = scenario[key]
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    unit = hf.explain(key).parameters[0].unit
    moved = value * 1.07 if value else 0.01
    return f"{moved!r} {unit}" if unit else moved


def test_inputs_that_are_listed_exist():
    every = set(hf.read(EXAMPLE))
    assert set(CHANGES) <= set(keys()) and WORDS | TABLES <= every


@pytest.mark.parametrize("key", keys())
def test_moving_an_input_moves_an_output(base, unmoved, key):
    before, change = CHANGES.get(key, ({}, None))
    start = base.replace(before) if before else base
    moved = start.replace({key: seven_percent_more(start, key) if change is None else change})
    assert outputs(moved) != unmoved(before)


@pytest.mark.parametrize(
    ("before", "key", "why"),
    [
        ({}, "delivery.tension.lag", "follow"),
        ({}, "delivery.tension.gain", "follow"),
        ({"load.kind": "rigid"}, "load.creep_per_decade", "rigid"),
        ({"delivery.prestretch": "0 %"}, "delivery.prestretch_slip", "stretched"),
    ],
)
def test_an_input_that_does_not_act_is_said_with_the_reason(base, before, key, why):
    change = {"load.creep_per_decade": "6 %", "delivery.prestretch_slip": "0 %", "delivery.tension.lag": "0.3 s"}
    start = base.replace(before) if before else base
    moved = start.replace({key: change.get(key, 0.5)})
    said = [w.text for w in hf.predict(moved).warnings if w.code == "inert-input" and w.key == key]
    assert len(said) == 1 and why in said[0]
    assert outputs(moved) == outputs(start)
