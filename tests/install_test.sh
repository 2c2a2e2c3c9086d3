#!/usr/bin/env bash
# An installed tree runs from anywhere, and finds its own rules, tables and tests. Argument: the build folder.
set -euo pipefail
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --install "$1" --prefix "$place/first" >/dev/null
mv "$place/first" "$place/moved"
cd /
"$place/moved/bin/jambcheck" rules | grep wood.lag_screw.withdrawal >/dev/null
"$place/moved/bin/jambcheck" tables wood.lag_screw.table_12_2a | grep 378 >/dev/null
"$place/moved/bin/jambcheck" selftest | grep ' 0 missed' >/dev/null
test -f "$place/moved/share/jambcheck/LICENSE"
"$place/moved/bin/jambcheck" terms | grep -i card >/dev/null
