#!/bin/sh
# coverage.sh - do the program's intervals contain the truth as often as they promise?
#
# Generates SEEDS (200) nights whose true deltas and true noise are known, reduces each with the program
# and counts. Usage, from the root of the sources:
#
#   LAPWING=build/lapwing MAKE_NIGHT=build/make_night tests/bench/coverage.sh [SEEDS]
#
# FIRST: first seed (1). ROWS, TAP_ROWS: rows of a point (40, 2): fewer rows are more noise, and the
# truth knows it. FOLDER: sample_runs/night. Ends with 0 when the counts are within their limits
# (coverage.py says which), 1 when not, 2 when a night could not be made or reduced.
set -eu

LAPWING=${LAPWING:-build/lapwing}
MAKE_NIGHT=${MAKE_NIGHT:-build/make_night}
SEEDS=${1:-${SEEDS:-200}}
FIRST=${FIRST:-1}
ROWS=${ROWS:-40}
TAP_ROWS=${TAP_ROWS:-2}
FOLDER=${FOLDER:-sample_runs/night}
here=$(dirname "$0")

for tool in "$LAPWING" "$MAKE_NIGHT"; do
    if [ ! -x "$tool" ]; then
        echo "coverage: $tool is not there; build it first" >&2
        exit 2
    fi
done
temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT
trap 'exit 2' HUP INT TERM

seed=$FIRST
while [ "$seed" -lt $((FIRST + SEEDS)) ]; do
    night=$temporary/night
    rm -rf "$night"
    if ! "$MAKE_NIGHT" --seed "$seed" --rows "$ROWS" --tap-rows "$TAP_ROWS" --out "$night" --copy \
        --from "$FOLDER"; then
        exit 2
    fi
    if ! "$LAPWING" -C "$night" --quiet batch; then
        echo "coverage: seed $seed was not reduced" >&2
        exit 2
    fi
    python3 "$here/coverage.py" collect "$seed" "$night" >>"$temporary/intervals.csv" || exit 2
    seed=$((seed + 1))
done
python3 "$here/coverage.py" judge "$temporary/intervals.csv"
