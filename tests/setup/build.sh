#!/usr/bin/env bash
# Installs what is missing and builds into build/ (Release). Arguments go to the build: --target jambcheck.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
cd "$root"

bash tests/setup/install_packages.sh
log=$(mktemp)
trap 'rm -f "$log"' EXIT
# A build folder made by another path (a copied tree) can't be reused.
if [ -f build/CMakeCache.txt ] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" build/CMakeCache.txt; then rm -rf build; fi
if [ ! -f build/build.ninja ]; then
  cmake --preset release >"$log" 2>&1 || { cat "$log"; exit 1; }
fi
cmake --build build -j "$(nproc)" "$@"
