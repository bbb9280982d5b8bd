# SPDX-License-Identifier: BSD-3-Clause
"""hf.compare: the numbers of the command, tables, pickles and errors."""

import json
import math
import pickle
import subprocess

import hoopfield as hf
import pytest


@pytest.fixture(scope="module")
def folder(root):
    return root / "examples" / "08_thin_against_thick"


@pytest.fixture(scope="module")
def both(folder):
    return hf.compare([folder / "present.toml", folder / "candidate.toml"])


def test_the_object_of_the_command(both, folder, command):
    run = subprocess.run(
        [command, "compare", folder / "present.toml", folder / "candidate.toml", "--json"],
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
    assert "contains" in both.sentences[0] and "[2] candidate" in both.text
    assert "contains" in both._repr_html_() and "not a certificate" in both._repr_html_()
    assert both.to_csv().count("\n") == 3


def test_measured_and_failed_sides(folder):
    present = hf.read(folder / "present.toml")
    trio = hf.compare({"now": present, "read": folder / "measured.toml"}, factors=False)
    assert trio.results[1] is None
    assert math.isnan(trio.to_dict()["Hoop tension, top, end of wrapping, N/m"]["read"])
    assert trio.to_dict()["Film per load, kg"]["read"] == pytest.approx(0.188, rel=0.03)
    assert "–" in trio._repr_html_() and "pull force" in trio.sentences[0]
    assert trio.summary["sides"][1]["readings"]["end"]["top"]["pull_force_N"]["loads"] == 3


def test_a_failed_candidate_is_recorded(folder):
    present = hf.read(folder / "present.toml").replace({"numerics.slices": 12})
    text = hf.Film.library("general-film").text
    unbroken = hf.Film.from_text(text[: text.index("[break]")] + text[text.index("[provenance]") :])
    two = hf.compare({"now": present, "no limit": present.replace(film=unbroken)}, best_prestretch=True)
    assert two.results[1] is None and two.summary["sides"][1]["status"] == "failed"
    assert "break stretch" in two.summary["sides"][1]["message"]
    assert two.sentences == ["[2] no limit could not be computed."]
    with pytest.raises(hf.InputError, match="no difference"):
        two.explain("no limit")


def test_films_alone_and_modes(folder):
    present = hf.read(folder / "present.toml")
    films = [hf.Film.library("general-film"), hf.Film.library("thin-stiff-film")]
    alone = hf.compare(films, within=present, sensitivity=False)
    assert [d["factors"][0]["factor"] for d in alone.summary["differences"]] == ["film law"]
    assert alone.results[0].film.mass == hf.predict(present).film.mass
    same = hf.compare([present, hf.read(folder / "candidate.toml")], same="settings", factors=False)
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
    both = hf.compare(films, within=scenario, unknowns="present", factors=False, sensitivity=False)
    assert both.names == list(films) and all(result is not None for result in both.results)
    slopes = [both.numbers(name)["film_numbers.hardening_slope_MPa"] for name in both.names]
    assert slopes == sorted(slopes) and slopes[-1] > 1.1 * slopes[0]
    assert len(both.results[0].assumed) > 5 and not any(result.assumed for result in both.results[1:])
    with pytest.raises(hf.InputError, match="2 to 24 sides"):
        hf.compare([scenario] * 25)
    with pytest.raises(hf.InputError, match="unknowns='all' is not known"):
        hf.compare([scenario, scenario], unknowns="all")
