#!/bin/sh
# Makes a catalogue of invented yarns, runs the whole program beside sqlite3 on
# the same file, and prints what both took and the ratios of one run. It judges
# nothing: times are those of the machine and of what else it does.
#
#   benches/million.sh [ROWS [SEED]]       (1000000 rows, seed 4)
#
# Wants cargo, python3 and sqlite3. PROGRAM=path uses a program that is built
# already; WORK=folder keeps the files.
set -eu

rows=${1:-1000000}
seed=${2:-4}
here=$(cd "$(dirname "$0")" && pwd)
work=${WORK:-$(mktemp -d)}
mkdir -p "$work"
[ -n "${WORK:-}" ] || trap 'rm -rf "$work"' EXIT

if [ -z "${PROGRAM:-}" ]; then
  (cd "$here/.." && cargo build --release --quiet)
  PROGRAM=$here/../target/release/understudy
fi

table=$work/yarns-$rows-$seed.csv
[ -f "$table" ] || python3 "$here/catalogue.py" "$rows" "$seed" >"$table"
searched=$((rows < 100000 ? rows : 100000))
small=$work/yarns-$searched-$seed.csv
[ -f "$small" ] || python3 "$here/catalogue.py" "$searched" "$seed" >"$small"
random=$work/yarns-$rows-$seed-random.csv
[ -f "$random" ] || python3 "$here/catalogue.py" "$rows" "$seed" random >"$random"

exec python3 "$here/measure.py" "$PROGRAM" "$table" "$small" "$random" "$work" "$here/pattern.toml"
