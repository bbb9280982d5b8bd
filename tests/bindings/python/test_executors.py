# SPDX-License-Identifier: BSD-3-Clause
"""Sweeps on executors: the file of one process, whatever computes the cases and whoever is killed meanwhile."""

import concurrent.futures
import multiprocessing
import os
import pickle
import signal

import numpy as np
import pytest

xarray = pytest.importorskip("xarray")
h5py = pytest.importorskip("h5py")
import hoopfield as hf  # noqa: E402

FORCE, STRETCH, SPEED = "delivery.tension.force", "delivery.prestretch", "rotation.speed"
# Two thousand cases; the highest force is more than the film takes, so that a tenth of them fail.
VARY = {
    FORCE: [50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0, 500.0],
    STRETCH: {"from": "200 %", "to": "260 %", "steps": 20},
    SPEED: {"from": "8 rpm", "to": "16 rpm", "steps": 10},
}
FEW = {FORCE: [50.0, 70.0, 500.0], STRETCH: {"from": "200 %", "to": "260 %", "steps": 8}}


@pytest.fixture(scope="module")
def cheap(scenario):
    return scenario.replace(
        {"numerics.slices": 2, "numerics.tolerance": 1e-2, "storage.duration": "60 s", "storage.temperature": "23 degC"}
    )


@pytest.fixture(scope="module")
def whole(cheap, tmp_path_factory):
    path = tmp_path_factory.mktemp("whole") / "whole.h5"
    hf.sweep(cheap, VARY, file=path).close()
    return path


def assert_same_file(first, second):
    """Every variable and attribute, bit for bit."""

    def contents(path):
        found = {}
        with h5py.File(path, "r") as file:
            found["/"] = sorted(file.attrs.items())

            def visit(name, item):
                attributes = sorted((k, v) for k, v in item.attrs.items() if isinstance(v, (str, bytes)))
                found[name] = (attributes, item[()] if isinstance(item, h5py.Dataset) else None)

            file.visititems(visit)
        return found

    a, b = contents(first), contents(second)
    assert list(a) == list(b) and a["/"] == b["/"]
    for name in a:
        if name == "/":
            continue
        assert a[name][0] == b[name][0], name
        x, y = a[name][1], b[name][1]
        same = x is None or np.array_equal(x, y, equal_nan=getattr(x, "dtype", np.dtype(object)).kind == "f")
        assert same or x == y, name


class KillAt:
    """Progress that kills a process once a fifth of the sweep is done."""

    def __init__(self, pid):
        self.pid, self.killed_at = pid, None

    def __call__(self, share, text):
        if self.killed_at is None and share > 0.2:
            self.killed_at = share
            os.kill(self.pid(), signal.SIGKILL)


def test_a_cluster_that_loses_a_worker(cheap, whole, tmp_path):
    distributed = pytest.importorskip("distributed")
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        pids = client.run(os.getpid)
        kill = KillAt(lambda: next(iter(pids.values())))
        hf.sweep(cheap, VARY, executor=client, file=tmp_path / "s.h5", progress=kill).close()
        assert kill.killed_at is not None and kill.killed_at < 1.0
        assert set(client.run(os.getpid).values()) != set(pids.values())  # another has come
    assert_same_file(tmp_path / "s.h5", whole)
    assert not list(tmp_path.glob("s.h5.*"))


def test_processes_of_which_one_is_killed(cheap, whole, tmp_path):
    spawn = multiprocessing.get_context("spawn")
    with concurrent.futures.ProcessPoolExecutor(2, mp_context=spawn) as pool:
        kill = KillAt(lambda: next(iter(pool._processes)))
        hf.sweep(cheap, VARY, executor=pool, file=tmp_path / "s.h5", progress=kill).close()
        assert kill.killed_at is not None and kill.killed_at < 1.0
    assert_same_file(tmp_path / "s.h5", whole)


def test_threads_and_memory(cheap):
    near = hf.sweep(cheap, FEW, outputs=["summary", "hoop_tension"])
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        far = hf.sweep(cheap, FEW, outputs=["summary", "hoop_tension"], executor=pool)
    xarray.testing.assert_identical(near, far)


