# SPDX-License-Identifier: BSD-3-Clause
"""Lines run by the tests, per room, from the gcov counters of a build with -DHOOPFIELD_COVERAGE=ON.

    python3 tests/coverage.py BUILD_DIR [--least PERCENT]     after the tests have run there

--least fails when a physics room (models/film, load, pattern, delivery; sim/film_path, buildup, stations, winding) is
below it. Only executable lines of .cpp and .hpp files count; a header counts a line when any user of it ran it.
"""

import collections
import gzip
import json
import pathlib
import subprocess
import sys
import tempfile

PHYSICS = (
    "models/film",
    "models/load",
    "models/pattern",
    "models/delivery",
    "sim/film_path",
    "sim/buildup",
    "sim/stations",
    "sim/winding",
)


def counters(build, root):
    """{file: {line: greatest count}}"""
    lines = collections.defaultdict(dict)
    notes = sorted(str(path.resolve()) for path in build.rglob("*.gcda"))
    if not notes:
        sys.exit(f"no counters in {build}: run the tests of a coverage build first")
    with tempfile.TemporaryDirectory() as folder:
        for note in notes:
            done = subprocess.run(["gcov", "--json-format", "--stdout", note], capture_output=True, cwd=folder)
            if done.returncode != 0:
                sys.exit(f"gcov cannot read {note} (a run of an older build?): {done.stderr.decode().strip()}")
            data = done.stdout
            text = gzip.decompress(data).decode() if data[:2] == b"\x1f\x8b" else data.decode()
            for document in text.splitlines():
                for file in json.loads(document)["files"]:
                    path = pathlib.Path(file["file"])
                    path = path if path.is_absolute() else build / path
                    try:
                        name = str(path.resolve().relative_to(root))
                    except ValueError:
                        continue
                    if not name.startswith(("models/", "sim/")):
                        continue
                    for line in file["lines"]:
                        number = line["line_number"]
                        lines[name][number] = max(lines[name].get(number, 0), line["count"])
    return lines


def main():
    build = pathlib.Path(sys.argv[1])
    least = float(sys.argv[sys.argv.index("--least") + 1]) if "--least" in sys.argv else 0.0
    lines = counters(build, pathlib.Path(__file__).resolve().parents[1])
    rooms = collections.defaultdict(lambda: [0, 0])
    for name, counts in sorted(lines.items()):
        room = rooms[str(pathlib.PurePath(name).parent)]
        room[0] += sum(1 for count in counts.values() if count)
        room[1] += len(counts)
        missed = [number for number, count in sorted(counts.items()) if not count]
        if missed and name.startswith(PHYSICS):
            print(f"  {name}: not run {missed}")
    low = False
    for room, (run, total) in sorted(rooms.items()):
        share = 100.0 * run / total
        bad = room in PHYSICS and share < least
        low |= bad
        print(f"{room:20} {run:5} of {total:5} lines  {share:5.1f} %{'  below ' + str(least) if bad else ''}")
    sys.exit(1 if low else 0)


if __name__ == "__main__":
    main()
