# SPDX-License-Identifier: BSD-3-Clause
"""HDPE at three rates: flow stress, relaxation, unloading and creep predicted from few curves, and what Y means."""

import math
import pathlib
import tomllib

import common

FOLDER = pathlib.Path(__file__).resolve().parent
LIMITS = common.Limits(FOLDER)
BOLTZMANN, ROOM = 1.380649e-23, 296.15  # J/K, exact; K, the source says room temperature
FLOW_STRAIN, TOP_STRAIN = 0.08, 0.139  # true
RATES = ("1e-3", "1e-4", "1e-5")  # 1/s
FIRST_SLOPE = 85.0  # s; the relaxation is straight in the logarithm of time from here on


def percent(true_strain):
    """Stretch of the film test at a true strain."""
    return f"{100.0 * math.expm1(true_strain):.9g} %"


def rows_of(file, key, value):
    """Rows of a CSV file, as tuples of the other columns, where one column has a value."""
    data = common.read_columns(FOLDER / file)
    others = [column for name, column in data.items() if name != key]
    return [tuple(column[i] for column in others) for i, v in enumerate(data[key]) if v == float(value)]


def measured_stress(rate, strain):
    points = rows_of("loading.csv", "rate_1_s", rate)
    return common.interpolated([p[0] for p in points], [p[1] for p in points], strain)


def true_curve(command, film, kind, **options):
    """Time (s), true strain and true stress (MPa) of a film test."""
    curve = common.film_test(command, FOLDER / film, kind, **options)["curve"]
    stretch = [1.0 + 0.01 * s for s in curve["stretch_percent"]]
    stress = [s * l for s, l in zip(curve["stress_MPa"], stretch)]
    return curve["time_s"], [math.log(l) for l in stretch], stress


def loaded_stress(command, film, rate, strain):
    """True stress when a true strain is reached."""
    return true_curve(command, film, "tensile", rate=f"{rate} 1/s", stretch=percent(strain))[2][-1]


def relaxed(command, film, strain):
    """Predicted true stress at the measured times of one relaxation, loaded at 1e-4 1/s, with the measured ones."""
    points = rows_of("relaxation.csv", "strain_percent", 100.0 * strain)
    hold = f"{points[-1][0] * 1.001:.6g} s"
    time, _, stress = true_curve(command, film, "relaxation", rate="1e-4 1/s", stretch=percent(strain), hold=hold)
    loaded = math.expm1(strain) / 1e-4
    later = [i for i, t in enumerate(time) if t - loaded > 1e-3]
    logs, values = [math.log(time[i] - loaded) for i in later], [stress[i] for i in later]
    return points, [common.interpolated(logs, values, math.log(t)) for t, _ in points]


def decade_slope(points, values):
    """Fall of stress per decade of time, MPa."""
    late = [(math.log10(t), v) for (t, _), v in zip(points, values) if t >= FIRST_SLOPE]
    return -common.slope([x for x, _ in late], [v for _, v in late])


def per_decade(stresses):
    """Rise of stresses at RATES with a decade of rate, MPa."""
    return common.slope([math.log10(float(r)) for r in RATES], stresses)


def relaxation_rows(command, film, strain, slope_key, how):
    points, ours = relaxed(command, film, strain)
    title = f"{film[:-5]}: relaxation at {100 * strain:g} %"
    measured = decade_slope(points, [s for _, s in points])
    rms = common.root_mean_square([p - s for p, (_, s) in zip(ours, points)])
    last = points[-1]
    return [
        LIMITS.row(slope_key, f"{title}, MPa a decade ({how})", measured, decade_slope(points, ours), "MPa"),
        common.information(f"{title}, after {last[0]:.0f} s ({how})", last[1], ours[-1], "MPa"),
        common.information(f"{title}, rms ({how})", None, rms, "MPa"),
    ]


