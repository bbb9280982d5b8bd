# SPDX-License-Identifier: BSD-3-Clause
"""Bands, ranking and indices from Python; coverage by a sampler that is not ours; the same bytes on any threads."""

import json
import os
import pathlib
import subprocess
import sys

import numpy as np
import pytest
from scipy.stats import norm

import hoopfield as hf

ROOT = pathlib.Path(__file__).resolve().parents[3]
sys.path.append(str(ROOT / "tests" / "consistency"))
import band_coverage  # noqa: E402

NAME = "containment.after_storage.middle.hoop_tension"


@pytest.fixture(scope="module")
def quick():
    return band_coverage.quick()


@pytest.fixture(scope="module")
def result(quick):
    return hf.predict(quick, band_samples=64)


def test_bands_by_name(result):
    band = result.band[NAME]
    assert band.low < band.median < band.high
    assert band.low <= result.containment.after_storage.middle.hoop_tension <= band.high
    assert NAME in result.band and "nothing" not in result.band
    with pytest.raises(KeyError):
        result.band["nothing"]
    assert result.band.samples == 64 and result.band.failed == 0
    draws = result.draws
    values = np.sort(draws["numbers"].sel(number=NAME).values)
    assert band.low == pytest.approx(np.quantile(values, 0.05, method="weibull"))
    assert band.high == pytest.approx(np.quantile(values, 0.95, method="weibull"))
    assert set(draws["key"].values) == {u.key for u in result.band.unknowns}


def test_no_bands_when_none_are_asked_for(quick):
    plain = hf.predict(quick, band_samples=0)
    assert plain.band is None and plain.probability is None
    with pytest.raises(hf.InputError, match="band_samples"):
        plain.draws  # noqa: B018
    with pytest.raises(hf.OutOfRange, match="power of two"):
        hf.predict(quick, band_samples=100)
    assert hf.predict(quick.replace({"numerics.band_samples": 16})).band.samples == 16


def test_every_nominal_lies_in_its_band(result):
    for name in result.band:
        if name.startswith("cost."):
            continue
        at = result.summary
        *path, leaf = name.split(".")
        for part in path:
            at = at[part]
        found = [v for k, v in at.items() if k == leaf or k.startswith(leaf + "_")]
        assert found, name


def test_uncertainty_from_python(quick):
    sharp = quick.replace({"uncertainty.delivery.tension.force_scale": "2 %"})
    assert sharp.get("uncertainty") == {"delivery.tension.force_scale": '"2 %"'}
    wide = hf.predict(quick, band_samples=64).band[NAME]
    narrow = hf.predict(sharp, band_samples=64).band[NAME]
    assert narrow.high - narrow.low < 0.9 * (wide.high - wide.low)
    with pytest.raises(hf.InputError, match="points"):
        quick.replace({"uncertainty.delivery.prestretch": "5 %"})


def test_ranking_and_what_knowing_would_do(result):
    ranked = result.rank(known_for=1)
    first = ranked[0]
    assert first.key == "delivery.tension.force_scale"
    band = result.band[NAME]
    assert first.known_high - first.known_low < 0.9 * (band.high - band.low)
    assert ranked[1].known_low is None
    assert sum(u.share for u in ranked if u.share is not None) == pytest.approx(1.0)


def test_indices_equal_those_of_salib_on_ishigami():
    sobol_sample = pytest.importorskip("SALib.sample.sobol")
    sobol_analyze = pytest.importorskip("SALib.analyze.sobol")
    problem = {"num_vars": 3, "names": ["x1", "x2", "x3"], "bounds": [[-np.pi, np.pi]] * 3}
    x = sobol_sample.sample(problem, 256, calc_second_order=False, seed=1)
    y = np.sin(x[:, 0]) + 7 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    theirs = sobol_analyze.analyze(problem, y, calc_second_order=False, seed=1)
    scaled = (y - y.mean()) / y.std()  # as SALib does before it looks at one input
    for i in range(3):
        ours = hf._core.sobol_index(scaled[0::5], scaled[4::5], scaled[i + 1 :: 5])
        assert ours.total == pytest.approx(theirs["ST"][i], rel=1e-9)
        assert ours.first == pytest.approx(theirs["S1"][i], rel=1e-9)


