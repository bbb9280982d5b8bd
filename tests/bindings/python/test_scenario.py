# SPDX-License-Identifier: BSD-3-Clause
"""Scenarios: change, compare, text, copy, pickle."""

import copy
import pickle
import random

import numpy as np
import pytest

import hoopfield as hf


def test_texts_and_si_numbers_say_the_same(scenario):
    by_text = scenario.replace(
        {"delivery.tension.force": "60 N", "delivery.prestretch": "230 %", "rotation.speed": "9 rpm"}
    )
    by_number = scenario.replace(
        {
            "delivery.tension.force": 60,
            "delivery.prestretch": hf.with_unit(230, "%"),
            "rotation.speed": hf.with_unit(np.float64(9) * np.pi / 30, "rad/s"),
        }
    )
    assert by_text["delivery.tension.force"] == by_number["delivery.tension.force"] == 60.0
    assert by_number["delivery.prestretch"] == by_text["delivery.prestretch"] == pytest.approx(2.3, rel=1e-15)
    assert by_text["rotation.speed"] == pytest.approx(by_number["rotation.speed"], rel=1e-15)


def test_numbers_among_texts_keep_every_bit(scenario):
    values = random.Random(7)
    for _ in range(200):
        friction, width = values.uniform(0.2, 0.9), values.uniform(0.3, 0.6)
        changed = scenario.replace(
            {"friction.film_on_film": friction, "film.width": hf.with_unit(width, "m"), "scenario.title": "x"}
        )
        assert (changed["friction.film_on_film"], changed["film.width"]) == (friction, width)


def test_replace_leaves_the_original(scenario):
    before = scenario.to_text()
    changed = scenario.replace({"delivery.tension.force": "90 N"})
    assert changed != scenario and scenario.to_text() == before and scenario["delivery.tension.force"] == 70.0


@pytest.mark.parametrize(
    "change",
    [
        {"storage.temperature": [[0, "296.15 K"], ["1 h", "30 degC"]]},
        {"storage.temperature": "5 degC"},
        {"delivery.tension.dial": 3.0, "delivery.tension.dial_table": [[1, "50 N"], [5, 90.0]]},
        {"pattern.overlap": "35 %"},
        {"carriage.speed_up": "40 mm/s"},
        {"load.kind": "rigid"},
        {"load.stiffness_along_length": float("inf")},
        {"friction.film_on_film": 0.2},
        {"friction.film_on_load": "stuck"},
        {"pattern.descent": False},
        {"pattern.descent": np.bool_(False)},
        {"numerics.slices": np.int64(20)},
        {"target.top": "300 N/m"},
        {"delivery.width_on_load": "400 mm"},
        {"stations.top": 1.3},
        {"scenario.title": 'quotes " and \\ and\nlines\tÄ€ \x01'},
    ],
)
def test_everything_survives_text_and_pickle(scenario, change):
    changed = scenario.replace(change)
    again = pickle.loads(pickle.dumps(changed))
    assert again == changed and hash(again) == hash(changed)
    assert again.inputs() == changed.inputs()
    from_text = hf.Scenario.from_text(changed.to_text(), film=changed.film)
    assert from_text == changed and from_text.inputs_hash == changed.inputs_hash
    assert {key: changed[key] for key in changed} == {key: from_text[key] for key in from_text}


def test_origins_survive(scenario):
    text = scenario.to_text().replace("force = \"70 N\"", "force = { value = \"70 N\", origin = \"measured\" }")
    measured = hf.Scenario.from_text(text, film=scenario.film)
    assert measured.origin("delivery.tension.force") == "measured" and measured != scenario
    assert pickle.loads(pickle.dumps(measured)).origin("delivery.tension.force") == "measured"
    assert (
        scenario.origin("delivery.tension.force") == "given" and scenario.origin("delivery.internal_path") == "assumed"
    )


def test_copies_are_equal(scenario):
    for other in (copy.copy(scenario), copy.deepcopy(scenario), hf.read(scenario.path)):
        assert other == scenario and other is not scenario and len({other, scenario}) == 1


def test_mapping(scenario):
    assert len(scenario) == len(list(scenario)) > 60
    assert "delivery.prestretch" in scenario and "delivery.prestrech" not in scenario
    assert scenario["delivery.prestretch"] == 2.5 and scenario["delivery.tension.control"] == "constant"
    assert scenario["pattern.overlap"] is None and scenario["friction.film_on_film"] == "stuck"
    assert scenario["storage.temperature"][0] == (0.0, 296.15)


