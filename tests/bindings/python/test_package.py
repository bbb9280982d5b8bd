# SPDX-License-Identifier: BSD-3-Clause
"""The package as such: quick to import, light, typed, alone or with other HDF5 users, ready for notebooks."""

import ast
import copy
import html
import importlib.metadata
import importlib.util
import inspect
import os
import pathlib
import pickle
import subprocess
import sys

import numpy as np
import pytest

import hoopfield as hf
from hoopfield import _core

PACKAGE = pathlib.Path(hf.__file__).parent


def python(code):
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=900)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_import_is_light():
    """What an import costs is counted in modules: beyond NumPy's own, the package brings those of its files that
    define what
    a session needs at once, and a few of the standard library. Nothing that draws, reads files of others or
    compiles."""
    code = "import sys, numpy; before = set(sys.modules); import hoopfield; print(*sorted(set(sys.modules) - before))"
    brought = python(code).split()
    own = [name for name in brought if name.partition(".")[0] == "hoopfield"]
    foreign = [name for name in brought if name not in own]
    assert "hoopfield._core" in own
    assert not {name.partition(".")[0] for name in foreign} - sys.stdlib_module_names, foreign
    assert len(foreign) <= 25, foreign
    assert not {"hoopfield.plot", "hoopfield.comparison", "hoopfield.sweeping"} & set(own), own


def test_import_needs_numpy_only():
    code = (
        "import sys; sys.modules.update({m: None for m in ('xarray', 'matplotlib', 'h5py', 'pandas', 'scipy')})\n"
        "import hoopfield as hf; dir(hf); hf.plot; hf.compare; hf.sweep; hf.Film.library('general-film').tensile()"
    )
    python(code)


def test_missing_extras_are_named(scenario_path):
    code = (
        f"import sys; sys.modules.update({{m: None for m in ('xarray', 'matplotlib', 'matplotlib.pyplot')}})\n"
        f"import hoopfield as hf; r = hf.predict(hf.read({str(scenario_path)!r}))\n"
        "for use in (r.to_xarray, r.plot.containment, r.plot.buildup):\n"
        "    try: use()\n"
        "    except ImportError as e: assert 'hoopfield[' in str(e), e\n"
        "    else: raise SystemExit(use)"
    )
    python(code)


@pytest.mark.parametrize(
    "order", [("h5py", "hoopfield"), ("hoopfield", "h5py"), ("netCDF4", "hoopfield"), ("hoopfield", "netCDF4")]
)
def test_beside_another_hdf5(order, scenario_path, tmp_path):
    other = order[0] if order[1] == "hoopfield" else order[1]
    pytest.importorskip(other)
    read = {
        "h5py": "h5py.File({0!r})['hoop_tension'][...].sum()",
        "netCDF4": "netCDF4.Dataset({0!r})['hoop_tension'][...].sum()",
    }[other].format(str(tmp_path / "r.h5"))
    write = (
        "h5py.File({0!r}, 'w').create_dataset('x', data=[1.0]).make_scale('x')"
        if other == "h5py"
        else "netCDF4.Dataset({0!r}, 'w').createDimension('x', 3)"
    ).format(str(tmp_path / "other.h5"))
    python(
        f"import {order[0]}, {order[1]}\n"
        f"r = hoopfield.predict(hoopfield.read({str(scenario_path)!r}))\n"
        f"{write}\n"
        f"r.save({str(tmp_path / 'r.h5')!r})\n"
        f"assert abs({read} - r.hoop_tension.sum()) < 1e-9 * r.hoop_tension.sum()\n"
        f"r.save({str(tmp_path / 'r.h5')!r}, overwrite=True)"
    )


def test_all_names_are_there():
    for name in hf.__all__:
        assert getattr(hf, name) is not None
    assert set(hf.__all__) <= set(dir(hf))
    with pytest.raises(AttributeError):
        hf.no_such_name


def test_everything_public_is_explained():
    for name in hf.__all__:
        item = getattr(hf, name)
        if callable(item):
            assert item.__doc__, name
    for klass in (hf.Scenario, hf.Film, hf.Result):
        for name, member in inspect.getmembers(klass):
            if inspect.isfunction(member) and not name.startswith("_"):
                assert member.__doc__ or name in ("to_json", "keys", "items", "values", "get", "library_names"), name


def stub_names(tree):
    """{class or "": {name: argument names or None}} of a stub file."""
    names = {"": {}}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            names[""][node.name] = [a.arg for a in node.args.args]
        elif isinstance(node, ast.ClassDef):
            names[node.name] = {
                m.name: [a.arg for a in m.args.args] for m in node.body if isinstance(m, ast.FunctionDef)
            }
    return names


def test_stubs_name_what_the_module_has():
    stub = stub_names(ast.parse((PACKAGE / "_core.pyi").read_text(encoding="utf-8")))
    own = {"": [n for n, v in vars(_core).items() if not n.startswith("_") and not inspect.isclass(v)]}
    own |= {n: [m for m in vars(v) if not m.startswith("_")] for n, v in vars(_core).items() if inspect.isclass(v)}
    assert set(own) == set(stub)
    for klass, members in own.items():
        assert set(members) == {m for m in stub[klass] if not m.startswith("_")}, klass
        for member in members:
            item = getattr(getattr(_core, klass) if klass else _core, member)
            for argument in stub[klass][member][0 if not klass else 1 :]:
                assert isinstance(item, property) or argument in (item.__doc__ or ""), f"{klass}.{member}: {argument}"


