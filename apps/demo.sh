#!/usr/bin/env bash
# Installs what is needed, builds the winkhold program and runs the main job on demo data.
set -euo pipefail
cd "$(dirname "$0")/.."
bash .ci/install.sh build
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DWINKHOLD_TESTS=OFF -DWINKHOLD_BENCH=OFF > /dev/null
cmake --build build
winkhold=build/apps/winkhold/winkhold
say() { printf '\n== %s\n\n' "$*"; }

say "A ride of the nominal bike: bouncing, flashing lines and the steady answer"
"$winkhold" simulate data/scenarios/nominal.toml --seed 7 --force --out build/ride.csv --truth build/truth.csv
"$winkhold" decode build/ride.csv

say "A plain hold-off filter on that bike: every millisecond against flicker is one of overlap"
"$winkhold" sweep data/scenarios/nominal.toml --hold 250ms:750ms:25ms --handover off --cut-short off --trials 4000

say "The default rules on bikes that nobody has measured, 60-120 flashes/min and 30-75 % duty"
"$winkhold" sweep data/scenarios/unknown.toml --guard 0ms:60ms:10ms --trials 40000

say "Done: build/apps/winkhold/winkhold is ready; ride and truth are in build/ride.csv and build/truth.csv"
