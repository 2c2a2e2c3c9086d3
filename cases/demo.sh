#!/usr/bin/env bash
# Installs what is missing, builds, and checks a small invented project: a boat-locker building with coiling doors.
# Works from any folder.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
SECONDS=0

bash tests/setup/build.sh --target jambcheck
project=cases/boat_lockers/project.yaml
echo
echo "\$ build/jambcheck check $project"
echo
status=0
build/jambcheck check "$project" || status=$?
# 1: something falls short. That is part of the demonstration.
[ $status -le 1 ] || exit $status
echo
cat <<TEXT
That was the demo (${SECONDS} s). The building and its doors are invented.

Where to look next
  $project            the file that was checked; copy it and change it
  build/jambcheck explain C-101 $project
                                             one opening in words, symbols and numbers, each with its clause
  build/jambcheck rules                      what is checked; build/jambcheck rule ID shows one rule
  build/jambcheck selftest                   the published values that the rules reproduce
  README.md                                  how to read the answer, and its limits
A calculation aid, not an approval: local codes and the licensed professional on the job decide.
TEXT
