# SPDX-License-Identifier: BSD-3-Clause
"""The example runs, and its README tells what its pages say."""

from __future__ import annotations

import os
import subprocess

from conftest import ROOT, data_of


def test_example(tmp_path, open_page):
    done = subprocess.run(
        ["bash", ROOT / "examples/11_report/report.sh", tmp_path],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"HOOPFIELD": os.environ["HOOPFIELD_COMMAND"]},
    )
    assert done.stdout.count(".html") == 2
    one, both = tmp_path / "one_wrap.html", tmp_path / "present_and_candidate.html"
    side = data_of(one)["sides"][0]
    assert {t["station"]: t["met"] for t in side["summary"]["targets"]} == {
        "top": True,
        "middle": False,
        "bottom": True,
    }
    layers = {s: side["summary"]["containment"]["end"][s]["film_layers"] for s in ("top", "middle", "bottom")}
    assert layers["top"] - layers["middle"] > 0.8 and layers["bottom"] - layers["middle"] > 0.8
    assert "week" in open_page(one).inner_text("#inputs")
    assert open_page(both).get_attribute("html", "data-units") == "inch-pound"
