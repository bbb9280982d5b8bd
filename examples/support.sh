# SPDX-License-Identifier: BSD-3-Clause
# Shared by examples/quickstart.sh and tests/run.sh: brings the Debian packages that are missing. Sourced, not run.

build_packages="g++ cmake ninja-build ccache libboost-dev libeigen3-dev libhdf5-dev libtomlplusplus-dev libcli11-dev libxsimd-dev nlohmann-json3-dev"

# need_packages NAME...: installs what dpkg does not know as installed, with apt as root or through sudo.
need_packages() {
  local missing=() name
  if ! command -v dpkg-query >/dev/null; then
    echo "This script installs packages on Debian; elsewhere please install: $*" >&2
    return 0
  fi
  for name in "$@"; do
    dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q "install ok installed" || missing+=("$name")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  local as_root=""
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "These packages are missing and need an administrator: ${missing[*]}" >&2
      return 1
    fi
    as_root="sudo"
  fi
  echo "Installing: ${missing[*]}"
  $as_root apt-get update -qq
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}
