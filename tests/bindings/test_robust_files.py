# SPDX-License-Identifier: BSD-3-Clause
"""Files of others are safe from the command, and its own come whole or not at all.

Run with HOOPFIELD_COMMAND=/path/to/hoopfield pytest tests/bindings/test_robust_files.py
"""

import fcntl
import os
import pathlib
import shutil
import signal
import subprocess
import termios

import pytest

from running import HUNG, finish, hears, processor_time, wait_until

ROOT = pathlib.Path(__file__).resolve().parents[2]
FILM = ROOT / "models" / "parameters" / "films" / "general-film.toml"
COMMAND = os.environ.get("HOOPFIELD_COMMAND")
no_bands = ("--band-samples", "0")  # files are looked at here, not what stands in them

pytestmark = pytest.mark.skipif(not COMMAND, reason="HOOPFIELD_COMMAND does not name the built command")


def run(*arguments, **options):
    return subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=HUNG, **options)


@pytest.fixture
def scenario(tmp_path, first_scenario):
    (tmp_path / "film.toml").write_text(FILM.read_text(encoding="utf-8"), encoding="utf-8")
    path = tmp_path / "s.toml"
    path.write_text(first_scenario.replace(str(FILM), "film.toml"), encoding="utf-8")
    (tmp_path / "w.toml").write_text('scenario = "s.toml"\n[vary]\n"film.thickness" = ["20 um", "23 um"]\n')
    return path


def left(folder):
    return sorted(path.name for path in folder.iterdir())


def test_two_commands_at_once_both_write_a_right_file(scenario, tmp_path):
    assert run("predict", scenario, *no_bands, "-o", tmp_path / "alone.h5").returncode == 0
    command = [COMMAND, "predict", str(scenario), *no_bands, "-o", str(tmp_path / "r.h5"), "--overwrite"]
    for _ in range(5):
        both = [subprocess.Popen(command, stdout=subprocess.DEVNULL) for _ in range(2)]
        assert [process.wait(HUNG) for process in both] == [0, 0]
        assert (tmp_path / "r.h5").read_bytes() == (tmp_path / "alone.h5").read_bytes()
    assert left(tmp_path) == ["alone.h5", "film.toml", "r.h5", "s.toml", "w.toml"]


def test_a_file_called_part_is_left_alone(scenario, tmp_path):
    (tmp_path / "r.h5.part").write_text("mine")
    assert run("predict", scenario, *no_bands, "-o", tmp_path / "r.h5").returncode == 0
    assert (tmp_path / "r.h5.part").read_text() == "mine"


@pytest.mark.parametrize("extra", [[], ["--overwrite"], ["--resume"]])
@pytest.mark.parametrize("ending", [".part", ".journal"])
@pytest.mark.parametrize("kind", ["file", "link", "dangling"])
def test_a_sweep_takes_no_file_for_its_own(scenario, tmp_path, extra, ending, kind):
    mine, other = tmp_path / f"x.h5{ending}", tmp_path / "other"
    if kind != "dangling":
        (mine if kind == "file" else other).write_text("mine")
    if kind != "file":
        mine.symlink_to(other)
    before = left(tmp_path)
    done = run("sweep", tmp_path / "w.toml", "-o", tmp_path / "x.h5", *extra)
    assert done.returncode == 4, done.stderr
    assert left(tmp_path) == before
    if kind != "dangling":
        assert mine.read_text() == "mine"


def test_a_sweep_that_failed_at_its_start_can_be_tried_again(scenario, tmp_path):
    before = left(tmp_path)
    limited = ["bash", "-c", 'ulimit -f 1; exec "$@"', "-", COMMAND]
    done = subprocess.run(
        [*limited, "sweep", tmp_path / "w.toml", "-o", tmp_path / "x.h5"], capture_output=True, timeout=HUNG
    )
    assert done.returncode == 4, done.stderr
    assert left(tmp_path) == before
    assert run("sweep", tmp_path / "w.toml", "-o", tmp_path / "x.h5").returncode == 0