def test_a_stopped_sweep_resumes_here_or_there(cheap, whole, tmp_path):
    """Processes forked by the pool live on; the file is free all the same."""
    fork = multiprocessing.get_context("fork")
    with concurrent.futures.ProcessPoolExecutor(2, mp_context=fork) as pool:
        part = hf.sweep(cheap, VARY, executor=pool, file=tmp_path / "s.h5", progress=lambda share, text: share < 0.2)
        left = int((part["status"] == 2).sum())
        part.close()
        assert 0 < left < 2000 and (tmp_path / "s.h5.part").exists()
        again = hf.sweep(
            cheap, VARY, executor=pool, file=tmp_path / "s.h5", resume=True, progress=lambda share, text: share < 0.5
        )
        assert int((again["status"] == 2).sum()) < left
        again.close()
        hf.sweep(cheap, VARY, file=tmp_path / "s.h5", resume=True).close()
    assert_same_file(tmp_path / "s.h5", whole)


def test_what_progress_raises_comes_out_and_the_file_is_kept(cheap, tmp_path):
    def fail(share, text):
        if share > 0:
            raise KeyboardInterrupt

    with concurrent.futures.ThreadPoolExecutor(2) as pool, pytest.raises(KeyboardInterrupt):
        hf.sweep(cheap, VARY, executor=pool, file=tmp_path / "s.h5", progress=fail)
    with hf.open(tmp_path / "s.h5.part") as part:
        assert (part["status"] == 2).any() and (part["status"] != 2).any()


class Fragile(concurrent.futures.Executor):
    """Works at once, and loses the worker of every block that holds certain cases."""

    def __init__(self, deadly, times=10**9):
        self.deadly, self.left, self.tries = deadly, dict.fromkeys(deadly, times), []

    def submit(self, work, version, plan, jobs):
        cases = range(plan.first_case, plan.first_case + plan.case_count)
        self.tries.append(cases)
        future = concurrent.futures.Future()
        hit = [case for case in self.deadly if case in cases and self.left[case] > 0]
        if hit:
            self.left[hit[0]] -= 1
            future.set_exception(concurrent.futures.BrokenExecutor("the worker was killed"))
        else:
            future.set_result(work(version, pickle.loads(pickle.dumps(plan)), jobs))
        return future


def test_blocks_are_tried_three_times_again(cheap):
    near = hf.sweep(cheap, FEW)
    lucky = Fragile([5], times=3)
    xarray.testing.assert_identical(near, hf.sweep(cheap, FEW, executor=lucky))
    assert sum(5 in cases for cases in lucky.tries) == 4
    unlucky = Fragile([5], times=4)
    far = hf.sweep(cheap, FEW, executor=unlucky)
    lost = far["message"].values == "lost with its worker 4 times: the worker was killed"
    assert lost[5] and far["status"].values[5] == 1
    np.testing.assert_array_equal(far["status"].values[~lost], near["status"].values[~lost])
    np.testing.assert_array_equal(far["film.mass"].values[~lost], near["film.mass"].values[~lost])


def test_when_no_worker_lives_the_sweep_ends(cheap):
    with pytest.raises(hf.SolverError, match="every worker is lost: the worker was killed"):
        hf.sweep(cheap, FEW, executor=Fragile(range(24)))


def test_what_is_no_executor(cheap):
    for wrong in (2, "processes", concurrent.futures.ThreadPoolExecutor):
        with pytest.raises(hf.InputError, match=r"must have submit\(\)"):
            hf.sweep(cheap, FEW, executor=wrong)


def test_a_worker_of_another_version_is_said(cheap):
    class Old(Fragile):
        def submit(self, work, version, plan, jobs):
            future = concurrent.futures.Future()
            try:
                work("0.0", plan, jobs)
            except RuntimeError as error:
                future.set_exception(error)
            return future

    with pytest.raises(RuntimeError, match="the sweep was started with 0.0"):
        hf.sweep(cheap, FEW, executor=Old([]))


def test_what_does_not_belong_to_the_sweep_is_refused(cheap):
    class Wrong(Fragile):
        def submit(self, work, version, plan, jobs):
            future = concurrent.futures.Future()
            future.set_result(b"not cases")
            return future

    with pytest.raises(hf.InputError, match="do not belong to this sweep"):
        hf.sweep(cheap, FEW, executor=Wrong([]))
