# SPDX-License-Identifier: BSD-3-Clause
"""The cases of a sweep in blocks, on an executor: in other processes, or on other machines."""

from __future__ import annotations

import queue
from collections import deque
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor
from dataclasses import dataclass
from typing import Any

from . import _core
from .errors import InputError, SolverError

__all__ = ["RETRIES", "check_executor", "compute_on"]

#: A block whose worker is lost is tried again so many times.
RETRIES = 3
_MOST_CASES = 64  # of a block: some seconds of work at most, and a few kilobytes back
_MOST_WAITING = 256  # blocks handed over and not back, where the number of workers is not known
_GIVEN_UP_IN_A_ROW = 3  # blocks, with nothing finished between them: then no worker lives, and the sweep ends
_REPORT = 0.05  # s between two reports of progress

# What tells that a worker, not the work, came to an end; by name, so that no package is needed to know them.
_LOST = {"BrokenExecutor", "CancelledError", "KilledWorker", "CommClosedError", "ConnectionError"}


def compute_block(version: str, plan: _core.SweepPlan, jobs: int) -> bytes:
    """What a worker does."""
    if version != _core.__version__:
        raise RuntimeError(f"the worker has hoopfield {_core.__version__}, the sweep was started with {version}")
    return _core.compute_packed(plan, jobs)


def check_executor(executor: Any) -> None:
    """Raises InputError for what takes no work."""
    if isinstance(executor, type) or not callable(getattr(executor, "submit", None)):
        raise InputError(
            "sweep: executor must have submit(), as the pools of concurrent.futures and the Client of Dask have"
        )


def _is_lost(error: BaseException) -> bool:
    return any(kind.__name__ in _LOST for kind in type(error).__mro__)


@dataclass
class _Block:
    first: int
    count: int
    lost: int = 0  # how many workers it went down with

    def alone(self) -> bool:
        """Lost twice, it may be what ends its workers: it is tried by itself, so that no other block suffers."""
        return self.lost > 1


class _Pool:
    """An executor that may be replaced."""

    def __init__(self, executor: Any) -> None:
        self._executor = executor
        self._is_own = False
        # Dask takes two tasks of equal arguments for one, which would give a lost block its old error again.
        self._options = {"pure": False} if hasattr(executor, "scheduler_info") else {}
        self.ended: queue.SimpleQueue[tuple[int, Any]] = queue.SimpleQueue()

    def most_waiting(self) -> int:
        """Blocks to hand over: enough to keep the workers busy. All that wait are lost when a pool breaks."""
        workers = getattr(self._executor, "_max_workers", None)
        return _MOST_WAITING if workers is None else 2 * workers

    def submit(self, ticket: int, *arguments: Any) -> Any:
        try:
            future = self._executor.submit(compute_block, *arguments, **self._options)
        except BrokenExecutor as error:
            self._replace(error)
            future = self._executor.submit(compute_block, *arguments, **self._options)
        future.add_done_callback(lambda done: self.ended.put((ticket, done)))
        return future

    def _replace(self, error: BaseException) -> None:
        """A pool of processes that lost one takes no more work: another of its kind takes its place."""
        old = self._executor
        if not isinstance(old, ProcessPoolExecutor):
            raise SolverError(f"sweep: the executor takes no more work: {error}") from error
        self.close()
        self._executor = type(old)(
            old._max_workers,
            mp_context=old._mp_context,
            initializer=old._initializer,
            initargs=old._initargs,
        )
        self._is_own = True

    def close(self) -> None:
        """Ends a pool that was made here; that of the caller is the caller's."""
        if self._is_own:
            self._executor.shutdown(wait=False, cancel_futures=True)


class _Run:
    def __init__(self, sweep: _core.CollectedSweep, executor: Any, jobs: int, cases: int) -> None:
        self._sweep = sweep
        self._pool = _Pool(executor)
        self._jobs = jobs
        # Some hundred blocks, so that workers of different speed end together.
        size = max(1, min(_MOST_CASES, cases // 128))
        self._waiting = deque(_Block(first, count) for first, count in sweep.pending(size))
        self._out: dict[int, tuple[_Block, Any]] = {}
        self._tickets = 0
        self._given_up = 0

    def run(self, progress: Callable[[float, str], object] | None) -> None:
        try:
            while self._waiting or self._out:
                self._hand_over()
                try:
                    self._take(*self._pool.ended.get(timeout=_REPORT))
                    while True:
                        self._take(*self._pool.ended.get_nowait())
                except queue.Empty:
                    pass
                if progress is not None and progress(*self._sweep.progress()) is False:
                    return
        finally:
            for _, future in self._out.values():
                future.cancel()
            self._pool.close()

    def _hand_over(self) -> None:
        while self._waiting and len(self._out) < self._pool.most_waiting():
            is_alone = any(block.alone() for block, _ in self._out.values())
            if self._out and (is_alone or self._waiting[0].alone()):
                return
            block = self._waiting.popleft()
            self._tickets += 1
            plan = self._sweep.plan_of(block.first, block.count)
            future = self._pool.submit(self._tickets, _core.__version__, plan, self._jobs)
            self._out[self._tickets] = (block, future)

    def _take(self, ticket: int, future: Any) -> None:
        block, _ = self._out.pop(ticket)
        try:
            packed = future.result()
        except BaseException as error:
            if not _is_lost(error):
                raise
            self._try_again(block, error)
            return
        self._sweep.take(packed)
        self._given_up = 0

    def _try_again(self, block: _Block, error: BaseException) -> None:
        block.lost += 1
        if block.lost <= RETRIES:
            self._waiting.append(block)
            return
        why = str(error) or type(error).__name__
        self._sweep.fail(block.first, block.count, f"lost with its worker {block.lost} times: {why}")
        self._given_up += 1
        if self._given_up == _GIVEN_UP_IN_A_ROW:
            raise SolverError(f"sweep: every worker is lost: {why}")


def compute_on(
    executor: Any,
    plan: _core.SweepPlan,
    jobs: int,
    path: str,
    overwrite: bool,
    resume: bool,
    progress: Callable[[float, str], object] | None,
) -> _core.SweepResult:
    """The sweep of a plan on an executor; what is finished when it stops is kept in the file, to be resumed."""
    sweep = _core.CollectedSweep(plan, path, overwrite, resume)
    try:
        _Run(sweep, executor, jobs or 1, plan.case_count).run(progress)
    except BaseException:
        sweep.finish()
        raise
    return sweep.finish()
