# SPDX-License-Identifier: BSD-3-Clause
"""Reads what the reference needs of a scenario file; everything it relies on must be written in the file."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from .film import Film, read_film
from .units import quantity


@dataclass(frozen=True)
class Case:
    film: Film
    width: float  # m, film on the roll
    thickness: float  # m, film on the roll
    ratio: float  # draw ratio r
    gap: float
    arc: float
    internal_path: float
    distance: float
    n_d: float
    force: float
    omega: float
    turns: int
    length: float
    load_width: float
    load_height: float
    stiffness: tuple[float, float]  # Pa: along length, along width
    coupling: float  # Pa, off-diagonal term of the stiffness
    creep_per_decade: float
    creep_start: float
    expansion: float
    duration: float
    ambient: float  # K, while wrapping: of film and surroundings until the end of wrapping
    temperature: tuple[tuple[float, float], ...]  # (s, K) knots of storage, linear between them
    film_on_load: float = float("inf")  # friction at the corners; film sticks to film

    @property
    def perimeter(self) -> float:
        return 2 * (self.length + self.load_width)

    @property
    def section(self) -> float:
        """Cross-section of the film on the roll, m^2."""
        return self.width * self.thickness


def read_case(path) -> Case:
    path = Path(path)
    data = tomllib.loads(path.read_text())
    film = read_film(path.parent / data["film"]["file"])
    delivery, load, pattern, storage = (data[k] for k in ("delivery", "load", "pattern", "storage"))
    assert delivery["tension"]["control"] == "constant" and quantity(pattern["pitch"]) == 0
    friction = data["friction"]
    assert friction["film_on_film"] == "stuck" and quantity(load["corner_radius"]) == 0
    return Case(
        film=film,
        width=quantity(data["film"]["width"]),
        thickness=quantity(data["film"]["thickness"]),
        ratio=1 + quantity(delivery["prestretch"]),
        gap=quantity(delivery["roller_gap"]),
        arc=quantity(delivery["roller_arc"]),
        internal_path=quantity(delivery["internal_path"]),
        distance=quantity(delivery["distance"]),
        n_d=float(delivery.get("neck_in", film.n_d)),
        force=quantity(delivery["tension"]["force"]),
        omega=quantity(data["rotation"]["speed"]),
        turns=int(pattern["bottom_turns"] + pattern["top_turns"]),
        length=quantity(load["length"]),
        load_width=quantity(load["width"]),
        load_height=quantity(load["height"]),
        stiffness=(quantity(load["stiffness_along_length"]), quantity(load["stiffness_along_width"])),
        coupling=quantity(load.get("stiffness_coupling", 0.0)),
        creep_per_decade=float(load["creep_per_decade"]),
        creep_start=quantity(load["creep_start"]),
        expansion=quantity(load.get("expansion", 0.0)),
        duration=quantity(storage["duration"]),
        ambient=quantity(data["wrapping"]["temperature"]),
        temperature=tuple((quantity(t), quantity(T)) for t, T in storage["temperature"]),
        film_on_load=float("inf") if friction["film_on_load"] == "stuck" else float(friction["film_on_load"]),
    )
