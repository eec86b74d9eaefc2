#!/usr/bin/env bash
# Installs what the tests need, builds everything and runs every test. Ends with ctest's own summary.
set -euo pipefail
cd "$(dirname "$0")/.."
bash .ci/install.sh test
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DWINKHOLD_TESTS=ON -DWINKHOLD_BENCH=ON
cmake --build build
exec ctest --test-dir build --output-on-failure -j "$(nproc)" --no-tests=error
