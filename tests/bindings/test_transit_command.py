# SPDX-License-Identifier: BSD-3-Clause
"""`hoopfield transit` and the block of `predict`, by the built command."""

import json
import os
import pathlib
import subprocess

import numpy as np
import pytest

ROOT = pathlib.Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "examples" / "15_in_transit"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
GN = 9.80665  # m/s^2
QUICK = ("--band-samples", "0")

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def run(*arguments, code=0):
    done = subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=600)
    assert done.returncode == code, done.stderr
    return done.stdout if code == 0 else done.stderr


def test_the_page_fits_a_terminal_and_promises_nothing():
    text = run("transit", EXAMPLE / "scenario.toml", "--tilt", "--band-samples", "16")
    assert max(map(len, text.splitlines())) <= 80
    assert "predicted to " in text and "not a certificate" in text and "roped and nobody below" in text
    for word in ("fail", "certified", "safe "):
        assert word not in text.lower(), word
    assert "along its length" in text and "What would mend it" in text and "slow tilt" in text
    pulses = text.split("Pulses\n")[1]
    assert pulses.count("nine times in ten") == 3 and "what moves it most" in " ".join(pulses.split())


def test_the_object_has_both_directions_and_remedies():
    answer = json.loads(
        run("transit", EXAMPLE / "scenario.toml", "--requirement", EXAMPLE / "own_bench.toml", "--json", *QUICK)
    )
    transit = answer["transit"]
    assert "not a certificate" in answer["caution"] and transit["missing"] == []
    assert transit["requirement"]["name"] == "Our customer's bench"
    for moment in ("end", "weakest", "after_storage"):
        for direction in ("along_length", "along_width"):
            at = transit[moment][direction]
            assert 0.2 < at["held_gn"] < at["tipping_gn"] and len(at["interfaces"]) == 8
    for direction in ("along_length", "along_width"):
        at = transit["weakest"][direction]
        assert len(at["tiers"]) == 8 and at["prediction"] in ("hold", "slip", "fall")
        assert at["margin"] == pytest.approx(at["largest_pulse_gn"] / 0.35, rel=1e-9)
    as_it_is, *changed = transit["remedies"]
    assert as_it_is["name"] == "as it is" and as_it_is["more_film_kg"] == 0.0
    # More turns are wound, and cost film.
    film = {c["name"]: c["more_film_kg"] for c in changed}
    thirds = [film[f"half as many turns again, {third} third"] for third in ("lower", "middle", "upper")]
    assert 0.0 < max(thirds) < film["half as many turns again everywhere"]
    assert sum(thirds) == pytest.approx(film["half as many turns again everywhere"], rel=0.25)
    assert film["friction sheet (0.6) under every tier"] == 0.0
    assert max(c["largest_pulse_gn"] for c in changed) > as_it_is["largest_pulse_gn"]


def test_predict_says_it_in_short_and_what_is_missing(tmp_path):
    banded = run("predict", EXAMPLE / "scenario.toml", "--band-samples", "16")
    block = banded.split("In transit")[1].split("Largest unknowns")[0]
    assert block.count("nine times in ten") == 3 and " to " in block
    text = run("predict", EXAMPLE / "scenario.toml", "--band-samples", "0")
    assert "In transit" in text and "Never a certificate" in text and "Assumed, not measured" in text
    summary = json.loads(run("predict", EXAMPLE / "scenario.toml", "--band-samples", "0", "--json"))
    assert summary["transit"]["weakest"]["along_width"]["prediction"] in ("slip", "fall")
    film = ROOT / "models" / "parameters" / "films" / "general-film.toml"
    lines = (
        (EXAMPLE / "scenario.toml").read_text().replace("../../models/parameters/films/general-film.toml", str(film))
    )
    bare = tmp_path / "bare.toml"
    bare.write_text("\n".join(line for line in lines.splitlines() if not line.startswith("mass")))
    assert "load.mass is missing" in " ".join(run("predict", bare, "--band-samples", "0").split())
    assert json.loads(run("predict", bare, "--band-samples", "0", "--json"))["transit"] == {"missing": ["load.mass"]}
    assert "load.mass: is missing" in run("transit", bare, code=2)


def test_courses_over_time_open_in_other_programs(tmp_path):
    h5py = pytest.importorskip("h5py")
    out = tmp_path / "ride.h5"
    answer = json.loads(run("transit", EXAMPLE / "scenario.toml", "-o", out, "--json", *QUICK))["transit"]
    with h5py.File(out) as file:
        group = file["transit"]
        assert (
            json.loads(file["summary/json"][()])["transit"] == answer and "load.mass" in file["inputs/key"].asstr()[:]
        )
        for m, moment in enumerate(group["moment"].asstr()):
            for d, direction in enumerate(group["direction"].asstr()):
                told = answer[moment][direction]
                for leaf in ("first_slip", "held", "tipping", "withstood"):
                    assert group[leaf][m, d] / GN == pytest.approx(told[f"{leaf}_gn"], rel=1e-12)
                    if leaf != "withstood":
                        each = [i[f"{leaf}_gn"] for i in told["interfaces"]]
                        np.testing.assert_allclose(group[f"interface_{leaf}"][m, d] / GN, each, rtol=1e-12)
                assert group["margin"][m, d] == pytest.approx(told["margin"], rel=1e-12)
                assert group["weakest_interface"][m, d] == told["weakest_interface"]
        weakest = answer["weakest"]["along_width"]
        assert group["largest_pulse"][1] / GN == pytest.approx(weakest["largest_pulse_gn"], rel=1e-12)
        np.testing.assert_allclose(1e3 * group["peak"][1], [t["peak_mm"] for t in weakest["tiers"]], rtol=1e-12)
        for name, unit in {"displacement": "m", "slip": "m", "film_force": "N", "base_acceleration": "m/s^2"}.items():
            assert group[name].attrs["units"].decode() == unit
            assert [scale[0].name for scale in group[name].dims][:2] == ["/transit/direction", "/transit/transit_time"]
        assert np.max(group["base_acceleration"][1]) / GN == pytest.approx(weakest["ridden_gn"])
    assert "exists" in run("transit", EXAMPLE / "scenario.toml", "-o", out, code=4)


def test_the_file_of_a_prediction_has_slow_pushes(tmp_path):
    h5py = pytest.importorskip("h5py")
    out, bare, bare_out = (tmp_path / name for name in ("one.h5", "bare.toml", "bare.h5"))
    said = run("predict", EXAMPLE / "scenario.toml", "--band-samples", "0", "--json", "-o", out)
    weakest = json.loads(said)["transit"]["weakest"]["along_length"]
    with h5py.File(out) as file:
        assert file["transit/held"][1, 0] / GN == pytest.approx(weakest["held_gn"], rel=1e-12)
        assert file["transit/interface_film_force"].shape == (3, 2, 8) and "slip" not in file["transit"]
    film = ROOT / "models" / "parameters" / "films" / "general-film.toml"
    text = (EXAMPLE / "scenario.toml").read_text().replace("../../models/parameters/films/general-film.toml", str(film))
    bare.write_text(text.replace('mass = "600 kg"', ""))
    run("predict", bare, "--band-samples", "0", "-o", bare_out)
    with h5py.File(bare_out) as file:
        assert file["transit"].attrs["missing"].decode() == "load.mass" and len(file["transit"]) == 0


def test_half_a_gram_is_refused(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text((EXAMPLE / "own_bench.toml").read_text().replace("0.35 gn", "0.5 g"))
    message = run("transit", EXAMPLE / "scenario.toml", "--requirement", own, code=2)
    assert "half a gram" in message and '"0.5 gn"' in message
