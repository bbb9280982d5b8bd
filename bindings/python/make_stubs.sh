#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Writes hoopfield/_core.pyi from a built module: bash bindings/python/make_stubs.sh PYTHON, where PYTHON imports
# hoopfield and has pybind11-stubgen. tests/bindings/python/test_stubs.py compares the two.
set -euo pipefail
python=$1
here="$(cd "$(dirname "$0")" && pwd)"
out="$(mktemp -d)"
trap 'rm -rf "$out"' EXIT
"$python" -m pybind11_stubgen hoopfield._core -o "$out" --exit-code
{ echo "# SPDX-License-Identifier: BSD-3-Clause"; cat "$out/hoopfield/_core.pyi"; } >"$here/hoopfield/_core.pyi"
