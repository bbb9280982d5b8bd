# SPDX-License-Identifier: BSD-3-Clause
"""The section on the load in transit: its pictures, their words, and what is said when nothing is known."""

import json

import pytest
from conftest import ROOT, data_of, run, written
from test_page import sheets

EXAMPLE = ROOT / "examples/15_in_transit/scenario.toml"


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    folder = tmp_path_factory.mktemp("transit")
    bare = written(folder / "bare.toml", EXAMPLE, ('^mass = "600 kg"$', ""))
    known = written(folder / "known.toml", EXAMPLE)
    made = {}
    for name, scenario in {"known": known, "bare": bare}.items():
        made[name] = folder / f"{name}.html"
        run("predict", scenario, "--band-samples", "0", "--report", made[name])
    tighter = written(folder / "tighter.toml", EXAMPLE, ('^force = "70 N"$', 'force = "90 N"'))
    for name, sides in {"pair": [known, tighter], "three": [known, tighter, bare]}.items():
        made[name] = folder / f"{name}.html"
        run("compare", *sides, "--band-samples", "0", "--report", made[name])
    return made


def test_the_data_are_small_and_as_the_command_says(pages, tmp_path):
    side = data_of(pages["known"])["sides"][0]
    found = side["detail"]["transit"]
    assert len(json.dumps(found)) < 8000
    # What the summary says already is not said again.
    assert "interfaces" not in found and "withstood_gn" not in found
    summary = json.loads(run("predict", EXAMPLE, "--band-samples", "0", "--json").stdout)["transit"]
    assert side["summary"]["transit"] == summary
    assert (
        found["direction"]
        == {"along_width": "along its width", "along_length": "along its length"}[found["load_direction"]]
    )
    ride = found["ride"]
    assert len(ride["worst"]) == 8 and ride["tiers"][0]["tier"] == 1 and ride["tiers"][-1]["tier"] == 8
    for line in ride["tiers"]:
        assert len(line["shift_mm"]) == len(ride["time_s"]) <= 121


def test_pictures_have_words_numbers_and_no_word_of_a_certificate(pages, open_page):
    page = open_page(pages["known"])
    text = page.inner_text("#transit")
    assert "predicted to" in text and "never a certificate" in text and "pass" not in text.replace("passes", "")
    for svg in page.locator("#transit .drawing svg").all():
        assert len(svg.get_attribute("aria-label")) > 20
    assert page.locator("#transit-capacity details tbody tr").count() == 8
    assert page.locator("#leaning-stack details tbody tr").count() > 20
    assert page.locator("#leaning-stack path.tier, #leaning-stack .tier path").count() == 8
    assert page.locator("#transit-capacity .required").count() >= 1


def test_every_wrap_is_drawn(pages, open_page):
    page = open_page(pages["pair"])
    for picture, drawings in {"#transit-capacity": 2, "#leaning-stack": 4}.items():
        assert page.locator(f"{picture} .drawing svg").count() == drawings
        assert page.locator(f"{picture} h4").count() == 2
    assert page.locator("#leaning-stack path.tier, #leaning-stack .tier path").count() == 16
    assert page.locator("#transit-capacity details table").count() == 2
    assert page.locator("#leaning-stack details table").count() == 4
    # Both on one scale, so that they can be compared by eye.
    ticks = page.eval_on_selector_all(
        "#transit-capacity .drawing svg", "all => all.map(s => [...s.querySelectorAll('text')].map(t => t.textContent))"
    )
    assert ticks[0] == ticks[1]
    three = open_page(pages["three"])
    assert three.locator("#leaning-stack .drawing svg").count() == 4  # of the two that are known
    assert "load.mass is missing" in three.inner_text("#transit")
    assert three.locator(".transit-missing").count() == 1


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_pair_prints_on_six_sheets(pages, open_page, tmp_path, paper):
    page = open_page(pages["pair"], unfold=False)
    assert len(sheets(page, tmp_path / "pair.pdf", paper)) <= 6


@pytest.mark.parametrize("width", [1280, 390])
def test_the_stack_is_drawn_at_one_scale_and_fits(pages, open_page, width):
    page = open_page(pages["known"], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    box = page.locator("#leaning-stack .at-rest rect, #leaning-stack rect.at-rest").first.bounding_box()
    found = data_of(pages["known"])["sides"][0]["detail"]["transit"]
    assert box["height"] > 0.9 * box["width"] * 1.6 / found["side_m"]


def test_without_a_mass_the_section_says_what_is_missing(pages, open_page):
    page = open_page(pages["bare"])
    assert "load.mass is missing" in page.inner_text("#transit")
    assert page.locator("#transit svg").count() == 0
