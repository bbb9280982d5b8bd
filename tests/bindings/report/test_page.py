# SPDX-License-Identifier: BSD-3-Clause
"""The page as a reader meets it: hostile names, keyboard, units, sorting, accessibility, paper, phone."""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path

import pytest
from conftest import DRAWS, PAIR, REFERENCE, ROOT, data_of, run, written
from pypdf import PdfReader

HOSTILE = (
    "<script>window.taken=1</script></script><img src=x onerror=\"window.taken=1\"> \\\"'&amp; \u202eevil\u202c \U0001f4e6 @DATA@ "
    + "w" * 10000
)
SECTIONS = [
    "Answer",
    "Settings card",
    "Cautions",
    "Pictures: where the tension comes from, and where it goes",
    "Transit: does the load stay together on its way",
    "Containment at the stations",
    "More pictures",
    "Film per load",
    "Cost per load",
    "Yearly figures",
    "Largest unknowns",
    "Assumptions",
    "Warnings",
    "Validation status",
    "Inputs with units and sources",
]


def headings(page):
    return page.eval_on_selector_all("main h2", "h => h.map(e => e.textContent)")


def test_sections_stand_in_their_order(reports, open_page):
    for name in ("plain", "full", "warned"):
        assert headings(open_page(reports[name][0])) == SECTIONS
    both = headings(open_page(reports["pair"][0]))
    assert [h for h in both if h != "All wraps compared"] == SECTIONS


def test_pages_are_small_and_whole(reports):
    for html, _ in reports.values():
        text = html.read_text()
        assert len(text.encode()) < 1.8e6  # of twelve sides, each with its answer to transit
        assert "src=" not in text.split("<script>")[0].replace("&lt;", "") and "<link" not in text
        notices = text.split('<pre tabindex="0">')[1].split("</pre>")[0]  # of what is bundled
        assert "@observablehq/plot 0." in notices and "d3-scale" in notices
        assert "Permission to use, copy, modify" in notices and "Copyright" in notices


def test_pictures_with_titles_and_alternatives(reports, open_page):
    page = open_page(reports["full"][0])
    # The span force is constant, so it is told in words; two are of the load in transit.
    assert page.locator("figure.picture").count() == 8
    assert page.locator("figure.picture h3").count() == 8
    for svg in page.locator("figure.picture .drawing svg").all():
        assert len(svg.get_attribute("aria-label")) > 20
    for figure in page.locator("figure.picture").all():
        assert figure.locator("details table tbody tr").count() > 2


def test_what_was_not_given_is_absent(reports, open_page):
    page = open_page(reports["plain"][0])
    assert "No film price is given" in page.inner_text("#cost")
    assert "no yearly figures" in page.inner_text("#yearly")
    assert page.locator("#cost table, #yearly table").count() == 0
    assert "gives no verdict" in page.inner_text("#answer")
    assert "Target" not in page.locator("#answer table").first.inner_text()


def test_targets_are_judged(reports, open_page):
    page = open_page(reports["full"][0])
    targets = {t["station"]: t["met"] for t in data_of(reports["full"][0])["sides"][0]["summary"]["targets"]}
    assert targets == {"top": True, "middle": False}
    rows = page.locator("#answer .cards tbody tr").all_inner_texts()
    assert "met" in rows[0] and "missed" in rows[1] and "none set" in rows[2]
    assert "misses its target: hoop tension, middle, after storage" in page.inner_text("#answer")


def test_every_warning_is_shown_and_told_as_a_risk(reports, open_page):
    page = open_page(reports["warned"][0])
    warnings = data_of(reports["warned"][0])["sides"][0]["summary"]["warnings"]
    assert len(warnings) >= 6 and {w["severity"] for w in warnings} >= {"danger", "caution"}
    for warning in warnings:
        assert warning["text"] in page.inner_text("#warnings")
    assert "danger" in page.inner_text("#answer")


def test_cautions(reports, open_page):
    text = open_page(reports["full"][0]).inner_text("#cautions")
    for words in ("not a certificate", "local rules", "qualified person"):
        assert words in text


