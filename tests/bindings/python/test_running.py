# SPDX-License-Identifier: BSD-3-Clause
"""While it computes: other threads run, progress is told, Ctrl-C stops, processes are spawned."""
import concurrent.futures
import multiprocessing
import os
import pickle
import signal
import statistics
import subprocess
import sys
import textwrap
import threading
import time

import numpy as np
import pytest

import hoopfield as hf


@pytest.fixture(scope="module")
def long(scenario):
    """Takes some seconds."""
    return scenario.replace({"numerics.slices": 2000, "numerics.tolerance": 1e-5})


def test_other_threads_run_meanwhile(long):
    ticks, stop = [], threading.Event()

    def tick():
        while not stop.is_set():
            ticks.append(time.perf_counter())
            time.sleep(0.002)

    thread = threading.Thread(target=tick)
    thread.start()
    start = time.perf_counter()
    hf.predict(long)
    end = time.perf_counter()
    stop.set()
    thread.join()
    inside = [t for t in ticks if start < t < end]
    assert end - start > 0.3, "the case is too quick to tell"
    assert len(inside) > 10
    # Never locked out for long: without releasing the lock this would be the whole computation.
    assert max(np.diff([start, *inside, end])) < 0.5 * (end - start)


def test_threads_predict_at_once_and_alike(small):
    forces = [50.0, 60.0, 70.0, 80.0]
    variants = [small.replace({"delivery.tension.force": f}) for f in forces]
    with concurrent.futures.ThreadPoolExecutor(4) as pool:
        together = list(pool.map(hf.predict, variants))
    for variant, r in zip(variants, together):
        assert hf.predict(variant).to_json() == r.to_json()


def work(scenario):
    return hf.predict(scenario)


def test_spawned_processes(small):
    with multiprocessing.get_context("spawn").Pool(2) as pool:
        far = pool.map(work, [small, small.replace({"delivery.tension.force": "80 N"})])
    near = hf.predict(small)
    assert far[0].to_json() == near.to_json() and far[0].scenario == small
    np.testing.assert_array_equal(far[0].hoop_tension, near.hoop_tension)


def test_errors_come_back_from_processes(small):
    with multiprocessing.get_context("spawn").Pool(1) as pool, pytest.raises(hf.SolverError):
        pool.map(work, [small.replace({"delivery.tension.force": "500 N"})])


def test_results_pickle_whole(result, tmp_path):
    again = pickle.loads(pickle.dumps(result))
    result.save(tmp_path / "a.h5")
    again.save(tmp_path / "b.h5")
    assert (tmp_path / "a.h5").read_bytes() == (tmp_path / "b.h5").read_bytes()
    complete = hf.predict(result.scenario, complete=True)
    assert pickle.loads(pickle.dumps(complete)).summary == complete.summary
    assert complete.assumed and complete.sensitivity


def test_progress_is_told_in_order(long):
    told = []
    hf.predict(long, progress=lambda share, stage: told.append((share, stage)))
    shares = [share for share, _ in told]
    assert len(told) > 3 and shares == sorted(shares) and shares[-1] == 1.0
    assert all(isinstance(stage, str) and stage for _, stage in told)


def test_progress_can_stop(long):
    start = time.perf_counter()
    with pytest.raises(hf.Interrupted):
        hf.predict(long, progress=lambda share, stage: False)
    assert time.perf_counter() - start < 1.0


def test_what_progress_raises_comes_out(long):
    def fail(share, stage):
        raise LookupError("from the callback")
    with pytest.raises(LookupError, match="from the callback"):
        hf.predict(long, progress=fail)
    with pytest.raises(LookupError):
        hf.rank_unknowns(hf.predict(long.replace({"numerics.slices": 60})), progress=fail)


@pytest.mark.parametrize("what", ["hf.predict(sc)", "hf.predict(sc, complete=True)", "hf.plan_wrap(sc) and hf.build_up(sc)"])
def test_ctrl_c_stops_within_a_second(scenario_path, what):
    script = textwrap.dedent(f"""
        import sys, time
        import hoopfield as hf
        sc = hf.read({str(scenario_path)!r}).replace({{"numerics.slices": 2000, "numerics.tolerance": 1e-5}})
        print("ready", flush=True)
        try:
            while True:
                {what}
        except KeyboardInterrupt:
            print("stopped", flush=True)
    """)
    process = subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout.readline().strip() == "ready"
        time.sleep(0.7)
        start = time.perf_counter()
        os.kill(process.pid, signal.SIGINT)
        assert process.stdout.readline().strip() == "stopped"
        assert time.perf_counter() - start < 1.0
    finally:
        process.kill()
        process.wait()


def test_one_call_costs_little(small):
    tiny = small.replace({"numerics.slices": 1, "numerics.tolerance": 1e-1})
    core = tiny._core
    from hoopfield import _core

    def spent(f):
        start = time.thread_time()  # of this thread, so that a busy machine does not decide
        f()
        return time.thread_time() - start

    pairs = [(spent(lambda: hf.predict(tiny)), spent(lambda: _core.predict(core, None, False))) for _ in range(150)]
    wrapped, bare = (statistics.median(p[i] for p in pairs) for i in (0, 1))
    print(f"wrapping a call takes {1e6 * (wrapped - bare):.0f} us of {1e6 * bare:.0f} us")
    assert wrapped < 1.1 * bare  # a ratio of one run: the case is the smallest there is
