# SPDX-License-Identifier: BSD-3-Clause
"""Tables of all wraps: heads of two lines, their meaning on focus, a candidate beside the present wrap."""

from __future__ import annotations

import re

import pytest

from conftest import PAIR, ROOT, data_of, run, written

LEAST = "containment.after_storage.least_station.hoop_tension_N_per_m"
HEADS = """() => [...document.querySelectorAll('table.brief')].filter(t => t.checkVisibility()).flatMap(table =>
  [...table.querySelectorAll('thead th')].map(th => {
    const inner = th.querySelector('button') ?? th, style = getComputedStyle(inner);
    const range = document.createRange();
    range.selectNodeContents(inner);
    const tops = [...range.getClientRects()].filter(r => r.width > 0).map(r => r.top).sort((a, b) => a - b);
    const size = parseFloat(style.fontSize);
    let lines = 0, last = -1e9;
    for (const top of tops) if (top - last > size / 2) { lines += 1; last = top; }
    return {text: inner.textContent, lines};
  }))"""


@pytest.fixture(scope="module")
def three(tmp_path_factory):
    html = tmp_path_factory.mktemp("three") / "three.html"
    more = written(html.with_name("more.toml"), PAIR[1], (r"^force = .*", 'force = "60 N"'))
    run("compare", *PAIR, more, "--report", html)
    return html


def heads_of(page):
    heads = page.evaluate(HEADS)
    assert heads
    return heads


@pytest.mark.parametrize("name", ["pair", "three", "many"])
def test_heads_have_two_lines_at_most(reports, three, open_page, name):
    page = open_page(three if name == "three" else reports[name][0])
    assert [head for head in heads_of(page) if head["lines"] > 2] == []
    assert any(head["lines"] == 2 for head in heads_of(page))
    # As on a sheet of paper: its type, its width.
    page.emulate_media(media="print")
    page.evaluate("document.documentElement.classList.add('paper')")
    assert [head for head in heads_of(page) if head["lines"] > 2] == []
    for frame in page.locator("#sides .frame:visible").all():
        assert frame.evaluate("f => f.scrollWidth - f.clientWidth") <= 1


@pytest.mark.parametrize("name", ["pair", "three"])
def test_a_pair_needs_no_moving_sideways(reports, three, open_page, name):
    page = open_page(three if name == "three" else reports[name][0])
    frames = page.locator("#sides .frame")
    assert frames.count() >= 2
    for frame in frames.all():
        assert frame.evaluate("f => f.scrollWidth - f.clientWidth") <= 1
    assert page.locator("#sides .sideways:visible").count() == 0


def test_what_is_cut_says_so(reports, open_page):
    for name in ("pair", "many"):
        page = open_page(reports[name][0], 390, unfold=False)
        for frame in page.locator("#sides .hinted > .frame:visible").all():
            cut = frame.evaluate("f => f.scrollWidth > f.clientWidth + 1")
            assert frame.locator("xpath=../p[contains(@class, 'sideways')]").is_visible() == cut
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        if name == "many":
            assert page.locator("#sides .sideways:visible").count() >= 1


def test_the_whole_meaning_is_shown_on_focus(reports, open_page):
    html = reports["many"][0]
    page, quantities = open_page(html, unfold=False), data_of(html)["comparison"]["quantities"]
    long_name = next(q["long_name"] for q in quantities if q["name"] == LEAST)
    head = page.locator("#sides table thead th", has_text="hoop tension").first
    tip = head.locator("[role=tooltip]")
    assert not tip.is_visible() and head.locator("button").get_attribute("title") == long_name
    assert head.locator("button").get_attribute("aria-describedby") == tip.get_attribute("id")
    page.locator("#sides table thead button").first.focus()
    while not head.locator("button").evaluate("b => b === document.activeElement"):
        page.keyboard.press("Tab")
    assert tip.is_visible() and tip.inner_text() == long_name
    box = tip.bounding_box()
    assert box["x"] >= 0 and box["x"] + box["width"] <= 1280 and box["y"] >= 0
    page.keyboard.press("Escape")
    assert not tip.is_visible()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    assert tip.is_visible()
    page.keyboard.press("Tab")
    assert not tip.is_visible()
    # The short words are declared, and no two quantities share them.
    short = [q["short_name"] for q in quantities]
    assert len(set(short)) == len(short) and max(map(len, short)) <= 32
    assert head.locator("button bdi").text_content() == next(q["short_name"] for q in quantities if q["name"] == LEAST)