def test_every_way_of_measuring_shows_its_caution(reports, open_page):
    data = data_of(reports["full"][0])
    page = open_page(reports["full"][0])
    assumed = data["sides"][0]["summary"]["assumed"]
    careful = [unknown["caution"] for unknown in assumed[:5] if unknown["caution"]]
    assert careful
    for caution in careful:
        assert caution in page.inner_text("#unknowns")
    page.evaluate("document.querySelectorAll('#assumptions details').forEach((d) => (d.open = true))")
    shown = page.inner_text("#assumptions")
    told = [
        data["declarations"][row["key"]]["caution"]
        for row in data["sides"][0]["inputs"]
        if row["origin"] == "assumed" and data["declarations"][row["key"]]["caution"]
    ]
    assert len(told) > 10
    for caution in told:
        assert caution in shown


METRIC = re.compile(r"[0-9][\u00a0 ](mm|cm|m|um|\u00b5m|N|kN|N/m|Pa|kPa|MPa|degC|\u00b0C|g|kg|m/s|m/min)\b(?!/)")


@pytest.mark.parametrize("name", ["full", "warned", "pair"])
def test_an_inch_pound_page_is_inch_pound_throughout(reports, open_page, name):
    page = open_page(reports[name][0])
    page.locator("input[value=inch-pound]").check()
    page.evaluate("document.querySelectorAll('main details').forEach((d) => (d.open = true))")
    page.wait_for_timeout(200)
    shown = page.inner_text("main")
    assert len(shown) > 10_000
    # Titles, notes, names and sources are words of the user and of publications.
    own = ("General film", "Thin stiff film")
    lines = [line for line in shown.splitlines() if not any(title in line for title in own)]
    loose = [m.group() for line in lines for m in METRIC.finditer(line)]
    assert loose == []


def test_every_cell_of_money_names_its_currency(reports, open_page):
    page = open_page(reports["pair"][0])
    cells = page.eval_on_selector_all(
        "td:has(data[data-money])",
        "cells => cells.map(c => c.textContent)",
    )
    assert len(cells) >= 10 and all("EUR" in cell for cell in cells)


def test_hostile_words_stay_words(tmp_path, open_page):
    film = tmp_path / "film.toml"
    quoted = json.dumps(HOSTILE, ensure_ascii=False)  # a JSON string is a TOML string too
    written(film, ROOT / "models/parameters/films/general-film.toml", (r"^name = .*", f"name = {quoted}"))
    scenario = written(
        tmp_path / "hostile.toml",
        REFERENCE,
        (r"^title = .*", f"title = {quoted}\nnotes = {quoted}"),
        (r"^file = .*", f'file = "{film}"'),
    )
    html = tmp_path / "hostile.html"
    run("predict", scenario, *DRAWS, "--report", html)
    side = data_of(html)["sides"][0]
    assert side["title"] == side["notes"] == side["film"] == HOSTILE
    for width in (1280, 390):
        page = open_page(html, width)
        assert page.evaluate("window.taken") is None
        assert page.locator("script").count() == 2 and page.locator("img").count() == 0
        assert page.inner_text("#inputs").count("window.taken=1") >= 2
        assert page.inner_text("h1").startswith("<script>window.taken=1</script>")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.title().startswith("Wrap report: <script>")
    both = tmp_path / "both.html"
    run("compare", scenario, PAIR[1], "--report", both)
    page = open_page(both, 390)
    assert page.evaluate("window.taken") is None and page.locator("script").count() == 2
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_file_says_its_units(reports, tmp_path, open_page):
    html = tmp_path / "inch.html"
    run("predict", REFERENCE, *DRAWS, "--report", html, "--units", "inch-pound")
    page = open_page(html)
    assert page.get_attribute("html", "data-units") == "inch-pound"
    assert "lbf/in" in page.inner_text("#answer") and "N/m" not in page.inner_text("#answer")
    assert page.locator("input[value=inch-pound]").is_checked()
    assert "N/m" in open_page(reports["full"][0]).inner_text("#answer")


def test_units_by_keyboard(reports, open_page):
    page = open_page(reports["full"][0])
    page.focus("input[value=metric]")
    page.keyboard.press("ArrowRight")
    assert page.get_attribute("html", "data-units") == "inch-pound"
    assert "lbf/in" in page.locator("#over-height .drawing svg").first.text_content()
    page.keyboard.press("ArrowRight")
    number = page.locator("#answer .cards tbody data.q").first
    assert number.locator(".metric").is_visible() and number.locator(".inch-pound").is_visible()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "with-appendix"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Print the report"


