# SPDX-License-Identifier: BSD-3-Clause
"""The membrane round two blocks (``transit_tube``) by itself and against the law (``transit_mesh`` prints it all)."""

import numpy as np
import pytest
from transit_mesh import CASES, USUAL, law_of, mesh_of, one_plane
from transit_tube import Tube

ROUGH = dict(mesh=0.025, coarse=0.25)


@pytest.fixture
def pushed():
    tube = Tube(**ROUGH)
    tube.push(0.002)
    return tube


def test_a_tube_at_rest_neither_pushes_nor_lifts():
    """Uniaxial tension between corners: nothing along, nothing across the plane; hoop force on each corner."""
    tube = Tube(**ROUGH)
    along, across = tube.push(0.0)
    assert abs(along) < 0.1 and abs(across) < 0.1
    on_corners = 2 * (tube.derivatives(tube.position)[0] * np.sign(tube.position)).sum(axis=0)[:2]
    assert on_corners == pytest.approx(4 * 600.0 * 1.6 * np.ones(2), rel=1e-3)  # N on both sides of every corner


def test_forces_and_stiffness_are_derivatives_of_the_energy(pushed):
    rng = np.random.default_rng(1)
    pushed.pressed = pushed.pressed * 0.9  # some nodes slide
    position = pushed.position + 2e-5 * rng.standard_normal(pushed.position.shape)
    way, h = rng.standard_normal(position.shape), 1e-9
    up, down = (pushed.whole_energy(position + sign * h * way) for sign in (1, -1))
    force = lambda at: pushed.derivatives(at)[0] + pushed.contact_terms(at)[0]
    assert (up - down) / (2 * h) == pytest.approx(np.sum(force(position) * way), rel=1e-5)


def test_force_follows_hoop_tension():
    """At one EA/N everything scales with N, friction too; the penalty that stands for hard goods does not."""
    half, whole = (Tube(tension=tension, **ROUGH).push(0.003) for tension in (300.0, 600.0))
    assert half[0] == pytest.approx(whole[0] / 2, rel=0.02)


def test_friction_is_within_its_cone_and_takes_the_force(pushed):
    residual = pushed.derivatives(pushed.position)[0]
    gap, normal = pushed.gap(pushed.position)
    pressing = np.sum(residual * normal, axis=1)
    rubbing = np.linalg.norm(residual - pressing[:, None] * normal, axis=1)
    touching = (gap < 0) & pushed.inside
    assert touching.any() and np.all(rubbing[touching] <= 0.3 * pressing[touching] * 1.02 + 0.02)
    assert np.any(rubbing[touching] > 0.3 * pressing[touching] * 0.98)
    assert np.abs(residual[~touching & pushed.inside]).max() < 0.02


def test_stuck_film_passes_on_the_shear_flow_of_the_derivation():
    """K(z) = (4/pi) S ln coth(sqrt3 pi z/(2b)) across a plane z off the step. It leaves out vertical displacement and
    wrinkles, so it is above the membrane: by 9 to 15 % up to 0.26 m, by 26 % at 0.36 m."""
    tube = Tube(mesh=0.015, coarse=0.15, friction=20.0)
    slip = 2e-4
    tube.push(0.0)
    tube.push(slip)
    force, z = 2 * tube.derivatives(tube.position)[0][:, 0], tube.position[:, 2]
    for height in (0.05, 0.1, 0.15):
        above = z > height
        plane = (z[above].min() + z[~above].max()) / 2
        law = 4 / np.pi * 6600 / np.sqrt(3) * -np.log(np.tanh(np.sqrt(3) * np.pi * plane / 2.4))
        assert 0.85 * law < force[above].sum() / slip < law


@pytest.mark.parametrize("above", [0.8, 0.2])
def test_lifted_edge_is_pulled_down_as_the_law_says(above):
    """About the front edge. A finer mesh has 213, 344, 448 and 143, 147, 150 N m at 10, 20 and 30 mm."""
    tube, heights = Tube(above=above, **ROUGH), (0.0, 0.001, 0.004, 0.01, 0.02, 0.03)
    couples = np.array([tube.lift(height) for height in heights])
    film = one_plane(**(USUAL | dict(above=above)))
    law = USUAL["b"] * np.array([film.on_lifted_edge(np.array([height]))[0] for height in heights])
    assert law[2:] == pytest.approx(couples[2:], rel=0.15)
    assert np.all(law[4:] < 1.1 * couples[4:])  # where it matters it is hardly high


def test_law_is_within_15_percent_up_to_30_mm():
    slips = (0.0, 0.003, 0.01, 0.02, 0.03)
    along, across = mesh_of(CASES["base"], slips, slips[1:], mesh=0.015, coarse=0.2)
    law = law_of(CASES["base"])[:4]
    assert law == pytest.approx(along, rel=0.15)
    assert along == pytest.approx([66, 195, 342, 473], rel=0.1)  # an earlier, independent membrane
    clamp = law[2:] ** 2 / (2 * USUAL["b"] * USUAL["tension"])
    assert np.all(clamp < across[2:]) and clamp == pytest.approx(across[2:], rel=0.35)
