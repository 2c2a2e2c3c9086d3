#!/usr/bin/env bash
# Installs what is missing, builds, runs every test. Works from any folder.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
SECONDS=0

bash tests/setup/build.sh
echo "Built in ${SECONDS} s."
status=0
ctest --test-dir build --output-on-failure -j "$(nproc)" || status=$?
echo "tests/run.sh: ${SECONDS} s in all."
exit $status
