# SPDX-License-Identifier: BSD-3-Clause
"""
Compiled part of hoopfield. Numbers are SI; stretch is strain (2.5 = film 3.5 times as long).
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import os
import typing
__all__: list[str] = ['Band', 'BandResult', 'Buildup', 'CollectedSweep', 'CompareSide', 'Comparison', 'ContainmentResult', 'DrawnInput', 'Film', 'FilmCurve', 'FilmFit', 'FilmPathResult', 'FilmUse', 'LabCurve', 'LoadResult', 'Parameter', 'PatternResult', 'Plan', 'Result', 'Scenario', 'Sensitivity', 'SolverCounters', 'SpanResult', 'StationFace', 'StationResult', 'SweepAxis', 'SweepCoordinate', 'SweepOutput', 'SweepPlan', 'SweepResult', 'TakeUp', 'TargetResult', 'UnknownIndex', 'UnknownInput', 'Warning', 'band_of_draws', 'buildup', 'calibrate', 'compare', 'compute_packed', 'curve_from_arrays', 'curve_from_file', 'curve_of_test', 'explain_text', 'face_sketch', 'film_from_datasheet', 'film_from_text', 'film_numbers', 'film_path', 'find_parameters', 'first_sentence', 'fit_film', 'hdf5_bytes', 'indices', 'labelled', 'library_film', 'library_films', 'make_sweep_plan', 'merge_sweeps', 'nearest_keys', 'next_readings', 'parse_quantity', 'predict', 'predicted_readings', 'read_film', 'read_scenario', 'read_side', 'read_sweep', 'report_page_absence', 'requirement_from_here', 'ride', 'run_sweep', 'scenario_from_text', 'scenario_keys', 'scenario_side', 'scenario_with_film', 'short_caution', 'sobol_index', 'summary_json', 'to_unit', 'transit', 'trial', 'with_ranking', 'with_sensitivity', 'write_csv', 'write_hdf5', 'write_report']
class Parameter:
    """
    Declaration of one input or output.
    """
    def __repr__(self) -> str:
        ...
    @property
    def caution(self) -> str:
        """
        what can hurt whoever measures it so, and what to do about it; empty for nothing
        """
    @property
    def choices(self) -> list[str]:
        ...
    @property
    def customary_unit(self) -> str:
        ...
    @property
    def default(self) -> str:
        """
        as a user writes it
        """
    @property
    def how_to_measure(self) -> str:
        ...
    @property
    def key(self) -> str:
        ...
    @property
    def kind(self) -> str:
        """
        "number", "integer", "flag", "text", "choice" or "table"
        """
    @property
    def lower(self) -> float | None:
        """
        physical bound, SI
        """
    @property
    def reference(self) -> str:
        ...
    @property
    def required(self) -> bool:
        ...
    @property
    def room(self) -> str:
        """
        "scenario", "film_file", "measured_file", "output" or "film_number"
        """
    @property
    def sentence(self) -> str:
        ...
    @property
    def unit(self) -> str:
        """
        SI unit; empty for none
        """
    @property
    def upper(self) -> float | None:
        """
        physical bound, SI
        """
class FilmCurve:
    """
    Curve of a virtual test and the numbers read off it.
    """
    def __reduce__(self) -> tuple:
        ...
    @property
    def creep_start(self) -> float | None:
        """
        strain when the creep stress is reached
        """
    @property
    def creep_strain(self) -> float | None:
        """
        strain added under the creep stress
        """
    @property
    def elastic_recovery(self) -> float | None:
        """
        share of the strain reached that is gone after the wait (recovery)
        """
    @property
    def end_stiffness(self) -> float | None:
        """
        d ln stress / d ln stretch ratio at the end of stretching
        """
    @property
    def end_stress(self) -> float | None:
        """
        Pa, at the end of stretching
        """
    @property
    def kept(self) -> float | None:
        """
        share of end_stress left after the hold; None without a hold
        """
    @property
    def kind(self) -> str:
        """
        tensile, relaxation, recovery, cycle or creep
        """
    @property
    def loss_per_decade(self) -> float | None:
        """
        share of end_stress lost in the last decade of time
        """
    @property
    def peak_kept(self) -> float | None:
        """
        top stress of the last cycle over that of the first
        """
    @property
    def permanent_set(self) -> float | None:
        """
        permanent set: strain after the wait, of the starting length (recovery)
        """
    @property
    def permanent_share(self) -> float | None:
        """
        the same over the strain reached: 1 - elastic_recovery
        """
    @property
    def rate(self) -> float:
        """
        1/s, speed of the grips over the starting length
        """
    @property
    def release_stretch(self) -> float | None:
        """
        strain when the force is first gone (recovery, cycle)
        """
    @property
    def secant_modulus(self) -> float | None:
        """
        Pa, secant from 0 to 1 % strain; None when the curve ends below
        """
    @property
    def stress(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        force over section on the roll, Pa
        """
    @property
    def stretch(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        strain
        """
    @property
    def temperature(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        K
        """
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        s
        """
    @property
    def work_lost_first(self) -> float | None:
        """
        share of the work of the first cycle not given back
        """
    @property
    def work_lost_last(self) -> float | None:
        """
        the same for the last cycle
        """
    @property
    def yield_strain(self) -> float | None:
        """
        strain of that maximum; None without one
        """
    @property
    def yield_stress(self) -> float | None:
        """
        Pa, first maximum of stress; None without one
        """
class Film:
    """
    A film: description, law and text.
    """
    def __reduce__(self) -> tuple:
        ...
    def follow(self, time: typing.Any, stretch: typing.Any, temperature: typing.Any, width_exponent: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
        """
        Stress (Pa) along any path of stretch over time, one value per time.
        """
    def stretch_limit(self, width_exponent: typing.SupportsFloat | typing.SupportsIndex = 0.5) -> float:
        """
        Greatest strain of the network.
        """
    def test(self, kind: str, rate: typing.SupportsFloat | typing.SupportsIndex, stretch: typing.SupportsFloat | typing.SupportsIndex, width_exponent: typing.SupportsFloat | typing.SupportsIndex, temperature: typing.SupportsFloat | typing.SupportsIndex | None, hold: typing.SupportsFloat | typing.SupportsIndex, release_hold: typing.SupportsFloat | typing.SupportsIndex = 60.0, wait: typing.SupportsFloat | typing.SupportsIndex = 86400.0, cycles: typing.SupportsInt | typing.SupportsIndex = 3, stress: typing.SupportsFloat | typing.SupportsIndex = 0.0, draw_heat: bool = False) -> FilmCurve:
        """
        Virtual test of a strip; SI, stretch as strain.
        """
    @property
    def branches(self) -> int:
        """
        number of relaxing branches
        """
    @property
    def density(self) -> float:
        """
        kg/m^3
        """
    @property
    def heat_capacity(self) -> float:
        """
        J/kg/K; 0 = no heat of drawing
        """
    @property
    def illustrative(self) -> bool:
        """
        True when the numbers describe no real film
        """
    @property
    def law(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def neck_in(self) -> float:
        """
        width exponent in the gap
        """
    @property
    def path(self) -> str:
        ...
    @property
    def reference_temperature(self) -> float:
        """
        K
        """
    @property
    def source(self) -> str:
        ...
    @property
    def text(self) -> str:
        ...
class LabCurve:
    """
    A laboratory curve, read and put in order.
    """
    @property
    def name(self) -> str:
        ...
    @property
    def warnings(self) -> list[str]:
        """
        What was repaired, in sentences.
        """
class FilmFit:
    """
    A film identified from curves or from a data sheet, and how well it is known.
    """
    @property
    def choices(self) -> list:
        """
        (branches, BIC, rms) for each number of branches tried.
        """
    @property
    def correlation(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Correlation of the parameters.
        """
    @property
    def curves(self) -> list:
        """
        One dict per curve: name, kind, rms, and arrays time, stretch, stress, fitted; SI.
        """
    @property
    def film(self) -> Film:
        """
        The film, with provenance and covariance in its text.
        """
    @property
    def held_out(self) -> list:
        """
        The same of the curves held out, their stress predicted.
        """
    @property
    def intervals(self) -> dict:
        """
        The same numbers: name to (low, high), 95 %; SI.
        """
    @property
    def law_error(self) -> float:
        """
        Relative error of the law that the intervals allow for.
        """
    @property
    def misfit(self) -> float:
        """
        Relative error beyond the scatter of the points.
        """
    @property
    def numbers(self) -> dict:
        """
        Comparison numbers of the film: name to (value, standard error); SI.
        """
    @property
    def parameters(self) -> list:
        """
        One dict per number of the law: key, value, low, high (95 %), error, determined, ...; SI.
        """
    @property
    def unknown(self) -> list[str]:
        """
        What the data cannot determine, in sentences.
        """
    @property
    def warnings(self) -> list[str]:
        """
        What was repaired in the curves, and more.
        """
class Scenario:
    """
    A complete, validated set of inputs; never changed in place.
    """
    def __reduce__(self) -> tuple:
        ...
    def get(self, key: str) -> typing.Any:
        """
        SI number, text, truth value, list of pairs, or None when it has no value.
        """
    def inputs_hash(self) -> str:
        """
        Equal inputs, equal hash, wherever the files lie.
        """
    def replace(self, changes: collections.abc.Sequence[tuple[str, typing.SupportsFloat | typing.SupportsIndex | str]]) -> Scenario:
        """
        A copy with inputs set from texts with units or SI numbers.
        """
    def resolved(self) -> list:
        """
        Every input that has a value, with unit, origin and place.
        """
    def same(self, other: Scenario) -> bool:
        """
        Equal values, origins and film text; where the film's file lies does not count.
        """
    def to_text(self) -> str:
        """
        TOML of every input that was written or set.
        """
    def with_film(self, film: Film) -> Scenario:
        """
        A copy wound with another film.
        """
    @property
    def film(self) -> Film:
        ...
    @property
    def film_text(self) -> str:
        """
        The film file as read.
        """
    @property
    def path(self) -> str:
        """
        File it was read from; empty when made in memory.
        """
    @property
    def text(self) -> str:
        """
        The file as read.
        """
    @property
    def title(self) -> str:
        ...
class StationFace:
    """
    What one face shows at a station.
    """
    @property
    def film_layers(self) -> float:
        """
        Film layers on one face, mean over the band.
        """
    @property
    def hoop_tension(self) -> float:
        """
        Hoop tension of one face, mean over the band. (N/m)
        """
    @property
    def pull_force(self) -> float:
        """
        Pull force on one face, tent factor included. (N)
        """
    @property
    def strand_force(self) -> float:
        """
        Pull force on one face without the tent factor. (N)
        """
class StationResult:
    """
    What a person would measure at one height.
    """
    def __getitem__(self, face: str) -> StationFace:
        ...
    @property
    def back(self) -> StationFace:
        ...
    @property
    def band_least_tension(self) -> float:
        """
        Least hoop tension over the four faces and over single heights in the band of stations.band_height at a station, each the mean along its face: that of its weakest spot, where hoop_tension is the mean. (N/m)
        """
    @property
    def band_tension(self) -> float:
        """
        Hoop tension times stations.band_height. (N)
        """
    @property
    def film_layers(self) -> float:
        """
        Film layers at a station, mean of the faces.
        """
    @property
    def film_layers_max(self) -> float:
        """
        Most film layers at a station, over all heights at which the climb may happen to start.
        """
    @property
    def film_layers_min(self) -> float:
        """
        Fewest film layers at a station, over all heights at which the climb may happen to start.
        """
    @property
    def front(self) -> StationFace:
        ...
    @property
    def height(self) -> float:
        """
        Height of the station above the pallet deck. (m)
        """
    @property
    def hoop_tension(self) -> float:
        """
        Sum over film layers of the tension per height at a station, mean of the four faces: the primary result. (N/m)
        """
    @property
    def left(self) -> StationFace:
        ...
    @property
    def pull_force(self) -> float:
        """
        Force of the pull test at a station, least over the faces, tent factor included. (N)
        """
    @property
    def pull_force_film_stretch_share(self) -> float:
        """
        Fraction of the pull force that comes from the further stretching of the film in the test.
        """
    @property
    def right(self) -> StationFace:
        ...
    @property
    def strand_force(self) -> float:
        """
        The same pull force for film cut into separate strands, without the tent factor. (N)
        """
    @property
    def temperature(self) -> float:
        """
        Temperature of film and surroundings when a station is read. (K)
        """
    @property
    def tent_factor(self) -> float:
        """
        Ratio of pull force to strand force on the same face: film is a sheet that forms a tent around the plate.
        """
    @property
    def time(self) -> float:
        """
        Time at which a station is read: 0 at the end of wrapping, the duration of storage after it, and in between the time at which its hoop tension is least. (s)
        """
class ContainmentResult:
    """
    Containment at the stations at one moment.
    """
    def __getitem__(self, station: str) -> StationResult:
        ...
    @property
    def bottom(self) -> StationResult:
        ...
    @property
    def least_face(self) -> str:
        """
        Face on which hoop tension is least.
        """
    @property
    def least_height(self) -> float:
        """
        Height of the middle of the band of film that holds least. (m)
        """
    @property
    def least_hoop_tension(self) -> float:
        """
        Least hoop tension over faces and heights: the mean over that band of film on one face, as high as stations.band_height, that holds least. A band, because what holds at a single height is the edge of a film. (N/m)
        """
    @property
    def middle(self) -> StationResult:
        ...
    @property
    def top(self) -> StationResult:
        ...
class FilmPathResult:
    """
    From the roll to the load.
    """
    @property
    def draw_temperature_rise(self) -> float:
        """
        Warming of the film at the end of the gap, no heat lost. (K)
        """
    @property
    def dwell_time(self) -> float:
        """
        Time the film spends on the second roller. (s)
        """
    @property
    def film_temperature(self) -> float:
        """
        Film temperature at the end of the gap. (K)
        """
    @property
    def gap_position(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Position in the gap, from the first roller. (m)
        """
    @property
    def gap_sharpness(self) -> float:
        """
        Least length over which the film draws in the gap, divided by its thickness on the roll.
        """
    @property
    def gap_stretch(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Stretch of the film along the gap. (strain)
        """
    @property
    def gap_temperature(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Temperature of the film along the gap. (K)
        """
    @property
    def laid_thickness(self) -> float:
        """
        Thickness of one film layer on the load. (m)
        """
    @property
    def laid_width(self) -> float:
        """
        Width of one film layer on the load, mean by length. (m)
        """
    @property
    def laid_width_max(self) -> float:
        """
        Greatest width of a piece of film on the load. (m)
        """
    @property
    def laid_width_min(self) -> float:
        """
        Least width of a piece of film on the load. (m)
        """
    @property
    def prestretch_force(self) -> float:
        """
        Force that stretches the film between the rollers. (N)
        """
    @property
    def prestretch_power(self) -> float:
        """
        Mechanical power put into the film in the gap. (W)
        """
    @property
    def residence_time(self) -> float:
        """
        Time of the film from the second roller to the load. (s)
        """
    @property
    def roller_speed_1(self) -> float:
        """
        Film speed on the first roller. (m/s)
        """
    @property
    def roller_speed_2(self) -> float:
        """
        Film speed on the second roller. (m/s)
        """
    @property
    def stiffness_over_force(self) -> float:
        """
        Elastic stiffness of the laid film over its force, d ln force / d ln stretch ratio.
        """
    @property
    def stretch_in_gap(self) -> float:
        """
        Stretch of the film at the end of the gap. (strain)
        """
    @property
    def stretch_on_load(self) -> float:
        """
        Stretch of the film as it lies on the load, mean by length. Film springs back behind the rollers, from the pre-stretch to what the span force holds; the film law computes it, but no published recovery of film from such stretches could be read, so it is not validated: measure it. (strain)
        """
    @property
    def stretch_on_load_max(self) -> float:
        """
        Greatest stretch of a piece of film on the load. (strain)
        """
    @property
    def stretch_on_load_min(self) -> float:
        """
        Least stretch of a piece of film on the load. (strain)
        """
class SpanResult:
    """
    Force in the span over one settled turn, and what each face received.
    """
    @property
    def angle(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Angle of rotation within a settled turn. (rad)
        """
    @property
    def face(self) -> list[str]:
        """
        Name of the face that is laid.
        """
    @property
    def face_force(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Force that the film on a face keeps once it has slipped round the corners, over its whole width. (N)
        """
    @property
    def face_turn(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Turns since the start when a face is laid.
        """
    @property
    def force(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Film force in the span over a settled turn. (N)
        """
    @property
    def force_max(self) -> float:
        """
        Greatest force in the span over a settled turn. (N)
        """
    @property
    def force_mean(self) -> float:
        """
        Mean force in the span over a settled turn. (N)
        """
    @property
    def force_min(self) -> float:
        """
        Least force in the span over a settled turn. (N)
        """
    @property
    def force_set(self) -> float:
        """
        Force set at the delivery. (N)
        """
    @property
    def laid_fraction(self) -> float:
        """
        Mean force that the film has kept at the end of wrapping, divided by the set force.
        """
    @property
    def take_up_speed(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Speed at which the turning load takes film up. (m/s)
        """
class PatternResult:
    """
    The wrap pattern.
    """
    @property
    def gap(self) -> float:
        """
        Greatest bare height between turns; 0 when closed. (m)
        """
    @property
    def overlap(self) -> float:
        """
        1 - pitch / laid width, as a fraction.
        """
    @property
    def pitch(self) -> float:
        """
        Climb per turn. (m)
        """
    @property
    def rotation_time(self) -> float:
        """
        Time of rotation of one wrap. (s)
        """
    @property
    def speed_down(self) -> float:
        """
        Speed of the carriage on its way down. (m/s)
        """
    @property
    def speed_up(self) -> float:
        """
        Speed of the carriage on its way up. (m/s)
        """
    @property
    def turns(self) -> float:
        """
        Turns of the wrap.
        """
    @property
    def uncovered_bottom(self) -> float:
        """
        Height of load that has no film at the bottom. (m)
        """
    @property
    def uncovered_top(self) -> float:
        """
        Height of load that has no film at the top. (m)
        """
class LoadResult:
    """
    What the film does to the load, at the end of wrapping.
    """
    @property
    def closing_along_length(self) -> float:
        """
        Greatest closing of the load's length at the end of wrapping. (m)
        """
    @property
    def closing_along_width(self) -> float:
        """
        Greatest closing of the load's width at the end of wrapping. (m)
        """
    @property
    def edge_line_force(self) -> float:
        """
        Greatest force per height on a vertical edge at the end of wrapping. (N/m)
        """
    @property
    def edge_pressure(self) -> float:
        """
        Greatest force on a vertical edge at the end of wrapping, divided by the arc of the corner radius. (Pa)
        """
class FilmUse:
    """
    Film drawn from the roll.
    """
    @property
    def length_on_roll(self) -> float:
        """
        Length of film drawn from the roll per load. (m)
        """
    @property
    def mass(self) -> float:
        """
        Mass of film per load. (kg)
        """
class Sensitivity:
    """
    d ln(containment) / d ln(force)
    """
    @property
    def after_storage(self) -> float:
        """
        d ln(containment) / d ln(force) after storage.
        """
    @property
    def end(self) -> float:
        """
        d ln(containment) / d ln(force) at the end of wrapping.
        """
class SolverCounters:
    """
    How much was computed; counts of work, not of time.
    """
    @property
    def branch_updates(self) -> int:
        ...
    @property
    def corner_slips(self) -> int:
        ...
    @property
    def film_steps(self) -> int:
        ...
    @property
    def iterations(self) -> int:
        ...
    @property
    def rejected(self) -> int:
        ...
    @property
    def slip_updates(self) -> int:
        ...
    @property
    def steps(self) -> int:
        ...
class Band:
    """
    5 %, 50 % and 95 % quantile over the draws, SI.
    """
    def __repr__(self) -> str:
        ...
    @property
    def high(self) -> float:
        ...
    @property
    def low(self) -> float:
        ...
    @property
    def median(self) -> float:
        ...
class DrawnInput:
    """
    An input that was drawn, with its distribution; SI.
    """
    @property
    def formula_share(self) -> bool:
        ...
    @property
    def high(self) -> float:
        """
        95 % quantile
        """
    @property
    def key(self) -> str:
        ...
    @property
    def low(self) -> float:
        """
        5 % quantile
        """
    @property
    def origin(self) -> str:
        ...
    @property
    def scale_above(self) -> str:
        ...
    @property
    def scale_below(self) -> str:
        ...
    @property
    def unit(self) -> str:
        ...
    @property
    def value(self) -> float:
        """
        median: the value in use
        """
class BandResult:
    """
    The draws behind the bands of a prediction.
    """
    def get(self, name: str) -> Band | None:
        """
        The band of a number, or None.
        """
    @property
    def failed(self) -> int:
        ...
    @property
    def failed_because(self) -> dict:
        ...
    @property
    def inputs(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (draw, unknown), SI
        """
    @property
    def message(self) -> str:
        """
        why there is no band; empty when there is one
        """
    @property
    def names(self) -> list[str]:
        """
        names of the numbers that have a band
        """
    @property
    def numbers(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (draw, name), SI
        """
    @property
    def redrawn(self) -> int:
        ...
    @property
    def samples(self) -> int:
        ...
    @property
    def status(self) -> numpy.ndarray:
        """
        (draw): 0 done, 1 film broke or ran away, 2 no solution
        """
    @property
    def unknowns(self) -> list[DrawnInput]:
        """
        what was drawn
        """
class UnknownIndex:
    """
    First-order and total Sobol' index of an unknown.
    """
    @property
    def first(self) -> float:
        ...
    @property
    def first_error(self) -> float:
        ...
    @property
    def key(self) -> str:
        ...
    @property
    def total(self) -> float:
        ...
    @property
    def total_error(self) -> float:
        ...
class UnknownInput:
    """
    An unknown input and what its range does to containment and to the target.
    """
    def __repr__(self) -> str:
        ...
    @property
    def at(self) -> str:
        """
        its moment
        """
    @property
    def caution(self) -> str:
        """
        what can hurt whoever measures it so; may be empty
        """
    @property
    def containment_high(self) -> float:
        """
        N/m at the high end
        """
    @property
    def containment_low(self) -> float:
        """
        N/m at the low end
        """
    @property
    def effect(self) -> float:
        """
        (greatest - least) / nominal
        """
    @property
    def failed(self) -> bool:
        """
        an end of the range could not be computed
        """
    @property
    def group(self) -> bool:
        """
        several numbers moved together
        """
    @property
    def high(self) -> float:
        """
        that quantity at the 95 % quantile of the input, SI
        """
    @property
    def high_text(self) -> str:
        ...
    @property
    def how_to_measure(self) -> str:
        ...
    @property
    def key(self) -> str:
        ...
    @property
    def known_high(self) -> float | None:
        """
        upper end of the band if this input were known, SI
        """
    @property
    def known_low(self) -> float | None:
        """
        lower end of the band if this input were known, SI
        """
    @property
    def low(self) -> float:
        """
        that quantity at the 5 % quantile of the input, SI
        """
    @property
    def low_text(self) -> str:
        ...
    @property
    def message(self) -> str:
        ...
    @property
    def origin(self) -> str:
        ...
    @property
    def quantity(self) -> str:
        """
        quantity by which unknowns are ranked: that of the target
        """
    @property
    def r_squared(self) -> float | None:
        """
        adjusted R squared of the regression
        """
    @property
    def share(self) -> float | None:
        """
        share of the band's variance by regression; None where that explains too little
        """
    @property
    def station(self) -> str:
        """
        its station; empty for the least of the three
        """
    @property
    def value_text(self) -> str:
        ...
class TargetResult:
    """
    One target, met or missed.
    """
    @property
    def at(self) -> str:
        ...
    @property
    def met(self) -> bool:
        """
        by probability where there is one
        """
    @property
    def predicted(self) -> float:
        """
        N/m or N
        """
    @property
    def probability(self) -> float | None:
        """
        share of draws that reach it; None without draws
        """
    @property
    def probability_error(self) -> float | None:
        """
        standard error of that share
        """
    @property
    def quantity(self) -> str:
        ...
    @property
    def station(self) -> str:
        ...
    @property
    def wanted(self) -> float:
        """
        N/m or N
        """
class Warning:
    """
    What a person must know before using the numbers.
    """
    def __repr__(self) -> str:
        ...
    @property
    def code(self) -> str:
        ...
    @property
    def key(self) -> str:
        ...
    @property
    def severity(self) -> str:
        """
        "note", "caution" or "danger"
        """
    @property
    def text(self) -> str:
        ...
class Result:
    """
    One prediction: plain arrays and numbers in SI units.
    """
    def __reduce__(self) -> tuple:
        ...
    @property
    def after_storage(self) -> ContainmentResult:
        ...
    @property
    def assumed(self) -> list[UnknownInput]:
        """
        The largest unknowns among assumed inputs, ranked by their effect on containment.
        """
    @property
    def band(self) -> BandResult | None:
        """
        Band of every number over draws of everything uncertain in the inputs; null without draws. The equations themselves are not in it: see the known misses of the validation table.
        """
    @property
    def closing_along_length(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Closing of the load along its length over time and height. (m)
        """
    @property
    def closing_along_width(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Closing of the load along its width over time and height. (m)
        """
    @property
    def counters(self) -> SolverCounters:
        ...
    @property
    def end(self) -> ContainmentResult:
        ...
    @property
    def film(self) -> FilmUse:
        ...
    @property
    def film_layers(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Film layers over face and height.
        """
    @property
    def film_path(self) -> FilmPathResult:
        ...
    @property
    def film_stiffness(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Film force per height of load and per strain since the film was stress-free, after storage, all layers, in a stretch of 0.05 s: what the film answers a blow with. (N/m)
        """
    @property
    def force_balance_error(self) -> float:
        """
        Greatest relative difference between closing force and film force: a numerical error of the solution.
        """
    @property
    def height(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Height of a slice's centre above the deck. (m)
        """
    @property
    def hoop_tension(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Film force per height of load, all layers, over time, face and height. (N/m)
        """
    @property
    def hoop_tension_buildup(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Hoop tension when each turn is finished. (N/m)
        """
    @property
    def indices(self) -> list[UnknownIndex]:
        """
        First-order and total Sobol' indices of the ranked quantity, largest total first; empty unless asked for.
        """
    @property
    def layer_tension(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Tension per height of each film layer at the end of wrapping; layer 1 lies on the load. (N/m)
        """
    @property
    def load(self) -> LoadResult:
        ...
    @property
    def pattern(self) -> PatternResult:
        ...
    @property
    def sensitivity(self) -> Sensitivity | None:
        ...
    @property
    def span(self) -> SpanResult:
        ...
    @property
    def targets(self) -> list[TargetResult]:
        """
        Each target with the predicted value and whether it is met.
        """
    @property
    def temperature(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Temperature of film and surroundings over time. (K)
        """
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Time since the end of the last turn. (s)
        """
    @property
    def turn(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        Finished turns.
        """
    @property
    def version(self) -> str:
        """
        Version that computed the result.
        """
    @property
    def warnings(self) -> list[Warning]:
        """
        What to know before the numbers are used: code, severity, key, text.
        """
    @property
    def weakest(self) -> ContainmentResult:
        ...
class TakeUp:
    """
    How fast a turning rectangle takes film up.
    """
    def __init__(self, length: typing.SupportsFloat | typing.SupportsIndex, width: typing.SupportsFloat | typing.SupportsIndex, distance: typing.SupportsFloat | typing.SupportsIndex, offset: typing.SupportsFloat | typing.SupportsIndex, axis_offset: typing.SupportsFloat | typing.SupportsIndex, corner_radius: typing.SupportsFloat | typing.SupportsIndex) -> None:
        """
        All in m.
        """
    def at(self, angle: typing.Any) -> dict:
        """
        lever_arm, span, wrap_rate, normal_angle and corner per angle (rad).
        """
    def events(self) -> list:
        """
        The four faces of a turn as (angle, face, span before, span after).
        """
    @property
    def mean_span(self) -> float:
        """
        m
        """
    @property
    def perimeter(self) -> float:
        """
        m
        """
class Plan:
    """
    Everything known before film touches the load.
    """
    def __init__(self, scenario: Scenario) -> None:
        ...
    @property
    def edge_begin(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        lower edge at the corner laid first, m
        """
    @property
    def edge_end(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        lower edge at the corner laid last, m
        """
    @property
    def face(self) -> list[str]:
        """
        face of each patch, in the order they are laid
        """
    @property
    def film_length_on_roll(self) -> float:
        """
        m
        """
    @property
    def film_path(self) -> FilmPathResult:
        ...
    @property
    def force(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        N over the whole film width
        """
    @property
    def output_times(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        s, of the fields of a prediction
        """
    @property
    def perimeter(self) -> float:
        """
        m
        """
    @property
    def rotation_time(self) -> float:
        """
        s of rotation
        """
    @property
    def stretch(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        strain of the film of each patch
        """
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        s, 0 = end of wrapping
        """
    @property
    def turn(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        turns since the start when each patch is laid
        """
    @property
    def width(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        m
        """
class Buildup:
    """
    Hoop tension and closing of the load, turn by turn and over storage.
    """
    @property
    def closing_along_length(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (time, height) m
        """
    @property
    def closing_along_width(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (time, height) m
        """
    @property
    def film_layers(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (face, height)
        """
    @property
    def hoop_tension(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (time, face, height) N/m
        """
    @property
    def hoop_tension_buildup(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (turn, face, height) N/m
        """
    @property
    def layer_tension(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (film_layer, face, height) N/m at time 0
        """
    @property
    def residual(self) -> float:
        """
        greatest relative residual of the force balance
        """
    @property
    def slip_tension(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (face, height) N/m: what slip round the corners after lay-down gave a face, summed over all slips
        """
    @property
    def unsettled_slips(self) -> int:
        """
        times that film found no rest when it should have slipped
        """
class SweepAxis:
    """
    One varied input and its value in every case.
    """
    @property
    def key(self) -> str:
        ...
    @property
    def unit(self) -> str:
        """
        SI unit of numbers; empty for pure numbers and texts
        """
    @property
    def values(self) -> typing.Any:
        """
        array of SI numbers, or list of texts
        """
class SweepPlan:
    """
    One scenario, the inputs that vary, and their value in every case.
    """
    def __reduce__(self) -> tuple:
        ...
    def case(self, index: typing.SupportsInt | typing.SupportsIndex) -> Scenario:
        """
        The scenario of one case.
        """
    def file_size(self) -> float:
        """
        Greatest size of the file and its journal on disk, bytes.
        """
    def take_shard(self, shard: str) -> SweepPlan:
        """
        The cases of one shard, "3/16", as a plan.
        """
    @property
    def axes(self) -> list[SweepAxis]:
        ...
    @property
    def case_count(self) -> int:
        ...
    @property
    def first_case(self) -> int:
        """
        number of the first case in the whole sweep
        """
    @property
    def grid_shape(self) -> list[int]:
        """
        grid only: values per axis, the last varies fastest
        """
    @property
    def hash(self) -> str:
        """
        Equal plans, equal hash.
        """
    @property
    def outputs(self) -> list[str]:
        ...
    @property
    def sampling(self) -> str:
        ...
    @property
    def shard(self) -> dict:
        """
        What a file says of the share this plan is; empty for a whole sweep.
        """
class SweepOutput:
    """
    One output of all cases.
    """
    @property
    def dims(self) -> list[str]:
        """
        after case
        """
    @property
    def long_name(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def unit(self) -> str:
        ...
    @property
    def values(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (case, *dims); NaN for failed and pending cases
        """
class SweepCoordinate:
    """
    Values along a dimension of field outputs.
    """
    @property
    def name(self) -> str:
        ...
    @property
    def per_case(self) -> bool:
        ...
    @property
    def unit(self) -> str:
        ...
    @property
    def values(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        (size) or, per case, (case, size)
        """
class SweepResult:
    """
    Data of a sweep.
    """
    @property
    def coordinates(self) -> list[SweepCoordinate]:
        ...
    @property
    def failed(self) -> int:
        ...
    @property
    def finished(self) -> int:
        ...
    @property
    def message(self) -> list[str]:
        """
        why a case failed
        """
    @property
    def outputs(self) -> list[SweepOutput]:
        ...
    @property
    def resumed(self) -> int:
        ...
    @property
    def status(self) -> numpy.typing.NDArray[numpy.int8]:
        """
        0 done, 1 failed, 2 pending
        """
    @property
    def stopped(self) -> bool:
        ...
class CollectedSweep:
    """
    A sweep whose cases are computed elsewhere and come back in blocks.
    """
    def __init__(self, plan: SweepPlan, file: os.PathLike | str | bytes, overwrite: bool, resume: bool) -> None:
        ...
    def fail(self, first: typing.SupportsInt | typing.SupportsIndex, count: typing.SupportsInt | typing.SupportsIndex, message: str) -> None:
        """
        Records the cases of a block as failed.
        """
    def finish(self) -> SweepResult:
        """
        Saves what came; the last call.
        """
    def pending(self, most: typing.SupportsInt | typing.SupportsIndex) -> list[tuple[int, int]]:
        """
        What is not finished, as (first, count) with at most `most` cases each.
        """
    def plan_of(self, first: typing.SupportsInt | typing.SupportsIndex, count: typing.SupportsInt | typing.SupportsIndex) -> SweepPlan:
        """
        The cases of a block as a plan.
        """
    def progress(self) -> tuple[float, str]:
        """
        Share done, and a text.
        """
    def take(self, packed: bytes) -> None:
        """
        What compute_packed() made of a block.
        """
class CompareSide:
    """
    One side of a comparison before it is predicted.
    """
    @property
    def measured(self) -> bool:
        ...
    @property
    def name(self) -> str:
        ...
class Comparison:
    """
    Sides predicted and judged.
    """
    def predictions(self) -> list:
        """
        (scenario, result) of every side, None for measured and failed ones
        """
    def sentences(self) -> list[str]:
        ...
    def text(self, inch_pound: bool) -> str:
        ...
    def to_csv(self) -> str:
        ...
    def to_json(self) -> str:
        ...
def _curve_of(*args) -> FilmCurve:
    """
    A pickled curve.
    """
def _plan_of(scenario: Scenario, sampling: str, axes: list, outputs: collections.abc.Sequence[str], first_case: typing.SupportsInt | typing.SupportsIndex) -> SweepPlan:
    """
    A pickled plan.
    """
def _result_of(state: tuple) -> Result:
    """
    A pickled result.
    """
def _scenario_of(state: tuple) -> Scenario:
    """
    A pickled scenario.
    """
def band_of_draws(values: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> Band | None:
    """
    Band of numbers by rank p (n + 1); None for fewer than 16.
    """
def buildup(plan: Plan, face_force: typing.Any, time: typing.Any, progress: typing.Any) -> Buildup:
    """
    Winds the patches of a plan and stores the load.
    """
def calibrate(scenario: Scenario, readings: collections.abc.Sequence[tuple[str, str]], free: collections.abc.Sequence[str], held: collections.abc.Sequence[str], band_samples: typing.SupportsInt | typing.SupportsIndex, progress: typing.Any = None) -> tuple:
    """
    The corrected scenario, JSON and words of a calibration.
    """
def compare(sides: collections.abc.Sequence[CompareSide], same: str, best_prestretch: bool, break_share: typing.SupportsFloat | typing.SupportsIndex, sensitivity: bool, factors: bool, unknowns: bool, present_unknowns: bool, band_samples: typing.SupportsInt | typing.SupportsIndex, words_at: typing.SupportsFloat | typing.SupportsIndex, progress: typing.Any) -> Comparison:
    ...
def compute_packed(plan: SweepPlan, jobs: typing.SupportsInt | typing.SupportsIndex) -> bytes:
    """
    Predicts every case of a plan; bytes for CollectedSweep.take().
    """
def curve_from_arrays(name: str, names: collections.abc.Sequence[str], values: list, conditions: collections.abc.Sequence[tuple[str, str]]) -> LabCurve:
    """
    A curve from columns of one length, named as in a file.
    """
def curve_from_file(path: str, columns: str, conditions: collections.abc.Sequence[tuple[str, str]]) -> LabCurve:
    """
    A curve from a file; columns: names for a table without any, else empty.
    """
def curve_of_test(curve: FilmCurve, name: str) -> LabCurve:
    """
    A virtual test as a laboratory curve.
    """
def explain_text(key: str) -> str:
    """
    Page of one key, list of a table, or list of all for "". Raises InputError with near keys.
    """
def face_sketch() -> str:
    """
    The load from above with the names of its faces.
    """
def film_from_datasheet(path: str) -> FilmFit:
    """
    Film law from a data sheet file.
    """
def film_from_text(text: str, name: str) -> Film:
    """
    The same for a text.
    """
def film_numbers(film: Film, rate: typing.SupportsFloat | typing.SupportsIndex, stretch: typing.SupportsFloat | typing.SupportsIndex, width_exponent: typing.SupportsFloat | typing.SupportsIndex, temperature: typing.SupportsFloat | typing.SupportsIndex | None) -> dict:
    """
    Comparison numbers of the film; SI.
    """
def film_path(film: Film, width: typing.SupportsFloat | typing.SupportsIndex, thickness: typing.SupportsFloat | typing.SupportsIndex, prestretch: typing.SupportsFloat | typing.SupportsIndex, force: typing.SupportsFloat | typing.SupportsIndex, take_up_speed: typing.SupportsFloat | typing.SupportsIndex, roller_gap: typing.SupportsFloat | typing.SupportsIndex, roller_arc: typing.SupportsFloat | typing.SupportsIndex, internal_path: typing.SupportsFloat | typing.SupportsIndex, mean_span: typing.SupportsFloat | typing.SupportsIndex, neck_in: typing.SupportsFloat | typing.SupportsIndex | None, width_on_load: typing.SupportsFloat | typing.SupportsIndex | None, temperature: typing.SupportsFloat | typing.SupportsIndex | None) -> FilmPathResult:
    """
    From the roll to the load under a span force; SI, stretch as strain.
    """
def find_parameters(text: str) -> list[Parameter]:
    """
    Declarations meant by a key or by its last part.
    """
def first_sentence(scenario: Scenario, result: Result) -> str:
    """
    What the command and the report say first of a prediction.
    """
def fit_film(curves: collections.abc.Sequence[LabCurve], branches: typing.SupportsInt | typing.SupportsIndex | None, name: str, density: typing.SupportsFloat | typing.SupportsIndex | None, neck_in: typing.SupportsFloat | typing.SupportsIndex | None, starts: typing.SupportsInt | typing.SupportsIndex, model_error: typing.SupportsFloat | typing.SupportsIndex, hold_out: collections.abc.Sequence[LabCurve], progress: typing.Any) -> FilmFit:
    """
    Film law from curves.
    """
def hdf5_bytes(scenario: Scenario, result: Result) -> bytes:
    """
    The result file as bytes.
    """
def indices(scenario: Scenario, result: Result, band_samples: typing.SupportsInt | typing.SupportsIndex | None, progress: typing.Any) -> list[UnknownIndex]:
    """
    Sobol' indices of the unknowns.
    """
def labelled(result: Result) -> list:
    """
    Every number and field with its declaration.
    """
def library_film(name: str) -> Film:
    """
    A film that comes with hoopfield.
    """
def library_films() -> list[str]:
    """
    Names of the films that come with hoopfield.
    """
def make_sweep_plan(scenario: Scenario, sampling: str, varied: collections.abc.Sequence[tuple[str, collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex | str], typing.SupportsFloat | typing.SupportsIndex | str | None, typing.SupportsFloat | typing.SupportsIndex | str | None, typing.SupportsInt | typing.SupportsIndex]], samples: typing.SupportsInt | typing.SupportsIndex, seed: typing.SupportsInt | typing.SupportsIndex, outputs: collections.abc.Sequence[str], fails_outside: bool) -> SweepPlan:
    """
    Checks keys, values and outputs and lays out the cases; varied: (key, values, from, to, steps).
    """
def merge_sweeps(shards: collections.abc.Sequence[os.PathLike | str | bytes], file: os.PathLike | str | bytes, overwrite: bool) -> SweepResult:
    """
    Puts the files of all shards of a sweep together.
    """
def nearest_keys(text: str, count: typing.SupportsInt | typing.SupportsIndex = 3) -> list[str]:
    """
    Declared keys nearest to a text.
    """
def next_readings(scenario: Scenario, progress: typing.Any = None) -> str:
    """
    JSON of the readings that would narrow the band most.
    """
def parse_quantity(text: str, si_unit: str) -> float:
    """
    "12 rpm" to SI: parse_quantity("12 rpm", "rad/s"). Raises InputError.
    """
def predict(scenario: Scenario, progress: typing.Any, complete: bool, band_samples: typing.SupportsInt | typing.SupportsIndex | None) -> Result:
    """
    Predicts one wrap with its bands; `complete` adds sensitivity and ranked unknowns, as the command does.
    """
def predicted_readings(scenario: Scenario, readings: collections.abc.Sequence[tuple[str, str]]) -> list[float]:
    """
    What each reading of some texts would show on the load of a scenario, SI.
    """
def read_film(path: str) -> Film:
    """
    Reads a film file.
    """
def read_scenario(path: str) -> Scenario:
    """
    Reads a scenario file and the film file it names.
    """
def read_side(path: str, name: str) -> CompareSide:
    ...
def read_sweep(path: str) -> SweepPlan:
    """
    Reads a sweep file with its scenario and table.
    """
def report_page_absence() -> str:
    """
    Why this build writes plain tables only; empty when it has the page.
    """
def requirement_from_here(name: str) -> str:
    """
    What transit.requirement takes for it.
    """
def ride(tiers: list, time: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], along: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], normal: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], duration: typing.SupportsFloat | typing.SupportsIndex, interval: typing.SupportsFloat | typing.SupportsIndex, step: typing.SupportsFloat | typing.SupportsIndex | None, keys: dict) -> dict:
    """
    A stack under a course of acceleration.
    """
def run_sweep(plan: SweepPlan, jobs: typing.SupportsInt | typing.SupportsIndex, file: os.PathLike | str | bytes, overwrite: bool, resume: bool, keep: bool, progress: typing.Any) -> SweepResult:
    """
    Predicts every case of a plan on `jobs` threads (0 = one per processor).
    """
def scenario_from_text(text: str, name: str, base_dir: str) -> Scenario:
    """
    The same for a text; film paths start from base_dir.
    """
def scenario_keys() -> list[str]:
    """
    Every key a scenario may have, in the order of the reference.
    """
def scenario_side(scenario: Scenario, name: str) -> CompareSide:
    ...
def scenario_with_film(text: str, name: str, film_text: str) -> Scenario:
    """
    The same with the text of the film file.
    """
def short_caution() -> str:
    """
    What every prediction carries.
    """
def sobol_index(a: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], b: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], ab: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> UnknownIndex:
    """
    Indices of one input from rows of a model.
    """
def summary_json(scenario: Scenario, result: Result) -> str:
    """
    The summary as the command prints it with --json, without run_info.
    """
def to_unit(si_value: typing.SupportsFloat | typing.SupportsIndex, unit: str) -> float:
    """
    An SI value in another unit. Raises InputError.
    """
def transit(scenario: Scenario, result: Result, tilt: bool = False, band_samples: typing.SupportsInt | typing.SupportsIndex = 0, progress: typing.Any = None) -> tuple:
    """
    JSON, time histories by direction and words of the load in transit.
    """
def trial(present: Scenario, candidate: Scenario, loads: typing.SupportsInt | typing.SupportsIndex, minutes: typing.SupportsFloat | typing.SupportsIndex, load_scatter: typing.SupportsFloat | typing.SupportsIndex) -> str:
    """
    JSON of the readings that tell two scenarios apart.
    """
def with_ranking(scenario: Scenario, result: Result, progress: typing.Any, known_for: typing.SupportsInt | typing.SupportsIndex) -> Result:
    """
    A copy of the result with ranked unknowns.
    """
def with_sensitivity(scenario: Scenario, result: Result, progress: typing.Any) -> Result:
    """
    A copy of the result with its sensitivity.
    """
def write_csv(folder: os.PathLike | str | bytes, scenario: Scenario, result: Result, overwrite: bool) -> None:
    """
    Writes the tables.
    """
def write_hdf5(path: os.PathLike | str | bytes, scenario: Scenario, result: Result, overwrite: bool) -> None:
    """
    Writes the result file.
    """
def write_report(path: os.PathLike | str | bytes, sides: collections.abc.Sequence[tuple[str, Scenario | None, Result | None, str, bool]], comparison_json: str, inch_pound: bool, overwrite: bool) -> None:
    """
    Writes a report; sides are (name, scenario, result, message, measured).
    """
__version__: str = '0.1.0'
