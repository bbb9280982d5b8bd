#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Do the 95 % intervals of a film fit hold the truth when the film follows another law?

Films of foreign_films.py are tested as a laboratory would, noise is added, and the fit sees the files alone. An
interval holds when the number computed from the film's own tests lies inside. Held-out errors are the root mean
square and the greatest of predicted less true stress on three curves the fit has not seen, over their mean stress.
Figures stand in DEVELOPERS.md.

  python tests/consistency/foreign_coverage.py --seeds 40 --jobs 2
  python tests/consistency/foreign_coverage.py --held-out
"""

from __future__ import annotations

import argparse
import concurrent.futures
import itertools
import pathlib
import tempfile
import time

import numpy as np

import foreign_films as foreign
import hoopfield as hf

NOISES = (0.005, 0.01, 0.03)
SETS = ("few", "six")


def fitted(film: foreign.Film, which: str, noise: float, seed: int, folder: pathlib.Path, **options):
    random = np.random.default_rng([seed, int(1e4 * noise), len(which)])
    paths = []
    for name, (kind, temperature, rows) in foreign.curve_set(film, which).items():
        paths.append(folder / f"{name}.csv")
        paths[-1].write_text(foreign.csv_text(kind, temperature, rows, noise, random))
    return hf.fit_film(paths, **options)


def one(task):
    name, which, noise, seed = task
    film = foreign.FILMS[name]()
    true = foreign.truth(film)
    began = time.process_time()
    with tempfile.TemporaryDirectory() as folder:
        fit = fitted(film, which, noise, seed, pathlib.Path(folder))
    took = time.process_time() - began
    numbers = {}
    for key, (low, high) in fit.intervals.items():
        if key in true:
            value = fit.numbers[key][0]
            numbers[key] = (true[key], value, low, high, high - low <= 0.2 * abs(value))
    return task, numbers, fit.film.text.count("[[branch]]"), took


def show(results):
    held = {}
    for (name, which, noise, seed), numbers, branches, took in results:
        for key, (true, value, low, high, determined) in numbers.items():
            cell = held.setdefault((name, which, noise), {}).setdefault(key, [])
            cell.append((low <= true <= high, (high - low) / abs(true), value / true - 1 if true else 0, determined))
        held.setdefault((name, which, noise, "meta"), []).append((branches, took))
    print(f"{'film':<10}{'curves':<7}{'noise':>6}{'inside':>8}{'width':>7}{'open':>6}{'branches':>9}{'s':>6}  misses")
    inside = total = 0
    for name, which, noise in sorted({k[:3] for k in held}):
        cells = held[(name, which, noise)]
        rows = [x for cell in cells.values() for x in cell]
        inside += sum(r[0] for r in rows)
        total += len(rows)
        meta = held[(name, which, noise, "meta")]
        misses = ", ".join(
            f"{k} {np.mean([r[0] for r in c]):.2f} ({np.mean([r[2] for r in c]):+.2f})"
            for k, c in cells.items()
            if np.mean([r[0] for r in c]) < 0.9
        )
        print(
            f"{name:<10}{which:<7}{noise:>6}{np.mean([r[0] for r in rows]):>8.3f}"
            f"{np.median([r[1] for r in rows]):>7.3f}{np.mean([not r[3] for r in rows]):>6.2f}"
            f"{np.mean([m[0] for m in meta]):>9.1f}{np.mean([m[1] for m in meta]):>6.1f}  {misses}"
        )
    print(f"all: {inside / total:.3f} of {total}")
    for name, which in itertools.product(foreign.FILMS, SETS):
        steps = []
        for quiet, loud in itertools.pairwise(NOISES):
            a, b = held.get((name, which, quiet), {}), held.get((name, which, loud), {})
            ratios = [np.median([r[1] for r in b[k]]) / np.median([r[1] for r in a[k]]) for k in a if k in b]
            steps.append(float(np.exp(np.mean(np.log(ratios)))) if ratios else float("nan"))
        print(f"{name:<10}{which:<7} widths, more noise over less: " + ", ".join(f"{x:.2f}" for x in steps))


def show_held_out(names):
    """A fit of the six curves at 0.5 % noise, against three it has not seen."""
    for name in names:
        film = foreign.FILMS[name]()
        with tempfile.TemporaryDirectory() as folder:
            unseen = []
            for key, (kind, temperature, rows) in foreign.curve_set(film, "held_out").items():
                unseen.append(pathlib.Path(folder) / f"unseen_{key}.csv")
                unseen[-1].write_text(foreign.csv_text(kind, temperature, rows, 0.0, np.random.default_rng(0)))
            fit = fitted(film, "six", 0.005, 0, pathlib.Path(folder), hold_out=unseen)
        told = ", ".join(
            f"{pathlib.Path(c['name']).stem[7:]} {100 * c['rms']:.1f} % (most {100 * c['greatest_residual']:.0f} %)"
            for c in fit.held_out
        )
        found, true = fit.numbers["permanent_set"][0], foreign.truth(film)["permanent_set"]
        print(f"{name:<10} {told}; set after a day {100 * found:.0f} against {100 * true:.0f} %")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, default=40)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--held-out", action="store_true")
    parser.add_argument("--films", nargs="*", default=list(foreign.FILMS))
    parser.add_argument("--sets", nargs="*", default=SETS)
    options = parser.parse_args()
    if options.held_out:
        return show_held_out(options.films)
    tasks = list(itertools.product(options.films, options.sets, NOISES, range(options.seeds)))
    with concurrent.futures.ProcessPoolExecutor(options.jobs) as pool:
        show(list(pool.map(one, tasks)))


if __name__ == "__main__":
    main()
