# SPDX-License-Identifier: BSD-3-Clause
"""The words of [report] in the head of the page: whatever they hold, they stay words and keep to their place."""

from __future__ import annotations

import html as markup
import json

import pytest

from conftest import DRAWS, PAIR, REFERENCE, data_of, run, written

SITE = "</script><script>window.taken=1</script><img src=x onerror=window.taken=2>"
AUTHOR = "w" * 200
CUSTOMER = "\u202e\u2067 right to left \u05d0\u05d1\u05d2"  # an override and an isolate that nobody ends
DATE = "2026-11-27"
WORDS = {"site": SITE, "author": AUTHOR, "customer": CUSTOMER, "date": DATE}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory):
    folder = tmp_path_factory.mktemp("head")
    lines = "".join(f"{key} = {json.dumps(value, ensure_ascii=False)}\n" for key, value in WORDS.items())
    scenario = written(folder / "hostile.toml", REFERENCE, more=f"\n[report]\n{lines}")
    run("predict", scenario, *DRAWS, "--report", folder / "one.html")
    # The first wrap that says something speaks for the page.
    second = written(folder / "second.toml", PAIR[1], more=f'[report]\n{lines.splitlines()[0]}\nauthor = "{AUTHOR}"\n')
    third = written(folder / "third.toml", PAIR[1], more='[report]\nsite = "elsewhere"\ndate = "2026-11-28"\n')
    run("compare", PAIR[0], second, third, "--report", folder / "three.html")
    return folder


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("name", ["one", "three"])
def test_words_of_the_head_stay_words(hostile, open_page, name, width):
    file = hostile / f"{name}.html"
    wanted = WORDS if name == "one" else {"site": SITE, "author": AUTHOR, "customer": "", "date": "2026-11-28"}
    assert data_of(file)["report"] == wanted
    page = open_page(file, width)
    assert page.evaluate("window.taken") is None
    assert page.locator("script").count() == 2 and page.locator("img").count() == 0
    for key, value in wanted.items():
        shown = page.locator(f"#top [data-words='report/{key}']")
        assert shown.count() == (value != "")
        if value:
            assert shown.text_content() == value and shown.is_visible()
            box = shown.bounding_box()
            assert box["x"] >= 0 and box["x"] + box["width"] <= width
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_what_runs_from_right_to_left_ends_with_its_words(hostile, open_page):
    page = open_page(hostile / "one.html", unfold=False)
    left = page.locator("#top [data-words='report/date']").evaluate(
        """date => [0, 9].map(i => {
          const range = document.createRange();
          range.setStart(date.firstChild, i);
          range.setEnd(date.firstChild, i + 1);
          return range.getBoundingClientRect().left;
        })"""
    )
    assert left[0] < left[1]


def test_plain_tables_say_the_head_too(hostile):
    text = (hostile / "one.html").read_text(encoding="utf-8")
    plain = text.split("<noscript>")[1].split("</noscript>")[0]
    for key, value in WORDS.items():
        assert f"<p>{key}: {markup.escape(value)}</p>".replace("&#x27;", "&#39;") in plain
