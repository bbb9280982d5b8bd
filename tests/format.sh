#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Layout of every source: clang-format for C++, prettier for the page, ruff for Python; no line of C++ or Python code
# beyond 120 columns unless it is one text that cannot be broken.
#   bash tests/format.sh             says what is not laid out so, and fails
#   bash tests/format.sh --write     lays it out
# Needs clang-format 14; NODE_MODULES names a folder with prettier and RUFF the command, else those are passed over and
# said so.
set -euo pipefail
cd "$(dirname "$0")/.."
write=no
[ "${1:-}" = "--write" ] && write=yes
failed=0

if command -v clang-format >/dev/null; then
  if [ "$write" = yes ]; then
    git ls-files '*.cpp' '*.hpp' | xargs clang-format -i
  else
    git ls-files '*.cpp' '*.hpp' | xargs clang-format --dry-run -Werror || failed=1
  fi
else
  echo "format: clang-format is missing: C++ is NOT checked"
fi

prettier="${NODE_MODULES:-build/ci/bindings/web/node_modules}/prettier/bin/prettier.cjs"
if [ -f "$prettier" ]; then
  mode=--check
  [ "$write" = yes ] && mode=--write
  node "$prettier" --config bindings/web/.prettierrc.json $mode "bindings/web/src/**/*.ts" "bindings/web/src/*.css" \
    bindings/web/build.mjs >/dev/null || { echo "format: the page's sources are not as prettier lays them out"; failed=1; }
else
  echo "format: prettier is missing: the page is NOT checked"
fi

ruff="${RUFF:-.venv/bin/ruff}"
if [ -x "$ruff" ]; then
  mode=--check
  [ "$write" = yes ] && mode=""
  # shellcheck disable=SC2086  # empty means no argument
  git ls-files '*.py' | xargs "$ruff" format -q $mode || { echo "format: Python is not as ruff lays it out"; failed=1; }
else
  echo "format: ruff is missing: Python is NOT checked"
fi

# A formatter does not break texts: lines that are one quoted text may be longer.
git ls-files '*.cpp' '*.hpp' '*.py' | xargs awk '
  length($0) > 120 && $0 !~ /^[[:space:]]*f?['"'"'"]/ { print FILENAME ":" FNR ": " length($0) " columns"; bad = 1 }
  END { exit bad }' || failed=1
exit $failed