def flow_rows(command, film, hows, decade_key, decade_how):
    rows, reference, ours = [], [], []
    for rate, how in zip(RATES, hows):
        reference.append(measured_stress(rate, FLOW_STRAIN))
        ours.append(loaded_stress(command, film, rate, FLOW_STRAIN))
        name = f"{film[:-5]}: flow stress at {rate} 1/s ({how})"
        rows.append(LIMITS.row("flow", name, reference[-1], ours[-1], "MPa"))
    name = f"{film[:-5]}: flow stress, MPa a decade of rate ({decade_how})"
    return [*rows, LIMITS.row(decade_key, name, per_decade(reference), per_decade(ours), "MPa")]


def late_rows(command):
    """What the film from three rates says past the peak, on unloading and in creep."""
    film, rows = "rates.toml", []
    reference, ours = measured_stress("1e-3", TOP_STRAIN), loaded_stress(command, film, "1e-3", TOP_STRAIN)
    rows.append(LIMITS.row("late", "rates: stress at strain 0.139, 1e-3 1/s (predicted)", reference, ours, "MPa"))
    for rate in RATES:
        left = rows_of("unloading.csv", "rate_1_s", rate)[0][0]
        _, strain, _ = true_curve(command, film, "cycle", rate=f"{rate} 1/s", stretch=percent(TOP_STRAIN), cycles="1")
        rows.append(
            LIMITS.row("left", f"rates: strain left on unloading at {rate} 1/s (predicted)", left, strain[-1], "")
        )
    for stress in (18, 12, 8):
        points = rows_of("creep.csv", "stress_MPa", stress)
        hold = f"{points[-1][0]:g} s"
        _, strain, nominal = true_curve(command, film, "creep", rate="1e-4 1/s", stress=f"{stress} MPa", hold=hold)
        start = next(i for i, (s, e) in enumerate(zip(nominal, strain)) if s / math.exp(e) > stress * (1.0 - 1e-6))
        title = f"rates: creep at {stress} MPa, strain"
        rows.append(common.information(f"{title} at its start (predicted)", points[0][1], strain[start], ""))
        key = f"creep_{stress}"
        rows.append(LIMITS.row(key, f"{title} after {hold} (predicted)", points[-1][1], strain[-1], ""))
    return rows


def branch_scales(path):
    """Y of the branches of a film file, MPa."""
    with open(path, "rb") as handle:
        return [float(b["flow_stress"].split()[0]) for b in tomllib.load(handle)["branch"]]


def volume(scale):
    """kT over a stress in MPa, in nm^3."""
    return BOLTZMANN * ROOM / (scale * 1e6) * 1e27


def volume_rows():
    """Activation volume of the measured flow stress, and of our films branch by branch and as a whole."""
    decade = per_decade([measured_stress(r, FLOW_STRAIN) for r in RATES])
    scales = [branch_scales(path) for path in sorted(common.FILMS.glob("*.toml"))]
    single = [volume(y) for film in scales for y in film]
    whole = [volume(sum(film)) for film in scales]
    measured = volume(decade / math.log(10.0))
    return [
        common.information("measured activation volume, kT over that per unit of ln rate", None, measured, "nm^3"),
        common.information(
            "our illustrative films, kT/Y of single branches", None, f"{min(single):.3g} to {max(single):.3g}", "nm^3"
        ),
        common.information(
            "our illustrative films, kT over the sum of Y", measured, f"{min(whole):.3g} to {max(whole):.3g}", "nm^3"
        ),
    ]


def run(command):
    rows = flow_rows(command, "one_rate.toml", ("predicted", "fitted", "predicted"), "decade_one_rate", "predicted")
    rows += relaxation_rows(command, "one_rate.toml", 0.049, "slope", "fitted")
    rows += relaxation_rows(command, "one_rate.toml", 0.095, "slope_one_rate", "predicted")
    rows += flow_rows(command, "rates.toml", ("fitted",) * 3, "decade", "fitted")
    rows += relaxation_rows(command, "rates.toml", 0.049, "slope", "predicted")
    rows += relaxation_rows(command, "rates.toml", 0.095, "slope", "predicted")
    rows += relaxation_rows(command, "rates.toml", 0.02, "slope_early", "predicted")
    return rows + late_rows(command) + volume_rows()
