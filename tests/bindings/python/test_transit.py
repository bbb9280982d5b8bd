# SPDX-License-Identifier: BSD-3-Clause
"""The load in transit from Python."""

import numpy as np
import pytest

import hoopfield as hf

GN = 9.80665


@pytest.fixture(scope="module")
def scenario(root):
    return hf.read(root / "examples" / "15_in_transit" / "scenario.toml").replace({"numerics.slices": 20})


def test_an_answer_with_histories(scenario):
    t = hf.transit(scenario, tilt=True)
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
    data = hf.transit(scenario).to_xarray()
    assert data.sizes["direction"] == 2 and data.sizes["tier"] == 8
    assert set(data.data_vars) == {"displacement", "rotation", "slip", "film_force"}


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
