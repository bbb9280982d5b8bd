# SPDX-License-Identifier: BSD-3-Clause
"""The drawing of the load: what is painted is what the data hold, and it is read by everybody, everywhere."""

from __future__ import annotations

import itertools
import math
import os
import re
from pathlib import Path

import pytest

from conftest import DRAWS, REFERENCE, ROOT, data_of, run, written
from test_numbers import KINDS, check_text

FACES = ("front", "left", "back", "right")
STATIONS = ("top", "middle", "bottom")
MOMENTS = ("end", "weakest", "after_storage")
SAME_HEIGHT = (r"^pitch = .*", 'pitch = "0 mm"')
TARGET = '[target]\nquantity = "{}"\nat = "after_storage"\ntop = "{}"\nmiddle = "{}"\n'

# name -> changes of the reference case and text at its end
KINDS_OF_LOAD = {
    "wanted": ([], TARGET.format("hoop_tension", "500 N/m", "600 N/m")),
    "pulled": ([], TARGET.format("pull_force", "50 N", "1200 N")),
    "bottom": ([SAME_HEIGHT, (r"^bottom_turns.*", 'bottom_turns = 3\nstart_height = "-80 mm"')], ""),
    "short": ([(r"^top_overhang = .*", 'top_overhang = "-120 mm"\nstart_height = "100 mm"')], ""),
    "arm": ([(r'^speed = "12 rpm"', 'speed = "12 rpm"\nkind = "delivery"')], ""),
    "tall": (
        [
            (r"^length = .*", 'length = "0.6 m"'),
            (r'^width = "1.0 m"', 'width = "0.4 m"'),
            (r"^height = .*", 'height = "3 m"'),
        ],
        "",
    ),
    "flat": (
        [(r"^height = .*", 'height = "0.2 m"'), SAME_HEIGHT, (r'^width = "500 mm"', 'width = "200 mm"')],
        TARGET.format("hoop_tension", "500 N/m", "600 N/m") + 'bottom = "700 N/m"\n',
    ),
}


@pytest.fixture(scope="session")
def loads(reports, tmp_path_factory):
    """Pages whose loads look different; name -> HTML file."""
    folder = tmp_path_factory.mktemp("loads")
    made = {name: reports[name][0] for name in ("full", "warned", "pair")}
    for name, (changes, more) in KINDS_OF_LOAD.items():
        made[name] = folder / f"{name}.html"
        scenario = written(folder / f"{name}.toml", REFERENCE, *changes, more=more)
        run("predict", scenario, *DRAWS, "--report", made[name])
    return made


@pytest.fixture
def open_load(open_page):
    """A page without its other sections, so that nothing else is drawn anew; what is folded in it is opened."""

    def open_it(html, width=1280, unfold=True):
        page = open_page(html, width, unfold=False)
        page.evaluate(
            "document.querySelectorAll('main > :not(#answer), #answer > :not(#load)').forEach(e => e.remove())"
        )
        if unfold:
            page.evaluate("document.querySelectorAll('#load details').forEach(e => (e.open = true))")
            settled(page)
        return page

    return open_it


def set_moment(page, moment):
    page.evaluate("m => dispatchEvent(new CustomEvent('momentchanged', {detail: m}))", moment)


def set_units(page, units):
    page.evaluate("u => document.querySelector(`input[value=${u}]`).click()", units)


def set_paper(page):
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")


def settled(page):
    """After frames that were laid out anew have been drawn."""
    page.evaluate(
        "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))))"
    )


def bounds_of(page) -> list[float]:
    found = page.eval_on_selector_all(".load-scale", "all => all.map(e => e.dataset.bounds)")
    assert len(set(found)) == 1
    return [float(v) for v in found[0].split()]


def step_of(value, bounds, factor=1.0) -> int:
    count = len(bounds) - 1
    step = (bounds[-1] - bounds[0]) / count
    return min(count - 1, max(0, math.floor((value * factor - bounds[0]) / step + 1e-9)))