@pytest.mark.parametrize("option", ["-o", "--report", "--csv"])
@pytest.mark.parametrize("form", ["apart", "joined"])
def test_an_empty_name_is_refused(scenario, tmp_path, option, form):
    arguments = [option, ""] if form == "apart" or option == "-o" else [f"{option}="]
    before = left(tmp_path)
    for command in (["predict", scenario], ["film", "test", tmp_path / "film.toml"]):
        if option == "--report" and command[0] == "film":
            continue
        done = run(*command, *arguments)
        assert done.returncode == 2 and option.strip("-o") in done.stderr, done.stderr
        assert done.stdout == ""
    assert left(tmp_path) == before


def same_name(folder, name):
    """Other ways to write one name."""
    (folder / "sub").mkdir(exist_ok=True)
    link = folder / "link"
    if not link.is_symlink():
        link.symlink_to(folder)
    return [folder / name, folder / "." / "sub" / ".." / name, link / name]


@pytest.mark.parametrize("way", [0, 1, 2])
def test_an_output_never_replaces_an_input(scenario, tmp_path, way):
    texts = {name: (tmp_path / name).read_bytes() for name in ("s.toml", "film.toml", "w.toml")}
    calls = [
        ["predict", scenario, "-o", "s.toml"],
        ["predict", scenario, "--report", "film.toml"],
        ["compare", scenario, scenario, "--csv", "film.toml"],
        ["film", "test", tmp_path / "film.toml", "--csv", "film.toml"],
        ["sweep", tmp_path / "w.toml", "-o", "w.toml"],
        ["sweep", tmp_path / "w.toml", "-o", "s.toml"],
        ["sweep", tmp_path / "w.toml", "-o", "film.toml"],
    ]
    for *call, name in calls:
        done = run(*call, same_name(tmp_path, name)[way], "--overwrite")
        assert done.returncode == 2 and "is an input of this call" in done.stderr, (call, done.stderr)
    assert {name: (tmp_path / name).read_bytes() for name in texts} == texts


@pytest.mark.parametrize("way", [0, 1, 2])
def test_two_outputs_need_two_names(scenario, tmp_path, way):
    for first, option, second in (("x", "--report", "x"), ("x", "--csv", "x"), ("layers.csv", "--csv", ".")):
        name = tmp_path if second == "." else same_name(tmp_path, second)[way]
        done = run("predict", scenario, "-o", same_name(tmp_path, first)[0], option, name)
        assert done.returncode == 2 and "is also written by" in done.stderr, done.stderr
        assert not (tmp_path / first).exists()


def test_several_outputs_come_all_or_none(scenario, tmp_path):
    before = left(tmp_path)
    outputs = [*no_bands, "-o", tmp_path / "r.h5", "--csv", tmp_path / "tables", "--report", tmp_path / "r.html"]
    assert run("predict", scenario, *outputs).returncode == 0
    sizes = [path.stat().st_size for path in (tmp_path / "r.h5", tmp_path / "r.html")]
    (tmp_path / "r.h5").unlink()
    (tmp_path / "r.html").unlink()
    shutil.rmtree(tmp_path / "tables")
    limit = f'ulimit -f {min(sizes) // 1024 + 1}; exec "$@"'  # one of the two fits, the other does not
    limited = ["bash", "-c", limit, "-", COMMAND]
    assert max(sizes) > min(sizes) + 2048
    done = subprocess.run([*limited, "predict", scenario, *outputs], capture_output=True, timeout=HUNG)
    assert done.returncode == 4, done.stderr
    assert left(tmp_path) == before


@pytest.mark.parametrize("command", [["check"], ["predict"], ["sweep", "-o", "x.h5"], ["compare"], ["film", "test"]])
def test_a_pipe_or_device_is_no_input(tmp_path, command):
    os.mkfifo(tmp_path / "pipe")
    for name in (tmp_path / "pipe", "/dev/zero", "/dev/null"):
        files = [name, name] if command == ["compare"] else [name]
        done = run(*command, *files, cwd=tmp_path)
        assert done.returncode == 4 and "not an ordinary file" in done.stderr, done.stderr


