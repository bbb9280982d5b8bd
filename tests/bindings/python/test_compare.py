# SPDX-License-Identifier: BSD-3-Clause
"""hf.compare: the numbers of the command, tables, pickles and errors."""

import json
import math
import pickle
import subprocess

import hoopfield as hf
import numpy as np
import pytest
import scipy.stats


@pytest.fixture(scope="module")
def folder(root):
    return root / "examples" / "08_thin_against_thick"


@pytest.fixture(scope="module")
def both(folder):
    return hf.compare([folder / "present.toml", folder / "candidate.toml"], band_samples=32)


def test_the_object_of_the_command(both, folder, command):
    run = subprocess.run(
        [command, "compare", folder / "present.toml", folder / "candidate.toml", "--json", "--band-samples", "32"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(run.stdout) == both.summary
    assert both.names == ["present", "candidate"]


def test_numbers_are_those_of_the_results(both):
    for name, result in zip(both.names, both.results):
        numbers = both.numbers(name)
        assert numbers["film.mass_kg"] == result.film.mass
        assert numbers["containment.end.top.hoop_tension_N_per_m"] == result.containment.end.top.hoop_tension
        assert numbers["sensitivity.after_storage"] == result.sensitivity.after_storage
    assert both.numbers(-1) == both.numbers("candidate")


def test_table_and_factors(both):
    pytest.importorskip("xarray")
    table = both.to_table()
    assert table["film.mass_kg"].attrs["units"] == "kg"
    assert float(table["film.mass_kg"].sel(side="present")) == both.results[0].film.mass
    assert list(table["dominated"].values) == [False, False]
    why = both.explain("candidate")
    name = "containment.after_storage.least_station.hoop_tension_N_per_m"
    whole = both.numbers(1)[name] - both.numbers(0)[name]
    assert why[name].sum("factor").values == pytest.approx([whole, whole], abs=1e-9)
    assert why[name].attrs["total"] == pytest.approx(whole)
    assert list(why.factor.values) == ["film law", "pre-stretch", "thickness", "span force", "turns"]
    assert both.to_xarray().sizes["side"] == 2
    with pytest.raises(hf.InputError, match="no difference"):
        both.explain(0)


def test_pickle_and_text(both):
    again = pickle.loads(pickle.dumps(both))
    assert again.to_json() == both.to_json() and again.sentences == both.sentences
    assert again.results[1].film.mass == both.results[1].film.mass
    assert "by what it contains" in both.sentences[0] and "[2] candidate" in both.text
    assert "contains" in both._repr_html_() and "not a certificate" in both._repr_html_()
    assert both.to_csv().count("\n") == 3


def test_measured_and_failed_sides(folder):
    present = hf.read(folder / "present.toml")
    trio = hf.compare({"now": present, "read": folder / "measured.toml"}, factors=False, band_samples=0)
    assert trio.results[1] is None
    assert math.isnan(trio.to_dict()["Hoop tension, top, end of wrapping, N/m"]["read"])
    assert trio.to_dict()["Film per load, kg"]["read"] == pytest.approx(0.188, rel=0.03)
    assert "–" in trio._repr_html_() and "pull force" in trio.sentences[0]
    assert trio.summary["sides"][1]["readings"]["end"]["top"]["pull_force_N"]["loads"] == 3


def test_a_failed_candidate_is_recorded(folder):
    present = hf.read(folder / "present.toml").replace({"numerics.slices": 12})
    text = hf.Film.library("general-film").text
    unbroken = hf.Film.from_text(text[: text.index("[break]")] + text[text.index("[provenance]") :])
    two = hf.compare({"now": present, "no limit": present.replace(film=unbroken)}, best_prestretch=True, band_samples=0)
    assert two.results[1] is None and two.summary["sides"][1]["status"] == "failed"
    assert "break stretch" in two.summary["sides"][1]["message"]
    assert two.sentences == ["no limit could not be computed."]
    with pytest.raises(hf.InputError, match="no difference"):
        two.explain("no limit")


def test_films_alone_and_modes(folder):
    present = hf.read(folder / "present.toml")
    films = [hf.Film.library("general-film"), hf.Film.library("thin-stiff-film")]
    alone = hf.compare(films, within=present, sensitivity=False, band_samples=0)
    assert [d["factors"][0]["factor"] for d in alone.summary["differences"]] == ["film law"]
    assert alone.results[0].film.mass == hf.predict(present).film.mass
    same = hf.compare([present, hf.read(folder / "candidate.toml")], same="settings", factors=False, band_samples=0)
    assert same.results[1].scenario["delivery.prestretch"] == 2.0
    assert [a["key"] for a in same.summary["sides"][1]["adjustments"]] == [
        "delivery.prestretch",
        "delivery.tension.force",
        "pattern.pitch",
    ]


def test_refusals(folder):
    present = hf.read(folder / "present.toml")
    for call in (
        lambda: hf.compare([present]),
        lambda: hf.compare([present] * 25),
        lambda: hf.compare([present, present], same="everything"),
        lambda: hf.compare([hf.Film.library("general-film")] * 2),
    ):
        with pytest.raises(hf.InputError):
            call()
    with pytest.raises(hf.IoError):
        hf.compare([present, folder / "nowhere.toml"])
    with pytest.raises(TypeError):
        hf.compare([present, 3])
    with pytest.raises(hf.Interrupted):
        hf.compare([present] * 6, progress=lambda fraction, stage: False)


def test_twenty_films_within_a_scenario(folder):
    scenario = hf.read(folder / "present.toml").replace({"numerics.slices": 6, "storage.duration": "1 h"})
    base = hf.Film.library("general-film")
    films = {
        f"film {i}": hf.Film.from_text(
            base.text.replace('modulus = "0.783 MPa"', f'modulus = "{0.7 + 0.01 * i:.2f} MPa"')
        )
        for i in range(20)
    }
    both = hf.compare(films, within=scenario, unknowns="present", factors=False, sensitivity=False, band_samples=0)
    assert both.names == list(films) and all(result is not None for result in both.results)
    slopes = [both.numbers(name)["film_numbers.hardening_slope_MPa"] for name in both.names]
    assert slopes == sorted(slopes) and slopes[-1] > 1.1 * slopes[0]
    assert len(both.results[0].assumed) > 5 and not any(result.assumed for result in both.results[1:])
    with pytest.raises(hf.InputError, match="2 to 24 sides"):
        hf.compare([scenario] * 25)
    with pytest.raises(hf.InputError, match="unknowns='all' is not known"):
        hf.compare([scenario, scenario], unknowns="all")


MEASURE = "containment.after_storage.least_station.hoop_tension_N_per_m"


def test_a_side_by_name_with_its_verdict(both):
    side = both["candidate"]
    assert side.name == both[1].name == "candidate" and len(both) == 2
    assert side.words in ("more", "less", "not_distinguishable") and side.measure == MEASURE
    low, median, high = side.band
    assert low <= median <= high and side.against(MEASURE)["band"]["p50"] == median
    assert both["present"].words is None and both["present"].band is None
    assert set(side.savings) == {"rolls_per_year", "film_kg_per_year", "money_per_year", "co2e_kg_per_year"}
    assert side.words in repr(side) and side.result is both.results[1]
    with pytest.raises(hf.InputError, match="nothing"):
        side.against("nothing")
    with pytest.raises(hf.InputError, match="there is no side"):
        both["nobody"]


def test_the_verdict_recomputed_from_the_draws(both):
    """Quantiles of the ratio by NumPy over the draws of both predictions, which stand at the same points."""
    stations = [f"containment.after_storage.{s}.hoop_tension" for s in ("top", "middle", "bottom")]
    least = [r.draws["numbers"].sel(number=stations).min("number").values for r in both.results]
    ratio = least[1] / least[0]
    told = both[1].against(MEASURE)
    for name, p in (("p05", 0.05), ("p50", 0.5), ("p95", 0.95)):
        assert told["band"][name] == pytest.approx(np.quantile(ratio, p, method="weibull"))
    assert told["probability_more"] == pytest.approx((ratio > 1).mean())
    z = scipy.stats.norm.ppf(0.9)
    loads = 2 * (2 * z) ** 2 * 2 * 0.05**2 / np.log(told["band"]["p50"]) ** 2
    assert told["loads_to_tell"] == (pytest.approx(np.ceil(loads)) if loads < 1000 else None)
    film = [r.draws["numbers"].sel(number="cost.year.film_mass").values for r in both.results]
    saved = both[1].savings["film_kg_per_year"]
    assert saved["p05"] == pytest.approx(np.quantile(film[0] - film[1], 0.05, method="weibull"))
    assert saved["p95"] == pytest.approx(np.quantile(film[0] - film[1], 0.95, method="weibull"))


def test_words_follow_the_share_asked_for(folder):
    present = hf.read(folder / "present.toml").replace({"numerics.slices": 6, "storage.duration": "1 h"})
    stronger = present.replace({"delivery.tension.force": "74 N"})
    quick = {"factors": False, "sensitivity": False, "band_samples": 16}
    assert hf.compare([present, stronger], **quick)[1].words == "more"
    assert hf.compare([stronger, present], **quick)[1].words == "less"
    assert hf.compare([present, present], **quick)[1].words == "not_distinguishable"
    for wrong in ({"words_at": 0.4}, {"words_at": 1.0}, {"band_samples": 100}):
        with pytest.raises(hf.OutOfRange):
            hf.compare([present, stronger], **{**quick, **wrong})
