# SPDX-License-Identifier: BSD-3-Clause
"""The film laboratory of the built command: tests, fit, data sheet; and against independent packages.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_film_lab.py
"""

import csv
import json
import math
import os
import pathlib
import subprocess
import sys
import tomllib

import pytest

from running import HUNG, cost_of

ROOT = pathlib.Path(__file__).resolve().parents[2]
FILMS = ROOT / "models" / "parameters" / "films"
LAB = ROOT / "examples" / "09_film_laboratory"
SHEET = ROOT / "examples" / "10_film_from_datasheet" / "sheet.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def run(*arguments):
    return subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=HUNG)


def run_json(*arguments):
    done = run(*arguments, "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))


def package(name):
    """A package of the index for this test; without an index the test is skipped, and says so."""
    return pytest.importorskip(name, reason=f"{name} is NOT installed: this outside check did not run")


@pytest.mark.parametrize(
    "options",
    [
        [],
        ["--kind", "recovery"],
        ["--kind", "cycle"],
        ["--kind", "relaxation", "--numbers"],
        ["--kind", "creep", "--stress", "6 MPa"],
        ["--rate", "0.1 1/s", "1 1/s", "--temperature", "5 degC", "40 degC"],
        ["--draw-heat", "--thickness", "20 um", "--units", "inch-pound"],
    ],
)
def test_pages_fit_eighty_columns(options):
    for film in sorted(FILMS.glob("*.toml")):
        done = run("film", "test", film, "--stretch", "200 %", *options)
        assert done.returncode == 0, done.stderr
        assert max(map(len, done.stdout.splitlines())) <= 80, film


def test_recovery_says_what_stays():
    answer = run_json("film", "test", FILMS / "general-film.toml", "--kind", "recovery", "--stretch", "250 %")
    n = answer["numbers"]
    assert n["permanent_set_percent"] == pytest.approx(250 * n["permanent_set_share"])
    assert n["elastic_recovery"] == pytest.approx(1 - n["permanent_set_share"])
    assert n["permanent_set_percent"] < n["release_stretch_percent"] < 250
    assert answer["curve"]["stress_MPa"][-1] == 0
    stretch = answer["curve"]["stretch_percent"]
    assert stretch[-1] == pytest.approx(n["permanent_set_percent"])


def test_cycle_gives_less_work_back_than_it_takes():
    n = run_json("film", "test", FILMS / "tough-film-23um.toml", "--kind", "cycle", "--cycles", 3)["numbers"]
    assert 0 < n["work_lost_last_cycle"] < n["work_lost_first_cycle"] < 1
    assert 0.8 < n["top_stress_last_over_first"] < 1


def test_series_and_draw_heat():
    answer = run_json(
        "film", "test", FILMS / "general-film.toml", "--rate", "0.01 1/s", "1 1/s", "--temperature", "5 degC", "40 degC"
    )
    assert [(round(t["temperature_C"]), t["rate_per_s"]) for t in answer["tests"]] == [
        (5, 0.01),
        (5, 1),
        (40, 0.01),
        (40, 1),
    ]
    ends = [t["numbers"]["end_stress_MPa"] for t in answer["tests"]]
    assert ends[1] > ends[0] > ends[2] and ends[3] > ends[2]
    heated = run_json("film", "test", FILMS / "general-film.toml", "--draw-heat")
    assert 5 < heated["curve"]["temperature_C"][-1] - 23 < 20


def test_curves_as_hdf5_and_csv(tmp_path):
    xarray = pytest.importorskip("xarray")
    answer = run_json(
        "film",
        "test",
        FILMS / "general-film.toml",
        "--rate",
        "0.1 1/s",
        "1 1/s",
        "-o",
        tmp_path / "c.h5",
        "--csv",
        tmp_path / "c.csv",
    )
    with open(tmp_path / "c.csv", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert len(rows) == sum(len(t["curve"]["time_s"]) for t in answer["tests"])
    for i, test in enumerate(answer["tests"], 1):
        with xarray.open_dataset(tmp_path / "c.h5", group=f"test_{i}") as data:
            assert data["stress"].values * 1e-6 == pytest.approx(test["curve"]["stress_MPa"])
            assert data["stress"].attrs["units"] == "Pa" and data.attrs["kind"] == "tensile"


def test_creep_needs_a_stress():
    done = run("film", "test", FILMS / "general-film.toml", "--kind", "creep")
    assert done.returncode == 2 and "--stress" in done.stderr


def test_fit_of_the_example(tmp_path):
    out = tmp_path / "film.toml"
    answer = run_json(
        "film", "fit", *sorted((LAB / "curves").glob("*.csv")), "-o", out, "--residuals", tmp_path / "r.csv"
    )
    truth = tomllib.loads((FILMS / "general-film.toml").read_text())
    found = {p["key"]: p for p in answer["parameters"]}
    assert answer["branches"] == 3
    assert found["network.modulus"]["value_SI"] == pytest.approx(
        float(truth["network"]["modulus"].split()[0]) * 1e6, rel=0.05
    )
    for k in (1, 2):
        q = found[f"branch[{k + 1}].activation_energy"]
        assert (
            q["low_SI"] - 3 * q["error"]
            < float(truth["branch"][k]["activation_energy"].split()[0]) * 1e3
            < q["high_SI"] + 3 * q["error"]
        )
    for curve in answer["curves"]:
        assert curve["rms"] < 0.01 and len(curve["fitted_Pa"]) == curve["readings"]
    with open(tmp_path / "r.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == sum(c["readings"] for c in answer["curves"])
    # What was written is a film: the virtual test of it meets the curve it came from within the stated residual.
    text = out.read_text()
    assert "illustrative" in text and "fitted_to" in text and "[covariance]" in text
    test = run_json("film", "test", out, "--rate", "0.167 1/s", "--stretch", "300 %")
    curve = next(c for c in answer["curves"] if c["file"].endswith("tensile_fast.csv"))
    for stretch, stress in list(zip(curve["stretch_ratio"], curve["stress_Pa"]))[20::10]:
        virtual = interpolate((stretch - 1) * 100, test["curve"]["stretch_percent"], test["curve"]["stress_MPa"])
        assert virtual * 1e6 == pytest.approx(stress, rel=4 * curve["rms"])


def test_table_without_names(tmp_path):
    """Two columns of numbers with names and conditions as options are read as the file with its own."""
    named = LAB / "curves" / "tensile_fast.csv"
    rows = [line.split(",") for line in named.read_text().splitlines() if line[0].isdigit()]
    bare = tmp_path / "bare.csv"
    bare.write_text("".join(f"{travel};{force}\n".replace(".", ",") for _, travel, force in rows))
    short = ["--branches", 2, "--starts", 1, "-o", tmp_path / "f.toml", "--overwrite"]
    told = ["--columns", "displacement_mm,force_N"]
    for condition in (
        "width: 25 mm",
        "thickness: 23 um",
        "grip distance: 50 mm",
        "speed: 500 mm/min",
        "temperature: 23 degC",
        "machine compliance: 0 um/N",
    ):
        told += ["--condition", condition]
    answer, expected = run_json("film", "fit", bare, *told, *short), run_json("film", "fit", named, *short)
    assert [
        w
        for w in answer["warnings"]
        if "bare.csv" in w and not any(x in w for x in ("decimal commas", "cannot follow"))
    ] == []
    for key in ("stretch_ratio", "stress_Pa"):
        assert answer["curves"][0][key] == pytest.approx(expected["curves"][0][key], rel=1e-9)
    for options, words in (
        ([], 'without names above it; expected stretch_percent or displacement_mm'),
        (["--columns", "displacement_mm"], "has 2 cells where --columns names 1"),
        (["--columns", "displacement_mm,force_kg"], 'force_kg: "kg" is no unit of force'),
        ([*told, "--condition", "widht: 1 mm"], "did you mean width?"),
        ([*told, "--condition", "width 1 mm"], "--condition: \"width 1 mm\" has no colon"),
    ):
        done = run("film", "fit", bare, *options, *short)
        assert done.returncode == 2 and words in done.stderr, done.stderr


AWKWARD = ROOT / "examples" / "14_awkward_laboratory_files"


@pytest.mark.parametrize(
    "name, words",
    [
        ("german.csv", "2 lines above the table passed over"),
        ("slack.csv", "reaches zero force at 0.75 % strain (0.375 mm of travel)"),
        ("spike.csv", "1 row with a spike of the force, which came back at once, was left out"),
        ("negative.csv", "its sign was turned"),
        ("bare.txt", "no machine compliance is given"),
    ],
)
def test_awkward_files(tmp_path, name, words):
    """Every file of the example is the same film: what was done to it is said, and the fit meets the film it came from."""
    told = []
    if name == "bare.txt":
        told = ["--columns", "displacement_mm,force_N"]
        for condition in ("width: 25 mm", "thickness: 23 um", "grip distance: 50 mm", "rate: 0.167 1/s"):
            told += ["--condition", condition]
    out = tmp_path / "f.toml"
    answer = run_json("film", "fit", AWKWARD / "curves" / name, *told, "--branches", 2, "--starts", 1, "-o", out)
    assert any(words in warning for warning in answer["warnings"]), answer["warnings"]
    curve = answer["curves"][0]
    assert curve["points"] == 1000 and curve["rms"] < 0.02
    numbers = [
        run_json("film", "test", film, "--rate", "0.167 1/s", "--stretch", "200 %")["numbers"]
        for film in (out, FILMS / "general-film.toml")
    ]
    assert numbers[0]["secant_modulus_MPa"] == pytest.approx(numbers[1]["secant_modulus_MPa"], rel=0.1)
    assert numbers[0]["end_stress_MPa"] == pytest.approx(numbers[1]["end_stress_MPa"], rel=0.03)


def test_awkward_files_are_made_by_their_script(tmp_path):
    done = subprocess.run([sys.executable, AWKWARD / "make_curves.py", COMMAND, tmp_path], timeout=HUNG)
    assert done.returncode == 0
    for made in tmp_path.iterdir():
        kept = (AWKWARD / "curves" / made.name).read_bytes().splitlines()
        assert len(made.read_bytes().splitlines()) == len(kept), made.name
    assert len(list(tmp_path.iterdir())) == 5


def interpolate(x, xs, ys):
    for i in range(1, len(xs)):
        if xs[i] >= x:
            return ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1])
    return ys[-1]


def test_fit_page(tmp_path):
    done = run("film", "fit", LAB / "curves" / "tensile_fast.csv", "-o", tmp_path / "f.toml")
    assert done.returncode == 0, done.stderr
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "Comparison numbers at 250 % on the load, drawn at 1 1/s and 23 degC, with" in done.stdout
    assert "no curve unloads" in done.stdout and "One more test would" in done.stdout
    again = run("film", "fit", LAB / "curves" / "tensile_fast.csv", "-o", tmp_path / "f.toml")
    assert again.returncode == 4 and "--overwrite" in again.stderr


def test_one_curve_owns_up_to_what_it_cannot_tell(tmp_path):
    answer = run_json("film", "fit", LAB / "curves" / "tensile_fast.csv", "-o", tmp_path / "f.toml")
    recovered = run_json("film", "test", FILMS / "general-film.toml", "--kind", "recovery", "--stretch", "250 %")
    truth = recovered["numbers"]["permanent_set_percent"] / 100
    found = answer["numbers"]["permanent_set"]
    assert not found["determined"] and found["low_SI"] < truth < found["high_SI"]
    known = answer["numbers"]["stress_at_200"]  # at a rate six times that of the curve
    assert known["high_SI"] - known["low_SI"] < 0.3 * known["value_SI"]
    page = run("film", "fit", LAB / "curves" / "tensile_fast.csv", "-o", tmp_path / "g.toml").stdout
    readme = " ".join((LAB / "README.md").read_text().split())
    numbers = page[page.index("Comparison numbers") : page.index("What the curves")]
    line = {l.split()[0]: " ".join(l.split()[1:]) for l in numbers.splitlines() if l.startswith("  ")}
    assert f"`permanent_set` prints as {line['permanent_set']}," in readme
    assert f"`kept_24_h` as {line['kept_24_h']}." in readme
    assert f"the curve was computed from has {truth:.0%}".replace("%", " %") in readme
    assert f"met within {100 * answer['curves'][0]['rms']:.1f} % and" in readme


def test_numbers_of_a_series_say_rate_and_temperature():
    done = run(
        "film", "test", FILMS / "general-film.toml", "--rate", "0.1 1/s", "1 1/s", "--numbers", "--units", "inch-pound"
    )
    assert "drawn at 0.1 1/s" in done.stdout and "drawn at 1 1/s" in done.stdout and "MJ/m^3" not in done.stdout


def test_numbers_in_json_are_those_of_the_page_and_of_a_comparison(tmp_path):
    film = FILMS / "general-film.toml"
    series = run_json("film", "test", film, "--rate", "0.1 1/s", "1 1/s", "--numbers", "--stretch", "250 %")["tests"]
    assert series[0]["film_numbers"]["stress_at_200_MPa"] < series[1]["film_numbers"]["stress_at_200_MPa"]
    numbers = run_json("film", "test", film, "--numbers", "--stretch", "250 %")["film_numbers"]
    assert numbers == series[1]["film_numbers"]
    page = run("film", "test", film, "--numbers", "--stretch", "250 %").stdout
    line = {l.split()[0]: l.split()[1] for l in page.splitlines() if l.startswith("  ") and len(l.split()) == 3}
    for name in ("secant_modulus_MPa", "unloading_stiffness_MPa", "kept_24_h_percent", "permanent_set_percent"):
        key, _, unit = name.rpartition("_")
        assert float(line[key]) == pytest.approx(numbers[name], rel=0.01), name
    side = run_json(
        "compare",
        film,
        FILMS / "soft-film-12um.toml",
        "--in",
        ROOT / "examples/01_first_prediction/scenario.toml",
        "--band-samples",
        "0",
    )
    assert {f"film_numbers.{name}" for name in numbers} == {
        n for n in side["sides"][0]["numbers"] if n.startswith("film_numbers.")
    }
    assert "film_numbers" not in run_json("film", "test", film)
    # Strains the film cannot reach are null, never left out.
    assert (
        run_json("film", "test", film, "--numbers", "--stretch", "250 %", "--width-exponent", 0)["film_numbers"][
            "permanent_set_percent"
        ]
        > 0
    )


def test_curves_held_out_are_predicted(tmp_path):
    curves = sorted((LAB / "curves").glob("*.csv"))
    seen = [c for c in curves if c.name != "unloading.csv"]
    call = ["film", "fit", *seen, "--branches", "3", "-o", tmp_path / "f.toml"]
    plain = run_json(*call)
    answer = run_json(*call, "--hold-out", LAB / "curves" / "unloading.csv", "--overwrite")
    assert answer["parameters"] == plain["parameters"] and plain["held_out"] == []
    (unseen,) = answer["held_out"]
    assert unseen["file"].endswith("unloading.csv") and 0.002 < unseen["rms"] < 0.05
    page = run(*call, "--hold-out", LAB / "curves" / "unloading.csv", "--overwrite").stdout
    assert max(map(len, page.splitlines())) <= 80
    assert "unloading.csv" in page[page.index("Held out: the law's prediction") : page.index("number of the law")]
    assert run(*call, "--hold-out", tmp_path / "none.csv", "--overwrite").returncode == 4


def test_the_error_of_any_law_is_a_choice(tmp_path):
    def width(*options):
        call = ["film", "fit", LAB / "curves" / "tensile_fast.csv", "--branches", "2", "-o", tmp_path / "f.toml"]
        known = run_json(*call, *options, "--overwrite")["numbers"]["work_to_draw"]
        return known["high_SI"] - known["low_SI"]

    assert width("--model-error", "0 %") < width() < width("--model-error", "5 %")
    for wrong in ("2", "60 %", "-1 %", "x"):
        done = run(
            "film", "fit", LAB / "curves" / "tensile_fast.csv", "-o", tmp_path / "g.toml", "--model-error", wrong
        )
        assert done.returncode == 2 and "model-error" in done.stderr, (wrong, done.stderr)


def test_small_strains_keep_their_digits():
    done = run("film", "test", FILMS / "general-film.toml", "--stretch", "0.1 %")
    assert "0.0083 %" in done.stdout and "the curve ends below 1 %" in done.stdout


def test_a_fit_costs_what_its_readings_cost(tmp_path):
    """Three curves of two thousand points are thinned before the fit: it costs little more than that of the same
    curves with
    an eighth of the points. A ratio of processor times in one run."""
    cost = []
    for rows in (250, 2000):
        answer, used = fit_of_three(tmp_path, rows)
        assert [c["points"] for c in answer["curves"]] == [rows] * 3
        assert all(c["readings"] <= 200 for c in answer["curves"])
        cost.append(used / sum(c["readings"] for c in answer["curves"]))
    assert cost[1] < 3.0 * cost[0]


def fit_of_three(tmp_path, rows):
    names = []
    for i, options in enumerate(
        (["--rate", "0.01 1/s"], ["--rate", "1 1/s"], ["--kind", "relaxation", "--stretch", "250 %"])
    ):
        answer = run_json("film", "test", FILMS / "general-film.toml", *options)
        c = answer["curve"]
        lines = [
            f"# kind: {answer['kind']}",
            "# temperature: 23 degC",
            "# illustrative: true",
            "stretch_percent,stress_MPa,time_s",
        ]
        points = len(c["time_s"]) - 1
        for j in range(rows):
            at = j * points / (rows - 1)
            a, share = min(int(at), points - 1), at - min(int(at), points - 1)
            mix = [c[k][a] + share * (c[k][a + 1] - c[k][a]) for k in ("stretch_percent", "stress_MPa", "time_s")]
            lines.append(",".join(f"{v:.9g}" for v in mix))
        names.append(tmp_path / f"{i}.csv")
        names[-1].write_text("\n".join(lines) + "\n")
    done, used = cost_of(
        [COMMAND, "film", "fit", *names, "--branches", "3", "-o", tmp_path / "f.toml", "--overwrite", "--json"]
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout), used


def test_data_sheet(tmp_path):
    answer = run_json("film", "from-datasheet", SHEET, "-o", tmp_path / "f.toml")
    sheet = tomllib.loads(SHEET.read_text())
    curve = answer["curves"][0]
    modulus = float(sheet["modulus"].split()[0]) * 1e6
    assert curve["stress_Pa"][0] == pytest.approx(0.01 * modulus)
    assert curve["rms"] < 0.05
    for p in answer["parameters"]:
        assert p["error"] > 0
    wide = {p["key"] for p in answer["parameters"] if not p["determined"]}
    assert {"hardening.viscous_share", "branch[2].reference_rate", "branch[3].activation_energy"} <= wide
    text = tomllib.loads((tmp_path / "f.toml").read_text())
    assert text["break"]["stretch"] == "480 %" and text["provenance"]["illustrative"] is True
    assert len(text["covariance"]["parameters"]) == len(text["covariance"]["standard_deviation"])
    page = run("film", "from-datasheet", SHEET, "-o", tmp_path / "g.toml")
    assert max(map(len, page.stdout.splitlines())) <= 80 and "What the sheet cannot determine" in page.stdout
    # First what it is good for; the open numbers in one place, and no rows of their own.
    assert "good for a first look" in " ".join(page.stdout.split("\n\n")[1].split())
    assert f"Open, {len(wide)} of {len(answer['parameters'])} numbers of the law" in page.stdout
    assert not any(line.endswith(" open") for line in page.stdout.splitlines())
    assert "good for a first look" in " ".join((tmp_path / "g.toml").read_text().replace("#", " ").split())


def test_data_sheet_with_a_break_and_a_price(tmp_path):
    sheet = tmp_path / "sheet.toml"
    sheet.write_text(
        SHEET.read_text().replace('"23 um"', '"90.55118 gauge"')
        + 'break_force = "16 N"\nprice_per_roll = 62.5\nroll_mass = "16 kg"\n'
    )
    page = run("film", "from-datasheet", sheet, "-o", tmp_path / "f.toml")
    assert page.returncode == 0, page.stderr
    assert '[film] price = "3.906 /kg"' in " ".join(page.stdout.split()) and "480 %" in page.stdout
    assert '"3.906 /kg"' in " ".join((tmp_path / "f.toml").read_text().replace("#", " ").split())
    curve = run_json("film", "from-datasheet", sheet, "-o", tmp_path / "g.toml")["curves"][0]
    assert curve["stress_Pa"][-1] == pytest.approx(16 / (0.025 * 23e-6), rel=1e-6)
    assert curve["fitted_Pa"][-1] == pytest.approx(curve["stress_Pa"][-1], rel=0.1)


def test_films_alone_are_pointed_to_where_they_belong():
    done = run("compare", FILMS / "general-film.toml", FILMS / "firm-film-17um.toml")
    assert done.returncode == 2 and "is a film file" in done.stderr
    assert "hoopfield compare FILM.toml FILM.toml --in SCENARIO.toml" in done.stderr


def test_every_library_film_predicts(tmp_path):
    scenario = (ROOT / "examples" / "01_first_prediction" / "scenario.toml").read_text()
    for film in sorted(FILMS.glob("*.toml")):
        (tmp_path / "s.toml").write_text(
            scenario.replace("../../models/parameters/films/general-film.toml", str(film)).replace("70 N", "35 N")
        )
        answer = run_json("predict", tmp_path / "s.toml", "--band-samples", "0")
        assert answer["containment"]["after_storage"]["middle"]["hoop_tension_N_per_m"] > 50, film


def test_network_against_felupe(tmp_path):
    """Free and held width of the same network, from an independent package's material curves (strain energy of Gent
    1996)."""
    fem = package("felupe")
    numpy = package("numpy")
    tensor_math = package("tensortrax.math")
    modulus, limit = 1.1, 60.0

    def gent(c):
        invariant = tensor_math.linalg.det(c) ** (-1 / 3) * tensor_math.trace(c)
        return -modulus * limit / 2 * tensor_math.log(1 - (invariant - 3) / limit)

    film = tmp_path / "network.toml"
    film.write_text(
        'name = "network"\nlaw = "maxwell"\ndensity = "920 kg/m^3"\nneck_in = 0.2\n'
        f'[network]\nmodulus = "{modulus} MPa"\nstretch_limit = {limit}\n[provenance]\nsource = "illustrative"\n'
    )
    for exponent, mode in (("0.5", "ux"), ("0", "ps")):
        curve = run_json("film", "test", film, "--width-exponent", exponent, "--stretch", "400 %")["curve"]
        stretch = 1 + numpy.array(curve["stretch_percent"]) / 100
        keep = stretch > 1.05
        modes = {"ux": None, "ps": None, "bx": None, mode: stretch[keep]}
        theirs = fem.Hyperelastic(gent).view(incompressible=True, **modes).evaluate()[0][1]
        ours = numpy.array(curve["stress_MPa"])[keep]
        assert numpy.max(numpy.abs(ours / theirs - 1)) < 1e-6, mode


def test_maxwell_against_pyvisco(tmp_path):
    """A Prony identification package finds the branches of a linear film again from our relaxation curve."""
    prony = package("pyvisco.prony")
    pandas = package("pandas")
    numpy = package("numpy")
    branches = [(80.0, 1.0), (60.0, 10.0), (40.0, 100.0), (20.0, 1000.0)]
    film = tmp_path / "linear.toml"
    film.write_text(
        'name = "linear"\nlaw = "maxwell"\ndensity = "920 kg/m^3"\nneck_in = 0.2\n'
        + "".join(f'[[branch]]\nmodulus = "{e} MPa"\nrelaxation_time = "{t} s"\n' for e, t in branches)
        + '[[branch]]\nmodulus = "100 MPa"\nrelaxation_time = "1e20 s"\n[provenance]\nsource = "illustrative"\n'
    )
    curve = run_json(
        "film", "test", film, "--kind", "relaxation", "--stretch", "0.1 %", "--rate", "1e6 1/s", "--hold", "10000 s"
    )["curve"]
    start = 0.001 / 1e6
    times, moduli = [], []
    for t, stress in zip(curve["time_s"], curve["stress_MPa"]):
        if t - start >= 0.02:
            times.append(t - start)
            moduli.append(stress * 1.001 / math.log(1.001))
    at = numpy.array(times)
    frame = pandas.DataFrame(
        {"t": at, "f": 1 / at, "omega": 2 * math.pi / at, "E_relax": moduli, "E_relax_filt": moduli}
    )
    frame.modul, frame.domain, frame.RefT = "E", "time", 23.0
    found = prony.fit_time(prony.discretize(frame), frame)
    terms, instant = found["df_terms"], found["E_0"]
    tau, alpha = numpy.array(terms["tau_i"]), numpy.array(terms["alpha_i"])
    theirs = instant * (1 - alpha.sum() + (alpha * numpy.exp(-at[:, None] / tau)).sum(axis=1))
    exact = 100 + sum(e * numpy.exp(-at / t) for e, t in branches)
    assert numpy.max(numpy.abs(numpy.array(moduli) / exact - 1)) < 1e-3
    assert numpy.max(numpy.abs(theirs / exact - 1)) < 0.02
    # The terms at our own relaxation times carry our moduli.
    for modulus, time_constant in branches:
        near = numpy.abs(numpy.log10(tau / time_constant)) < 0.6
        assert instant * alpha[near].sum() == pytest.approx(modulus, rel=0.25)


@pytest.mark.parametrize("flow", ["linear", "stress-activated"])
def test_relaxation_against_neml(tmp_path, flow):
    """One branch in small strain against a constitutive library: the same spring and creep rate, implicit Euler
    there."""
    numpy = package("numpy")
    drivers = package("neml.drivers")
    models, elasticity, creep = package("neml.models"), package("neml.elasticity"), package("neml.creep")
    surfaces, interpolate_laws = package("neml.surfaces"), package("neml.interpolate")
    modulus, stretch, rate, hold = 100.0, 0.01, 0.1, 100.0
    elastic = elasticity.IsotropicLinearElasticModel(modulus, "youngs", 0.3, "poissons")
    rigid = models.SmallStrainPerfectPlasticity(elastic, surfaces.IsoJ2(), 1e6)
    if flow == "linear":
        law = creep.PowerLawCreep(1 / (modulus * 50.0), 1.0)  # relaxation time 50 s
        words = 'law = "maxwell"\n[[branch]]\nmodulus = "100 MPa"\nrelaxation_time = "50 s"\n'
    else:
        flow_stress, reference = 0.25, 1e-5
        log_stress = numpy.linspace(-14.0, 1.0, 1500)
        log_rate = numpy.log(reference * numpy.sinh(numpy.exp(log_stress) / flow_stress))
        law = creep.GenericCreep(interpolate_laws.PiecewiseLinearInterpolate(list(log_stress), list(log_rate)))
        words = (
            'law = "eyring-network"\n[network]\nmodulus = "1e-6 MPa"\nstretch_limit = 30\n[[branch]]\nmodulus = "100 MPa"\n'
            f'reference_rate = "{reference} 1/s"\nflow_stress = "{flow_stress} MPa"\n'
        )
    model = models.SmallStrainCreepPlasticity(elastic, rigid, creep.J2CreepModel(law))
    theirs = drivers.stress_relaxation(model, stretch, rate, hold, nsteps_up=200, nsteps=2000)
    film = tmp_path / "branch.toml"
    law_line, _, tables = words.partition("\n")
    film.write_text(
        f'name = "branch"\n{law_line}\ndensity = "920 kg/m^3"\nneck_in = 0.2\n{tables}[provenance]\nsource = "illustrative"\n'
    )
    # Log strain here, engineering strain there: the same log strain, reached at the same speed.
    answer = run_json(
        "film",
        "test",
        film,
        "--kind",
        "relaxation",
        "--stretch",
        f"{100 * math.expm1(stretch):.12g} %",
        "--rate",
        f"{rate} 1/s",
        "--hold",
        f"{hold} s",
    )
    start = math.expm1(stretch) / rate
    ours = [
        (t - start, s * math.exp(stretch)) for t, s in zip(answer["curve"]["time_s"], answer["curve"]["stress_MPa"])
    ]
    times, stresses = numpy.array(theirs["rtime"]), numpy.array(theirs["rstress"])
    for t, stress in ours:
        if 0.5 < t < 0.9 * times[-1]:
            assert stress == pytest.approx(float(numpy.interp(t, times, stresses)), rel=0.004, abs=1e-4), t