def test_sorting_and_dominance(reports, open_page):
    html = reports["many"][0]
    page, sides = open_page(html, unfold=False), data_of(html)["comparison"]["sides"]
    head = page.locator("#sides thead th", has_text="hoop tension").first
    for direction, sign in (("ascending", 1), ("descending", -1)):
        head.locator("button").click()
        assert head.get_attribute("aria-sort") == direction
        values = page.eval_on_selector_all(
            "#sides table >> nth=0 >> tbody tr", "rows => rows.map(r => r.children[1].querySelector('data')?.value)"
        )
        numbers = [sign * float(v) for v in values if v is not None]
        assert numbers == sorted(numbers) and len(numbers) == 11
        assert values[-1] is None  # the failed side stays last
    name = "containment.after_storage.least_station.hoop_tension_N_per_m"
    for a in sides:
        for b in a["dominated_by"]:
            other = sides[b]["numbers"]
            assert other[name] >= a["numbers"][name] and other["cost.per_load"] <= a["numbers"]["cost.per_load"]
    assert "not computed" in page.inner_text("#sides")
    assert page.locator("#over-height .panel").count() == 10  # the present wrap stands in the panel of each candidate


def test_twenty_films_on_one_page(tmp_path, open_page):
    text = (ROOT / "models/parameters/films/general-film.toml").read_text()
    films = []
    for i in range(20):
        stiffer = re.sub(
            r'^(modulus|flow_stress) = "(\S+) MPa"',
            lambda m, f=1 + 0.02 * i: f'{m[1]} = "{float(m[2]) * f:.5g} MPa"',
            text,
            flags=re.MULTILINE,
        )
        films.append(tmp_path / f"film {i + 1}, illustrative.toml")
        films[-1].write_text(stiffer)
    html = tmp_path / "films.html"
    run("compare", *films, "--in", REFERENCE, "--report", html)
    assert html.stat().st_size < 2e6
    sides = data_of(html)["comparison"]["sides"]
    modulus = [side["numbers"]["film_numbers.secant_modulus_MPa"] for side in sides]
    assert modulus == sorted(modulus) and len(modulus) == 20
    for width in (1280, 390):
        page = open_page(html, width, unfold=False)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        for table in page.locator("#sides table.dense").all()[:3]:
            assert table.locator("tbody tr").count() == 20
        # A panel for each film beside the first, one more for the warm days.
        for picture, panels in {"over-height": 19, "over-time": 20, "stiffness": 20, "faces": 1, "zones": 1}.items():
            drawings = page.locator(f"#{picture} .panel")
            assert drawings.count() == panels, picture
            # Wide enough that letters of 12 pixels and an axis of some ticks fit.
            assert (
                min(
                    page.eval_on_selector_all(
                        f"#{picture} .drawing svg", "all => all.map(e => e.getBoundingClientRect().width)"
                    )
                )
                > 220
            )
        assert "Ranked for film 1, illustrative only." in page.inner_text("#unknowns")
    # The first column stays in sight on a phone.
    frame = page.locator("#sides .frame").first
    frame.evaluate("f => f.scrollLeft = 300")
    assert frame.locator("tbody th").first.bounding_box()["x"] == pytest.approx(frame.bounding_box()["x"], abs=1)
    films_alone = page.locator("#sides table.dense").nth(2)
    head = films_alone.locator("thead th").nth(1)
    head.locator("button").click()
    head.locator("button").click()
    assert films_alone.locator("tbody th").first.inner_text().startswith("20 film 20")


def test_factors_add_up(reports):
    for name in ("pair", "many"):
        for difference in data_of(reports[name][0])["comparison"]["differences"]:
            for order in ("forward", "reverse"):
                for quantity, total in difference["total"].items():
                    parts = [f[order].get(quantity) for f in difference["factors"]]
                    if None not in parts:
                        assert sum(parts) == pytest.approx(total, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "width", "unfold"),
    [
        ("full", 1280, True),
        ("full", 390, False),
        ("plain", 1280, False),
        ("warned", 390, False),
        ("pair", 1280, False),
        ("many", 1280, False),
    ],
)
def test_accessible(reports, open_page, name, width, unfold):
    page = open_page(reports[name][0], width, unfold)
    page.add_script_tag(content=Path(os.environ["HOOPFIELD_AXE"]).read_text())
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    grave = [
        (v["id"], v["impact"], v["nodes"][0]["html"][:200])
        for v in found["violations"]
        if v["impact"] in ("serious", "critical")
    ]
    assert grave == []
    assert len(found["passes"]) > 20
    levels = page.eval_on_selector_all("h1, h2, h3, h4", "h => h.map(e => Number(e.tagName[1]))")
    assert levels[0] == 1 and levels.count(1) == 1 and all(b - a <= 1 for a, b in zip(levels, levels[1:]))


