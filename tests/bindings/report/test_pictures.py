# SPDX-License-Identifier: BSD-3-Clause
"""What the pictures say and show: titles, differences, the axis of storage, letters that can be read."""

from __future__ import annotations

import json
import re

import pytest
from conftest import DRAWS, PAIR, ROOT, at, data_of, run, written

STATIONS = ("top", "middle", "bottom")
HISTORY = {0: 23, 72: 23, 73: 40, 96: 40, 97: 23}  # h: degC
WARM = "temperature = [" + ", ".join(f'["{hours} h", "{warmth} degC"]' for hours, warmth in HISTORY.items()) + "]"
SQUARE = (
    (r'^width = "1.0 m"', 'width = "1.2 m"'),
    (r"^stiffness_along_width = .*", 'stiffness_along_width = "200 kPa"'),
)


@pytest.fixture(scope="module")
def drawn(reports, tmp_path_factory):
    """The pages of every test and those that only pictures need; name -> HTML file."""
    folder = tmp_path_factory.mktemp("pictures")
    made = {name: html for name, (html, _) in reports.items()}

    def add(name, command, *files):
        made[name] = folder / f"{name}.html"
        run(command, *files, *(DRAWS if command == "predict" else ()), "--report", made[name])

    def changed(name, base, *changes):
        return written(folder / f"{name}.toml", base, *changes)

    weak = ((r"^force = .*", 'force = "40 N"'), (r"^prestretch = .*", 'prestretch = "230 %"'))
    warm = (r"^temperature = .*", WARM)
    add("warm week", "predict", changed("week", PAIR[0], warm))
    add("warm pair", "compare", changed("now", PAIR[0], warm), changed("weaker", PAIR[1], warm, *weak))
    add("equal faces", "predict", changed("equal", PAIR[0], *SQUARE, (r"^height = .*", 'height = "0.3 m"')))
    add("alike means", "predict", changed("alike", PAIR[0], *SQUARE))
    none = (r"^duration = .*", 'duration = "0 s"')
    add("no storage", "predict", changed("none", PAIR[0], none))
    add("pair without storage", "compare", changed("a", PAIR[0], none), changed("b", PAIR[1], none))
    add("measured third", "compare", *PAIR, PAIR[0].with_name("measured.toml"))
    add("measured first", "compare", PAIR[0].with_name("measured.toml"), PAIR[1])
    failing = changed("failing", PAIR[1], (r"^top_overhang = .*", 'top_overhang = "450 mm"'))
    add("failed second", "compare", PAIR[0], failing)
    add("other load", "compare", PAIR[0], changed("lower", PAIR[1], (r"^height = .*", 'height = "1.1 m"')))
    add("ripple", "predict", ROOT / "examples/02_span_ripple/scenario.toml")
    return made


def test_what_is_told_of_the_candidate_is_that_of_the_command(reports):
    html, files = reports["pair"]
    mine = json.loads(run("compare", *files, "--json").stdout)["sides"][1]["against_present"]
    mine = {
        name: found
        for name, found in mine.items()
        if name == "film.mass_kg" or re.fullmatch(r"containment\..*\.(top|middle|bottom)\.hoop_tension_N_per_m", name)
    }
    told = data_of(html)["comparison"]["sides"][1]["against_present"]
    assert len(mine) == 10 and [name for name in told if name in mine] == list(mine)
    for name, found in mine.items():
        assert told[name] == {
            "difference": found["difference"],
            "size": abs(found["difference"]),
            "words": found["words"].replace("_", " "),
            "low": found["difference_band"]["p05"],
            "high": found["difference_band"]["p95"],
            "change": pytest.approx(found["ratio"] - 1, abs=1e-12),
            "low_change": pytest.approx(found["band"]["p05"] - 1, abs=1e-12),
            "high_change": pytest.approx(found["band"]["p95"] - 1, abs=1e-12),
        }


def title(page, picture: str) -> str:
    return " ".join(page.inner_text(f"#{picture} h3").replace("\u00a0", " ").split())


def places(page, picture: str) -> dict[str, float]:
    """Numbers of a title: place in the data -> value."""
    return dict(
        page.eval_on_selector_all(f"#{picture} h3 data.q", "all => all.map(e => [e.dataset.place, Number(e.value)])")
    )


