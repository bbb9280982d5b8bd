# SPDX-License-Identifier: BSD-3-Clause
"""The event-driven stack in transit against closed forms, limits and its own record (``transit_reference.py``)."""

import json

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from transit_mesh import USUAL, law
from transit_model import bed, pulses
from transit_model.film import Film, first_stiffness, hyperbola
from transit_model.motion import Motion
from transit_model.pulses import GN
from transit_model.stack import Stack
from transit_reference import CASES, READINGS, RECORD, answers

WRAP = dict(tension=600.0, ratio=11.0, friction=0.3)


def block(mass=600.0, static=0.45, kinetic=0.45, b=1.2, h=1.6, **more):
    return Stack((h,), (mass,), b, (static,), (kinetic,), **(dict(shear=1e8, turning=False) | more))


def greatest_slip(stack, pulse, end, tolerance=1e-6, slider="tier"):
    return Motion(stack, pulse, tolerance, slider).run(end).part("slip", stack.count).max()


def test_stays_at_rest():
    stack = CASES["eight tiers, film locked to the pallet, trapezoid 0.5 gn"][0]
    history = Motion(stack, pulses.Pulse(lambda t: 0.0)).run(0.5)
    assert not np.any(history.state) and not history.events


@pytest.mark.parametrize("film", [None, Film.around((1.6,), 1.2, on_pallet=0.1, **WRAP)])
def test_first_slip_is_at_mu_g_with_or_without_film(film):
    motion = Motion(block(film=film, shear=1e7), pulses.ramp(1.0), 1e-8)
    motion.run(6.0, stop=lambda time, state: motion.history.events)
    assert motion.history.events[0][0] / GN == pytest.approx(0.45, abs=1e-6)


@pytest.mark.parametrize("slider", ["tier", "whole", "spring"])
def test_half_sine_on_a_rigid_block(slider):
    height, lasting, static, kinetic = 0.8 * GN, 0.4, 0.4, 0.3
    start = lasting / np.pi * np.arcsin(static * GN / height)
    speed = lambda t: (
        height * lasting / np.pi * (np.cos(np.pi * start / lasting) - np.cos(np.pi * t / lasting))
        - (kinetic * GN * (t - start))
    )
    after = speed(lasting) ** 2 / (2 * kinetic * GN)
    closed = quad(speed, start, lasting)[0] + after
    assert closed == pytest.approx(0.3211, abs=5e-5)
    found = greatest_slip(block(static=static, kinetic=kinetic), pulses.half_sine(height, lasting), 1.2, slider=slider)
    assert found == pytest.approx(closed, rel=1e-3)  # the goods' shear is 1e8 N/m; at 1e9 rel = 1e-4


def test_rectangle_on_a_block_that_hardly_gives():
    """The blow makes the goods sway: slip exceeds the rigid one by an amount that falls with the root of 1/k."""
    closed = (0.5 - 0.3) * GN * 0.3**2 / 2 * 0.5 / 0.3
    assert closed == pytest.approx(0.1471, abs=5e-5)
    found = [
        greatest_slip(block(static=0.4, kinetic=0.3, shear=shear), pulses.rectangle(0.5 * GN, 0.3), 0.8)
        for shear in (2.5e7, 1e8)
    ]
    assert 2 * found[1] - found[0] == pytest.approx(closed, rel=2e-3)


@pytest.mark.parametrize("clamps", [True, False])
def test_linear_film_stops_a_sudden_start(clamps):
    mass, kinetic, k, b, tension = 300.0, 0.3, 23000.0, 1.2, 600.0
    one = lambda value: np.array([value])
    film = Film(one(k), one(np.inf), one(np.inf if clamps else 0.0), one(tension), one(0.0), b)
    need = (0.45 - kinetic) * GN * mass
    clamp = kinetic * k**2 / (6 * b * tension) if clamps else 0.0
    closed = brentq(lambda s: k * s / 2 + clamp * s**2 - need, 0, 1)
    assert closed == pytest.approx(0.0346 if clamps else 0.0384, abs=5e-5)
    found = greatest_slip(block(mass, kinetic, kinetic, film=film), pulses.sudden(0.45 * GN), 0.4)
    assert found == pytest.approx(closed, rel=1e-3)


def acceleration_at_rest(stack, turn):
    """a at which one block that cannot slip rests at ``turn``: ``m a h/2 = M - th g h m/2 - P d/2 + P th h/4``."""
    load = stack.weight
    d = brentq(lambda d: stack.k[0] * d - (rest_shear(stack, turn, d) + load[0] * turn / 2), -0.1, 0.1)
    return rest_shear(stack, turn, d) / stack.m[0]