@pytest.mark.parametrize("width", [390, 640])  # 640 is 1280 at 200 % zoom
@pytest.mark.parametrize("name", ["full", "many"])
def test_narrow_pages_do_not_scroll_sideways(reports, open_page, name, width):
    page = open_page(reports[name][0], width, unfold=name == "full")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_moment_chosen_drives_drawing_and_tables(reports, open_page):
    page = open_page(reports["full"][0], unfold=False)
    for moment in ("end", "after_storage", "weakest"):
        page.check(f"input[name=moment][value={moment}]")
        assert page.get_attribute("#load figure", "data-moment") == moment
        shown = page.eval_on_selector_all(
            ".at-moment", "all => all.filter(e => e.offsetParent !== null).map(e => e.dataset.moment)"
        )
        assert shown == [moment]
    # The choice stays in sight however far the reader has come.
    page.evaluate("document.getElementById('validation').scrollIntoView()")
    assert page.locator(".tools.sticky").bounding_box()["y"] == pytest.approx(0, abs=1)


@pytest.mark.parametrize("name", ["full", "pair"])
def test_page_and_terminal_begin_with_the_same_sentence(reports, open_page, name):
    html, files = reports[name]
    terminal = run("predict", *files, *DRAWS) if name == "full" else run("compare", *files)
    printed = " ".join(terminal.stdout.split())
    answer = " ".join(open_page(html).locator("#answer .answer").first.inner_text().split())
    assert printed.index(answer) <= len("General film, 23 um at 200 % ")  # a title may stand above it


@pytest.mark.parametrize("name", ["plain", "full", "warned", "pair", "many"])
def test_the_first_sheet_has_no_words_of_ours(reports, open_page, name):
    page = open_page(reports[name][0], unfold=False)
    sheet = page.inner_text("#answer")
    for words in ("sides", "side ", "dominat", "laid fraction", "draws", "secant"):
        assert words not in sheet.replace("four sides", ""), words
    keys = data_of(reports[name][0])["declarations"]
    assert [key for key in keys if key in sheet] == []


def test_stations_are_cards_on_a_phone(reports, open_page):
    page = open_page(reports["pair"][0], 390, unfold=False)
    found = page.evaluate("""() => {
      const cell = document.querySelector(".cards tbody td"), head = document.querySelectorAll(".cards thead th")[1];
      return [getComputedStyle(cell.parentElement).display, getComputedStyle(cell, "::before").content,
              head.textContent];
    }""")
    assert found[0] == "grid" and found[1].strip('"') == found[2]
    assert page.locator(".cards").first.bounding_box()["width"] <= 390
    wide = open_page(reports["pair"][0], unfold=False)
    assert wide.eval_on_selector(".cards tbody td", "e => getComputedStyle(e, '::before').content") == "none"


SHEETS = {"plain": 4, "full": 4, "warned": 4, "pair": 6, "many": 8}
# What the first sheet has to tell: the answer, the drawing, the stations, settings, readings, risks, signatures.
FIRST_SHEET = ("Settings tried by", "Largest risks", "signature says")
BESIDE = ("Set at the machine", "Read on the wrapped load")


def sheets(page, path: Path, paper: str) -> list[str]:
    page.pdf(path=path, format=paper)
    return [p.extract_text().replace("\ufb01", "fi") for p in PdfReader(path).pages]


