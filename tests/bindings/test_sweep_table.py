# SPDX-License-Identifier: BSD-3-Clause
"""What `hoopfield sweep` shows at its end, and its table of all cases.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_sweep_table.py
"""

import csv

import numpy as np
import pytest

from sweep_command import contents, needs_command, run, sample, write_sweep

pytestmark = needs_command

GRID = """
scenario = "scenario.toml"
[vary]
"delivery.tension.force" = { from = "60 N", to = "80 N", steps = 3 }
"delivery.prestretch" = ["200 %", "250 %"]
"""


def least_station(data):
    return np.min(
        [data[f"containment.after_storage.{station}.hoop_tension"][0] for station in ("top", "middle", "bottom")],
        axis=0,
    )


def test_the_page_shows_best_worst_and_a_map(tmp_path):
    done = run("sweep", write_sweep(tmp_path, GRID), "-o", "s.h5", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    least = least_station(contents(tmp_path / "s.h5"))
    words = next(line for line in lines if line.startswith("  case")).split()
    assert words == ["case", str(least.argmax()), str(least.argmin())]
    values = next(line for line in lines if line.startswith("  value")).split()
    assert [float(values[1]), float(values[3])] == pytest.approx([least.max(), least.min()], abs=0.51)
    rows = [line.split() for line in lines if line.startswith(("  60 ", "  70 ", "  80 "))]
    assert [row[0] for row in rows] == ["60", "70", "80"]
    np.testing.assert_allclose([[float(x) for x in row[1:]] for row in rows], least.reshape(3, 2), atol=0.51)


def test_the_table_of_cases_holds_what_the_file_holds(tmp_path):
    sweep = sample(tmp_path, 32)
    done = run("sweep", sweep, "-o", tmp_path / "s.h5", "--csv", tmp_path / "s.csv")
    assert done.returncode == 0, done.stderr
    assert "every case in" in done.stdout
    data = contents(tmp_path / "s.h5")
    with open(tmp_path / "s.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [int(row["case"]) for row in rows] == list(range(32))
    assert [row["status"] for row in rows] == [("done", "failed")[s] for s in data["status"][0]]
    assert [row["message"] for row in rows] == [m.decode() for m in data["message"][0]]
    np.testing.assert_allclose(
        [float(row["delivery.tension.force_N"]) for row in rows], data["delivery.tension.force"][0]
    )
    prestretch = [float(row["delivery.prestretch_percent"]) for row in rows]
    np.testing.assert_allclose(prestretch, 100 * data["delivery.prestretch"][0], rtol=1e-14)
    name = "containment.after_storage.middle.hoop_tension"
    got = [float(row[name + "_N_per_m"] or "nan") for row in rows]
    np.testing.assert_array_equal(got, data[name][0])
    assert {row["film.mass_kg"] for row in rows if row["status"] == "failed"} == {""}


def test_shards_and_merging_make_tables_alike(tmp_path):
    sweep = write_sweep(tmp_path, GRID)
    whole = run("sweep", sweep, "-o", "whole.h5", "--csv", "whole.csv", cwd=tmp_path)
    assert whole.returncode == 0, whole.stderr
    for number in (1, 2):
        part = run(
            "sweep", sweep, "--shard", f"{number}/2", "-o", f"{number}.h5", "--csv", f"{number}.csv", cwd=tmp_path
        )
        assert part.returncode == 0, part.stderr
    merged = run("sweep", "--merge", "1.h5", "2.h5", "-o", "all.h5", "--csv", "all.csv", cwd=tmp_path)
    assert merged.returncode == 0, merged.stderr
    table = (tmp_path / "whole.csv").read_text()
    assert (tmp_path / "all.csv").read_text() == table
    first, second = ((tmp_path / f"{number}.csv").read_text().splitlines() for number in (1, 2))
    assert first + second[1:] == table.splitlines()

    def page(done):
        return done.stdout.splitlines()[2:-5]

    assert page(merged) == page(whole)


@pytest.mark.parametrize(
    "name, why", [("scenario.toml", "is an input of this call"), ("s.h5", "is an input"), ("", "empty")]
)
def test_a_table_that_cannot_be_is_refused_before_anything_runs(tmp_path, name, why):
    done = run("sweep", sample(tmp_path, 4), "-o", "s.h5", "--csv", name, cwd=tmp_path)
    assert done.returncode == 2 and why in done.stderr
    (tmp_path / "there.csv").write_text("mine")
    done = run("sweep", sample(tmp_path, 4), "-o", "s.h5", "--csv", "there.csv", cwd=tmp_path)
    assert done.returncode == 4 and (tmp_path / "there.csv").read_text() == "mine"
    assert not (tmp_path / "s.h5").exists()
