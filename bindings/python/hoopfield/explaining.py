# SPDX-License-Identifier: BSD-3-Clause
"""What a key means and how to measure it."""

from __future__ import annotations

from . import _core

__all__ = ["Explanation", "explain"]


class Explanation:
    """Page about a key; shows itself. ``parameters`` holds the declarations it is about."""

    def __init__(self, key: str) -> None:
        self.key = key
        self.text = _core.explain_text(key)
        self.parameters = _core.find_parameters(key) if key else []

    def __reduce__(self) -> tuple:
        return Explanation, (self.key,)

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return self.text.rstrip("\n")

    def _repr_html_(self) -> str:
        import html

        return f"<pre style='font-size: 0.9em'>{html.escape(self.text)}</pre>"


def explain(key: str = "") -> Explanation:
    """Meaning, unit, bounds, default and how to measure an input or output, with the caution of doing so.

    ``key`` may be a whole key ("load.creep_per_decade"), its last part ("pitch"), a table ("load"), a word to search
    for in keys and descriptions ("tension"), or empty for a list of all. A mistyped word finds what the nearest one
    does. Raises InputError naming the nearest keys when nothing is found.
    """
    return Explanation(key)
