# SPDX-License-Identifier: BSD-3-Clause
"""The command against the independent reference: film path and whole small cases.

Gold records were made by ``reference/make_gold.py`` (plain differential equations, SciPy, no code shared with the
solver). HOOPFIELD_COMMAND names the command; without it these tests are skipped.
"""

import csv
import json
import os
import re
import subprocess
from functools import lru_cache
from pathlib import Path

import pytest

from reference.case import read_case

CASES = Path(__file__).parent / "reference" / "cases"
WHOLE = sorted(p.stem for p in CASES.glob("reference-*.toml"))
PATHS = sorted(p.stem for p in CASES.glob("*.toml"))
FACES = ("front", "left", "back", "right")
SOLVER = 2e-4  # asked for: tensions within 0.1 %; found: below 1e-4
PULL = 5e-4  # the command cuts the pull by its tolerance and samples the plate at Gauss points

needs_command = pytest.mark.skipif(not os.environ.get("HOOPFIELD_COMMAND"), reason="HOOPFIELD_COMMAND is not set")


@lru_cache(maxsize=None)
def gold(name):
    return json.loads((CASES / f"{name}.gold.json").read_text())


class Predicted:
    """JSON summary and CSV tables of one run."""

    def __init__(self, name, folder, **changed):
        scenario = CASES / f"{name}.toml"
        if changed:
            text = scenario.read_text().replace("../../../../", str(CASES.parents[3]) + "/")
            for key, value in changed.items():
                text, count = re.subn(rf"(?m)^{key} = .*$", f"{key} = {value}", text)
                assert count == 1, key
            folder.parent.mkdir(parents=True, exist_ok=True)
            scenario = folder.parent / "changed.toml"
            scenario.write_text(text)
        run = subprocess.run(
            [os.environ["HOOPFIELD_COMMAND"], "predict", str(scenario), "--json", "--csv", str(folder)],
            capture_output=True,
            text=True,
        )
        assert run.returncode == 0, run.stderr
        self.summary = json.loads(run.stdout)
        read = lambda table: list(csv.DictReader((folder / table).open()))
        lowest = lambda rows: [r for r in rows if float(r["height_m"]) == min(float(s["height_m"]) for s in rows)]
        self.hoop = {(float(r["time_s"]), r["face"]): r for r in lowest(read("hoop_tension.csv"))}
        self.times = sorted({t for t, _ in self.hoop})
        self.layers = {
            (int(float(r["film_layer"])), r["face"]): float(r["layer_tension_N_per_m"])
            for r in lowest(read("layers.csv"))
        }
        self.buildup = {
            (round(float(r["turn"])), r["face"]): float(r["hoop_tension_buildup_N_per_m"])
            for r in lowest(read("buildup.csv"))
        }
        self.gap = [
            (
                float(r["gap_position_mm"]) / 1e3,
                1.0 + float(r["gap_stretch_percent"]) / 100.0,
                float(r["gap_temperature_C"]) + 273.15,
            )
            for r in read("film_path.csv")
        ]

    def at(self, time, face, column="hoop_tension_N_per_m"):
        return float(self.hoop[time, face][column])


@pytest.fixture(scope="module")
def predicted(tmp_path_factory):
    runs = {}

    def run(name):
        if name not in runs:
            runs[name] = Predicted(name, tmp_path_factory.mktemp(name) / "csv")
        return runs[name]

    return run


@needs_command
@pytest.mark.parametrize("name", PATHS)
def test_film_path(predicted, name):
    film, path = predicted(name).summary["film"], gold(name)["film_path"]
    assert film["prestretch_force_N"] == pytest.approx(path["prestretch_force_N"], rel=1e-6)
    assert film["film_temperature_C"] == pytest.approx(path["film_temperature_K"] - 273.15, abs=1e-4)
    assert film["stretch_on_load_percent"] == pytest.approx(100 * (path["stretch_on_load"] - 1), rel=1e-5)
    run = predicted(name)
    assert run.gap[-1][1] == pytest.approx(read_case(CASES / f"{name}.toml").ratio, rel=1e-6)
    assert film["laid_width_mm"] == pytest.approx(1e3 * path["laid_width_m"], rel=1e-5)


