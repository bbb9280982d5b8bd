# SPDX-License-Identifier: BSD-3-Clause
"""Readings on loads correct a scenario: what they settle, what they cannot, and what they are taken for when wrong."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

import hoopfield as hf

ROOT = Path(__file__).resolve().parents[3]
sys.path.insert(0, str(ROOT / "tests/consistency"))
import calibration_study as study  # noqa: E402

PULLS = ("pull_force",)
ALL = ("pull_force", "span_force", "film_mass", "stretch_on_load", "laid_width", "closing_along_length")


@pytest.fixture(scope="module")
def given() -> hf.Scenario:
    return study.scenario()


def exact(scenario: hf.Scenario, kinds: tuple[str, ...], loads: int = 3) -> list[dict]:
    """Readings of the scenario as it is, without noise, and its turns."""
    rows = study.lines(kinds, loads)
    values = hf.predicted_readings(scenario, rows)
    percent = {"stretch_on_load": 100.0}
    rows = [r | {"value": f"{v * percent.get(r['quantity'], 1.0):.8g}"} for r, v in zip(rows, values, strict=True)]
    turns = int(hf.predict(scenario, band_samples=0).pattern.turns)
    return [*rows, {"quantity": "turns", "value": turns, "unit": ""}]


def by_key(found: hf.Calibration) -> dict[str, dict]:
    return {unknown["key"]: unknown for unknown in found.unknowns}


def band(found: hf.Calibration, side: str, name: str = "containment.after_storage.bottom.hoop_tension") -> float:
    ends = found.answer[side][name]
    return ends["p95"] - ends["p05"]


def test_intervals_hold_the_truth():
    # 200 seeds hold 90 % (docs); of 15 seeds with 15 inputs each, 0.9 +- 0.02 by chance were they independent.
    found = study.run(ALL, 15, "own", first=300)
    assert 0.82 <= found["held"]["pooled"] <= 0.97
    assert found["width"]["film.thickness"] < 0.5 < 0.8 < found["width"]["load.creep_start"]


def test_pull_forces_alone_leave_most_open(given):
    found = hf.calibrate(given, exact(given, PULLS), band_samples=0)
    verdicts = {key: unknown["verdict"] for key, unknown in by_key(found).items()}
    for key in ("load.creep_per_decade", "friction.film_on_load", "film.stiffness_scale"):
        assert verdicts[key] == "not_determined", key
    assert verdicts["delivery.tension.force_scale"] == "not_determined"
    assert verdicts["load.stiffness_along_length"] in ("narrowed", "not_determined")
    # Were nothing else open, force scale and tent factor could not be told apart.
    pair = ["delivery.tension.force_scale", "stations.tent_factor"]
    two = hf.calibrate(given, exact(given, PULLS), free=pair, band_samples=0)
    [confounded] = two.confounded
    assert sorted(confounded["keys"]) == pair and confounded["correlation"] <= -0.85


def test_one_reading_of_span_or_slit_band_narrows_most(given):
    pulls = hf.calibrate(given, exact(given, PULLS), band_samples=256)
    more, slit = (
        hf.calibrate(given, exact(given, (*PULLS, kind), 1) + exact(given, PULLS, 3)[3:], band_samples=256)
        for kind in ("span_force", "band_tension")
    )
    assert band(more, "after") < 0.75 * band(pulls, "after")
    assert band(slit, "after") < 0.65 * band(pulls, "after")
    assert band(pulls, "after") < band(pulls, "before")
    share = {n["quantity"]: n["band_share"] for n in reversed(pulls.next)}
    assert share["span_force"] < 0.75 and share["band_tension"] < 0.75 and share["temperature"] > 0.8


def test_exact_readings_leave_the_values_in_use(given):
    found = hf.calibrate(given, exact(given, ALL), band_samples=0)
    for unknown in found.unknowns:
        before, after = unknown["before"], unknown["after"]
        assert abs(after["value"] - before["value"]) < 0.05 * (before["p95"] - before["p05"]), unknown["key"]
    assert not found.flags
    assert found.load_scatter < 0.03


def test_a_calibrated_scenario_predicts_and_is_read_again(given, tmp_path):
    true = given.replace({"delivery.tension.force_scale": 1.12})
    found = hf.calibrate(given, exact(true, ALL))
    assert found.scenario["delivery.tension.force_scale"] == pytest.approx(1.12, abs=0.04)
    assert found.scenario.origin("delivery.tension.force_scale") == "fitted"
    again = hf.Scenario.from_text(found.scenario.to_text(), base_dir=ROOT / "examples/08_thin_against_thick")
    one, two = (hf.predict(s, band_samples=64) for s in (found.scenario, again))
    name = "containment.after_storage.bottom.hoop_tension"
    assert two.band[name].low == pytest.approx(one.band[name].low, rel=2e-3)
    assert two.band[name].high == pytest.approx(one.band[name].high, rel=2e-3)
    # Narrower than before, and it holds what the true load carries.
    wide = hf.predict(given, band_samples=256).band[name]
    tight = hf.predict(found.scenario, band_samples=256).band[name]
    truth = hf.predict(true, band_samples=0).containment.after_storage.bottom.hoop_tension
    assert tight.high - tight.low < 0.5 * (wide.high - wide.low)
    assert tight.low < truth < tight.high
    with pytest.raises(hf.InputError, match="fitted to readings already"):
        hf.calibrate(found.scenario, exact(given, PULLS))


def test_another_thickness_is_flagged(given):
    flagged = 0
    for seed in range(8):
        rng = np.random.default_rng(seed)
        true = given.replace({"film.thickness": f"{23 * (1.17 if seed % 2 else 0.83)} um"})
        rows = study.lines(ALL, 3)
        readings = study.noisy(rows, hf.predicted_readings(true, rows), rng, 0.0)
        flagged += any(flag["code"] == "wrong-film" for flag in hf.calibrate(given, readings, band_samples=0).flags)
    assert flagged == 8


def test_a_blunder_is_flagged_and_hardly_counts(given):
    readings = exact(given, ALL)
    wrong = [dict(row) for row in readings]
    wrong[1]["value"] = f"{10 * float(wrong[1]['value']):.6g}"
    found, clean = (hf.calibrate(given, r, band_samples=0) for r in (wrong, readings))
    assert [flag["code"] for flag in found.flags] == ["reading-off"]
    assert found.readings[1]["flag"] == "reading-off" and found.readings[1]["weight"] < 0.05
    for a, b in zip(found.unknowns, clean.unknowns, strict=True):
        assert abs(a["after"]["value"] - b["after"]["value"]) < 0.15 * (b["before"]["p95"] - b["before"]["p05"])


def test_held_and_free_inputs(given):
    readings = exact(given, ALL)
    held = hf.calibrate(given, readings, hold=["film.thickness"], band_samples=0)
    assert "film.thickness" not in by_key(held)
    free = hf.calibrate(given, readings, free=["film.thickness", "stations.tent_factor"], band_samples=0)
    assert set(by_key(free)) == {"film.thickness", "stations.tent_factor"}
    assert set(free.to_dataframe().index) == set(by_key(free))
    with pytest.raises(hf.InputError, match=r"film\.thicknes: is not an uncertain input.*did you mean film\.thickness"):
        hf.calibrate(given, readings, free=["film.thicknes"])


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"quantity": "pull_force", "height": "1.9 m", "value": 80, "unit": "N"}, "above the load"),
        ({"quantity": "pull_force", "value": 80, "unit": "N"}, "height.*is missing"),
        ({"quantity": "pull_force", "height": "0.75 m", "value": -8, "unit": "N"}, "outside the physical bounds"),
        ({"quantity": "pull_force", "height": "0.75 m", "value": 80, "unit": "kg"}, "kg"),
        ({"quantity": "pull", "height": "0.75 m", "value": 80, "unit": "N"}, "not known.*pull_force"),
        ({"quantity": "film_mass", "value": 0.3, "unit": "kg", "error": "-1"}, "error.*more than 0"),
        ({"quantity": "film_mass", "value": 0.3, "unit": "kg", "time": "-1 min"}, "time.*at least 0"),
        ({"quantity": "film_mass", "value": 0.3, "unit": "kg", "colour": "red"}, "'colour' is no column"),
    ],
)
def test_bad_readings_are_refused(given, row, words):
    with pytest.raises(hf.InputError, match=words):
        hf.calibrate(given, [row])


def test_empty_and_missing_files(given, tmp_path):
    empty = tmp_path / "empty.csv"
    empty.write_text("")
    with pytest.raises(hf.InputError, match="is empty"):
        hf.calibrate(given, empty)
    with pytest.raises(hf.IoError, match="cannot be opened"):
        hf.calibrate(given, tmp_path / "none.csv")
    with pytest.raises(hf.InputError, match="none but counted turns"):
        hf.calibrate(given, [{"quantity": "turns", "value": 17, "unit": ""}])


def test_ten_thousand_rows(given):
    rows = exact(given, PULLS)[:9] * 1111
    found = hf.calibrate(given, rows, free=["stations.tent_factor"], band_samples=0)
    assert len(found.readings) == 9999


def test_next_readings_and_trials(given):
    first = hf.next_readings(given)
    assert first[0]["band_share"] < 0.9 and first == sorted(first, key=lambda n: n["band_share"])
    assert all(n["how_to_measure"] for n in first)
    candidate = given.replace({"delivery.tension.force": "60 N"})
    trial = hf.trial(given, candidate, 3, minutes=15)
    assert trial.minutes_per_load <= 15
    assert any(r["chosen"] for r in trial.readings)
    span = next(r for r in trial.readings if r["quantity"] == "span_force")
    assert span["present"] == pytest.approx(70.0) and span["candidate"] == pytest.approx(60.0)
    with pytest.raises(hf.OutOfRange, match="no number of loads"):
        hf.trial(given, candidate, 0)