def painted(figure, kind):
    """Painted pieces of a drawing, with the heights of their lower and upper edge as shares of the load's."""
    return figure.locator(f"svg.{kind}").evaluate("""svg => {
      const corners = d => d.match(/-?[\\d.]+/g).map(Number);
      const edges = e => e.tagName === 'rect'
        ? [Number(e.getAttribute('y')) + Number(e.getAttribute('height')), Number(e.getAttribute('y'))]
        : [corners(e.getAttribute('d'))[1], corners(e.getAttribute('d'))[7]];
      return [...svg.querySelectorAll('[data-first]')].map(e => {
        const [bottom, top] = edges(svg.querySelector(`[data-goods=${e.dataset.face}]`));
        return {face: e.dataset.face, first: Number(e.dataset.first), last: Number(e.dataset.last),
                step: Number(e.dataset.step), fill: e.getAttribute('fill'),
                heights: edges(e).map(y => (bottom - y) / (bottom - top))};
      });
    }""")


def expected_steps(side, moment, bounds, factor):
    heights = side["detail"]["over_height"]
    return {
        (face, i): step_of(tension, bounds, factor) if heights["film_layers"][face][i] > 0 else -1
        for face in FACES
        for i, tension in enumerate(heights[f"{moment}_N_per_m"][face])
    }


def check_paint(figure, kind, faces, side, moment, bounds, factor):
    colours = dict(
        figure.page.eval_on_selector_all(
            ".load-scale >> nth=0 >> [data-step]",
            "all => all.map(e => [Number(e.dataset.step), e.getAttribute('fill')])",
        )
    )
    wanted = expected_steps(side, moment, bounds, factor)
    slices = len(side["detail"]["over_height"]["height_m"])
    seen = {}
    for piece in painted(figure, kind):
        assert piece["fill"] == colours.get(piece["step"], "none")
        assert piece["heights"] == pytest.approx([piece["first"] / slices, (piece["last"] + 1) / slices], abs=2e-3)
        seen |= {(piece["face"], i): piece["step"] for i in range(piece["first"], piece["last"] + 1)}
    bare = {key for key, step in wanted.items() if step < 0}
    assert seen.keys() | bare >= {(face, i) for face in faces for i in range(slices)}
    assert seen == {key: wanted[key] for key in seen} and {face for face, _ in seen} <= set(faces)


@pytest.mark.parametrize("units", ["metric", "inch-pound"])
@pytest.mark.parametrize("name", ["full", "pair", "bottom", "short", "flat"])
def test_every_piece_has_the_colour_of_its_number(loads, open_load, name, units):
    page, data = open_load(loads[name]), data_of(loads[name])
    set_units(page, units)
    factor = KINDS["tension"][units != "metric"][0]
    bounds = bounds_of(page)
    figures = page.locator(".load-figure").all()
    assert len(figures) == len(data["sides"])
    for moment in MOMENTS:
        set_moment(page, moment)
        for figure, side in zip(figures, data["sides"]):
            check_paint(figure, "load-solid", ("front", "left"), side, moment, bounds, factor)
            check_paint(figure, "load-unrolled", FACES, side, moment, bounds, factor)
            means = side["detail"]["drawing"]["face_means_N_per_m"][moment]
            plan = figure.locator("[data-plan-face]").evaluate_all(
                "all => all.map(e => [e.dataset.planFace, Number(e.dataset.step)])"
            )
            assert dict(plan) == {face: step_of(means[face], bounds, factor) for face in FACES}


@pytest.mark.parametrize("name", ["full", "pair", "tall", "flat"])
def test_the_scale_holds_all_sides_and_moments_in_round_steps(loads, open_load, name):
    page, data = open_load(loads[name]), data_of(loads[name])
    held = [
        side["detail"]["over_height"][f"{moment}_N_per_m"][face][i]
        for side in data["sides"]
        for moment in MOMENTS
        for face in FACES
        for i, layers in enumerate(side["detail"]["over_height"]["film_layers"][face])
        if layers > 0
    ]
    for units, factor in (("metric", 1.0), ("inch-pound", KINDS["tension"][1][0])):
        set_units(page, units)
        bounds = bounds_of(page)
        steps = [b - a for a, b in itertools.pairwise(bounds)]
        assert 5 <= len(steps) <= 7 and steps == pytest.approx([steps[0]] * len(steps))
        assert bounds[0] <= min(held) * factor < bounds[1] and bounds[-2] <= max(held) * factor <= bounds[-1]
        assert float(f"{steps[0]:.3g}") == pytest.approx(steps[0], rel=1e-9)
        shown = page.locator(".load-scale").first.text_content()
        assert shown.startswith(f"Hoop tension, {KINDS['tension'][units != 'metric'][2]}")


