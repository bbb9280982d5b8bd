# SPDX-License-Identifier: BSD-3-Clause
"""One wrap in SI units, and the scenario text the program reads for it."""

from dataclasses import dataclass, replace

import numpy as np

STUCK = np.inf


@dataclass(frozen=True)
class Case:
    """A wrap of ``turns`` at one height on a load without creep. Stretch is strain, SI units, speed in rad/s."""

    prestretch: float = 1.2
    force: float = 90.0
    control: str = "follow"
    lag: float = 0.15
    gain: float = 1.0
    length_per_turn: float = 0.0
    length: float = 1.0
    width: float = 1.0
    corner_radius: float = 0.0
    axis_offset: float = 0.0
    distance: float = 1.5
    offset: float = 0.0
    stiffness: tuple = ()  # Pa, along length and width; () = rigid
    friction: float = STUCK
    turns: int = 6
    ramp_turns: float = 0.0
    rotation: float = 12 * 2 * np.pi / 60
    roller_gap: float = 0.05
    roller_arc: float = 0.1
    internal_path: float = 0.5
    film_width: float = 0.5
    film_thickness: float = 23e-6
    temperature: float = 296.15
    height: float = 1.0  # above the film's width, so that nothing folds over the top

    def but(self, **changes):
        return replace(self, **changes)

    def scenario(self, film_file, tolerance=1e-6):
        """Text of the scenario file."""
        friction = '"stuck"' if np.isinf(self.friction) else self.friction
        load = 'kind = "rigid"'
        if self.stiffness:
            load = (
                f'stiffness_along_length = "{self.stiffness[0]!r} Pa"\n'
                f'stiffness_along_width = "{self.stiffness[1]!r} Pa"\ncreep_per_decade = 0'
            )
        fixed = f"length_per_turn = {self.length_per_turn!r}" if self.control == "fixed_length" else ""
        follow = f'lag = "{self.lag!r} s"\ngain = {self.gain!r}' if self.control == "follow" else ""
        return f"""[scenario]
title = "film as a row of parcels"
schema = 1
[film]
file = "{film_file}"
width = "{self.film_width!r} m"
thickness = "{self.film_thickness!r} m"
[delivery]
prestretch = "{100 * self.prestretch!r} %"
roller_gap = "{self.roller_gap!r} m"
roller_arc = "{self.roller_arc!r} m"
internal_path = "{self.internal_path!r} m"
distance = "{self.distance!r} m"
offset = "{self.offset!r} m"
[delivery.tension]
control = "{self.control}"
force = "{self.force!r} N"
{fixed}
{follow}
[rotation]
speed = "{float(self.rotation)!r} rad/s"
ramp_turns = {self.ramp_turns!r}
[pattern]
pitch = "0 mm"
bottom_turns = {self.turns - 1}
top_turns = 1
[load]
length = "{self.length!r} m"
width = "{self.width!r} m"
height = "{self.height!r} m"
corner_radius = "{self.corner_radius!r} m"
axis_offset = "{self.axis_offset!r} m"
{load}
[friction]
film_on_load = {friction}
film_on_film = {friction}
[wrapping]
temperature = "{self.temperature!r} K"
[stations]
top = "0.25 m"
middle = "0.2 m"
bottom = "0.15 m"
band_height = "0.1 m"
[storage]
duration = "1 h"
temperature = [["0 h", "{self.temperature!r} K"]]
[numerics]
slices = 20
tolerance = {tolerance!r}
"""
