# SPDX-License-Identifier: BSD-3-Clause
"""Showing the report: the page of `report`, in a notebook or a browser, and never half of it."""

import html
import subprocess
import sys
import tempfile
import types
import webbrowser
from pathlib import Path

import pytest

import hoopfield as hf


@pytest.fixture(scope="module")
def comparison(small):
    pair = [small, small.replace({"delivery.tension.force": "80 N"})]
    return hf.compare(pair, band_samples=0, factors=False, sensitivity=False)


@pytest.fixture
def opened(monkeypatch, tmp_path):
    """Addresses the browser was asked for; temporary files lie in a folder of the test."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    asked = []
    monkeypatch.setattr(webbrowser, "open", lambda address, *_a, **_k: asked.append(address) or True)
    monkeypatch.setitem(sys.modules, "IPython", None)
    return asked


@pytest.mark.parametrize("kind", ["result", "comparison"])
def test_the_page_of_report_opens(kind, request, opened, tmp_path):
    shown = request.getfixturevalue(kind)
    path = shown.show(units="inch-pound")
    assert opened == [path.as_uri()] and path.is_absolute() and path.suffix == ".html"
    assert Path(tempfile.gettempdir()) in path.parents
    shown.report(tmp_path / "same.html", units="inch-pound")
    assert path.read_bytes() == (tmp_path / "same.html").read_bytes()
    again = shown.show(open=False)
    assert again != path and again.exists() and len(opened) == 1


@pytest.mark.parametrize("failure", ["false", "error"])
def test_without_a_browser_the_file_is_named(result, opened, monkeypatch, failure):
    def no_browser(_address):
        if failure == "error":
            raise webbrowser.Error("no browser")
        return False

    monkeypatch.setattr(webbrowser, "open", no_browser)
    with pytest.warns(UserWarning, match="report.html"):
        path = result.show()
    assert path.exists()


def notebook(monkeypatch, display):
    shell = types.SimpleNamespace(kernel=object())
    front = types.ModuleType("IPython.display")
    front.HTML = lambda text: text
    front.display = display
    ipython = types.ModuleType("IPython")
    ipython.get_ipython = lambda: shell
    monkeypatch.setitem(sys.modules, "IPython", ipython)
    monkeypatch.setitem(sys.modules, "IPython.display", front)
    return shell


def test_a_notebook_displays_the_page_itself(result, opened, monkeypatch):
    shown = []
    shell = notebook(monkeypatch, shown.append)
    path = result.show()
    assert opened == [] and len(shown) == 1
    inside = html.unescape(shown[0].split('srcdoc="')[1].split('"')[0])
    assert inside == path.read_text(encoding="utf-8")
    assert "allow-same-origin" not in shown[0]
    result.show(open=False)
    assert len(shown) == 1
    # IPython in a terminal has no kernel to display in.
    shell.kernel = None
    result.show()
    assert len(shown) == 1 and len(opened) == 1


def test_a_notebook_that_cannot_display_opens_the_browser(result, opened, monkeypatch):
    def broken(_page):
        raise RuntimeError("the front end is gone")

    notebook(monkeypatch, broken)
    assert opened == [result.show().as_uri()]


def test_nothing_is_left_of_a_page_that_cannot_be_written(result, opened, monkeypatch, tmp_path):
    with pytest.raises(hf.InputError, match="inch-pound"):
        result.show(units="imperial")
    assert list(Path(tempfile.gettempdir()).iterdir()) == [] and opened == []
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
    with pytest.raises(hf.IoError, match="temporary"):
        result.show()


@pytest.mark.parametrize("target", ["", "90 N/m"])
def test_the_first_sentence_is_that_of_the_command(command, scenario, tmp_path, target):
    told = scenario.replace({"scenario.title": "", "numerics.slices": 12} | ({"target.top": target} if target else {}))
    (tmp_path / "film.toml").write_text(told.film.text, encoding="utf-8")
    told = told.replace({"film.file": str(tmp_path / "film.toml")})
    (tmp_path / "scenario.toml").write_text(told.to_text(), encoding="utf-8")
    said = subprocess.run(
        [command, "predict", tmp_path / "scenario.toml", "--band-samples", "16"],
        check=True,
        capture_output=True,
        text=True,
        timeout=900,
    ).stdout
    sentence = hf.predict(told, complete=True, band_samples=16).sentence
    assert " ".join(said.split()).startswith(" ".join(sentence.split()))
    assert ("target" in sentence or "holds" in sentence) and sentence.endswith(".")
