# SPDX-License-Identifier: BSD-3-Clause
"""Shards of a sweep by the built command: merged they are the file of one process.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_sweep_shards.py
"""

import json
import signal

import pytest

from running import finish, wait_until
from sweep_command import assert_identical, needs_command, run, sample, saves, start

pytestmark = needs_command
OUTPUTS = ["summary", "hoop_tension", "layer_tension"]


@pytest.fixture(scope="module")
def shards(tmp_path_factory):
    """A whole sweep, and the same in three shards."""
    folder = tmp_path_factory.mktemp("shards")
    sweep = sample(folder, 32, OUTPUTS)
    assert run("sweep", sweep, "-o", folder / "whole.h5").returncode == 0
    for number in (1, 2, 3):
        done = run("sweep", sweep, "--shard", f"{number}/3", "-o", folder / f"{number}.h5", "--json")
        assert done.returncode == 0, done.stderr
        assert json.loads(done.stdout)["cases"] in (10, 11)
    return folder


def test_merged_shards_are_the_file_of_one_process(shards):
    files = [shards / f"{number}.h5" for number in (3, 1, 2)]
    done = run("sweep", "--merge", *files, "-o", shards / "all.h5")
    assert done.returncode == 0, done.stderr
    assert "all.h5: 32 cases, " in done.stdout and "8 failed" in done.stdout
    assert_identical(shards / "all.h5", shards / "whole.h5")
    h5py = pytest.importorskip("h5py")
    with h5py.File(shards / "all.h5") as merged, h5py.File(shards / "whole.h5") as whole:
        assert {k: v for k, v in merged.attrs.items()} == {k: v for k, v in whole.attrs.items()}
        assert list(merged) == list(whole)
        for name, item in whole.items():
            assert set(merged[name].attrs) == set(item.attrs), name
    xarray = pytest.importorskip("xarray")
    with xarray.open_dataset(shards / "2.h5") as shard:
        assert shard.attrs["shard"] == "2/3"
        assert list(shard["case"].values) == list(range(10, 21))


def test_a_stopped_shard_resumes(tmp_path):
    sweep = sample(tmp_path, 65536)
    target = tmp_path / "s.h5"
    process = start(sweep, target, "--shard", "2/2")
    wait_until(lambda: saves(target) > 0, process, "the first save")
    process.send_signal(signal.SIGINT)
    _, stderr = finish(process)
    assert process.returncode == 130 and "of 32768" in stderr
    other = run("sweep", sweep, "--shard", "1/2", "-o", target, "--resume")
    assert other.returncode == 4 and "belongs to another sweep" in other.stderr
    early = run("sweep", "--merge", target, "-o", tmp_path / "all.h5")
    assert early.returncode == 2 and "s.h5' is not finished" in early.stderr


@pytest.mark.parametrize(
    "arguments, why",
    [
        (["{sweep}", "--shard", "4/3", "-o", "{new}"], "there is no shard 4/3"),
        (["{sweep}", "--shard", "three", "-o", "{new}"], "I/N such as 3/16"),
        (["{sweep}", "--shard", "1/33", "-o", "{new}"], "32 cases has no 33 shards"),
        (["-o", "{new}"], "a sweep file is missing"),
        (["{sweep}", "--merge", "{one}", "-o", "{new}"], "--merge takes shards and no sweep file"),
        (["--merge", "{one}", "--shard", "1/3", "-o", "{new}"], "excludes"),
        (["--merge", "{one}", "{two}", "-o", "{new}"], "shard 3 of 3 is missing"),
        (["--merge", "{one}", "{two}", "{one}", "-o", "{new}"], "two files hold the same shard: 1/3"),
        (["--merge", "{one}", "{whole}", "-o", "{new}"], "is a whole sweep, not a shard of one"),
        (["--merge", "{one}", "-o", "{one}", "--overwrite"], "is an input of this call"),
        (["--merge", "{sweep}", "-o", "{new}"], "cannot read"),
        (["--merge", "{none}", "-o", "{new}"], "it is no file"),
    ],
)
def test_what_cannot_be_meant_is_refused(shards, arguments, why):
    names = {
        "sweep": shards / "sweep.toml",
        "new": shards / "new.h5",
        "one": shards / "1.h5",
        "two": shards / "2.h5",
        "whole": shards / "whole.h5",
        "none": shards / "none.h5",
    }
    done = run("sweep", *(word.format(**names) for word in arguments))
    assert done.returncode in (2, 4), done.stdout
    assert why in done.stderr
    assert not names["new"].exists() and not list(shards.glob("*.hoopfield-*"))
