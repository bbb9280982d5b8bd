# SPDX-License-Identifier: BSD-3-Clause
"""Reports made by the command, opened in a headless Chromium."""

from __future__ import annotations

import json
import os
import re
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

ROOT = Path(__file__).resolve().parents[3]
REFERENCE = ROOT / "examples/01_first_prediction/scenario.toml"
PAIR = [ROOT / "examples/08_thin_against_thick/present.toml", ROOT / "examples/08_thin_against_thick/candidate.toml"]


# Fewer draws than a report has by default: the pages are looked at, not the widths of their bands.
DRAWS = ("--band-samples", "64")


def run(*arguments, code=0):
    few = ["--band-samples", "16"] if arguments[0] == "compare" and "--band-samples" not in arguments else []
    done = subprocess.run(
        [os.environ["HOOPFIELD_COMMAND"], *map(str, arguments), *few], capture_output=True, text=True, check=False
    )
    assert done.returncode == code, done.stderr
    return done


def written(path: Path, base: Path, *changes, more="") -> Path:
    """A copy of a scenario with lines replaced (pattern, replacement) and text added at the end."""
    text = base.read_text().replace("../../models", str(ROOT / "models"))
    for pattern, replacement in changes:
        text, count = re.subn(pattern, lambda _m, r=replacement: r, text, flags=re.MULTILINE)
        assert count, pattern
    path.write_text(text + more, encoding="utf-8")
    return path


def data_of(html: Path) -> dict:
    """The object inside the page, found without a browser."""
    found = re.findall(r'<script type="application/json" id="report-data">(.*?)</script>', html.read_text(), re.DOTALL)
    assert len(found) == 1
    return json.loads(found[0])


def at(data, place: str):
    for key in place.split("/"):
        data = data[int(key)] if isinstance(data, list) else data[key]
    return data


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ["HOOPFIELD_CHROMIUM"], args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def open_page(browser):
    """Opens a report off line; any request but the file itself, error or dialogue fails the test."""
    pages, trouble = [], []

    def open_it(html: Path, width=1280, unfold=True):
        page = browser.new_page(viewport={"width": width, "height": 900}, offline=True)
        pages.append(page)
        page.on("request", lambda r: trouble.append(r.url) if r.url != html.as_uri() else None)
        page.on("pageerror", lambda e: trouble.append(str(e)))
        page.on("console", lambda m: trouble.append(m.text) if m.type == "error" else None)
        page.on("dialog", lambda d: (trouble.append("dialog " + d.message), d.dismiss()))
        page.goto(html.as_uri(), timeout=180_000)  # a busy machine may take its time
        page.wait_for_selector("html[data-ready]")
        if unfold:
            # Opening one may make others. Their events come before the second frame that is drawn afterwards.
            while page.evaluate("""() => new Promise(done => {
                const closed = [...document.querySelectorAll('details:not([open])')];
                closed.forEach(d => d.open = true);
                requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(() => done(closed.length))));
            })"""):
                pass
        return page

    yield open_it
    for page in pages:
        page.close()
    assert not trouble


@pytest.fixture(scope="session")
def reports(tmp_path_factory):
    """One page of each kind; name -> (HTML file, scenario files)."""
    folder = tmp_path_factory.mktemp("reports")
    made: dict[str, tuple[Path, list[Path]]] = {}

    def add(name, command, *files):
        html = folder / f"{name}.html"
        run(command, *files, *(DRAWS if command == "predict" else ()), "--report", html)
        made[name] = (html, [Path(f) for f in files])

    add("plain", "predict", written(folder / "plain.toml", REFERENCE, (r'^price = .*\n', "")))
    full = written(
        folder / "full.toml", PAIR[0], more='[target]\nquantity = "hoop_tension"\ntop = "500 N/m"\nmiddle = "700 N/m"\n'
    )
    add("full", "predict", full)
    add(
        "warned",
        "predict",
        written(
            folder / "warned.toml",
            REFERENCE,
            (r'^pitch = .*', 'pitch = "450 mm"\nstart_height = "50 mm"'),
            (r'^top_overhang = .*', 'top_overhang = "-50 mm"'),
            (r'^force = .*', 'force = "450 N"'),
            (r'^prestretch = .*', 'prestretch = "330 %"'),
            (
                r'^creep_start = .*',
                'creep_start = "1 s"\ncorner_radius = "1 mm"\nedge_pressure_limit = "1 kPa"\nsettling = "8 %"',
            ),
        ),
    )
    add("pair", "compare", *PAIR)
    sides = [
        written(folder / f"alternative {letter}.toml", PAIR[1], (r'^force = .*', f'force = "{force} N"'))
        for letter, force in zip("abcdefghi", range(44, 80, 4))
    ]
    failing = written(folder / "failing.toml", PAIR[1], (r'^top_overhang = .*', 'top_overhang = "450 mm"'))
    add("many", "compare", *PAIR, *sides, failing)
    return made