def rest_shear(stack, turn, d):
    """Q of a block at rest."""
    width = stack.bearing * stack.b - abs(d)
    couple = bed.moment(stack.weight, width, stack.kw, np.array([turn]))[0]
    leaning = turn * stack.h[0] * stack.gravity * stack.m[0] / 2 + stack.weight[0] * d / 2
    return 2 / stack.h[0] * (couple - leaning)


def tipping(stack):
    turns = np.geomspace(1e-6, 0.1, 400)
    return max(acceleration_at_rest(stack, turn) for turn in turns)


def test_tips_at_b_over_h_with_the_third_root_of_stiffness():
    tall = lambda vertical: block(600.0, 2.0, 2.0, b=1.0, bearing=1.0, turning=True, vertical=vertical, shear=1e10)
    found = np.array([tipping(tall(vertical)) / GN for vertical in (3e9, 2.4e10)])
    assert found[0] == pytest.approx(0.613, abs=2e-3)
    assert 2 * found[1] - found[0] == pytest.approx(1.0 / 1.6, rel=2e-3)


@pytest.mark.parametrize("share, falls", [(0.96, False), (1.04, True)])
def test_falls_where_no_rest_is_left(share, falls):
    tall = block(600.0, 2.0, 2.0, b=1.0, bearing=1.0, turning=True, vertical=2e6, shear=2e6, damping=0.5)
    pulse = pulses.trapezoid(share * tipping(tall), 2.0, 9.0, 1.0)
    history = Motion(tall, pulse, 1e-4).run(6.0, stop=lambda time, state: abs(state[1]) > 0.2)
    assert (history.time[-1] < 6.0) == falls


def test_bed_keeps_its_printed_numbers():
    """A turn of 5e-3, P 5886 N, b 1 m, kw 8e6 N/m2."""
    numbers = np.array([5886.0]), 1.0, 8e6, np.array([5e-3])
    assert bed.moment(*numbers)[0] == pytest.approx(1878.626, abs=1e-3)
    assert bed.energy(*numbers)[0] == pytest.approx(6.236575, abs=1e-6)
    turned = lambda turn: bed.moment(numbers[0], 1.0, 8e6, np.array([turn]))[0]
    assert quad(turned, 0, 5e-3, points=[2 * 5886 / 8e6])[0] == pytest.approx(bed.energy(*numbers)[0], rel=1e-9)


def test_panel_keeps_its_printed_numbers():
    one = lambda value: np.array([value])
    film = Film(one(23000.0), one(1600.0), one(1e3), one(600.0), one(0.0), 1.2)
    forces = [
        film.force(one(at), one(most), one(0.0))[0] for at, most in ((0.01, 0), (0.06, 0), (0.04, 0.06), (0.01, 0.06))
    ]
    assert forces == pytest.approx([201.093, 740.940, 449.408, 12.111], abs=1e-3)
    assert film.force(one(-0.01), one(0.06), one(-0.01))[0] == pytest.approx(-201.093, abs=1e-3)


TABLE = {  # transit law at 3, 10, 20, 30, 60 mm: film above and below, m, and more; None where nothing is printed
    "base": (dict(above=0.8, below=0.8), (66, 201, 358, 484, 745)),
    "0.2 m above": (dict(above=0.2, below=0.8), (59, 169, 280, 358, 497)),
    "0.1 m below": (dict(above=0.8, below=0.1), (51, 142, 227, 285, 381)),
    "N 300": (dict(above=0.8, below=0.8, tension=300.0), (33, 101, 179, 242, 373)),
    "mu 0.15": (dict(above=0.8, below=0.8, friction=0.15), (None, None, None, 431, 626)),
    "mu 0.6": (dict(above=0.8, below=0.8, friction=0.6), (None, None, None, 530, 861)),
    "mu 0.02": (dict(above=0.8, below=0.8, friction=0.02), (59, 148, 219, 261, 322)),
    "EA/N 6": (dict(above=0.8, below=0.8, ratio=6.0), (37, 116, 217, 305, 514)),
    "b 0.6": (dict(above=0.8, below=0.8, b=0.6), (None, 160, 281, 376, 566)),
    "b 1.0": (dict(above=0.8, below=0.8, b=1.0), (None, 190, 337, 454, 695)),
}


@pytest.mark.parametrize("name", TABLE)
def test_law_at_a_slip_plane_is_the_printed_one(name):
    case, printed = TABLE[name]
    for slip, force in zip((3e-3, 10e-3, 20e-3, 30e-3, 60e-3), printed):
        assert force is None or law(slip, **(USUAL | case)) == pytest.approx(force, abs=0.6)