def texts_of_stations(figure):
    groups = figure.locator("svg.load-solid [data-station]")
    return {
        group.get_attribute("data-station"): [e.text_content() for e in group.locator("text").all()]
        for group in groups.all()
    }


@pytest.mark.parametrize("name", ["wanted", "pulled", "pair", "bottom"])
def test_stations_show_the_numbers_of_the_data(loads, open_load, name):
    page, data = open_load(loads[name]), data_of(loads[name])
    for (style, units), moment in itertools.product(enumerate(("metric", "inch-pound")), MOMENTS):
        set_units(page, units)
        set_moment(page, moment)
        for figure, side in zip(page.locator(".load-figure").all(), data["sides"]):
            shown = texts_of_stations(figure)
            targets = {t["station"]: t for t in side["summary"]["targets"] if t["at"] == moment}
            for station in STATIONS:
                value = side["summary"]["containment"][moment][station]["hoop_tension_N_per_m"]
                assert shown[station][0] == station and len(shown[station]) == 2 + (station in targets)
                check_text(shown[station][1], value, "tension", style, False, 3)
                if station in targets:
                    target, words = targets[station], shown[station][2]
                    assert words.startswith("\u2265 ") and words.endswith(" pull") == (name == "pulled")
                    kind = "force" if name == "pulled" else "tension"
                    check_text(words[2:].removesuffix(" pull"), target["wanted"], kind, style, False, 3)


def test_another_moment_is_another_drawing(loads, open_load):
    page, side = open_load(loads["full"]), data_of(loads["full"])["sides"][0]
    figure = page.locator(".load-figure")
    seen = {}
    for moment in MOMENTS:
        set_moment(page, moment)
        assert figure.get_attribute("data-moment") == moment
        places = figure.locator("figcaption data").evaluate_all("all => all.map(e => e.dataset.place)")
        assert any(place.startswith(f"sides/0/detail/over_height/{moment}_N_per_m/") for place in places)
        tables = figure.locator("table data").evaluate_all("all => all.map(e => e.dataset.place)")
        assert sum(f"/{moment}_N_per_m/" in place for place in tables) == 4 * len(
            side["detail"]["over_height"]["height_m"]
        )
        assert sum(f"/containment/{moment}/" in place for place in tables) == 18
        paint = [(p["face"], p["first"], p["step"]) for p in painted(figure, "load-unrolled")]
        seen[moment] = (paint, figure.locator("svg.load-solid").get_attribute("aria-label"))
    assert seen["end"][0] != seen["after_storage"][0] and len({label for _, label in seen.values()}) >= 2
    assert "weakest" in seen["weakest"][1]


def test_the_alternative_tells_the_finding(loads, open_load):
    page, side = open_load(loads["full"]), data_of(loads["full"])["sides"][0]
    heights = side["detail"]["over_height"]
    for moment, (style, units) in itertools.product(MOMENTS, enumerate(("metric", "inch-pound"))):
        set_units(page, units)
        set_moment(page, moment)
        for kind in ("load-solid", "load-unrolled"):
            svg = page.locator(f"svg.{kind}")
            label = svg.get_attribute("aria-label")
            assert svg.get_attribute("role") == "img"
            least, least_face, at, most, most_face = re.search(
                r"is least, (.*?) on the (\w+) face at (.*?) above the deck, and greatest, (.*?) on the (\w+) face",
                label,
            ).groups()
            found = [(v, f, i) for f in FACES for i, v in enumerate(heights[f"{moment}_N_per_m"][f])]
            low, high = min(found), max(found)
            assert (least_face, most_face) == (low[1], high[1])
            check_text(least, low[0], "tension", style, False, 3)
            check_text(most, high[0], "tension", style, False, 3)
            check_text(at, heights["height_m"][low[2]], "height", style, False, 3)