def told(data, candidate: int, moment: str) -> dict[str, dict]:
    all_told = data["comparison"]["sides"][candidate]["against_present"]
    return {s: all_told[f"containment.{moment}.{s}.hoop_tension_N_per_m"] for s in STATIONS}


def hoop(side, moment: str, station: str) -> float:
    return side["summary"]["containment"][moment][station]["hoop_tension_N_per_m"]


@pytest.mark.parametrize("name", ["pair", "warm pair", "pair without storage", "measured third", "other load"])
def test_titles_say_of_the_candidate_what_the_bands_allow(drawn, open_page, name):
    data, page = data_of(drawn[name]), open_page(drawn[name], unfold=False)
    now, candidate = data["sides"][:2]
    stored = candidate["detail"]["storage_s"] > 0
    found = told(data, 1, "after_storage" if stored else "end")
    for station, entry in found.items():
        moment = "after_storage" if stored else "end"
        difference = hoop(candidate, moment, station) - hoop(now, moment, station)
        assert entry["difference"] == pytest.approx(difference, rel=1e-9)
        assert entry["size"] == pytest.approx(abs(difference), rel=1e-9)
        assert entry["low"] <= entry["high"]
    words, numbers = title(page, "over-height"), places(page, "over-height")
    assert numbers and all(at(data, place) == value for place, value in numbers.items())
    sure = [s for s in STATIONS if found[s]["words"] in ("more", "less")]
    if not sure:
        assert words.startswith("At no station can the candidate be told from the present wrap")
        assert " less " not in words and " more " not in words
    for station in sorted(sure, key=lambda s: -found[s]["size"])[:2]:
        assert f"{found[station]['words']} at the {station}" in words
        assert any(
            place.startswith("comparison/sides/1/against_present/") and f".{station}." in place for place in numbers
        )
    unsure = [s for s in STATIONS if s not in sure]
    assert not any(f"less at the {s}" in words or f"more at the {s}" in words for s in unsure)
    assert ("cannot be told apart" in words) == bool(sure and unsure)
    if not stored:
        assert page.locator("#over-time").count() == 0
        return
    weakest = min(STATIONS, key=lambda s: hoop(candidate, "weakest", s))
    words, numbers = title(page, "over-time"), places(page, "over-time")
    assert f"weakest at the {weakest}" in words
    place = f"sides/1/summary/containment/weakest/{weakest}"
    assert {f"{place}/time_s", f"{place}/hoop_tension_N_per_m"} <= set(numbers)
    said = told(data, 1, "weakest")[weakest]["words"]
    assert ("cannot be told" in words) == (said == "not distinguishable")
    if said in ("more", "less"):
        assert f"{said} than the present wrap" in words


def test_without_draws_titles_say_that_there_are_no_bands(tmp_path, open_page):
    html = tmp_path / "single values.html"
    run("compare", *PAIR, "--report", html, "--band-samples", "0")
    page = open_page(html, unfold=False)
    assert "without bands" in title(page, "over-height") and "told" not in title(page, "over-time")


LINE = """(figure, name) => {
  // Points of a line in the numbers of its axes, read off the marks that a reader sees.
  const path = document.querySelector(`#${figure} .${name} path, #${figure} path.${name}`);
  const svg = path.closest("svg"), frame = svg.getBoundingClientRect();
  const marks = [...svg.querySelectorAll("text")].map(t => {
    const box = t.getBoundingClientRect();
    return {text: t.textContent.replaceAll(",", "").replace("\u2212", "-"), x: box.x + box.width / 2 - frame.x,
            y: box.y + box.height / 2 - frame.y, right: box.right - frame.x};
  }).filter(m => /^-?[0-9.]+$/.test(m.text)).map(m => ({...m, value: Number(m.text)}));
  const low = Math.max(...marks.map(m => m.y)), left = Math.min(...marks.map(m => m.right));
  const fit = (list, at) => {
    const [a, b] = [list[0], list[list.length - 1]];
    return v => a.value + (v - a[at]) * (b.value - a.value) / (b[at] - a[at]);
  };
  const across = marks.filter(m => Math.abs(m.y - low) < 3).sort((a, b) => a.x - b.x);
  const upward = marks.filter(m => Math.abs(m.y - low) >= 3).sort((a, b) => a.y - b.y);
  const points = [...path.getAttribute("d").matchAll(/(-?[0-9.]+),(-?[0-9.]+)/g)].map(m => [+m[1], +m[2]]);
  const x = across.length > 1 ? fit(across, "x") : v => v, y = upward.length > 1 ? fit(upward, "y") : v => v;
  return {x: points.map(p => x(p[0])), y: points.map(p => y(p[1])), pixels: points, width: frame.width};
}"""