def outside_of_sheet(path: Path) -> list[str]:
    """Words that reach beyond the margins of a printed sheet."""
    found = []
    for sheet in PdfReader(path).pages:
        left, right = float(sheet.mediabox.left), float(sheet.mediabox.right)

        def look(text, cm, tm, _font, size, left=left, right=right):
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            if text.strip() and not left <= x <= right:
                found.append(text)

        sheet.extract_text(visitor_text=look)
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", list(SHEETS))
def test_paper(reports, open_page, tmp_path, name, paper):
    page = open_page(reports[name][0], unfold=False)
    pages = sheets(page, tmp_path / "report.pdf", paper)
    assert len(pages) <= SHEETS[name]
    assert all(text.strip() for text in pages)
    for words in FIRST_SHEET if name == "many" else FIRST_SHEET + BESIDE:
        assert words in " ".join(pages[0].split()), words
    assert "Settings card" in pages[1]
    assert outside_of_sheet(tmp_path / "report.pdf") == []
    titles = [
        " ".join(t.split())
        for t in page.eval_on_selector_all(
            "h2, h3, caption, details.prints > summary", "h => h.map(e => e.textContent)"
        )
    ]
    for text in pages:
        # A heading or caption at the foot of a sheet has lost what it heads.
        assert text.strip().splitlines()[-1].strip() not in titles
    whole = "\n".join(pages)
    assert "Print the report" not in whole and "Cautions" in whole and "Validation status" not in whole
    # The appendix prints by choice.
    page.check("#with-appendix")
    more = "\n".join(sheets(page, tmp_path / "all.pdf", paper))
    assert "Validation status" in more and "How to measure it" in more
    if out := os.environ.get("HOOPFIELD_REPORT_LOOK"):  # for looking at
        shutil.copy(tmp_path / "report.pdf", Path(out) / f"{name}-{paper}.pdf")
        for width in (1280, 390):
            open_page(reports[name][0], width, unfold=False).screenshot(
                path=Path(out) / f"{name}-{width}.png", full_page=True
            )


@pytest.mark.parametrize("name", ["full", "pair", "many"])
def test_first_sheets_for_a_reviewer(reports, open_page, name):
    """The first sheet as a picture for a person to look at: `first_sheets` in the folder of the build."""
    folder = Path(os.environ["HOOPFIELD_COMMAND"]).parents[2] / "first_sheets"
    folder.mkdir(exist_ok=True)
    page = open_page(reports[name][0], 688, unfold=False)  # 182 mm, the width between the margins
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    end = page.locator(".sign-off").bounding_box()
    height = end["y"] + end["height"]
    page.screenshot(
        path=folder / f"{name}.png", full_page=True, clip={"x": 0, "y": 0, "width": 688, "height": height + 8}
    )
    assert 500 < height <= (279.4 - 18) / 25.4 * 96  # of Letter, the shorter of the two


def test_settings_card_fits_one_sheet(reports, open_page, tmp_path):
    page = open_page(reports["full"][0], unfold=False)
    page.evaluate("document.body.classList.add('card-only')")
    page.pdf(path=tmp_path / "card.pdf", prefer_css_page_size=True)
    pages = PdfReader(tmp_path / "card.pdf").pages
    assert (
        len(pages) == 1 and "Span force" in pages[0].extract_text() and "Cost per load" not in pages[0].extract_text()
    )


def test_without_scripts_tables_stand_there(reports, browser):
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(reports["full"][0].as_uri())
    text = page.inner_text("body")
    assert "Containment" in text and "not a certificate" in text
    page.close()


def test_files(reports, tmp_path):
    html = tmp_path / "r.html"
    run("predict", REFERENCE, *DRAWS, "--report", html)
    first = html.read_bytes()
    assert "--overwrite" in run("predict", REFERENCE, "--report", html, code=4).stderr
    run("predict", REFERENCE, *DRAWS, "--report", html, "--overwrite")
    assert html.read_bytes() == first  # same inputs, same bytes
    assert "no folder" in run("compare", *PAIR, "--report", tmp_path / "none/r.html", code=4).stderr
    assert [p.name for p in tmp_path.iterdir()] == ["r.html"]


def test_warnings_of_the_comparison_and_spread_of_readings(tmp_path, open_page):
    other = written(tmp_path / "other.toml", PAIR[1], (r'^duration = .*', 'duration = "0 s"'), (r'"EUR"', '"USD"'))
    html = tmp_path / "other.html"
    run("compare", PAIR[0], other, "--same", "settings", "--report", html)
    page = open_page(html)
    for words in ("its currency is", "differ from the present wrap (storage"):
        assert words in page.inner_text("#warnings")
    assert "270 % \u2192 200 %" in page.inner_text("#sides")
    assert "Warnings of the comparison" in html.read_text()
    read = tmp_path / "read.html"
    run("compare", PAIR[0].with_name("measured.toml"), PAIR[1], "--report", read)
    page = open_page(read)
    for words in ("readings are illustrative", "not calibrated"):
        assert words in page.inner_text("#warnings")
    assert "Standard error" in page.inner_text("#sides")
