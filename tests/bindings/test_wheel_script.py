# SPDX-License-Identifier: BSD-3-Clause
"""bindings/python/wheel.sh refuses what it must before it builds anything; the wheel itself it tries when it is run."""

import hashlib
import pathlib
import subprocess

import pytest

SCRIPT = pathlib.Path(__file__).parents[2] / "bindings/python/wheel.sh"


def refused(*words):
    done = subprocess.run(["bash", SCRIPT, *words], capture_output=True, text=True, timeout=60)
    assert done.returncode == 2, done.stdout + done.stderr
    return done.stderr


@pytest.fixture
def tarball(tmp_path):
    path = tmp_path / "hdf5.tar.gz"
    path.write_bytes(b"not what was published")
    return path


def test_a_source_with_another_hash_is_refused(tarball, tmp_path):
    work, published = tmp_path / "work", hashlib.sha256(b"what was published").hexdigest()
    said = refused("--hdf5", tarball, "--sha256", published, "--work", work, tmp_path / "out")
    assert published in said and str(tarball) in said
    assert list(work.iterdir()) == [] and list((tmp_path / "out").iterdir()) == []


def test_a_source_needs_a_hash(tarball, tmp_path):
    assert "--sha256" in refused("--hdf5", tarball, tmp_path / "out")
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ((), "folder"),
        (("--hdf5",), "--hdf5"),
        (("--turbo", "out"), "--turbo"),
        (("one", "two"), "two"),
        (("--hdf5", "missing.tar.gz", "--sha256", "0", "out"), "missing.tar.gz"),
    ],
)
def test_what_is_wrong_is_named(words, named, tmp_path):
    said = refused(*words)
    assert named in said
