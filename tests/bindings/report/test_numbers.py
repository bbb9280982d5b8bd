# SPDX-License-Identifier: BSD-3-Clause
"""Every number on the page equals the JSON it came from, in both unit styles."""

from __future__ import annotations

import csv
import json
import math
import re
from decimal import ROUND_HALF_UP, Decimal

import pytest
from conftest import DRAWS, at, data_of, run

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
    "price": ((1, 0, "per kg"), (POUND, 0, "per lb")),
    "carriage": ((1, 0, "m/min"), (1 / (12 * INCH), 0, "ft/min")),
    "speed": ((1, 0, "m/s"), (60 / (12 * INCH), 0, "ft/min")),
    "celsius": ((1, 0, "°C"), (1.8, 32, "°F")),
    "stress": ((1, 0, "MPa"), (1e6 * INCH**2 / POUND_FORCE, 0, "psi")),
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
    "seconds": (1, "s"),
    "hourly": (1, "per h"),
    "time": (1, "s"),
}
KINDS |= {name: ((factor, 0, unit), (factor, 0, unit)) for name, (factor, unit) in SAME.items()}
# Numbers whose unit the program declares: what that unit has to be.
KILOGRAMS = ((1, 0, "kg"), (1 / POUND, 0, "lb"))
MEGAJOULES = ((1, 0, "MJ"), (1, 0, "MJ"))
MEGAJOULES_PER_MASS = ((1, 0, "MJ/kg"), (POUND, 0, "MJ/lb"))
AMOUNTS = {"money"} | {
    f"output:cost/{key}"
    for key in (
        "film_per_load",
        "roll_changes_per_load",
        "per_load",
        "year/film",
        "year/roll_changes",
        "year/total",
    )
}
KINDS |= {
    f"output:{place}": KINDS[kind] if isinstance(kind, str) else kind
    for place, kind in {
        "film/mass_kg": "mass",
        "film/length_on_roll_m": "length",
        "film/stretch_on_load_percent": "percent",
        "film/prestretch_force_N": "force",
        "film/laid_width_mm": "small",
        "span/force_mean_N": "force",
        "span/force_set_N": "force",
        "load/edge_line_force_N_per_m": "tension",
        "pattern/turns": "count",
        "pattern/rotation_time_s": "seconds",
        "pattern/pitch_mm": "small",
        "transit/withstood_gn": ((1, 0, "gn"), (1, 0, "gn")),
        "cost/film_mass_kg": KILOGRAMS,
        "cost/film_price_per_kg": "price",
        "cost/roll_mass_kg": KILOGRAMS,
        "cost/roll_length_m": "length",
        "cost/loads_per_roll": "count",
        "cost/roll_change_time_min": ((1, 0, "min"), (1, 0, "min")),
        "cost/labour_rate_per_h": "hourly",
        "cost/co2e_factor_low": "count",
        "cost/co2e_factor_high": "count",
        "cost/co2e_low_kg": KILOGRAMS,
        "cost/co2e_high_kg": KILOGRAMS,
        "cost/energy_factor_low_MJ_per_kg": MEGAJOULES_PER_MASS,
        "cost/energy_factor_high_MJ_per_kg": MEGAJOULES_PER_MASS,
        "cost/energy_low_MJ": MEGAJOULES,
        "cost/energy_high_MJ": MEGAJOULES,
        "cost/year/loads": "count",
        "cost/year/film_length_km": ((1, 0, "km"), (1000 / (12 * INCH), 0, "ft")),
        "cost/year/film_mass_kg": KILOGRAMS,
        "cost/year/rolls": "count",
        "cost/year/roll_change_time_h": ((1, 0, "h"), (1, 0, "h")),
        "cost/year/co2e_low_kg": KILOGRAMS,
        "cost/year/co2e_high_kg": KILOGRAMS,
        "cost/year/energy_low_MJ": MEGAJOULES,
        "cost/year/energy_high_MJ": MEGAJOULES,
    }.items()
} | {kind: KINDS["money"] for kind in AMOUNTS}


def shown_number(text: str) -> float:
    text = text.replace("\u202f", "").replace("\u2212", "-").replace("+", "")
    return float(re.match(r"-?[\d.]+(e-?\d+)?", text).group())


def decimals(value: float, digits: int) -> int:
    return 0 if value == 0 else max(0, digits - 1 - math.floor(math.log10(abs(value)) + 1e-12))