@needs_command
@pytest.mark.parametrize("name", WHOLE)
def test_layers_at_the_end_of_wrapping(predicted, name):
    run, want = predicted(name), gold(name)["storage"][0]
    assert want["time_s"] == 0
    scale = max(max(n) for n in want["layer_tension_N_per_m"].values())
    for face in FACES:
        layers = want["layer_tension_N_per_m"][face]
        assert sum(1 for _, f in run.layers if f == face) == len(layers)
        for i, tension in enumerate(layers, start=1):
            # slack film carries nothing: compare against the greatest tension there
            allowed = SOLVER * (tension if tension > 0.2 * scale else 0.2 * scale)
            assert run.layers[i, face] == pytest.approx(tension, abs=allowed), (face, i)


@needs_command
@pytest.mark.parametrize("name", WHOLE)
def test_hoop_tension_after_each_turn(predicted, name):
    run = predicted(name)
    for turn, want in enumerate(gold(name)["hoop_tension_buildup_N_per_m"], start=1):
        for face in FACES:
            assert run.buildup[turn, face] == pytest.approx(want[face], rel=SOLVER), (turn, face)


@needs_command
@pytest.mark.parametrize("name", WHOLE)
def test_hoop_tension_and_closing_through_storage(predicted, name):
    run, compared = predicted(name), []
    for want in gold(name)["storage"]:
        time = min(run.times, key=lambda t: abs(t - want["time_s"]))
        if abs(time - want["time_s"]) > 1e-9 * want["time_s"]:
            continue  # the command reports at its own steps; start, knots and end are among them
        compared.append(want["time_s"])
        for face in FACES:
            assert run.at(time, face) == pytest.approx(want["hoop_tension_N_per_m"][face], rel=SOLVER), (time, face)
        for key in ("closing_along_length_m", "closing_along_width_m"):
            assert run.at(time, "front", key + "m") / 1e3 == pytest.approx(want[key], rel=SOLVER), (time, key)
    assert {0.0, gold(name)["storage"][-1]["time_s"]} <= set(compared)


@needs_command
@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("moment, index", [("end", 0), ("after_storage", -1)])
def test_strand_force_of_the_pull_test(predicted, name, moment, index):
    """Bottom station, inside the fully covered height; the reference pulls at constant speed of the plate."""
    station = predicted(name).summary["containment"][moment]["bottom"]
    for face, want in gold(name)["storage"][index]["strand_force_N"].items():
        assert station["faces"][face]["strand_force_N"] == pytest.approx(want, rel=PULL), face


@needs_command
@pytest.mark.parametrize(
    "changed, least, most",
    [
        ({"tolerance": "1e-3"}, 0.0, 5e-4),  # the default: slip is split from the steps
        ({"film_on_load": '"stuck"'}, 0.15, 1.0),  # what slip round the corners does to the softest face
    ],
)
def test_slip_after_lay_down(tmp_path, changed, least, most):
    """``reference-corners`` above is close to the last digits; here with coarser steps, and without slip."""
    run, want = Predicted("reference-corners", tmp_path / "csv", **changed), gold("reference-corners")
    for record in (want["storage"][0], want["storage"][-1]):
        worst = max(abs(run.at(record["time_s"], face) / record["hoop_tension_N_per_m"][face] - 1) for face in FACES)
        assert least <= worst <= most


@pytest.mark.slow
def test_gold_is_what_the_reference_gives():
    """Integrates one film path and one whole case again and compares with the stored records."""
    from reference.draw import film_path
    from reference.stack import path_record, solve_case

    case = read_case(CASES / "reference-stack.toml")
    path = film_path(case, rtol=1e-8)
    record, stored = path_record(case, path), gold("reference-stack")
    for key, value in stored["film_path"].items():
        assert record[key] == pytest.approx(value, rel=1e-6), key
    again = solve_case(case, path, rtol=1e-6, atol=1e-9)
    for new, old in zip(again["storage"], stored["storage"]):
        for face in FACES:
            assert new["layer_tension_N_per_m"][face] == pytest.approx(old["layer_tension_N_per_m"][face], rel=1e-5)
