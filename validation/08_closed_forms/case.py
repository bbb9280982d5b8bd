# SPDX-License-Identifier: BSD-3-Clause
"""Closed forms of the film law through the film test, and the verdict of the command's own self-test."""

import math
import pathlib
import tempfile

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)


def film_text(network, modulus, rate, flow_stress):
    """Gaussian network (very long chains) and one Eyring branch, flow stress not growing with stretch. MPa, 1/s."""
    return f"""name = "closed form"
law = "eyring-network"
density = "920 kg/m^3"
neck_in = 0.5
[network]
modulus = "{network} MPa"
stretch_limit = 1e9
[hardening]
viscous_share = 0
[[branch]]
modulus = "{modulus} MPa"
reference_rate = "{rate} 1/s"
flow_stress = "{flow_stress} MPa"
activation_energy = "150 kJ/mol"
[provenance]
source = "closed form of a textbook"
illustrative = true
"""


def stress(command, film, kind, **options):
    """Nominal stress at the end of a test, MPa, and the stretch (length over length on the roll)."""
    curve = common.film_test(command, film, kind, **options)["curve"]
    return curve["stress_MPa"][-1], 1.0 + curve["stretch_percent"][-1] / 100.0


def relaxation_rows(command, film):
    """E = 150, Y = 1 MPa, r = 1e-7 1/s: exact logarithmic relaxation at fixed stretch, against time."""
    modulus, flow, rate = 150.0, 1.0, 1e-7
    strain = 5.0 + 1.0 / 3.0  # percent
    elastic = modulus * math.log1p(strain / 100.0)  # true stress at once
    rows = []
    for time in (60.0, 3600.0, 86400.0):
        reduced = math.tanh(elastic / (2 * flow)) * math.exp(-modulus * rate * time / flow)
        wanted = 2 * flow * math.atanh(reduced)
        nominal, stretch = stress(
            command, film, "relaxation", stretch=f"{strain:.12g} %", rate="10000 1/s", hold=f"{time:g} s"
        )
        name = f"relaxation of one Eyring branch, true stress after {time:g} s"
        rows.append(LIMITS.row("film_law", name, wanted, nominal * stretch, "MPa"))
    return rows


def flow_rows(command, film, exponent, factor, rate_factor, name):
    """Haward-Thackray: P = (Y_flow + G g(l))/l with the flow stress of the branch at the current log rate."""
    network, flow, reference = 1.2, 0.35, 1e-9
    rows = []
    for stretch in (2.0, 3.0, 4.0):
        log_rate = 1.0 / stretch  # grips at 1 1/s on the starting length
        flow_stress = factor * flow * math.asinh(rate_factor * log_rate / reference)
        wanted = (flow_stress + network * (stretch**2 - stretch ** (2 * exponent - 2))) / stretch
        strain = f"{100 * (stretch - 1):g} %"
        found, _ = stress(command, film, "tensile", stretch=strain, rate="1 1/s", width_exponent=exponent)
        rows.append(LIMITS.row("film_law", f"{name}, nominal stress at stretch {stretch:g}", wanted, found, "MPa"))
    return rows


def run(command):
    with tempfile.TemporaryDirectory() as folder:
        slow, drawn = pathlib.Path(folder) / "slow.toml", pathlib.Path(folder) / "drawn.toml"
        slow.write_text(film_text(1e-6, 150.0, 1e-7, 1.0), encoding="utf-8")
        drawn.write_text(film_text(1.2, 5000.0, 1e-9, 0.35), encoding="utf-8")
        rows = relaxation_rows(command, slow)
        rows += flow_rows(command, drawn, 0.5, 1.0, 1.0, "flow and hardening, free width")
        # Width held: m/c = 2/sqrt(3) of the equivalent stress, at an equivalent rate of c = 2/sqrt(3) of the log rate.
        rows += flow_rows(command, drawn, 0.0, 2 / math.sqrt(3), 2 / math.sqrt(3), "flow and hardening, width held")
    code = common.finished(command, "selftest").returncode
    rows.append(LIMITS.condition("selftest", "the command's self-test", "exit 0", f"exit {code}", code == 0))
    rows.append(
        common.not_comparable(
            "capstan relation at the corners",
            "neither the self-test nor a prediction at constant tension shows a force ratio over a corner",
        )
    )
    return rows