def test_indices_equal_those_of_salib_on_a_scenario(quick):
    """SALib draws its own points, its numbers become inputs by the printed ranges alone, and it analyses the answers."""
    sobol_sample = pytest.importorskip("SALib.sample.sobol")
    sobol_analyze = pytest.importorskip("SALib.analyze.sobol")
    drawn = ("delivery.tension.force_scale", "film.stiffness_scale", "load.stiffness_along_width", "delivery.neck_in")
    names = [u.key for u in hf.predict(quick, band_samples=16).band.unknowns]
    only = quick.replace({f"uncertainty.{name}": "exact" for name in names if name not in drawn})
    base = hf.predict(only, band_samples=16)
    unknowns = {u.key: u for u in base.band.unknowns}
    assert set(unknowns) == set(drawn)
    problem = {"num_vars": 4, "names": list(drawn), "bounds": [[0.0, 1.0]] * 4}
    points = sobol_sample.sample(problem, 256, calc_second_order=False, seed=4)
    answers = []
    for point in points:
        values = {name: band_coverage.value_at(unknowns[name], norm.ppf(u)) for name, u in zip(drawn, point)}
        stored = hf.predict(only.replace(band_coverage.written(values)), band_samples=0).containment.after_storage
        answers.append(min(getattr(stored, s).hoop_tension for s in ("top", "middle", "bottom")))
    theirs = sobol_analyze.analyze(problem, np.array(answers), calc_second_order=False, seed=4, conf_level=0.9)
    ours = {i.key: i for i in base.indices(band_samples=256)}
    for place, name in enumerate(drawn):
        mine = ours[name]
        slack = np.hypot(mine.total_error, theirs["ST_conf"][place]) + 0.01
        assert mine.total == pytest.approx(theirs["ST"][place], abs=2 * slack), name
        slack = np.hypot(mine.first_error, theirs["S1_conf"][place]) + 0.01
        assert mine.first == pytest.approx(theirs["S1"][place], abs=2 * slack), name
    largest = max(ours, key=lambda name: ours[name].total)
    assert largest == drawn[int(np.argmax(theirs["ST"]))]


def test_indices_of_a_scenario(result):
    indices = result.indices(band_samples=32)
    # What acts on the load in transit alone does not move what is ranked.
    in_transit = ("transit.", "friction.between_tiers", "friction.tier_on_pallet", "friction.sliding_share")
    assert {i.key for i in indices} == {u.key for u in result.band.unknowns if not u.key.startswith(in_transit)}
    assert indices[0].key == "delivery.tension.force_scale"
    assert indices[0].total > 0.4


def test_bands_survive_pickle_and_file(result, tmp_path):
    import pickle

    import xarray

    again = pickle.loads(pickle.dumps(result))
    assert again.band[NAME].low == result.band[NAME].low
    path = tmp_path / "r.h5"
    result.save(path)
    with xarray.open_dataset(path, group="band", engine="h5netcdf") as file:
        ends = file["containment_after_storage_middle_hoop_tension"].values
        assert list(ends) == [result.band[NAME].low, result.band[NAME].median, result.band[NAME].high]
        assert file.sizes["draw"] == 64


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="needs processor affinity")
def test_same_bands_on_one_processor_and_on_all(command, quick, tmp_path):
    path = tmp_path / "s.toml"
    film = pathlib.Path(quick.path).parent / quick.get("film.file")
    path.write_text(quick.replace({"film.file": str(film.resolve())}).to_text())

    def bands(**more):
        out = subprocess.run([command, "predict", path, "--json", "--band-samples", "32"], check=True, text=True,
                             capture_output=True, **more)  # fmt: skip
        return json.dumps(json.loads(out.stdout)["band"])

    one = bands(preexec_fn=lambda: os.sched_setaffinity(0, {min(os.sched_getaffinity(0))}))
    assert one == bands()


def test_require_judges_by_probability(command, quick, tmp_path):
    path = tmp_path / "s.toml"
    film = pathlib.Path(quick.path).parent / quick.get("film.file")
    station = hf.predict(quick, band_samples=0).containment.after_storage.middle.hoop_tension
    base = quick.replace({"film.file": str(film.resolve()), "target.middle": f"{0.97 * station} N/m"})

    def code(scenario, *options):
        path.write_text(scenario.to_text())
        run = subprocess.run(
            [command, "predict", path, "--require", *options], capture_output=True, text=True, check=False
        )
        return run.returncode

    assert code(base, "--band-samples", "64") == 1  # reached by the value, not nine times in ten
    assert code(base, "--band-samples", "0") == 0  # the value decides
    assert code(base.replace({"target.probability": "50 %"}), "--band-samples", "64") == 0
    for absurd in ("-3", "100", "1e9", "many"):
        assert code(base, "--band-samples", absurd) == 2


def test_coverage_small():
    """A small version of tests/consistency/band_coverage.py: 150 truths against one band of 128 draws."""
    shares = band_coverage.coverage(seeds=1, truths=150, samples=128, one_band=True, workers=1)
    # Four standard errors of the share, and two of the band's own.
    assert np.all(np.abs(shares - 0.9) < 4 * np.sqrt(0.09 / 150) + 0.03), shares