def check_text(text: str, value: float, kind: str, style: int, bare: bool, digits: int, width: float = 0) -> None:
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
    if kind in AMOUNTS:
        step = Decimal(1).scaleb(-(0 if size >= 100 else 4 if size < 0.005 else 3 if size < 1 else 2))
    else:
        step = Decimal(1).scaleb(-decimals(wanted, digits))
    if width > 0:  # of the band: it leaves twenty steps
        step = Decimal(1).scaleb(math.floor(math.log10(width * factor / 20)))
        assert Decimal(repr(number)) == Decimal(wanted).quantize(step, ROUND_HALF_UP), (text, wanted, width)
        assert bare or text.endswith("\u00a0" + unit) or not unit
        return
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
        width: Number(e.dataset.width ?? 0),
        texts: e.children.length ? [...e.children].map(c => c.textContent) : [e.textContent, e.textContent]}))""",
    )
    assert len(found) > (300 if name == "many" else 500)
    for item in found:
        value = at(data, item["place"])
        assert float(item["value"]) == value, item
        for style, text in enumerate(item["texts"]):
            check_text(text, value, item["kind"], style, item["bare"], item["digits"], item["width"])


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
            const text = node.textContent.replaceAll("CO2", "");
            if (/[0-9]/.test(text)) found.push(text);
          }
          return found;
        }""")
        assert loose == []


def test_summary_is_that_of_the_command(reports):
    for name in ("plain", "full", "warned"):
        html, (scenario,) = reports[name]
        mine = json.loads(run("predict", scenario, "--json", *DRAWS).stdout)
        mine.pop("run_info")
        inputs = mine.pop("inputs")
        side = data_of(html)["sides"][0]
        shown = side["summary"]["band"].pop("values")
        every = mine["band"].pop("values")  # the page keeps what it shows
        assert side["summary"] == mine
        assert 18 <= len(shown) < 30 and shown == {name: every[name] for name in shown}
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


def share(ratio):
    """A ratio as a change."""
    return None if ratio is None else pytest.approx(ratio - 1, abs=1e-12)


@pytest.mark.parametrize("name", ["pair", "many"])
def test_comparison_is_that_of_the_command(reports, name):
    html, files = reports[name]
    mine = json.loads(run("compare", *files, "--json", "--unknowns").stdout)
    data = data_of(html)["comparison"]
    for alternative in mine["sides"]:
        if alternative["cost"] and "currency" in alternative["cost"]:
            alternative["currency"] = alternative["cost"]["currency"]
        for key in ("prediction", "cost"):
            alternative.pop(key, None)
        against = alternative["against_present"]
        if name == "many":  # of many wraps only the containment they are judged by is kept
            against = {q: found for q, found in against.items() if q == mine["measures"]["containment"]}
        nothing = {"p05": None, "p95": None}
        alternative["against_present"] = {
            quantity: {
                "difference": found["difference"],
                "size": abs(found["difference"]),
                "low": (found.get("difference_band") or nothing)["p05"],
                "high": (found.get("difference_band") or nothing)["p95"],
                "change": share(found["ratio"]),
                "low_change": share((found.get("band") or nothing)["p05"]),
                "high_change": share((found.get("band") or nothing)["p95"]),
            }
            | ({"words": found["words"].replace("_", " ")} if "words" in found else {})
            for quantity, found in against.items()
        }
    assert data == mine
    assert [a["status"] for a in data["sides"]].count("failed") == (1 if name == "many" else 0)


def test_pictures_hold_the_fields_of_the_result(reports, tmp_path):
    html, (scenario,) = reports["full"]
    run("predict", scenario, "--band-samples", "0", "--csv", tmp_path / "csv")
    detail = data_of(html)["sides"][0]["detail"]
    rows = list(csv.DictReader((tmp_path / "csv/hoop_tension.csv").open()))
    times = sorted({float(r["time_s"]) for r in rows})
    for face in ("front", "left", "back", "right"):
        for key, time in (("end_N_per_m", times[0]), ("after_storage_N_per_m", times[-1])):
            field = [float(r["hoop_tension_N_per_m"]) for r in rows if r["face"] == face and float(r["time_s"]) == time]
            assert detail["over_height"][key][face] == pytest.approx(field, rel=1e-4, abs=1e-9)
    span = list(csv.DictReader((tmp_path / "csv/span.csv").open()))
    assert detail["span"]["force_N"] == pytest.approx([float(r["force_N"]) for r in span], rel=1e-4)
    summary = data_of(html)["sides"][0]["summary"]
    for station in ("top", "middle", "bottom"):
        series = detail["over_time"][f"{station}_N_per_m"]
        assert series[0] == pytest.approx(summary["containment"]["end"][station]["hoop_tension_N_per_m"], rel=1e-4)
        assert series[-1] == pytest.approx(
            summary["containment"]["after_storage"][station]["hoop_tension_N_per_m"], rel=1e-4
        )
        assert detail["buildup"][station]["hoop_tension_N_per_m"][-1] == pytest.approx(series[0], rel=1e-4)
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