def line(page, figure: str, name: str):
    return page.evaluate(f"([figure, name]) => ({LINE})(figure, name)", [figure, name])


@pytest.mark.parametrize("name", ["pair", "warm pair", "other load"])
def test_the_line_of_a_difference_is_candidate_minus_present(drawn, open_page, name):
    data, page = data_of(drawn[name]), open_page(drawn[name], unfold=False)
    now, candidate = (side["detail"] for side in data["sides"][:2])
    height = data["sides"][1]["versus_first"]["over_height"]
    found = line(page, "over-height", "difference")
    known = [
        (z, value) for z, value in zip(height["height_m"], height["after_storage_N_per_m"]["mean"]) if value is not None
    ]
    assert len(found["x"]) == len(known) > 20
    room = max(abs(value) for _, value in known)
    for x, y, (z, value) in zip(found["x"], found["y"], known):
        assert x == pytest.approx(value, abs=0.02 * room) and y == pytest.approx(z, abs=0.02)
    if name != "other load":
        plain = [
            b - a
            for a, b in zip(
                now["over_height"]["after_storage_N_per_m"]["mean"],
                candidate["over_height"]["after_storage_N_per_m"]["mean"],
            )
        ]
        assert [value for _, value in known] == pytest.approx(plain, rel=1e-6, abs=1e-6)
    # Both sides lie in one panel, in the two colours of every picture.
    strokes = page.eval_on_selector_all(
        "#over-height .panel:first-child svg g, #over-height .panel:first-child svg path",
        "all => all.map(e => e.getAttribute('stroke'))",
    )
    assert {"#b34a00", "#0067a3"} <= set(strokes)
    time = data["sides"][1]["versus_first"]["over_time"]
    weakest = min(STATIONS, key=lambda s: hoop(data["sides"][1], "weakest", s))
    found = line(page, "over-time", "difference")
    wanted = [value for value in time[f"{weakest}_N_per_m"] if value is not None]
    assert found["y"] == pytest.approx(wanted, abs=0.03 * max(abs(v) for v in wanted))


DAYS = """(name) => {
  const ring = document.querySelector(`#over-time .weakest circle`), svg = ring.closest("svg");
  const centre = e => { const b = e.getBoundingClientRect(); return b.x + b.width / 2; };
  const marks = [...svg.querySelectorAll("text")].map(t => [t.textContent, centre(t)]);
  const path = document.querySelector("#over-time .temperature path, #over-time path.temperature");
  return {
    rings: [...svg.querySelectorAll(".weakest circle")].map(centre),
    days: marks.filter(([t]) => /^[0-9]+ d$/.test(t)).map(([t, x]) => [parseInt(t), x]),
    hour: marks.find(([t]) => t === "1 h")[1],
    words: marks.map(([t]) => t).filter(t => t.includes("weakest")),
    warm: path && [...path.getAttribute("d").matchAll(/(-?[0-9.]+),(-?[0-9.]+)/g)].map(m => [+m[1], +m[2]]),
  };
}"""


