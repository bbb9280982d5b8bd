# SPDX-License-Identifier: BSD-3-Clause
"""The examples in Python, run small, in a folder of their own."""

import pathlib
import re
import subprocess
import sys

import pytest

pytest.importorskip("matplotlib")
pytest.importorskip("xarray")


def run(root, folder, script, *arguments):
    done = subprocess.run(
        [sys.executable, str(root / "examples" / folder / script), *map(str, arguments)],
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def is_picture(path):
    data = path.read_bytes()
    return data.startswith(b"\x89PNG") and len(data) > 10_000


def test_first_prediction(root, tmp_path):
    text = run(root, "04_python_first_prediction", "first_prediction.py", tmp_path)
    assert "middle" in text and "N/m after storage" in text
    gain = float(re.search(r"\+(\d+)%", text).group(1))
    assert 5.0 < gain < 30.0  # force up by a seventh
    assert is_picture(tmp_path / "first_prediction.png") and (tmp_path / "first_prediction.h5").exists()


def test_map_of_settings(root, tmp_path):
    text = run(root, "05_map_of_settings", "map_of_settings.py", tmp_path, 4)
    assert "48 cases, 0 failed" in text and "least film that meets" in text
    assert is_picture(tmp_path / "map_of_settings.png")


def test_map_on_a_cluster(root, tmp_path):
    lines = run(root, "16_map_on_a_cluster", "map_on_a_cluster.py", tmp_path, 3).splitlines()
    assert lines[0] == "27 cases in map.h5, 0 failed"
    rows = [[float(word) for word in line.split()] for line in lines[-3:]]
    assert [row[0] for row in rows] == [45, 70, 95] and all(len(row) == 4 for row in rows)
    assert rows[0][1] < rows[1][1] < rows[2][1]


def test_sobol_sensitivity(root, tmp_path):
    pytest.importorskip("SALib")
    text = run(root, "06_sobol_sensitivity", "sobol_sensitivity.py", tmp_path, 16)
    assert text.count("first order") == 6 and "delivery.tension.force" in text
    assert is_picture(tmp_path / "sobol_sensitivity.png")


def test_compare_two_films(root, tmp_path):
    text = run(root, "07_compare_two_films", "compare_two_films.py", tmp_path)
    assert "Film per load, kg" in text and "left after a day" in text
    assert "nine times in ten" in text and "; film less" in text
    assert is_picture(tmp_path / "compare_two_films.png")


def test_twenty_films(root, tmp_path, command):
    lines = run(root, "13_twenty_films", "twenty_films.py", tmp_path).splitlines()
    films = sorted((tmp_path / "films").glob("*.toml"))
    assert len(films) == 20 and all("illustrative = true" in film.read_text() for film in films)
    held = [float(line.split()[-4]) for line in lines[2:]]
    assert len(held) == 20 and held == sorted(held, reverse=True) and held[0] > 1.2 * held[-1] > 0
    assert "twenty_films.html" in {path.name for path in tmp_path.iterdir()}
    scenario = root / "examples" / "01_first_prediction" / "scenario.toml"
    page = subprocess.run(
        [command, "compare", *films, "--in", scenario, "--band-samples", "0", "--report", tmp_path / "command.html"],
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert page.returncode == 0, page.stderr
    assert page.stdout.count(" less [1] ") == 19 and "[20] " in page.stdout


def test_span_ripple(root, tmp_path, command):
    example = root / "examples" / "02_span_ripple"
    subprocess.run(
        [command, "predict", example / "scenario.toml", "--csv", tmp_path / "tables"],
        check=True,
        capture_output=True,
        timeout=900,
    )
    text = run(root, "02_span_ripple", "ripple.py", tmp_path / "tables", tmp_path / "ripple.png")
    low, high = map(float, re.search(r"([\d.]+) to ([\d.]+) N", text).groups())
    assert low < 70.0 < high
    kept = {face: float(force) for face, force in re.findall(r"(\w+): ([\d.]+) N kept", text)}
    # A rectangle about its own centre looks the same after half a turn.
    assert kept["front"] == pytest.approx(kept["back"], rel=5e-3) and kept["left"] == pytest.approx(
        kept["right"], rel=5e-3
    )
    assert abs(kept["front"] - kept["left"]) > 0.5
    assert is_picture(tmp_path / "ripple.png")


def test_readme_of_the_package_runs(root, scenario_path, tmp_path, monkeypatch):
    text = (root / "bindings" / "python" / "README.md").read_text(encoding="utf-8")
    code = "\n".join(re.findall(r"```python\n(.*?)```", text, re.DOTALL))
    assert "hf.predict" in code
    names = {}
    monkeypatch.chdir(tmp_path)
    exec(code.replace('"scenario.toml"', repr(str(scenario_path))), names)
    assert all((tmp_path / name).exists() for name in ("r.h5", "pool.h5", "all.h5"))
    assert names["ds"].sizes["case"] == 6 and pathlib.Path(names["sc"].path) == scenario_path


def test_own_film_law(root, tmp_path):
    pytest.importorskip("scipy")
    text = run(root, "12_own_film_law", "own_film_law.py", tmp_path)
    # what the README of the example says of the stretch on the load
    assert [int(p) for p in re.findall(r"(\d+)% on the load", text)] == [224, 8, 19]
    assert is_picture(tmp_path / "own_film_law.png")
