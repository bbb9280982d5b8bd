#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Every test, from a fresh Debian 12: set-up, optimised build, the suite, the Python package as installed, then the suite
# under the sanitizers, then a minute of fuzzing.
#   bash tests/run.sh            all of it
#   bash tests/run.sh --quick    without sanitizers and fuzzing
set -euo pipefail
cd "$(dirname "$0")/.."
. examples/support.sh

quick=no
[ "${1:-}" = "--quick" ] && quick=yes

# shellcheck disable=SC2086
need_packages $build_packages catch2 python3 python3-venv clang-format
# The report page is built with Node.js and read in a browser; the one without windows opens a page in half the time.
command -v npm >/dev/null || need_packages nodejs npm
command -v chromium-headless-shell >/dev/null || need_packages chromium-headless-shell ||
  command -v chromium >/dev/null || need_packages chromium
if [ ! -x .venv/bin/python ]; then python3 -m venv .venv; fi
.venv/bin/python -c "import numpy, scipy, pytest, xarray, h5netcdf, h5py, netCDF4, pint" 2>/dev/null ||
  .venv/bin/python -m pip install -q numpy scipy pytest xarray h5netcdf h5py netCDF4 pint
# Packages the film laboratory is checked against; without an index those tests are skipped, and say so.
.venv/bin/python -c "import felupe, tensortrax, pyvisco, pandas, neml" 2>/dev/null ||
  .venv/bin/python -m pip install -q felupe tensortrax pyvisco pandas neml ||
  echo "WARNING: felupe, pyvisco and neml could not be installed: checks of the film laboratory against them are NOT run" >&2
.venv/bin/python -c "import playwright, pypdf" 2>/dev/null || .venv/bin/python -m pip install -q playwright pypdf ||
  echo "WARNING: playwright and pypdf could not be installed: the report is NOT read in a browser" >&2
.venv/bin/python -c "import ruff" 2>/dev/null || .venv/bin/python -m pip install -q "ruff==0.17.6" ||
  echo "WARNING: ruff could not be installed: the layout of Python sources is NOT checked" >&2
python="$PWD/.venv/bin/python"
bench=ON
if ! need_packages libbenchmark-dev libsundials-dev; then
  bench=OFF
  echo "WARNING: Google Benchmark and SUNDIALS could not be installed: integrators are NOT compared with CVODE" >&2
fi

heading() {  # what comes next, and how long everything before it took
  echo "== $* (after $((SECONDS / 60)) min)"
}

configure() {  # preset, whether with the benchmarks, then more for cmake
  local preset=$1 benchmarks=$2
  shift 2
  heading "$preset: configure"
  cmake --preset "$preset" -DPython3_EXECUTABLE="$python" -DHOOPFIELD_BUILD_BENCH="$benchmarks" "$@" \
    >"build/$preset.log" 2>&1 || { cat "build/$preset.log"; exit 1; }
}

build() {  # preset, then targets; all of them without any
  local preset=$1
  shift
  heading "$preset: build"
  cmake --build --preset "$preset" ${1:+--target "$@"} >>"build/$preset.log" 2>&1 || { tail -n 60 "build/$preset.log"; exit 1; }
}

run_tests() {  # preset, then arguments for ctest
  local preset=$1
  shift
  heading "$preset: tests"
  ctest --test-dir "build/$preset" --output-on-failure -j2 "$@"
}

run_python_package() {
  heading "Python package: build and install"
  "$python" -m pip install -q matplotlib pandas SALib pybind11-stubgen
  "$python" -c "import distributed" 2>/dev/null || "$python" -m pip install -q dask distributed ||
    echo "WARNING: dask and distributed could not be installed: sweeps on a cluster are NOT tested" >&2
  # Same compiler, flags and depth of folders as the build before: the compiler cache then has most of it.
  CXX="$(sed -n 's/^CMAKE_CXX_COMPILER:[A-Z]*=//p' build/ci/CMakeCache.txt)" \
    "$python" -m pip install -q --force-reinstall --no-deps ./bindings/python -C cmake.define.HOOPFIELD_WERROR=ON \
    -C build-dir="$PWD/build/package" >build/python-package.log 2>&1 || { tail -n 60 build/python-package.log; exit 1; }
  heading "Python package: tests"
  # Two halves side by side, each on its own core.
  export HOOPFIELD_COMMAND="$PWD/build/ci/bindings/cli/hoopfield"
  local first=(tests/bindings/python/test_executors.py tests/consistency/test_parcels.py)
  local second=(tests/consistency/test_foreign_films.py) file failed=0
  for file in tests/bindings/python/test_*.py; do
    [[ " ${first[*]} " == *" $file "* ]] || second+=("$file")
  done
  "$python" -m pytest -q -rs -p no:cacheprovider "${first[@]}" >build/python-tests.log 2>&1 &
  local other=$!
  "$python" -m pytest -q -rs -p no:cacheprovider "${second[@]}" || failed=1
  wait "$other" || failed=1
  cat build/python-tests.log
  "$python" validation/run_validation.py --check --case 09 || failed=1
  return "$failed"
}

mkdir -p build
# The layout is checked first: it takes seconds, and the page's formatter is there as soon as the build is configured.
configure ci "$bench"
heading "layout of the sources"
bash tests/format.sh
build ci
run_tests ci
run_python_package
if [ "$quick" = no ]; then
  # One build serves the sanitizers and the fuzzer, whose compiler it takes; it is the longest of all. Left out are tests
  # that run the built command or install it, and long runs of numbers, which would only run the same code again, slowly.
  need_packages clang libclang-rt-14-dev
  configure asan OFF -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_C_COMPILER=clang -DHOOPFIELD_BUILD_FUZZ=ON
  build asan test_unit test_robustness test_bindings fuzz_scenario fuzz_film fuzz_tables fuzz_predict fuzz_cost
  run_tests asan -R '^(unit|robustness|bindings|film and build-up in)' -E 'two million points|takes more than a hundred times'
  # Any bytes as scenario, film, curve, readings or data sheet, and random scenarios predicted: a minute of it.
  heading "fuzz targets: a minute of runs"
  bash tests/robustness/fuzz/run.sh 60 build/asan
fi
heading "everything passed"
