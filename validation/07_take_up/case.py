# SPDX-License-Identifier: BSD-3-Clause
"""Take-up speed over one settled turn against the support function of a rectangle."""

import math
import pathlib
import re
import tempfile

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
SCENARIO = (FOLDER / "scenario.toml").read_text(encoding="utf-8")
SPEED = 12 * 2 * math.pi / 60  # rad/s
PLANS = [(1.2, 1.0, 1.5), (1.2, 1.0, 3.0), (1.2, 0.8, 1.5), (1.1, 1.1, 1.5)]  # length, width, distance of the outlet, m


def support_moments(a, b):
    """Mean, greatest, least and coefficient of variation of h for a rectangle a x b turning about its centre."""
    mean = (a + b) / math.pi
    mean_square = (a * a + b * b) / 8 + a * b / (2 * math.pi)
    return mean, math.hypot(a, b) / 2, min(a, b) / 2, math.sqrt(mean_square / mean**2 - 1)


def span_table(command, a, b, distance, control):
    """Angle (rad) and arm (m) over a turn; empty when the command reports no take-up for this tension control."""
    text = SCENARIO.replace("@CONTROL@", control)
    for mark, value in (("@LENGTH@", a), ("@WIDTH@", b), ("@DISTANCE@", distance)):
        text = text.replace(mark, f"{value} m")
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        (path / "general-film.toml").write_bytes((common.FILMS / "general-film.toml").read_bytes())
        (path / "scenario.toml").write_text(text, encoding="utf-8")
        common.run_command(command, "predict", path / "scenario.toml", "--csv", path / "tables")
        span = common.read_columns(path / "tables" / "span.csv")
    return span["angle_rad"], [v / SPEED for v in span["take_up_speed_m_per_s"]]


def computed_moments(command, a, b, distance, control):
    angle, arm = span_table(command, a, b, distance, control)
    # One turn: close the sampled period with its own first point, then the trapezoidal rule.
    angle, arm = angle + [angle[0] + 2 * math.pi], arm + [arm[0]]
    if angle[-1] - angle[-2] < 1e-9:  # the table already ends on the first point
        angle, arm = angle[:-1], arm[:-1]
    weights = [(angle[i + 1] - angle[i]) / 2 for i in range(len(angle) - 1)]
    mean = sum(w * (arm[i] + arm[i + 1]) for i, w in enumerate(weights)) / (2 * math.pi)
    square = sum(w * (arm[i] ** 2 + arm[i + 1] ** 2) for i, w in enumerate(weights)) / (2 * math.pi)
    return mean, max(arm), min(arm), math.sqrt(square / mean**2 - 1)


def reported_control(command):
    """Tension control under which take-up is reported (take-up itself does not depend on it), or None."""
    for control in ("constant", "follow"):
        try:
            if len(span_table(command, *PLANS[0], control)[0]) >= 30:
                return control
        except common.CommandFailed:
            continue  # not every build knows every control
    return None


def selftest_rows(command):
    """Without a span table only the self-test's turn can be read: 1.2 m x 1.0 m, corners rounded with 20 mm."""
    text = common.finished(command, "selftest").stdout
    found = re.search(r"taken up in one turn.*\n.*\n.*found ([0-9.]+) m", text)
    if not found:
        raise common.NotComparable("neither a span table nor a take-up line in the self-test")
    wanted = 2 * (1.2 + 1.0) - (8 - 2 * math.pi) * 0.02
    return [
        LIMITS.row("mean", "self-test, outlet and load off axis: perimeter", wanted, float(found.group(1)), "m"),
        LIMITS.not_comparable(
            ["extreme", "spread"], "greatest and least arm, spread", "a prediction reports no take-up over a turn"
        ),
    ]


def run(command):
    control = reported_control(command)
    if control is None:
        return selftest_rows(command)
    rows = []
    for a, b, distance in PLANS:
        name = f"{a} x {b} m, outlet at {distance} m: "
        wanted, found = support_moments(a, b), computed_moments(command, a, b, distance, control)
        rows += [
            LIMITS.row("mean", name + "perimeter", 2 * math.pi * wanted[0], 2 * math.pi * found[0], "m"),
            LIMITS.row("extreme", name + "greatest arm", wanted[1], found[1], "m"),
            LIMITS.row("extreme", name + "least arm", wanted[2], found[2], "m"),
            LIMITS.row("spread", name + "coefficient of variation", wanted[3], found[3], ""),
        ]
    return rows
