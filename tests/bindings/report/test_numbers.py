# SPDX-License-Identifier: BSD-3-Clause
"""Every number on the page equals the JSON it came from, in both unit styles."""

from __future__ import annotations

import csv
import json
import math
import re
from decimal import ROUND_HALF_UP, Decimal

import pytest

from conftest import at, data_of, run

INCH, POUND, POUND_FORCE = 0.0254, 0.45359237, 0.45359237 * 9.80665

# Written again here, from the definitions of the units: (factor, offset, unit) metric and inch-pound.
KINDS = {
    "tension": ((1, 0, "N/m"), (INCH / POUND_FORCE, 0, "lbf/in")),
    "force": ((1, 0, "N"), (1 / POUND_FORCE, 0, "lbf")),
    "height": ((1, 0, "m"), (1 / INCH, 0, "in")),
    "place": ((1000, 0, "mm"), (1 / INCH, 0, "in")),
    "small": ((1, 0, "mm"), (0.001 / INCH, 0, "in")),
    "length": ((1, 0, "m"), (1 / (12 * INCH), 0, "ft")),
    "mass": ((1000, 0, "g"), (16 / POUND, 0, "oz")),
    "bigmass": ((1, 0, "kg"), (1 / POUND, 0, "lb")),
    "fine": ((1, 0, "kg"), (1 / POUND, 0, "lb")),
    "price": ((1, 0, "per kg"), (POUND, 0, "per lb")),
    "km": ((1, 0, "km"), (1000 / (12 * INCH), 0, "ft")),
    "energyfactor": ((1, 0, "MJ/kg"), (POUND, 0, "MJ/lb")),
    "carriage": ((1, 0, "m/min"), (1 / (12 * INCH), 0, "ft/min")),
    "speed": ((1, 0, "m/s"), (60 / (12 * INCH), 0, "ft/min")),
    "celsius": ((1, 0, "°C"), (1.8, 32, "°F")),
    "stress": ((1, 0, "MPa"), (1e6 * INCH**2 / POUND_FORCE, 0, "psi")),
    "footprint": ((1, 0, "kg CO2e"), (1 / POUND, 0, "lb CO2e")),
}
SAME = {
    "percent": (1, "%"),
    "points": (1, "%"),
    "share": (100, "%"),
    "change": (100, "%"),
    "size": (100, "%"),
    "count": (1, ""),
    "ratio": (1, ""),
    "rate": (1, "1/s"),
    "angle": (1, "°"),
    "money": (1, ""),
    "minutes": (1, "min"),
    "seconds": (1, "s"),
    "hours": (1, "h"),
    "hourly": (1, "per h"),
    "energy": (1, "MJ"),
    "time": (1, "s"),
}
KINDS |= {name: ((factor, 0, unit), (factor, 0, unit)) for name, (factor, unit) in SAME.items()}
# Numbers whose unit the program declares: what that unit has to be.
KINDS |= {
    f"output:{place}": KINDS[kind]
    for place, kind in {
        "film/mass_kg": "mass",
        "film/length_on_roll_m": "length",
        "film/stretch_on_load_percent": "percent",
        "film/prestretch_force_N": "force",
        "film/laid_width_mm": "small",
        "span/force_mean_N": "force",
        "load/edge_line_force_N_per_m": "tension",
        "pattern/turns": "count",
        "pattern/rotation_time_s": "seconds",
    }.items()
}


def shown_number(text: str) -> float:
    text = text.replace("\u202f", "").replace("\u2212", "-").replace("+", "")
    return float(re.match(r"-?[\d.]+(e-?\d+)?", text).group())


def decimals(value: float, digits: int) -> int:
    return 0 if value == 0 else max(0, digits - 1 - math.floor(math.log10(abs(value)) + 1e-12))


