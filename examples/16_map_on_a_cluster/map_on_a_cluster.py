# SPDX-License-Identifier: BSD-3-Clause
"""A map of force, pre-stretch and rotation speed, computed by a cluster: the cases go to its workers in blocks.

python map_on_a_cluster.py [folder] [values per axis] [scheduler, "tcp://node1:8786"]

Without a scheduler a cluster of two processes is started here, with Dask where it is installed, else with the pool of
the standard library.
"""

import contextlib
import pathlib
import sys

import numpy as np

import hoopfield as hf

HERE = pathlib.Path(__file__).resolve().parent
LEAST = "containment.after_storage.bottom.hoop_tension"


@contextlib.contextmanager
def workers(scheduler):
    """What takes the blocks: a Dask client, or a pool of processes."""
    try:
        import distributed
    except ImportError:
        from concurrent.futures import ProcessPoolExecutor

        with ProcessPoolExecutor(2) as pool:
            yield pool
        return
    if scheduler:
        with distributed.Client(scheduler) as client:
            yield client
        return
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        yield client


def tell(share, text):
    if sys.stderr.isatty():
        print(f"\r{text:<70}", end="", file=sys.stderr)


def main(folder=".", count="8", scheduler=None):
    n = int(count)
    scenario = hf.read(HERE.parent / "01_first_prediction" / "scenario.toml").replace({"numerics.slices": 12})
    vary = {
        "delivery.tension.force": np.linspace(45.0, 95.0, n),
        "delivery.prestretch": hf.with_unit(np.linspace(180, 280, n), "%"),
        "rotation.speed": hf.with_unit([8, 12, 16], "rpm"),
    }
    file = pathlib.Path(folder) / "map.h5"
    # The one line: an executor in the place of the processors here. Stopped or killed, the same call goes on where it
    # was; a worker that is lost is only time.
    with workers(scheduler) as executor:
        data = hf.sweep(
            scenario, vary, executor=executor, file=file, resume=True, outputs=["film", LEAST], progress=tell
        )
    with data:
        print(f"{data.sizes['case']} cases in {file.name}, {int((data['status'] == 1).sum())} failed")
        grid = hf.in_customary_units(hf.unstack(data))[LEAST].sel({"rotation.speed": 12.0}, method="nearest")
        print("Hoop tension at the bottom after storage, N/m, at 12 rpm\n  force, N" + "  pre-stretch, %".rjust(20))
        print(" " * 10 + "".join(f"{p:8.0f}" for p in grid["delivery.prestretch"].values))
        for force in grid["delivery.tension.force"].values:
            row = grid.sel({"delivery.tension.force": force}).values
            print(f"{force:10.0f}" + "".join(f"{value:8.0f}" if np.isfinite(value) else f"{'-':>8}" for value in row))


if __name__ == "__main__":
    main(*sys.argv[1:])
