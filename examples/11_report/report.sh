#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Two reports: one wrap against its targets, and the present film against a candidate.
#   bash examples/11_report/report.sh [FOLDER]     default: build/reports
# HOOPFIELD names the command; without it the one that quickstart.sh builds is used.
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
hoopfield="${HOOPFIELD:-$here/../../build/release/bindings/cli/hoopfield}"
out="${1:-$here/../../build/reports}"
mkdir -p "$out"
pair="$here/../08_thin_against_thick"

"$hoopfield" predict "$here/scenario.toml" --report "$out/one_wrap.html" --overwrite >/dev/null
"$hoopfield" compare "$pair/present.toml" "$pair/candidate.toml" --report "$out/present_and_candidate.html" \
  --units inch-pound --overwrite >/dev/null
echo "Open in any browser, no network needed:"
ls -1 "$out"/one_wrap.html "$out"/present_and_candidate.html
