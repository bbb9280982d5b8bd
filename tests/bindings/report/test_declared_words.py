# SPDX-License-Identifier: BSD-3-Clause
"""Names, units and sentences of outputs and inputs are declared once and reach the page in its data: its TypeScript
types none of them again."""

from __future__ import annotations

import re

from conftest import ROOT, data_of

SOURCES = sorted((ROOT / "bindings/web/src").rglob("*.ts"))
LITERAL = re.compile(r'"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`')
COMMENT = re.compile(r"/\*.*?\*/|(?<![:\"])//[^\n]*", re.DOTALL)
# Units that are words or names of elements as well, or that durations are told in.
WORDS_TOO = {"in", "h", "s", "m", "g", "min", "deg"}


def literals(source: str) -> list[str]:
    """The texts of a source as a reader sees them; what a template puts in becomes a mark no name holds."""
    found = []
    for quoted, template in LITERAL.findall(COMMENT.sub("", source)):
        text = quoted or re.sub(r"\$\{[^}]*\}", "\0", template)
        found.append(re.sub(r"\\u([0-9a-fA-F]{4})", lambda m: chr(int(m.group(1), 16)), text).strip())
    return found


def declared(data: dict) -> tuple[set[str], set[str]]:
    """Names (whole, and up to the comma or colon that explains them) and units."""
    labels = [output["label"] for output in data["outputs"].values()] + list(data["input_labels"].values())
    names = {part for label in labels for part in (label, re.split("[,:]", label)[0])}
    shown = [*data["outputs"].values(), *data["kinds"].values()]
    units = {one[style]["unit"] for one in shown for style in ("metric", "inch_pound")}
    return names, units - {""} - WORDS_TOO


def repeats(text: str, names: set[str], units: set[str], reference: str) -> str:
    """What a literal says of a declaration again; empty for a literal of its own."""
    head = text.split(",")[0].strip()
    name = head[:1].lower() + head[1:]
    # A name of one word is an ordinary word unless it stands as a heading.
    if name in names and (" " in name or head != name):
        return f"the name {name!r}"
    if (len(text) > 1 and text in units) or any(text.endswith(f", {unit}") for unit in units):
        return f"the unit of {text!r}"
    if len(text.split()) >= 5 and text.rstrip(".") in reference:
        return f"the sentence {text!r}"
    return ""


def test_no_declared_word_is_typed_again(reports):
    names, units = declared(data_of(reports["full"][0]))
    assert len(names) > 100 and {"N/m", "lbf/in", "\u00b0C", "per kg"} <= units
    reference = " ".join((ROOT / "models/parameters/KEYS.md").read_text(encoding="utf-8").split())
    assert len(SOURCES) > 8
    again = [
        f"{path.name}: {said}"
        for path in SOURCES
        for text in literals(path.read_text(encoding="utf-8"))
        if (said := repeats(text, names, units, reference))
    ]
    assert again == []
    # What the test looks for, and what it lets pass.
    for typed in (
        '["film.mass_kg", "Film per load", "mass"]',
        '{head: "Turns"}',
        '{head: ["Hoop tension, end of wrapping", unit("tension")]}',
        '{label: `Time of rotation, ${unit}`}',
        '{label: "Width, mm"}',
        '{label: "Rotation, \\u00b0"}',
        'h("p", {}, "Mass of film per load.")',
        'h("p", {}, "Full turns at the bottom before the climb.")',
    ):
        assert any(repeats(text, names, units, reference) for text in literals(typed)), typed
    for own in (
        'text(`${place}/unit`) === "N" ? "force" : "tension"',
        'h("p", {}, "Hoop tension is the force of all film layers per height of load.")',
        '["prestretch", "pre-stretch"], // "Film per load"',
        'q(`${side.place}/summary/film/mass_kg`, "output:film/mass_kg")',
    ):
        assert not any(repeats(text, names, units, reference) for text in literals(own)), own
