#!/usr/bin/env bash
# Installs what Winkhold needs from Debian's packages. Usage: install.sh build|test
set -euo pipefail
build=(g++ cmake ninja-build libeigen3-dev libboost-dev libfmt-dev libtomlplusplus-dev nlohmann-json3-dev
    libcli11-dev libpugixml-dev libsndfile1-dev libncurses-dev)
# the other compilers and what runs their programs (simavr, qemu for Cortex-M, node with lld for wasm32), make for the
# firmware, the test libraries, gtkwave for its VCD reader (vcd2fst, fst2vcd), perl for its TAP reader (prove), ngspice
# to run the front end's networks; then what makes packages (file and dpkg-dev find what a program is linked with),
# links by pkg-config, and makes the docs
test=(clang libgtest-dev librapidcheck-dev libbenchmark-dev gcc-avr avr-libc gcc-arm-none-eabi make
    libstdc++-arm-none-eabi-newlib qemu-system-arm lld nodejs simavr libsimavr-dev gtkwave perl python3 python3-numpy
    ngspice
    # a general validator for data/schemas; shells to complete command lines in, and readers of manual pages
    python3-jsonschema bash-completion zsh fish mandoc man-db
    dpkg-dev file pkg-config doxygen
    # a real terminal for the screen of winkhold live
    tmux)
wanted=("${build[@]}")
[ "${1:-build}" = test ] && wanted+=("${test[@]}")

missing=()
for package in "${wanted[@]}"; do
    dpkg-query -W -f='${Status}' "$package" 2> /dev/null | grep -q 'install ok installed' || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0
as_root=()
[ "$(id -u)" -eq 0 ] || as_root=(sudo)
echo "Installing: ${missing[*]}"
export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get update -qq
"${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" > /dev/null