def check_text(text: str, value: float, kind: str, style: int, bare: bool, digits: int) -> None:
    factor, offset, unit = KINDS[kind][style]
    if kind == "time":
        unit, factor = next(
            (u, f)
            for low, u, f in (
                (172800, "days", 1 / 86400),
                (86400.0001, "h", 1 / 3600),
                (86400, "day", 1 / 86400),
                (3600, "h", 1 / 3600),
                (120, "min", 1 / 60),
                (-1, "s", 1),
            )
            if abs(value) >= low
        )
    wanted = value * factor + offset
    if kind in ("size", "points"):
        wanted = abs(wanted)
    number = shown_number(text)
    size = abs(wanted)
    if kind == "money":
        step = Decimal(1).scaleb(-(0 if size >= 100 else 4 if size < 0.005 else 3 if size < 1 else 2))
    else:
        step = Decimal(1).scaleb(-decimals(wanted, digits))
    if size >= 1e4:
        step = max(step, Decimal(1).scaleb(math.floor(math.log10(size) + 1e-12) + 1 - max(digits, 4)))
    # Half up on the exact value; one step less precise is right where rounding carries to the next power of ten.
    exact = Decimal(wanted).quantize(step, ROUND_HALF_UP)
    coarse = Decimal(wanted).quantize(step * 10, ROUND_HALF_UP)
    tiny = size < 1e-6 and size > 0
    assert tiny and number == pytest.approx(wanted, rel=6e-3) or Decimal(repr(number)) in (exact, coarse), (
        text,
        wanted,
        kind,
    )
    if not bare and unit:
        assert text.endswith("\u00a0" + unit) or kind == "time" and text.endswith(" " + unit), (text, unit)


@pytest.mark.parametrize("name", ["plain", "full", "warned", "pair", "many"])
def test_every_number_is_the_one_of_its_json(reports, open_page, name):
    html, _ = reports[name]
    data, page = data_of(html), open_page(html, unfold=name != "many")
    found = page.eval_on_selector_all(
        "data.q",
        """elements => elements.map(e => ({value: e.getAttribute("value"), place: e.dataset.place,
        kind: e.dataset.kind, bare: e.dataset.bare !== undefined, digits: Number(e.dataset.digits),
        texts: e.children.length ? [...e.children].map(c => c.textContent) : [e.textContent, e.textContent]}))""",
    )
    assert len(found) > (300 if name == "many" else 500)
    for item in found:
        value = at(data, item["place"])
        assert float(item["value"]) == value, item
        for style, text in enumerate(item["texts"]):
            check_text(text, value, item["kind"], style, item["bare"], item["digits"])


@pytest.mark.parametrize("name", ["plain", "full", "warned", "pair", "many"])
def test_words_are_those_of_the_json(reports, open_page, name):
    html, _ = reports[name]
    data, page = data_of(html), open_page(html, unfold=name != "many")
    found = page.eval_on_selector_all("[data-words]", "elements => elements.map(e => [e.dataset.words, e.textContent])")
    assert len(found) > 50
    for place, text in found:
        if place == "sides/0/name" and name in ("pair", "many"):
            continue  # the headline adds its own words
        try:
            whole = at(data, place)
        except KeyError:
            whole = ""  # nothing declared: a dash stands there
        if text.endswith("\u2026"):
            assert whole.startswith(text[:-1])
        else:
            assert text == whole or text == "\u2013" and whole == "", place


def test_no_number_stands_outside_the_data(reports, open_page):
    """Numbers in the text of the page that were not taken from a place in the data."""
    for name in ("plain", "full", "pair"):
        page = open_page(reports[name][0])
        loose = page.evaluate("""() => {
          const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
          while (walker.nextNode()) {
            const node = walker.currentNode, parent = node.parentElement;
            const named = ["data", "[data-words]", "[data-count]", "svg", "script", "style", "noscript", "#notices",
                           ".unit", "summary", ".colour-key"];
            if (parent.closest(named.join(", "))) continue;
            const text = node.textContent.replaceAll("CO2e", "");
            if (/[0-9]/.test(text)) found.push(text);
          }
          return found;
        }""")
        assert loose == []