def test_a_candidate_stands_beside_the_present_wrap(reports, open_page):
    html = reports["pair"][0]
    page, sides = open_page(html, unfold=False), data_of(html)["comparison"]["sides"]
    found = page.eval_on_selector_all(
        "#sides table.brief >> nth=0 >> tbody tr",
        "rows => rows.map(r => [...r.children].map(c => [...c.querySelectorAll('data')].map(d => "
        "[d.dataset.place, Number(d.value)])))",
    )
    rows = [row for row in found if row[1]]
    assert len(rows) >= 8
    for _, present, candidate, apart in rows:
        name = present[0][0].split("/numbers/")[1]
        assert present[0][1] == sides[0]["numbers"][name] and candidate[0][1] == sides[1]["numbers"][name]
        against = sides[1]["against_present"][name]
        assert apart[0] == [f"comparison/sides/1/against_present/{name}/difference", against["difference"]]
        assert against["difference"] == pytest.approx(candidate[0][1] - present[0][1], rel=1e-9, abs=1e-9)
        assert [value for place, value in apart if place.endswith(("/low", "/high"))] == [
            against[end] for end in ("low", "high") if against[end] is not None
        ]
    drawn = next(row for row in rows if row[1][0][0].endswith(LEAST))
    assert len(drawn[3]) == 4  # difference, share, both ends of its band
    words = page.inner_text("#sides")
    for ours in ("dominat", "side", "Side"):
        assert not re.search(rf"\b{ours}", words), ours


def test_sorting_films(reports, open_page):
    page = open_page(reports["many"][0], unfold=False)
    for table in page.locator("#sides table.brief:visible").all():
        for column in range(1, table.locator("thead th").count()):
            head = table.locator("thead th").nth(column)
            for direction, sign in (("ascending", 1), ("descending", -1)):
                head.locator("button").click()
                assert head.get_attribute("aria-sort") == direction
                values = table.locator("tbody tr").evaluate_all(
                    f"rows => rows.map(r => r.children[{column}].querySelector('data')?.value ?? null)"
                )
                numbers = [sign * float(v) for v in values if v is not None]
                assert numbers == sorted(numbers)
                assert None not in values[: len(numbers)]


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("name", ["pair", "many", "long"])
def test_no_name_leaves_the_chart_of_dominance(reports, tmp_path, open_page, name, width):
    html = reports["pair" if name == "long" else name][0]
    if name == "long":
        html = tmp_path / "long.html"
        files = [
            written(tmp_path / f"{word} {'w' * 50}.toml", base, (r"^title = .*", f'title = "{word * 60}"'))
            for word, base in zip("WM", PAIR)
        ]
        run("compare", *files, "--report", html)
    page = open_page(html, width, unfold=False)
    outside = page.eval_on_selector_all(
        "#dominance .drawing svg",
        """drawings => drawings.flatMap(svg => {
          const edge = svg.getBoundingClientRect();
          return [...svg.querySelectorAll('text')].filter(t => {
            const box = t.getBoundingClientRect();
            return box.left < edge.left - 1 || box.right > edge.right + 1 || box.top < edge.top - 1 ||
              box.bottom > edge.bottom + 1;
          }).map(t => t.textContent);
        })""",
    )
    assert outside == []
    axes = page.eval_on_selector_all("#dominance svg text", "all => all.map(t => t.textContent)")
    money = [text for text in axes if "EUR" in text]
    assert money
    # An axis begins at zero or says that it is cut.
    cut = sum("(axis cut)" in text for text in axes)
    assert cut == sum(text == "//" for text in axes)
    ticks = [text for text in axes if text == "0"]
    assert len(ticks) + cut >= 2


def test_the_chart_may_begin_at_zero(tmp_path, open_page):
    base = ROOT / "examples/08_thin_against_thick"
    half = written(tmp_path / "half.toml", base / "candidate.toml", (r"^force = .*", 'force = "25 N"'))
    run("compare", base / "present.toml", half, "--report", tmp_path / "half.html")
    page = open_page(tmp_path / "half.html", unfold=False)
    axes = page.eval_on_selector_all("#dominance svg text", "all => all.map(t => t.textContent)")
    assert "0" in axes
