# SPDX-License-Identifier: BSD-3-Clause
"""The load in transit from Python."""

import os
import subprocess

import numpy as np
import pytest

import hoopfield as hf

GN = 9.80665


@pytest.fixture(scope="module")
def scenario(root):
    return hf.read(root / "examples" / "15_in_transit" / "scenario.toml").replace({"numerics.slices": 20})


def test_an_answer_with_histories(scenario):
    t = hf.transit(scenario, tilt=True, band_samples=0)
    weakest = t["weakest"]["along_width"]
    assert weakest["prediction"] in ("hold", "slip", "fall") and weakest["tilt_slip_deg"] > 15.0
    side = t.histories["along_width"]
    assert side["displacement"].shape == side["slip"].shape == (len(side["time"]), 8)
    peak = 1e3 * np.abs(side["displacement"]).max(axis=0)
    for tier, seen in zip(weakest["tiers"], peak):
        assert seen <= abs(tier["peak_mm"]) * (1 + 1e-9)
    assert "certificate" in t.words and "hoopfield.Transit" in repr(t)


def test_to_xarray(scenario):
    pytest.importorskip("xarray")
    data = hf.transit(scenario, band_samples=0).to_xarray()
    assert data.sizes["direction"] == 2 and data.sizes["tier"] == data.sizes["interface"] == 8
    assert set(data.data_vars) == {"base_acceleration", "displacement", "rotation", "slip", "film_force"}


def test_courses_have_moments_in_common_from_the_start_on(scenario):
    length, width = hf.transit(scenario, band_samples=0).histories.values()
    assert length["time"][0] == 0.0 and not length["displacement"][0].any()
    rows = min(len(length["time"]), len(width["time"]))
    np.testing.assert_array_equal(length["time"][:rows], width["time"][:rows])
    np.testing.assert_allclose(np.diff(length["time"]), 0.005, rtol=1e-9)
    assert max(length["base_acceleration"]) == pytest.approx(0.5 * GN)  # nothing asks for a pulse


def test_files_of_the_command_open_as_datasets(root, scenario, tmp_path):
    xarray = pytest.importorskip("xarray")
    command = os.environ.get("HOOPFIELD_COMMAND")
    if not command:
        pytest.skip("HOOPFIELD_COMMAND does not name the built command")
    file, out = tmp_path / "way.toml", tmp_path / "way.h5"
    text = (root / "examples/15_in_transit/scenario.toml").read_text(encoding="utf-8")
    file.write_text(text.replace("../../models", str(root / "models")) + "[numerics]\nslices = 20\n", encoding="utf-8")
    asked = [command, "transit", file, "--band-samples", "0", "-o", out]
    subprocess.run(asked, check=True, capture_output=True, timeout=600)
    t = hf.transit(scenario, band_samples=0)
    with hf.open(out, "transit") as data:
        xarray.testing.assert_allclose(data[list(t.to_xarray().data_vars)], t.to_xarray(), rtol=1e-12)
        held = data["held"].sel(moment="weakest", direction="along_width")
        assert held / GN == pytest.approx(t["weakest"]["along_width"]["held_gn"]) and held.units == "m/s^2"
    hf.predict(scenario, band_samples=0).save(tmp_path / "one.h5")
    with hf.open(tmp_path / "one.h5", "transit") as data:
        assert data["interface_held"].dims == ("moment", "direction", "interface")
        assert data["film_share"].sel(moment="weakest").max() == pytest.approx(
            max(t["weakest"][d]["film_share"] for d in data["direction"].values)
        )


def test_a_block_of_ones_own_slides_as_its_closed_form_says():
    # (a - mu_k g) t^2/2 a/(mu_k g) for 0.5 gn over 0.3 s
    block = [{"height": 0.2, "mass": 300.0, "friction": 0.4}]
    t = np.array([0.0, 0.3])
    done = hf.ride(block, t, [0.5 * GN, 0.5 * GN], side=1.2, sway_stiffness=1e8, tier_stiffness=3e9, duration=1.5)
    assert done["final_slip"][0] == pytest.approx(0.2 * GN * 0.3**2 / 2 * 0.5 / 0.3, rel=8e-3)
    assert not done["fallen"] and done["displacement"].shape[1] == 1


def test_tiers_and_mistakes(scenario):
    listed = scenario.replace({"load.tier": '[{height = "1 m", mass = "300 kg"}, {height = "0.6 m", mass = "300 kg"}]'})
    assert [tier["mass"] for tier in listed["load.tier"]] == [300.0, 300.0]
    with pytest.raises(hf.InputError, match="neither a set that is built in nor a file"):
        hf.transit(scenario, "no-such-set")
    with pytest.raises(hf.InputError, match="not one of a stack"):
        hf.ride([{"height": 0.2, "mass": 1.0, "friction": 0.4}], [0.0, 1.0], [0.0, 0.0], side=1.0, colour=3.0)
    with pytest.raises(TypeError):
        hf.transit("scenario.toml")


def test_bands_over_what_is_uncertain_pulses_among_it(scenario):
    seen = []
    t = hf.transit(scenario, band_samples=16, progress=lambda share, stage: seen.append((share, stage)))
    weakest = t["weakest"]["along_width"]
    for number in ("held_gn", "tipping_gn", "largest_pulse_gn", "lean_mm", "slip_mm"):
        band = t.bands[f"transit.weakest.along_width.{number}"]
        assert band["p05"] < band["p50"] < band["p95"], number
    assert t.bands["transit.weakest.along_width.held_gn"]["p05"] < weakest["held_gn"]
    assert seen[-1][0] > 0.8 and any("drawing" in stage for _, stage in seen)
    # One input at a time at the ends of its range, the greatest first.
    moves = [abs(i["at_high_gn"] - i["at_low_gn"]) for i in t.answer["transit"]["influences"]]
    assert moves == sorted(moves, reverse=True) and moves[0] > 0.01
    first = t.answer["transit"]["influences"][0]
    there = hf.transit(scenario.replace({first["key"]: first["high"]}), band_samples=0)
    pulses = [there["weakest"][d]["largest_pulse_gn"] for d in ("along_length", "along_width")]
    assert first["at_high_gn"] in [pytest.approx(p, abs=1e-9) for p in pulses]
    assert hf.transit(scenario, band_samples=0).bands == {}
    with pytest.raises(hf.InputError, match="power of two"):
        hf.transit(scenario, band_samples=17)