def test_units_reach_every_word_of_the_drawing(loads, open_load):
    page = open_load(loads["wanted"])
    set_units(page, "inch-pound")
    words = page.locator("#load svg").evaluate_all(
        "all => all.map(e => e.textContent + ' ' + (e.getAttribute('aria-label') ?? ''))"
    )
    assert "lbf/in" in " ".join(words) and "Height, in" in " ".join(words)
    assert not re.search(r"N/m|\bm\b|\bmm\b", " ".join(words))


def test_what_is_above_and_below_the_load_is_drawn(loads, open_load):
    for name, is_folded, is_below, bare in (
        ("full", True, False, ()),
        ("bottom", False, True, ("top",)),
        ("short", False, False, ("top", "bottom")),
    ):
        page, side = open_load(loads[name]), data_of(loads[name])["sides"][0]
        drawing = side["detail"]["drawing"]
        assert (drawing["top_overhang_m"] > 0, drawing["film_bottom_m"] < -1e-9) == (is_folded, is_below)
        assert (page.locator(".load-rim").count(), page.locator(".load-film-below").count()) == (
            is_folded,
            2 * is_below,
        )
        pieces = [p for p in painted(page.locator(".load-figure"), "load-unrolled") if p["face"] == "front"]
        last = len(side["detail"]["over_height"]["height_m"]) - 1
        ends = {"bottom": pieces[0], "top": pieces[-1]}
        assert ends["bottom"]["first"] == 0 and ends["top"]["last"] == last
        assert {end for end, piece in ends.items() if piece["step"] < 0} == set(bare)
        legend = page.inner_text(".load-legend")
        assert ("folded over the top" in legend, "over the pallet" in legend) == (is_folded, is_below)


def test_layers_are_drawn_as_thick_as_they_are_many(loads, open_load):
    page, side = open_load(loads["full"]), data_of(loads["full"])["sides"][0]
    layers = side["detail"]["over_height"]["film_layers"]
    thickness = page.locator("svg.load-unrolled [data-layers]").evaluate_all(
        """all => all.map(e => [e.dataset.layers,
             e.getAttribute('d').match(/-?[\\d.]+ -?[\\d.]+/g).map(p => Number(p.split(' ')[0]))])"""
    )
    assert [face for face, _ in thickness] == list(FACES)
    per_layer = (max(thickness[1][1]) - min(thickness[1][1])) / max(layers["left"])
    for face, xs in thickness:
        drawn = [(a - xs[0]) / per_layer for a in xs[1:-1:2]]
        assert drawn == pytest.approx(layers[face], abs=0.02)


def turning_sense(page) -> float:
    """Area round the arrow of the plan, positive when it runs clockwise on the page."""
    points = page.locator(".load-plan path[fill=none]").evaluate(
        "e => e.getAttribute('d').match(/-?[\\d.]+ -?[\\d.]+/g).map(p => p.split(' ').map(Number))"
    )
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise([*points, points[0]]))


def test_faces_and_turning_are_those_of_the_sketch(loads, open_load):
    for name, clockwise, words in (("full", False, "load turns"), ("arm", True, "arm or ring turns")):
        page = open_load(loads[name])
        assert (turning_sense(page) > 0) == clockwise
        assert words in " ".join(page.locator(".load-plan text").all_text_contents())
        spot = {face: page.locator(f"[data-plan={face}]").bounding_box() for face in FACES}
        assert spot["left"]["y"] < spot["front"]["y"] < spot["right"]["y"]
        assert spot["back"]["x"] < spot["left"]["x"] < spot["front"]["x"]
        named = [page.locator(f"svg.load-solid [data-name={face}]").bounding_box()["x"] for face in ("front", "left")]
        assert named[0] < named[1]  # seen from the front, left is on the right
        columns = page.locator("svg.load-unrolled [data-name]").evaluate_all("all => all.map(e => e.dataset.name)")
        order = data_of(loads[name])["sides"][0]["detail"]["drawing"]["laid_order"]
        assert columns == list(FACES) and "film is laid this way" in page.locator("svg.load-unrolled").text_content()
        # The arrow points to the left: read that way, and round the load, the columns are in the order of the film.
        assert "".join(columns[::-1] * 2).find("".join(order)) >= 0


