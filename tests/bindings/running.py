# SPDX-License-Identifier: BSD-3-Clause
"""A command that is running, met at counted moments of its work: nothing here asks how fast the machine is."""

import os
import pathlib
import signal
import subprocess
import time

HUNG = 900  # s; nothing that is tested takes a hundredth of it on the slowest machine
_TICK = os.sysconf("SC_CLK_TCK")


def processor_time(pid):
    """Processor time a process has used, s; None when it has ended."""
    try:
        fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    except (FileNotFoundError, ProcessLookupError):
        return None
    return None if fields[0] in "ZX" else (int(fields[11]) + int(fields[12])) / _TICK


def hears(pid, number):
    """Whether a process has put its own handler in the place of a signal."""
    for line in pathlib.Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("SigCgt:"):
            return bool(int(line.split()[1], 16) >> (number - 1) & 1)
    return False


def wait_until(condition, process, what):
    """Looks again and again until the condition holds or the process has ended; fails as hung after minutes."""
    end = time.monotonic() + HUNG
    while process.poll() is None and not condition():
        assert time.monotonic() < end, f"hung: {what}"
        time.sleep(0.001)


def wait_for_work(process, share, whole):
    """Until the process hears Ctrl-C and has used this share of the processor time of the whole work."""
    wait_until(lambda: hears(process.pid, signal.SIGINT), process, "hears Ctrl-C")
    begun = processor_time(process.pid) or 0.0
    wait_until(lambda: (processor_time(process.pid) or 0.0) - begun >= share * whole, process, f"{share} of the work")


def finish(process):
    """Output, errors and processor time of a process, its end awaited."""
    try:
        out, errors = process.communicate(timeout=HUNG)
    except subprocess.TimeoutExpired:
        process.kill()
        raise AssertionError("hung") from None
    return out, errors


def cost_of(command):
    """What a command prints and the processor time it uses, s."""
    before = os.times()
    done = subprocess.run(command, capture_output=True, text=True, timeout=HUNG, check=False)
    after = os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return done, used
