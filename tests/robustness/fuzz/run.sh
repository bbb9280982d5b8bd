#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Runs each fuzz target for a fifth of the time given; builds them first unless the folder of a build is given.
#   bash tests/robustness/fuzz/run.sh [seconds, 60 when absent [folder of a build with HOOPFIELD_BUILD_FUZZ]]
# New finds go to `finds` in the folder of the build; the corpus kept here is only read. Needs clang with libFuzzer (Debian: clang
# libclang-rt-14-dev).
set -euo pipefail
cd "$(dirname "$0")/../../.."
seconds=${1:-60}
build=${2:-build/fuzz}
if [ $# -lt 2 ]; then
  mkdir -p build
  cmake -S . -B "$build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=RelWithDebInfo \
    -DHOOPFIELD_BUILD_FUZZ=ON -DBUILD_TESTING=OFF -DHOOPFIELD_BUILD_CLI=OFF >"$build.log" 2>&1 &&
    cmake --build "$build" -j2 >>"$build.log" 2>&1 || { tail -n 40 "$build.log"; exit 1; }
fi
status=0
for target in scenario film tables predict cost; do
  mkdir -p "$build/corpus/$target" "$build/finds"
  limit=5
  case $target in predict) limit=60 ;; cost) limit=300 ;; esac  # seconds without an end; cost itself is judged by counts
  echo "== $target: $((seconds / 5)) s"
  "$build/tests/robustness/fuzz/fuzz_$target" -max_total_time=$((seconds / 5)) -timeout=$limit -report_slow_units=$limit \
    -rss_limit_mb=2048 -artifact_prefix="$build/finds/$target-" -print_final_stats=1 -verbosity=0 \
    "$build/corpus/$target" "tests/robustness/fuzz/corpus/$target" 2>&1 |
    grep -E "stat::|ERROR|SUMMARY|broken promise|Test unit" || true
  [ "${PIPESTATUS[0]}" -eq 0 ] || status=1
done
if compgen -G "$build/finds/*" >/dev/null; then
  ls -l "$build/finds"
  status=1
fi
exit $status
