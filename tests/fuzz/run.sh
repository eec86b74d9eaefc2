#!/usr/bin/env bash
# Fuzzes every reader with ASan and UBSan: run.sh [SECONDS each, default 600] [TARGET...]
# What it finds goes into tests/fuzz/found/TARGET/, which ctest replays; shorten it there with
#   build-fuzz/tests/fuzz/fuzz_TARGET -minimize_crash=1 FILE
# Needs Debian's clang and libclang-rt-14-dev. New inputs that reach new code stay in build-fuzz/corpus/.
set -euo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:-600}
targets=("${@:2}")
[ ${#targets[@]} -gt 0 ] || targets=(csv vcd recorder raw wav toml)
build=${WINKHOLD_FUZZ_BUILD:-build-fuzz}
flags="-fsanitize=address,undefined,fuzzer-no-link -fno-sanitize-recover=undefined -fno-omit-frame-pointer -g"
CXX=clang++ cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DWINKHOLD_TESTS=ON -DWINKHOLD_FUZZERS=ON \
    -DCMAKE_CXX_FLAGS="$flags"
for target in "${targets[@]}"; do
    cmake --build "$build" -j "${JOBS:-$(nproc)}" --target "fuzz_$target"
    mkdir -p "$build/corpus/$target"
    nice -n 19 "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=512 \
        -max_len=4096 -artifact_prefix="tests/fuzz/found/$target/" -print_final_stats=1 \
        "$build/corpus/$target" "tests/fuzz/corpus/$target" "tests/fuzz/found/$target"
done