@pytest.mark.parametrize("name", ["warm week", "warm pair"])
@pytest.mark.parametrize("width", [1280, 390])
def test_a_warm_day_and_the_weakest_moment_are_seen(drawn, open_page, name, width):
    data, page = data_of(drawn[name]), open_page(drawn[name], width, unfold=False)
    found = page.evaluate(f"({DAYS})()")
    (d0, x0), (d1, x1) = found["days"][0], found["days"][-1]
    day = (x1 - x0) / (d1 - d0)
    start, end = found["warm"][0][0], found["warm"][-1][0]
    highest = min(y for _, y in found["warm"])
    warm = [x for x, y in found["warm"] if y < highest + 1]
    assert max(warm) - min(warm) > 0.05 * (end - start)
    assert max(warm) - min(warm) == pytest.approx(day * 23 / 24, rel=0.03)
    assert x0 - found["hour"] == pytest.approx(day * (d0 - 1 / 24), abs=2)  # linear from the first hour on
    sides = data["sides"]
    wanted = []
    for side in sides:
        weakest = side["summary"]["containment"]["weakest"]
        shown = STATIONS if len(sides) == 1 else [min(STATIONS, key=lambda s: hoop(sides[-1], "weakest", s))]
        wanted += [weakest[s]["time_s"] / 86400 for s in shown]
    rings = [d0 + (x - x0) / day for x in found["rings"]]
    assert rings == pytest.approx(wanted, abs=0.06)
    for side, words in zip(sides, found["words"]):
        least = min(hoop(side, "weakest", s) for s in STATIONS)
        assert int(re.search(r"weakest: (\d+)", words).group(1)) == pytest.approx(least, abs=0.51)
        assert "after 4 days" in words
    assert "first hour is logarithmic" in page.inner_text("#over-time figcaption")


def test_a_steady_temperature_is_told_in_words(drawn, open_page):
    for name in ("full", "pair"):
        page = open_page(drawn[name], unfold=False)
        assert "23\u00a0\u00b0C throughout" in page.inner_text("#over-time figcaption")
        assert "Temperature" not in page.locator("#over-time").evaluate(
            "f => [...f.querySelectorAll('svg text')].map(t => t.textContent).join(' ')"
        )


def test_no_picture_is_flat_by_construction(drawn, open_page):
    for name in ("plain", "full", "pair", "many"):
        page = open_page(drawn[name], unfold=False)
        assert page.locator("#span").count() == 0
        sentence = page.locator(".picture-words", has_text="span force").inner_text()
        assert "throughout the turn" in sentence and "constant" in sentence
    page, data = open_page(drawn["ripple"], unfold=False), data_of(drawn["ripple"])
    swing = data["sides"][0]["detail"]["findings"]["span_swing"]
    assert swing > 0.005 and "sides/0/detail/findings/span_swing" in places(page, "span")


@pytest.mark.parametrize("name", ["equal faces", "alike means", "full", "pair", "warm pair", "no storage"])
def test_faces_are_called_the_same_only_when_they_are(drawn, open_page, name):
    data, page = data_of(drawn[name]), open_page(drawn[name], unfold=False)
    side = data["sides"][-1]
    findings, words = side["detail"]["findings"], title(page, "faces")
    means, more = abs(findings["face_difference"]), findings["least_place_more"]
    least = side["summary"]["containment"]["after_storage"]["least"]
    assert more == pytest.approx(findings["least_place_best_N_per_m"] / least["hoop_tension_N_per_m"] - 1, abs=1e-6)
    assert ("four faces carry the same" in words) == (means < 0.01 and more < 0.02)
    if more >= 0.02:
        assert f"the {findings['least_place_best_face']} face carries" in words
        assert f"more than the {least['face']}" in words
    if means >= 0.01:
        assert words.lower().count("on average over the height") == 1 and findings["weakest_face"] in words
    if name == "equal faces":
        assert means < 0.01 and more < 0.02
    if name == "alike means":
        assert means < 0.01 and more > 0.02 and "within one percent, but at the least place" in words


CROWDED = """() => {
  const out = [];
  for (const svg of document.querySelectorAll(".pictures .drawing svg")) {
    const frame = svg.getBoundingClientRect(), figure = svg.closest("figure").id;
    if (frame.width < 40) { out.push([figure, "no room"]); continue; }
    const texts = [...svg.querySelectorAll("text")].filter(t => t.textContent.trim() !== "");
    const boxes = texts.map(t => t.getBoundingClientRect());
    boxes.forEach((a, i) => {
      if (a.left < frame.left - 1 || a.right > frame.right + 1 || a.top < frame.top - 1 || a.bottom > frame.bottom + 1)
        out.push([figure, "cut", texts[i].textContent]);
      boxes.forEach((b, k) => {
        if (k > i && a.left + 1 < b.right && b.left + 1 < a.right && a.top + 2 < b.bottom && b.top + 2 < a.bottom)
          out.push([figure, "overlap", texts[i].textContent, texts[k].textContent]);
      });
    });
  }
  return out;
}"""
PAGES = ["plain", "full", "warned", "pair", "many", "warm week", "warm pair", "measured third", "measured first"]
PAGES += ["no storage", "pair without storage", "failed second", "other load", "ripple", "equal faces"]


