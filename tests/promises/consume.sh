#!/usr/bin/env bash
# Builds a stranger's project that uses Winkhold. Usage: consume.sh HOW SOURCE BUILD CMAKE
#   package             installs what BUILD has built and links that, found by CMake, then by pkg-config
#   subdirectory, fetch takes in the source tree: the core alone, built and run; then the host library. Building
#                       that anew would take minutes and prove nothing that the project's own build doesn't, so it
#                       is configured, and then only compiled are the stranger's units, against its headers, and
#                       one unit of its own, with the stranger's flags.
set -euo pipefail
how=$1 source=$2 build=$3 cmake=$4
here=$source/tests/promises/consumer
work=$build/consumer-$how
rm -rf "$work"
mkdir -p "$work"

fail() {
    echo "consume.sh $how: $1" >&2
    exit 1
}
configure() { # NAME OPTIONS...
    "$cmake" -G Ninja -S "$here" -B "$work/$1" -DHOW="$how" "${@:2}" > "$work/$1.log" 2>&1 ||
        fail "$1 is not configured: $(cat "$work/$1.log")"
}

if [ "$how" = package ]; then
    "$cmake" --install "$build" --prefix "$work/prefix" > /dev/null
    configure cmake -DCMAKE_PREFIX_PATH="$work/prefix"
    "$cmake" --build "$work/cmake"
    "$work/cmake/firmware_like"
    "$work/cmake/bench_like"

    # What is installed must do without the source tree and the build.
    ! grep -rFl -e "$source" -e "$build" --include='*.cmake' --include='*.pc' "$work/prefix" ||
        fail "installed files name the source tree or the build"
    PKG_CONFIG_PATH=$(dirname "$(find "$work/prefix" -name winkhold.pc)")
    export PKG_CONFIG_PATH
    core=$(pkg-config --cflags --libs winkhold-core)
    host=$(pkg-config --cflags --libs winkhold)
    # shellcheck disable=SC2086 # they are lists of words
    g++ -std=c++14 -pedantic-errors -o "$work/firmware_like" "$here/firmware_like.cpp" $core
    "$work/firmware_like"
    # shellcheck disable=SC2086
    g++ -std=c++20 -o "$work/bench_like" "$here/bench_like.cpp" $host
    "$work/bench_like"
    exit
fi

configure core -DWINKHOLD_SOURCE="$source" -DWINKHOLD_CORE_ONLY=ON
"$cmake" --build "$work/core"
"$work/core/firmware_like"

configure host -DWINKHOLD_SOURCE="$source" -DCMAKE_CXX_FLAGS=-O0
targets=$(ninja -C "$work/host" -t targets all)
! grep -E '^[^/:]*winkhold[^/:]*/(apps|tests|bench)/' <<< "$targets" || fail "a stranger builds more than the library"
! grep -q -- -Werror "$work/host/build.ninja" || fail "a stranger's compiler may know more warnings than ours"
"$cmake" --build "$work/host" --target firmware_like
"$work/host/firmware_like"
carried=$(find "$work/host" -name embedded_texts.cpp)
grep -q '"faults/F01' "$carried" || fail "the library carries no data along"
# FILE^ is what ninja makes of the file
"$cmake" --build "$work/host" --target "$here/bench_like.cpp^" "$source/lib/host/winkhold/base/time.cpp^"