@pytest.mark.parametrize(
    "reach, printed", [((0.2, 0.8), (70, 213, 377, 507, 773)), ((0.8, 0.1), (77, 232, 407, 542, 813))]
)
def test_printed_rows_with_a_held_edge_add_its_image(reach, printed):
    """They are not what the text says (nothing added); the model follows the text, and so does the printed example."""
    shear = WRAP["ratio"] * WRAP["tension"] / np.sqrt(3)
    unheld, held = max(reach), min(reach)
    image = first_stiffness(shear, 1.2) - first_stiffness(shear, 1.2, held)
    k0 = first_stiffness(shear, 1.2, unheld) + image
    limit = 1.5 * np.sqrt(2 * 1.2 * 600.0 * 4 * np.sqrt(2) * 0.3 * 600.0 * unheld)
    assert hyperbola(k0 * np.array([3e-3, 10e-3, 20e-3, 30e-3, 60e-3]), limit) == pytest.approx(printed, abs=0.6)


def test_film_of_a_stack_has_the_law_of_each_of_its_planes():
    film = Film.around((0.1,) * 4, 1.2, on_pallet=0.1, **WRAP)
    for plane in range(4):
        above, below = 0.4 - 0.1 * plane, 0.1 + 0.1 * plane
        assert film.curve(np.full(4, 0.01))[plane] == pytest.approx(
            law(0.01, **(USUAL | dict(above=above, below=below))), rel=1e-12
        )


def held(slip=0.02, tension=600.0, mass=75.0, static=0.40):
    """Acceleration over g held at the pallet by kinetic friction and film after ``slip``: the stack of the example."""
    kinetic, weight = 0.75 * static, 8 * mass * GN
    if not tension:
        return kinetic
    film = Film.around((0.2,) * 8, 1.0, on_pallet=0.1, **(WRAP | dict(tension=tension)))
    force = film.curve(np.full(8, slip))
    return (kinetic * (weight + film.clamp(force)[0]) + force[0]) / weight


@pytest.mark.parametrize(
    "key, values, printed",
    [
        ("tension", (0, 300, 600, 1200, 2400), (0.300, 0.319, 0.339, 0.378, 0.455)),
        ("mass", (40, 75, 150), (0.373, 0.339, 0.319)),
        ("static", (0.3, 0.4, 0.5), (0.263, 0.339, 0.414)),
    ],
)
def test_held_acceleration_is_the_printed_one(key, values, printed):
    assert [held(**{key: float(value)}) for value in values] == pytest.approx(printed, abs=6e-4)


@pytest.mark.parametrize("count", [1, 4])
def test_work_put_in_is_kinetic_gravity_and_taken_by_forces(count):
    """The last state is work in less work taken by shear, friction, film, bed and dampers; gravity has a potential."""
    heights = (0.3,) * count
    film = Film.around(heights, 1.2, on_pallet=0.1, **WRAP)
    friction = (0.40,) + (0.45,) * (count - 1)
    stack = Stack(heights, (100.0,) * count, 1.2, friction, friction, shear=1.5e6, film=film)
    history = Motion(stack, pulses.half_sine(0.8 * GN, 0.3), 1e-7).run(0.3)
    x, turn, speed, spin, *_ = history.state[-1][:-1].reshape(6, -1)
    kinetic = (stack.m @ speed**2 + stack.inertia @ spin**2) / 2
    assert history.part("slip", count).max() > 1e-3
    most = max(abs(state[-1]) for state in history.state)
    assert kinetic + stack.potential(x, turn) == pytest.approx(history.state[-1][-1], abs=1e-5 * most)


def test_the_edge_and_its_film_agree():
    film = Film.around((0.2,) * 2, 1.0, on_pallet=0.1, **WRAP)
    load, turn = np.array([3000.0, 700.0]), np.array([0.02, -0.01])
    pull = bed.lifted_edge(load, 0.9, 4e6, turn, film)
    lift = np.abs(turn) * (0.9 - bed.contact(load + pull, 0.9, 4e6, turn))
    assert pull == pytest.approx(film.on_lifted_edge(lift), rel=1e-9) and np.all(pull > 1)


def test_the_record_is_what_the_model_answers():
    name = next(name for name in CASES if name.startswith("four stiff"))
    record = json.loads(RECORD.read_text())[name]["readings"]["tier, bearing"]
    found = answers(CASES[name], READINGS["tier, bearing"], 1e-6)
    for quantity in ("slip_greatest", "slip_end", "peak"):
        assert found[quantity] == pytest.approx(np.array(record["answers"][quantity]), rel=1e-3)


def test_errors_of_the_record_are_small():
    for case in json.loads(RECORD.read_text()).values():
        for reading in case["readings"].values():
            for quantity, error in reading["error"].items():
                assert max(one or 0.0 for one in error) < 1e-4, quantity
