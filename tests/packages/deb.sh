#!/usr/bin/env bash
# Makes the Debian packages of what is built, looks into them, and runs what they hold from where it is unpacked.
# Usage: deb.sh SOURCE BUILD CPACK VERSION
set -euo pipefail
source=$1 build=$2 cpack=$3 version=$4
work=$build/deb-test
rm -rf "$work"
mkdir -p "$work/root" "$work/elsewhere"

fail() {
    echo "deb.sh: $1" >&2
    exit 1
}
same() { # WHAT EXPECTED FOUND
    diff <(echo "$2") <(echo "$3") || fail "$1 (<: expected, >: found)"
}

"$cpack" --config "$build/CPackConfig.cmake" -G DEB -B "$work/made" > "$work/log" 2>&1 || fail "$(cat "$work/log")"
program=$work/made/winkhold_${version}_$(dpkg --print-architecture).deb
library=$work/made/libwinkhold-dev_${version}_$(dpkg --print-architecture).deb
same "packages" "$(printf '%s\n' "$library" "$program")" "$(ls "$work"/made/*.deb)"

# what they say of themselves
for package in "$program" "$library"; do
    same "version" "$version" "$(dpkg-deb -f "$package" Version)"
    ! dpkg-deb -c "$package" | awk '{ print $6 }' | grep -v '^\./\(usr/.*\)\?$' || fail "files outside /usr"
done
needs() { # PACKAGE NAMES... without what dpkg-shlibdeps adds to them, like 9 or 1v5
    local depends
    depends=$(dpkg-deb -f "$1" Depends)
    for name in "${@:2}"; do
        grep -qE "(^|, )$name([0-9a-z]*)( \(|,|$)" <<< "$depends" || fail "$1 depends on $depends, not on $name"
    done
}
needs "$program" libc 'libstdc[+][+]' libfmt libtomlplusplus libpugixml libsndfile libncursesw
needs "$library" libfmt-dev libtomlplusplus-dev libpugixml-dev libsndfile1-dev

# all data, and all public headers, and no others
files() { dpkg-deb -c "$1" | awk '!/^d/ { print $6 }' | grep "^$2" | sed "s:^$2::" | LC_ALL=C sort; }
same "data" "$(cd "$source/data" && find . -type f | cut -c 3- | LC_ALL=C sort)" \
    "$(files "$program" ./usr/share/winkhold/)"
same "headers" "$(cd "$source/lib" && find core host -name '*.hpp' ! -path '*/detail/*' | cut -d / -f 2- | LC_ALL=C sort)" \
    "$(files "$library" ./usr/include/)"
for file in bin/winkhold share/doc/winkhold/README.md share/doc/winkhold/copyright; do
    [ "$(files "$program" "./usr/$file" | wc -l)" = 1 ] || fail "no $file"
done

# The program runs where it is unpacked, and finds its own data there and nowhere else: from another folder, with
# a scenario that stands only there.
dpkg-deb -x "$program" "$work/root"
dpkg-deb -x "$library" "$work/root"
cp "$source/data/scenarios/nominal.toml" "$work/root/usr/share/winkhold/scenarios/only-here.toml"
cd "$work/elsewhere"
winkhold=$work/root/usr/bin/winkhold
same "winkhold --version" "$version" "$("$winkhold" --version)"
"$winkhold" prove faults F07 > faults.txt
"$winkhold" limits data/scenarios/only-here.toml > limits.txt
"$winkhold" verify data/recordings > verify.txt
grep -q "flash rate" limits.txt || fail "limits: $(cat limits.txt)"
# core and firmware are within it
"$winkhold" pack data/vehicles/demo.toml board > pack.txt
make -s -C board check > check.txt 2>&1 || fail "pack: $(cat check.txt)"
# So does the one in the build tree, which has the source tree's data beside it.
"$build/apps/winkhold/winkhold" decode data/recordings/left_flash.csv > decode.txt || fail "the build finds no data"
# What is in the present folder comes first, and a file to be changed is never the installed one.
mkdir -p data/scenarios
echo 'nonsense' > data/scenarios/only-here.toml
! "$winkhold" limits data/scenarios/only-here.toml > limits.txt 2>&1 || fail "the present folder doesn't come first"
! "$winkhold" sweep data/scenarios/nominal.toml --trials 100 --onto data/vehicles/demo.toml > sweep.txt 2>&1 ||
    fail "installed data is changed"
cmp "$source/data/vehicles/demo.toml" "$work/root/usr/share/winkhold/vehicles/demo.toml"

# One version, from one place.
PKG_CONFIG_PATH=$(dirname "$(find "$work/root" -name winkhold.pc)")
export PKG_CONFIG_PATH
for name in winkhold winkhold-core; do
    same "pkg-config $name" "$version" "$(pkg-config --modversion $name)"
done
grep -qF "set(PACKAGE_VERSION \"$version\")" "$(find "$work/root" -name winkholdConfigVersion.cmake)" ||
    fail "CMake's version is another one"
gzip -dc "$work/root/usr/share/doc/winkhold/changelog.gz" | grep -qF "winkhold ($version)" || fail "changelog"
same "files that give the version" CMakeLists.txt \
    "$(cd "$source" && grep -rlFw "$version" CMakeLists.txt lib apps --exclude=*.md)"
others=$(cd "$source" && grep -rnE --include='*.md' '\bwinkhold [0-9]+\.[0-9]+\.[0-9]+' README.md DEVELOPERS.md lib apps data |
    grep -vF "winkhold $version" || true)
same "versions in what people read" "" "$others"
