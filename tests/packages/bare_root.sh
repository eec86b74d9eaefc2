#!/usr/bin/env bash
# Installs the Debian packages in a bare Debian root, uses them as an ordinary user, removes them, and holds that
# nothing is left. Usage, as root and with a network: bare_root.sh [MIRROR]; makes the packages of build/ anew.
# Downloads some 300 MB. Ends with 0, or 1 and what is wrong.
set -euo pipefail
source=$(cd "$(dirname "$0")/../.." && pwd)
mirror=${1:-http://deb.debian.org/debian}

fail() {
    echo "bare_root.sh: $1" >&2
    exit 1
}
[ "$(id -u)" = 0 ] || fail "a bare root is made by root: run this as root"
command -v debootstrap > /dev/null || fail "debootstrap is missing: apt-get install debootstrap"
[ -x "$source/build/apps/winkhold/winkhold" ] || fail "nothing is built: run bash tests/run.sh first"
work=$(mktemp -d)
root=$work/root
trap 'umount -q "$root/proc" || true; rm -rf --one-file-system "$work"' EXIT
say() { printf '\n== %s\n' "$*"; }

say "Packages"
cpack --config "$source/build/CPackConfig.cmake" -G DEB -B "$work/made"
say "A bare root from $mirror"
debootstrap --variant=minbase bookworm "$root" "$mirror" > "$work/log" 2>&1 ||
    fail "debootstrap: $(tail -n 3 "$work/log"); is $mirror within reach?"
mount -t proc proc "$root/proc"
inside() { chroot "$root" env DEBIAN_FRONTEND=noninteractive LC_ALL=C "$@"; }
apt() { inside apt-get -qq -y --no-install-recommends "$@" > "$work/log" 2>&1 || fail "apt-get $*: $(tail -n 9 "$work/log")"; }
apt update
inside useradd --create-home rider
cp "$work"/made/*.deb "$root/"
as_rider() { inside su - rider -c "set -e; $1"; }
# All that is there, without what apt and dpkg keep of their own work.
listed() {
    (cd "$root" && find . -xdev ! -path './proc/*' ! -path './var/cache/*' ! -path './var/log/*' ! -path './home/*' \
        ! -path './var/lib/apt/*' ! -path './var/lib/dpkg/*' ! -path './etc/ld.so.cache' | LC_ALL=C sort)
}

listed > "$work/before"
say "The program alone"
apt install "/$(basename "$work"/made/winkhold_*.deb)"
as_rider 'winkhold --version
    winkhold prove faults F01 F07
    winkhold new bike.toml
    winkhold simulate data/scenarios/nominal.toml --seed 7 --out ride.csv
    winkhold decode ride.csv | tail -n 5
    winkhold verify data/recordings | tail -n 5'
apt purge --autoremove winkhold
listed > "$work/after"
diff "$work/before" "$work/after" || fail "the program leaves something behind, or takes something away (above)"

say "The library, and a stranger who links it"
apt install g++ cmake ninja-build pkg-config
listed > "$work/before"
apt install "/$(basename "$work"/made/libwinkhold-dev_*.deb)"
cp -r "$source/tests/promises/consumer" "$root/home/rider/stranger"
as_rider 'cmake -G Ninja -S stranger -B by-cmake -DHOW=package > /dev/null
    cmake --build by-cmake
    by-cmake/firmware_like
    by-cmake/bench_like
    g++ -std=c++20 -o bench_like stranger/bench_like.cpp $(pkg-config --cflags --libs winkhold)
    ./bench_like'
apt purge --autoremove libwinkhold-dev
listed > "$work/after"
diff "$work/before" "$work/after" || fail "the library leaves something behind, or takes something away (above)"
say "Installed, run and removed: nothing is left"
