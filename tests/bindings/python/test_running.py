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
from running import finish, processor_time, wait_until


@pytest.fixture(scope="module")
def long(scenario):
    """A hundred times the work of the plain scenario."""
    return scenario.replace({"numerics.slices": 2000, "numerics.tolerance": 1e-5, "numerics.band_samples": 0})


def test_other_threads_run_meanwhile(long):
    """Counts what another thread gets done during a prediction. Threads are not made to take turns here, so the other
    one runs
    only where the prediction has given the lock of the interpreter away. Were it given away at the reports of
    progress alone,
    it would get one turn at each; it gets hundreds of times as many."""
    turns, stop, begun = [0], threading.Event(), threading.Event()

    def take_turns():
        while not stop.is_set():
            turns[0] += 1
            begun.set()
            time.sleep(0)  # gives the lock away

    thread = threading.Thread(target=take_turns)
    usual = sys.getswitchinterval()
    reports = []
    hf.predict(long, progress=lambda share, stage: reports.append(share))
    sys.setswitchinterval(1000.0)
    try:
        thread.start()
        begun.wait()
        before = turns[0]
        hf.predict(long)
        inside = turns[0] - before
    finally:
        stop.set()
        sys.setswitchinterval(usual)
        thread.join()
    assert inside > 100 * len(reports), (inside, len(reports))


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


def test_pickles_of_another_layout_are_refused(result):
    core = result._core
    restore, ((layout, version, members),) = core.__reduce__()
    assert version == result.version and members["pattern"]["turns"] == result.pattern.turns
    with pytest.raises(hf.InputError, match="another version of hoopfield"):
        restore((layout + 1, "9.9.9", members))
    with pytest.raises(hf.InputError, match="another version of hoopfield"):
        restore((members,))
    with pytest.raises(hf.InputError, match="rotation_time"):
        restore(
            (
                layout,
                version,
                members
                | {
                    "pattern": {
                        "turns": 1.0,
                        "pitch": 0.1,
                        "overlap": 0.5,
                        "gap": 0.0,
                        "speed_up": 0.0,
                        "speed_down": 0.0,
                    }
                },
            )
        )


def test_forged_pickles_are_refused(result):
    restore, ((layout, version, members),) = result._core.__reduce__()
    assert restore((layout, version, members)) is not None
    field = members["hoop_tension"]
    forged = [
        {"hoop_tension": field | {"shape": [10**9, 4, 60]}},
        {"hoop_tension": field | {"shape": [2**63, 2, 2]}},
        {"hoop_tension": field | {"shape": []}},
        {"hoop_tension": field | {"data": np.zeros(3)}},
        {"layer_tension": {"shape": [1, 5, 1], "data": np.zeros(5)}},
        {"time": np.zeros(2)},
        {"height": np.zeros(1)},
        {"span": members["span"] | {"face": [0, 7]}},
    ]
    for change in forged:
        with pytest.raises(hf.InputError, match="pickled result"):
            restore((layout, version, members | change))


def test_objects_that_hold_nothing_are_refused():
    from hoopfield import _core

    classes = [item for item in vars(_core).values() if type(item).__name__ == "pybind11_type"]
    assert len(classes) > 20
    for cls in classes:
        with pytest.raises(TypeError):
            cls.__new__(cls)
        with pytest.raises(TypeError):
            object.__new__(cls)


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
    told = []

    def stop(share, stage):
        told.append(share)
        return False

    with pytest.raises(hf.Interrupted):
        hf.predict(long, progress=stop)
    assert len(told) == 1 and told[0] < 0.5


def test_what_progress_raises_comes_out(long):
    def fail(share, stage):
        raise LookupError("from the callback")

    with pytest.raises(LookupError, match="from the callback"):
        hf.predict(long, progress=fail)
    with pytest.raises(LookupError):
        hf.rank_unknowns(hf.predict(long.replace({"numerics.slices": 60})), progress=fail)


@pytest.mark.parametrize("what", ["hf.predict(sc)", "hf.predict(sc, complete=True)", "hf.buildup(hf.plan_wrap(sc))"])
def test_ctrl_c_stops_in_the_middle(scenario_path, what):
    """The work would take a hundred times as long; the signal comes after a moment of it, counted in processor time
    of the process. What is
    printed next tells whether the work was stopped or came to its end."""
    script = textwrap.dedent(f"""
        import hoopfield as hf
        sc = hf.read({str(scenario_path)!r}).replace({{"numerics.slices": 2000, "numerics.tolerance": 1e-7}})
        print("ready", flush=True)
        try:
            {what}
            print("came to its end", flush=True)
        except KeyboardInterrupt:
            print("stopped", flush=True)
    """)
    process = subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline().strip() == "ready"
    begun = processor_time(process.pid)
    wait_until(lambda: processor_time(process.pid) > begun + 0.1, process, "a moment of work")
    os.kill(process.pid, signal.SIGINT)
    assert finish(process)[0].strip() == "stopped"


def test_one_call_costs_little(small):
    tiny = small.replace({"numerics.slices": 1, "numerics.tolerance": 1e-1})
    core = tiny._core
    from hoopfield import _core

    def spent(f):
        start = time.thread_time()  # of this thread, so that a busy machine does not decide
        f()
        return time.thread_time() - start

    pairs = [
        (spent(lambda: hf.predict(tiny, band_samples=0)), spent(lambda: _core.predict(core, None, False, 0)))
        for _ in range(150)
    ]
    wrapped, bare = (statistics.median(p[i] for p in pairs) for i in (0, 1))
    print(f"wrapping a call takes {1e6 * (wrapped - bare):.0f} us of {1e6 * bare:.0f} us")
    assert wrapped < 1.1 * bare  # a ratio of one run: the case is the smallest there is