def test_a_film_that_is_a_pipe_is_refused_at_its_line(scenario, tmp_path):
    os.mkfifo(tmp_path / "pipe")
    scenario.write_text(scenario.read_text().replace("film.toml", "pipe"))
    done = run("check", scenario)
    assert done.returncode == 2 and "s.toml:6:8: film.file" in done.stderr and "ordinary" in done.stderr, done.stderr


@pytest.mark.parametrize("option", ["-o", "--report"])
def test_a_pipe_is_no_output(scenario, tmp_path, option):
    os.mkfifo(tmp_path / "pipe")
    for extra in ([], ["--overwrite"]):
        done = run("predict", scenario, option, tmp_path / "pipe", *extra)
        assert done.returncode == 4 and "not an ordinary file" in done.stderr, done.stderr


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_signal_ends_a_command_that_waits_for_ever(number):
    """Nobody reads what it prints."""
    reading, writing = os.pipe()
    fcntl.fcntl(writing, 1031, 4096)  # F_SETPIPE_SZ: less room than the text needs
    process = subprocess.Popen([COMMAND, "explain", "--markdown"], stdout=writing, stderr=subprocess.PIPE, text=True)
    size = lambda: fcntl.ioctl(reading, termios.FIONREAD, b"....")
    wait_until(lambda: hears(process.pid, number) and size() != b"\0\0\0\0", process, "fills the pipe")
    process.send_signal(number)
    _, errors = finish(process)
    assert process.returncode == 130 and "stopped on request" in errors
    os.close(reading)
    os.close(writing)


def test_a_sweep_of_fields_stops_and_goes_on(scenario, tmp_path):
    sweep = tmp_path / "f.toml"
    sweep.write_text(
        'scenario = "s.toml"\noutputs = ["hoop_tension", "hoop_tension_buildup", "layer_tension"]\n[vary]\n'
        '"delivery.tension.force" = { from = "60 N", to = "80 N", steps = 20000 }\n'
    )
    for extra in ([], ["--resume"], ["--resume"]):
        process = subprocess.Popen(
            [COMMAND, "sweep", str(sweep), "-o", str(tmp_path / "x.h5"), *extra],
            stderr=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        journal = tmp_path / "x.h5.journal"
        before = journal.stat().st_size if journal.exists() else 0
        wait_until(
            lambda: (
                journal.exists()
                and journal.stat().st_size > max(before, 100)
                or (extra and processor_time(process.pid) or 0) > 0.2
            ),
            process,
            "saves",
        )
        process.send_signal(signal.SIGTERM)
        _, errors = finish(process)
        assert process.returncode == 130 and "stopped on request" in errors
    assert left(tmp_path) == ["f.toml", "film.toml", "s.toml", "w.toml", "x.h5.journal", "x.h5.part"]


def test_links_in_a_circle_and_names_without_end_are_file_errors(scenario, tmp_path):
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    for name in (loop, tmp_path / ("n" * 300), loop / "deeper"):
        for call in (["predict", scenario, "-o"], ["predict", scenario, "--csv"], ["sweep", tmp_path / "w.toml", "-o"]):
            done = run(*call, name)
            assert done.returncode == 4 and "unexpected" not in done.stderr, (call, done.stderr)
        assert run("check", name).returncode == 4
        for sweep in (
            f'scenario = "{name}"\n[vary]\n"load.mass" = ["1 kg"]\n',
            f'scenario = "s.toml"\nsampling = "table"\ntable = "{name}"\n',
        ):
            (tmp_path / "w.toml").write_text(sweep)
            done = run("sweep", tmp_path / "w.toml", "-o", tmp_path / "x.h5")
            assert done.returncode == 2 and "w.toml:" in done.stderr, done.stderr
        (tmp_path / "w.toml").write_text('scenario = "s.toml"\n[vary]\n"film.thickness" = ["20 um", "23 um"]\n')
        done = run("new", name, "--length", "1 m", "--width", "1 m", "--height", "1 m")
        assert done.returncode == 4 and "unexpected" not in done.stderr, done.stderr
