# SPDX-License-Identifier: BSD-3-Clause
"""Summary cards for notebooks: plain HTML that takes the colours of the page it stands on."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from ._core import face_sketch, short_caution

if TYPE_CHECKING:
    from .comparison import Comparison
    from .result import Result
    from .scenario import Scenario

_CARD = (
    "border: 1px solid rgba(128,128,128,.5); border-radius: 6px; padding: .6em 1em; "
    "display: inline-block; max-width: 60em"
)
_CELL = "text-align: {side}; padding: .15em .8em; border-bottom: 1px solid rgba(128,128,128,.25)"
_SMALL = "font-size: .85em; opacity: .8"


def table(header: list[str], rows: list[list[str]], caption: str = "") -> str:
    """Rows of ready text, the first column to the left and the others to the right."""

    def line(cells: list[str], tag: str) -> str:
        return (
            "<tr>"
            + "".join(
                f"<{tag} style='{_CELL.format(side='left' if i == 0 else 'right')}'>{escape(cell)}</{tag}>"
                for i, cell in enumerate(cells)
            )
            + "</tr>"
        )

    top = f"<caption style='text-align: left; {_SMALL}'>{escape(caption)}</caption>" if caption else ""
    return (
        f"<table style='border-collapse: collapse; margin: .4em 0'>{top}<thead>{line(header, 'th')}</thead>"
        f"<tbody>{''.join(line(row, 'td') for row in rows)}</tbody></table>"
    )


def faces_seen_from_above() -> str:
    """Which face is which: the sketch of the command and of the report, folded away until it is asked for."""
    return (
        f"<details style='{_SMALL}'><summary>Names of the faces, seen from above</summary>"
        f"<pre style='line-height: 1.1; overflow-x: auto'>{escape(face_sketch())}</pre></details>"
    )


def number(value: float) -> str:
    return f"{value:,.4g}" if abs(value) < 1e4 else f"{value:,.0f}"


def result_card(result: Result) -> str:
    end, stored = result.containment.end, result.containment.after_storage
    rows = []
    for name in result.stations:
        a, b = end[name], stored[name]
        kept = f"{b.hoop_tension / a.hoop_tension:.0%}" if a.hoop_tension > 0.0 else "-"
        rows.append(
            [
                f"{name} ({a.height:.2f} m)",
                number(a.hoop_tension),
                number(b.hoop_tension),
                kept,
                number(a.pull_force),
                number(b.pull_force),
                f"{a.film_layers:.1f}",
            ]
        )
    parts = [
        f"<b>{escape(result.scenario.title or 'Containment prediction')}</b><div>{escape(result.sentence)}</div>",
        table(
            [
                "Station",
                "Hoop tension at end, N/m",
                "after storage, N/m",
                "kept",
                "Pull force at end, N",
                "after storage, N",
                "Film layers",
            ],
            rows,
        ),
    ]
    path, film = result.film_path, result.film
    parts.append(
        f"<div style='{_SMALL}'>Film per load {film.mass * 1e3:.0f} g ({film.length_on_roll:.1f} m of roll), "
        f"stretch on the load {path.stretch_on_load:.0%}, {result.pattern.turns:.0f} turns in "
        f"{result.pattern.rotation_time:.0f} s. Least hoop tension after storage "
        f"{number(stored.least_hoop_tension)} N/m at {stored.least_height:.2f} m on the {stored.least_face} "
        f"face.</div>{faces_seen_from_above()}"
    )
    parts += [f"<div><b>{escape(w.severity)}</b>: {escape(w.text)}</div>" for w in result.warnings[:6]]
    if len(result.warnings) > 6:
        parts.append(f"<div style='{_SMALL}'>and {len(result.warnings) - 6} more in .warnings</div>")
    for target in result.targets:
        unit = {"pull_force": "N", "transit": "times what is asked"}.get(target.quantity, "N/m")
        parts.append(
            f"<div>Target {escape(target.station)}: {number(target.predicted)} of {number(target.wanted)} {unit} "
            f"&ndash; {'met' if target.met else '<b>missed</b>'}</div>"
        )
    parts.append(f"<div style='{_SMALL}'>hoopfield {escape(result.version)}. {escape(short_caution())}</div>")
    return f"<div style='{_CARD}'>{''.join(parts)}</div>"


def scenario_card(scenario: Scenario) -> str:
    rows = [
        [row["key"], row["text"] + (f" {row['unit']}" if row["unit"] else ""), row["origin"]]
        for row in scenario.inputs()
    ]
    given = [row for row in rows if row[2] != "assumed"]
    assumed = [row for row in rows if row[2] == "assumed"]
    return (
        f"<div style='{_CARD}'><b>{escape(scenario.title or 'Scenario')}</b>"
        f"{table(['Input', 'Value', 'Origin'], given)}<details><summary>{len(assumed)} assumed inputs</summary>"
        f"{table(['Input', 'Value', 'Origin'], assumed)}</details>"
        f"<div style='{_SMALL}'>{escape(short_caution())}</div></div>"
    )


def comparison_card(comparison: Comparison) -> str:
    rows: list[list[Any]] = []
    for name, unit, values in comparison.rows():
        cells = [f"{name}, {unit}" if unit else name]
        for i, value in enumerate(values):
            compared = i and values[0] and value == value and values[0] == values[0]  # NaN: a side has no such number
            change = f" ({value / values[0] - 1.0:+.0%})" if compared else ""
            cells.append("–" if value != value else number(value) + change)
        rows.append(cells)
    answer = "".join(f"<div>{escape(sentence)}</div>" for sentence in comparison.sentences)
    return (
        f"<div style='{_CARD}'>{answer}{table(['Quantity', *comparison.names], rows, 'change against the first')}"
        f"<div style='{_SMALL}'>{escape(short_caution())}</div></div>"
    )
