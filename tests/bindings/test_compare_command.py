# SPDX-License-Identifier: BSD-3-Clause
"""hoopfield compare as a user runs it: the README's commands, the chain recomputed, exit codes, files others can
read."""

import csv
import io
import json
import os
import pathlib
import shutil
import subprocess

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "examples" / "08_thin_against_thick"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND names no command")


def run(*arguments, cwd=EXAMPLE, check=True):
    few = [] if "--band-samples" in arguments else ["--band-samples", "16"]
    done = subprocess.run([COMMAND, *map(str, arguments), *few], cwd=cwd, capture_output=True, text=True)
    assert not check or done.returncode == 0, done.stderr
    return done


def strict(text):
    def refuse(word):
        raise ValueError(f"{word} in JSON")

    return json.loads(text, parse_constant=refuse)


@pytest.fixture(scope="module")
def pair():
    return strict(run("compare", "present.toml", "candidate.toml", "--json").stdout)


def commands():
    block = (EXAMPLE / "README.md").read_text().split("```sh\n")[1].split("```")[0]
    return [line.split("#")[0].split()[1:] for line in block.splitlines()]


@pytest.mark.parametrize("arguments", commands(), ids=" ".join)
def test_the_readme_runs_and_fits_the_terminal(arguments):
    page = run(*arguments).stdout
    assert arguments[0] == "compare"
    if "--json" in arguments:
        strict(page)
    else:
        assert max(map(len, page.splitlines())) <= 80
        assert "not a certificate" in page and "present" in page


def test_a_reader_can_recompute_the_chain(pair):
    for side in pair["sides"]:
        cost, inputs = side["cost"], side["prediction"]["inputs"]
        year = cost["year"]
        loads = inputs["cost.loads_per_year"]["value"]
        section = inputs["film.width"]["value"] * inputs["film.thickness"]["value"]
        mass = cost["film_length_m"] * section * 920.0  # both films: density = "920 kg/m^3"
        assert cost["film_mass_kg"] == pytest.approx(mass, rel=1e-12)
        roll = inputs["cost.roll_length"]["value"] * section * 920.0
        rolls = loads * mass / roll
        assert year["film_mass_kg"] == pytest.approx(loads * mass) and year["rolls"] == pytest.approx(rolls)
        assert year["roll_change_time_h"] == pytest.approx(rolls * 4.0 / 60.0)
        assert year["roll_changes"] == pytest.approx(rolls * 4.0 / 60.0 * 30.0)
        assert year["total"] == pytest.approx(loads * mass * inputs["film.price"]["value"] + year["roll_changes"])
        assert year["co2e_high_kg"] == pytest.approx(loads * mass * 2.1)
        assert year["co2e_low_kg"] == pytest.approx(loads * mass * 1.54 / 0.90718474)
        assert side["numbers"]["cost.year.total"] == year["total"]
    present, candidate = pair["sides"]
    price = candidate["numbers"]["cost.break_even_price_per_kg"]
    dearer = (price - 1.95) * candidate["numbers"]["film.mass_kg"] + candidate["numbers"]["cost.per_load"]
    assert dearer == pytest.approx(present["numbers"]["cost.per_load"])


def test_the_verdict_of_the_readme():
    text = (EXAMPLE / "README.md").read_text()
    assert "cannot be told apart" in text and "14 % less to\n11 % more" in text and "24 to 40 %" in text
    pair = strict(run("compare", "present.toml", "candidate.toml", "--json", "--band-samples", "256").stdout)
    against = pair["sides"][1]["against_present"]
    held = against[pair["measures"]["containment"]]
    assert held["words"] == "not_distinguishable" and held["loads_to_tell"] > 10
    assert held["band"]["p05"] == pytest.approx(0.86, abs=0.03) and held["band"]["p95"] == pytest.approx(1.11, abs=0.03)
    film = against["film.mass_kg"]
    assert film["words"] == "less" and film["band"]["p05"] == pytest.approx(0.60, abs=0.02)
    assert film["band"]["p95"] == pytest.approx(0.76, abs=0.02)