def test_another_film(scenario):
    other = hf.Film.library("thin-stiff-film")
    changed = scenario.replace(film=other)
    assert changed.film == other and changed != scenario
    assert pickle.loads(pickle.dumps(changed)).film == other


def test_film_from_a_file_name(scenario, root):
    films = root / "models" / "parameters" / "films"
    changed = scenario.replace({"film.file": films / "thin-stiff-film.toml"})
    assert changed.film == hf.Film.library("thin-stiff-film")


def test_shows_itself(scenario):
    assert "70 N" in repr(scenario) and "250 %" in repr(scenario)
    assert "delivery.tension.force" in scenario._repr_html_() and "<script" not in scenario._repr_html_()
    evil = scenario.replace({"scenario.title": "<i>&"})
    assert "<i>&" not in evil._repr_html_() and "&lt;i&gt;&amp;" in evil._repr_html_()


def test_words_of_a_report(root):
    scenario = hf.read(root / "examples/01_first_prediction/scenario.toml")
    assert scenario.report == {"site": "", "author": "", "customer": "", "date": ""}
    told = scenario.replace({"report.site": "Hall 3", "report.date": "2026-11-27"})
    assert told.report == {"site": "Hall 3", "author": "", "customer": "", "date": "2026-11-27"}
    assert told != scenario and told["report.date"] == "2026-11-27"
    # As the title: part of what tells two runs apart, and of the text.
    assert told.inputs_hash != scenario.inputs_hash
    again = hf.Scenario.from_text(told.to_text(), film=told.film)
    assert again.report == told.report
    with pytest.raises(hf.InputError, match=r'report.date: "27.11.2026" .* did you mean "2026-11-27"'):
        scenario.replace({"report.date": "27.11.2026"})
    with pytest.raises(hf.InputError, match="201 characters"):
        scenario.replace({"report.author": "\u00e4" * 201})


def test_a_scenario_is_a_mapping(scenario):
    assert scenario.get("delivery.prestrech", 7.0) == 7.0 and scenario.get("nothing.at.all") is None
    with pytest.raises(KeyError, match="did you mean delivery.prestretch") as wrong:
        scenario["delivery.prestrech"]
    assert isinstance(wrong.value, hf.InputError) and isinstance(wrong.value, hf.UnknownKey)
    assert wrong.value.key == "delivery.prestrech"
    assert str(pickle.loads(pickle.dumps(wrong.value))) == str(wrong.value)
    assert dict(scenario) == {key: scenario[key] for key in scenario} and len(dict(scenario)) == len(scenario)


@pytest.mark.parametrize(
    "key, value, spellings",
    [
        ("rotation.speed", 12, ('"12 rpm"', '"12 rad/s"')),
        ("delivery.prestretch", 2.5, ('"2.5 %"', '"250 %"')),
        ("film.thickness", 23e-6, ('"2.3e-05 um"', '"2.3e-05 m"')),
        ("storage.duration", np.float64(7.0), ('"7 d"', '"7 s"')),
        ("storage.temperature", 300, ('"300 degC"', '"300 K"')),
        ("storage.temperature", 0, ('"0 degC"', '"0 K"')),
        ("storage.temperature", [["0 h", 296.15]], ('"296.15 degC"', '"296.15 K"')),
        ("storage.temperature", [[0, "20 degC"], [3600, "30 degC"]], ('"3600 h"', '"3600 s"')),
        ("pattern.pitch", np.int64(300), ('"300 mm"', '"300 m"')),
    ],
)
def test_a_number_that_could_be_two_values_is_refused(scenario, key, value, spellings):
    with pytest.raises(hf.InputError, match="has no unit") as raised:
        scenario.replace({key: value})
    assert all(spelling in str(raised.value) for spelling in spellings)
    assert raised.value.key == key


def test_numbers_with_a_unit(scenario):
    assert hf.with_unit(12, "rpm") == "12 rpm" and hf.with_unit(0.1, "m") == "0.1 m"
    assert hf.with_unit(np.linspace(0.0, 1.0, 3), "%") == ["0 %", "0.5 %", "1 %"]
    assert hf.with_unit(np.array(2.5), "N") == "2.5 N" and hf.with_unit((1, 2.0), "") == ["1", "2"]
    with pytest.raises(hf.InputError, match="is a text"):
        hf.with_unit("12", "rpm")
    # Nothing to confuse: SI is what people use, there is no unit, or the value is nothing or without end.
    changed = scenario.replace(
        {
            "load.height": 1.5,
            "friction.film_on_film": 0.3,
            "pattern.start_height": 0,
            "load.stiffness_along_length": float("inf"),
        }
    )
    assert changed["load.height"] == 1.5 and changed["pattern.start_height"] == 0.0
