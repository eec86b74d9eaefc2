#!/usr/bin/env bash
# The whole suite with ASan and UBSan, then what has threads with TSan. Usage: sanitize.sh [CTEST OPTIONS...]
# Takes long (about an hour on two cores), so ordinary test runs leave it out. Whatever is found fails.
set -euo pipefail
cd "$(dirname "$0")/.."
bash .ci/install.sh test
export ASAN_OPTIONS=detect_leaks=1:abort_on_error=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
export TSAN_OPTIONS=halt_on_error=1
run() {
    local build=$1 sanitizers=$2
    shift 2
    cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DWINKHOLD_SANITIZE="$sanitizers" \
        -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON
    cmake --build "$build"
    ctest --test-dir "$build" --output-on-failure -j "$(nproc)" --no-tests=error "$@"
}
# strangers' projects, planted faults and other compilers build without sanitizers
run build-asan address,undefined -E '^(promises\.|packages\.|mutation\.)' "$@"
run build-tsan thread -R '^(sweep|soak|faults|compare|program)\.' "$@"