def test_stubs_are_what_the_generator_writes(tmp_path):
    if importlib.util.find_spec("pybind11_stubgen") is None:
        pytest.skip("pybind11-stubgen is not installed")
    done = subprocess.run(
        [sys.executable, "-m", "pybind11_stubgen", "hoopfield._core", "-o", str(tmp_path), "--exit-code"],
        capture_output=True,
        text=True,
        timeout=900,
        env={**os.environ, "PYTHONPATH": str(PACKAGE.parent)},
    )
    assert done.returncode == 0, done.stderr
    if "typing.SupportsFloat | typing.SupportsIndex" not in (
        text := (tmp_path / "hoopfield" / "_core.pyi").read_text()
    ):
        pytest.skip("built with another pybind11 than the stubs, which writes other types")
    assert (PACKAGE / "_core.pyi").read_text(encoding="utf-8") == "# SPDX-License-Identifier: BSD-3-Clause\n" + text


def test_the_wheel_has_what_it_should():
    try:
        files = {str(f) for f in importlib.metadata.files("hoopfield") or []}
    except importlib.metadata.PackageNotFoundError:
        pytest.skip("not installed with pip")
    for name in ("hoopfield/py.typed", "hoopfield/_core.pyi"):
        assert name in files
    for name in ("LICENSE", "THIRD_PARTY_NOTICES.md"):
        assert any(f.endswith(f"dist-info/licenses/{name}") for f in files), name
    assert any(f.endswith("bin/hoopfield") for f in files)
    assert not [f for f in files if f.endswith((".hpp", ".cmake", ".a", ".cpp"))]
    assert importlib.metadata.version("hoopfield") == hf.__version__
    needs = importlib.metadata.requires("hoopfield") or []
    assert [n for n in needs if "extra" not in n] == ["numpy>=1.24"]


def test_the_licence_is_that_of_the_project(root):
    assert (root / "LICENSE").read_bytes() == (root / "bindings" / "python" / "LICENSE").read_bytes()


def test_cards(result):
    card = result._repr_html_()
    assert card.count("<table") == 1 and "After storage" not in card and "after storage" in card
    assert f"{result.containment.end.top.hoop_tension:,.4g}" in card and "not a certificate" in card
    assert "N/m" in repr(result)
    # Title and first sentence are those of the command.
    assert card.index("<b>") < card.index(html.escape(result.sentence)) < card.index("<table")
    # Faces are named on the card, so it says which is which in the words of the command.
    sketch = hf._core.face_sketch()
    assert card.count(html.escape(sketch)) == 1 and "seen from above" in card
    for any_card in (card, result.scenario._repr_html_()):
        assert hf._core.short_caution() in any_card
    both = hf.compare(
        {"now": result.scenario, "more": result.scenario.replace({"delivery.tension.force": "90 N"})}, band_samples=0
    )
    assert hf._core.short_caution() in both._repr_html_()
    assert both._repr_html_().index(html.escape(both.sentences[0])) < both._repr_html_().index("<table")
    assert "now" in both._repr_html_() and "(+" in both._repr_html_() and "Film per load, kg" in repr(both)
    assert both.to_dict()["Film per load, kg"]["now"] == pytest.approx(result.film.mass)


def public_members():
    for name in hf.__all__:
        thing = getattr(hf, name)
        if inspect.ismodule(thing) or name.startswith("__"):
            continue
        yield name, thing
        if inspect.isclass(thing):
            for member in dir(thing):
                owner = next(c for c in thing.__mro__ if member in c.__dict__)
                is_slot = member in owner.__dict__.get("__slots__", ())  # data, told of in the docstring of the class
                if not member.startswith("_") and not is_slot and owner.__module__.startswith("hoopfield"):
                    found = inspect.getattr_static(thing, member)
                    yield f"{name}.{member}", found.fget if isinstance(found, property) else getattr(thing, member)


def test_every_public_member_says_what_it_is():
    members = list(public_members())
    assert len(members) > 100
    assert [name for name, member in members if not inspect.getdoc(member)] == []


def test_curves_and_pages_pickle():
    film = hf.Film.library("general-film")
    for curve in (film.recover(2.0, wait="1 h"), film.tensile(0.1, 2.0)):
        again = pickle.loads(pickle.dumps(curve))
        assert (again.kind, again.rate) == (curve.kind, curve.rate)
        assert again.permanent_set == curve.permanent_set and again.secant_modulus == curve.secant_modulus
        for column in ("time", "stretch", "stress", "temperature"):
            np.testing.assert_array_equal(getattr(again, column), getattr(curve, column))
        assert copy.deepcopy(curve).end_stress == curve.end_stress
    page = hf.explain("pitch")
    assert str(pickle.loads(pickle.dumps(page))) == str(page)


@pytest.mark.parametrize(
    "forged",
    [
        lambda s: (),
        lambda s: (s[0], s[1][:3], s[2], s[3]),
        lambda s: (s[0], s[1], s[2][:, :4], s[3]),
        lambda s: (s[0], s[1], s[2], len(s[2])),
        lambda s: (("shaking", *s[0][1:]), s[1], s[2], s[3]),
        lambda s: (s[0], s[1], np.where(np.arange(5) == 3, 9.0, s[2]), s[3]),
        lambda s: (s[0], "x", s[2], s[3]),
    ],
)
def test_forged_curves_are_refused(forged):
    curve = hf.Film.library("general-film").tensile(0.1, 2.0)
    with pytest.raises(hf.InputError, match="no curve of a virtual test"):
        make, state = curve.__reduce__()
        make(*forged(state))
