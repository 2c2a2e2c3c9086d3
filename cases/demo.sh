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
# The papers that leave the tool. Exit codes tell what holds; 2 and more than 4 would be a fault.
papers=build/demo
mkdir -p "$papers"
paper() {
  local code=0
  build/jambcheck "$@" >/dev/null || code=$?
  case $code in 0 | 1 | 4) ;; *) exit $code ;; esac
}
paper card C-101 "$project" -o "$papers/card-C-101.pdf"
paper schedule "$project" -o "$papers/schedule.html"
# Two rows of this one are wrong on purpose (exit 3): they are told, and the others stand.
build/jambcheck schedule cases/first/schedule.csv --map cases/first/schedule-map.yaml -o "$papers/schedule-of-rows.csv" 2>"$papers/schedule-of-rows.txt" || [ $? -eq 3 ]
paper takeoff "$project" -o "$papers/takeoff.xlsx"
paper takeoff "$project" -o "$papers/takeoff.html"
paper card B-301 "$project" --language both -o "$papers/card-B-301.pdf"
paper package cases/first/project.yaml -o "$papers/package.html"
echo
cat <<TEXT
That was the demo (${SECONDS} s). The building and its doors are invented.

Where to look next
  $project            the file that was checked; copy it and change it
  build/jambcheck explain C-101 $project
                                             one opening in words, symbols and numbers, each with its clause
  $papers/                                card, schedule, take-off and package that were just written
  build/jambcheck choose $project --only C-102
                                             what would hold instead
  build/jambcheck rules                      what is checked; build/jambcheck rule ID shows one rule
  build/jambcheck selftest                   the published values that the rules reproduce
  README.md                                  how to read the answer, and its limits
A calculation aid, not an approval: local codes and the licensed professional on the job decide.
TEXT
