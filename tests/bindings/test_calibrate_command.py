# SPDX-License-Identifier: BSD-3-Clause
"""`hoopfield calibrate` and `hoopfield trial` as a person runs them: the page, JSON, files, refusals."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "examples" / "17_calibration"
SCENARIO, READINGS, CANDIDATE = EXAMPLE / "scenario.toml", EXAMPLE / "readings.csv", EXAMPLE / "candidate.toml"


def run(*arguments: object, code: int = 0) -> subprocess.CompletedProcess:
    done = subprocess.run([os.environ["HOOPFIELD_COMMAND"], *map(str, arguments)], capture_output=True, text=True)
    assert done.returncode == code, done.stderr
    return done


def test_the_page_fits_a_terminal_and_says_what_was_learned(tmp_path):
    page = run("calibrate", SCENARIO, READINGS, "-o", tmp_path / "out.toml").stdout
    assert max(map(len, page.splitlines())) <= 80
    for words in (
        "delivery.tension.force_scale",
        "determined",
        "Not determined by these readings",
        "What to read next",
    ):
        assert words in page
    assert "not a certificate" in " ".join(page.split())


def test_json_and_the_scenario_that_is_written(tmp_path):
    out = tmp_path / "deeper" / "out.toml"
    out.parent.mkdir()
    answer = json.loads(run("calibrate", SCENARIO, READINGS, "-o", out, "--json").stdout)
    unknowns = {u["key"]: u for u in answer["calibration"]["unknowns"]}
    scale = unknowns["delivery.tension.force_scale"]["after"]
    assert scale["p05"] < 1.09 < scale["p95"]  # what the example was made with
    assert len(answer["calibration"]["readings"]) == 15
    text = out.read_text()
    assert 'origin = "fitted"' in text and "[calibration]" in text and "turns = { value = 17" in text
    before = json.loads(run("predict", SCENARIO, "--json").stdout)["band"]["values"]
    after = json.loads(run("predict", out, "--json").stdout)["band"]["values"]
    name = "containment.after_storage.bottom.hoop_tension_N_per_m"
    assert after[name]["p95"] - after[name]["p05"] < 0.6 * (before[name]["p95"] - before[name]["p05"])


def test_inputs_are_held_freed_and_put(tmp_path):
    out = tmp_path / "out.toml"
    run(
        "calibrate", SCENARIO, READINGS, "-o", out, "--free", "delivery.tension.force_scale", "--free", "film.thickness"
    )
    assert '"film.thickness", "delivery.tension.force_scale"' in out.read_text()
    said = run("calibrate", SCENARIO, READINGS, "-o", out, "--overwrite", "--hold", "film.width", code=2).stderr
    assert "film.width: is not an uncertain input of this scenario" in said
    said = run("calibrate", SCENARIO, READINGS, "-o", out, "--overwrite", "--at", "storage.duration", code=2).stderr
    assert "KEY=VALUE" in said
    run("calibrate", SCENARIO, READINGS, "-o", out, "--overwrite", "--at", "storage.duration=2 d")
    assert 'duration = "2 d"' in out.read_text()


def test_a_calibrated_scenario_is_not_calibrated_again(tmp_path):
    out = tmp_path / "out.toml"
    run("calibrate", SCENARIO, READINGS, "-o", out)
    said = run("calibrate", out, READINGS, "-o", tmp_path / "twice.toml", code=2).stderr
    assert "fitted to readings already" in said and not (tmp_path / "twice.toml").exists()


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("pull_force,9 m,80,N", "is above the load"),
        ("pull_force,0.75 m,80,", "has no unit"),
        ("pull_force,0.75 m,,N", "not a number"),
        ("film_mas,,300,g", "did you mean film_mass"),
        ("film_mass,,-300,g", "outside the physical bounds"),
    ],
)
def test_bad_readings_leave_no_file(tmp_path, line, words):
    readings, out = tmp_path / "readings.csv", tmp_path / "out.toml"
    readings.write_text(f"quantity,height,value,unit\n{line}\n")
    said = run("calibrate", SCENARIO, readings, "-o", out, code=2).stderr
    assert words in said and "readings.csv:2" in said
    assert not out.exists()


def test_a_lone_absurd_reading_is_flagged_and_teaches_nothing(tmp_path):
    readings, out = tmp_path / "readings.csv", tmp_path / "out.toml"
    readings.write_text("quantity,value,unit\nfilm_mass,1e9,kg\n")
    answer = json.loads(run("calibrate", SCENARIO, readings, "-o", out, "--json").stdout)["calibration"]
    assert [flag["code"] for flag in answer["flags"]] == ["reading-off"]
    assert all(unknown["verdict"] == "not_determined" for unknown in answer["unknowns"])
    run("predict", out, "--json")


def test_readings_must_be_named_and_outputs_keep_clear(tmp_path):
    assert "no readings are named" in run("calibrate", SCENARIO, "-o", tmp_path / "o.toml", code=2).stderr
    copy = tmp_path / "readings.csv"
    copy.write_text(READINGS.read_text())
    run("calibrate", SCENARIO, copy, "-o", copy, "--overwrite", code=2)
    assert copy.read_text() == READINGS.read_text()


def test_a_trial_says_loads_and_writes_a_form_that_is_read_again(tmp_path):
    form = tmp_path / "form.csv"
    page = run("trial", SCENARIO, CANDIDATE, "--loads", 4, "--csv", form).stdout
    assert max(map(len, page.splitlines())) <= 80
    assert "Form, one for each side" in page and "not a certificate" in " ".join(page.split())
    text = form.read_text()
    assert "load 4" in text and "load 5" not in text
    filled = "\n".join(
        line.replace(",,,N,", ",,77,N,") if line.startswith("span_force") else line
        for line in text.splitlines()
        if line.startswith(("#", "quantity", "span_force"))
    )
    form.write_text(filled)
    answer = json.loads(run("calibrate", SCENARIO, form, "-o", tmp_path / "o.toml", "--json").stdout)
    assert len(answer["calibration"]["readings"]) == 4
    assert "no number of loads" in run("trial", SCENARIO, CANDIDATE, "--loads", 0, code=2).stderr