def linear(colour):
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]


def luminance(rgb):
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def lab(rgb):
    """CIE L*a*b* of linear sRGB, white D65."""
    xyz = (
        (0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2]) / 0.9505,
        luminance(rgb),
        (0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2]) / 1.089,
    )
    x, y, z = (v ** (1 / 3) if v > 0.008856 else 7.787 * v + 16 / 116 for v in xyz)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


# Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE
# Transactions on Visualization and Computer Graphics 15 (2009), severity 1, on linear RGB; the numbers as they
# are passed on with that name, from memory, the paper was not read.
SEEN_WITH = {
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
    "all cones": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
}


def ramps() -> dict[int, list[str]]:
    text = (ROOT / "bindings/web/src/load_scale.ts").read_text()
    return {
        int(count): re.findall(r"#[0-9a-f]{6}", colours)
        for count, colours in re.findall(r"^  (\d): \[(.*?)\]", text, re.M)
    }


def test_the_scale_is_read_in_grey_and_by_every_eye(loads, open_load):
    rows = ramps()
    assert {count: len(colours) for count, colours in rows.items()} == {5: 5, 6: 6, 7: 7}
    for colours in rows.values():
        grey = [lab(linear(colour))[0] for colour in colours]
        assert all(a - b >= 9 for a, b in itertools.pairwise(grey)), grey
        for name, matrix in SEEN_WITH.items():
            seen = [
                lab([min(1, max(0, sum(m * c for m, c in zip(row, linear(colour))))) for row in matrix])
                for colour in colours
            ]
            assert all(a[0] > b[0] for a, b in itertools.pairwise(seen)), name
            for a, b in itertools.combinations(seen, 2):
                assert math.dist(a, b) >= 10, (name, colours)
    shown = open_load(loads["full"]).locator(".load-scale [data-step]")
    assert shown.evaluate_all("all => all.map(e => e.getAttribute('fill'))") in list(rows.values())


WORDS = """() => [...document.querySelectorAll('#load svg')].filter(s => s.clientWidth > 0).flatMap((svg, n) => {
  const frame = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('text')].map(e => {
    const b = e.getBoundingClientRect();
    const marks = svg.querySelectorAll('[data-first]:not([fill=none]), [data-goods], [data-layers], [data-plan-face],' +
                                       'rect[data-step], .load-rim, .load-film-below');
    const back = svg.getScreenCTM().inverse();
    const spots = [0.05, 0.5, 0.95].flatMap(u => [[u, 0.2], [u, 0.5], [u, 0.8]]);
    const covered = spots.some(([u, v]) => {
      const p = new DOMPoint(b.left + u * b.width, b.top + v * b.height).matrixTransform(back);
      return [...marks].some(m => m.isPointInFill(p));
    });
    return {n, text: e.textContent, covered, fill: getComputedStyle(e).fill, box: [b.left, b.top, b.right, b.bottom],
            size: parseFloat(getComputedStyle(e).fontSize),
            inside: b.left > frame.left - 1 && b.right < frame.right + 1 &&
                    b.top > frame.top - 2 && b.bottom < frame.bottom + 2};
  });
})"""


def overlap(a, b):
    (ax1, ay1, ax2, ay2), (bx1, by1, bx2, by2) = a["box"], b["box"]
    return a["n"] == b["n"] and min(ax2, bx2) - max(ax1, bx1) > 0.5 and min(ay2, by2) - max(ay1, by1) > 2.5