@pytest.mark.parametrize("width", [1280, 768, 390, "paper"])
def test_letters_are_whole_and_apart(drawn, open_page, width):
    crowded = {}
    for name in PAGES:
        page = open_page(drawn[name], 1280 if width == "paper" else width, unfold=False)
        for units in ("metric", "inch-pound"):
            page.locator(f"input[value={units}]").check()
            if width == "paper":
                page.evaluate("dispatchEvent(new Event('beforeprint'))")
            page.wait_for_timeout(60)
            if found := page.evaluate(CROWDED):
                crowded[name, units] = found
            if width == "paper":
                page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert crowded == {}


LINES = """() => [...document.querySelectorAll(".pictures figcaption")].map(c => {
  const rows = c.getBoundingClientRect().height / parseFloat(getComputedStyle(c).lineHeight);
  return [c.closest("figure").id, Math.round(rows)];
})"""
MAIN = {"plain": 1, "full": 1, "warned": 1, "warm week": 1, "pair": 2, "warm pair": 2, "measured third": 2, "many": 2}


@pytest.mark.parametrize("name", sorted(MAIN))
def test_captions_are_short_and_the_pictures_keep_to_their_sheets(drawn, open_page, name):
    page = open_page(drawn[name], unfold=False)
    for paper in (False, True):
        if paper:
            page.evaluate("dispatchEvent(new Event('beforeprint'))")
            page.emulate_media(media="print")
        assert [c for c in page.evaluate(LINES) if c[1] > 3] == []
    # What stands on the sheets, without what goes to the appendix.
    shown = {"over-height", "over-time"} if name == "many" else {"over-height", "over-time", "faces"}
    shown |= {"build-up"} if MAIN[name] == 1 else set()
    page.evaluate(
        "keep => document.querySelectorAll('.pictures > *').forEach(f => { if (!keep.includes(f.id)) f.remove() })",
        sorted(shown),
    )
    tall = page.locator("#pictures .pictures").bounding_box()["height"]
    assert tall < MAIN[name] * 266 / 25.4 * 96 - 40  # A4 less its margins and the heading
    assert page.locator("#pictures .pictures").bounding_box()["width"] <= 182 / 25.4 * 96 + 1


def test_bars_begin_at_zero(drawn, open_page):
    for name in ("full", "pair", "many"):
        page = open_page(drawn[name], unfold=False)
        marks = page.eval_on_selector_all("#zones .panel:first-child svg text", "all => all.map(t => t.textContent)")
        numbers = [float(m.replace(",", "")) for m in marks if re.fullmatch(r"[0-9.,]+", m)]
        assert min(numbers) == 0 and len(numbers) > 1


def test_sides_without_a_prediction_leave_the_others_their_pictures(drawn, open_page):
    page = open_page(drawn["failed second"], unfold=False)
    assert page.locator("#over-height .difference").count() == 0
    assert title(page, "over-height").startswith("present: After storage")
    page = open_page(drawn["measured first"], unfold=False)
    assert title(page, "over-height").startswith("candidate: After storage")
    page = open_page(drawn["measured third"], unfold=False)
    assert "Readings are pull forces" in page.inner_text("#over-height figcaption")
    assert page.locator("#over-height svg").count() - page.locator("#over-height .keys svg").count() == 3
    page = open_page(drawn["no storage"], unfold=False)
    assert page.locator("#over-time").count() == 0
    assert "No storage is set" in page.inner_text(".pictures")
    assert title(page, "over-height").startswith("When wrapping ends")


def test_every_picture_has_its_numbers_and_words_instead(drawn, open_page):
    for name in ("full", "pair", "many"):
        page = open_page(drawn[name], unfold=name != "many")
        figures = page.locator(".pictures > figure")
        assert figures.count() >= 6 - (name == "many")
        for svg in page.locator(".pictures .drawing svg").all():
            assert len(svg.get_attribute("aria-label")) > 20
        if name != "many":
            for figure in figures.all():
                assert figure.locator("details table tbody tr").count() > 2
                assert figure.locator("details data.q").count() > 3
