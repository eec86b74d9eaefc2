#!/usr/bin/env bash
# Installs what is needed, builds the winkhold program and runs the main job on demo data.
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p build
log=build/demo.log
build() {
    bash .ci/install.sh build &&
        cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DWINKHOLD_TESTS=OFF -DWINKHOLD_BENCH=OFF &&
        cmake --build build
}
echo "Installing what is needed and building, some minutes; see $log ..."
if ! build > "$log" 2>&1; then
    tail -n 40 "$log" >&2
    echo "The build failed; all that it said is in $log." >&2
    exit 1
fi
winkhold() { build/apps/winkhold/winkhold "$@"; }
say() { printf '\n== %s\n' "$*"; }

# What follows is what the demo shows; a test runs it.
say "One ride with a side change, answered three times"
winkhold simulate data/scenarios/nominal.toml --seed 7 --force --out build/ride.csv 2> build/told.txt
winkhold decode build/ride.csv --beside 100ms 800ms

say "Six new lamps at the front left, in one flash of the factory line"
winkhold sequence data/vehicles/demo.toml --group "front left" --from 450ms --for 640ms

say "Next"
cat << 'END'
  PATH="$PWD/build/apps/winkhold:$PATH"
  winkhold decode build/ride.csv         this ride with the answer, whole
  winkhold new bike.toml --name "Mine"   your bike begins here
README.md, "The whole job, once": from there to a wiring sheet and a checklist.
END
