# SPDX-License-Identifier: BSD-3-Clause
"""Pictures: drawn on the axes given, titled with quantity and unit, showing the numbers of the result."""

import numpy as np
import pytest

plt = pytest.importorskip("matplotlib.pyplot")
import hoopfield as hf  # noqa: E402

NAMES = ["containment", "buildup", "face_map", "span_force", "over_time", "film_curve"]


@pytest.fixture(autouse=True)
def close_figures():
    yield
    plt.close("all")


@pytest.mark.parametrize("name", NAMES)
def test_draws_where_it_is_told(result, name):
    figure, axes = plt.subplots(1, 2, figsize=(12, 5))
    returned = getattr(result.plot, name)(ax=axes[1])
    assert returned is axes[1] and not axes[0].has_data() and axes[1].has_data()
    figure.canvas.draw()


@pytest.mark.parametrize("name", NAMES)
def test_title_says_quantity_and_unit(result, name):
    ax = getattr(result.plot, name)()
    title = ax.get_title(loc="left")
    assert any(unit in title for unit in (", N/m", ", N", ", MPa")), title
    assert ax.get_xlabel() and ax.get_ylabel()


@pytest.mark.parametrize("name", NAMES)
def test_nothing_sticks_out_or_overlaps(result, name):
    ax = getattr(result.plot, name)()
    figure = ax.figure
    figure.canvas.draw()
    box, renderer = figure.bbox, figure.canvas.get_renderer()
    ticks = [t for a in figure.axes for t in (*a.get_xticklabels(), *a.get_yticklabels())]  # also those not drawn
    for text in figure.findobj(
        lambda t: hasattr(t, "get_text") and t.get_text() and t.get_visible() and t not in ticks
    ):
        extent = text.get_window_extent(renderer)
        inside = extent.x0 >= -1 and extent.y0 >= -1 and extent.x1 <= box.x1 + 1 and extent.y1 <= box.y1 + 1
        assert inside or not extent.width, (name, text.get_text())
    labels = [t.get_window_extent(renderer) for t in ax.get_xticklabels() if t.get_text()]
    labels.sort(key=lambda e: e.x0)
    assert all(a.x1 <= b.x0 for a, b in zip(labels, labels[1:])), f"{name}: labels of the axis overlap"


def test_curves_are_the_numbers(result):
    ax = result.plot.containment()
    drawn = [line.get_xdata() for line in ax.lines if len(line.get_xdata()) == len(result.height)]
    np.testing.assert_array_equal(drawn[0], result.hoop_tension[0].mean(axis=0))
    np.testing.assert_array_equal(drawn[1], result.hoop_tension[-1].mean(axis=0))
    ax = result.plot.over_time()
    for line, name in zip(ax.lines, result.stations):
        assert line.get_ydata()[0] == pytest.approx(result.containment.end[name].hoop_tension, rel=1e-12)
        assert line.get_ydata()[-1] == pytest.approx(result.containment.after_storage[name].hoop_tension, rel=1e-12)


def test_face_map_unrolls_the_faces(result):
    mesh = result.plot.face_map("after_storage").collections[0]
    np.testing.assert_array_equal(
        np.asarray(mesh.get_array()).reshape(len(result.height), 4), result.hoop_tension[-1].T
    )
    assert "after storage" in result.plot.face_map("after_storage").get_title(loc="left")
    assert "1 h" in result.plot.face_map(3600.0).get_title(loc="left")
    with pytest.raises(hf.InputError):
        result.plot.face_map("later")


def test_working_points_lie_where_the_result_says(result):
    ax = hf.plot.film_curves({"a": result.scenario.film, "b": hf.Film.library("thin-stiff-film")}, [result])
    points = [line for line in ax.lines if len(line.get_xdata()) == 1]
    assert points[1].get_xdata()[0] == pytest.approx(result.film_path.stretch_on_load * 100)
    assert points[1].get_ydata()[0] == pytest.approx(70.0 / (0.5 * 23e-6) / 1e6)


def test_colours_are_told_apart_without_red_and_green():
    """Least distance of the line colours as seen with each kind of dichromacy (linear model in LMS, Vienot 1999, from
    memory)."""
    to_lms = np.array([[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.0299566, 0.184309, 1.46709]])
    reduce = [
        np.array([[0, 2.02344, -2.52581], [0, 1, 0], [0, 0, 1]]),
        np.array([[1, 0, 0], [0.494207, 0, 1.24827], [0, 0, 1]]),
    ]
    from matplotlib.colors import to_rgb

    # The three station colours stand together in one picture.
    colours = np.array([to_rgb(c) for c, _ in hf.plot.STATION_STYLE.values()])
    for matrix in [np.eye(3), *reduce]:
        seen = colours @ (np.linalg.inv(to_lms) @ matrix @ to_lms).T
        distance = np.linalg.norm(seen[:, None] - seen[None], axis=-1) + np.eye(len(seen))
        assert distance.min() > 0.2
    assert len({style for _, style in hf.plot.STATION_STYLE.values()}) == 3  # and by line style alone
