#!/usr/bin/env bash
# Builds and runs a stranger's project that uses Winkhold. Usage: consume.sh HOW SOURCE BUILD CMAKE
set -eu
how=$1 source=$2 build=$3 cmake=$4
work=$build/consumer-$how
rm -rf "$work"
if [ "$how" = package ]; then
    "$cmake" --install "$build" --prefix "$work/prefix" > /dev/null
    set -- -DCMAKE_PREFIX_PATH="$work/prefix"
else
    set -- -DWINKHOLD_SOURCE="$source" -DCMAKE_CXX_FLAGS=-O0
fi
"$cmake" -G Ninja -S "$source/tests/promises/consumer" -B "$work/build" -DHOW="$how" "$@" > /dev/null
"$cmake" --build "$work/build"
"$work/build/firmware_like"
"$work/build/bench_like"
