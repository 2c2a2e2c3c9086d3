#!/usr/bin/env bash
# The rules built into the program say what the files say, and files that were changed have the word. Argument: the build
# folder. 77: built without them.
set -euo pipefail
build=$(cd "$1" && pwd)
cd "$(dirname "${BASH_SOURCE[0]}")/.."
[ -f "$build/rules.image" ] || exit 77
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
fail() { echo "$*"; exit 1; }

# Alone, away from every file; and with a folder more, though an empty one, so that all files are read.
mkdir "$place/alone" "$place/none"
cp "$build"/jambcheck "$build"/jambcheck-papers "$place/alone"
same() {
  "$place/alone/jambcheck" "$@" >"$place/built_in" 2>"$place/built_in.err" || true
  "$build/jambcheck" "$@" --rules "$place/none" >"$place/read" 2>"$place/read.err" || true
  [ -s "$place/read" ] || fail "nothing came from: $*"
  cmp -s "$place/read" "$place/built_in" || fail "the built-in rules and the files differ in: $*"
  cmp -s "$place/read.err" "$place/built_in.err" || fail "the built-in rules and the files differ in what is said of: $*"
}
same rules --json
same rules --dot
same rules --flags
same tables
for table in $("$build/jambcheck" tables | awk '{print $1}' | awk 'NR % 8 == 1'); do same tables "$table"; done
for rule in $("$build/jambcheck" rules | grep -oE '[a-z_0-9]+(\.[a-z_0-9]+)+' | awk 'NR % 12 == 1'); do same rule "$rule"; done
same check cases/boat_lockers/project.yaml --json -v  # holds the hash of every file
same takeoff cases/boat_lockers/project.yaml

# Copied beside its files: their times are others, their content is the same.
mkdir "$place/tree"
cp -r rules tables "$build"/jambcheck "$build"/jambcheck-papers "$place/tree"
quiet() { "$place/tree/jambcheck" rules >"$place/out" 2>"$place/err"; [ ! -s "$place/err" ]; }
told() { "$place/tree/jambcheck" rules >"$place/out" 2>"$place/err"; grep -q "$1 is not what is built into this program" "$place/err"; }
quiet || fail "files with the same content are taken for changed ones"

rule=rules/wood/lag_screw/withdrawal.yaml
sed -i 's/^title: .*/title: Another title/' "$place/tree/$rule"
told "$rule" || fail "a changed rule is not told"
grep -q 'Another title' "$place/out" || fail "a changed rule is not read"
cp -p "$rule" "$place/tree/$rule"
quiet || fail "a rule that is back as it was is taken for a changed one"

printf 'schema: documents/1\ndocuments:\n  more: {title: t, body: b, edition: e, seen: recomputed}\n' >"$place/tree/rules/more.yaml"
told rules/more.yaml || fail "a file more is not told"
rm "$place/tree/rules/more.yaml"

rm "$place/tree/rules/required.yaml"
"$place/tree/jambcheck" rules >/dev/null 2>"$place/err" || true
grep -q 'rules/required.yaml is not what is built into this program' "$place/err" || fail "a file less is not told"
cp -p rules/required.yaml "$place/tree/rules"

echo 'nonsense: [' >"$place/tree/$rule"
if "$place/tree/jambcheck" rules >/dev/null 2>"$place/err"; then fail "a rule that can't be read was passed over"; fi
grep -q Y001 "$place/err" || fail "a rule that can't be read is not told"

# Without its other half, the program says so.
rm "$place/alone/jambcheck-papers"
code=0
"$place/alone/jambcheck" terms >/dev/null 2>"$place/err" || code=$?
[ "$code" = 5 ] && grep -q 'jambcheck-papers' "$place/err" || fail "that jambcheck-papers is missing is not told"
