# SPDX-License-Identifier: BSD-3-Clause
"""Curves for a fit from files, arrays, tables and virtual tests: the same film from each, and clear refusals."""

import numpy as np
import pytest

import hoopfield as hf

TEST = {
    "width": "25 mm",
    "thickness": 23e-6,
    "grip_distance": 0.05,
    "temperature": "23 degC",
    "machine_compliance": 0.0,
}
QUICK = {"branches": 2, "starts": 1}


@pytest.fixture(scope="module")
def pulled():
    return hf.Film.library("general-film").tensile(0.167, 2.5)


@pytest.fixture(scope="module")
def columns(pulled):
    """Travel of the grips (mm) and force (N) of a strip of the test above."""
    return {
        "time_s": pulled.time,
        "displacement_mm": pulled.stretch * 50.0,
        "force_N": pulled.stress * 0.025 * 23e-6,
    }


def fitted(curves, **how):
    return hf.fit_film(curves, **QUICK, **how)


@pytest.fixture(scope="module")
def film(pulled):
    return fitted(pulled).film


def check_same(fit, film):
    assert fit.film.tensile(0.167, 2.0).end_stress == pytest.approx(film.tensile(0.167, 2.0).end_stress, rel=1e-6)
    assert len(fit.curves) == 1 and fit.curves[0]["kind"] == "tensile"


def test_virtual_test(pulled, film):
    assert pulled.kind == "tensile" and pulled.rate == 0.167
    fit = fitted([pulled])
    check_same(fit, film)
    assert fit.curves[0]["name"] == "curve 1, virtual tensile test" and fit.film.illustrative


def test_mapping(columns, film):
    check_same(fitted(columns, **TEST), film)
    own = {**columns, **TEST, "name": "strip 7", "kind": "tensile", "illustrative": True, "width": 0.025}
    fit = fitted([own], width="1 m", kind="relaxation")
    check_same(fit, film)
    assert fit.curves[0]["name"] == "strip 7" and fit.film.illustrative
    german = {
        "Zeit (s)": columns["time_s"],
        "Weg (mm)": list(columns["displacement_mm"]),
        "Kraft (N)": columns["force_N"],
    }
    check_same(fitted(german, **TEST), film)


def test_array(columns, film):
    array = np.column_stack(list(columns.values()))
    check_same(fitted(array, columns="time_s,displacement_mm,force_N", **TEST), film)
    check_same(fitted([array], columns=list(columns), **TEST), film)
    two = fitted(array, columns=["-", "displacement_mm", "force_N"], rate="0.167 1/s", **TEST)
    check_same(two, film)
    fields = np.rec.fromarrays(list(columns.values()), names=list(columns))
    check_same(fitted(np.asarray(fields), **TEST), film)


def test_data_frame(columns, film):
    pandas = pytest.importorskip("pandas")
    frame = pandas.DataFrame({**columns, "operator": "A"})
    frame.attrs = {"name": "frame", "width": "25 mm", "made by": "somebody"}
    fit = fitted(frame, **{**TEST, "width": "1 m"})
    check_same(fit, film)
    assert fit.curves[0]["name"] == "frame" and "frame: columns not used: operator" in fit.warnings
    # Missing values of pandas are missing numbers.
    gaps = frame.convert_dtypes()
    gaps.loc[5, "force_N"] = pandas.NA
    fit = fitted(gaps, **TEST)
    assert any("1 rows without a number were left out, the first in row 5" in w for w in fit.warnings)
    with pytest.raises(hf.InputError, match="curve 1: time_s: is empty"):
        fitted(pandas.DataFrame({name: [] for name in columns}, dtype=float), **TEST)
    with pytest.raises(hf.InputError, match="holds no columns"):
        fitted(pandas.DataFrame(), **TEST)
    with pytest.raises(hf.InputError, match="force_N: has dtype .*; expected real numbers"):
        fitted(frame.assign(force_N="x"), **TEST)


def test_kinds_mixed_and_files_without_names(root, tmp_path, pulled, columns):
    curves = root / "examples" / "09_film_laboratory" / "curves"
    bare = tmp_path / "bare.csv"
    np.savetxt(bare, np.column_stack(list(columns.values())), delimiter=";")
    fit = hf.fit_film([curves / "hold.csv", pulled, {**columns, **TEST}], **QUICK)
    assert [c["kind"] for c in fit.curves] == ["relaxation", "tensile", "tensile"]
    np.testing.assert_allclose(fit.curves[1]["stress"], fit.curves[2]["stress"], rtol=1e-9)
    alone = hf.fit_film(str(bare), columns="time_s,displacement_mm,force_N", **TEST, **QUICK)
    np.testing.assert_allclose(alone.curves[0]["stress"], fit.curves[1]["stress"], rtol=1e-9)
    with pytest.raises(hf.InputError, match="has 3 cells where columns= names 2"):
        hf.fit_film(bare, columns="displacement_mm,force_N", **TEST)


@pytest.mark.parametrize(
    "change, words",
    [
        (lambda c: c | {"force_N": c["force_N"][:-1]}, "force_N: has 401 values where time_s has 402"),
        (lambda c: c | {"force_N": np.full(402, np.nan)}, "402 of 402 rows lack a number"),
        (lambda c: c | {"force_N": np.zeros((402, 2))}, r"force_N: has shape \(402, 2\)"),
        (lambda c: c | {"force_N": ["a"] * 402}, "force_N: has dtype"),
        (lambda c: {k: v for k, v in c.items() if k != "force_N"}, "has no column for the force"),
        (lambda c: c | {"stress_MPa": c["force_N"]}, "has both force and stress"),
        (lambda c: c | {"displacement": c.pop("displacement_mm")}, "displacement: names no unit"),
        (lambda c: c | {"colour": "blue"}, "colour: is no condition of a test"),
        (lambda c: c | {"thickness": "23 N"}, "thickness: .* wrong kind of unit"),
        (lambda c: c | {"thickness": -1.0}, "out of bounds"),
        (lambda c: c | {"thickness": float("nan")}, "not a finite number"),
        (lambda c: c | {"thickness": object()}, "is object; expected a number in SI or a text"),
        (lambda c: c | {"kind": "burst"}, "is not a kind of test"),
        (lambda c: c | {"machine_compliance": "1 m/N"}, "folds the curve back"),
        (lambda c: {}, "holds no columns"),
    ],
)
def test_what_is_no_curve(columns, change, words):
    with pytest.raises(hf.InputError, match=words) as caught:
        fitted(change({**columns, **TEST}))
    assert isinstance(caught.value, ValueError)


def test_conditions_that_are_missing_are_asked_for(columns):
    with pytest.raises(hf.InputError, match='width: is missing: .*; expected width="25 mm"'):
        fitted(columns, grip_distance=0.05)


def test_what_is_of_no_use(columns):
    array = np.column_stack(list(columns.values()))
    with pytest.raises(hf.InputError, match="an array has no names"):
        fitted(array, **TEST)
    with pytest.raises(hf.InputError, match="has 3 columns where columns= names 2"):
        fitted(array, columns="displacement_mm,force_N", **TEST)
    with pytest.raises(hf.InputError, match=r"has shape \(402,\)"):
        fitted(columns["force_N"], columns="force_N", **TEST)
    for nothing in (3.0, None, [[1.0, 2.0]], [{1: [2.0]}], {"a": [1.0]}.values()):
        with pytest.raises(TypeError, match="curve 1: "):
            fitted(nothing)
    with pytest.raises(hf.IoError):
        fitted("no such text")
    with pytest.raises(hf.InputError):
        fitted([])