def check_words(page, where):
    words = page.evaluate(WORDS)
    assert len(words) > 20, where
    for word in words:
        assert word["inside"] and not word["covered"] and word["size"] >= 11, (where, word)
        channels = [int(v) for v in re.findall(r"\d+", word["fill"])]
        contrast = 1.05 / (luminance(linear("#{:02x}{:02x}{:02x}".format(*channels[:3]))) + 0.05)
        assert contrast >= 4.5, (where, word)
    for a, b in itertools.combinations(words, 2):
        assert not overlap(a, b), (where, a["text"], b["text"])


@pytest.mark.parametrize("name", ["full", "warned", "pair", *KINDS_OF_LOAD])
def test_words_stand_apart_on_white(loads, open_load, name):
    page = open_load(loads[name])
    for width in (1280, 768, 390):
        page.set_viewport_size({"width": width, "height": 900})
        for units in ("metric", "inch-pound", "both"):
            set_units(page, units)
            settled(page)
            check_words(page, (name, width, units))
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.evaluate("document.querySelectorAll('#load details').forEach(e => (e.open = false))")
    set_paper(page)
    for moment in MOMENTS:
        set_moment(page, moment)
        check_words(page, (name, "paper", moment))


@pytest.mark.parametrize("name", ["full", "wanted", "bottom", "flat", "pair"])
def test_drawings_fit_their_part_of_a_sheet(loads, open_load, name):
    page = open_load(loads[name], unfold=False)
    set_paper(page)
    millimetre = 96 / 25.4
    for moment in MOMENTS:
        set_moment(page, moment)
        boxes = page.locator("#load figure, #load .load-legend").evaluate_all(
            "all => all.map(e => e.getBoundingClientRect()).map(b => [b.left, b.top, b.right, b.bottom])"
        )
        wide = max(b[2] for b in boxes) - min(b[0] for b in boxes)
        tall = max(b[3] for b in boxes) - min(b[1] for b in boxes)
        assert wide <= 182.5 * millimetre, (moment, wide / millimetre)
        assert tall <= (70 if name == "pair" else 75) * millimetre, (moment, tall / millimetre)
    if name == "pair":
        tops = page.locator("#load svg.load-solid").evaluate_all(
            "all => all.map(e => e.getBoundingClientRect().bottom)"
        )
        assert len(tops) == 2 and tops[0] == pytest.approx(tops[1], abs=2)


def test_drawings_follow_the_window_and_come_back_from_paper(loads, open_load):
    page = open_load(loads["full"])
    before = page.locator("svg.load-solid").get_attribute("width")
    set_paper(page)
    assert page.locator("svg.load-solid").get_attribute("width") != before
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    page.emulate_media(media="screen")
    settled(page)
    assert page.locator("svg.load-solid").get_attribute("width") == before
    page.set_viewport_size({"width": 500, "height": 800})
    settled(page)
    assert float(page.locator("svg.load-solid").get_attribute("width")) < 480


def test_a_pair_has_its_faces_one_click_away(loads, open_load):
    page = open_load(loads["pair"], unfold=False)
    assert page.locator("#load svg.load-unrolled").count() == 0 and page.locator("#load .load-scale").count() == 1
    for summary in page.locator("#load summary").all():
        summary.click()
    settled(page)
    assert page.locator("#load svg.load-unrolled").count() == 2
    assert page.locator("#load table").count() == 4


@pytest.mark.parametrize(("name", "width"), [("wanted", 1280), ("flat", 390), ("pair", 1280)])
def test_no_rule_of_accessibility_is_broken(loads, open_load, name, width):
    page = open_load(loads[name], width)
    page.add_script_tag(content=Path(os.environ["HOOPFIELD_AXE"]).read_text())
    found = page.evaluate("axe.run(document.querySelector('#load'), {resultTypes: ['violations']})")
    assert [(v["id"], v["nodes"][0]["html"][:200]) for v in found["violations"]] == []
    assert len(found["passes"]) > 10


def test_a_load_far_from_cubic_says_that_it_is_not_to_scale(loads, open_load):
    assert "not to one scale" in open_load(loads["tall"]).inner_text("#load figcaption")
    assert "not to one scale" not in open_load(loads["full"]).inner_text("#load figcaption")