def test_words_at_another_share():
    pair = strict(run("compare", "present.toml", "candidate.toml", "--json").stdout)
    held = pair["sides"][1]["against_present"][pair["measures"]["containment"]]
    share = int(100 * held["probability_less"])  # words that the draws do allow
    assert 50 < share < 90
    page = run("compare", "present.toml", "candidate.toml", "--words-at", str(share)).stdout
    assert "contains 4.4 % less" in page and "nine times in ten" in page
    for wrong in ("50", "100", "many"):
        assert run("compare", "present.toml", "candidate.toml", "--words-at", wrong, check=False).returncode == 2
    refused = run("compare", "present.toml", "candidate.toml", "--words-at", "nan", check=False)
    assert refused.returncode == 2 and "nan is not in the range from 50.1 to 99.9" in refused.stderr
    wrong = run("compare", "present.toml", "candidate.toml", "--band-samples", "100", check=False)
    assert wrong.returncode == 2 and "power of two" in wrong.stderr


def test_factors_add_up_in_the_object(pair):
    (difference,) = pair["differences"]
    for name, total in difference["total"].items():
        for order in ("forward", "reverse", "mean"):
            assert sum(f[order][name] for f in difference["factors"]) == pytest.approx(total, abs=1e-9)
        assert total == pytest.approx(pair["sides"][1]["against_present"][name]["difference"], abs=1e-12)


def test_the_embedded_prediction_is_that_of_predict(pair):
    alone = strict(run("predict", "candidate.toml", "--json").stdout)
    inside = pair["sides"][1]["prediction"]
    for key in ("containment", "film", "span", "pattern", "load", "sensitivity", "cost", "inputs", "inputs_hash"):
        assert inside[key] == alone[key], key


def test_csv_is_a_table(tmp_path, pair):
    out = tmp_path / "sides.csv"
    run("compare", "present.toml", "candidate.toml", "--csv", out)
    rows = list(csv.DictReader(io.StringIO(out.read_text())))
    assert [row["name"] for row in rows] == ["present", "candidate"]
    assert float(rows[1]["film.mass_kg"]) == pair["sides"][1]["numbers"]["film.mass_kg"]
    assert rows[0]["cost.break_even_price_per_kg"] == ""
    assert run("compare", "present.toml", "candidate.toml", "--csv", out, check=False).returncode == 4
    run("compare", "present.toml", "candidate.toml", "--csv", out, "--overwrite")


def test_without_cost_and_targets_nothing_is_made_up(tmp_path):
    for name in ("present.toml", "candidate.toml"):
        text = (EXAMPLE / name).read_text().replace("../../models", str(ROOT / "models"))
        bare = "\n".join(line for line in text.split("[cost]")[0].splitlines() if not line.startswith("price"))
        (tmp_path / name).write_text(bare)
    sides = strict(run("compare", "present.toml", "candidate.toml", "--json", cwd=tmp_path).stdout)
    assert sides["measures"]["cost"] == "film.mass_kg"
    for side in sides["sides"]:
        assert side["cost"] is None and not any(key.startswith(("cost.", "targets.")) for key in side["numbers"])
    page = run("compare", "present.toml", "candidate.toml", cwd=tmp_path).stdout
    assert "Cost and footprint" not in page and "year" not in page


def test_measured_present_side(tmp_path):
    page = run("compare", "measured.toml", "candidate.toml", "--same", "settings").stdout
    assert "pull force" in page and "has no settings to take over" in page


def test_exit_codes(tmp_path):
    assert run("compare", "present.toml", check=False).returncode == 2
    assert run("compare", "present.toml", "nowhere.toml", check=False).returncode == 4
    assert run("compare", "present.toml", "candidate.toml", "--same", "colour", check=False).returncode == 2
    assert run("compare", "present.toml", "candidate.toml", "--in", "present.toml", check=False).returncode == 2
    shutil.copy(EXAMPLE / "present.toml", tmp_path)
    text = (tmp_path / "present.toml").read_text().replace("../../models", str(ROOT / "models"))
    (tmp_path / "present.toml").write_text(text)
    # A force no load stands: recorded as candidate, fatal as present wrap.
    (tmp_path / "too_much.toml").write_text(text.replace('"70 N"', '"1e5 N"'))
    page = run("compare", "present.toml", "too_much.toml", cwd=tmp_path).stdout
    assert "FAILED" in page and "could not be computed" in page
    assert run("compare", "too_much.toml", "present.toml", cwd=tmp_path, check=False).returncode == 3
