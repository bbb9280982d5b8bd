#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# From a fresh Debian 12 to a prediction: installs what is missing, builds the command, predicts the reference case.
set -euo pipefail
cd "$(dirname "$0")/.."
. examples/support.sh

# shellcheck disable=SC2086  # the list is meant to split
need_packages $build_packages
mkdir -p build
echo "Building the hoopfield command (a few minutes the first time) ..."
{
  cmake --preset release -DBUILD_TESTING=OFF
  cmake --build --preset release
} >build/quickstart.log 2>&1 || { tail -n 30 build/quickstart.log >&2; echo "The build failed; all of it is in build/quickstart.log" >&2; exit 1; }

hoopfield=build/release/bindings/cli/hoopfield
out=build/first-prediction.h5
"$hoopfield" predict examples/01_first_prediction/scenario.toml -o "$out" --overwrite
cat <<EOF

The fields behind these numbers, HDF5 that opens in xarray as it is:
  $out
Next:
  $hoopfield check \\
    examples/01_first_prediction/scenario.toml
  $hoopfield film test \\
    models/parameters/films/general-film.toml --kind relaxation
  $hoopfield new my-load \\
    --length "1.2 m" --width "0.8 m" --height "1.4 m"
EOF