def test_summary_is_that_of_the_command(reports):
    for name in ("plain", "full", "warned"):
        html, (scenario,) = reports[name]
        mine = json.loads(run("predict", scenario, "--json", "--band-samples", "1024").stdout)
        mine.pop("run_info")
        inputs = mine.pop("inputs")
        side = data_of(html)["sides"][0]
        assert side["summary"] == mine
        assert [row["key"] for row in side["inputs"]] == list(inputs)
        for row in side["inputs"]:
            assert row["origin"] == inputs[row["key"]]["origin"]


def test_inputs_are_shown_in_units_people_write(reports):
    rows = {row["key"]: row for row in data_of(reports["full"][0])["sides"][0]["inputs"]}
    assert rows["film.thickness"]["metric"] == "23 \u00b5m"
    assert float(rows["film.width"]["inch_pound"].split()[0]) == pytest.approx(0.5 / INCH, rel=5e-4)
    assert rows["delivery.prestretch"]["metric"] == "200 %"
    assert float(rows["delivery.tension.force"]["inch_pound"].split()[0]) == pytest.approx(70 / POUND_FORCE, rel=5e-4)
    assert rows["storage.temperature"]["metric"] == "0 h: 23 \u00b0C"


def test_comparison_is_that_of_the_command(reports):
    html, files = reports["many"]
    mine = json.loads(run("compare", *files, "--json", "--unknowns").stdout)
    data = data_of(html)["comparison"]
    for alternative in mine["sides"]:
        if alternative["cost"] and "currency" in alternative["cost"]:
            alternative["currency"] = alternative["cost"]["currency"]
        for key in ("prediction", "cost", "against_present"):
            alternative.pop(key, None)
    assert data == mine
    assert [a["status"] for a in data["sides"]].count("failed") == 1


def test_pictures_hold_the_fields_of_the_result(reports, tmp_path):
    html, (scenario,) = reports["full"]
    run("predict", scenario, "--csv", tmp_path / "csv")
    detail = data_of(html)["sides"][0]["detail"]
    rows = list(csv.DictReader((tmp_path / "csv/hoop_tension.csv").open()))
    times = sorted({float(r["time_s"]) for r in rows})
    for face in ("front", "left", "back", "right"):
        for key, time in (("end_N_per_m", times[0]), ("after_storage_N_per_m", times[-1])):
            field = [float(r["hoop_tension_N_per_m"]) for r in rows if r["face"] == face and float(r["time_s"]) == time]
            assert detail["over_height"][key][face] == pytest.approx(field, rel=1e-6, abs=1e-9)
    span = list(csv.DictReader((tmp_path / "csv/span.csv").open()))
    assert detail["span"]["force_N"] == pytest.approx([float(r["force_N"]) for r in span], rel=1e-6)
    summary = data_of(html)["sides"][0]["summary"]
    for station in ("top", "middle", "bottom"):
        series = detail["over_time"][f"{station}_N_per_m"]
        assert series[0] == pytest.approx(summary["containment"]["end"][station]["hoop_tension_N_per_m"], rel=1e-6)
        assert series[-1] == pytest.approx(
            summary["containment"]["after_storage"][station]["hoop_tension_N_per_m"], rel=1e-6
        )
        assert detail["buildup"][station]["hoop_tension_N_per_m"][-1] == pytest.approx(series[0], rel=1e-6)
    assert sum(zone["mass_kg"] for zone in detail["zones"]) == pytest.approx(summary["film"]["mass_kg"], rel=1e-9)
    assert sum(zone["turns"] for zone in detail["zones"]) == pytest.approx(summary["pattern"]["turns"])


def test_yearly_chain_adds_up(reports):
    cost = data_of(reports["full"][0])["sides"][0]["summary"]["cost"]
    year = cost["year"]
    assert year["film_mass_kg"] == pytest.approx(year["loads"] * cost["film_mass_kg"])
    assert year["rolls"] * cost["roll_mass_kg"] == pytest.approx(year["film_mass_kg"])
    assert year["film"] == pytest.approx(year["film_mass_kg"] * cost["film_price_per_kg"])
    assert year["co2e_high_kg"] == pytest.approx(year["film_mass_kg"] * cost["co2e_factor_high"])
    assert year["total"] == pytest.approx(year["film"] + year["roll_changes"])
