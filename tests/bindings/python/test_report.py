# SPDX-License-Identifier: BSD-3-Clause
"""Reports from Python are those of the command, byte for byte."""

import subprocess

import pytest

import hoopfield as hf


def test_one_wrap(root, command, tmp_path):
    scenario = root / "examples/01_first_prediction/scenario.toml"
    result = hf.predict(hf.read(scenario), complete=True, band_samples=1024)
    result.report(tmp_path / "python.html", units="inch-pound")
    subprocess.run(
        [command, "predict", scenario, "--units", "inch-pound", "--report", tmp_path / "command.html"],
        check=True,
        capture_output=True,
        timeout=900,
    )
    assert (tmp_path / "python.html").read_bytes() == (tmp_path / "command.html").read_bytes()


def test_comparison(root, command, tmp_path):
    pair = [root / "examples/08_thin_against_thick" / name for name in ("present.toml", "candidate.toml")]
    hf.compare(pair, unknowns=True).report(tmp_path / "python.html")
    subprocess.run(
        [command, "compare", *pair, "--report", tmp_path / "command.html"], check=True, capture_output=True, timeout=900
    )
    assert (tmp_path / "python.html").read_bytes() == (tmp_path / "command.html").read_bytes()


def test_refusals(root, tmp_path):
    result = hf.predict(hf.read(root / "examples/01_first_prediction/scenario.toml"))
    result.report(tmp_path / "r.html")
    with pytest.raises(hf.IoError, match="overwrite"):
        result.report(tmp_path / "r.html")
    result.report(tmp_path / "r.html", overwrite=True)
    with pytest.raises(hf.InputError, match="inch-pound"):
        result.report(tmp_path / "s.html", units="imperial")
    assert not (tmp_path / "s.html").exists()
