# SPDX-License-Identifier: BSD-3-Clause
"""The report page before a reader's eyes: in the notebook, or in the web browser."""

from __future__ import annotations

import shutil
import sys
import tempfile
import warnings
import webbrowser
from collections.abc import Callable
from html import escape
from pathlib import Path

from .errors import IoError


def show(write: Callable[[Path], None], open_it: bool) -> Path:
    """Lets ``write`` make the page in a new folder for temporary files and shows it. Returns its path.

    Nothing stays behind when the page cannot be written. A page that is written is never lost: where there is neither
    notebook nor browser, a warning names the file.
    """
    try:
        folder = Path(tempfile.mkdtemp(prefix="hoopfield-"))
    except OSError as error:
        raise IoError(f"show: no folder for temporary files: {error}") from error
    path = folder / "report.html"
    try:
        write(path)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    if open_it and not (_in_notebook(path) or _in_browser(path)):
        warnings.warn(f"no web browser could be started; the report is {path}", stacklevel=3)
    return path


def _in_notebook(path: Path) -> bool:
    """Displays the page below the cell, in a frame that holds all of it. False outside a notebook."""
    ipython = sys.modules.get("IPython")  # in a notebook it is there already
    shell = ipython.get_ipython() if ipython is not None else None
    if getattr(shell, "kernel", None) is None:
        return False
    try:
        from IPython.display import HTML, display

        page = escape(path.read_text(encoding="utf-8"), quote=True)
        # Scripts of the page work in a frame of their own, apart from the notebook.
        display(
            HTML(
                f'<div><iframe title="Wrap report" sandbox="allow-scripts allow-modals allow-downloads" '
                f'style="width: 100%; height: 45em; border: 1px solid rgba(128,128,128,.5)" srcdoc="{page}">'
                "</iframe></div>"
            )
        )
    except Exception:  # noqa: BLE001 - whatever a front end raises, the file can still be opened
        return False
    return True


def _in_browser(path: Path) -> bool:
    try:
        return webbrowser.open(path.as_uri())
    except (webbrowser.Error, OSError):
        return False
